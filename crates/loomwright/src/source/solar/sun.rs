//! Where the sun stands.

use jiff::Timestamp;
use solar_positioning::time::JulianDate;
use solar_positioning::{Location, RefractionCorrection, SolarPositions};
use uom::si::length::meter;

use super::SolarError;
use crate::data::tables::constants;
use crate::quantity::{Angle, Length, degrees, in_degrees};

/// A place on earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    latitude: Angle,
    longitude: Angle,
    altitude: Length,
}

/// The sun above a place at a time, as it is seen: with refraction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    zenith: Angle,
    azimuth: Angle,
    /// Unit vector towards it: east, north, up.
    direction: [f64; 3],
}

impl Site {
    /// A place by latitude (north positive), longitude (east positive) and height above the sea.
    ///
    /// # Errors
    /// [`SolarError`] when one of them is out of range.
    pub fn new(latitude: Angle, longitude: Angle, altitude: Length) -> Result<Self, SolarError> {
        let [north, east] = [latitude, longitude].map(in_degrees);
        if !(-90.0..=90.0).contains(&north) {
            return Err(SolarError::Latitude(north));
        }
        if !(-180.0..=180.0).contains(&east) {
            return Err(SolarError::Longitude(east));
        }
        let height = altitude.get::<meter>();
        if !(-500.0..=6000.0).contains(&height) {
            return Err(SolarError::Altitude(height));
        }
        Ok(Self { latitude, longitude, altitude })
    }

    /// Latitude, north positive.
    pub fn latitude(&self) -> Angle {
        self.latitude
    }

    /// Longitude, east positive.
    pub fn longitude(&self) -> Angle {
        self.longitude
    }

    /// Height above the sea.
    pub fn altitude(&self) -> Length {
        self.altitude
    }

    /// Pressure of the standard atmosphere at its height, over that at the sea.
    pub(super) fn pressure_ratio(&self) -> f64 {
        let hectopascals = ((44_331.514 - self.altitude.get::<meter>()) / 11_880.516).powf(1.0 / 0.190_263_2);
        hectopascals / 1013.25
    }

    /// Where the sun stands, by algorithm 3 of R. Grena, Solar Energy 86 (2012), 1323–1337, within 0.01°.
    ///
    /// # Errors
    /// [`SolarError::Year`] before 2010 and after 2109.
    pub fn sun(&self, at: Timestamp) -> Result<Sun, SolarError> {
        // Days since the epoch of computers, whose Julian date is 2440587.5.
        let days = at.as_duration().as_secs_f64() / 86_400.0;
        let time = JulianDate::new(2_440_587.5 + days, constants::DELTA_T_S).map_err(|_| SolarError::Year)?;
        let pressure = 1013.25 * self.pressure_ratio();
        let air = RefractionCorrection::new(pressure, constants::REFRACTION_AIR_C).ok();
        let here = Location { latitude: in_degrees(self.latitude), longitude: in_degrees(self.longitude) };
        let found = SolarPositions::grena3().at_from_julian(time, here, 0.0, air).map_err(|_| SolarError::Year)?;
        Ok(Sun::at(degrees(found.zenith_angle()), degrees(found.azimuth())))
    }
}

impl Sun {
    /// The sun at an angle from the zenith, and at a bearing from north over east.
    pub fn at(zenith: Angle, azimuth: Angle) -> Self {
        let (across, up) = zenith.value.sin_cos();
        let (east, north) = azimuth.value.sin_cos();
        Self { zenith, azimuth, direction: [across * east, across * north, up] }
    }

    /// Angle from the zenith.
    pub fn zenith(&self) -> Angle {
        self.zenith
    }

    /// Angle above the horizon; negative at night.
    pub fn elevation(&self) -> Angle {
        degrees(90.0) - self.zenith
    }

    /// Bearing from north over east.
    pub fn azimuth(&self) -> Angle {
        self.azimuth
    }

    /// Whether it is above the horizon.
    pub fn is_up(&self) -> bool {
        self.direction[2] > 0.0
    }

    pub(super) fn direction(&self) -> [f64; 3] {
        self.direction
    }
}
