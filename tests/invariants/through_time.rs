//! Monotonic safety of what goes through time: curves side by side, and stays.

use std::sync::LazyLock;

use loomwright::heat::Installation as Lay;
use loomwright::installation::{Installation, LoadKind};
use loomwright::protection::{Band, Fuse, families};
use loomwright::quantity::{CrossSection, FromText, Ratio, celsius};
use loomwright::study::curve::{CurveQuery, Wire};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::{Judgement, judge};
use loomwright_tests::{amperes, sampling};
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// Every fuse whose times are at hand.
static FUSES: LazyLock<Vec<Fuse>> = LazyLock::new(|| {
    let all = families().flat_map(|family| family.ratings().map(move |rating| Fuse { family, rating }));
    all.filter(|fuse| Band::of(fuse).is_some()).collect()
});

/// Never is later than any time.
fn or_never(time: Option<f64>) -> f64 {
    time.unwrap_or(f64::INFINITY)
}

proptest! {
    #![proptest_config(sampling(0xc0_7e))]

    /// In a record of curves more current opens no later and is borne no longer. In hotter air, or behind more load, a conductor
    /// bears the same current no longer; in hotter air a fuse opens no later. 2 %: each curve is straight between its 40 points and good to a per cent.
    #[test]
    fn curves_fall(
        fuse in any::<Index>(), size in select(vec!["1.5 mm2", "4 mm2", "16 mm2", "50 mm2", "8 AWG"]),
        lay in select(Lay::ALL), ambient in 0.0..45.0_f64, kelvins in 0.0..20.0_f64, load in 0.0..0.7_f64,
    ) {
        let fuse = *fuse.get(&FUSES);
        let of = |ambient: f64, load: f64| {
            let size = CrossSection::from_text(size).expect("a size");
            let wire = Wire { installation: Some(lay), load: Some(amperes(load)), ..Wire::new(size) };
            let fault = Some(fuse.rating * 30.0);
            CurveQuery { fuses: vec![fuse], ambient: Some(celsius(ambient)), wire: Some(wire), fault }.record().ok()
        };
        let Some(cool) = of(ambient, 0.0) else { return Ok(()) };
        let bears = cool.conductor.as_ref().expect("it was asked for");
        prop_assert!(bears.points.is_sorted_by(|one, next| or_never(next.bears_s) <= or_never(one.bears_s)), "{:?}", bears.points);
        let opens = &cool.fuses[0].points;
        prop_assert!(opens.is_sorted_by(|one, next| or_never(next.slowest_s) <= or_never(one.slowest_s)), "{opens:?}");
        let hotter = [of(ambient + kelvins, 0.0), of(ambient, load * bears.ampacity_a)];
        for (index, hot) in hotter.into_iter().enumerate() {
            let Some(hot) = hot else { continue };
            // What is borne for good may be told with a time that has hardly an end.
            for (cool, hot) in bears.points.iter().zip(&hot.conductor.expect("it was asked for").points) {
                if cool.current_a == hot.current_a {
                    prop_assert!(or_never(hot.bears_s) <= or_never(cool.bears_s) * 1.02, "{cool:?} {hot:?}, {index}");
                }
            }
            for (cool, hot) in opens.iter().zip(&hot.fuses[0].points) {
                if cool.current_a == hot.current_a {
                    prop_assert!(or_never(hot.slowest_s) <= or_never(cool.slowest_s) * (1.0 + 1e-9), "{cool:?} {hot:?}");
                }
            }
        }
    }
}

/// The cabin by the lake, a week of it.
static CABIN: LazyLock<Judgement> = LazyLock::new(|| {
    let text = include_str!("../../crates/loomwright/examples/cabin.toml");
    judge(&loomwright::text::read_plan(text).expect("it is read")).expect("it is judged")
});

/// The charge at the end, the lowest, and how long loads went short.
fn stay(plan: Installation) -> Option<[f64; 3]> {
    let mut judgement = CABIN.clone();
    judgement.installation = plan;
    let found = forecast(&judgement, &Options { steps_per_day: 96, ..Options::default() }).ok()?;
    let bank = &found.stays[0].banks[0];
    Some([bank.end_charge.value, bank.lowest_charge.value, bank.short_for.value])
}

proptest! {
    #![proptest_config(sampling(0xf0_4e))]

    /// Over a whole stay more load never leaves more charge, nor a larger array less. 0.2 % of the
    /// capacity: the kernel looks at a step twice, and a bank that is nearly full takes less.
    #[test]
    fn a_stay_is_no_kinder(
        watts in 5.0..120.0_f64, capacity in 0.3..3.0_f64, panel in 0.05..2.0_f64, more in 1.0..3.0_f64, start in 0.3..1.0_f64,
    ) {
        let mut plan = CABIN.installation.clone();
        plan.loads[0].kind = LoadKind::Power(loomwright::quantity::Power::new::<loomwright::quantity::uom::si::power::watt>(watts));
        plan.batteries[0].capacity *= capacity;
        plan.arrays[0].strings.module.power *= panel;
        plan.stays[0].start_charge = Some(Ratio::from(start));
        let mut loaded = plan.clone();
        loaded.loads[0].kind = match loaded.loads[0].kind {
            LoadKind::Power(power) => LoadKind::Power(power * more),
            other => other,
        };
        let mut sunny = plan.clone();
        sunny.arrays[0].strings.module.power *= more;
        let (Some(plain), Some(loaded), Some(sunny)) = (stay(plan), stay(loaded), stay(sunny)) else { return Ok(()) };
        for place in 0..2 {
            prop_assert!(loaded[place] <= plain[place] + 2e-3, "{plain:?}, with more load {loaded:?}");
            prop_assert!(sunny[place] >= plain[place] - 2e-3, "{plain:?}, with more sun {sunny:?}");
        }
        // A step more or less.
        prop_assert!(loaded[2] >= plain[2] - 900.0, "{plain:?}, with more load {loaded:?}");
        prop_assert!(sunny[2] <= plain[2] + 900.0, "{plain:?}, with more sun {sunny:?}");
    }
}
