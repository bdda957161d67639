//! Short ways to build what the checks ask the engine.

use loomwright::conductor::{Conductor, Kind, Material, find};
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::{CrossSection, ElectricCurrent, ElectricPotential, FromText, Length, Power, Ratio};
use loomwright::study::cable::{CableQuery, Candidate, DropLimit, Joints, Sizing, size};

/// A current in amperes.
pub fn amperes(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<ampere>(value)
}

/// A length in metres.
pub fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// A voltage in volts.
pub fn volts(value: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(value)
}

/// A power in watts.
pub fn watts(value: f64) -> Power {
    Power::new::<watt>(value)
}

/// A standard conductor by its size in words, such as `16 mm2` or `8 AWG`.
pub fn conductor(kind: Kind, material: Material, size: &str) -> Conductor {
    let size = CrossSection::from_text(size).unwrap_or_else(|error| panic!("{error}"));
    find(kind, material, size).unwrap_or_else(|error| panic!("{error}"))
}

/// Sizes `query` without joints so that `wanted` is chosen: an example gives its size, so the permitted drop, which
/// examples seldom give, is tried from tight to loose in steps of 0.1 %.
pub fn chosen_as(query: CableQuery, wanted: &str) -> (Sizing, Candidate) {
    let wanted = CrossSection::from_text(wanted).unwrap_or_else(|error| panic!("{error}"));
    for tenth in 1..500 {
        let drop = DropLimit::Share(Ratio::new::<percent>(0.1 * f64::from(tenth)));
        let joints = Joints { lugs: Some(0), screw_cages: 0, isolators: 0 };
        let sized = size(&CableQuery { drop: Some(drop), joints: Some(joints), ..query }).expect("the query is valid");
        if let Some(chosen) =
            sized.chosen.clone().filter(|chosen| chosen.parallel == 1 && chosen.conductor.size == wanted)
        {
            return (sized, chosen);
        }
    }
    panic!("no permitted drop makes {wanted:?} the choice");
}
