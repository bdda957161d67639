//! Readings of one place, case and day that exclude each other.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::instrument::Kind;
use super::row::{Mistake, Row};
use crate::study::reconcile::{Measured, Point, Reading};

/// What was measured, without its value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    Voltage([Point; 2]),
    Current(usize),
    Temperature(Point),
    Power(usize),
}

/// Place, value and error of a reading, the probes of a voltage always the same way round.
fn place(measured: &Measured) -> (Place, Kind, f64, f64) {
    match *measured {
        Measured::Voltage { between: [one, other], value, within } if other < one => {
            (Place::Voltage([other, one]), Kind::Voltage, -value.value, within.value)
        }
        Measured::Voltage { between, value, within } => {
            (Place::Voltage(between), Kind::Voltage, value.value, within.value)
        }
        Measured::Current { run, value, within } => (Place::Current(run), Kind::Current, value.value, within.value),
        Measured::Temperature { at, value, within, .. } => {
            (Place::Temperature(at), Kind::Temperature, value.value, within.value)
        }
        Measured::Power { converter, value, within } => {
            (Place::Power(converter), Kind::Power, value.value, within.value)
        }
    }
}

/// One reading of a place: its number in the file, and the ends of what it may be.
struct Span {
    index: usize,
    low: f64,
    high: f64,
}

/// The readings without those that exclude another one; which of two is right nobody knows, so neither is used.
pub(super) fn consistent(read: Vec<(Reading, Row)>, mistakes: &mut Vec<Mistake>) -> Vec<Reading> {
    let mut groups: BTreeMap<(usize, Option<Date>, Place), Vec<Span>> = BTreeMap::new();
    for (index, (reading, _)) in read.iter().enumerate() {
        let (place, _, value, error) = place(&reading.measured);
        let span = Span { index, low: value - error, high: value + error };
        groups.entry((reading.case, reading.date, place)).or_default().push(span);
    }
    // By number: the one that it excludes.
    let mut excluded: BTreeMap<usize, usize> = BTreeMap::new();
    for spans in groups.values() {
        let lowest = spans.iter().min_by(|one, other| one.high.total_cmp(&other.high));
        let highest = spans.iter().max_by(|one, other| one.low.total_cmp(&other.low));
        let (Some(lowest), Some(highest)) = (lowest, highest) else { continue };
        for span in spans {
            if lowest.high < span.low {
                excluded.insert(span.index, lowest.index);
            } else if highest.low > span.high {
                excluded.insert(span.index, highest.index);
            }
        }
    }
    for (index, other) in &excluded {
        let (Some((reading, row)), Some((against, by))) = (read.get(*index), read.get(*other)) else { continue };
        let ((_, kind, _, error), (_, _, _, their)) = (place(&reading.measured), place(&against.measured));
        let (here, there) = (row.with_error(kind, error), by.with_error(kind, their));
        let message = format!(
            "{here} here and {there} in line {} are of one place, case and date and exclude each other; neither is used: \
             strike the wrong one, or give it another date",
            by.line
        );
        mistakes.push(Mistake { span: row.value_span(), key: "value", message });
    }
    let kept = read.into_iter().enumerate().filter(|(index, _)| !excluded.contains_key(index));
    kept.map(|(_, (reading, _))| reading).collect()
}
