//! What flows into the input capacitors of a converter when it is switched on.

use crate::quantity::{
    Capacitance, ElectricCurrent, ElectricPotential, ElectricalResistance, Energy, JouleIntegral, Time,
};

/// The moment of switching on: an exponential of peak V/R and time constant R·C.
#[derive(Clone, Copy, Debug)]
pub struct Inrush {
    /// Peak current.
    pub peak: ElectricCurrent,
    /// Let-through ∫i²dt = C·V²/(2·R), to hold against the pre-arcing value of a fuse.
    pub let_through: JouleIntegral,
    /// Energy that heats the path, as much as ends in the capacitors.
    pub energy: Energy,
    /// Time constant.
    pub time_constant: Time,
}

impl Inrush {
    /// Capacitors of a capacitance charged to a voltage through a resistance above zero, cables and source together,
    /// or a pre-charge resistor.
    ///
    /// ```
    /// use loomwright::converter::Inrush;
    /// use loomwright::quantity::{Capacitance, ElectricPotential, ElectricalResistance, FromText, uom::si::capacitance::millifarad};
    /// let inrush = Inrush::new(
    ///     Capacitance::new::<millifarad>(10.0),
    ///     ElectricPotential::from_text("52 V")?,
    ///     ElectricalResistance::from_text("20 mohm")?,
    /// );
    /// assert!((inrush.peak.value - 2600.0).abs() < 1e-9);
    /// assert!((inrush.let_through.value - 676.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(capacitance: Capacitance, voltage: ElectricPotential, resistance: ElectricalResistance) -> Self {
        let energy: Energy = 0.5 * capacitance * voltage * voltage;
        Self {
            peak: voltage / resistance,
            let_through: energy / resistance,
            energy,
            time_constant: resistance * capacitance,
        }
    }
}
