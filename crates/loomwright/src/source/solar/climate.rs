//! How bright and how warm the months of a place are.

use jiff::SignedDuration;
use uom::si::ratio::ratio;
use uom::si::time::second;

use super::{Site, SolarError, extraterrestrial};
use crate::data::Source;
use crate::data::tables::{climates, constants};
use crate::names::UnknownName;
use crate::quantity::{RadiantExposure, Ratio, ThermodynamicTemperature, Time, celsius, in_celsius};

/// The months of a place: mean irradiation of a day on the level, and mean air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    irradiation: [RadiantExposure; 12],
    air: [ThermodynamicTemperature; 12],
}

/// A place whose months are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClimateName(&'static str);

impl ClimateName {
    /// Every place.
    pub fn all() -> impl Iterator<Item = &'static str> {
        climates::ROWS.iter().filter(|row| row.month == 1.0).map(|row| row.place)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        self.0
    }

    fn rows(self) -> impl Iterator<Item = &'static climates::Climates> {
        climates::ROWS.iter().filter(move |row| row.place == self.0)
    }

    /// Its months.
    pub fn climate(self) -> Climate {
        let mut irradiation = [RadiantExposure::default(); 12];
        let mut air = [celsius(0.0); 12];
        for ((row, day), mean) in self.rows().zip(&mut irradiation).zip(&mut air) {
            *day = RadiantExposure::new::<uom::si::radiant_exposure::joule_per_square_meter>(
                row.irradiation_kwh_per_m2 * 3.6e6,
            );
            *mean = celsius(row.air_c);
        }
        Climate { irradiation, air }
    }

    /// Where its months come from.
    pub fn source(self) -> Option<&'static Source> {
        self.rows().next().map(|row| row.source)
    }
}

impl std::str::FromStr for ClimateName {
    type Err = UnknownName;

    fn from_str(text: &str) -> Result<Self, UnknownName> {
        let known: Vec<&'static str> = Self::all().collect();
        let found = known.iter().find(|name| **name == text);
        found.map(|name| Self(name)).ok_or_else(|| UnknownName::new("climate", text, &known))
    }
}

impl Climate {
    /// From the mean irradiation of a day on the level and the mean air, January first.
    ///
    /// # Errors
    /// [`SolarError`] for months that no place has.
    ///
    /// ```
    /// use loomwright::quantity::{RadiantExposure, celsius, in_celsius, uom::si::radiant_exposure::joule_per_square_meter};
    /// use loomwright::source::solar::Climate;
    /// let day = RadiantExposure::new::<joule_per_square_meter>(1e7);
    /// let climate = Climate::new([day; 12], [celsius(10.0); 12])?;
    /// assert!((in_celsius(climate.air(7)) - 10.0).abs() < 1e-9 && climate.irradiation(1) == day);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(irradiation: [RadiantExposure; 12], air: [ThermodynamicTemperature; 12]) -> Result<Self, SolarError> {
        for day in irradiation {
            let kwh = day.value / 3.6e6;
            if !(0.0..=12.0).contains(&kwh) {
                return Err(SolarError::Irradiation(kwh));
            }
        }
        for mean in air {
            let degrees = in_celsius(mean);
            if !(-60.0..=50.0).contains(&degrees) {
                return Err(SolarError::Air(degrees));
            }
        }
        Ok(Self { irradiation, air })
    }

    /// Mean irradiation of a day of a month, 1 to 12.
    pub fn irradiation(&self, month: i8) -> RadiantExposure {
        of_month(&self.irradiation, month)
    }

    /// Mean air of a month, 1 to 12.
    pub fn air(&self, month: i8) -> ThermodynamicTemperature {
        of_month(&self.air, month)
    }

    /// How bright a month (1 to 12) is over a clear sky at the place, in a year: what a clear sky is scaled by.
    ///
    /// # Errors
    /// [`SolarError::Year`] outside 2011 to 2109.
    ///
    /// ```
    /// use loomwright::quantity::{Length, RadiantExposure, celsius, degrees, uom::si::radiant_exposure::joule_per_square_meter};
    /// use loomwright::source::solar::{Climate, Site};
    /// let day = RadiantExposure::new::<joule_per_square_meter>(1e7);
    /// let climate = Climate::new([day; 12], [celsius(10.0); 12])?;
    /// let site = Site::new(degrees(47.4), degrees(8.6), Length::default())?;
    /// assert!(climate.brightness(&site, 2026, 7)? < climate.brightness(&site, 2026, 10)?); // 2.8 kWh/m² are little in July
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn brightness(&self, site: &Site, year: i16, month: i8) -> Result<Ratio, SolarError> {
        // Three days stand for a month: its light changes evenly within it.
        let (haze, step) = (Ratio::from(constants::LINKE_TURBIDITY), Time::new::<second>(3600.0));
        let mut clear = RadiantExposure::default();
        for day in [5, 15, 25] {
            let date = jiff::civil::Date::new(year, month, day).map_err(|_| SolarError::Year)?;
            let noon = jiff::tz::Offset::UTC.to_timestamp(date.at(12, 30, 0, 0)).map_err(|_| SolarError::Year)?;
            let outside = extraterrestrial(noon);
            for hour in -12..12 {
                let sun = site.sun(noon + SignedDuration::from_hours(hour))?;
                clear += site.clear_sky_through(&sun, outside, haze).global * step / 3.0;
            }
        }
        let most = Ratio::new::<ratio>(constants::MOST_OVER_CLEAR);
        Ok(if clear.value > 0.0 { (self.irradiation(month) / clear).min(most) } else { Ratio::default() })
    }
}

fn of_month<T: Copy + Default>(months: &[T; 12], month: i8) -> T {
    usize::try_from(month - 1).ok().and_then(|place| months.get(place)).copied().unwrap_or_default()
}
