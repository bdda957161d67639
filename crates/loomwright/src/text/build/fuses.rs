//! Protective devices by their makers' sheets.

use super::above_zero;
use crate::installation::FuseChoice;
use crate::protection::{Band, Family, Fuse, Gate, ProtectionError, Sheet};
use crate::quantity::{ElectricCurrent, Ratio};
use crate::text::entry::{Entry, File, GateAt, Value};
use crate::text::resolve::{Names, unknown};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// Every sheet in the order of the file; `None` for one that could not be read, which has been told.
pub(super) fn fuses(file: &File<'_>, names: &mut Names<'_>) -> Vec<Option<Sheet>> {
    file.of("fuses").map(|entry| sheet(entry, names)).collect()
}

fn sheet(entry: &Entry, names: &mut Names<'_>) -> Option<Sheet> {
    let family = match Family::named(entry.text("like")?.value) {
        Ok(family) => Some(family),
        Err(error) => {
            names.refuse(entry, "like", error.to_string());
            None
        }
    };
    if matches!(entry.name.as_str(), "auto" | "none") || entry.name.parse::<Fuse>().is_ok() {
        names.error(entry.span.clone(), entry.key(""), "this name says a fuse already; give it one of its own");
    }
    let rating = entry.current("rating")?;
    above_zero(names, entry, "rating", rating.value, 2000.0, "A");
    let stated = |value: Option<f64>| value.unwrap_or(1.0);
    let one = |key: &str| entry.voltage(key).map(|value| value.value);
    above_zero(names, entry, "rated_voltage", stated(one("rated_voltage")), 1500.0, "V");
    above_zero(names, entry, "drop", stated(one("drop")), 1.0, "V");
    above_zero(names, entry, "breaks", stated(entry.current("breaks").map(|value| value.value)), 3e5, "A");
    above_zero(names, entry, "melting", stated(entry.joule("melting").map(|value| value.value)), 1e8, "A²s");
    if entry.ratio("continuous").is_some_and(|share| !(share.value > 0.0 && share.value <= 1.0)) {
        names.refuse(entry, "continuous", "the continuous share is above 0 % and at most 100 %");
    }
    if entry.text("source").is_some_and(|source| source.value.trim().is_empty()) {
        names.refuse(entry, "source", "the sheet that the values are taken from is needed");
    }
    if let Some(family) = family.filter(|family| family.breaker().is_none())
        && let Some(key) = ["polarised", "reset"].into_iter().find(|key| entry.get(key).is_some())
    {
        let message = format!("{key} is a breaker's, and {} is a fuse-link", family.name());
        names.refuse(entry, key, message);
    }
    if entry.get("fastest").is_some() && entry.get("slowest").is_none() {
        names.refuse(
            entry,
            "fastest",
            "the earliest opening is stated beside the latest: slowest = [\"30 min at 135 %\"]",
        );
    }
    if rating.value <= 0.0 {
        return None;
    }
    let band = band(entry, names, rating);
    let family = family?;
    let band = band.map(|band| band.taking(family.least_time()));
    Some(Sheet {
        name: entry.name.clone(),
        source: entry.text("source").map(|at| at.value.to_owned()).unwrap_or_default(),
        fuse: Fuse { family, rating },
        rated_voltage: entry.voltage("rated_voltage"),
        breaks: entry.current("breaks"),
        continuous: entry.ratio("continuous"),
        band,
        melting: entry.joule("melting"),
        drop: entry.voltage("drop"),
        polarised: entry.get("polarised").map(|_| entry.flag("polarised")),
        reset: entry.choice("reset"),
    })
}

/// The band through the stated times, which have to fall with current and not to cross.
fn band(entry: &Entry, names: &mut Names<'_>, rating: ElectricCurrent) -> Option<Band> {
    let at = |place: GateAt| match place {
        GateAt::Share(share) => rating * share.get::<ratio>(),
        GateAt::Current(current) => current,
    };
    let mut gates: Vec<Gate> = Vec::new();
    for (key, slow) in [("slowest", true), ("fastest", false)] {
        for (time, place) in entry.gates(key).unwrap_or_default() {
            let current = at(place);
            if current <= rating * Ratio::new::<ratio>(if slow { 1.0 } else { 0.5 }) {
                let message =
                    format!("at {} A, not above its rating, it has no time to open in", current.get::<ampere>());
                names.refuse(entry, key, message);
            }
            let alone = Gate { current, fastest: None, slowest: None };
            let (fastest, slowest) = if slow { (None, Some(time)) } else { (Some(time), None) };
            // Both edges may turn at one current.
            match gates
                .iter_mut()
                .find(|gate| gate.current == current && if slow { gate.slowest } else { gate.fastest }.is_none())
            {
                Some(gate) if slow => gate.slowest = slowest,
                Some(gate) => gate.fastest = fastest,
                None => gates.push(Gate { fastest, slowest, ..alone }),
            }
        }
    }
    entry.get("slowest")?;
    match Band::through(&gates) {
        Ok(band) => Some(band),
        Err(error) => {
            let key = if matches!(error, ProtectionError::Crossing { .. }) { "fastest" } else { "slowest" };
            names.refuse(entry, if entry.get(key).is_some() { key } else { "slowest" }, error.to_string());
            None
        }
    }
}

/// What a run says of its fuse, and its sheet where it names one; `otherwise` where it says nothing.
pub(super) fn fuse_of(
    entry: &Entry,
    sheets: &[Option<Sheet>],
    file: &File<'_>,
    names: &mut Names<'_>,
    otherwise: FuseChoice,
) -> (FuseChoice, Option<usize>) {
    let Some(Value::FuseNamed(name)) = entry.get("fuse").map(|at| &at.value) else {
        return (entry.fuse("fuse").unwrap_or(otherwise), None);
    };
    let read = sheets.iter().flatten().position(|sheet| sheet.name == *name);
    if let Some((index, sheet)) = read.and_then(|index| Some((index, sheets.iter().flatten().nth(index)?))) {
        return (FuseChoice::Fixed(sheet.fuse), Some(index));
    }
    let known: Vec<String> = file.of("fuses").map(|entry| entry.name.clone()).collect();
    // One that could not be read has been told already.
    if !known.contains(name) {
        let form = "write auto, none, rating and family such as \"15 A blade-c\", or the name of one of [fuses]";
        let message = if known.is_empty() { format!("{name:?} is not a fuse") } else { unknown("fuse", name, &known) };
        names.refuse(entry, "fuse", format!("{message}; {form}"));
    }
    (otherwise, None)
}
