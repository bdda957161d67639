//! What a battery drives into a short circuit, by IEC 61660-1.

use super::SourceError;
use crate::data::tables::constants;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance};

/// Peak and quasi-steady current of a battery's short circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShortCircuit {
    /// The peak, some 30 ms after it begins: `E/(0.9·R_B + R)`.
    pub peak: ElectricCurrent,
    /// What flows a second later: `0.95·E/(R_B + R)`.
    pub quasi_steady: ElectricCurrent,
}

impl ShortCircuit {
    /// Of a battery with this open-circuit voltage and internal resistance, through a branch of this resistance.
    ///
    /// The standard takes 1.05 times the nominal voltage where the open-circuit voltage is not known. It is written for
    /// stationary lead-acid and nickel-cadmium batteries; inductance is neglected, which is the cautious side.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText};
    /// use loomwright::source::ShortCircuit;
    /// let [battery, branch] = ["5 mohm", "1 mohm"].map(ElectricalResistance::from_text);
    /// let found = ShortCircuit::of(ElectricPotential::from_text("12.6 V")?, battery?, branch?)?;
    /// assert!((found.peak.value - 2290.9).abs() < 0.1 && (found.quasi_steady.value - 1995.0).abs() < 0.1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`SourceError::Bank`] for a resistance that is not above zero, or a voltage that is no finite number.
    pub fn of(
        open: ElectricPotential,
        battery: ElectricalResistance,
        branch: ElectricalResistance,
    ) -> Result<Self, SourceError> {
        let resistances = battery.value > 0.0 && battery.value.is_finite() && branch.value >= 0.0;
        if !(resistances && branch.value.is_finite() && open.value.is_finite()) {
            return Err(SourceError::Bank);
        }
        Ok(Self {
            peak: open / (battery * constants::IEC_61660_PEAK + branch),
            quasi_steady: open * constants::IEC_61660_STEADY / (battery + branch),
        })
    }
}
