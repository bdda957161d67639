//! What the sky gives: clear, or as bright as it was measured.
//!
//! Bare numbers inside: W/m² and cosines.

use jiff::Timestamp;
use uom::si::heat_flux_density::watt_per_square_meter;
use uom::si::length::meter;

use super::{Site, Sun};
use crate::data::tables::constants;
use crate::quantity::{HeatFluxDensity, Ratio};

/// Light from the sky, on the level and across the beam.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sky {
    /// All of it on a level plane.
    pub global: HeatFluxDensity,
    /// The sun's beam, on a plane across it.
    pub beam: HeatFluxDensity,
    /// From everywhere else, on a level plane.
    pub diffuse: HeatFluxDensity,
    /// The beam outside the atmosphere, on a plane across it.
    pub outside: HeatFluxDensity,
}

fn watts(value: f64) -> HeatFluxDensity {
    HeatFluxDensity::new::<watt_per_square_meter>(value)
}

/// The beam outside the atmosphere: J. W. Spencer, Search 2 (1971), 172, with 1366.1 W/m².
///
/// ```
/// use loomwright::source::solar::extraterrestrial;
/// let near = extraterrestrial("2024-01-03T00:00:00Z".parse()?);
/// let far = extraterrestrial("2024-07-04T00:00:00Z".parse()?);
/// assert!(((near / far).value - 1.069).abs() < 0.003); // (1.0167/0.9833)², by the orbit's eccentricity
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn extraterrestrial(at: Timestamp) -> HeatFluxDensity {
    let day = jiff::tz::Offset::UTC.to_datetime(at).date().day_of_year();
    let angle = std::f64::consts::TAU * (f64::from(day) - 1.0) / 365.0;
    let (sine, cosine) = angle.sin_cos();
    let (sine_2, cosine_2) = (2.0 * angle).sin_cos();
    let over = 1.000_11 + 0.034_221 * cosine + 0.001_28 * sine + 0.000_719 * cosine_2 + 7.7e-5 * sine_2;
    watts(constants::SOLAR_CONSTANT_W_PER_M2 * over)
}

/// The beam across itself from what falls on the level: none with the sun below 3°, where the quotient is no measure.
///
/// ```
/// use loomwright::quantity::{HeatFluxDensity, degrees, uom::si::heat_flux_density::watt_per_square_meter};
/// use loomwright::source::solar::{Sun, beam_at_normal};
/// let light = HeatFluxDensity::new::<watt_per_square_meter>;
/// let sun = Sun::at(degrees(60.0), degrees(180.0)); // 30° high
/// let beam = beam_at_normal(light(500.0), light(100.0), &sun);
/// assert!((beam.value - 800.0).abs() < 1e-6); // (500 − 100) W/m² over sin 30°
/// ```
pub fn beam_at_normal(global: HeatFluxDensity, diffuse: HeatFluxDensity, sun: &Sun) -> HeatFluxDensity {
    let [_, _, up] = sun.direction();
    if up < constants::LOWEST_SUN_COSINE {
        return HeatFluxDensity::default();
    }
    ((global - diffuse) / Ratio::from(up)).max(HeatFluxDensity::default())
}

/// Air masses on the way of the light, with the sun up: F. Kasten and A. T. Young, Applied Optics 28 (1989), 4735.
fn air_mass(sun: &Sun) -> f64 {
    let [_, _, up] = sun.direction();
    let elevation = up.clamp(-1.0, 1.0).asin().to_degrees();
    1.0 / (up + 0.505_72 * (elevation + 6.079_95).powf(-1.636_4))
}

impl Site {
    /// A clear sky with the usual haze (Linke turbidity 3): P. Ineichen and R. Perez, Solar Energy 73 (2002), 151–157.
    /// Nothing with the sun below the horizon.
    pub fn clear_sky(&self, sun: &Sun, at: Timestamp) -> Sky {
        self.clear_sky_through(sun, extraterrestrial(at), Ratio::from(constants::LINKE_TURBIDITY))
    }

    /// The same through other haze: Linke turbidity 2 (mountains in winter) to 6 (a humid town in summer).
    ///
    /// ```
    /// use loomwright::quantity::{HeatFluxDensity, Length, Ratio, degrees, uom::si::heat_flux_density::watt_per_square_meter};
    /// use loomwright::source::solar::{Site, Sun};
    /// let site = Site::new(degrees(47.4), degrees(8.6), Length::default())?;
    /// let (sun, outside) = (Sun::at(degrees(30.0), degrees(180.0)), HeatFluxDensity::new::<watt_per_square_meter>(1360.0));
    /// let [clear, hazy] = [2.0, 5.0].map(|turbidity| site.clear_sky_through(&sun, outside, Ratio::from(turbidity)));
    /// assert!(clear.beam > hazy.beam && clear.diffuse < hazy.diffuse && clear.global < outside);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn clear_sky_through(&self, sun: &Sun, outside: HeatFluxDensity, turbidity: Ratio) -> Sky {
        if !sun.is_up() {
            return Sky { outside, ..Sky::default() };
        }
        let [_, _, up] = sun.direction();
        let height = self.altitude().get::<meter>();
        let (linke, outside_w) = (turbidity.value, outside.get::<watt_per_square_meter>());
        let mass = air_mass(sun) * self.pressure_ratio();
        let near = (-height / 8000.0).exp();
        let far = (-height / 1250.0).exp();
        let [strength, fade] = [5.09e-5 * height + 0.868, 3.92e-5 * height + 0.0387];
        let global = strength * outside_w * up * (-fade * mass * (near + far * (linke - 1.0))).exp();
        let direct = outside_w * (0.664 + 0.163 / near) * (-0.09 * mass * (linke - 1.0)).exp();
        // Two bounds of the beam; the lower holds.
        let bound = global * (1.0 - (0.1 - 0.2 * (-linke).exp()) / (0.1 + 0.882 / near)) / up;
        let beam = direct.min(bound.max(0.0));
        Sky { global: watts(global), beam: watts(beam), diffuse: watts(global - beam * up), outside }
    }
}

impl Sky {
    /// A sky so bright on the level, its diffuse share by clearness: D. G. Erbs, S. A. Klein and J. A. Duffie, Solar Energy 28
    /// (1982), 293–302. With the sun below 3° everything counts as diffuse.
    ///
    /// ```
    /// use loomwright::quantity::{HeatFluxDensity, degrees, uom::si::heat_flux_density::watt_per_square_meter};
    /// use loomwright::source::solar::{Sky, Sun};
    /// let light = HeatFluxDensity::new::<watt_per_square_meter>;
    /// let sky = Sky::of_global(light(400.0), light(1360.0), &Sun::at(degrees(60.0), degrees(180.0)));
    /// let back = sky.beam.value * 0.5 + sky.diffuse.value; // 30° high: half the beam falls on the level
    /// assert!((back - 400.0).abs() < 1e-6 && sky.diffuse < sky.global);
    /// ```
    pub fn of_global(global: HeatFluxDensity, outside: HeatFluxDensity, sun: &Sun) -> Self {
        let [_, _, up] = sun.direction();
        if up < constants::LOWEST_SUN_COSINE || global.value <= 0.0 {
            let global = if sun.is_up() { global.max(HeatFluxDensity::default()) } else { HeatFluxDensity::default() };
            return Self { global, beam: HeatFluxDensity::default(), diffuse: global, outside };
        }
        // Clearness, held to what clouds at their brightest give.
        let k = (global / outside).value / up.max(0.065);
        let share = match k.min(1.0) {
            k if k <= 0.22 => 1.0 - 0.09 * k,
            k if k <= 0.8 => 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336))),
            _ => 0.165,
        };
        let diffuse = global * Ratio::from(share);
        Self { global, beam: beam_at_normal(global, diffuse, sun), diffuse, outside }
    }
}
