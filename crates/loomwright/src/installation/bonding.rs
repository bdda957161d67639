//! How negatives, cases and the chassis are joined.

use super::Installation;
use crate::conductor::Conductor;
use crate::quantity::{Length, ThermodynamicTemperature};

crate::names::named! {
    /// How negatives and chassis are meant to be joined.
    Bonding, "bonding", {
        /// Every negative has its reference at the chassis.
        Chassis => "chassis",
        /// No negative is joined to the chassis.
        Floating => "floating",
        /// A body whose negatives are apart from the chassis of the vehicle that carries it.
        Split => "split",
    }
}

/// The conductor from a converter's case to the chassis or bonding bar.
#[derive(Clone, Copy, Debug)]
pub struct CaseBond {
    /// The conductor.
    pub conductor: Conductor,
    /// Its insulation class.
    pub insulation: ThermodynamicTemperature,
    /// Its length.
    pub length: Length,
}

impl Installation {
    /// How negatives and chassis are meant to be joined: as stated, else as what is joined to the chassis tells.
    pub fn bonding(&self) -> Bonding {
        let told = if self.chassis.is_some() { Bonding::Chassis } else { Bonding::Floating };
        self.stated_bonding.unwrap_or(told)
    }
}
