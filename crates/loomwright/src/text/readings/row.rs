//! One row to a reading.

use std::ops::Range;

use uom::si::ratio::ratio;

use super::instrument::{Kind, Number, interval, number, usual, within};
use super::places::Places;
use super::quoted;
use crate::data::tables::constants;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, FromText, Power, Ratio, TemperatureInterval, ThermodynamicTemperature,
    in_celsius,
};
use crate::study::reconcile::{Measured, Point, Reading, Surface};
use crate::text::{deceptive, spells};
use jiff::civil::Date;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

/// The columns and keys of a reading.
pub(super) const COLUMNS: [&str; 10] =
    ["case", "quantity", "at", "against", "value", "accuracy", "ambient", "date", "surface", "note"];
/// Those that a template prints for people; nothing reads them.
pub(super) const SHOWN: [&str; 3] = ["step", "expected", "why"];
/// Most characters that are kept of a note.
const LONGEST_NOTE: usize = 200;

/// Something wrong, and where.
#[derive(Debug)]
pub(super) struct Mistake {
    pub(super) span: Range<usize>,
    pub(super) key: &'static str,
    pub(super) message: String,
}

/// One cell and where it stands.
#[derive(Clone, Debug, Default)]
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) span: Range<usize>,
}

impl Cell {
    fn is_empty(&self) -> bool {
        self.text.is_empty()
    }
}

/// One row, not understood yet.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) line: usize,
    pub(super) span: Range<usize>,
    /// Whether something in it was told already that could not be put into a cell.
    pub(super) spoilt: bool,
    case: Cell,
    quantity: Cell,
    at: Cell,
    against: Cell,
    value: Cell,
    accuracy: Cell,
    ambient: Cell,
    date: Cell,
    surface: Cell,
    note: Cell,
}

/// What a row takes over from the one above it.
pub(super) struct Carried {
    /// What stands at the top of the file, which comes before what stands above.
    case: Option<Cell>,
    date: Option<Cell>,
    ambient: Option<Cell>,
    case_above: Option<Cell>,
    date_above: Option<Cell>,
}

impl Carried {
    pub(super) fn new(top: Option<&Row>) -> Self {
        let stated = |cell: fn(&Row) -> &Cell| top.map(cell).filter(|cell| !cell.is_empty()).cloned();
        Self {
            case: stated(|row| &row.case),
            date: stated(|row| &row.date),
            ambient: stated(|row| &row.ambient),
            case_above: None,
            date_above: None,
        }
    }
}

/// A mistake in a cell; in a cell that was taken over, told where it is missed.
fn wrong<T>(cell: &Cell, key: &'static str, message: Result<T, String>) -> Result<T, Mistake> {
    message.map_err(|message| Mistake { span: cell.span.clone(), key, message })
}

/// What could be read; what could not is put to the rest.
fn keep<T>(read: Result<T, Mistake>, mistakes: &mut Vec<Mistake>) -> Option<T> {
    read.map_err(|mistake| mistakes.push(mistake)).ok()
}

impl Row {
    pub(super) fn new(line: usize, span: Range<usize>) -> Self {
        let place = Cell { text: String::new(), span: span.start..span.start };
        Self {
            line,
            span,
            spoilt: false,
            case: place.clone(),
            quantity: place.clone(),
            at: place.clone(),
            against: place.clone(),
            value: place.clone(),
            accuracy: place.clone(),
            ambient: place.clone(),
            date: place.clone(),
            surface: place.clone(),
            note: place,
        }
    }

    /// The cell of a column.
    pub(super) fn slot(&mut self, column: &str) -> Option<&mut Cell> {
        Some(match column {
            "case" => &mut self.case,
            "quantity" => &mut self.quantity,
            "at" => &mut self.at,
            "against" => &mut self.against,
            "value" => &mut self.value,
            "accuracy" => &mut self.accuracy,
            "ambient" => &mut self.ambient,
            "date" => &mut self.date,
            "surface" => &mut self.surface,
            "note" => &mut self.note,
            _ => return None,
        })
    }

    pub(super) fn value_span(&self) -> Range<usize> {
        self.value.span.clone()
    }

    /// The reading of this row; `None` where nothing was measured.
    pub(super) fn reading(&self, carried: &mut Carried, places: &Places<'_>) -> Result<Option<Reading>, Vec<Mistake>> {
        for (own, above) in [(&self.case, &mut carried.case_above), (&self.date, &mut carried.date_above)] {
            if !own.is_empty() {
                *above = Some(own.clone());
            }
        }
        if self.value.is_empty() || self.spoilt {
            return Ok(None);
        }
        let mut mistakes = Vec::new();
        let case = keep(self.case(carried, places), &mut mistakes);
        let date = keep(self.date(carried), &mut mistakes);
        let ambient = keep(self.ambient(carried), &mut mistakes);
        let measured = self.measured(places, &mut mistakes);
        match (case, date, ambient, measured) {
            (Some(case), Some(date), Some(ambient), Some(measured)) if mistakes.is_empty() => Ok(Some(Reading {
                line: self.line,
                case,
                measured,
                ambient,
                date,
                assumed: self.accuracy.is_empty(),
                note: self.note.text.chars().filter(|letter| !deceptive(*letter)).take(LONGEST_NOTE).collect(),
            })),
            _ => Err(mistakes),
        }
    }

    /// The nearest of what this row, the top of the file and the row above say.
    fn taken<'c>(own: &'c Cell, top: &'c Option<Cell>, above: &'c Option<Cell>) -> Option<&'c Cell> {
        if own.is_empty() { top.as_ref().or(above.as_ref()) } else { Some(own) }
    }

    fn case(&self, carried: &Carried, places: &Places<'_>) -> Result<usize, Mistake> {
        match Self::taken(&self.case, &carried.case, &carried.case_above) {
            Some(cell) => wrong(&self.case, "case", places.case(&cell.text)),
            None if places.plan.cases.len() == 1 => Ok(0),
            None => {
                let message = format!("in which case was this measured? one of: {}", places.cases());
                wrong(&self.case, "case", Err(message))
            }
        }
    }

    fn date(&self, carried: &Carried) -> Result<Option<Date>, Mistake> {
        let cell = Self::taken(&self.date, &carried.date, &carried.date_above);
        cell.map(|cell| wrong(&self.date, "date", spells::date(&cell.text))).transpose()
    }

    fn ambient(&self, carried: &Carried) -> Result<Option<ThermodynamicTemperature>, Mistake> {
        let Some(cell) = Self::taken(&self.ambient, &carried.ambient, &None) else { return Ok(None) };
        let (low, high) = (constants::READING_COLDEST_C, constants::READING_HOTTEST_AIR_C);
        let read = number(Kind::Temperature, &cell.text).and_then(|read| {
            let air = ThermodynamicTemperature::new::<kelvin>(read.si);
            let possible = (low..=high).contains(&in_celsius(air));
            let message = || format!("{} is no air; {low} °C to {high} °C is accepted", quoted(&cell.text));
            possible.then_some(air).ok_or_else(message)
        });
        wrong(&self.ambient, "ambient", read).map(Some)
    }

    fn measured(&self, places: &Places<'_>, mistakes: &mut Vec<Mistake>) -> Option<Measured> {
        let kind: Result<Kind, _> = self.quantity.text.parse();
        let kind = match kind {
            _ if self.quantity.is_empty() => {
                let message = format!("what was measured? one of: {}", Kind::NAMES.join(", "));
                Err(Mistake { span: self.quantity.span.clone(), key: "quantity", message })
            }
            read => wrong(&self.quantity, "quantity", read.map_err(|error| error.to_string())),
        };
        let kind = keep(kind, mistakes)?;
        let value = keep(self.value(kind), mistakes);
        let error = value.and_then(|value| keep(self.within(kind, &value), mistakes));
        if kind != Kind::Voltage && !self.against.is_empty() {
            let message = format!("against goes with voltages; leave it empty for a {kind}");
            mistakes.push(Mistake { span: self.against.span.clone(), key: "against", message });
        }
        if kind != Kind::Temperature && !self.surface.is_empty() {
            let message = format!("surface goes with temperatures; leave it empty for a {kind}");
            mistakes.push(Mistake { span: self.surface.span.clone(), key: "surface", message });
        }
        let at = &self.at;
        let here = |value: Number, error: f64| match kind {
            Kind::Voltage => Ok(Measured::Voltage {
                between: self.between(places)?,
                value: ElectricPotential::new::<volt>(value.si),
                within: ElectricPotential::new::<volt>(error),
            }),
            Kind::Current => Ok(Measured::Current {
                run: wrong(at, "at", places.run(&at.text))?,
                value: ElectricCurrent::new::<ampere>(value.si),
                within: ElectricCurrent::new::<ampere>(error),
            }),
            Kind::Temperature => Ok(Measured::Temperature {
                at: wrong(at, "at", places.point(&at.text))?,
                value: ThermodynamicTemperature::new::<kelvin>(value.si),
                within: TemperatureInterval::new::<kelvins>(error),
                surface: self.surface()?,
            }),
            Kind::Power => Ok(Measured::Power {
                converter: wrong(at, "at", places.inverter(&at.text))?,
                value: Power::new::<watt>(value.si),
                within: Power::new::<watt>(error),
            }),
        };
        // A place is told to be wrong even where the value is.
        let measured = keep(here(value.unwrap_or_default(), error.unwrap_or_default()), mistakes)?;
        (value.is_some() && error.is_some()).then_some(measured)
    }

    fn value(&self, kind: Kind) -> Result<Number, Mistake> {
        let read = number(kind, &self.value.text).and_then(|read| {
            let (possible, range) = kind.possible(&read);
            possible
                .then_some(read)
                .ok_or_else(|| format!("{} cannot be; a {kind} of {range} is accepted", quoted(&self.value.text)))
        });
        wrong(&self.value, "value", read)
    }

    fn within(&self, kind: Kind, value: &Number) -> Result<f64, Mistake> {
        let stated = if self.accuracy.is_empty() { usual(kind) } else { self.accuracy.text.as_str() };
        wrong(&self.accuracy, "accuracy", within(kind, value, stated))
    }

    /// The places of the positive and the negative probe.
    fn between(&self, places: &Places<'_>) -> Result<[Point; 2], Mistake> {
        if self.against.is_empty() {
            if let Some(pair) = places.pair(&self.at.text) {
                return Ok(pair.map(Point::Node));
            }
            // A misspelled place is told as such.
            wrong(&self.at, "at", places.point(&self.at.text))?;
            let message = "a voltage is that of `at` over `against`; alone stands a device, such as \"service\" or \
                           \"charger.out\""
                .to_owned();
            return Err(Mistake { span: self.against.span.clone(), key: "against", message });
        }
        let one = wrong(&self.at, "at", places.point(&self.at.text))?;
        let other = wrong(&self.against, "against", places.point(&self.against.text))?;
        if one == other {
            let message = format!("{} and {} are one place", quoted(&self.at.text), quoted(&self.against.text));
            return Err(Mistake { span: self.against.span.clone(), key: "against", message });
        }
        Ok([one, other])
    }

    fn surface(&self) -> Result<Surface, Mistake> {
        let share = |value: f64| Surface::Emissivity(Ratio::new::<ratio>(value));
        let text = self.surface.text.to_lowercase();
        let form = || {
            let least = constants::EMISSIVITY_LEAST;
            format!(
                "{} is no surface; write probe, tape, paint, bare, or an emissivity of {least} to 1 such as \"emissivity 0.9\"",
                quoted(&self.surface.text)
            )
        };
        let surface = match text.as_str() {
            // Whoever says nothing may have pointed at bare metal, which is the cautious answer.
            "" if self.accuracy.text == "contact-probe" || self.accuracy.text == "thermocouple-k-1" => {
                Ok(Surface::Probe)
            }
            "" | "bare" => Ok(Surface::Bare),
            "probe" => Ok(Surface::Probe),
            "tape" => Ok(share(constants::EMISSIVITY_TAPE)),
            "paint" => Ok(share(constants::EMISSIVITY_PAINT)),
            other => {
                let stated = other.strip_prefix("emissivity").map(str::trim);
                let value = stated.and_then(|stated| {
                    // A bare number is meant here: emissivities are never written otherwise, but 90 % is as clear.
                    stated.parse().ok().or_else(|| Ratio::from_text(stated).ok().map(|share| share.value))
                });
                let known = value.filter(|value: &f64| (constants::EMISSIVITY_LEAST..=1.0).contains(value));
                known.map(share).ok_or_else(form)
            }
        };
        wrong(&self.surface, "surface", surface)
    }

    /// How far the instrument may be off, in words; for readings that exclude each other.
    pub(super) fn with_error(&self, kind: Kind, error: f64) -> String {
        format!("{} ± {}", self.value.text, interval(kind, error))
    }
}
