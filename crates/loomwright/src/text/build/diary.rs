//! Places, stays, arrays, and when loads run.

use uom::si::ratio::ratio;
use uom::si::time::{hour, second};

use super::{Ground, above_zero};
use crate::data::tables::{constants, sources};
use crate::installation::{Array, ClockSpan, ConverterKind, Days, Load, Location, Stay, Usage};
use crate::names::UnknownName;
use crate::quantity::{Power, Ratio, Time, ToText, in_celsius, in_degrees};
use crate::source::solar::{Climate, ClimateName, Module, Mount, Plane, Site, Strings};
use crate::text::entry::{Entry, File};
use crate::text::limits::{LONGEST_STAY_DAYS, MOST_SPELLS, MOST_STAYS};
use crate::text::resolve::{Names, unknown};

/// A share between these, or the usual one.
fn share(entry: &Entry, names: &mut Names<'_>, key: &str, usual: f64, most: f64) -> Ratio {
    let stated = entry.ratio(key);
    if stated.is_some_and(|stated| !(0.0..=most).contains(&stated.value)) {
        names.refuse(entry, key, format!("{key} is 0 % to {:.0} %", 100.0 * most));
    }
    stated.unwrap_or_else(|| Ratio::new::<ratio>(usual))
}

/// The place of a converter of a kind in the order in which converters are built.
fn converter_place(file: &File<'_>, names: &mut Names<'_>, entry: &Entry) -> Option<usize> {
    let at = entry.text("controller")?;
    let is_controller = |one: &Entry| one.choice("kind") == Some(ConverterKind::SolarController);
    let all: Vec<&Entry> = file.of("converters").filter(|one| one.choice::<ConverterKind>("kind").is_some()).collect();
    let found = all.iter().position(|one| one.name == at.value && is_controller(one));
    if found.is_none() {
        let known: Vec<String> = all.iter().filter(|one| is_controller(one)).map(|one| one.name.clone()).collect();
        names.refuse(entry, "controller", unknown("solar controller", at.value, &known));
    }
    found
}

pub(super) fn arrays(file: &File<'_>, names: &mut Names<'_>, ground: &mut Ground) -> Vec<Array> {
    file.of("arrays").filter_map(|entry| array(file, entry, names, ground)).collect()
}

fn array(file: &File<'_>, entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<Array> {
    let controller = converter_place(file, names, entry);
    let subject = format!("array {}", entry.name);
    let (power, open_voltage) = (entry.power("power")?, entry.voltage("open_voltage")?);
    let short_circuit = entry.current("short_circuit")?;
    above_zero(names, entry, "power", power.value, 2000.0, "W");
    above_zero(names, entry, "open_voltage", open_voltage.value, 150.0, "V");
    above_zero(names, entry, "short_circuit", short_circuit.value, 50.0, "A");
    let operating_voltage = entry.voltage("operating_voltage").unwrap_or_else(|| {
        let usual = open_voltage * constants::OPERATING_OVER_OPEN;
        ground.assume(
            &subject,
            format!("modules work at {} (0.82 of open)", usual.to_text()),
            &sources::SOLAR_COMMON_PRACTICE,
        );
        usual
    });
    if operating_voltage.value <= 0.0 || operating_voltage >= open_voltage {
        names.refuse(entry, "operating_voltage", "a module works above 0 V and below its open-circuit voltage");
    } else if (power / operating_voltage) > short_circuit * 1.02 {
        let message = format!(
            "{} at {} is more current than its short circuit gives: one of them is wrong",
            power.to_text(),
            operating_voltage.to_text()
        );
        names.refuse(entry, "power", message);
    }
    let mut per_kelvin = |key: &str, usual: f64, says: &str| {
        let stated = entry.ratio(key);
        if stated.is_some_and(|stated| !(-0.01..=0.0).contains(&stated.value)) {
            names.refuse(entry, key, format!("{key} is −1 % to 0 %: modules lose with warmth"));
        }
        stated.unwrap_or_else(|| {
            ground.assume(&subject, says, &sources::SOLAR_COMMON_PRACTICE);
            Ratio::new::<ratio>(usual)
        })
    };
    let power_per_kelvin = per_kelvin("power_per_kelvin", constants::POWER_PER_K, "power falls by 0.4 % a kelvin");
    let voltage_per_kelvin =
        per_kelvin("voltage_per_kelvin", constants::VOLTAGE_PER_K, "open-circuit voltage falls by 0.33 % a kelvin");
    for key in ["largest_fuse", "string_fuse"] {
        above_zero(names, entry, key, entry.current(key).map_or(1.0, |value| value.value), 100.0, "A");
    }
    if entry.get("soiling").is_none() {
        ground.assume(&subject, "dirt takes 5 % of its light", &sources::SOLAR_COMMON_PRACTICE);
    }
    if entry.get("shading").is_none() {
        ground.assume(&subject, "nothing shades it", &sources::SOLAR_COMMON_PRACTICE);
    }
    let module = Module {
        power,
        open_voltage,
        operating_voltage,
        short_circuit,
        power_per_kelvin,
        voltage_per_kelvin,
        series_fuse: entry.current("largest_fuse"),
    };
    Some(Array {
        name: entry.name.clone(),
        controller: controller?,
        strings: Strings {
            module,
            series: entry.count("series").unwrap_or(1),
            parallel: entry.count("strings").unwrap_or(1),
        },
        plane: plane(entry, names)?,
        mount: entry.choice("mount").unwrap_or(Mount::Roof),
        shading: share(entry, names, "shading", 0.0, 0.95),
        soiling: share(entry, names, "soiling", constants::SOILING, 0.5),
        string_fuse: entry.current("string_fuse"),
    })
}

fn plane(entry: &Entry, names: &mut Names<'_>) -> Option<Plane> {
    let Some(tilt) = entry.angle("tilt") else {
        if entry.get("azimuth").is_some() {
            names.refuse(entry, "azimuth", "an azimuth goes with tilt: a flat array faces nowhere");
        }
        return Some(Plane::flat());
    };
    let azimuth = entry.angle("azimuth");
    if azimuth.is_none() && tilt.value > 0.0 && entry.get("azimuth").is_none() {
        names.refuse(entry, "tilt", "azimuth is needed beside it, for example azimuth = \"180°\" for south");
    }
    let key = if (0.0..=90.0).contains(&in_degrees(tilt)) { "azimuth" } else { "tilt" };
    let made = Plane::new(tilt, azimuth.unwrap_or_default());
    made.map_err(|error| names.refuse(entry, key, error.to_string())).ok()
}

/// When a load runs, with its share of those hours.
pub(super) fn usage(entry: &Entry, duty: Ratio, names: &mut Names<'_>) -> Usage {
    let hours = entry.spans("hours").unwrap_or_else(|| vec![ClockSpan::day()]);
    let length = hours.iter().fold(Time::default(), |sum, span| sum + span.length());
    if length.get::<hour>() > 24.0 + 1e-9 {
        names.refuse(entry, "hours", format!("these parts overlap: together they last {:.1} h", length.get::<hour>()));
    }
    let mut share = duty;
    if let Some(per_day) = entry.time("per_day") {
        if entry.get("duty").is_some() {
            names.refuse(entry, "per_day", "per_day and duty say the same: write one of them");
        }
        if !(per_day.value > 0.0 && per_day <= length) {
            let message = format!("per_day is above 0 h and at most the {} of its hours", length_text(length));
            names.refuse(entry, "per_day", message);
        }
        share = per_day / length;
    }
    let standby = entry.power("standby");
    above_zero(names, entry, "standby", standby.map_or(1.0, |value| value.value), 1000.0, "W");
    Usage {
        hours,
        months: entry.months("months").unwrap_or([true; 12]),
        share,
        standby: standby.unwrap_or_else(|| Power::new::<uom::si::power::watt>(0.0)),
    }
}

fn length_text(length: Time) -> String {
    format!("{} h", crate::quantity::significant(length.get::<hour>(), 4))
}

pub(super) fn places(file: &File<'_>, names: &mut Names<'_>, ground: &mut Ground) -> Vec<Location> {
    let mut found = Vec::new();
    for entry in file.of("places") {
        let (climate, climate_source) = climate(entry, names);
        let (Some(latitude), Some(longitude)) = (entry.angle("latitude"), entry.angle("longitude")) else { continue };
        let altitude = entry.length("altitude").unwrap_or_default();
        let site = Site::new(latitude, longitude, altitude);
        let told = site.map_err(|error| {
            use crate::source::solar::SolarError::{Altitude, Longitude};
            let key = match error {
                Longitude(_) => "longitude",
                Altitude(_) => "altitude",
                _ => "latitude",
            };
            names.refuse(entry, key, error.to_string());
        });
        let Ok(site) = told else { continue };
        let subject = format!("place {}", entry.name);
        let clock = entry.time("clock").unwrap_or_else(|| {
            let usual = Time::new::<hour>((in_degrees(longitude) / 15.0).round());
            let text = format!("clocks stand at universal time {:+.0} h all year", usual.get::<hour>());
            ground.assume(&subject, text, &sources::DIARY_COMMON_PRACTICE);
            usual
        });
        if !(-14.0..=14.0).contains(&clock.get::<hour>()) {
            names.refuse(entry, "clock", "clocks are −14 h to 14 h ahead of universal time, for example \"1 h\"");
        }
        found.push(Location { name: entry.name.clone(), site, clock, climate, climate_source });
    }
    found
}

fn climate(entry: &Entry, names: &mut Names<'_>) -> (Option<Climate>, Option<&'static crate::data::Source>) {
    let stated = ["irradiation", "air"].map(|key| entry.get(key).is_some());
    if let Some(name) = entry.text("climate") {
        if stated.contains(&true) {
            names.refuse(entry, "climate", "climate and irradiation say the same: write one of them");
        }
        return match name.value.parse::<ClimateName>() {
            Ok(name) => (Some(name.climate()), name.source()),
            Err(error) => {
                names.refuse(entry, "climate", UnknownName::to_string(&error));
                (None, None)
            }
        };
    }
    match stated {
        [true, false] => names.refuse(entry, "irradiation", "air is needed beside it: twelve mean temperatures"),
        [false, true] => names.refuse(entry, "air", "irradiation is needed beside it: twelve days' irradiation"),
        _ => {}
    }
    let made = entry.irradiations("irradiation").zip(entry.temperatures("air"));
    let made = made.and_then(|(irradiation, air)| {
        let key =
            if air.iter().all(|mean| (-60.0..=50.0).contains(&in_celsius(*mean))) { "irradiation" } else { "air" };
        Climate::new(irradiation, air).map_err(|error| names.refuse(entry, key, error.to_string())).ok()
    });
    (made, None)
}

/// The loads that a stay names.
fn references(entry: &Entry, loads: &[Load], names: &mut Names<'_>) -> Option<Vec<usize>> {
    let known: Vec<String> = loads.iter().map(|load| load.name.clone()).collect();
    let mut found = Vec::new();
    for text in entry.texts("loads")? {
        match known.iter().position(|name| *name == text.value) {
            Some(load) => found.push(load),
            None => names.error(text.span.clone(), entry.key("loads"), unknown("load", &text.value, &known)),
        }
    }
    Some(found)
}

pub(super) fn stays(
    file: &File<'_>,
    places: &[Location],
    loads: &[Load],
    names: &mut Names<'_>,
    ground: &mut Ground,
) -> Vec<Stay> {
    let mut found: Vec<(Stay, &Entry)> = Vec::new();
    for (count, entry) in file.of("stays").enumerate() {
        if count >= MOST_STAYS {
            names.error(entry.span.clone(), entry.key(""), format!("at most {MOST_STAYS} stays of one plan are read"));
            break;
        }
        if let Some(key) =
            ["driving", "shore"].into_iter().find(|key| entry.spells(key).is_some_and(|all| all.len() > MOST_SPELLS))
        {
            names.refuse(entry, key, format!("{key} has at most {MOST_SPELLS} entries"));
            continue;
        }
        let place = entry.text("place").and_then(|at| {
            let known: Vec<String> = file.of("places").map(|place| place.name.clone()).collect();
            if !known.iter().any(|name| name == at.value) {
                names.refuse(entry, "place", unknown("place", at.value, &known));
            }
            places.iter().position(|place| place.name == at.value)
        });
        let (Some(place), Some(from), Some(to)) = (place, entry.date("from"), entry.date("to")) else { continue };
        if to < from {
            names.refuse(entry, "to", format!("a stay ends on the day it begins or later; this one begins on {from}"));
            continue;
        }
        let spells = |key: &str| entry.spells(key).unwrap_or_default().into_iter().map(|at| at.value).collect();
        let stay = Stay {
            name: entry.name.clone(),
            place,
            from,
            to,
            driving: spells("driving"),
            shore: spells("shore"),
            loads: references(entry, loads, names),
            idle_share: share(entry, names, "idle_share", constants::IDLE_SHARE, 1.0),
            start_charge: entry.ratio("start_charge"),
            battery_temperature: entry.temperature("battery_temperature"),
        };
        if stay.days() > LONGEST_STAY_DAYS {
            names.refuse(
                entry,
                "to",
                format!("a stay lasts {LONGEST_STAY_DAYS} days at most; this one {}", stay.days()),
            );
        }
        share(entry, names, "start_charge", 1.0, 1.0);
        if stay.battery_temperature.is_some_and(|at| !(-40.0..=60.0).contains(&in_celsius(at))) {
            names.refuse(entry, "battery_temperature", "a battery's temperature is −40 °C to 60 °C");
        }
        if !stay.driving.is_empty() && entry.get("idle_share").is_none() {
            let text = "20 % of each drive is at idle";
            ground.assume(format!("stay {}", entry.name), text, &sources::DIARY_COMMON_PRACTICE);
        }
        overlapping(&stay, entry, names);
        found.push((stay, entry));
    }
    found.sort_by_key(|(stay, _)| (stay.from, stay.to));
    for pair in found.windows(2) {
        if let [(one, _), (next, entry)] = pair
            && next.from <= one.to
        {
            let message = format!("it overlaps the stay {}, whose last day is {}", one.name, one.to);
            names.refuse(entry, "from", message);
        }
    }
    found.into_iter().map(|(stay, _)| stay).collect()
}

/// Spells of one kind must not overlap one another, nor driving overlap shore power.
fn overlapping(stay: &Stay, entry: &Entry, names: &mut Names<'_>) {
    let part = 300.0;
    let spells = || stay.driving.iter().chain(&stay.shore);
    // A week shows what is on days of the week; dates that are named are looked at one by one, and the day after each.
    let named = spells().filter_map(|spell| if let Days::Dates(dates) = &spell.on { Some(dates) } else { None });
    let named = named.flatten().copied().flat_map(|date| [Some(date), date.tomorrow().ok()]).flatten();
    let mut dates: Vec<jiff::civil::Date> = std::iter::successors(Some(stay.from), |date| date.tomorrow().ok())
        .take(8)
        .chain(named)
        .filter(|date| (stay.from..=stay.to).contains(date))
        .collect();
    dates.sort_unstable();
    dates.dedup();
    for date in dates {
        for slot in 0..288_u32 {
            let [start, end] = [0.0, 1.0].map(|next| Time::new::<second>(part * (f64::from(slot) + next)));
            let sum = |spells: &[crate::installation::Spell]| {
                spells.iter().fold(0.0, |sum, spell| sum + spell.overlap(date, start, end).value)
            };
            let (driving, shore) = (sum(&stay.driving), sum(&stay.shore));
            let at = format!("on {date} at {:02}:{:02}", slot / 12, slot % 12 * 5);
            if driving > part + 1e-6 {
                return names.refuse(entry, "driving", format!("two drives overlap {at}"));
            }
            if shore > part + 1e-6 {
                return names.refuse(entry, "shore", format!("two spells of shore power overlap {at}"));
            }
            if driving > 0.0 && shore > 0.0 && driving + shore > part + 1e-6 {
                return names.refuse(entry, "shore", format!("it is driven with shore power connected {at}"));
            }
        }
    }
}
