//! The heat that a converter sheds, and an old one against a new one.

use super::losses::Losses;
use crate::data::tables::constants;
use crate::quantity::{Area, ElectricCharge, ElectricPotential, HeatTransfer, Power, Ratio, TemperatureInterval, Time};
use uom::si::heat_transfer::watt_per_square_meter_kelvin as per_area;

/// Free surface that sheds a loss at a rise over the air around it: 6 W/(m²·K) for still air and radiation together.
///
/// The rise has to be above zero.
pub fn surface_needed(lost: Power, rise: TemperatureInterval) -> Area {
    lost / (HeatTransfer::new::<per_area>(constants::FREE_SURFACE_W_PER_M2_K) * rise)
}

/// A closed box around a converter.
#[derive(Clone, Copy, Debug)]
pub struct Housing {
    /// Its outer surface, but for what stands against a wall.
    pub surface: Area,
}

/// Rise of the air in a closed box over that around it: through both films of air at its wall, 3 W/(m²·K).
pub fn rise_in_box(lost: Power, housing: Housing) -> TemperatureInterval {
    lost / (HeatTransfer::new::<per_area>(constants::BOX_WALL_W_PER_M2_K) * housing.surface)
}

/// What a converter is used for.
#[derive(Clone, Copy, Debug)]
pub struct Use {
    /// Output while it works.
    pub output: Power,
    /// Share of the day that it works; the rest of the time it stands idle, switched on.
    pub share: Ratio,
    /// Voltage at its input.
    pub voltage: ElectricPotential,
    /// The box it stands in.
    pub housing: Housing,
}

/// Old less new: above zero the new one is better.
#[derive(Clone, Copy, Debug)]
pub struct Comparison {
    /// Loss while it works, old and new.
    pub lost: [Power; 2],
    /// Charge taken from the input each day, old less new.
    pub charge_per_day: ElectricCharge,
    /// Rise in the box while it works, old and new.
    pub rise: [TemperatureInterval; 2],
}

/// An old converter against a new one in the same use.
///
/// ```
/// use loomwright::converter::{Housing, Losses, Use, compare};
/// use loomwright::quantity::{Area, ElectricPotential, FromText, Power, Ratio, uom::si::{area::square_meter, electric_charge::ampere_hour}};
/// let watts = |text| Power::from_text(text);
/// let old = Losses::flat(Ratio::from(0.8), watts("12 W")?);
/// let new = Losses::flat(Ratio::from(0.92), watts("4 W")?);
/// let found = compare(&old, &new, &Use {
///     output: watts("230 W")?,
///     share: Ratio::from(0.25),
///     voltage: ElectricPotential::from_text("12.8 V")?,
///     housing: Housing { surface: Area::new::<square_meter>(0.5) },
/// });
/// // Working: 69.5 W against 24 W; idle: 12 W against 4 W. (45.5 W · 6 h + 8 W · 18 h) / 12.8 V = 32.6 Ah.
/// assert!((found.lost[0].value - 69.5).abs() < 1e-9 && (found.lost[1].value - 24.0).abs() < 1e-9);
/// assert!((found.charge_per_day.get::<ampere_hour>() - 32.578).abs() < 1e-3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn compare(old: &Losses, new: &Losses, used: &Use) -> Comparison {
    let working = [old.lost(used.output), new.lost(used.output)];
    let idle = [old.own(), new.own()];
    let day = Time::new::<uom::si::time::day>(1.0);
    let less = |[old, new]: [Power; 2]| old - new;
    let mean = less(working) * used.share + less(idle) * (Ratio::from(1.0) - used.share);
    let charge_per_day = mean * day / used.voltage;
    Comparison { lost: working, charge_per_day, rise: working.map(|lost| rise_in_box(lost, used.housing)) }
}
