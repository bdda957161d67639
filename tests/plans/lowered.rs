//! What an operating case is as a network: what gives, what takes, what is asked.

use crate::stays::alternator;
use crate::support::{buck, lamp, two_bars};
use loomwright::installation::{BatteryState, Case, DeviceRef, Engine, Installation};
use loomwright::network::{DemandKind, Lowered, Outcome, Part, lower, solve};
use loomwright::quantity::uom::si::electrical_resistance::milliohm;
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::{ElectricalResistance, Power};
use loomwright::text::read_plan;

/// A battery, an alternator at its posts, and a 12 V lamp behind a buck converter of a 24 V system. Invented.
fn plan(regulated: &str, chemistry: &str) -> Installation {
    let lamp = lamp("power = \"60 W\"\nnominal_voltage = \"12 V\"", "conductor = \"6 mm2\"")
        .replace("from = \"plus\"", "from = \"buck.out+\"")
        .replace("return = \"minus\"", "return = \"buck.out-\"");
    let text = two_bars("24 V", "150 A class-t", &[alternator("house"), buck("20 A"), lamp].concat())
        .replace("chemistry = \"agm\"", &format!("chemistry = \"{chemistry}\""))
        .replace("voltage = \"14.2 V\"", &format!("voltage = \"{regulated}\""));
    read_plan(&text).unwrap_or_else(|errors| panic!("{errors:?}"))
}

fn lowered(plan: &Installation, case: &Case) -> Lowered {
    lower(plan, case, &vec![ElectricalResistance::new::<milliohm>(2.0); plan.runs.len()], true)
}

/// What a part gives in a case, A.
fn given(lowered: &Lowered, part: Part) -> f64 {
    let Ok(Outcome::Point(point)) = solve(&lowered.network) else { panic!("settles") };
    let index = lowered.sources.iter().position(|one| *one == part).unwrap();
    point.source_currents[index].value
}

/// Diodes let an alternator give and never take; a full lead battery takes next to nothing beside it, lithium what it is given.
#[test]
fn an_alternator_never_takes_nor_a_full_lead_battery() {
    let battery = Part::Device(DeviceRef::Battery(0));
    let alternator = Part::Device(DeviceRef::Alternator(0));
    let case = Case::new("drive", Engine::Cruise, BatteryState::Full);
    // Regulated below what the battery stands at: that feeds the lamp.
    let low = lowered(&plan("24 V", "agm"), &case);
    assert!(given(&low, alternator).abs() < 1e-9 && given(&low, battery) > 2.0, "{}", given(&low, alternator));
    let usual = lowered(&plan("28.4 V", "agm"), &case);
    assert!(given(&usual, battery).abs() < 1e-9 && given(&usual, alternator) > 2.0, "{}", given(&usual, battery));
    assert!(given(&lowered(&plan("28.4 V", "lithium-iron-phosphate"), &case), battery) < -1.0);
}

/// Whichever battery a relay senses, it is that one's voltage, against its own negative.
#[test]
fn a_relay_senses_against_the_negative_beside_it() {
    let says = "closes_at = \"13.3 V\"\nopens_at = \"12.4 V\"";
    for [sensed, other] in [["first", "second"], ["second", "first"]] {
        let batteries = ["first", "second"].map(|name| crate::stays::battery(name, "agm", 100.0, "")).concat();
        let text = crate::stays::plan(&format!("{batteries}{}", crate::stays::relay(sensed, other, says)));
        let plan = read_plan(&text).unwrap_or_else(|errors| panic!("{errors:?}"));
        let lowered = lowered(&plan, &Case::new("parked", Engine::Off, BatteryState::Resting));
        let own = plan.batteries.iter().find(|battery| battery.name == sensed).unwrap();
        assert_eq!(lowered.network.relays[0].senses[1], own.nodes[1].0, "{sensed}");
    }
}

/// At 0.85 of its own nominal voltage, not the system's: 60 W of 12 V are 5.9 A; what the converter takes for them is at 24 V.
#[test]
fn demands_are_rated_at_their_own_voltage() {
    let plan = plan("28.4 V", "agm");
    let case = Case::new("drive", Engine::Cruise, BatteryState::Full);
    let mut lowered = lowered(&plan, &case);
    lowered.rate(&plan, &case);
    let current = |part: Part| {
        let index = lowered.demands.iter().position(|one| *one == part).unwrap();
        let DemandKind::Current(current) = lowered.network.demands[index].kind else { panic!("a current") };
        current.value
    };
    assert!((current(Part::Device(DeviceRef::Load(0))) - 60.0 / (12.0 * 0.85)).abs() < 1e-9);
    let input = plan.converters[0].losses.input(Power::new::<watt>(60.0)).value;
    assert!((current(Part::Device(DeviceRef::Converter(0))) - input / (24.0 * 0.85)).abs() < 1e-9);
    // Its output gives and never takes.
    let output = lowered.sources.iter().position(|one| *one == Part::Output(0)).unwrap();
    assert!(lowered.network.sources[output].one_way);
    let locked = crate::lowered::lowered(&plan, &Case { lock_out: true, ..case });
    let output = locked.sources.iter().position(|one| *one == Part::Output(0)).unwrap();
    assert!(locked.network.sources[output].one_way);
}
