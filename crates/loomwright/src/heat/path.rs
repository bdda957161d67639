//! From conductor to air: one object per conductor and installation that answers both questions,
//! how hot at this current and how much current at this temperature.

use super::cylinder::{CEILING_K, Cylinder, Near};
use super::{HeatError, enclosed};
use crate::conductor::Conductor;
use crate::data::{Source, tables::constants, tables::grouping};
use crate::names::named;
use crate::quantity::{ElectricCurrent, LinearPowerDensity, Ratio, ThermodynamicTemperature, in_celsius, in_mm2};
use uom::si::electric_current::ampere;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;

named! {
    /// How a conductor lies, which decides what heat it sheds.
    Installation, "installation", {
        /// Alone in still air, clear of walls and other cables: from first principles.
        FreeAir => "free-air",
        /// In conduit or trunking together with its equally loaded return: IEC 60364-5-52 method B.
        Enclosed => "enclosed",
    }
}

/// Where the heat of a conductor goes, W/m.
#[derive(Clone, Copy, Debug)]
pub struct Balance {
    /// Conductor temperature.
    pub conductor: ThermodynamicTemperature,
    /// Surface temperature; `None` where the installation is a table that gives none.
    pub surface: Option<ThermodynamicTemperature>,
    /// Joule heat at the conductor temperature.
    pub joule: LinearPowerDensity,
    /// Shed by natural convection.
    pub convection: LinearPowerDensity,
    /// Shed by radiation.
    pub radiation: LinearPowerDensity,
    /// Shed through the enclosure.
    pub enclosure: LinearPowerDensity,
}

#[derive(Clone, Copy, Debug)]
enum Shedding {
    Air(Cylinder),
    /// W/(m·K).
    Conductance(f64),
}

/// The thermal path of one conductor in one installation and ambient.
#[derive(Clone, Copy, Debug)]
pub struct HeatPath {
    shedding: Shedding,
    ambient_k: f64,
    /// Ω/m at 0 °C and its slope per kelvin.
    at_zero: f64,
    slope: f64,
}

impl HeatPath {
    /// The path of a conductor, with `circuits` equal circuits (1 to 4) bunched or enclosed together.
    ///
    /// # Errors
    /// [`HeatError::Ambient`] outside −60 to 200 °C; [`HeatError::OutsideTable`] when the enclosed
    /// installation's table does not hold the size, since it is never extrapolated.
    pub fn new(
        conductor: &Conductor,
        installation: Installation,
        ambient: ThermodynamicTemperature,
        circuits: u8,
    ) -> Result<Self, HeatError> {
        let ambient_c = in_celsius(ambient);
        if !(-60.0..=200.0).contains(&ambient_c) {
            return Err(HeatError::Ambient { ambient_c });
        }
        let (constant, slope) = conductor.material.law_per_celsius();
        let (at_zero, slope) = (conductor.resistance_20.value * constant, conductor.resistance_20.value * slope);
        let factor = group_factor(circuits).value;
        // The factor is on current; heat goes with its square.
        let share = factor * factor;
        let shedding = match installation {
            Installation::FreeAir => Shedding::Air(Cylinder {
                outer_diameter: conductor.outer_diameter.value,
                insulation: constants::INSULATION_RESISTIVITY / std::f64::consts::TAU
                    * (conductor.outer_diameter.value / conductor.diameter.value).ln(),
                share,
                ambient: ambient.value,
                at_zero,
                slope,
            }),
            Installation::Enclosed => {
                let csa_mm2 = in_mm2(conductor.area);
                let conductance = enclosed::conductance(csa_mm2)
                    .map_err(|(least_mm2, most_mm2)| HeatError::OutsideTable { csa_mm2, least_mm2, most_mm2 })?;
                Shedding::Conductance(conductance * share)
            }
        };
        Ok(Self { shedding, ambient_k: ambient.value, at_zero, slope })
    }

    /// The current that holds the conductor steadily at `limit`.
    ///
    /// # Errors
    /// [`HeatError::LimitBelowAmbient`] when the limit is not above ambient.
    pub fn ampacity(&self, limit: ThermodynamicTemperature) -> Result<ElectricCurrent, HeatError> {
        if limit.value.is_nan() || limit.value <= self.ambient_k {
            let ambient_c = in_celsius(ThermodynamicTemperature::new::<kelvin>(self.ambient_k));
            return Err(HeatError::LimitBelowAmbient { limit_c: in_celsius(limit), ambient_c });
        }
        let current = match &self.shedding {
            Shedding::Air(cylinder) => cylinder.current_at(limit.value),
            Shedding::Conductance(conductance) => {
                let resistance = self.at_zero + self.slope * in_celsius(limit);
                (conductance * (limit.value - self.ambient_k) / resistance).sqrt()
            }
        };
        Ok(ElectricCurrent::new::<ampere>(current))
    }

    /// Steady conductor temperature at a current.
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current; [`HeatError::TooHot`] when the
    /// conductor would pass 250 °C or run away.
    pub fn temperature(&self, current: ElectricCurrent) -> Result<ThermodynamicTemperature, HeatError> {
        self.temperature_near(current, &Near::default())
    }

    /// As [`temperature`](Self::temperature), for a row of similar currents: `near` passes from one to the next.
    pub(crate) fn temperature_near(
        &self,
        current: ElectricCurrent,
        near: &Near,
    ) -> Result<ThermodynamicTemperature, HeatError> {
        Ok(ThermodynamicTemperature::new::<kelvin>(self.solve(current, near)?.1))
    }

    /// Surface and conductor temperature in kelvin.
    fn solve(&self, current: ElectricCurrent, near: &Near) -> Result<(Option<f64>, f64), HeatError> {
        let current_a = current.get::<ampere>();
        if !current_a.is_finite() || current_a < 0.0 {
            return Err(HeatError::Current { current_a });
        }
        let too_hot = HeatError::TooHot { current_a, ceiling_c: CEILING_K - 273.15 };
        match &self.shedding {
            Shedding::Air(cylinder) => {
                let (surface, hot) = cylinder.temperatures(current_a, near).ok_or(too_hot)?;
                Ok((Some(surface), hot))
            }
            Shedding::Conductance(conductance) => {
                // conductance·(t − ambient) = I²·(at_zero + slope·t) is linear in t.
                let square = current_a * current_a;
                let net = conductance - square * self.slope;
                let ambient_c = self.ambient_k - 273.15;
                let hot_c = (conductance * ambient_c + square * self.at_zero) / net;
                let hot = hot_c + 273.15;
                if net > 0.0 && hot <= CEILING_K { Ok((None, hot)) } else { Err(too_hot) }
            }
        }
    }

    /// The heat balance at a current, term by term, for the working.
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature).
    pub fn balance(&self, current: ElectricCurrent) -> Result<Balance, HeatError> {
        let (surface, hot) = self.solve(current, &Near::default())?;
        let per_metre = LinearPowerDensity::new::<watt_per_meter>;
        let square = current.get::<ampere>() * current.get::<ampere>();
        let joule = square * (self.at_zero + self.slope * (hot - 273.15));
        let (convection, radiation, enclosure) = match (&self.shedding, surface) {
            (Shedding::Air(cylinder), Some(surface)) => {
                let (convection, radiation) = cylinder.shed(surface);
                (convection, radiation, 0.0)
            }
            (Shedding::Air(_), None) => (0.0, 0.0, 0.0),
            (Shedding::Conductance(conductance), _) => (0.0, 0.0, conductance * (hot - self.ambient_k)),
        };
        Ok(Balance {
            conductor: ThermodynamicTemperature::new::<kelvin>(hot),
            surface: surface.map(ThermodynamicTemperature::new::<kelvin>),
            joule: per_metre(joule),
            convection: per_metre(convection),
            radiation: per_metre(radiation),
            enclosure: per_metre(enclosure),
        })
    }

    /// Where an installation's model comes from.
    pub fn model_title(installation: Installation) -> &'static str {
        match installation {
            Installation::FreeAir => "heat balance in free air (Churchill and Chu 1975)",
            Installation::Enclosed => "method B table (IEC 60364-5-52)",
        }
    }

    /// The table behind the enclosed installation.
    pub fn enclosed_source() -> &'static Source {
        enclosed::SOURCE
    }
}

/// Factor on the ampacity of each of `circuits` equal circuits together; the last row beyond the table.
pub fn group_factor(circuits: u8) -> Ratio {
    let row = grouping::ROWS.iter().rev().find(|row| row.circuits <= f64::from(circuits.max(1)));
    Ratio::new::<ratio>(row.map_or(1.0, |row| row.factor))
}

/// Where the grouping factor comes from.
pub fn group_factor_source() -> &'static Source {
    &crate::data::tables::sources::IEC_60364_5_52_GROUPING_MEMORY
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, series};
    use crate::quantity::celsius;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn path(kind: Kind, index: usize, installation: Installation, ambient_c: f64) -> Option<HeatPath> {
        let conductor = series(kind, Material::Copper).nth(index)?;
        HeatPath::new(&conductor, installation, celsius(ambient_c), 1).ok()
    }

    #[test]
    fn enclosed_returns_its_own_table() {
        // 16 mm², 76 A at 70 °C in 30 °C air: IEC 60364-5-52 method B (class 2 conductor).
        let conductor =
            series(Kind::Iec2, Material::Copper).find(|made| (in_mm2(made.area) - 16.0).abs() < 1e-9).unwrap();
        let path = HeatPath::new(&conductor, Installation::Enclosed, celsius(30.0), 1).unwrap();
        assert_relative_eq!(path.ampacity(celsius(70.0)).unwrap().value, 76.0, max_relative = 1e-12);
    }

    #[test]
    fn says_when_no_current_is_permissible() {
        let path = path(Kind::Iec5, 8, Installation::FreeAir, 80.0).unwrap();
        assert!(path.ampacity(celsius(75.0)).unwrap_err().to_string().starts_with("no current is permissible"));
        assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(1e5)), Err(HeatError::TooHot { .. })));
        assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(f64::NAN)), Err(HeatError::Current { .. })));
        assert!(matches!(path.temperature(ElectricCurrent::new::<ampere>(-1.0)), Err(HeatError::Current { .. })));
    }

    proptest! {
        /// Temperature and ampacity are inverses, the balance closes to 1e-9, and everything is monotone.
        #[test]
        fn balance_closes_and_inverts(index in 4_usize..18, free in any::<bool>(), ambient in -30.0..90.0_f64, over in 5.0..110.0_f64) {
            let installation = if free { Installation::FreeAir } else { Installation::Enclosed };
            let Some(path_here) = path(Kind::Iec5, index, installation, ambient) else { return Ok(()) };
            let limit = celsius(ambient + over);
            let current = path_here.ampacity(limit).unwrap();
            prop_assert!((path_here.temperature(current).unwrap().value - limit.value).abs() < 1e-6);
            let balance = path_here.balance(current).unwrap();
            let shed = balance.convection + balance.radiation + balance.enclosure;
            prop_assert!((shed.value - balance.joule.value).abs() <= 1e-9 * shed.value);
            let hotter = path_here.temperature(current * 1.05).unwrap();
            prop_assert!(hotter > limit);
            let warmer_air = path(Kind::Iec5, index, installation, ambient + 3.0).unwrap();
            prop_assert!(warmer_air.ampacity(limit).unwrap() < current);
            let larger = path(Kind::Iec5, index + 1, installation, ambient).unwrap();
            prop_assert!(larger.ampacity(limit).unwrap() > current);
        }
    }
}
