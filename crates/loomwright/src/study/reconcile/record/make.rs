//! From what was found to plain data.

use super::{
    DayRecord, DeviceFoundRecord, NumbersRecord, ReadingRecord, ReconcileRecord, RefusedRecord, SegmentRecord,
    TemperatureRecord, words,
};
use crate::installation::Installation;
use crate::quantity::{ElectricalResistance, in_celsius};
use crate::study::cable::round9;
use crate::study::judge::Judgement;
use crate::study::reconcile::standing::Standing;
use crate::study::reconcile::{
    Day, DeviceResult, Found, Measured, ReadingResult, Reconciliation, SegmentResult, Verdict, Warm,
};
use crate::study::{cautions, live_cautions};
use uom::si::electrical_resistance::milliohm;

/// How doubt is counted, in a sentence.
const NOISE_LAW: &str = "an instrument's limits count as a rectangle, its deviation as their half-width over √3 (JCGM 100, 4.3.7); \
                         intervals are of 95 %, by the law that the sum of all rectangles has";
/// What is to be done before a joint is opened.
const OPENING: &str = "Before a joint is opened: isolators open, battery fuse out, arrays and shore power unplugged; the battery's own \
                       posts stay live.";

impl NumbersRecord {
    fn of(result: &ReadingResult) -> Option<Self> {
        match (result.reading.measured, result.planned, result.explained) {
            (
                Measured::Voltage { value, within, .. },
                Measured::Voltage { value: planned, within: tolerance, .. },
                Measured::Voltage { value: explained, within: half, .. },
            ) => Some(Self::Volts {
                measured_v: round9(value.value),
                within_v: round9(within.value),
                planned_v: round9(planned.value),
                tolerance_v: round9(tolerance.value),
                explained_v: round9(explained.value),
                explained_within_v: round9(half.value),
            }),
            (
                Measured::Current { value, within, .. },
                Measured::Current { value: planned, within: tolerance, .. },
                Measured::Current { value: explained, within: half, .. },
            ) => Some(Self::Amperes {
                measured_a: round9(value.value),
                within_a: round9(within.value),
                planned_a: round9(planned.value),
                tolerance_a: round9(tolerance.value),
                explained_a: round9(explained.value),
                explained_within_a: round9(half.value),
            }),
            _ => None,
        }
    }
}

fn mohm(resistance: ElectricalResistance) -> f64 {
    round9(resistance.get::<milliohm>())
}

fn case_name(plan: &Installation, case: usize) -> String {
    plan.cases.get(case).map_or_else(String::new, |case| case.name.clone())
}

fn reading(plan: &Installation, result: &ReadingResult) -> ReadingRecord {
    let of = &result.reading;
    let (quantity, at, against) = match of.measured {
        Measured::Voltage { between: [one, other], .. } => ("voltage", one.name(plan), Some(other.name(plan))),
        Measured::Current { run, .. } => {
            ("current", plan.runs.get(run).map_or_else(String::new, |run| run.name.clone()), None)
        }
        Measured::Temperature { at, .. } => ("temperature", at.name(plan), None),
        Measured::Power { converter, .. } => {
            ("power", plan.converters.get(converter).map_or_else(String::new, |one| one.name.clone()), None)
        }
    };
    let numbers = NumbersRecord::of(result);
    let fits = numbers.is_some_and(|numbers| {
        let ([measured, within, planned, tolerance, ..], _) = numbers.all();
        (measured - planned).abs() <= within + tolerance
    });
    ReadingRecord {
        line: of.line,
        file: None,
        line_in_file: None,
        case: case_name(plan, of.case),
        quantity,
        at,
        against,
        numbers,
        fits,
        left_out: result.slip.and_then(|slip| Some(words::slip(slip, &numbers?))),
        accuracy_assumed: of.assumed,
        note: of.note.clone(),
    }
}

fn segment(judgement: &Judgement, result: &SegmentResult) -> SegmentRecord {
    let plan = &judgement.installation;
    let warmth = result.warmth.as_ref();
    let growth = result.growth.as_ref();
    SegmentRecord {
        segments: result.segments.iter().map(|segment| segment.name(plan)).collect(),
        name: result.name(judgement),
        planned_mohm: result.planned.map(mohm),
        measured_mohm: mohm(result.measured),
        within_mohm: mohm(result.within),
        excess_mohm: mohm(result.excess()),
        verdict: result.verdict.name(),
        reason: result.reason.clone(),
        full_load_a: warmth.map(|warmth| round9(warmth.current.value)),
        watts_w: warmth.map(|warmth| round9(warmth.one_sided.watts.value)),
        rise_k: warmth.map(|warmth| round9(warmth.one_sided.rise.value)),
        rise_two_sided_k: warmth.and_then(|warmth| Some(round9(warmth.two_sided?.rise.value))),
        body_c: warmth.map(|warmth| round9(in_celsius(warmth.one_sided.body))),
        spot_c: warmth.map(|warmth| round9(in_celsius(warmth.one_sided.spot))),
        limit_c: warmth.map(|warmth| round9(in_celsius(warmth.limit))),
        next: result.next.map(|next| next.words(plan)),
        lines: result.lines.clone(),
        growth_mohm: growth.map(|growth| mohm(growth.by)),
        growth_within_mohm: growth.map(|growth| mohm(growth.within)),
        since: growth.and_then(|growth| growth.since).map(|date| date.to_string()),
    }
}

fn device(plan: &Installation, result: &DeviceResult) -> DeviceFoundRecord {
    let base = DeviceFoundRecord {
        device: result.device.clone(),
        cases: result.cases.iter().map(|case| case_name(plan, *case)).collect(),
        verdict: result.verdict.name(),
        reason: result.reason.clone(),
        ..DeviceFoundRecord::default()
    };
    match result.found {
        Found::Efficiency { measured, within, planned, output } => DeviceFoundRecord {
            quantity: "efficiency",
            efficiency: Some(round9(measured.value)),
            efficiency_within: Some(round9(within.value)),
            efficiency_planned: Some(planned.map(|one| round9(one.value))),
            output_w: Some(round9(output.value)),
            ..base
        },
        Found::Output { measured, within, available, voltage } => DeviceFoundRecord {
            quantity: "output",
            output_a: Some(round9(measured.value)),
            output_within_a: Some(round9(within.value)),
            available_a: Some(round9(available.value)),
            voltage_v: Some(round9(voltage.value)),
            ..base
        },
        Found::Resistance { measured, within, planned } => DeviceFoundRecord {
            quantity: "resistance",
            resistance_mohm: Some(mohm(measured)),
            resistance_within_mohm: Some(mohm(within)),
            resistance_planned_mohm: Some(mohm(planned)),
            ..base
        },
        Found::ChargeVoltage { measured, within, set, most } => DeviceFoundRecord {
            quantity: "charge-voltage",
            voltage_v: Some(round9(measured.value)),
            voltage_within_v: Some(round9(within.value)),
            set_v: Some(round9(set.value)),
            most_v: Some(round9(most.value)),
            ..base
        },
    }
}

fn temperature(plan: &Installation, warm: &Warm) -> TemperatureRecord {
    TemperatureRecord {
        line: warm.line,
        at: warm.at.clone(),
        case: case_name(plan, warm.case),
        measured_c: round9(in_celsius(warm.measured)),
        expected_c: warm.expected.map(|expected| round9(in_celsius(expected))),
        current_a: round9(warm.current.value),
        full_load_a: round9(warm.full.value),
        rise_at_full_load_k: warm.at_full_load.map(|rise| round9(rise.value)),
        verdict: warm.verdict.name(),
        reason: warm.reason.clone(),
    }
}

fn day(judgement: &Judgement, day: &Day) -> DayRecord {
    let plan = &judgement.installation;
    DayRecord {
        date: day.date.map(|date| date.to_string()),
        readings: day.readings.iter().map(|result| reading(plan, result)).collect(),
        segments: day.segments.iter().map(|result| segment(judgement, result)).collect(),
        devices: day.devices.iter().map(|result| device(plan, result)).collect(),
        temperatures: day.warm.iter().map(|warm| temperature(plan, warm)).collect(),
        clamp_zero_a: day.clamp_zero.map(|zero| zero.map(|current| round9(current.value))),
        clamp_zero: day.clamp_zero.map(|[off, within]| words::clamp_zero(off.value, within.value)),
        untold: day.untold.iter().map(|segment| segment.name(plan)).collect(),
    }
}

impl Reconciliation {
    /// Names of what was last said to be remade.
    fn remake(&self, judgement: &Judgement) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for standing in self.standing().iter().filter(|one| one.verdict() == Verdict::Remake) {
            let name = match standing {
                Standing::Piece(piece) => piece.name(judgement),
                Standing::Device(device) => device.device.clone(),
                Standing::Warm(warm) => warm.at.clone(),
            };
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Readings beside their plan as plain data.
    pub fn record(&self, judgement: &Judgement) -> ReconcileRecord {
        let plan = &judgement.installation;
        ReconcileRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            name: self.name.clone(),
            practice: plan.practice.name(),
            plan_verdict: if judgement.holds() { "holds" } else { "does-not-hold" },
            verdict: self.verdict().name(),
            remake: self.remake(judgement),
            files: Vec::new(),
            days: self.days.iter().map(|one| day(judgement, one)).collect(),
            refused: self.refused.iter().cloned().map(RefusedRecord::from).collect(),
            assumptions: self.assumptions.clone(),
            noise_law: NOISE_LAW,
            cautions: live_cautions().iter().chain([&OPENING]).chain(cautions()).copied().collect(),
        }
    }
}
