use super::*;
use crate::protection::families;
use approx::assert_relative_eq;
use proptest::prelude::*;

fn amperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(value)
}

fn gate(current: f64, fastest: f64, slowest: f64) -> Gate {
    let time = |seconds: f64| (seconds != 0.0).then(|| Time::new::<second>(seconds));
    Gate { current: amperes(current), fastest: time(fastest), slowest: time(slowest) }
}

#[test]
fn every_family_with_gates_makes_a_band() {
    for row in fuse_gates::ROWS {
        let family = crate::protection::Family::named(row.family).expect("a family");
        let made: Vec<_> = family.ratings().filter(|one| one.value >= row.from_a && one.value <= row.to_a).collect();
        assert!(!made.is_empty(), "{} from {}", row.family, row.from_a);
        for rating in made {
            let band = Band::of(&family.fuse(rating).unwrap());
            assert!(band.is_some(), "{} {}", row.family, rating.value);
        }
    }
}

#[test]
fn beyond_the_last_gate_the_energy_stays() {
    let band = Band::through(&[gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 1.0)]).unwrap();
    assert_relative_eq!(band.slowest(amperes(2000.0)).unwrap().value, 0.01, max_relative = 1e-12);
    assert_relative_eq!(band.let_through(amperes(900.0)).unwrap().value, 40_000.0, max_relative = 1e-12);
    // Half way on logarithmic paper.
    let middle = amperes(100.0 * 2.0_f64.sqrt());
    assert_relative_eq!(band.slowest(middle).unwrap().value, 10.0_f64.sqrt(), max_relative = 1e-12);
    assert!(band.slowest(amperes(99.0)).is_none() && band.slowest(amperes(f64::NAN)).is_none());
    assert!(band.slowest(amperes(-5.0)).is_none() && band.fastest(amperes(0.0)).is_none());
}

#[test]
fn a_breaker_still_takes_its_time() {
    let breaker = Band::of(&"32 A breaker-miniature-c".parse().unwrap()).unwrap();
    for multiple in [15.0, 40.0, 1000.0] {
        assert_relative_eq!(breaker.slowest(amperes(32.0 * multiple)).unwrap().value, 0.1, max_relative = 1e-9);
    }
    assert!(breaker.opens_within(Time::new::<second>(0.05)).is_none());
    // I²t first, from 60 s at twice the rating, then 0.2 s at any current: at √300 times twice the rating.
    let thermal = Band::of(&"50 A breaker-thermal".parse().unwrap()).unwrap();
    let turn = 100.0 * 300.0_f64.sqrt();
    assert_relative_eq!(thermal.turns().last().unwrap().value, turn, max_relative = 1e-9);
    assert_relative_eq!(thermal.slowest(amperes(turn / 2.0)).unwrap().value, 0.8, max_relative = 1e-9);
    assert_relative_eq!(thermal.slowest(amperes(turn * 5.0)).unwrap().value, 0.2, max_relative = 1e-9);
    assert_relative_eq!(thermal.opens_within(Time::new::<second>(0.2)).unwrap().value, turn, max_relative = 1e-9);
}

#[test]
fn two_alike_together_are_one_of_twice_the_rating_that_takes_twice_as_long() {
    let one = Band::through(&[gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 1.0)]).unwrap();
    let both = Band::together(&[(one.clone(), amperes(80.0)), (one.clone(), amperes(80.0))]).unwrap();
    for current in [100.0, 130.0, 200.0, 900.0] {
        let [alone, shared] = [one.slowest(amperes(current)), both.slowest(amperes(2.0 * current))];
        assert_relative_eq!(shared.unwrap().value, 2.0 * alone.unwrap().value, max_relative = 1e-9);
    }
    assert!(both.slowest(amperes(199.0)).is_none() && !both.knows_fastest());
    // Of unlike ones the slower sets the time.
    let slower = Band::through(&[gate(100.0, 1.0, 100.0), gate(200.0, 0.1, 10.0)]).unwrap();
    let unlike = Band::together(&[(one, amperes(80.0)), (slower, amperes(80.0))]).unwrap();
    assert_relative_eq!(
        unlike.slowest(amperes(300.0)).unwrap().value,
        2.0 * 10_f64.powf(2.0 - 1.5_f64.log2()),
        max_relative = 1e-9
    );
}

#[test]
fn what_is_no_band_is_refused() {
    for gates in [
        vec![],
        vec![gate(100.0, 1.0, 10.0), gate(200.0, 2.0, 9.0)],
        vec![gate(100.0, 1.0, 10.0), gate(200.0, 0.5, 10.0)],
        vec![gate(100.0, 11.0, 10.0)],
        vec![gate(100.0, 1.0, 10.0), gate(100.0, 0.5, 5.0)],
        vec![gate(f64::NAN, 1.0, 10.0)],
        vec![gate(100.0, -1.0, 10.0)],
        // The fast edge ends early and then goes on above the slow one.
        vec![gate(100.0, 9.0, 10.0), gate(1000.0, 0.0, 0.001)],
    ] {
        let refused = Band::through(&gates);
        assert!(matches!(refused, Err(ProtectionError::Gates { .. } | ProtectionError::Crossing { .. })), "{gates:?}");
    }
}

#[test]
fn what_every_link_carries_is_the_inverse_of_the_earliest_opening() {
    let band = Band::through(&[gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 1.0)]).unwrap();
    for seconds in [0.02, 0.1, 0.3, 1.0] {
        let held = band.holds_for(Time::new::<second>(seconds)).unwrap();
        assert_relative_eq!(band.fastest(held).unwrap().value, seconds, max_relative = 1e-9);
    }
    // Longer than the first gate knows: no more than its current.
    assert_relative_eq!(band.holds_for(Time::new::<second>(100.0)).unwrap().value, 100.0, max_relative = 1e-9);
}

#[test]
fn a_band_is_known_for_good_once_it_has_come_to_where_no_heat_is_lost() {
    // Below a second I²t stays; a last gate at 10 s is a bound only.
    let short = Band::through(&[gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 0.5)]).unwrap();
    assert_eq!(short.known_up_to(), None);
    let long = Band::through(&[gate(100.0, 9.0, 100.0), gate(200.0, 1.0, 10.0)]).unwrap();
    assert_relative_eq!(long.known_up_to().unwrap().value, 200.0, max_relative = 1e-9);
}

#[test]
fn only_a_band_with_a_remembered_gate_rests_on_memory() {
    let own = Band::through(&[gate(100.0, 1.0, 10.0)]).unwrap();
    assert!(!own.from_memory() && own.sources().is_empty());
    let read = Band::of(&"60 A blade-e".parse().unwrap()).unwrap();
    assert!(!read.from_memory() && read.sources().iter().any(|source| source.id == "fuse-blade-sheet"));
    assert!(Band::of(&"10 A blade-f".parse().unwrap()).unwrap().from_memory()); // fuse-times-memory
}

#[test]
fn hot_air_hastens_and_cold_air_does_not_slow() {
    let band = Band::through(&[gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 1.0)]).unwrap();
    let hot = band.rerated(Ratio::new::<ratio>(0.8));
    // At 80 A in hot air as early as at 100 A, and as late as before.
    assert_relative_eq!(hot.fastest(amperes(80.0)).unwrap().value, 1.0, max_relative = 1e-9);
    assert_relative_eq!(hot.slowest(amperes(100.0)).unwrap().value, 10.0, max_relative = 1e-9);
}

proptest! {
    /// More current never takes longer; the inverse comes back; hot air never slows a link.
    #[test]
    fn falls_with_current(pick in 0_usize..1000, multiple in 1.0_f64..40.0, more in 1.0_f64..5.0, share in 0.5_f64..1.1) {
        let all: Vec<Fuse> = families()
            .flat_map(|family| family.ratings().map(move |rating| Fuse { family, rating }))
            .filter(|fuse| Band::of(fuse).is_some())
            .collect();
        let fuse = all[pick % all.len()];
        let band = Band::of(&fuse).unwrap();
        let current = fuse.rating * multiple;
        let hot = band.rerated(Ratio::new::<ratio>(share));
        if let Some(slow) = band.slowest(current) {
            prop_assert!(band.slowest(current * more).unwrap() <= slow * (1.0 + 1e-12));
            prop_assert!((band.opens_within(slow).unwrap() / current).value <= 1.0 + 1e-9);
            prop_assert!(hot.slowest(current).is_none_or(|hot| hot >= slow * (1.0 - 1e-12)));
            if let Some(fast) = band.fastest(current) {
                prop_assert!(fast <= slow * (1.0 + 1e-9));
                prop_assert!(hot.fastest(current).unwrap() <= fast * (1.0 + 1e-12));
            }
        }
    }
}

/// Two alike side by side: each carries half, and with one after the other it takes twice as long.
#[test]
fn two_alike_carry_half_each() {
    let gates = [gate(100.0, 1.0, 10.0), gate(200.0, 0.1, 1.0)];
    let band = Band::through(&gates).unwrap();
    let both = Band::together(&[(band.clone(), amperes(50.0)), (band.clone(), amperes(50.0))]).unwrap();
    assert_relative_eq!(both.conventional_current().unwrap().value, 200.0, max_relative = 1e-9);
    for current in [100.0, 150.0, 200.0, 300.0] {
        let twice = 2.0 * band.slowest(amperes(current)).unwrap().value;
        assert_relative_eq!(both.slowest(amperes(2.0 * current)).unwrap().value, twice, max_relative = 1e-9);
    }
    // One that may never open says nothing of both.
    let endless = Band::through(&[gate(100.0, 1.0, 0.0)]).unwrap();
    assert!(Band::together(&[(band, amperes(50.0)), (endless, amperes(50.0))]).is_none());
}
