//! Solar: where the sun stands, what a clear sky gives, what falls on a plane, how hot cells get, what modules deliver.
//!
//! ```
//! use loomwright::quantity::{Length, degrees, in_degrees};
//! use loomwright::source::solar::{Plane, Site};
//! // Noon in June at 51.5° north: the sun stands 62° high in the south, and a flat plane takes more than one that
//! // faces north.
//! let site = Site::new(degrees(51.5), degrees(-0.12), Length::default())?;
//! let at = "2021-06-21T12:00:00Z".parse()?;
//! let sun = site.sun(at)?;
//! assert!((in_degrees(sun.elevation()) - 61.9).abs() < 0.1);
//! let sky = site.clear_sky(&sun, at);
//! let flat = Plane::flat().receives(&sun, &sky);
//! let north = Plane::new(degrees(30.0), degrees(0.0))?.receives(&sun, &sky);
//! assert!(flat.total() > north.total());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod array;
mod climate;
mod plane;
mod sky;
mod sun;
mod weather;

pub use array::{Module, Mount, Strings};
pub use climate::{Climate, ClimateName};
pub use plane::{OnPlane, Plane, SkyModel};
pub use sky::{Sky, beam_at_normal, extraterrestrial};
pub use sun::{Site, Sun};
pub use weather::{Hour, Weather, WeatherError};

use thiserror::Error;

/// A value that no sun, sky or array has.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum SolarError {
    /// No latitude.
    #[error("a latitude is −90° (south) to 90° (north), not {0:.3}°")]
    Latitude(f64),
    /// No longitude.
    #[error("a longitude is −180° (west) to 180° (east), not {0:.3}°")]
    Longitude(f64),
    /// No height on land or water.
    #[error("a height is −500 m to 6000 m above the sea, not {0:.0} m")]
    Altitude(f64),
    /// A time for which the sun's place is not computed.
    #[error("the sun's place is computed from 2010 to 2109")]
    Year,
    /// No tilt.
    #[error("a tilt is 0° (flat) to 90° (upright), not {0:.3}°")]
    Tilt(f64),
    /// No bearing.
    #[error("an azimuth is 0° (north) over 90° (east) to 360°, not {0:.3}°")]
    Azimuth(f64),
    /// More or less light than there is.
    #[error("the irradiation of a day is above 0 and at most 12 kWh/m², not {0:.2} kWh/m²")]
    Irradiation(f64),
    /// A mean temperature that no place has.
    #[error("the mean air of a month is −60 °C to 50 °C, not {0:.1} °C")]
    Air(f64),
}
