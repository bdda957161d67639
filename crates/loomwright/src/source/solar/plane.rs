//! What falls on a plane.
//!
//! Bare numbers inside: cosines.

use super::{Sky, SolarError, Sun};
use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::{Angle, HeatFluxDensity, Ratio, in_degrees};

named! {
    /// How the sky's own light is spread over it.
    SkyModel, "sky model", {
        /// Evenly.
        Isotropic => "isotropic",
        /// Evenly but for what surrounds the sun: J. E. Hay and J. A. Davies (1980).
        HayDavies => "hay-davies",
    }
}

/// A plane by its tilt and bearing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    tilt: Angle,
    azimuth: Angle,
    /// Unit vector away from it: east, north, up.
    normal: [f64; 3],
}

/// Light on a plane by where it comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OnPlane {
    /// The sun's beam.
    pub beam: HeatFluxDensity,
    /// The sky.
    pub sky: HeatFluxDensity,
    /// Thrown back by the ground.
    pub ground: HeatFluxDensity,
    /// Cosine of the angle between beam and normal; 0 when the sun is behind it.
    pub cosine: Ratio,
}

impl OnPlane {
    /// All of it.
    pub fn total(&self) -> HeatFluxDensity {
        self.beam + self.sky + self.ground
    }

    /// What enters through flat glass: of the beam `1 − b₀·(1/cos θ − 1)` with b₀ = 0.05 (ASHRAE 93), of the rest all.
    ///
    /// ```
    /// use loomwright::quantity::{HeatFluxDensity, Ratio, uom::si::heat_flux_density::watt_per_square_meter};
    /// use loomwright::source::solar::OnPlane;
    /// let beam = HeatFluxDensity::new::<watt_per_square_meter>(400.0);
    /// let slanting = OnPlane { beam, cosine: Ratio::from(0.5), ..OnPlane::default() };
    /// assert!((slanting.through_glass().value - 380.0).abs() < 1e-9); // 1 − 0.05 · (1/0.5 − 1)
    /// ```
    pub fn through_glass(&self) -> HeatFluxDensity {
        self.beam * glass(self.cosine) + self.sky + self.ground
    }
}

/// The share of a beam that enters flat glass by the cosine of its angle.
pub(super) fn glass(cosine: Ratio) -> Ratio {
    let cosine = cosine.value;
    if cosine <= 0.0 {
        return Ratio::default();
    }
    Ratio::from((1.0 - constants::GLASS_B0 * (1.0 / cosine - 1.0)).max(0.0))
}

impl Plane {
    /// A plane tilted so far, facing a bearing from north over east.
    ///
    /// ```
    /// use loomwright::{quantity::degrees, source::solar::Plane};
    /// assert!(Plane::new(degrees(40.0), degrees(180.0)).is_ok()); // to the south
    /// assert!(Plane::new(degrees(95.0), degrees(180.0)).is_err()); // it would face the ground
    /// ```
    ///
    /// # Errors
    /// [`SolarError`] for a tilt outside 0° to 90°, or a bearing outside 0° to 360°.
    pub fn new(tilt: Angle, azimuth: Angle) -> Result<Self, SolarError> {
        let [tilted, bearing] = [tilt, azimuth].map(in_degrees);
        if !(0.0..=90.0).contains(&tilted) {
            return Err(SolarError::Tilt(tilted));
        }
        if !(0.0..=360.0).contains(&bearing) {
            return Err(SolarError::Azimuth(bearing));
        }
        let (across, up) = tilt.value.sin_cos();
        let (east, north) = azimuth.value.sin_cos();
        Ok(Self { tilt, azimuth, normal: [across * east, across * north, up] })
    }

    /// Level, as on a roof.
    pub fn flat() -> Self {
        Self { tilt: Angle::default(), azimuth: Angle::default(), normal: [0.0, 0.0, 1.0] }
    }

    /// Its tilt; 0 is level.
    pub fn tilt(&self) -> Angle {
        self.tilt
    }

    /// The bearing that it faces.
    pub fn azimuth(&self) -> Angle {
        self.azimuth
    }

    /// What falls on it by [`SkyModel::HayDavies`], over ground that throws back a fifth.
    ///
    /// ```
    /// use loomwright::quantity::{HeatFluxDensity, degrees, uom::si::heat_flux_density::watt_per_square_meter};
    /// use loomwright::source::solar::{Plane, Sky, Sun};
    /// let light = HeatFluxDensity::new::<watt_per_square_meter>;
    /// let sky = Sky { global: light(500.0), beam: light(800.0), diffuse: light(100.0), outside: light(1360.0) };
    /// let on_level = Plane::flat().receives(&Sun::at(degrees(60.0), degrees(180.0)), &sky);
    /// assert!((on_level.total().value - 500.0).abs() < 1e-6); // a level plane takes what falls on the level
    /// ```
    pub fn receives(&self, sun: &Sun, sky: &Sky) -> OnPlane {
        self.receives_by(SkyModel::HayDavies, sun, sky, Ratio::from(constants::ALBEDO))
    }

    /// What falls on it by a model of the sky, over ground that throws back such a share.
    pub fn receives_by(&self, model: SkyModel, sun: &Sun, sky: &Sky, albedo: Ratio) -> OnPlane {
        let [[east, north, up], [sun_east, sun_north, sun_up]] = [self.normal, sun.direction()];
        let cosine = (east * sun_east + north * sun_north + up * sun_up).max(0.0);
        let around = match model {
            SkyModel::Isotropic => Ratio::default(),
            SkyModel::HayDavies if sky.outside.value > 0.0 => sky.beam / sky.outside,
            SkyModel::HayDavies => Ratio::default(),
        };
        // With the sun on the horizon the quotient is no measure: cos 89°.
        let towards = cosine / sun_up.max(0.017_45);
        let from_sky = around.value * towards + (1.0 - around.value) * 0.5 * (1.0 + up);
        OnPlane {
            beam: sky.beam * Ratio::from(cosine),
            sky: sky.diffuse * Ratio::from(from_sky),
            ground: sky.global * albedo * Ratio::from(0.5 * (1.0 - up)),
            cosine: Ratio::from(cosine),
        }
    }
}
