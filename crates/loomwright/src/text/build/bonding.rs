//! How negatives, cases and the chassis are joined, and the mains side of inverters.

use super::Ground;
use crate::conductor::{Kind, Material, find};
use crate::data::tables::{constants, sources};
use crate::installation::{Bonding, CaseBond, ConverterKind};
use crate::quantity::{Length, ThermodynamicTemperature};
use crate::text::entry::Entry;
use crate::text::resolve::Names;
use uom::si::length::meter;

/// Kind, material and insulation of conductors that have no entry of their own.
#[derive(Clone, Copy)]
pub(in crate::text) struct Cable {
    kind: Kind,
    material: Material,
    insulation: ThermodynamicTemperature,
}

impl Cable {
    pub(in crate::text) fn of(defaults: Option<&Entry>) -> Self {
        let kind = defaults.and_then(|defaults| defaults.choice("kind")).unwrap_or(Kind::Iec5);
        Self {
            kind,
            material: defaults.and_then(|defaults| defaults.choice("material")).unwrap_or(Material::Copper),
            insulation: defaults
                .and_then(|defaults| defaults.temperature("insulation"))
                .unwrap_or_else(|| kind.usual_insulation()),
        }
    }
}

/// What the plan says of it; what it does not say is inferred and listed.
pub(super) fn bonding(plan: &Entry, joined: bool, ground: &mut Ground) -> Option<Bonding> {
    let stated = plan.choice("bonding");
    if stated.is_none() {
        let told = if joined {
            "chassis, as something is joined to it"
        } else {
            "floating, as nothing is joined to a chassis"
        };
        ground.assume("plan", format!("bonding {told}"), &sources::BONDING_COMMON_PRACTICE);
    }
    stated
}

/// The conductor from a converter's case to the chassis.
pub(super) fn case_bond(entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<CaseBond> {
    let Some(size) = entry.size("case_bond") else {
        if entry.get("case_bond_length").is_some() {
            names.refuse(
                entry,
                "case_bond_length",
                "case_bond is needed beside it, for example case_bond = \"16 mm2\"",
            );
        }
        return None;
    };
    let length = entry.length("case_bond_length").unwrap_or_else(|| {
        let text = format!("the conductor from its case to the chassis is {} m long", constants::CASE_BOND_M);
        ground.assume(format!("converter {}", entry.name), text, &sources::BONDING_COMMON_PRACTICE);
        Length::new::<meter>(constants::CASE_BOND_M)
    });
    if !(length.value > 0.0 && length.value <= 100.0) {
        names.refuse(entry, "case_bond_length", "the conductor from a case is above 0 m and at most 100 m long");
    }
    let Cable { kind, material, insulation } = ground.cable;
    match find(kind, material, size) {
        Ok(conductor) => Some(CaseBond { conductor, insulation, length }),
        Err(error) => {
            names.refuse(entry, "case_bond", error.to_string());
            None
        }
    }
}

/// Residual-current device and neutral bond of an inverter's mains side, where they are stated.
pub(super) fn mains_side(kind: ConverterKind, entry: &Entry, names: &mut Names<'_>) -> [Option<bool>; 2] {
    ["rcd", "neutral_bond"].map(|key| {
        let stated = entry.stated_flag(key)?;
        if kind == ConverterKind::Inverter {
            return Some(stated);
        }
        names.refuse(entry, key, format!("{key} goes with an inverter: a {kind} feeds no mains side"));
        None
    })
}
