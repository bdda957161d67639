//! The forecast's answers: sun clipped and unused, sizes that last, the best split, samples.

use crate::stays::{bank, battery, dc_dc, found, load, march, plan, shore, solar, stay, van, wh};
use loomwright::study::forecast::{Options, Size, Sized};
use loomwright_tests::by_hand::close;

/// The least that lasts, of the bank that falls short.
fn needed(text: &str, size: Size) -> f64 {
    let found = found(text, &Options { size: Some(size), ..Options::default() });
    match found.stays[0].sized.as_ref().expect("it was asked") {
        Sized::One(one) => one.needed.expect("something lasts"),
        Sized::Split(_) => panic!("one quantity was asked"),
    }
}

fn lasts(text: &str) -> bool {
    found(text, &Options::default()).holds()
}

/// A controller of 3 A gives 3 A at the bank's voltage at most; what that keeps out is what one of 8 A gives more, as long as
/// the bank takes it. The larger loses a little more for itself: 1.5 %.
#[test]
fn clipped_sun_by_hand() {
    let of = |amperes: f64| {
        let says = "start_charge = \"30 %\"\nbattery_temperature = \"20 °C\"";
        let parts = [
            battery("house", "lithium-iron-phosphate", 400.0, ""),
            solar("sun", "house", 200.0, amperes),
            march(2, 3, says),
        ];
        stay(&plan(&parts.concat()), 96).banks.remove(0)
    };
    let [small, large] = [of(3.0), of(8.0)];
    assert!(wh(small.energies.clipped) > 50.0 && wh(large.energies.clipped) == 0.0);
    let most = small.steps.iter().map(|step| step.sun.value / step.voltage.value).fold(0.0, f64::max);
    close(most, 3.0, 1e-9);
    assert!(wh(small.energies.unused) < 1e-6 && wh(large.energies.unused) < 1e-6);
    close(wh(small.energies.sun + small.energies.clipped), wh(large.energies.sun), 0.015);
}

/// A bank that is full and rests takes back what it loses at rest, 100 Ah · 5 %/720 h of 98 % each hour, and the rest of the sun
/// is unused; with a lamp of 2 A beside it the controller gives 2 A more at its 14.4 V.
#[test]
fn unused_sun_by_hand() {
    let of = |lamp: &str| {
        let parts = [
            battery("house", "lithium-iron-phosphate", 100.0, ""),
            solar("sun", "house", 200.0, 15.0),
            lamp.to_owned(),
        ];
        let text = plan(&format!("{}{}", parts.concat(), march(2, 4, "battery_temperature = \"20 °C\"")));
        stay(&text, 96).banks.remove(0)
    };
    let rests = of("");
    let all = wh(rests.energies.sun + rests.energies.unused);
    assert!(all > 500.0 && wh(rests.energies.sun) < 0.03 * all, "{:?}", rests.energies);
    // Noon of the last day: the night's rest has long been made good.
    let noon = rests.steps[2 * 96 + 50];
    close(noon.sun.value, 14.4 * 100.0 * 0.05 / 720.0 / 0.98, 0.02);
    let lit = of(&load("lamp", "house", "current = \"2 A\"\nhours = [\"10:00 to 15:00\"]"));
    let noon = lit.steps[2 * 96 + 56];
    close(noon.sun.value, 14.4 * 2.0, 0.02);
    close(wh(lit.energies.sun + lit.energies.unused), all, 0.01);
}

/// A stay that 60 Ah do not last, with a panel and a charger from shore for two hours a day.
fn short(capacity: f64, shore_a: f64, watts: f64) -> String {
    let parts = [
        battery("house", "lithium-iron-phosphate", capacity, ""),
        solar("sun", "house", watts, watts / 13.0),
        shore("shore", "house", shore_a, 14.4),
        load("refrigerator", "house", "power = \"40 W\"\nduty = \"50 %\""),
        load("lamp", "house", "power = \"20 W\"\nhours = [\"17:00 to 23:00\"]"),
        march(2, 8, "shore = [\"12:00 to 14:00\"]\nbattery_temperature = \"18 °C\""),
    ];
    plan(&parts.concat())
}

/// The battery, the shore current and the panels that are told really last when the plan is edited to them, and 2 % less do not;
/// the search ends within 0.8 %.
#[test]
fn sizes_really_last() {
    let (capacity, amperes, watts) = (60.0, 8.0, 80.0);
    assert!(!lasts(&short(capacity, amperes, watts)));
    let text = short(capacity, amperes, watts);
    let of = [Size::Battery, Size::Charger, Size::Panels].map(|size| needed(&text, size));
    println!("needed: {of:?} for {capacity} Ah, {amperes} A, {watts} W");
    for (share, expected) in [(1.0, true), (0.98, false)] {
        assert_eq!(lasts(&short(share * of[0], amperes, watts)), expected, "{} Ah", share * of[0]);
        assert_eq!(lasts(&short(capacity, share * of[1], watts)), expected, "{} A", share * of[1]);
        assert_eq!(lasts(&short(capacity, amperes, share * of[2])), expected, "{} W", share * of[2]);
    }
}

/// A charger from the starter battery, sized with its losses and input.
#[test]
fn a_charger_s_size_really_lasts() {
    let of = |amperes: f64| {
        let parts = [
            battery("starter", "agm", 90.0, ""),
            battery("service", "lithium-iron-phosphate", 60.0, ""),
            crate::stays::alternator("starter"),
            dc_dc(
                "charger",
                "starter",
                "service",
                &format!(
                    "output_current = \"{amperes} A\"\nefficiency = \"92 %\"\nlock_out = \"11 V\"\nrunning_signal = true"
                ),
            ),
            load("refrigerator", "service", "power = \"20 W\""),
            march(2, 8, "driving = [\"09:00 to 11:00\"]\nbattery_temperature = \"18 °C\""),
        ];
        plan(&parts.concat())
    };
    let needed = needed(&of(10.0), Size::Charger);
    println!("needed: {needed} A");
    assert!(!lasts(&of(10.0)) && lasts(&of(needed)) && !lasts(&of(0.98 * needed)));
}

/// Panels for two banks of unlike loads: the split that is told leaves the nearest to its floor farther from it than all on either
/// bank, and than the halves.
#[test]
fn the_best_split_beats_both_ends() {
    // Controllers that hardly clip, and some that do: they grow with their panels.
    for per_panel in [15.0, 6.0] {
        let of = |one: f64, other: f64| {
            let parts = [
                battery("fore", "lithium-iron-phosphate", 100.0, ""),
                battery("aft", "lithium-iron-phosphate", 100.0, ""),
                solar("fore-sun", "fore", one, per_panel * one / 200.0),
                solar("aft-sun", "aft", other, per_panel * other / 200.0),
                load("pump", "fore", "power = \"18 W\""),
                load("lamp", "aft", "power = \"6 W\""),
                march(2, 8, "battery_temperature = \"18 °C\""),
            ];
            plan(&parts.concat())
        };
        let options = Options { size: Some(Size::Split), ..Options::default() };
        let answer = found(&of(100.0, 100.0), &options);
        let Some(Sized::Split(shares)) = &answer.stays[0].sized else { panic!("a split was asked") };
        let [one, other] = ["fore", "aft"].map(|name| shares.iter().find(|(at, _)| at == name).unwrap().1.value);
        close(one + other, 200.0, 1e-9);
        assert!(one > 110.0, "{one} W of 200 W for three times the load");
        let stands = |text: &str| {
            let stay = stay(text, 96);
            let unserved: f64 = stay.banks.iter().map(|bank| wh(bank.energies.unserved)).sum();
            let nearest = stay.banks.iter().map(|bank| (bank.lowest_charge - bank.floor).value).fold(1.0, f64::min);
            nearest - unserved
        };
        let best = stands(&of(one, other));
        for (one, other) in [(199.0, 1.0), (1.0, 199.0), (100.0, 100.0)] {
            assert!(best > stands(&of(one, other)), "{best} {one} {other}");
        }
        // Nor do ten watts to either side.
        for shift in [-10.0, 10.0] {
            assert!(best >= stands(&of(one + shift, other - shift)) - 1e-9, "{best} {one} {shift}");
        }
    }
}

/// The same bytes on any number of threads; another seed gives others. Memory does not grow with samples, by construction: each
/// sample adds to counts of a fixed size.
#[test]
fn threads_make_no_difference() {
    let text = van();
    let of = |threads, seed| {
        let options = Options { samples: 150, seed, threads, ..Options::default() };
        serde_json::to_string(&found(&text, &options).record(&options)).unwrap()
    };
    let one = of(1, 1);
    for threads in [2, 3, 7] {
        assert_eq!(of(threads, 1), one, "{threads} threads");
    }
    assert_ne!(of(2, 2), one);
}

/// One of ten lies below half, and half below nine of ten, each day and for the lowest; the chance lies in its interval, and is that
/// of the deterministic run where nothing can fail. Half of the samples end near it: within 8 % of the capacity.
#[test]
fn bands_are_ordered() {
    let cabin = crate::support::text_of("crates/loomwright/examples/cabin.toml");
    for (text, name) in [(van(), "service"), (cabin, "house")] {
        let options = Options { samples: 400, threads: 2, ..Options::default() };
        let found = found(&text, &options);
        let stay = &found.stays[0];
        let band = stay.band.as_ref().expect("samples were asked");
        assert_eq!(band.end.iter().map(Vec::len).sum::<usize>(), stay.banks.len() * stay.days());
        for spread in band.end.iter().flatten().chain(&band.lowest) {
            assert!(spread.tenth <= spread.middle && spread.middle <= spread.ninetieth, "{spread:?}");
            assert!(spread.tenth.value >= 0.0 && spread.ninetieth.value <= 1.0);
        }
        let [chance, low, high] = band.lasts;
        assert!((0.0..=1.0).contains(&chance) && low <= chance && chance <= high, "{:?}", band.lasts);
        assert!(band.bank_lasts.iter().all(|bank| *bank >= chance));
        let place = stay.banks.iter().position(|bank| bank.name == name).unwrap();
        let (last, end) = (band.end[place].last().unwrap(), bank(stay, name).end_charge);
        assert!(last.tenth < last.ninetieth && (last.middle - end).value.abs() < 0.08, "{last:?} {end:?}");
    }
}

/// No load can fall short of a battery of a hundred times its need: it lasts in every sample.
#[test]
fn a_sure_thing_is_sure() {
    let parts = [
        battery("house", "agm", 1000.0, ""),
        load("lamp", "house", "power = \"5 W\"\nhours = [\"18:00 to 22:00\"]"),
        march(2, 4, ""),
    ];
    let found = found(&plan(&parts.concat()), &Options { samples: 200, ..Options::default() });
    let band = found.stays[0].band.as_ref().unwrap();
    assert_eq!((band.lasts[0], band.bank_lasts.as_slice()), (1.0, &[1.0][..]));
    // 196 of 200 at the least, by Wilson's interval of 200 of 200.
    close(band.lasts[1], 0.9812, 1e-3);
}
