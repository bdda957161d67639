use super::*;
use crate::conductor::{Kind, Material, series};
use crate::quantity::celsius;
use approx::assert_relative_eq;
use proptest::prelude::*;

fn conductor(kind: Kind, csa_mm2: f64) -> Conductor {
    series(kind, Material::Copper).find(|made| (in_mm2(made.area) - csa_mm2).abs() < 1e-9).unwrap()
}

fn path(index: usize, lay: &Lay, ambient_c: f64) -> Option<HeatPath> {
    HeatPath::new(&series(Kind::Iec5, Material::Copper).nth(index)?, lay, celsius(ambient_c)).ok()
}

#[test]
fn enclosed_returns_its_own_table() {
    // 16 mm², 76 A at 70 °C in 30 °C air: IEC 60364-5-52 method B (class 2 conductor).
    let path = HeatPath::new(&conductor(Kind::Iec2, 16.0), &Lay::pair(Installation::Enclosed), celsius(30.0)).unwrap();
    assert_relative_eq!(path.ampacity(celsius(70.0)).unwrap().value, 76.0, max_relative = 1e-12);
}

/// Clipped to a wall is method C of IEC 60364-5-52, in conduit or wherever else is enclosed method B.
#[test]
fn a_table_is_told_by_its_method() {
    for (installation, method) in
        [(Installation::Surface, 'C'), (Installation::ConduitMetal, 'B'), (Installation::Enclosed, 'B')]
    {
        let told = Model::Table.title(installation);
        assert_eq!(told, format!("method {method} table (IEC 60364-5-52)"), "{installation:?}");
    }
}

/// Above 250 °C nothing is followed, and an error says so.
#[test]
fn what_is_too_hot_is_told_with_its_limit() {
    let path = HeatPath::new(&conductor(Kind::Iec5, 16.0), &Lay::pair(Installation::FreeAir), celsius(30.0)).unwrap();
    let told = path.temperature(ElectricCurrent::new::<ampere>(1000.0)).unwrap_err().to_string();
    assert!(told.contains("250 °C"), "{told}");
}

#[test]
fn says_when_no_current_is_permissible() {
    let path = path(8, &Lay::alone(Installation::FreeAir), 80.0).unwrap();
    assert!(path.ampacity(celsius(75.0)).unwrap_err().to_string().starts_with("no current is permissible"));
    assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(1e5)), Err(HeatError::TooHot { .. })));
    assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(f64::NAN)), Err(HeatError::Current { .. })));
    assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(-1.0)), Err(HeatError::Current { .. })));
}

#[test]
fn a_conduit_smaller_than_its_contents_is_refused_by_name() {
    let lay =
        Lay { bore: Some(Length::new::<uom::si::length::millimeter>(12.0)), ..Lay::pair(Installation::ConduitPlastic) };
    let error = HeatPath::new(&conductor(Kind::Iec5, 16.0), &lay, celsius(40.0)).unwrap_err();
    let text = error.to_string();
    assert!(text.contains("bore of 12.0 mm") && text.contains("need at least"), "{text}");
}

#[test]
fn neighbours_that_rest_cost_nothing_and_loaded_ones_all_they_shed() {
    // Unequal currents: five resting neighbours only widen the bundle, loaded ones warm it.
    let made = conductor(Kind::Iec5, 6.0);
    let five = made.outer_diameter * 5.0_f64.sqrt();
    let with = |watts: f64, loaded: u16| {
        let heat = LinearPowerDensity::new::<watt_per_meter>(watts);
        let resting = if loaded == 0 { five } else { Length::default() };
        let others = Others { heat, diameter: five, resting, largest: made.outer_diameter, loaded };
        let lay = Lay { others, ..Lay::alone(Installation::Bundle) };
        HeatPath::new(&made, &lay, celsius(40.0)).unwrap().ampacity(celsius(70.0)).unwrap().value
    };
    let six = Lay { together: 6, ..Lay::alone(Installation::Bundle) };
    let path = HeatPath::new(&made, &six, celsius(40.0)).unwrap();
    let equal = path.ampacity(celsius(70.0)).unwrap();
    let balance = path.balance(equal).unwrap();
    assert!(with(0.0, 0) > equal.value * 1.5);
    // Five neighbours that shed what five equal ones shed permit the same current: within rounding, one model.
    assert_relative_eq!(with(balance.neighbours.value, 5), equal.value, max_relative = 1e-6);
    // And hot enough ones permit none.
    assert_eq!(with(1e3, 5), 0.0);
}

fn installation() -> impl Strategy<Value = Installation> {
    proptest::sample::select(Installation::ALL)
}

proptest! {
    /// Temperature and ampacity are inverses, the balance closes to 1e-9, and everything is monotone.
    #[test]
    fn balance_closes_and_inverts(index in 4_usize..18, installation in installation(), together in 1_u16..9, ambient in -30.0..90.0_f64, over in 5.0..110.0_f64) {
        let together = if installation == Installation::FreeAir { 1 } else { together };
        let lay = Lay { together, ..Lay::alone(installation) };
        let Some(path_here) = path(index, &lay, ambient) else { return Ok(()) };
        let limit = celsius(ambient + over);
        let current = path_here.ampacity(limit).unwrap();
        prop_assert!((path_here.temperature(current).unwrap().value - limit.value).abs() < 1e-6);
        let balance = path_here.balance(current).unwrap();
        let shed = balance.convection + balance.radiation + balance.undivided;
        let made = balance.joule + if balance.model == Model::Table { LinearPowerDensity::default() } else { balance.neighbours };
        prop_assert!((shed.value - made.value).abs() <= 1e-9 * shed.value);
        if let Some([convection, radiation]) = balance.gap {
            prop_assert!(((convection + radiation).value - made.value).abs() <= 1e-9 * made.value);
        }
        let hotter = path_here.temperature(current * 1.05).unwrap();
        prop_assert!(hotter > limit);
        let warmer_air = path(index, &lay, ambient + 3.0).unwrap();
        prop_assert!(warmer_air.ampacity(limit).unwrap() < current);
        let larger = path(index + 1, &lay, ambient).unwrap();
        prop_assert!(larger.ampacity(limit).unwrap() > current);
        let fuller = path(index, &Lay { together: together + 1, ..lay }, ambient).unwrap();
        // By the standard's coefficients more than three share as three do: equal, but for rounding.
        prop_assert!(fuller.ampacity(limit).unwrap() <= current * (1.0 + 1e-12));
        // The largest current for a drop loses that drop at the temperature it has.
        let (length, volts) = (Length::new::<uom::si::length::meter>(5.0), ElectricPotential::new::<uom::si::electric_potential::volt>(0.2));
        let beside = ElectricalResistance::new::<uom::si::electrical_resistance::milliohm>(1.0);
        let most = path_here.current_at_drop(length, beside, volts);
        if let Ok(temperature) = path_here.temperature(most) {
            let conductor = series(Kind::Iec5, Material::Copper).nth(index).unwrap();
            let lost = most * (conductor.resistance_at(temperature) * length + beside);
            prop_assert!((lost.value - 0.2).abs() < 1e-7, "{:?}", lost);
        }
    }
}
