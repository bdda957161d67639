//! One heat path for each model that bears on a way of lying: what lies between conductor and air.

use super::annulus::Annulus;
use super::chain::{Chain, Gap, Outside, insulation};
use super::lay::Outline;
use super::{Installation, Lay};
use crate::conductor::Conductor;
use crate::data::{tables::constants, tables::iec60287_air, tables::iec60287_duct};
use crate::quantity::ThermodynamicTemperature;

/// The path of a conductor's own heat, before what lies outside is known.
pub(super) fn bare(conductor: &Conductor, ambient: ThermodynamicTemperature) -> Chain {
    let (constant, slope) = conductor.material.law_per_celsius();
    Chain {
        outside: Outside::Table(0.0, None),
        wall: 0.0,
        gap: Gap::None,
        inner: 0.0,
        insulation: insulation(conductor),
        count: 1.0,
        others: 0.0,
        ambient: ambient.value,
        at_zero: conductor.resistance_20.value * constant,
        slope: conductor.resistance_20.value * slope,
    }
}

pub(super) fn circuits(lay: &Lay) -> u16 {
    match lay.installation {
        // Each lies apart; what is together are circuits that run side by side.
        Installation::FreeAir => lay.loaded(),
        _ => lay.loaded().div_ceil(2),
    }
}

/// Convection, radiation and conduction through all that lies between conductor and air.
pub(super) fn balance(
    bare: &Chain,
    conductor: &Conductor,
    lay: &Lay,
    outline: &Outline,
    grouping: Option<f64>,
) -> Option<Chain> {
    let cylinder = |diameter, share| Outside::Cylinder { diameter, emissivity: constants::EMISSIVITY, share };
    let several = f64::from(lay.loaded());
    let bunched = Chain {
        // A body that makes heat all through is hotter inside by Q·ρ/4π; of two cables neither is inside. What
        // carries no current is a layer around it.
        inner: constants::BUNDLE_RESISTIVITY / (4.0 * std::f64::consts::PI) * (1.0 - 2.0 / several).max(0.0)
            + constants::BUNDLE_RESISTIVITY / std::f64::consts::TAU * (outline.group / outline.loaded).ln(),
        count: f64::from(lay.together),
        others: lay.others.heat.value,
        ..*bare
    };
    let group = outline.group;
    Some(match lay.installation {
        // The factor is on current; heat goes with its square.
        Installation::FreeAir => {
            Chain { outside: cylinder(conductor.outer_diameter.value, grouping? * grouping?), ..*bare }
        }
        Installation::Surface => Chain { outside: cylinder(group, constants::WALL_SHARE), ..bunched },
        Installation::Bundle => Chain { outside: cylinder(group, 1.0), ..bunched },
        // One side of a strip of lining as wide as the heat spreads, 1/π of a cylinder's outline; and to the lining
        // through a film of air over half the outline of the cables.
        Installation::Insulated => Chain {
            outside: cylinder(group + 2.0 * constants::LINING_REACH_M, std::f64::consts::FRAC_1_PI),
            wall: constants::LINING_FILM_M / (constants::LINING_AIR * std::f64::consts::FRAC_PI_2 * group),
            ..bunched
        },
        Installation::ConduitPlastic | Installation::ConduitMetal | Installation::ConduitSplit => {
            let (bore, outside) = outline.conduit?;
            let metal = lay.installation == Installation::ConduitMetal;
            let emissivity = if metal { constants::METAL_EMISSIVITY } else { constants::EMISSIVITY };
            Chain {
                outside: Outside::Cylinder { diameter: outside, emissivity, share: constants::WALL_SHARE },
                wall: conduit_wall(lay.installation, bore, outside),
                gap: Gap::Annulus(Annulus::new(group, bore, emissivity)),
                ..bunched
            }
        }
        Installation::Enclosed => return None,
    })
}

/// Thermal resistance of a conduit's wall, K·m/W; a metal one has none worth counting.
fn conduit_wall(installation: Installation, bore: f64, outside: f64) -> f64 {
    let resistivity = match installation {
        Installation::ConduitMetal => 0.0,
        Installation::ConduitSplit => constants::CORRUGATION_RESISTIVITY,
        _ => constants::CONDUIT_RESISTIVITY,
    };
    resistivity / std::f64::consts::TAU * (outside / bore).ln()
}

/// The least of the standard's coefficients for that many touching cables, times π·De: W/(m·K^1.25). Where it has
/// none for so many, those for the most below: one among more sheds no more than among fewer.
fn iec_air(place: &str, conductors: u16, diameter: f64) -> Option<f64> {
    let there = || iec60287_air::ROWS.iter().filter(|row| row.place == place && row.conductors <= conductors.into());
    let most = there().map(|row| row.conductors).reduce(f64::max)?;
    let rows = there().filter(|row| row.conductors == most);
    let least = rows.map(|row| row.z / diameter.powf(row.g) + row.e).reduce(f64::min)?;
    Some(std::f64::consts::PI * diameter * least)
}

/// The second opinion of IEC 60287-2-1, where it has coefficients: equal cables.
pub(super) fn iec60287(
    bare: &Chain,
    conductor: &Conductor,
    lay: &Lay,
    outline: &Outline,
    grouping: Option<f64>,
) -> Option<Chain> {
    let own = conductor.outer_diameter.value;
    let count = f64::from(lay.together);
    // The coefficients are for each cable, so for all of them n times.
    let air = |place, conductors| iec_air(place, conductors, own).map(|each| Outside::Iec60287(each * count));
    Some(match lay.installation {
        // Side by side but apart: each for itself, and the factor on current as in the balance.
        Installation::FreeAir => {
            Chain { outside: Outside::Iec60287(iec_air("air", 1, own)? * grouping? * grouping?), ..*bare }
        }
        Installation::Bundle => Chain { outside: air("air", lay.together)?, count, ..*bare },
        Installation::Surface => Chain { outside: air("wall", lay.together)?, count, ..*bare },
        Installation::ConduitPlastic | Installation::ConduitMetal | Installation::ConduitSplit => {
            let (bore, outside) = outline.conduit?;
            let duct = if lay.installation == Installation::ConduitMetal { "metal" } else { "plastic" };
            let row = iec60287_duct::ROWS.iter().find(|row| row.duct == duct)?;
            let body_mm = outline.group * 1e3;
            Chain {
                outside: Outside::Iec60287(iec_air("air", 1, outside)?),
                wall: conduit_wall(lay.installation, bore, outside),
                gap: Gap::Iec60287 { u: row.u, constant: 1.0 + 0.1 * row.v * body_mm, slope: 0.1 * row.y * body_mm },
                count,
                ..*bare
            }
        }
        Installation::Insulated | Installation::Enclosed => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, series};

    fn opinion(lay: &Lay) -> Chain {
        let conductor =
            series(Kind::Iec5, Material::Copper).find(|made| made.area == crate::quantity::mm2(10.0)).unwrap();
        let outline = Outline::of(&conductor, lay).unwrap();
        let bare = bare(&conductor, crate::quantity::celsius(30.0));
        iec60287(&bare, &conductor, lay, &outline, Some(1.0)).unwrap()
    }

    /// U, V and Y of IEC 60287-2-1, table 4: plastic as published, metal from memory.
    #[test]
    fn a_conduit_is_judged_by_what_it_is_made_of() {
        for (installation, u, v, y) in
            [(Installation::ConduitPlastic, 1.87, 0.312, 0.0037), (Installation::ConduitMetal, 5.2, 1.4, 0.011)]
        {
            let lay = Lay::pair(installation);
            let chain = opinion(&lay);
            let Gap::Iec60287 { u: told, constant, slope } = chain.gap else { panic!("{installation}") };
            assert_eq!(told, u);
            // De is in both: what is left of them is V/Y.
            assert!(((constant - 1.0) / slope / (v / y) - 1.0).abs() < 1e-9);
            assert_eq!(chain.count, f64::from(lay.together));
            assert_eq!(chain.wall > 0.0, installation == Installation::ConduitPlastic);
        }
        for installation in [Installation::Bundle, Installation::Surface] {
            let chain = opinion(&Lay::pair(installation));
            assert_eq!(chain.count, 2.0, "{installation}");
        }
    }
}
