//! Numbers that stand for names, and how they are read.

use loomwright::conductor::{Conductor, Kind, Material, series};
use loomwright::heat::Installation;
use loomwright::practice::Practice;
use loomwright::quantity::in_mm2;
use loomwright::source::Chemistry;
use loomwright::study::forecast::Size;
use loomwright::text::TemplateForm;
use loomwright_draw::Kind as Picture;

use crate::border::{Failure, lw_status};

/// Conductor materials.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_material {
    /// Annealed copper.
    LW_COPPER = 0,
    /// Tinned copper.
    LW_TINNED_COPPER = 1,
    /// Aluminium.
    LW_ALUMINIUM = 2,
    /// Copper-clad aluminium.
    LW_COPPER_CLAD_ALUMINIUM = 3,
}

/// Conductor kinds.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_kind {
    /// IEC 60228 class 1, solid.
    LW_IEC_1 = 1,
    /// IEC 60228 class 2, stranded.
    LW_IEC_2 = 2,
    /// IEC 60228 class 5, flexible.
    LW_IEC_5 = 5,
    /// IEC 60228 class 6, extra-flexible.
    LW_IEC_6 = 6,
    /// ISO 6722 road-vehicle cable.
    LW_ISO_6722 = 10,
    /// AWG, stranded.
    LW_AWG = 20,
    /// SAE gauge.
    LW_SAE = 21,
}

/// How a conductor lies.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_installation {
    /// Alone in free air.
    LW_FREE_AIR = 0,
    /// Fixed to a surface.
    LW_SURFACE = 1,
    /// Bundle in free air.
    LW_BUNDLE = 2,
    /// Plastic conduit.
    LW_CONDUIT_PLASTIC = 3,
    /// Metal conduit.
    LW_CONDUIT_METAL = 4,
    /// Split corrugated conduit.
    LW_CONDUIT_SPLIT = 5,
    /// Against thermal insulation.
    LW_INSULATED = 6,
    /// Enclosed.
    LW_ENCLOSED = 7,
}

/// Rule sets.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_practice {
    /// No particular law.
    LW_GENERAL = 0,
    /// Caravans and motor caravans, IEC 60364-7-721.
    LW_IEC_CARAVAN = 1,
    /// Small craft, ISO 10133 and ISO 13297.
    LW_ISO_SMALL_CRAFT = 2,
    /// US small craft, 33 CFR 183 subpart I.
    LW_US_SMALL_CRAFT = 3,
    /// North American recreational vehicles.
    LW_NA_RECREATIONAL_VEHICLE = 4,
}

/// Battery chemistries.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_chemistry {
    /// Flooded lead-acid.
    LW_FLOODED = 0,
    /// Absorbed glass mat lead-acid.
    LW_AGM = 1,
    /// Gel lead-acid.
    LW_GEL = 2,
    /// Lithium iron phosphate.
    LW_LITHIUM_IRON_PHOSPHATE = 3,
}

/// What a forecast sizes so that the stay is lasted.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_size {
    /// Nothing.
    LW_SIZE_NOTHING = 0,
    /// The capacity of the bank that falls short.
    LW_SIZE_BATTERY = 1,
    /// The current of the chargers into it.
    LW_SIZE_CHARGER = 2,
    /// The panels on it.
    LW_SIZE_PANELS = 3,
    /// How the panels are shared between the banks that have some.
    LW_SIZE_SPLIT = 4,
}

/// In which form a readings file is written.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_readings_form {
    /// Comma-separated values.
    LW_READINGS_CSV = 0,
    /// TOML.
    LW_READINGS_TOML = 1,
}

/// Pictures of a plan.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_picture {
    /// The single-line diagram.
    LW_PICTURE_DIAGRAM = 0,
    /// Every check with its margin, worst first.
    LW_PICTURE_MARGINS = 1,
    /// How hot each conductor gets.
    LW_PICTURE_TEMPERATURES = 2,
    /// Voltage along the way to a consumer, in every case.
    LW_PICTURE_VOLTAGE = 3,
    /// The fuses of a run and its conductor through time.
    LW_PICTURE_FUSES = 4,
    /// A battery bank over a stay.
    LW_PICTURE_CHARGE = 5,
    /// Joints and conductors as measured.
    LW_PICTURE_JOINTS = 6,
    /// Readings against the plan.
    LW_PICTURE_READINGS = 7,
}

fn unknown(what: &str, number: i32) -> Failure {
    Failure::new(lw_status::LW_UNKNOWN_VALUE, format!("{what} {number} is not one of the header's numbers"))
}

pub(crate) fn material(number: i32) -> Result<Material, Failure> {
    match number {
        0 => Ok(Material::Copper),
        1 => Ok(Material::TinnedCopper),
        2 => Ok(Material::Aluminium),
        3 => Ok(Material::CopperCladAluminium),
        other => Err(unknown("material", other)),
    }
}

pub(crate) fn kind(number: i32) -> Result<Kind, Failure> {
    match number {
        1 => Ok(Kind::Iec1),
        2 => Ok(Kind::Iec2),
        5 => Ok(Kind::Iec5),
        6 => Ok(Kind::Iec6),
        10 => Ok(Kind::Iso6722),
        20 => Ok(Kind::Awg),
        21 => Ok(Kind::Sae),
        other => Err(unknown("kind", other)),
    }
}

pub(crate) fn installation(number: i32) -> Result<Installation, Failure> {
    match number {
        0 => Ok(Installation::FreeAir),
        1 => Ok(Installation::Surface),
        2 => Ok(Installation::Bundle),
        3 => Ok(Installation::ConduitPlastic),
        4 => Ok(Installation::ConduitMetal),
        5 => Ok(Installation::ConduitSplit),
        6 => Ok(Installation::Insulated),
        7 => Ok(Installation::Enclosed),
        other => Err(unknown("installation", other)),
    }
}

pub(crate) fn practice(number: i32) -> Result<Practice, Failure> {
    match number {
        0 => Ok(Practice::General),
        1 => Ok(Practice::IecCaravan),
        2 => Ok(Practice::IsoSmallCraft),
        3 => Ok(Practice::UsSmallCraft),
        4 => Ok(Practice::NaRecreationalVehicle),
        other => Err(unknown("practice", other)),
    }
}

pub(crate) fn chemistry(number: i32) -> Result<Chemistry, Failure> {
    match number {
        0 => Ok(Chemistry::Flooded),
        1 => Ok(Chemistry::Agm),
        2 => Ok(Chemistry::Gel),
        3 => Ok(Chemistry::LithiumIronPhosphate),
        other => Err(unknown("chemistry", other)),
    }
}

pub(crate) fn size(number: i32) -> Result<Option<Size>, Failure> {
    match number {
        0 => Ok(None),
        1 => Ok(Some(Size::Battery)),
        2 => Ok(Some(Size::Charger)),
        3 => Ok(Some(Size::Panels)),
        4 => Ok(Some(Size::Split)),
        other => Err(unknown("size", other)),
    }
}

pub(crate) fn readings_form(number: i32) -> Result<TemplateForm, Failure> {
    match number {
        0 => Ok(TemplateForm::Csv),
        1 => Ok(TemplateForm::Toml),
        other => Err(unknown("form", other)),
    }
}

pub(crate) fn picture(number: i32) -> Result<Picture, Failure> {
    let found = usize::try_from(number).ok().and_then(|place| Picture::ALL.get(place).copied());
    found.ok_or_else(|| unknown("picture", number))
}

/// A number within its range; not a number is never within.
pub(crate) fn within(what: &str, value: f64, low: f64, high: f64) -> Result<f64, Failure> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {value} is outside {low} to {high}")))
    }
}

/// A gauge is entered by its area, which people round: within half a per cent it is meant.
const AREA_ROUNDED: f64 = 5e-3;

/// The standard conductor of a kind and material with that cross-sectional area.
pub(crate) fn conductor(kind_number: i32, material_number: i32, csa_mm2: f64) -> Result<Conductor, Failure> {
    let (kind, material) = (kind(kind_number)?, material(material_number)?);
    let csa_mm2 = within("csa_mm2", csa_mm2, 0.01, 2000.0)?;
    series(kind, material).find(|made| (in_mm2(made.area) / csa_mm2 - 1.0).abs() < AREA_ROUNDED).ok_or_else(|| {
        let sizes: Vec<String> = series(kind, material).map(|made| format!("{:.4}", in_mm2(made.area))).collect();
        let sizes = sizes.iter().map(|size| size.trim_end_matches('0').trim_end_matches('.')).collect::<Vec<_>>();
        let sizes = if sizes.is_empty() { "none".to_owned() } else { sizes.join(", ") };
        let message = format!("{csa_mm2} mm² is not a size of {kind} in {material}; sizes: {sizes}");
        Failure::new(lw_status::LW_NO_SUCH_CONDUCTOR, message)
    })
}
