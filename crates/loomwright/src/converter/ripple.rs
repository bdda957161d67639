//! What an inverter's input current does to conductors and fuses: ripple, and the rush into its capacitors.

use super::error::{self, ConverterError, check};
use crate::data::tables::constants;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Energy, JouleIntegral, Time};
use uom::si::f64::Capacitance;

/// The current that heats conductors and fuses of an inverter's input, for its mean current.
///
/// A single-phase inverter draws in pulses of twice the mains frequency. Without any storage its current is a sine
/// squared, whose RMS value is √1.5 = 1.22 times the mean; its capacitors smooth that to about 1.1 (common practice).
/// A negative current stays negative, and what is no number stays none.
///
/// ```
/// use loomwright::converter::ripple_rms;
/// use loomwright::quantity::{ElectricCurrent, FromText};
/// assert!((ripple_rms(ElectricCurrent::from_text("100 A")?).value - 110.0).abs() < 1e-9);
/// # Ok::<(), loomwright::quantity::QuantityError>(())
/// ```
pub fn ripple_rms(mean: ElectricCurrent) -> ElectricCurrent {
    mean * constants::RIPPLE
}

/// What flows when empty capacitors are joined to a source: through the loop alone when a contact closes, or through
/// a pre-charge resistor with it.
///
/// A discharge of RC form without inductance: i = V/R·exp(−t/RC). Inductance lowers the peak; it is not counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precharge {
    /// The first moment's current, V/R.
    pub peak: ElectricCurrent,
    /// I²t = C·V²/(2·R): to be held against a fuse's pre-arcing I²t and a contact's rating.
    pub joule_integral: JouleIntegral,
    /// Heat left in the resistance, C·V²/2, whatever it is.
    pub energy: Energy,
    /// R·C; after five of them all but 0.7 % is charged.
    pub time_constant: Time,
}

impl Precharge {
    /// Empty capacitors joined to a voltage through a resistance, all above zero.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for a value that is not above zero or no finite number.
    ///
    /// ```
    /// use loomwright::converter::Precharge;
    /// use loomwright::quantity::uom::si::{capacitance::millifarad, f64::Capacitance};
    /// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText};
    /// let capacitance = Capacitance::new::<millifarad>(20.0);
    /// let (battery, loop_alone) = (ElectricPotential::from_text("51.2 V")?, ElectricalResistance::from_text("10 mΩ")?);
    /// let rush = Precharge::new(capacitance, battery, loop_alone)?;
    /// assert!((rush.peak.value - 5120.0).abs() < 1e-6);
    /// assert!((rush.joule_integral.value - 2621.44).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(
        capacitance: Capacitance,
        voltage: ElectricPotential,
        resistance: ElectricalResistance,
    ) -> Result<Self, ConverterError> {
        check("a capacitance", capacitance.value, "F", "above 0 F", capacitance.value > 0.0)?;
        error::voltage("a voltage", voltage)?;
        check("a resistance", resistance.value, "Ω", "above 0 Ω", resistance.value > 0.0)?;
        let energy: Energy = 0.5 * capacitance * voltage * voltage;
        Ok(Self {
            peak: voltage / resistance,
            joule_integral: energy / resistance,
            energy,
            time_constant: resistance * capacitance,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::capacitance::farad;
    use uom::si::electric_potential::volt;
    use uom::si::electrical_resistance::ohm;

    fn of(c: f64, v: f64, r: f64) -> Result<Precharge, ConverterError> {
        let (voltage, resistance) = (ElectricPotential::new::<volt>(v), ElectricalResistance::new::<ohm>(r));
        Precharge::new(Capacitance::new::<farad>(c), voltage, resistance)
    }

    #[test]
    fn the_course_integrates_to_the_closed_forms() {
        let (c, v, r) = (0.015, 26.4, 0.008);
        let found = of(c, v, r).unwrap();
        let step = r * c / 1000.0;
        let (mut square, mut heat) = (0.0, 0.0);
        for n in 0..20_000 {
            let current = found.peak.value * (-(f64::from(n) + 0.5) * step / found.time_constant.value).exp();
            square += current * current * step;
            heat += current * current * r * step;
        }
        assert!((found.joule_integral.value / square - 1.0).abs() < 1e-6);
        assert!((found.energy.value / heat - 1.0).abs() < 1e-6);
    }

    #[test]
    fn the_stated_ripple_lies_below_that_without_storage() {
        // A sine squared over one period: mean 1/2, RMS √(3/8).
        let samples: Vec<f64> =
            (0..1000).map(|n| (f64::from(n) * std::f64::consts::PI / 1000.0).sin().powi(2)).collect();
        let mean = samples.iter().sum::<f64>() / 1000.0;
        let rms = (samples.iter().map(|each| each * each).sum::<f64>() / 1000.0).sqrt();
        assert!((rms / mean - 1.5_f64.sqrt()).abs() < 1e-9);
        assert!(constants::RIPPLE > 1.0 && constants::RIPPLE < rms / mean);
    }

    #[test]
    fn what_is_not_above_zero_is_refused() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(of(bad, 12.0, 0.01).is_err());
            assert!(of(0.01, bad, 0.01).is_err());
            assert!(of(0.01, 12.0, bad).is_err());
        }
    }
}
