//! One-way elements and relays that sense a voltage.

use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::ElectricPotential;
use uom::si::electric_potential::volt;

named! {
    /// What makes a splitter one-way.
    OneWay, "one-way element", {
        /// A silicon diode: 0.8 V (common practice, no source).
        Silicon => "silicon",
        /// A Schottky diode: 0.45 V (common practice, no source).
        Schottky => "schottky",
        /// A field-effect transistor that is switched like a diode: 0.05 V (common practice, no source).
        FieldEffect => "field-effect",
    }
}

impl OneWay {
    /// Its constant drop.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricCurrent, FromText}, source::OneWay};
    /// let heat = ElectricCurrent::from_text("30 A")? * OneWay::Silicon.drop();
    /// assert!((heat.value - 24.0).abs() < 1e-9 && OneWay::FieldEffect.drop() < OneWay::Schottky.drop()); // 30 A · 0.8 V
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn drop(self) -> ElectricPotential {
        ElectricPotential::new::<volt>(match self {
            Self::Silicon => constants::DIODE_DROP_V,
            Self::Schottky => constants::SCHOTTKY_DROP_V,
            Self::FieldEffect => constants::FIELD_EFFECT_DROP_V,
        })
    }
}

/// A relay that closes at one voltage and opens at a lower one.
#[derive(Clone, Copy, Debug)]
pub struct SensingRelay {
    /// It closes at this voltage.
    pub closes: ElectricPotential,
    /// It opens at this one, below `closes`.
    pub opens: ElectricPotential,
}

impl SensingRelay {
    /// Whether it is closed at a voltage, when it was closed or open before.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricPotential, FromText}, source::SensingRelay};
    /// let volts = ElectricPotential::from_text;
    /// let relay = SensingRelay { closes: volts("13.3 V")?, opens: volts("12.8 V")? };
    /// let between = volts("13 V")?; // it stays as it was
    /// assert!(relay.closed_at(between, true) && !relay.closed_at(between, false));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn closed_at(&self, voltage: ElectricPotential, before: bool) -> bool {
        if before { voltage > self.opens } else { voltage >= self.closes }
    }

    /// Whether it lets go of batteries that rest at a voltage.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricPotential, FromText}, source::SensingRelay};
    /// let volts = ElectricPotential::from_text;
    /// let relay = SensingRelay { closes: volts("13.3 V")?, opens: volts("12.8 V")? };
    /// assert!(relay.releases(volts("12.7 V")?)); // lead at rest
    /// assert!(!relay.releases(volts("13.2 V")?)); // lithium iron phosphate at rest holds it closed for good
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn releases(&self, resting: ElectricPotential) -> bool {
        !self.closed_at(resting, true)
    }
}
