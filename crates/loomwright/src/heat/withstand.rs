//! What a conductor stands before heat can leave it: I²t from one temperature to another, no heat lost.

use super::HeatError;
use crate::conductor::{Conductor, Material};
use crate::data::{Source, tables::adiabatic_k};
use crate::quantity::{
    ElectricCurrent, JouleIntegral, TemperatureInterval, ThermodynamicTemperature, Time, in_celsius, in_mm2,
};
use uom::si::time::second;

/// The adiabatic withstand of one conductor: three ways to it, of which the least decides.
#[derive(Clone, Copy, Debug)]
pub struct Withstand {
    /// k²S² with k from first constants: heat capacity, resistivity and its temperature law (IEC 60949).
    pub from_constants: JouleIntegral,
    /// k²S² with the rounded k of IEC 60364 for the same or more cautious temperatures, where it prints one.
    pub as_printed: Option<(JouleIntegral, &'static Source)>,
    /// As the first, with the conductor's own resistance: its standard allows less metal than the nominal
    /// area.
    pub own_resistance: JouleIntegral,
}

impl Withstand {
    /// The least of them.
    pub fn least(&self) -> JouleIntegral {
        let printed = self.as_printed.map_or(self.from_constants, |(printed, _)| printed);
        let standard = if printed < self.from_constants { printed } else { self.from_constants };
        if self.own_resistance < standard { self.own_resistance } else { standard }
    }

    /// How long a current may flow, no heat lost; without end for no current.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{heat::withstand, quantity::{CrossSection, ElectricCurrent, FromText, celsius}};
    /// let cable = find(Kind::Iec2, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let found = withstand(&cable, celsius(70.0), celsius(160.0))?;
    /// let time = found.time(ElectricCurrent::from_text("1.84 kA")?);
    /// // k = 115 of IEC 60364 gives one second at 115 · 16 A; 1.15 Ω/km is the metal of 14.99 mm² only.
    /// assert!((time.value - (14.99_f64 / 16.0).powi(2)).abs() < 0.01);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn time(&self, current: ElectricCurrent) -> Time {
        self.least() / (current * current)
    }
}

/// Metal that the conductor's resistance proves, per metre length: its area, and less where the standard's
/// resistance is higher than that area of its material has. Square metres.
pub(super) fn metal(conductor: &Conductor) -> f64 {
    let proven = conductor.material.data().resistivity.value / conductor.resistance_20.value;
    proven.min(conductor.area.value)
}

/// Rise of the logarithm of resistance between two temperatures of a material.
fn logarithm(material: Material, start: ThermodynamicTemperature, end: ThermodynamicTemperature) -> f64 {
    let zero: TemperatureInterval = material.data().zero_resistance;
    ((zero.value + in_celsius(end)) / (zero.value + in_celsius(start))).ln()
}

/// The withstand of a conductor from `start` to `end`.
///
/// k² = Q·(β + 20)/ρ₂₀ · ln((β + t_end)/(β + t_start)), IEC 60949 and IEC 60364-5-54; valid up to 5 s.
///
/// # Errors
/// [`HeatError::LimitBelowAmbient`] when the end is not above the start.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::heat::withstand;
/// use loomwright::quantity::{CrossSection, FromText, celsius};
/// let conductor = find(Kind::Iec2, Material::Copper, CrossSection::from_text("16 mm2")?)?;
/// let found = withstand(&conductor, celsius(70.0), celsius(160.0))?;
/// let (printed, _) = found.as_printed.ok_or("no k")?;
/// assert!((printed.value.sqrt() - 115.0 * 16.0).abs() < 1e-6); // 1.84 kA for one second
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn withstand(
    conductor: &Conductor,
    start: ThermodynamicTemperature,
    end: ThermodynamicTemperature,
) -> Result<Withstand, HeatError> {
    if start.value.is_nan() || end.value.is_nan() || end <= start {
        return Err(HeatError::LimitBelowAmbient { limit_c: in_celsius(end), ambient_c: in_celsius(start) });
    }
    let data = conductor.material.data();
    let joule =
        |value: f64| JouleIntegral { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value };
    // Heat capacity over the slope of resistance, times what the logarithm rises.
    let law =
        data.heat_capacity.value * (data.zero_resistance.value + 20.0) * logarithm(conductor.material, start, end);
    let area = conductor.area.value;
    let metal_name = match conductor.material {
        Material::Copper | Material::TinnedCopper => "copper",
        other => other.name(),
    };
    let area_mm2 = in_mm2(conductor.area);
    // Hotter at the start and cooler at the end is the cautious neighbour of an unprinted pair.
    let printed = adiabatic_k::ROWS
        .iter()
        .filter(|row| {
            row.material == metal_name
                && row.initial_c >= in_celsius(start) - 1e-6
                && row.final_c <= in_celsius(end) + 1e-6
        })
        .max_by(|one, other| one.k.total_cmp(&other.k))
        .map(|row| (joule(row.k * row.k * area_mm2 * area_mm2), row.source));
    Ok(Withstand {
        from_constants: joule(law * area * area / data.resistivity.value),
        as_printed: printed,
        own_resistance: joule(law * metal(conductor) / conductor.resistance_20.value),
    })
}

/// The adiabatic time from one temperature to another at a current, with the conductor's own resistance, s.
pub(super) fn own_time(
    conductor: &Conductor,
    start: ThermodynamicTemperature,
    end: ThermodynamicTemperature,
    current: ElectricCurrent,
) -> f64 {
    withstand(conductor, start, end).map_or(0.0, |found| (found.own_resistance / (current * current)).get::<second>())
}
