use super::*;
use crate::conductor::{Kind, Material, series};
use crate::heat::Installation;
use crate::quantity::celsius;

/// A clear overload is reached by the floor early, but not so early that heat shed on the way would count for nothing: half
/// the time is a bound of ours, which the adiabatic time alone misses.
#[test]
fn the_floor_lies_closely_below_the_curve() {
    let limits = OverloadLimits::of(celsius(90.0), celsius(90.0));
    for installation in [Installation::FreeAir, Installation::Surface] {
        for conductor in series(Kind::Iec5, Material::Copper).skip(10).step_by(3) {
            let (lay, air) = (Lay::alone(installation), celsius(40.0));
            let Ok(path) = HeatPath::new(&conductor, &lay, air) else { continue };
            let bears = path.ampacity(celsius(90.0)).unwrap();
            let floor = DamageFloor::new(&conductor, &lay, air, celsius(60.0), limits).unwrap();
            let curve = DamageCurve::new(&conductor, &lay, air, celsius(60.0), limits).unwrap();
            for times in [1.5, 2.0] {
                let seconds = |time: Option<Time>| time.map_or(f64::INFINITY, |time| time.value);
                let floor = seconds(floor.time(bears * times).unwrap());
                let curve = seconds(curve.time(bears * times).unwrap());
                assert!(floor <= curve && floor > 0.5 * curve, "{installation} {times}: {floor} s, {curve} s");
            }
        }
    }
}
