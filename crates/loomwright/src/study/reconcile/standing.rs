//! What stands after all days: the verdict, what trends are made of, and what is in doubt.

use super::{
    Day, DeviceResult, Found, Measured, Reading, Reconciliation, Refused, Seen, Segment, SegmentResult, Verdict, Warm,
};
use crate::quantity::ElectricalResistance;
use crate::study::judge::Judgement;
use uom::si::electrical_resistance::milliohm;

/// Something of a day that no later day has told again.
pub(super) enum Standing<'a> {
    /// A piece of a way.
    Piece(&'a SegmentResult),
    /// A quantity of a device.
    Device(&'a DeviceResult),
    /// A temperature.
    Warm(&'a Warm),
}

impl Standing<'_> {
    /// What was said of it.
    pub(super) fn verdict(&self) -> Verdict {
        match self {
            Self::Piece(piece) => piece.verdict,
            Self::Device(device) => device.verdict,
            Self::Warm(warm) => warm.verdict,
        }
    }
}

impl Reconciliation {
    /// What was said last of everything. What a day says of a piece stands until a later day tells something of every segment
    /// of it: a bad joint is not forgotten because another one was measured since.
    pub(super) fn standing(&self) -> Vec<Standing<'_>> {
        let telling = |verdict: Verdict| verdict != Verdict::NotTold;
        let of_days = self.days.iter().enumerate().flat_map(|(place, day)| {
            let later = self.days.get(place + 1..).unwrap_or_default();
            let segments = day.segments.iter().filter(move |result| {
                let again = |segment: &Segment| {
                    let mut told = later.iter().flat_map(|day| &day.segments).filter(|later| telling(later.verdict));
                    told.any(|later| later.segments.contains(segment))
                };
                !result.segments.iter().all(again)
            });
            let devices = day.devices.iter().filter(move |result| {
                let same = |other: &&DeviceResult| {
                    other.device == result.device
                        && std::mem::discriminant(&other.found) == std::mem::discriminant(&result.found)
                };
                !later.iter().flat_map(|day| &day.devices).filter(same).any(|other| telling(other.verdict))
            });
            let warm = day.warm.iter().filter(move |warm| {
                let mut again = later.iter().flat_map(|day| &day.warm).filter(|later| later.at == warm.at);
                !again.any(|later| telling(later.verdict))
            });
            segments.map(Standing::Piece).chain(devices.map(Standing::Device)).chain(warm.map(Standing::Warm))
        });
        of_days.collect()
    }

    /// The worst of what was said last of everything.
    pub fn verdict(&self) -> Verdict {
        self.standing().iter().map(Standing::verdict).max().unwrap_or(Verdict::NotTold)
    }

    /// Whether readings were left out as gross errors or refused.
    pub fn doubtful(&self) -> bool {
        let slipped = |day: &Day| day.clamp_zero.is_some() || day.readings.iter().any(|reading| reading.slip.is_some());
        !self.refused.is_empty() || self.days.iter().any(slipped)
    }

    /// What is known of every segment, day by day: what trends and inspections are made of. Where several were only told
    /// together the verdict stands for each, for what is to be remade may sit in any one; the width of their excess is then
    /// infinite, for nobody knows how it is shared out, and no trend is made of it.
    pub fn seen(&self) -> Vec<Seen> {
        let mut found = Vec::new();
        for (day, result) in self.days.iter().flat_map(|day| day.segments.iter().map(move |result| (day, result))) {
            let alone = result.segments.len() == 1;
            let within = if alone { result.within } else { ElectricalResistance::new::<milliohm>(f64::INFINITY) };
            let (date, excess, verdict) = (day.date, result.excess(), result.verdict);
            found.extend(result.segments.iter().map(|segment| Seen {
                segment: *segment,
                date,
                excess,
                within,
                verdict,
            }));
        }
        found
    }

    /// Powers that told nothing, because the inverter's input was not measured beside them.
    pub fn unused(&self, judgement: &Judgement, readings: &[Reading]) -> Vec<Refused> {
        let told = |reading: &Reading, name: &str| {
            let devices = self.days.iter().filter(|day| day.date == reading.date).flat_map(|day| &day.devices);
            let mut found = devices.filter(|one| matches!(one.found, Found::Efficiency { .. }));
            found.any(|one| one.device == name && one.cases.contains(&reading.case))
        };
        let of = |reading: &Reading| {
            let Measured::Power { converter, .. } = reading.measured else { return None };
            let name = judgement.installation.converters.get(converter)?.name.as_str();
            let reason = format!("the power of {name} tells nothing alone: read its input current in the same case");
            (!told(reading, name)).then_some(Refused { line: reading.line, reason })
        };
        readings.iter().filter_map(of).collect()
    }
}
