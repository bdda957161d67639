//! The question: one circuit, with masks of what is given.

use std::mem::size_of;

use loomwright::heat::Duty;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::electrical_resistance::milliohm;
use loomwright::quantity::uom::si::length::{meter, millimeter};
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::uom::si::time::second;
use loomwright::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Power, Ratio, Time, celsius, mm2,
};
use loomwright::study::cable::{CableQuery, DropLimit, Joints, Load, ReturnPath};

use super::finite;
use crate::border::{Failure, lw_status, usable};
use crate::codes::{installation, kind, material, practice};

/// `power_w` and `lowest_voltage_v` are given, instead of `current_a`.
pub const LW_HAS_POWER: u32 = 1 << 0;
/// `drop_percent` is given.
pub const LW_HAS_DROP_PERCENT: u32 = 1 << 1;
/// `drop_v` is given, instead of `drop_percent`.
pub const LW_HAS_DROP_V: u32 = 1 << 2;
/// `ambient_c` is given.
pub const LW_HAS_AMBIENT: u32 = 1 << 3;
/// `insulation_c` is given.
pub const LW_HAS_INSULATION: u32 = 1 << 4;
/// `kind` is given.
pub const LW_HAS_KIND: u32 = 1 << 5;
/// `material` is given.
pub const LW_HAS_MATERIAL: u32 = 1 << 6;
/// `installation` is given.
pub const LW_HAS_INSTALLATION: u32 = 1 << 7;
/// `conductors_together` is given.
pub const LW_HAS_TOGETHER: u32 = 1 << 8;
/// `bore_mm` is given.
pub const LW_HAS_BORE: u32 = 1 << 9;
/// `duty_on_s` and `duty_period_s` are given.
pub const LW_HAS_DUTY: u32 = 1 << 10;
/// The circuit returns through the chassis.
pub const LW_HAS_CHASSIS_RETURN: u32 = 1 << 11;
/// `chassis_mohm` is given, beside `LW_HAS_CHASSIS_RETURN`.
pub const LW_HAS_CHASSIS_RESISTANCE: u32 = 1 << 12;
/// `lugs`, `screw_cages` and `isolators` are given.
pub const LW_HAS_JOINTS: u32 = 1 << 13;
/// `terminal_mm2` is given.
pub const LW_HAS_TERMINAL: u32 = 1 << 14;
/// `terminal_c` is given.
pub const LW_HAS_TERMINAL_TEMPERATURE: u32 = 1 << 15;
/// `practice` is given.
pub const LW_HAS_PRACTICE: u32 = 1 << 16;
/// Every mask of this release.
const LW_HAS_ALL: u32 = (1 << 17) - 1;

/// One circuit to size. Set `struct_size` to `sizeof(lw_circuit_query)` and `has` to the masks of what is given; what is not
/// given takes the default that the command `loomwright cable` lists. Fields that are not given are not read.
#[repr(C)]
#[derive(Clone, Copy, Debug)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub struct lw_circuit_query {
    /// Size of this struct as the caller knows it.
    pub struct_size: u32,
    /// Which fields are given.
    pub has: u32,
    /// Current, above 0 to 5000 A.
    pub current_a: f64,
    /// Power at the load, instead of a current.
    pub power_w: f64,
    /// The lowest voltage at which the load takes that power.
    pub lowest_voltage_v: f64,
    /// One-way length, 0.001 to 1000 m; always read.
    pub length_m: f64,
    /// System voltage, 5 to 60 V; always read.
    pub voltage_v: f64,
    /// Permitted drop in per cent of the system voltage.
    pub drop_percent: f64,
    /// Permitted drop in volts.
    pub drop_v: f64,
    /// Hottest air around the cable, −40 to 200 °C.
    pub ambient_c: f64,
    /// Insulation class, 40 to 250 °C.
    pub insulation_c: f64,
    /// Bore of the conduit, 3 to 500 mm.
    pub bore_mm: f64,
    /// How long the current flows in every period.
    pub duty_on_s: f64,
    /// The period.
    pub duty_period_s: f64,
    /// Resistance of the chassis return.
    pub chassis_mohm: f64,
    /// The largest conductor that the terminals accept.
    pub terminal_mm2: f64,
    /// How hot the terminals may get, 40 to 250 °C.
    pub terminal_c: f64,
    /// An `lw_kind`.
    pub kind: i32,
    /// An `lw_material`.
    pub material: i32,
    /// An `lw_installation`.
    pub installation: i32,
    /// An `lw_practice`.
    pub practice: i32,
    /// Loaded conductors laid together, 1 to 40.
    pub conductors_together: i32,
    /// Lugs in both legs.
    pub lugs: i32,
    /// Screw cage terminals.
    pub screw_cages: i32,
    /// Isolators.
    pub isolators: i32,
}

fn count(what: &str, number: i32) -> Result<u16, Failure> {
    u16::try_from(number)
        .map_err(|_| Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{what} {number} is outside 0 to 65535")))
}

impl lw_circuit_query {
    /// The query as the engine knows it.
    pub(super) fn read(&self) -> Result<CableQuery, Failure> {
        let has = |mask: u32| self.has & mask != 0;
        if self.has & !LW_HAS_ALL != 0 {
            let message = format!("has {:#x} names fields that this library does not know", self.has);
            return Err(Failure::new(lw_status::LW_UNKNOWN_VALUE, message));
        }
        let volts = |what, value| Ok::<_, Failure>(ElectricPotential::new::<volt>(finite(what, value)?));
        let degrees = |what, value| Ok::<_, Failure>(celsius(finite(what, value)?));
        let load = if has(LW_HAS_POWER) {
            Load::Power {
                power: Power::new::<watt>(finite("power_w", self.power_w)?),
                lowest_voltage: volts("lowest_voltage_v", self.lowest_voltage_v)?,
            }
        } else {
            Load::Current(ElectricCurrent::new::<ampere>(finite("current_a", self.current_a)?))
        };
        let length = Length::new::<meter>(finite("length_m", self.length_m)?);
        let mut query = CableQuery::new(load, length, volts("voltage_v", self.voltage_v)?);
        if has(LW_HAS_DROP_V) {
            query.drop = Some(DropLimit::Absolute(volts("drop_v", self.drop_v)?));
        } else if has(LW_HAS_DROP_PERCENT) {
            query.drop = Some(DropLimit::Share(Ratio::new::<percent>(finite("drop_percent", self.drop_percent)?)));
        }
        if has(LW_HAS_AMBIENT) {
            query.ambient = Some(degrees("ambient_c", self.ambient_c)?);
        }
        if has(LW_HAS_INSULATION) {
            query.insulation = Some(degrees("insulation_c", self.insulation_c)?);
        }
        if has(LW_HAS_KIND) {
            query.kind = Some(kind(self.kind)?);
        }
        if has(LW_HAS_MATERIAL) {
            query.material = Some(material(self.material)?);
        }
        if has(LW_HAS_INSTALLATION) {
            query.installation = Some(installation(self.installation)?);
        }
        if has(LW_HAS_TOGETHER) {
            query.together = Some(count("conductors_together", self.conductors_together)?);
        }
        if has(LW_HAS_BORE) {
            query.bore = Some(Length::new::<millimeter>(finite("bore_mm", self.bore_mm)?));
        }
        if has(LW_HAS_DUTY) {
            let seconds = |what, value| Ok::<_, Failure>(Time::new::<second>(finite(what, value)?));
            let duty = Duty::new(seconds("duty_on_s", self.duty_on_s)?, seconds("duty_period_s", self.duty_period_s)?);
            query.duty = Some(duty.map_err(|error| Failure::new(lw_status::LW_OUT_OF_RANGE, error.to_string()))?);
        }
        if has(LW_HAS_CHASSIS_RETURN) {
            let resistance =
                has(LW_HAS_CHASSIS_RESISTANCE).then(|| finite("chassis_mohm", self.chassis_mohm)).transpose()?;
            query.return_path = Some(ReturnPath::Chassis(resistance.map(ElectricalResistance::new::<milliohm>)));
        }
        if has(LW_HAS_JOINTS) {
            query.joints = Some(Joints {
                lugs: Some(count("lugs", self.lugs)?),
                screw_cages: count("screw_cages", self.screw_cages)?,
                isolators: count("isolators", self.isolators)?,
            });
        }
        if has(LW_HAS_TERMINAL) {
            query.terminal_size = Some(CrossSection::Area(mm2(finite("terminal_mm2", self.terminal_mm2)?)));
        }
        if has(LW_HAS_TERMINAL_TEMPERATURE) {
            query.terminal_temperature = Some(degrees("terminal_c", self.terminal_c)?);
        }
        if has(LW_HAS_PRACTICE) {
            query.practice = Some(practice(self.practice)?);
        }
        Ok(query)
    }
}

/// The struct of this release, in bytes.
pub(super) const LEAST_QUERY: usize = size_of::<lw_circuit_query>();

/// Reads a query of the size that it says.
///
/// # Safety
/// `query` is null or points to a struct whose first field says how many bytes may be read.
pub(super) unsafe fn read_query(query: *const lw_circuit_query) -> Result<lw_circuit_query, Failure> {
    let query = usable(query, "query")?;
    // SAFETY: not null and aligned, and the caller promises its first field.
    let stated = unsafe { (&raw const (*query).struct_size).read() };
    // A larger one comes from a newer header: what this library does not know cannot be left out in silence.
    if usize::try_from(stated) != Ok(LEAST_QUERY) {
        let message = format!("query.struct_size {stated} is not {LEAST_QUERY}");
        return Err(Failure::new(lw_status::LW_BAD_SIZE, message));
    }
    // SAFETY: the caller promises as many bytes as it says, which are those of the struct.
    Ok(unsafe { query.read() })
}
