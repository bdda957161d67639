use super::*;
use crate::conductor::{Kind, Material, series};
use crate::heat::Installation;
use crate::quantity::{celsius, mm2};

fn cable() -> Transient {
    let conductor = series(Kind::Iec5, Material::Copper).find(|made| made.area == mm2(16.0)).unwrap();
    Transient::new(&conductor, &Lay::alone(Installation::FreeAir), celsius(30.0)).unwrap()
}

fn amperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(value)
}

/// The peak of a cycle lies between the steady temperatures of its effective and of its whole current; nearer to the first
/// the shorter the cycle.
#[test]
fn a_cycle_peaks_between_its_mean_and_its_whole_heat() {
    let (cable, current) = (cable(), amperes(120.0));
    let steady = |current| cable.path().temperature(current).unwrap().value;
    let minutes = |minutes: f64| Time::new::<second>(60.0 * minutes);
    let peak = |on: f64, period: f64| {
        cable.settled_peak(&Duty::new(minutes(on), minutes(period)).unwrap(), current).unwrap().value
    };
    let (mean, whole) = (steady(current * 0.5_f64.sqrt()), steady(current));
    assert!((peak(60.0, 60.0) / whole - 1.0).abs() < 2e-3, "{} K, {whole} K", peak(60.0, 60.0));
    let (short, long) = (peak(0.05, 0.1), peak(10.0, 20.0));
    assert!(mean < short && short < long && long < whole, "{mean} {short} {long} {whole}");
    // In 3 s the whole current (21 W/m into 55 J/(m·K)) warms the metal by 1.2 K; the rest is resistance that rises with it.
    assert!(short - mean < 3.0, "{short} K, {mean} K");
}

#[test]
fn what_is_too_hot_to_follow_is_told_with_its_limit() {
    let told = cable().time_to(celsius(400.0), amperes(100.0), celsius(30.0)).unwrap_err().to_string();
    assert!(told.contains("350 °C"), "{told}");
}

/// A current that is borne for so long reaches the limit in just that time, from a tenth of a second to half an hour; about one
/// second, to which nothing is credited to the insulation, it is left out.
#[test]
fn a_short_time_rating_is_reached_in_its_time() {
    let (cable, start, limit) = (cable(), celsius(40.0), celsius(90.0));
    for seconds in [0.1, 0.5, 3.0, 30.0, 120.0, 600.0, 1800.0] {
        let borne = cable.short_time_rating(Time::new::<second>(seconds), limit, start).unwrap();
        let time = cable.time_to(limit, borne, start).unwrap().unwrap().value;
        // The rating is sought to 1e-4, from below; near the steady current the time rises steeply.
        assert!((0.999..1.05).contains(&(time / seconds)), "{} A for {seconds} s: {time} s", borne.value);
    }
}
