//! Where the sun stands.

use jiff::{SignedDuration, Timestamp};
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
    /// Pressure of the standard atmosphere there, over that at the sea.
    pressure: f64,
}

/// The sun above a place at a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sun {
    /// Unit vector towards it: east, north, up.
    direction: [f64; 3],
}

impl Site {
    /// A place by latitude (north positive), longitude (east positive) and height above the sea.
    ///
    /// ```
    /// use loomwright::{quantity::{Length, degrees}, source::solar::Site};
    /// assert!(Site::new(degrees(-34.0), degrees(151.0), Length::default()).is_ok()); // south and east
    /// assert!(Site::new(degrees(91.0), degrees(0.0), Length::default()).is_err());
    /// ```
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
        let hectopascals = ((44_331.514 - height) / 11_880.516).powf(1.0 / 0.190_263_2);
        Ok(Self { latitude, longitude, altitude, pressure: hectopascals / 1013.25 })
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
        self.pressure
    }

    /// Where the sun stands as it is seen, with refraction, by algorithm 3 of R. Grena, Solar Energy 86 (2012), 1323–1337, within 0.01°.
    ///
    /// ```
    /// use loomwright::{quantity::{Length, degrees, in_degrees}, source::solar::Site};
    /// let site = Site::new(degrees(0.0), degrees(0.0), Length::default())?;
    /// let sun = site.sun("2024-03-20T12:07:00Z".parse()?)?; // an equinox at the equator, at true noon
    /// assert!(in_degrees(sun.zenith()) < 0.5);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`SolarError::Year`] before 2010 and after 2109.
    pub fn sun(&self, at: Timestamp) -> Result<Sun, SolarError> {
        let air = RefractionCorrection::new(1013.25 * self.pressure, constants::REFRACTION_AIR_C).ok();
        self.seen_through(at, air)
    }

    fn seen_through(&self, at: Timestamp, air: Option<RefractionCorrection>) -> Result<Sun, SolarError> {
        // Days since the epoch of computers, whose Julian date is 2440587.5.
        let days = at.as_duration().as_secs_f64() / 86_400.0;
        let time = JulianDate::new(2_440_587.5 + days, constants::DELTA_T_S).map_err(|_| SolarError::Year)?;
        let here = Location { latitude: in_degrees(self.latitude), longitude: in_degrees(self.longitude) };
        let found = SolarPositions::grena3().at_from_julian(time, here, 0.0, air).map_err(|_| SolarError::Year)?;
        Ok(Sun::at(degrees(found.zenith_angle()), degrees(found.azimuth())))
    }

    /// Where the sun stands over whole days, so many evenly spaced times each, the first at `start`; without refraction, which
    /// lifts it by half a degree where there is hardly light.
    ///
    /// At one time of the day the sun moves slowly from day to day: it is computed on every fifth day, and a cubic through
    /// four of those days gives the days between within 0.001°.
    ///
    /// # Errors
    /// [`SolarError::Year`] from ten days before to fifteen days after 2010 to 2109.
    ///
    /// ```
    /// use loomwright::{quantity::{Length, degrees}, source::solar::Site};
    /// let site = Site::new(degrees(47.4), degrees(8.6), Length::default())?;
    /// let suns = site.suns("2026-06-21T00:00:00Z".parse()?, 24, 1)?;
    /// assert_eq!(suns.len(), 24);
    /// assert!(suns.iter().filter(|sun| sun.is_up()).count() >= 15); // the longest day
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn suns(&self, start: Timestamp, times_per_day: u32, days: u32) -> Result<Vec<Sun>, SolarError> {
        let apart = 86_400 / i64::from(times_per_day.max(1));
        let knots = i64::from(days.saturating_sub(1)) / SPACING + 4;
        let mut exact = Vec::new();
        for knot in 0..knots {
            for time in 0..i64::from(times_per_day) {
                let seconds = (knot - 1) * SPACING * 86_400 + time * apart;
                exact.push(self.seen_through(start + SignedDuration::from_secs(seconds), None)?.direction);
            }
        }
        let width = usize::try_from(times_per_day).unwrap_or_default();
        let mut found = Vec::with_capacity(width * usize::try_from(days).unwrap_or_default());
        for day in 0..i64::from(days) {
            let first = usize::try_from(day / SPACING).unwrap_or_default() * width;
            let weights = cubic(f64::from(i32::try_from(day % SPACING).unwrap_or_default()) / 5.0);
            for time in 0..width {
                let mut direction = [0.0; 3];
                for (knot, weight) in weights.iter().enumerate() {
                    let of = exact.get(first + knot * width + time).copied().unwrap_or_default();
                    for (part, exact) in direction.iter_mut().zip(of) {
                        *part += weight * exact;
                    }
                }
                found.push(Sun { direction });
            }
        }
        Ok(found)
    }
}

/// Days between those for which the sun is computed.
const SPACING: i64 = 5;

/// Lagrange's weights of values at −1, 0, 1 and 2 for a place between 0 and 1.
fn cubic(t: f64) -> [f64; 4] {
    let [before, after, next] = [t + 1.0, t - 1.0, t - 2.0];
    [-t * after * next / 6.0, before * after * next / 2.0, -before * t * next / 2.0, before * t * after / 6.0]
}

impl Sun {
    /// The sun at an angle from the zenith, and at a bearing from north over east.
    ///
    /// ```
    /// use loomwright::{quantity::{degrees, in_degrees}, source::solar::Sun};
    /// let sun = Sun::at(degrees(60.0), degrees(225.0));
    /// assert!((in_degrees(sun.elevation()) - 30.0).abs() < 1e-9 && (in_degrees(sun.azimuth()) - 225.0).abs() < 1e-9);
    /// ```
    pub fn at(zenith: Angle, azimuth: Angle) -> Self {
        let (across, up) = zenith.value.sin_cos();
        let (east, north) = azimuth.value.sin_cos();
        Self { direction: [across * east, across * north, up] }
    }

    /// Angle from the zenith.
    pub fn zenith(&self) -> Angle {
        let [east, north, up] = self.direction;
        // Keeps its digits near the zenith, where an arc cosine would not.
        Angle::new::<uom::si::angle::radian>(east.hypot(north).atan2(up))
    }

    /// Angle above the horizon; negative at night.
    pub fn elevation(&self) -> Angle {
        degrees(90.0) - self.zenith()
    }

    /// Bearing from north over east.
    pub fn azimuth(&self) -> Angle {
        let [east, north, _] = self.direction;
        Angle::new::<uom::si::angle::radian>(east.atan2(north).rem_euclid(std::f64::consts::TAU))
    }

    /// Whether it is above the horizon.
    ///
    /// ```
    /// use loomwright::{quantity::degrees, source::solar::Sun};
    /// assert!(Sun::at(degrees(89.0), degrees(90.0)).is_up() && !Sun::at(degrees(91.0), degrees(90.0)).is_up());
    /// ```
    pub fn is_up(&self) -> bool {
        self.direction[2] > 0.0
    }

    pub(super) fn direction(&self) -> [f64; 3] {
        self.direction
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Between the days for which it is computed the sun strays by less than 0.001°, at any place and time of the year.
        #[test]
        fn days_between_are_as_good(north in -89.0_f64..89.0, east in -180.0_f64..180.0, start in 0_i64..36_000, days in 1_u32..40) {
            let site = Site::new(degrees(north), degrees(east), Length::default()).unwrap();
            let begin: Timestamp = "2011-01-01T00:07:30Z".parse().unwrap();
            let begin = begin + SignedDuration::from_hours(24 * start);
            let all = site.suns(begin, 24, days).unwrap();
            prop_assert_eq!(all.len(), usize::try_from(24 * days).unwrap());
            for (hour, found) in (0_i64..).zip(&all) {
                let exact = site.seen_through(begin + SignedDuration::from_hours(hour), None).unwrap();
                let apart = found.direction.iter().zip(exact.direction).map(|(one, other)| (one - other).powi(2)).sum::<f64>().sqrt();
                prop_assert!(apart.to_degrees() < 1e-3, "{apart} rad");
            }
        }
    }
}
