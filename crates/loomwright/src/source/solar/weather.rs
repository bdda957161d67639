//! Measured weather: light, air and wind, hour by hour.

use jiff::Timestamp;
use thiserror::Error;

use crate::quantity::{HeatFluxDensity, ThermodynamicTemperature, Velocity};

/// One hour of weather; it holds from its start on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hour {
    /// Its start.
    pub start: Timestamp,
    /// Light on the level.
    pub global: HeatFluxDensity,
    /// The sky's share of it, where it was measured.
    pub diffuse: Option<HeatFluxDensity>,
    /// The beam on a plane across it, where it was measured.
    pub beam: Option<HeatFluxDensity>,
    /// Air.
    pub air: ThermodynamicTemperature,
    /// Wind.
    pub wind: Velocity,
}

/// Why hours are no weather.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum WeatherError {
    /// Hours that do not follow one another.
    #[error("hour {0} does not begin one hour after the one before it")]
    Order(usize),
    /// No hour at all.
    #[error("there is no hour in it")]
    Empty,
    /// Too many.
    #[error("at most {most} hours are read", most = Weather::MOST)]
    TooMany,
}

/// Measured weather, hour after hour without a gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    hours: Vec<Hour>,
}

impl Weather {
    /// Most hours: ten years.
    pub const MOST: usize = 87_672;

    /// From hours in order.
    ///
    /// # Errors
    /// [`WeatherError`] where one is missing.
    pub fn new(hours: Vec<Hour>) -> Result<Self, WeatherError> {
        if hours.is_empty() {
            return Err(WeatherError::Empty);
        }
        if hours.len() > Self::MOST {
            return Err(WeatherError::TooMany);
        }
        let hour = jiff::SignedDuration::from_hours(1);
        let apart = hours.windows(2).position(|pair| match pair {
            [one, next] => next.start.duration_since(one.start) != hour,
            _ => false,
        });
        match apart {
            Some(place) => Err(WeatherError::Order(place + 2)),
            None => Ok(Self { hours }),
        }
    }

    /// Its first moment, and the one after its last.
    pub fn covers(&self) -> [Timestamp; 2] {
        let ends =
            [self.hours.first(), self.hours.last()].map(|hour| hour.map_or(Timestamp::UNIX_EPOCH, |hour| hour.start));
        [ends[0], ends[1] + jiff::SignedDuration::from_hours(1)]
    }

    /// The hour that a moment lies in.
    pub fn at(&self, moment: Timestamp) -> Option<&Hour> {
        let since = moment.duration_since(self.hours.first()?.start).as_hours();
        self.hours.get(usize::try_from(since).ok()?)
    }
}
