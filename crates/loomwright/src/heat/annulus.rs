//! The air between cables and their conduit: natural convection between concentric cylinders, and radiation.
//!
//! Bare numbers, SI units.

use super::air;
use super::chain::{GRAVITY, STEFAN_BOLTZMANN};
use crate::data::tables::constants;

/// Air between a body and the bore around it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Annulus {
    /// ln(bore / body).
    logarithm: f64,
    /// What Raithby and Hollands' law takes of the geometry, m³.
    cube: f64,
    /// W/(m·K⁴).
    radiation: f64,
}

impl Annulus {
    /// `wall` is the emissivity of the bore.
    pub(super) fn new(body: f64, bore: f64, wall: f64) -> Self {
        let logarithm = (bore / body).ln();
        let root = body.powf(-0.6) + bore.powf(-0.6);
        Self {
            logarithm,
            cube: logarithm.powi(4) / root.powi(5),
            radiation: std::f64::consts::PI * body * STEFAN_BOLTZMANN
                / (1.0 / constants::EMISSIVITY + body / bore * (1.0 / wall - 1.0)),
        }
    }

    /// Heat by convection and by radiation from a body to a bore that is cooler by `difference`, W/m.
    ///
    /// Raithby and Hollands (1975), concentric cylinders: Ra* = ln(Do/Di)⁴ · Ra_L / (L³ (Di^-0.6 + Do^-0.6)⁵),
    /// k_eff/k = 0.386 (Pr/(0.861 + Pr))^0.25 Ra*^0.25, not below 1.
    pub(super) fn shed(&self, bore: f64, difference: f64) -> (f64, f64) {
        let body = bore + difference;
        let film = bore + 0.5 * difference;
        let (conductivity, viscosity, prandtl, _) = air::film(film);
        let rayleigh = GRAVITY / film * difference.abs() * self.cube * prandtl / (viscosity * viscosity);
        let enhanced = 0.386 * (prandtl / (0.861 + prandtl) * rayleigh).sqrt().sqrt();
        let convection = std::f64::consts::TAU * conductivity * enhanced.max(1.0) * difference / self.logarithm;
        (convection, self.radiation * difference * (body + bore) * (body * body + bore * bore))
    }

    /// Temperature of the body that sheds `heat` to a bore at `bore` kelvin.
    pub(super) fn body(&self, bore: f64, heat: f64) -> f64 {
        if heat <= 0.0 {
            return bore;
        }
        // Newton's rule from still air's conduction and radiation as it is at the bore; both only grow with
        // the difference, so the first guess is high and the steps come down.
        let still = std::f64::consts::TAU * 0.024 / self.logarithm + 4.0 * self.radiation * bore * bore * bore;
        let mut difference = heat / still;
        for _ in 0..40 {
            let (convection, radiation) = self.shed(bore, difference);
            let slope = 1.1 * convection / difference + 4.0 * self.radiation * (bore + difference).powi(3);
            let step = (convection + radiation - heat) / slope;
            difference = (difference - step).max(0.1 * difference);
            if step.abs() <= 1e-13 * difference.max(1.0) {
                break;
            }
        }
        bore + difference
    }
}
