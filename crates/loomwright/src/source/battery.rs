//! Batteries: voltage at rest by state of charge, resistance by state of charge and temperature.

use crate::data::tables::{battery_emf, battery_ocv, battery_resistance, constants};
use crate::data::{Source, tables::sources};
use crate::names::named;
use crate::quantity::{ElectricPotential, ElectricalResistance, Ratio, ThermodynamicTemperature, in_celsius};
use thiserror::Error;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;

named! {
    /// Battery chemistry.
    Chemistry, "battery chemistry", {
        /// Flooded lead-acid.
        Flooded => "flooded",
        /// Absorbed glass mat lead-acid.
        Agm => "agm",
        /// Gel lead-acid.
        Gel => "gel",
        /// Lithium iron phosphate.
        LithiumIronPhosphate => "lithium-iron-phosphate",
    }
}

/// A value out of range.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SourceError {
    /// A state of charge that is none.
    #[error("a state of charge is 0 % to 100 %, not {:.3} %", 100.0 * .0)]
    StateOfCharge(f64),
    /// A temperature at which no battery works.
    #[error("a battery's temperature is -40 °C to 80 °C, not {0:.1} °C")]
    Temperature(f64),
    /// Points that fix no output curve.
    #[error(
        "an alternator's idle output is above zero and below its rated output, at speeds above {cut_in} and below rated speed"
    )]
    OutputPoints {
        /// Speed below which it gives nothing, in 1/min.
        cut_in: f64,
    },
    /// Two discharges that follow no law of Peukert's.
    #[error(
        "Peukert's exponent from these two discharges is not between 1 and 2: the smaller current lasts longer, and more so"
    )]
    Peukert,
    /// A source without resistance, or none at all.
    #[error("a bank has one battery or more, each with a resistance above 0 Ω")]
    Bank,
}

/// Linear between the points of a column, which cover 0 to 1.
pub(super) fn between(points: impl Iterator<Item = (f64, f64)>, at: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    let mut last = 0.0;
    for (x, y) in points {
        if at <= x {
            return before.map_or(y, |(x0, y0)| y0 + (at - x0) / (x - x0) * (y - y0));
        }
        (before, last) = (Some((x, y)), y);
    }
    last
}

fn in_range(charge: Ratio, temperature: ThermodynamicTemperature) -> Result<(), SourceError> {
    let (charge, degrees) = (charge.value, in_celsius(temperature));
    if !(0.0..=1.0).contains(&charge) {
        return Err(SourceError::StateOfCharge(charge));
    }
    if (-40.0..=80.0).contains(&degrees) { Ok(()) } else { Err(SourceError::Temperature(degrees)) }
}

/// What lead-acid would call a system: 12, 24 or 48 V of one that lithium's makers call 12.8, 25.6 or 51.2 V, whose chargers and
/// regulators are the same; any other voltage as it is.
pub(crate) fn as_lead(nominal: ElectricPotential) -> ElectricPotential {
    let blocks = nominal.value / 12.0;
    let whole = blocks.round();
    // 12.8 V is 6.7 % more than 12 V.
    if (blocks - whole).abs() < 0.07 * whole { ElectricPotential::new::<volt>(12.0 * whole) } else { nominal }
}

impl Chemistry {
    fn row(self) -> Option<&'static battery_emf::BatteryEmf> {
        battery_emf::ROWS.iter().find(|row| row.chemistry == self.name())
    }

    /// Whether it is one of the lead-acid kinds.
    pub fn is_lead(self) -> bool {
        self != Self::LithiumIronPhosphate
    }

    /// How many 12 V blocks a nominal voltage is: six cells of 2 V, or four of lithium iron phosphate, whose 12, 24 and 48 V are
    /// also called 12.8, 25.6 and 51.2 V.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricPotential, FromText}, source::Chemistry};
    /// let blocks = Chemistry::LithiumIronPhosphate.blocks(ElectricPotential::from_text("25.6 V")?);
    /// assert!((blocks.value - 2.0).abs() < 1e-9); // eight cells of 3.2 V
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn blocks(self, nominal: ElectricPotential) -> Ratio {
        let volts = nominal.value;
        let whole = (volts / 12.0).round();
        let is_whole = (volts / 12.0 - whole).abs() < 0.02;
        let blocks = match self {
            _ if whole > 0.0 && is_whole => whole,
            Self::LithiumIronPhosphate => (volts / constants::LITHIUM_CELL_V).round() / 4.0,
            _ => (volts / constants::LEAD_CELL_V).round() / 6.0,
        };
        Ratio::new::<ratio>(if blocks > 0.0 { blocks } else { volts / 12.0 })
    }

    /// Low, resting and full voltage at rest of a 12 V block, and its highest charge voltage.
    ///
    /// ```
    /// use loomwright::source::Chemistry;
    /// let voltages = Chemistry::Agm.block_voltages();
    /// assert!(voltages.windows(2).all(|pair| pair[0] < pair[1])); // low, resting, full, charging
    /// ```
    pub fn block_voltages(self) -> [ElectricPotential; 4] {
        let volts = self.row().map_or([12.0; 4], |row| [row.low_v, row.resting_v, row.full_v, row.charge_v]);
        volts.map(ElectricPotential::new::<volt>)
    }

    /// Internal resistance of a 12 V block of 100 Ah.
    pub fn block_resistance(self) -> ElectricalResistance {
        ElectricalResistance::new::<milliohm>(self.row().map_or(5.0, |row| row.resistance_mohm))
    }

    /// Where these values come from.
    pub fn source(self) -> &'static Source {
        self.row().map_or(&sources::BATTERY_MEMORY, |row| row.source)
    }

    /// Voltage of a 12 V block at rest, by state of charge (0 to 1) and temperature (−40 to 80 °C).
    ///
    /// Flooded and gel from a published chart, glass mat from a laboratory module, lithium iron phosphate from a cell
    /// model without hysteresis, whose lowest 5 % are no measure of an end voltage. Lead-acid moves by 1 mV per kelvin.
    ///
    /// ```
    /// use loomwright::{quantity::{Ratio, celsius}, source::Chemistry};
    /// let [warm, cold] = [25.0, 5.0].map(|air| Chemistry::Gel.open_voltage(Ratio::from(0.5), celsius(air)));
    /// assert!((warm?.value - cold?.value - 0.02).abs() < 1e-9); // 20 K of 1 mV
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`SourceError`] when out of range.
    pub fn open_voltage(
        self,
        charge: Ratio,
        temperature: ThermodynamicTemperature,
    ) -> Result<ElectricPotential, SourceError> {
        in_range(charge, temperature)?;
        let rows = battery_ocv::ROWS.iter().filter(|row| row.chemistry == self.name());
        let at_25 = between(rows.map(|row| (row.charge_ratio, row.open_v)), charge.value);
        let warmer = if self.is_lead() { in_celsius(temperature) - 25.0 } else { 0.0 };
        Ok(ElectricPotential::new::<volt>(at_25 + warmer * constants::LEAD_OPEN_V_PER_K))
    }

    /// Internal resistance over that at 80 % charge and 25 °C, by state of charge (0 to 1) and temperature (−40 to
    /// 80 °C). It doubles with every 45 K of cold (common practice, no source) and is not credited for warmth.
    ///
    /// ```
    /// use loomwright::{quantity::{Ratio, celsius}, source::Chemistry};
    /// let factor = Chemistry::Agm.resistance_factor(Ratio::from(0.8), celsius(-20.0))?;
    /// assert!((factor.value - 2.0).abs() < 1e-9); // 45 K colder than 25 °C
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`SourceError`] when out of range.
    pub fn resistance_factor(self, charge: Ratio, temperature: ThermodynamicTemperature) -> Result<Ratio, SourceError> {
        in_range(charge, temperature)?;
        let family = if self.is_lead() { "lead" } else { "lithium" };
        let rows = battery_resistance::ROWS.iter().filter(|row| row.family == family);
        let by_charge = between(rows.map(|row| (row.charge_ratio, row.over_ratio)), charge.value);
        let colder = (25.0 - in_celsius(temperature)).max(0.0);
        Ok(Ratio::new::<ratio>(by_charge * (colder / constants::COLD_DOUBLES_K).exp2()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::celsius;
    use proptest::prelude::*;

    /// Two names of one battery have the same charge voltage: 16 cells are 58.4 V, whether they are called 48 or 51.2 V.
    #[test]
    fn a_battery_has_as_many_blocks_by_either_name() {
        let blocks = |chemistry: Chemistry, volts: f64| chemistry.blocks(ElectricPotential::new::<volt>(volts)).value;
        for (volts, expected) in
            [(12.0, 1.0), (12.8, 1.0), (24.0, 2.0), (25.6, 2.0), (38.4, 3.0), (48.0, 4.0), (51.2, 4.0), (6.4, 0.5)]
        {
            assert_eq!(blocks(Chemistry::LithiumIronPhosphate, volts), expected, "{volts}");
        }
        for (volts, expected) in [(2.0, 1.0 / 6.0), (6.0, 0.5), (12.0, 1.0), (12.6, 1.0), (24.0, 2.0)] {
            assert_eq!(blocks(Chemistry::Flooded, volts), expected, "{volts}");
        }
        let sixteen =
            Chemistry::LithiumIronPhosphate.block_voltages()[3] * blocks(Chemistry::LithiumIronPhosphate, 51.2);
        assert!((sixteen.value - 58.4).abs() < 1e-9);
    }

    #[test]
    fn out_of_range_is_named() {
        let at = |charge: f64, degrees: f64| Chemistry::Gel.open_voltage(Ratio::from(charge), celsius(degrees));
        assert_eq!(at(1.01, 25.0).unwrap_err(), SourceError::StateOfCharge(1.01));
        assert!(matches!(at(0.5, 90.0).unwrap_err(), SourceError::Temperature(_)));
        assert!(at(f64::NAN, 25.0).is_err() && at(0.5, f64::NAN).is_err());
    }

    proptest! {
        /// A fuller battery never stands lower; a colder one never has less resistance.
        #[test]
        fn fuller_stands_higher_and_colder_resists_more(charge in 0.0_f64..1.0, step in 0.0_f64..0.3, degrees in -40.0_f64..50.0) {
            for chemistry in Chemistry::ALL {
                let volts = |charge: f64| chemistry.open_voltage(Ratio::from(charge), celsius(degrees)).unwrap();
                prop_assert!(volts((charge + step).min(1.0)) >= volts(charge));
                let factor = |degrees| chemistry.resistance_factor(Ratio::from(charge), celsius(degrees)).unwrap();
                prop_assert!(factor(degrees) >= factor(degrees + 30.0));
            }
        }
    }
}
