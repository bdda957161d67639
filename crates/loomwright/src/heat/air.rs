//! Air at atmospheric pressure: the properties that natural convection needs.

use crate::quantity::{Ratio, ThermodynamicTemperature};
use uom::si::f64::{KinematicViscosity, ThermalConductivity};
use uom::si::kinematic_viscosity::square_meter_per_second;
use uom::si::ratio::ratio;
use uom::si::thermal_conductivity::watt_per_meter_kelvin;

/// Properties of dry air at 101 325 Pa.
#[derive(Clone, Copy, Debug)]
pub struct Air {
    /// Thermal conductivity.
    pub conductivity: ThermalConductivity,
    /// Kinematic viscosity.
    pub viscosity: KinematicViscosity,
    /// Prandtl number.
    pub prandtl: Ratio,
}

/// Cubics in x = (T − 323.15 K)/100 K for conductivity in W/(m·K), viscosity in m²/s and Prandtl number.
///
/// Fitted by us, −50 to 250 °C, to dry air of Lemmon and Jacobsen (2004) as evaluated by CoolProp 6.6;
/// largest deviation 0.02 %, 0.04 % and 0.01 %. A live check against CoolProp stands in `tests/`.
const CONDUCTIVITY: [f64; 4] = [0.028_083_626, 0.007_253_647, -0.000_373_764, 0.000_036_523];
const VISCOSITY: [f64; 4] = [1.797_149_5e-5, 9.842_311_8e-6, 1.044_687_9e-6, -4.715_923e-8];
const PRANDTL: [f64; 4] = [0.704_373_74, -0.010_476_365, 0.004_738_127, -0.000_401_351];

/// 0.387 / (1 + (0.559/Pr)^(9/16))^(8/27), the factor of Churchill and Chu's law that depends on air alone,
/// as a cubic of the same x. Follows from [`PRANDTL`]; largest deviation 3 parts in a million, held by a
/// unit test, and two powers saved in the hot kernel.
const CHURCHILL_CHU: [f64; 4] = [0.321_078_435, -0.000_371_027_7, 0.000_164_368_7, -0.000_012_616_6];

fn cubic([a, b, c, d]: [f64; 4], x: f64) -> f64 {
    a + x * (b + x * (c + x * d))
}

/// Place of a film temperature in kelvin on the cubics, held at the ends of the fitted range beyond it.
fn place(kelvin: f64) -> f64 {
    (kelvin.clamp(220.0, 530.0) - 323.15) / 100.0
}

/// What the convection kernel needs of a film temperature in kelvin: conductivity W/(m·K), kinematic
/// viscosity m²/s, Prandtl number and the Churchill–Chu factor.
pub(super) fn film(kelvin: f64) -> (f64, f64, f64, f64) {
    let x = place(kelvin);
    (cubic(CONDUCTIVITY, x), cubic(VISCOSITY, x), cubic(PRANDTL, x), cubic(CHURCHILL_CHU, x))
}

/// Dry air at atmospheric pressure; within 0.1 % of CoolProp from −40 to 200 °C, and held at −53 °C or
/// 257 °C beyond.
///
/// ```
/// use loomwright::{heat::air, quantity::celsius};
/// assert!((air(celsius(20.0)).prandtl.value - 0.71).abs() < 0.005);
/// ```
pub fn air(temperature: ThermodynamicTemperature) -> Air {
    let (conductivity, viscosity, prandtl, _) = film(temperature.value);
    Air {
        conductivity: ThermalConductivity::new::<watt_per_meter_kelvin>(conductivity),
        viscosity: KinematicViscosity::new::<square_meter_per_second>(viscosity),
        prandtl: Ratio::new::<ratio>(prandtl),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn churchill_chu_factor_follows_the_prandtl_number() {
        for degrees in -50..=250 {
            let (_, _, prandtl, factor) = film(f64::from(degrees) + 273.15);
            let law = 0.387 / (1.0 + (0.559 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
            assert!((factor / law - 1.0).abs() < 3e-6, "{degrees} °C: {factor} against {law}");
        }
    }
}
