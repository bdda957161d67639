//! Reducing pins: a barrel for a large conductor with a solid pin for a smaller terminal.

use super::{Terminal, contact_resistance};
use crate::conductor::Material;
use crate::data::tables::constants;
use crate::quantity::{
    Area, ElectricCurrent, ElectricalResistance, Length, Power, ThermodynamicTemperature, ToText, in_mm2,
};
use uom::si::length::meter;

/// A reducing pin of copper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pin {
    /// The conductor that its barrel is made for.
    pub from: Area,
    /// Cross-sectional area of the pin.
    pub to: Area,
}

impl Pin {
    /// A pin from one cross-section to a smaller one; `None` where that is not smaller.
    ///
    /// ```
    /// use loomwright::{fitting::Pin, quantity::mm2};
    /// assert!(Pin::new(mm2(35.0), mm2(16.0)).is_some() && Pin::new(mm2(16.0), mm2(16.0)).is_none());
    /// ```
    pub fn new(from: Area, to: Area) -> Option<Self> {
        (to.value > 0.0 && in_mm2(to) < in_mm2(from)).then_some(Self { from, to })
    }

    /// Resistance of pin and crimp at the temperature of the terminal: R = ρ·l/A over 25 mm of copper, and one crimp of
    /// 0.1 mΩ (both common practice, no source). The clamp that holds the pin is the terminal's own joint.
    ///
    /// ```
    /// use loomwright::{fitting::Pin, quantity::{celsius, mm2}};
    /// let pin = Pin::new(mm2(35.0), mm2(16.0)).ok_or("no pin")?;
    /// // 0.0172 Ω·mm²/m · 0.025 m / 16 mm² = 27 µΩ, and the crimp.
    /// assert!((pin.resistance(celsius(20.0)).value - 127e-6).abs() < 1e-6);
    /// # Ok::<(), &str>(())
    /// ```
    pub fn resistance(&self, temperature: ThermodynamicTemperature) -> ElectricalResistance {
        let copper = Material::Copper;
        let length = Length::new::<meter>(constants::PIN_LENGTH_M);
        let metal = copper.data().resistivity * length / self.to * copper.resistance_factor(temperature);
        metal + contact_resistance("lug-on-stud")
    }

    /// What it sheds at a current.
    ///
    /// ```
    /// use loomwright::{fitting::Pin, quantity::{ElectricCurrent, FromText, celsius, mm2}};
    /// let pin = Pin::new(mm2(35.0), mm2(16.0)).ok_or("no pin")?;
    /// let heat = pin.heat(ElectricCurrent::from_text("100 A")?, celsius(20.0));
    /// assert!((heat.value - 1.27).abs() < 0.01); // 100 A through 127 µΩ
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn heat(&self, current: ElectricCurrent, temperature: ThermodynamicTemperature) -> Power {
        current * current * self.resistance(temperature)
    }

    /// The most that it carries: the test current of terminals of its own cross-section (IEC 60947-7-1), whatever the
    /// conductor behind it bears. `None` below the smallest of them.
    ///
    /// ```
    /// use loomwright::{fitting::Pin, quantity::mm2};
    /// let limit = Pin::new(mm2(35.0), mm2(16.0)).and_then(|pin| pin.limit()).map(|current| current.value);
    /// assert_eq!(limit, Some(76.0)); // IEC 60947-7-1, 16 mm²
    /// ```
    pub fn limit(&self) -> Option<ElectricCurrent> {
        Terminal::clamp_test(self.to).map(|(current, _)| current)
    }

    /// The pin in words.
    pub fn words(&self) -> String {
        format!("reducing pin {} to {}", self.from.to_text(), self.to.to_text())
    }
}
