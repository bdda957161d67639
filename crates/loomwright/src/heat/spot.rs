//! Contact spots: the voltage across a contact tells how much hotter its narrowest places are than its body.

use super::HeatError;
use crate::data::{Source, tables::constants, tables::contact_voltages};
use crate::names::named;
use crate::quantity::{ElectricPotential, ThermodynamicTemperature};
use uom::si::electric_potential::volt;
use uom::si::thermodynamic_temperature::kelvin;

/// The highest voltage across a contact that is computed, V: beyond every system here.
const MOST_V: f64 = 1e3;

named! {
    /// A metal of which contacts are made or plated.
    ContactMetal, "contact metal", {
        /// Tin.
        Tin => "tin",
        /// Silver.
        Silver => "silver",
        /// Gold.
        Gold => "gold",
        /// Nickel.
        Nickel => "nickel",
        /// Copper.
        Copper => "copper",
        /// Aluminium.
        Aluminium => "aluminium",
        /// Iron and steel.
        Iron => "iron",
        /// Zinc.
        Zinc => "zinc",
    }
}

impl ContactMetal {
    fn row(self) -> Option<&'static contact_voltages::ContactVoltages> {
        contact_voltages::ROWS.iter().find(|row| row.metal == self.name())
    }

    /// The voltages across a contact of this metal at which its spots soften and at which they melt, and where they come
    /// from.
    ///
    /// ```
    /// use loomwright::heat::ContactMetal;
    /// let (softening, melting, source) = ContactMetal::Tin.voltages().ok_or("no row")?;
    /// assert_eq!((softening.value, melting.value), (0.07, 0.13));
    /// assert_eq!(source.id, "contact-voltage-report");
    /// # Ok::<(), &str>(())
    /// ```
    pub fn voltages(self) -> Option<(ElectricPotential, ElectricPotential, &'static Source)> {
        let row = self.row()?;
        let of = ElectricPotential::new::<volt>;
        Some((of(row.softening_v), of(row.melting_v), row.source))
    }
}

/// How hot the spots get through which a current squeezes from one body into another, for the voltage across the contact and
/// the temperature of the bodies: V² = 4·L·(T_spot² − T_body²), L = 2.45·10⁻⁸ V²/K² (two public notes on contacts).
///
/// The relation knows nothing of heat that leaves the bodies: alone it is no upper bound, which is why the body's own
/// temperature goes in. It ends where the metal melts.
///
/// # Errors
/// [`HeatError::Contact`] for a voltage that is not from 0 to 1000 V.
///
/// ```
/// use loomwright::heat::spot_temperature;
/// use loomwright::quantity::{ElectricPotential, celsius, in_celsius, uom::si::electric_potential::millivolt};
/// let spot = spot_temperature(ElectricPotential::new::<millivolt>(100.0), celsius(60.0))?;
/// assert!((in_celsius(spot) - 188.4).abs() < 0.1);
/// # Ok::<(), loomwright::heat::HeatError>(())
/// ```
pub fn spot_temperature(
    contact: ElectricPotential,
    body: ThermodynamicTemperature,
) -> Result<ThermodynamicTemperature, HeatError> {
    let volts = contact.value;
    if !(0.0..=MOST_V).contains(&volts) {
        return Err(HeatError::Contact { volts, most: MOST_V });
    }
    let above = volts / (2.0 * constants::LORENZ_V2_PER_K2.sqrt());
    Ok(ThermodynamicTemperature::new::<kelvin>(body.value.hypot(above)))
}

/// The voltage across a contact whose spots have one temperature and whose bodies another: the inverse of
/// [`spot_temperature`]; 0 V where the spots are not the hotter.
///
/// ```
/// use loomwright::heat::contact_voltage;
/// use loomwright::quantity::celsius;
/// // Copper softens at about 190 °C.
/// assert!((contact_voltage(celsius(190.0), celsius(20.0)).value - 0.112).abs() < 0.001);
/// ```
pub fn contact_voltage(spot: ThermodynamicTemperature, body: ThermodynamicTemperature) -> ElectricPotential {
    let squares = (spot.value - body.value) * (spot.value + body.value);
    ElectricPotential::new::<volt>((4.0 * constants::LORENZ_V2_PER_K2 * squares.max(0.0)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::celsius;
    use proptest::prelude::*;

    #[test]
    fn every_metal_has_its_row_and_softens_before_it_melts() {
        assert_eq!(contact_voltages::ROWS.len(), ContactMetal::ALL.len());
        for metal in ContactMetal::ALL {
            let (softening, melting, _) = metal.voltages().unwrap();
            assert!(softening < melting, "{metal}");
        }
    }

    #[test]
    fn what_is_no_voltage_is_refused() {
        for volts in [-0.1, f64::NAN, f64::INFINITY, 1001.0] {
            let contact = ElectricPotential::new::<volt>(volts);
            assert!(matches!(spot_temperature(contact, celsius(20.0)), Err(HeatError::Contact { .. })), "{volts}");
        }
    }

    proptest! {
        #[test]
        fn relation_and_inverse_agree(volts in 0.0..2.0_f64, body in 233.0..1273.0_f64) {
            let body = ThermodynamicTemperature::new::<kelvin>(body);
            let spot = spot_temperature(ElectricPotential::new::<volt>(volts), body).unwrap();
            prop_assert!(spot >= body);
            prop_assert!((contact_voltage(spot, body).value - volts).abs() < 1e-6);
        }
    }
}
