//! Conductor materials and their resistance law.

use crate::data::{Source, tables::materials};
use crate::names::named;
use crate::quantity::{
    ElectricalResistivity, MassDensity, Ratio, TemperatureInterval, ThermalConductivity, ThermodynamicTemperature,
    VolumetricHeatCapacity, celsius, in_celsius,
};
use uom::si::electrical_resistivity::ohm_meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::temperature_interval::kelvin;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;
use uom::si::volumetric_heat_capacity::joule_per_cubic_meter_kelvin;

named! {
    /// What a conductor is made of.
    Material, "conductor material", {
        /// Annealed copper.
        Copper => "copper",
        /// Tin-coated annealed copper.
        TinnedCopper => "tinned-copper",
        /// Electrical-grade aluminium.
        Aluminium => "aluminium",
        /// Copper-clad aluminium, 10 % copper by volume.
        CopperCladAluminium => "copper-clad-aluminium",
        /// Mild steel: a chassis that carries the return current.
        MildSteel => "mild-steel",
    }
}

/// The constants of one material, with their sources.
#[derive(Clone, Copy, Debug)]
pub struct MaterialData {
    /// Resistivity at 20 °C.
    pub resistivity: ElectricalResistivity,
    /// Where the resistivity comes from.
    pub resistivity_source: &'static Source,
    /// How far below 0 °C the straight line of resistance reaches zero: 234.5 K for copper.
    pub zero_resistance: TemperatureInterval,
    /// Where the temperature law comes from.
    pub zero_resistance_source: &'static Source,
    /// Density.
    pub density: MassDensity,
    /// Where the density comes from.
    pub density_source: &'static Source,
    /// Heat capacity per volume.
    pub heat_capacity: VolumetricHeatCapacity,
    /// Where the heat capacity comes from.
    pub heat_capacity_source: &'static Source,
    /// What it conducts of heat: the low end of what handbooks print.
    pub conductivity: ThermalConductivity,
    /// Where the conductivity comes from.
    pub conductivity_source: &'static Source,
}

impl Material {
    /// The material's row of the data table.
    #[expect(clippy::indexing_slicing, reason = "a unit test holds the table to one row per material, in this order")]
    fn row(self) -> &'static materials::Materials {
        &materials::ROWS[match self {
            Self::Copper => 0,
            Self::TinnedCopper => 1,
            Self::Aluminium => 2,
            Self::CopperCladAluminium => 3,
            Self::MildSteel => 4,
        }]
    }

    /// The material's constants.
    ///
    /// ```
    /// use loomwright::conductor::Material;
    /// use uom::si::temperature_interval::kelvin;
    /// # use loomwright::quantity::uom;
    /// assert_eq!(Material::Copper.data().zero_resistance.get::<kelvin>(), 234.5);
    /// ```
    pub fn data(self) -> MaterialData {
        let row = self.row();
        MaterialData {
            resistivity: ElectricalResistivity::new::<ohm_meter>(row.resistivity_ohm_mm2_per_m * 1e-6),
            resistivity_source: row.resistivity_source,
            zero_resistance: TemperatureInterval::new::<kelvin>(row.zero_resistance_k_below_0c),
            zero_resistance_source: row.zero_resistance_source,
            density: MassDensity::new::<kilogram_per_cubic_meter>(row.density_kg_per_m3),
            density_source: row.density_source,
            heat_capacity: VolumetricHeatCapacity::new::<joule_per_cubic_meter_kelvin>(row.heat_capacity_j_per_m3_k),
            heat_capacity_source: row.heat_capacity_source,
            conductivity: ThermalConductivity::new::<watt_per_meter_kelvin>(row.conductivity_w_per_m_k),
            conductivity_source: row.conductivity_source,
        }
    }

    /// Resistance at `temperature` over resistance at 20 °C: (T0 + t)/(T0 + 20 °C), T0 the inferred
    /// zero-resistance temperature (IEC 60287-1-1). Within 1 % of the NIST fit for copper, −40 to 150 °C.
    ///
    /// Never negative: below the zero of the straight line it is 0.
    ///
    /// ```
    /// use loomwright::{conductor::Material, quantity::celsius};
    /// assert!((Material::Copper.resistance_factor(celsius(70.0)).value - 304.5 / 254.5).abs() < 1e-9); // 234.5 K below 0 °C
    /// ```
    pub fn resistance_factor(self, temperature: ThermodynamicTemperature) -> Ratio {
        let (constant, slope) = self.law_per_celsius();
        Ratio::new::<ratio>((constant + slope * in_celsius(temperature)).max(0.0))
    }

    /// The temperature at which resistance is `factor` times that at 20 °C: the inverse of
    /// [`resistance_factor`](Self::resistance_factor), as used to read a winding's or cable's temperature.
    ///
    /// ```
    /// use loomwright::{conductor::Material, quantity::{Ratio, in_celsius}};
    /// let winding = Material::Copper.temperature_at(Ratio::from(1.2));
    /// assert!((in_celsius(winding) - 70.9).abs() < 1e-9); // 1.2 · 254.5 − 234.5
    /// ```
    pub fn temperature_at(self, factor: Ratio) -> ThermodynamicTemperature {
        let zero = self.row().zero_resistance_k_below_0c;
        celsius(factor.get::<ratio>() * (zero + 20.0) - zero)
    }

    /// `(a, b)` of R(t)/R(20 °C) = a + b·t with t in °C, for hot kernels.
    pub(crate) fn law_per_celsius(self) -> (f64, f64) {
        let zero = self.row().zero_resistance_k_below_0c;
        (zero / (zero + 20.0), 1.0 / (zero + 20.0))
    }

    /// Resistivity at 20 °C over that of annealed copper.
    pub(crate) fn resistivity_over_copper(self) -> f64 {
        self.row().resistivity_ohm_mm2_per_m / Self::Copper.row().resistivity_ohm_mm2_per_m
    }

    /// Whether the metal is copper, plain or tinned.
    pub fn is_copper(self) -> bool {
        matches!(self, Self::Copper | Self::TinnedCopper)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn every_material_has_its_row() {
        assert_eq!(materials::ROWS.len(), Material::ALL.len());
        for material in Material::ALL {
            assert_eq!(material.row().material, material.name());
        }
    }

    /// Wiedemann and Franz: what carries current carries heat. Remembered conductivities stay below the ideal
    /// law, which is an upper bound for metals near 20 °C, and not far below.
    #[test]
    fn conducts_heat_as_it_conducts_current() {
        for material in Material::ALL {
            let data = material.data();
            let ideal = crate::data::tables::constants::LORENZ_V2_PER_K2 * 293.15 / data.resistivity.value;
            let share = data.conductivity.value / ideal;
            assert!((0.85..0.95).contains(&share), "{material}: {share}");
        }
    }

    #[test]
    fn temperature_law_and_its_inverse_agree() {
        for material in Material::ALL {
            for degrees in [-40.0, 20.0, 70.0, 150.0] {
                let factor = material.resistance_factor(celsius(degrees));
                assert_relative_eq!(in_celsius(material.temperature_at(factor)), degrees, epsilon = 1e-9);
            }
            assert_relative_eq!(material.resistance_factor(celsius(20.0)).value, 1.0, max_relative = 1e-12);
            assert_eq!(material.resistance_factor(celsius(-270.0)).value, 0.0);
        }
    }
}
