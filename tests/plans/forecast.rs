//! The forecast over whole plans: books that close, days by hand, spells, frost, relays and chargers between banks.

use crate::stays::{
    ah, alternator, bank, battery, dc_dc, found, joined, load, march, plan, relay, shore, solar, stay, van, wh,
};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::time::hour;
use loomwright::study::forecast::{Options, StayOutcome, StepOutcome};
use loomwright_tests::by_hand::close;

/// Hours after the first midnight at which a step of the day holds something.
fn when(steps: &[StepOutcome], holds: impl Fn(&StepOutcome) -> bool) -> Vec<f64> {
    let after = |step: &StepOutcome| step.at.duration_since(steps[0].at).as_secs_f64() / 3600.0;
    steps.iter().filter(|step| holds(step)).map(after).collect()
}

/// What came in each step is what was used, stored, lost and passed on, to 1e-9 of it; 1e-9 Wh where hardly anything came.
#[test]
fn the_books_close_in_every_step() {
    let mut worst: f64 = 0.0;
    for text in [van(), joined(), crate::support::text_of("crates/loomwright/examples/cabin.toml")] {
        for steps in [24, 96, 288] {
            let stay = stay(&text, steps);
            assert!(stay.banks.iter().any(|bank| wh(bank.energies.came()) > 100.0));
            for step in stay.banks.iter().flat_map(|bank| &bank.steps) {
                let hours = 24.0 / f64::from(steps);
                let moved = (step.sun + step.engine + step.shore + step.used).value * hours;
                worst = worst.max(wh(step.imbalance).abs() / moved.max(1.0));
                assert!(wh(step.imbalance).abs() <= 1e-9 * moved.max(1.0), "{step:?}");
            }
            for bank in &stay.banks {
                let all = &bank.energies;
                let went = all.used + all.converted + all.onward + all.coupled + all.stored + all.lost;
                let moved = wh(all.came() + all.used);
                assert!((wh(went) - wh(all.came())).abs() <= 1e-9 * moved, "{all:?}");
                assert!(all.lost.value >= 0.0, "heat is lost, not won: {all:?}");
            }
        }
    }
    println!("worst imbalance of a step: {worst:e} of what moved");
}

/// What one battery passes on comes to the other, less what the charger loses: 91 % at its rated 432 W, and what it takes for
/// itself.
#[test]
fn a_charger_loses_its_part() {
    let stay = stay(&van(), 96);
    let [from, to] = ["starter", "service"].map(|name| bank(&stay, name).energies);
    assert!(wh(to.charger) > 500.0 && wh(from.charger) == 0.0);
    let efficiency = wh(to.charger) / wh(from.onward);
    assert!((0.88..=0.93).contains(&efficiency), "{efficiency}");
}

/// Steps of 15 min tell what steps of 1 min tell: energies within 0.1 %, the charge at the end within 0.1 % of the capacity. Where
/// drives begin within a step, steps are as short as it takes: a drive from 08:10 makes them 10 min long.
#[test]
fn fifteen_minutes_are_as_good_as_one() {
    let whole = van().replace("08:10 to 09:40", "08:15 to 09:45");
    let cabin = crate::support::text_of("crates/loomwright/examples/cabin.toml");
    let most = 1e-3;
    for (text, minutes) in [(whole, 15.0), (cabin, 15.0), (van(), 10.0)] {
        let [coarse, fine] = [96, 1440].map(|steps| stay(&text, steps));
        close(coarse.step.value / 60.0, minutes, 1e-9);
        for (coarse, fine) in coarse.banks.iter().zip(&fine.banks) {
            let [one, other] = [coarse, fine].map(|bank| [bank.energies.used, bank.energies.sun].map(wh));
            println!("{}: used, sun {one:?} {other:?}, end {:?} {:?}", fine.name, coarse.end_charge, fine.end_charge);
            for (one, other) in one.into_iter().zip(other) {
                close(one, other, most);
            }
            assert!((coarse.end_charge - fine.end_charge).value.abs() < most);
        }
    }
}

/// One lamp of 4 A for 5 h, below the 5 A of a 20-hour rating, so that Peukert takes nothing: 20 Ah; 5 % a month at rest are
/// 0.1667 Ah a day. 10 A for 2 h cost (10/5)^0.15 as much: 22.19 Ah.
#[test]
fn a_day_by_hand() {
    let of = |says: &str| {
        let parts = [battery("house", "agm", 100.0, ""), load("lamp", "house", says), march(2, 2, "")];
        let stay = stay(&plan(&parts.concat()), 96);
        let house = bank(&stay, "house");
        assert!(house.lasts() && house.start_charge.value == 1.0);
        100.0 * (1.0 - house.end_charge.value)
    };
    let rest = 100.0 * 0.05 / 30.0;
    close(of("current = \"4 A\"\nhours = [\"18:00 to 23:00\"]"), 20.0 + rest, 2e-3);
    close(of("current = \"4 A\"\nhours = [\"18:00 to 23:00\"]\nduty = \"50 %\""), 10.0 + rest, 2e-3);
    close(of("current = \"4 A\"\nhours = [\"18:00 to 23:00\"]\nper_day = \"30 min\""), 2.0 + rest, 2e-3);
    close(of("current = \"10 A\"\nhours = [\"12:00 to 14:00\"]"), 20.0 * 2.0_f64.powf(0.15) + rest, 2e-3);
    close(of("resistance = \"3 ohm\"\nhours = [\"18:00 to 23:00\"]"), 20.0 + rest, 2e-3);
    close(of("current = \"4 A\"\nwhen = [\"driving\"]"), rest, 2e-3);
}

/// Constant power over a published open voltage: 60 W for 4 h, 2 % more in conductors, are 244.9 Wh; glass mat from full
/// stands at 12.99 V and at 80 % at 12.75 V, and falls by some 4 A · 5 mΩ: 12.9 V in the mean, 19 Ah.
#[test]
fn a_power_by_hand() {
    let says = "power = \"60 W\"\nhours = [\"18:00 to 22:00\"]";
    let parts = [battery("house", "agm", 100.0, ""), load("lamp", "house", says), march(2, 2, "")];
    let stay = stay(&plan(&parts.concat()), 96);
    let house = bank(&stay, "house");
    close(wh(house.energies.used), 240.0, 1e-9);
    close(wh(house.energies.used + house.energies.converted), 240.0 / 0.98, 1e-9);
    close(100.0 * (1.0 - house.end_charge.value), 240.0 / 0.98 / 12.87 + 0.1667, 0.01);
}

/// 4 A and 5 % a month (6.94 mA) out of the 50 Ah above its floor last 12.478 h; by a share of cold the floor rises: at 4.4 °C
/// 76.92 % of the capacity is there (worksheets: 1/1.30).
#[test]
fn autonomy_by_hand() {
    for (degrees, share) in [(26.7, 1.0), (4.4, 0.7692)] {
        let rest = march(2, 3, &format!("battery_temperature = \"{degrees} °C\""));
        let parts = [battery("house", "agm", 100.0, ""), load("lamp", "house", "current = \"4 A\""), rest];
        let stay = stay(&plan(&parts.concat()), 96);
        let lasts = stay.answers[0].autonomy.expect("it ends").get::<hour>();
        close(lasts, 50.0 * share / (4.0 + 5.0 / 720.0), 1e-3);
        close(bank(&stay, "house").floor.value, 1.0 - 0.5 * share, 1e-4);
    }
}

/// What a bank does by itself and what a drive does for it depends on no hours of driving, of shore power or of stay: only on the
/// loads, those that run while driving in the drive alone. Neither counts the sun nor the shore.
#[test]
fn answers_ask_for_nothing_but_their_own() {
    let answers = |days: u32, says: &str, more: &str| {
        let loads = [
            load("lamp", "house", "current = \"4 A\""),
            load("pump", "house", "current = \"3 A\"\nwhen = [\"driving\"]"),
            load("kettle", "house", "current = \"2 A\"\nwhen = [\"shore\"]"),
        ];
        let parts = [
            battery("house", "agm", 1500.0, ""),
            loads.concat(),
            alternator("house"),
            march(2, 1 + days, &format!("battery_temperature = \"26.7 °C\"\n{says}")),
            more.to_owned(),
        ];
        let stay = stay(&plan(&parts.concat()), 96);
        let told = &stay.answers[0];
        [told.autonomy, told.drive_to_level, told.drive_to_full].map(|time| time.expect("it ends").get::<hour>())
    };
    let sources = [shore("shore", "house", 10.0, 14.4), solar("roof", "house", 300.0, 20.0)].concat();
    let plain = answers(1, "driving = [\"08:00 to 09:00\"]", "");
    close(plain[0], 750.0 / (4.0 + 75.0 / 720.0), 1e-3);
    // From half to 80 % or more, at 50 to 90 A less 7 A of loads, at most: it takes all that there is, and into the day.
    assert!(plain[1] > 450.0 / 83.0 && plain[1] < plain[2] && plain[2] > 8.0, "{plain:?}");
    let told = [
        answers(1, "driving = [\"00:00 to 24:00\"]", ""),
        answers(4, "driving = [\"08:00 to 09:00\"]", ""),
        answers(1, "driving = [\"08:00 to 09:00\"]\nshore = [\"09:00 to 24:00\"]", &sources),
    ];
    for told in told {
        for (one, other) in told.into_iter().zip(plain) {
            close(one, other, 1e-9);
        }
    }
}

/// Shore power on Saturday from 22:00 over midnight; the sixth of the stay is a Saturday.
#[test]
fn spells_run_over_midnight() {
    let says = "start_charge = \"60 %\"\nshore = [\"22:00 to 02:00 on saturday\"]";
    let parts = [battery("house", "agm", 100.0, ""), shore("shore", "house", 10.0, 14.4), march(6, 9, says)];
    let told = stay(&plan(&parts.concat()), 96);
    let powered = when(&told.banks[0].steps, |step| step.shore.value > 0.0);
    let expected: Vec<f64> = (0..16).map(|quarter| 24.0 + 22.0 + 0.25 * f64::from(quarter)).collect();
    assert_eq!(powered, expected);
    // On the dates that are said; 12:20 is no end of a quarter of an hour, so steps are 10 min long.
    let says = "start_charge = \"60 %\"\nshore = [\"12:00 to 12:20 on 2026-03-07, 2026-03-09\"]";
    let parts = [battery("house", "agm", 100.0, ""), shore("shore", "house", 10.0, 14.4), march(6, 9, says)];
    let told = stay(&plan(&parts.concat()), 96);
    let steps = &told.banks[0].steps;
    let powered = when(steps, |step| step.shore.value > 0.0);
    assert_eq!(powered.len(), 4);
    for (found, expected) in powered.into_iter().zip([36.0, 36.0 + 1.0 / 6.0, 84.0, 84.0 + 1.0 / 6.0]) {
        close(found, expected, 1e-6);
    }
    for at in [36 * 6, 36 * 6 + 1] {
        close(steps[at].shore.value / steps[at].voltage.value, 10.0, 1e-9);
    }
}

/// A load in the night runs over midnight each day; a month that is not named has none, and what stands by does so only then.
#[test]
fn loads_keep_their_hours_and_months() {
    let says = "power = \"10 W\"\nstandby = \"1 W\"\nhours = [\"22:00 to 02:00\"]\nmonths = [\"april\"]";
    let stays = "[stays.turn]\nplace = \"lake\"\nfrom = \"2026-03-31\"\nto = \"2026-04-01\"\n";
    let parts = [battery("house", "agm", 100.0, ""), load("lamp", "house", says), stays.to_owned()];
    let told = stay(&plan(&parts.concat()), 96);
    let used = |at: f64| when(&told.banks[0].steps, |step| (step.used.value - at).abs() < 1e-9);
    assert_eq!(used(10.0).len(), 16);
    assert!(used(10.0).iter().all(|at| (24.0..26.0).contains(at) || (46.0..48.0).contains(at)));
    assert_eq!((used(1.0).len(), used(0.0).len()), (80, 96));
}

/// Below 0 °C lithium takes nothing: shore power feeds the lamp and no charge enters; glass mat beside it fills.
#[test]
fn frost_forbids_charging() {
    let of = |chemistry: &str| {
        let says = "start_charge = \"60 %\"\nshore = [\"all day\"]\nbattery_temperature = \"-5 °C\"";
        let lamp = load("lamp", "house", "current = \"3 A\"");
        let parts =
            [battery("house", chemistry, 100.0, ""), lamp, shore("shore", "house", 20.0, 14.4), march(2, 2, says)];
        stay(&plan(&parts.concat()), 96).banks.remove(0)
    };
    let frozen = of("lithium-iron-phosphate");
    close(100.0 * (0.6 - frozen.end_charge.value), 100.0 * 0.05 / 30.0, 1e-6);
    assert!(frozen.lasts() && frozen.steps.iter().all(|step| (step.shore - step.used).value.abs() < 1e-9));
    assert!(of("agm").end_charge.value > 0.95);
}

/// At −18 °C 45 % of a lead-acid battery is there and 70 % of lithium (supplier text): floors of 50 % and 20 % rise to 77.5 % and
/// 44 %, and loads get nothing from below.
#[test]
fn the_floor_rises_in_the_cold() {
    for (chemistry, floor) in [("agm", 0.775), ("lithium-iron-phosphate", 0.44)] {
        let lamp = load("lamp", "house", "current = \"4 A\"");
        let parts = [battery("house", chemistry, 100.0, ""), lamp, march(2, 3, "battery_temperature = \"-18 °C\"")];
        let stay = stay(&plan(&parts.concat()), 96);
        let house = bank(&stay, "house");
        close(house.floor.value, floor, 1e-9);
        let reached = house.steps.iter().find(|step| step.unserved.value > 0.0).expect("it falls short");
        close(reached.charge.value, floor, 1e-3);
        assert!(!house.lasts() && house.floor_reached == Some(reached.at));
        // At rest it loses on, which no floor keeps: 5 % a month.
        assert!(house.lowest_charge.value > floor - 2.0 * 0.05 / 30.0 - 1e-9);
    }
}

fn apart(says: &str, spells: &str) -> StayOutcome {
    let parts = [
        battery("starter", "agm", 80.0, ""),
        battery("service", "agm", 100.0, ""),
        alternator("starter"),
        relay("starter", "service", says),
        load("radio", "service", "current = \"4 A\""),
        march(2, 2, spells),
    ];
    stay(&plan(&parts.concat()), 96)
}

/// With the relay open the service bank's radio takes nothing from the starter battery, which loses 5 % a month and no more.
#[test]
fn an_open_relay_keeps_them_apart() {
    let stay = apart("closed = [\"driving\"]", "");
    let starter = bank(&stay, "starter");
    assert!(starter.is_starter && !bank(&stay, "service").is_starter);
    close(1.0 - starter.end_charge.value, 0.05 / 30.0, 1e-9);
    assert_eq!(stay.couplings[0].closed_for.value, 0.0);
    assert!(!bank(&stay, "service").lasts());
    // Driven for an hour it is closed for an hour, and the alternator fills both.
    let stay = apart("closed = [\"driving\"]", "start_charge = \"80 %\"\ndriving = [\"08:00 to 09:00\"]");
    close(stay.couplings[0].closed_for.get::<hour>(), 1.0, 1e-9);
    assert!(wh(stay.couplings[0].forward) > 30.0 && wh(bank(&stay, "service").energies.engine) == 0.0);
    close(wh(bank(&stay, "starter").energies.coupled), wh(stay.couplings[0].forward), 1e-9);
}

/// Two batteries at 80 %: glass mat stands at 12.75 V and flooded at 12.486 V (straight between 12.45 and 12.65 V). Joined over
/// 200 mΩ with 10 mΩ in each and less than 3 mΩ on the way, 0.264 V drive 1.19 A; over days they come to one voltage.
#[test]
fn joined_banks_equalise_by_hand() {
    let rests = march(2, 8, "start_charge = \"80 %\"\nbattery_temperature = \"25 °C\"");
    let keeps = "resistance = \"10 mohm\"\nself_discharge = \"0 %\"";
    let parts = [
        battery("starter", "agm", 100.0, keeps),
        battery("service", "flooded", 100.0, keeps),
        relay("starter", "service", "closed = [\"parked\"]"),
        march(2, 8, ""),
    ];
    let text = plan(&parts.concat()).replace(&march(2, 8, ""), &rests);
    let stay = stay(&text, 1440);
    let coupling = &stay.couplings[0];
    close(coupling.most.get::<ampere>(), (12.75 - 12.49) / 0.2215, 0.02);
    let [one, other] = ["starter", "service"].map(|name| bank(&stay, name));
    let gone = ah(one, one.start_charge) - ah(one, one.end_charge);
    let came = ah(other, other.end_charge) - ah(other, other.start_charge);
    // 85 % of what is put in comes back.
    close(came, 0.85 * gone, 1e-6);
    let [one, other] = [one, other].map(|bank| bank.steps.last().unwrap().voltage.value);
    assert!((one - other).abs() < 0.01, "{one} {other}");
}

/// The relay closes with the alternator at 14.2 V, stays closed when the engine stops, and lets go once both have fallen to 12.4 V:
/// between 50 % (12.384 V) and 60 % (12.492 V) glass mat stands there at 51.5 %. From then on the starter battery keeps its charge.
#[test]
fn a_sensing_relay_lets_go() {
    let stay = stay(&joined(), 96);
    let [starter, service] = ["starter", "service"].map(|name| bank(&stay, name));
    let closed = stay.couplings[0].closed_for.get::<hour>();
    assert!((6.0..20.0).contains(&closed), "{closed} h");
    assert!((0.50..0.56).contains(&starter.lowest_charge.value), "{:?}", starter.lowest_charge);
    assert!(service.lowest_charge < starter.lowest_charge);
    let last = |steps: &[StepOutcome]| steps.iter().rev().take(4).map(|step| step.charge.value).collect::<Vec<_>>();
    let kept = last(&starter.steps);
    close(kept[3] - kept[0], 3.0 * 0.05 / 30.0 / 96.0, 1e-6);
    assert!(last(&service.steps)[0] < last(&service.steps)[3] || !service.lasts());
}

/// Without a signal that the engine runs and with a lock-out that never comes, chargers draw on the starter battery until its floor
/// and not beyond: it lies at 50 %, and rest alone takes from below. Two chargers share what is left.
#[test]
fn chargers_stop_at_the_floor_of_what_feeds_them() {
    let says = "output_current = \"40 A\"\nlock_out = \"10 V\"\nrestart = \"10.1 V\"";
    for two in [false, true] {
        let parts = [
            battery("starter", "agm", 80.0, ""),
            battery("service", "lithium-iron-phosphate", 300.0, ""),
            battery("third", "lithium-iron-phosphate", 300.0, ""),
            alternator("starter"),
            dc_dc("one", "starter", "service", says),
            if two { dc_dc("two", "starter", "third", says) } else { String::new() },
            if two { dc_dc("three", "starter", "third", says) } else { String::new() },
            load("oven", "service", "power = \"300 W\""),
            load("stove", "third", "power = \"300 W\""),
            march(2, 2, "driving = [\"08:00 to 08:30\"]\nbattery_temperature = \"26.7 °C\""),
        ];
        let stay = stay(&plan(&parts.concat()), 96);
        let starter = bank(&stay, "starter");
        assert!(starter.lowest_charge.value < 0.6, "{:?}", starter.lowest_charge);
        assert!(starter.lowest_charge.value >= 0.5 - 0.05 / 30.0 - 1e-9, "{:?}", starter.lowest_charge);
        assert!(wh(starter.energies.onward) > 300.0);
    }
}

/// Two chargers at a full bank with 15 A asked: that of 14.4 V gives its 10 A, that of 13.8 V the rest and holds its voltage; with
/// 8 A the higher does it alone. 7 mA make up for what it loses at rest.
#[test]
fn the_higher_voltage_delivers_last() {
    for (asked, volts) in [(15.0, 13.8), (8.0, 14.4)] {
        let parts = [
            battery("house", "agm", 100.0, ""),
            shore("low", "house", 20.0, 13.8),
            shore("high", "house", 10.0, 14.4),
            load("lamp", "house", &format!("current = \"{asked} A\"")),
            march(2, 2, "shore = [\"all day\"]"),
        ];
        let stay = stay(&plan(&parts.concat()), 96);
        let last = bank(&stay, "house").steps.last().unwrap();
        close(last.voltage.value, volts, 1e-9);
        close(last.shore.value, volts * asked, 2e-3);
    }
}

/// A stay that adjoins another carries its charge on; one with its own start does not; a gap starts full.
#[test]
fn adjoining_stays_carry_on() {
    let stay = |name: &str, from: u32, to: u32, says: &str| march(from, to, says).replace("spring", name);
    let parts = [
        battery("house", "agm", 100.0, ""),
        load("lamp", "house", "current = \"0.5 A\""),
        stay("one", 2, 3, ""),
        stay("two", 4, 4, ""),
        stay("three", 5, 5, "start_charge = \"70 %\""),
        stay("four", 9, 9, ""),
    ];
    let found = found(&plan(&parts.concat()), &Options::default());
    let starts = |at: usize| found.stays[at].banks[0].start_charge.value;
    assert_eq!(starts(1), found.stays[0].banks[0].end_charge.value);
    assert!(starts(1) < 0.8);
    assert_eq!((starts(2), starts(3)), (0.7, 1.0));
}

/// A long stay is told by months: twelve rows, and their energies are those of the year.
#[test]
fn a_year_is_told_month_by_month() {
    let year = march(2, 3, "").replace("2026-03-02", "2026-01-01").replace("2026-03-03", "2026-12-31");
    let text = plan(&[battery("house", "agm", 100.0, ""), load("lamp", "house", "current = \"0.1 A\""), year].concat());
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("a-year.toml");
    std::fs::write(&path, &text).expect("the test's own folder can be written");
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let arguments = ["loomwright".into(), "forecast".into(), path.into_os_string()];
    let _ = loomwright_cli::run(arguments, loomwright_cli::Screen::Plain, &mut out, &mut errors);
    assert!(errors.is_empty(), "{}", String::from_utf8_lossy(&errors));
    let out = String::from_utf8(out).expect("it prints UTF-8");
    let rows: Vec<Vec<&str>> = out.lines().map(|line| line.split_whitespace().collect()).collect();
    let months: Vec<&Vec<&str>> = rows
        .iter()
        .filter(|row| row.len() >= 8 && row[0].len() == "2026-01".len() && row[0].starts_with("2026-"))
        .collect();
    let names: Vec<String> = (1..=12).map(|month| format!("2026-{month:02}")).collect();
    assert_eq!(months.iter().map(|row| row[0]).collect::<Vec<_>>(), names);
    // Used is the fifth column; each is rounded to 1 Wh.
    let told: f64 = months.iter().map(|row| row[4].parse::<f64>().unwrap_or(0.0)).sum();
    assert!((told - wh(bank(&stay(&text, 96), "house").energies.used)).abs() <= 6.0, "{told}");
}
