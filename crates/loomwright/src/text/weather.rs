//! Measured weather from comma-separated values.

use jiff::Timestamp;
use uom::si::heat_flux_density::watt_per_square_meter;
use uom::si::velocity::meter_per_second;

use super::limits::{LARGEST_WEATHER, MOST_WEATHER_MISTAKES};
use super::{PlanError, quoted};
use crate::data::tables::constants;
use crate::names::hint;
use crate::quantity::{HeatFluxDensity, Velocity, celsius};
use crate::source::solar::{Hour, Weather};

const COLUMNS: [&str; 6] = ["time", "global_w_per_m2", "diffuse_w_per_m2", "beam_w_per_m2", "air_c", "wind_m_per_s"];

/// Reads hourly weather: a head with the names of its columns, then one hour in each line.
///
/// `time` is the start of the hour in universal time, such as `2026-01-01T00:00Z`; `global_w_per_m2` (the level) and `air_c`
/// are needed, `diffuse_w_per_m2`, `beam_w_per_m2` (across the beam) and `wind_m_per_s` may be there. Lines that begin with
/// # are passed over.
///
/// ```
/// let weather = loomwright::text::read_weather("time,global_w_per_m2,air_c\n2026-01-01T00:00Z,0,-2\n2026-01-01T01:00Z,0,-3\n");
/// assert!(weather.is_ok());
/// let wrong = loomwright::text::read_weather("time,global_w_per_m2,air_c\n2026-01-01T00:00Z,12,5\n").unwrap();
/// assert_eq!(wrong.covers()[0].to_string(), "2026-01-01T00:00:00Z");
/// ```
///
/// # Errors
/// Every mistake with its line; a gap between hours is one.
pub fn read_weather(text: &str) -> Result<Weather, Vec<PlanError>> {
    if text.len() > LARGEST_WEATHER {
        let message = format!("the file has {} bytes; at most {LARGEST_WEATHER} are read", text.len());
        return Err(vec![PlanError::new(text, 0..0, "weather", message)]);
    }
    let mut reader =
        csv::ReaderBuilder::new().comment(Some(b'#')).trim(csv::Trim::All).flexible(true).from_reader(text.as_bytes());
    let mut errors = Vec::new();
    let head = match reader.headers() {
        Ok(head) => head.clone(),
        Err(error) => return Err(vec![PlanError::new(text, 0..0, "weather", error.to_string())]),
    };
    let start = after_comments(text, 0);
    for name in head.iter().filter(|name| !COLUMNS.contains(name)) {
        let hint = hint(name, &COLUMNS);
        let message = format!("{} is no column of weather{hint}; known: {}", quoted(name), COLUMNS.join(", "));
        errors.push(PlanError::new(text, start..start, "weather", message));
    }
    let places = COLUMNS.map(|column| head.iter().position(|name| name == column));
    for column in ["time", "global_w_per_m2", "air_c"] {
        if !head.iter().any(|name| name == column) {
            let message = format!("the column {column} is needed; a head is for example time,global_w_per_m2,air_c");
            errors.push(PlanError::new(text, start..start, "weather", message));
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    let mut hours = Vec::new();
    let mut starts = Vec::new();
    for record in reader.records() {
        let (at, read) = match record {
            Ok(record) => {
                let at = record.position().map_or(0, |place| usize::try_from(place.byte()).unwrap_or(0));
                let at = after_comments(text, at);
                let fields = [record.len(), head.len()];
                (at, if fields[0] > fields[1] { Err(("weather", too_many(fields))) } else { hour(&record, places) })
            }
            Err(error) => (0, Err(("weather", error.to_string()))),
        };
        match read {
            Ok(hour) => {
                hours.push(hour);
                starts.push(at);
            }
            Err((column, message)) => {
                let end = text.get(at..).and_then(|rest| rest.find('\n')).map_or(text.len(), |length| at + length);
                errors.push(PlanError::new(text, at..end, column, message));
            }
        }
        if errors.len() >= MOST_WEATHER_MISTAKES || hours.len() > Weather::MOST {
            break;
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    Weather::new(hours).map_err(|error| {
        let line = match error {
            crate::source::solar::WeatherError::Order(hour) => starts.get(hour - 1).copied().unwrap_or(0),
            _ => 0,
        };
        vec![PlanError::new(text, line..line, "weather", error.to_string())]
    })
}

/// The first line from a place on that is no comment: positions of the reader stand before those.
fn after_comments(text: &str, mut at: usize) -> usize {
    while let Some(rest) = text.get(at..).filter(|rest| rest.starts_with(['#', '\n', '\r'])) {
        let Some(length) = rest.find('\n') else { break };
        at += length + 1;
    }
    at
}

/// A decimal comma makes two fields of one number.
fn too_many([here, head]: [usize; 2]) -> String {
    format!("this line has {here} fields and the head {head}; decimals are written with a point")
}

fn hour(record: &csv::StringRecord, places: [Option<usize>; 6]) -> Result<Hour, (&'static str, String)> {
    let [time, global, diffuse, beam, air, wind] = places.map(|place| place.and_then(|place| record.get(place)));
    let number = |column: &'static str, text: Option<&str>, low: f64, high: f64| {
        let Some(text) = text.filter(|text| !text.is_empty()) else { return Ok(None) };
        let read = text.parse::<f64>().ok().filter(|value| (low..=high).contains(value));
        let comma = if text.contains(',') { "; decimals are written with a point" } else { "" };
        let message = || format!("{} is not {low} to {high}{comma}", quoted(text));
        read.map(Some).ok_or_else(|| (column, message()))
    };
    let needed = |column: &'static str, value: Option<f64>| {
        value.ok_or_else(|| (column, format!("{column} is missing in this line")))
    };
    let light = |value: f64| HeatFluxDensity::new::<watt_per_square_meter>(value.max(0.0));
    let text = time.unwrap_or_default();
    let start: Timestamp = text.parse().map_err(|_| {
        ("time", format!("{} is no time; write universal time, for example 2026-01-01T00:00Z", quoted(text)))
    })?;
    let global = needed("global_w_per_m2", number("global_w_per_m2", global, -20.0, 2000.0)?)?;
    let air = needed("air_c", number("air_c", air, -70.0, 60.0)?)?;
    Ok(Hour {
        start,
        global: light(global),
        diffuse: number("diffuse_w_per_m2", diffuse, -20.0, 1500.0)?.map(light),
        beam: number("beam_w_per_m2", beam, -20.0, 1500.0)?.map(light),
        air: celsius(air),
        wind: Velocity::new::<meter_per_second>(
            number("wind_m_per_s", wind, 0.0, 100.0)?.unwrap_or(constants::WIND_M_PER_S),
        ),
    })
}
