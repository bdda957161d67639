//! The light of a stay, step by step: where the sun stands and what a clear sky would give, worked out once and shared by
//! every sample; or what was measured.
//!
//! Bare numbers inside are W/m², W and shares of 1.

use jiff::{SignedDuration, Timestamp};
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

use super::ForecastError;
use super::model::SunSource;
use crate::data::tables::constants;
use crate::installation::{Array, Installation, Stay};
use crate::quantity::{HeatFluxDensity, Power, Ratio, ThermodynamicTemperature, Velocity};
use crate::source::solar::{Sky, Sun, Weather, beam_at_normal, extraterrestrial};

/// One step of light.
#[derive(Clone, Copy, Debug)]
struct Step {
    sun: Sun,
    /// Clear, or as measured.
    sky: Sky,
    wind: Velocity,
    air: ThermodynamicTemperature,
}

/// A stay's light.
#[derive(Clone, Debug)]
pub(super) struct Light {
    /// By step; `None` at night.
    steps: Vec<Option<Step>>,
    /// How bright each day is over a clear one, in the mean of its month; `None` where it was measured.
    bright: Option<Vec<f64>>,
    /// Mean air of each day.
    pub(super) air: Vec<ThermodynamicTemperature>,
    steps_per_day: usize,
}

impl Light {
    pub(super) fn new(
        plan: &Installation,
        stay: &Stay,
        weather: Option<&Weather>,
        steps_per_day: u32,
    ) -> Result<Self, ForecastError> {
        let place = plan.places.get(stay.place).ok_or(ForecastError::NoStay)?;
        let length = 86_400 / i64::from(steps_per_day);
        let shift = SignedDuration::from_secs_f64(place.clock.get::<second>());
        let start = jiff::tz::Offset::UTC
            .to_timestamp(stay.from.at(0, 0, 0, 0))
            .map_err(|_| ForecastError::Sun(crate::source::solar::SolarError::Year))?
            - shift;
        let count = i64::from(stay.days() * steps_per_day);
        if let Some(weather) = weather {
            let [first, last] = weather.covers();
            if start < first || start + SignedDuration::from_secs(count * length) > last {
                return Err(ForecastError::Weather { stay: stay.name.clone(), from: stay.from, to: stay.to });
            }
        } else if place.climate.is_none() && !plan.arrays.is_empty() {
            return Err(ForecastError::NoClimate { place: place.name.clone() });
        }
        let mut bright = Vec::new();
        let mut air = Vec::new();
        let mut date = stay.from;
        let mut month = (0, 0.0);
        for _ in 0..stay.days() {
            if month.0 != date.month() {
                let share = place.climate.map(|one| one.brightness(&place.site, date.year(), date.month()));
                month = (date.month(), share.transpose()?.map_or(0.0, |share| share.value));
            }
            bright.push(month.1);
            let mild = crate::quantity::celsius(constants::MILD_C);
            air.push(place.climate.map_or(mild, |climate| climate.air(date.month())));
            let Ok(next) = date.tomorrow() else { break };
            date = next;
        }
        let wind = Velocity::new::<meter_per_second>(constants::WIND_M_PER_S);
        let dark = plan.arrays.is_empty();
        let mut steps = Vec::with_capacity(usize::try_from(count).unwrap_or_default());
        let haze = Ratio::from(constants::LINKE_TURBIDITY);
        let mut outside = HeatFluxDensity::default();
        // The middle of a step stands for it.
        let middle = start + SignedDuration::from_secs(length / 2);
        let suns = if dark { Vec::new() } else { place.site.suns(middle, steps_per_day, stay.days())? };
        for index in 0..count {
            let at = middle + SignedDuration::from_secs(length * index);
            if index % i64::from(steps_per_day) == 0 {
                outside = extraterrestrial(at);
            }
            let Some(sun) = usize::try_from(index).ok().and_then(|index| suns.get(index)).copied() else { break };
            let mean = usize::try_from(index / i64::from(steps_per_day)).ok().and_then(|day| air.get(day).copied());
            let step = match weather {
                Some(weather) => measured(weather, at, &sun),
                None => Some(Step {
                    sky: place.site.clear_sky_through(&sun, outside, haze),
                    sun,
                    wind,
                    air: mean.unwrap_or_else(|| crate::quantity::celsius(constants::MILD_C)),
                }),
            };
            steps.push(step.filter(|step| step.sun.is_up() && step.sky.global.value > 0.0));
        }
        if let Some(weather) = weather {
            for (day, mean) in air.iter_mut().enumerate() {
                let begin = start + SignedDuration::from_hours(24 * i64::try_from(day).unwrap_or_default());
                let hours = (0..24).filter_map(|hour| weather.at(begin + SignedDuration::from_hours(hour)));
                let (sum, number) = hours.fold((0.0, 0.0), |(sum, number), hour| (sum + hour.air.value, number + 1.0));
                if number > 0.0 {
                    *mean = crate::quantity::celsius(sum / number - 273.15);
                }
            }
        }
        let bright = weather.is_none().then_some(bright);
        Ok(Self { steps, bright, air, steps_per_day: usize::try_from(steps_per_day).unwrap_or(1) })
    }

    /// How bright a day is in the mean of its month; `None` where it was measured.
    pub(super) fn mean_brightness(&self, day: usize) -> Option<f64> {
        self.bright.as_ref()?.get(day).copied()
    }

    /// What a controller gets from its arrays in a step, on a day so bright: W, and A where it does not track.
    pub(super) fn harvest(&self, arrays: &[Array], source: &SunSource, step: usize, bright: Option<f64>) -> Harvest {
        let Some(Some(light)) = self.steps.get(step) else { return Harvest::default() };
        let bright = bright.or_else(|| self.mean_brightness(step / self.steps_per_day));
        let sky = match bright {
            Some(share) => Sky::of_global(light.sky.global * Ratio::from(share), light.sky.outside, &light.sun),
            None => light.sky,
        };
        let (mut power, mut amperes) = (Power::default(), 0.0);
        for array in source.arrays.iter().filter_map(|array| arrays.get(*array)) {
            let clean = Ratio::from((1.0 - array.shading.value) * (1.0 - array.soiling.value));
            let on = array.plane.receives(&light.sun, &sky).through_glass() * clean;
            let cell = array.mount.cell(on, light.air, light.wind);
            power += array.strings.delivers(on, cell);
            let suns = (on / HeatFluxDensity::new::<uom::si::heat_flux_density::watt_per_square_meter>(1000.0)).value;
            amperes += suns * array.strings.module.operating_current().value * f64::from(array.strings.parallel);
        }
        let power = power * Ratio::from((1.0 - constants::ARRAY_MISMATCH) * (1.0 - constants::WIRING_LOSS));
        Harvest { power: power.value, amperes: amperes * (1.0 - constants::ARRAY_MISMATCH) }
    }
}

/// What arrays give.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Harvest {
    /// At their best voltage, W.
    pub(super) power: f64,
    /// Straight on a battery, A.
    pub(super) amperes: f64,
}

fn measured(weather: &Weather, at: Timestamp, sun: &Sun) -> Option<Step> {
    let hour = weather.at(at)?;
    let outside = extraterrestrial(at);
    let sky = match (hour.diffuse, hour.beam) {
        (Some(diffuse), beam) => {
            let beam = beam.unwrap_or_else(|| beam_at_normal(hour.global, diffuse, sun));
            Sky { global: hour.global, beam, diffuse, outside }
        }
        _ => Sky::of_global(hour.global, outside, sun),
    };
    Some(Step { sun: *sun, sky, wind: hour.wind, air: hour.air })
}
