//! A readings file to fill in, from the plan, in walking order.

use std::fmt::Write as _;

use super::harmless;
use super::instrument::{Kind, classes, usual};
use super::places::written;
use crate::installation::Installation;
use crate::names::named;
use crate::quantity::{in_celsius, significant};
use crate::study::judge::Judgement;
use crate::study::reconcile::{Measured, Stop, walk};
use crate::study::{cautions, live_cautions};
use crate::text::deceptive;

named! {
    /// In which form a readings file is written.
    TemplateForm, "form of readings", {
        /// Comma-separated values.
        Csv => "csv",
        /// TOML.
        Toml => "toml",
    }
}

const HEAD: [&str; 13] = [
    "step", "case", "quantity", "at", "against", "value", "expected", "accuracy", "ambient", "date", "surface", "note",
    "why",
];

/// A readings file to fill in: for each case what to switch on, and the places in walking order with what the plan lets
/// expect and the usual instrument. It reads back as no readings at all until values stand in it.
///
/// The plan must be the judged one, with every fuse chosen; [`read_readings`](super::read_readings) takes what it writes
/// for that plan and for the one as it was read.
///
/// ```
/// use loomwright::study::judge::judge;
/// use loomwright::text::{TemplateForm, read_plan, read_readings, readings_template};
/// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let template = readings_template(&judge(&plan)?, TemplateForm::Csv);
/// let read = read_readings(&template, &plan);
/// assert!(read.readings.is_empty() && read.refused.is_empty());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn readings_template(judgement: &Judgement, form: TemplateForm) -> String {
    let plan = &judgement.installation;
    let mut out = String::new();
    if form == TemplateForm::Toml {
        out.push_str("format = 1\n");
    }
    preface(&mut out, plan, form);
    if form == TemplateForm::Csv {
        line(&mut out, HEAD.map(str::to_owned));
    }
    let mut step = 0;
    for round in walk(judgement) {
        let case = plan.cases.get(round.case).map_or("", |case| case.name.as_str());
        comment(&mut out, "");
        comment(&mut out, &format!("Case {case}"));
        for told in &round.switch_on {
            comment(&mut out, &format!("  {told}"));
        }
        for stop in &round.stops {
            step += 1;
            let entry = Entry::of(plan, stop);
            match form {
                TemplateForm::Csv => entry.line(&mut out, step, case),
                TemplateForm::Toml => entry.table(&mut out, step, case),
            }
        }
    }
    out
}

/// A comment of both forms, on one line whatever stands in a name.
fn comment(out: &mut String, text: &str) {
    let text: String = text.chars().map(|letter| if deceptive(letter) { ' ' } else { letter }).collect();
    let _ = writeln!(out, "{}", format!("# {text}").trim_end());
}

fn preface(out: &mut String, plan: &Installation, form: TemplateForm) {
    comment(out, &format!("Readings of {}. Fill in what you measure; what stays empty was not measured.", plan.name));
    for caution in live_cautions().iter().chain(cautions()) {
        comment(out, &format!("! {caution}"));
    }
    let values =
        "Values carry their unit and a decimal point: 12.63 V, 3.1 mV, 41.5 A, 38 °C, 650 W. Write every digit shown.";
    let currents =
        "A current counts positive from the start of its run to its end. voltage is that of at over against.";
    let names = Kind::ALL.iter().map(|kind| format!("{kind}: {}", classes(*kind).join(", "))).collect::<Vec<_>>();
    comment(out, values);
    comment(out, currents);
    comment(out, "accuracy: 0.5 % + 2 digits, 0.5 % + 3 mV, class 1.5 of 100 A, or the name of a usual instrument:");
    for names in names {
        comment(out, &format!("  {names}"));
    }
    comment(
        out,
        "surface of a temperature: probe, tape, paint, bare, emissivity 0.9. Places in a run: RUN@start, RUN@fuse, RUN@end.",
    );
    let above = "An empty case or date is that of the line above";
    comment(out, &format!("date: 2026-11-27. ambient: air at the place, 21 °C. {above}."));
    comment(out, "expected is what the plan gives with the hottest air of its zones; it is there for the eye only.");
    if form == TemplateForm::Toml {
        comment(out, "What holds for all of them may stand here, without the #:");
        comment(out, "date = 2026-11-27");
        comment(out, "ambient = \"21 °C\"");
    }
}

/// One place to measure at, as texts.
struct Entry {
    kind: Kind,
    at: String,
    against: String,
    expected: String,
    why: String,
}

/// Four significant digits, small voltages in millivolts.
fn shown(value: f64, unit: &str) -> String {
    if unit == "V" && value.abs() < 1.0 {
        format!("{} mV", significant(value * 1e3, 4))
    } else {
        format!("{} {unit}", significant(value, 4))
    }
}

impl Entry {
    fn of(plan: &Installation, stop: &Stop) -> Self {
        let mut against = String::new();
        let (kind, at, expected) = match stop.measured {
            Measured::Voltage { between: [one, other], value, .. } => {
                against = written(plan, other);
                (Kind::Voltage, written(plan, one), shown(value.value, "V"))
            }
            Measured::Current { run, value, .. } => {
                let name = plan.runs.get(run).map_or_else(String::new, |run| run.name.clone());
                (Kind::Current, name, shown(value.value, "A"))
            }
            Measured::Temperature { at, value, .. } => {
                (Kind::Temperature, written(plan, at), shown(in_celsius(value), "°C"))
            }
            Measured::Power { converter, value, .. } => {
                let name = plan.converters.get(converter).map_or_else(String::new, |one| one.name.clone());
                (Kind::Power, name, shown(value.value, "W"))
            }
        };
        Self { kind, at, against, expected, why: stop.why.text(plan) }
    }

    fn line(self, out: &mut String, step: usize, case: &str) {
        let [case, at, against, expected, why] =
            [case, &self.at, &self.against, &self.expected, &self.why].map(harmless);
        let (none, kind, accuracy) = (String::new, self.kind.name().to_owned(), usual(self.kind).to_owned());
        let step = step.to_string();
        let cells = [step, case, kind, at, against, none(), expected, accuracy, none(), none(), none(), none(), why];
        line(out, cells);
    }

    fn table(self, out: &mut String, step: usize, case: &str) {
        let _ = writeln!(out, "\n[[readings]] # {step}");
        let accuracy = usual(self.kind);
        let keys = [
            ("case", case),
            ("quantity", self.kind.name()),
            ("at", &self.at),
            ("against", &self.against),
            ("expected", &self.expected),
            ("value", ""),
            ("accuracy", accuracy),
            ("why", &self.why),
        ];
        for (key, text) in keys {
            if key == "value" || !text.is_empty() {
                let _ = writeln!(out, "{key} = {}", toml::Value::String(text.to_owned()));
            }
        }
    }
}

/// One line of comma-separated values.
fn line<const CELLS: usize>(out: &mut String, cells: [String; CELLS]) {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::Any(b'\n')).from_writer(Vec::new());
    // Writing into memory does not fail.
    let written = writer.write_record(cells).ok().and_then(|()| writer.into_inner().ok());
    out.push_str(&written.and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default());
}
