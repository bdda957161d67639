//! Readings beside their plan as plain data: numbers with the unit in the key.

mod make;
mod words;

use serde::Serialize;

/// Numbers of a reading, each in the unit of its key: what was read and how far the instrument may be off; what the plan
/// expects and how far that may be off and still be as planned; what explains all readings, with half its interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[expect(missing_docs, reason = "the keys say it, and the line above")]
pub enum NumbersRecord {
    /// Of a voltage.
    Volts {
        measured_v: f64,
        within_v: f64,
        planned_v: f64,
        tolerance_v: f64,
        explained_v: f64,
        explained_within_v: f64,
    },
    /// Of a current.
    Amperes {
        measured_a: f64,
        within_a: f64,
        planned_a: f64,
        tolerance_a: f64,
        explained_a: f64,
        explained_within_a: f64,
    },
}

impl NumbersRecord {
    /// Measured, within, planned, tolerance, explained and its half interval; and their unit.
    pub fn all(&self) -> ([f64; 6], &'static str) {
        match *self {
            Self::Volts { measured_v, within_v, planned_v, tolerance_v, explained_v, explained_within_v } => {
                ([measured_v, within_v, planned_v, tolerance_v, explained_v, explained_within_v], "V")
            }
            Self::Amperes { measured_a, within_a, planned_a, tolerance_a, explained_a, explained_within_a } => {
                ([measured_a, within_a, planned_a, tolerance_a, explained_a, explained_within_a], "A")
            }
        }
    }
}

/// A reading beside its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReadingRecord {
    /// Its line; of several files joined, counted on from file to file.
    pub line: usize,
    /// The file, where several were joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// The line in that file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_in_file: Option<usize>,
    /// The operating case.
    pub case: String,
    /// `voltage` or `current`.
    pub quantity: &'static str,
    /// Where the positive probe was held, or the run of a current.
    pub at: String,
    /// Where the negative probe was held.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub against: Option<String>,
    /// Its numbers.
    #[serde(flatten)]
    pub numbers: Option<NumbersRecord>,
    /// Whether what was read and what was planned overlap.
    pub fits: bool,
    /// Why it was left out, in words; `null` where it was used.
    pub left_out: Option<String>,
    /// Whether a usual instrument was assumed.
    pub accuracy_assumed: bool,
    /// What whoever measured wrote beside it.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A piece of a way as measured.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SegmentRecord {
    /// Its segments: more than one where the readings cannot tell them apart.
    pub segments: Vec<String>,
    /// What they are called together.
    pub name: String,
    /// Least, nominal and most of what was planned.
    pub planned_mohm: [f64; 3],
    /// Measured resistance.
    pub measured_mohm: f64,
    /// Half the width of its 95 % interval.
    pub within_mohm: f64,
    /// What it has above the nominal plan.
    pub excess_mohm: f64,
    /// `as-planned`, `not-told`, `watch` or `remake`.
    pub verdict: &'static str,
    /// Why.
    pub reason: String,
    /// The current that it is judged at; the heat below is at that current, with the resistance at the high end of its
    /// interval.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub full_load_a: Option<f64>,
    /// Heat of what is too much.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub watts_w: Option<f64>,
    /// How much hotter than its cable it gets if one cable cools it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rise_k: Option<f64>,
    /// The same with a cable on either side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rise_two_sided_k: Option<f64>,
    /// Temperature of its body, one cable cooling it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub body_c: Option<f64>,
    /// Temperature of the spots where the contact sits.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spot_c: Option<f64>,
    /// What insulation and terminal bear.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit_c: Option<f64>,
    /// The one more reading that would tell most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next: Option<String>,
    /// Lines of the readings that it rests on.
    pub lines: Vec<usize>,
    /// What it has more than when it was last measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth_mohm: Option<f64>,
    /// Half the width of that one's interval.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub growth_within_mohm: Option<f64>,
    /// The day of the earlier readings.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
}

/// A measured quantity of a device; the keys that go with it alone are there.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[expect(missing_docs, reason = "the keys say it, with their unit")]
pub struct DeviceFoundRecord {
    /// `efficiency`, `output`, `resistance` or `charge-voltage`.
    pub quantity: &'static str,
    /// The device.
    pub device: String,
    /// The case, or both of a load step.
    pub cases: Vec<String>,
    /// What is to be said of it.
    pub verdict: &'static str,
    /// Why.
    pub reason: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency_within: Option<f64>,
    /// With losses 1.2 times its curve's, by its curve, with 0.9 times.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub efficiency_planned: Option<[f64; 3]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output_w: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output_a: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub output_within_a: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub available_a: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub voltage_within_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_v: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance_mohm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance_within_mohm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance_planned_mohm: Option<f64>,
}

/// A temperature beside what was expected.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TemperatureRecord {
    /// Its line.
    pub line: usize,
    /// Where.
    pub at: String,
    /// The case.
    pub case: String,
    /// What was read.
    pub measured_c: f64,
    /// What the plan expects at the current that flowed.
    pub expected_c: Option<f64>,
    /// That current.
    pub current_a: f64,
    /// The current that it is judged at.
    pub full_load_a: f64,
    /// Rise over the air at that one; `null` where it must not be carried over.
    pub rise_at_full_load_k: Option<f64>,
    /// What is to be done.
    pub verdict: &'static str,
    /// Why.
    pub reason: String,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DayRecord {
    /// The day; `null` for readings without a date.
    pub date: Option<String>,
    /// Voltages and currents, in the order of the file.
    pub readings: Vec<ReadingRecord>,
    /// Pieces of ways, worst first.
    pub segments: Vec<SegmentRecord>,
    /// Devices.
    pub devices: Vec<DeviceFoundRecord>,
    /// Temperatures.
    pub temperatures: Vec<TemperatureRecord>,
    /// By how much the clamp showed too much everywhere, with half the width of the interval.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_zero_a: Option<[f64; 2]>,
    /// The same in words, with what to do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clamp_zero: Option<String>,
    /// Segments of which nothing is told.
    pub untold: Vec<String>,
}

/// A line that could not be used.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct RefusedRecord {
    /// Its line; of several files joined, counted on from file to file, as far as `file` is not said.
    pub line: usize,
    /// Its column, where the line could not be read.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub column: Option<usize>,
    /// The file, where several were joined.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// The line in that file.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line_in_file: Option<usize>,
    /// Column or key of the file that is wrong; empty where it is the line.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub key: String,
    /// Why.
    pub reason: String,
}

/// A file of readings that was joined with others.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FileRecord {
    /// Its name.
    pub name: String,
    /// The number of its first line among those of all files.
    pub first_line: usize,
    /// The number of its last.
    pub last_line: usize,
}

/// Readings beside their plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReconcileRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Name of the plan.
    pub name: String,
    /// Its rule set.
    pub practice: &'static str,
    /// Whether the plan itself holds: `holds` or `does-not-hold`.
    pub plan_verdict: &'static str,
    /// The worst of what was said last of everything: `as-planned`, `not-told`, `watch` or `remake`.
    pub verdict: &'static str,
    /// What was last said to be remade: pieces, devices, places, each once.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub remake: Vec<String>,
    /// Files, where several were joined: lines count on from one to the next.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub files: Vec<FileRecord>,
    /// Day by day, those without a date first.
    pub days: Vec<DayRecord>,
    /// Lines that could not be used.
    pub refused: Vec<RefusedRecord>,
    /// What was not said and had to be assumed.
    pub assumptions: Vec<String>,
    /// How doubt is counted.
    pub noise_law: &'static str,
    /// What everybody who measures and opens joints should hear.
    pub cautions: Vec<&'static str>,
}

impl From<super::Refused> for RefusedRecord {
    fn from(refused: super::Refused) -> Self {
        Self { line: refused.line, reason: refused.reason, ..Self::default() }
    }
}

impl ReconcileRecord {
    /// How many readings were left out as gross errors.
    pub fn left_out(&self) -> usize {
        self.days.iter().flat_map(|day| &day.readings).filter(|reading| reading.left_out.is_some()).count()
    }

    /// Adds lines that could not be read at all, in order of place.
    pub fn refuse(&mut self, lines: impl IntoIterator<Item = impl Into<RefusedRecord>>) {
        self.refused.extend(lines.into_iter().map(Into::into));
        self.refused.sort_by_key(|one| (one.line, one.column));
    }

    /// Tells file and line in it, for readings of several files whose lines were counted on from file to file.
    pub fn in_files(&mut self, files: Vec<FileRecord>) {
        let place = |line: usize| {
            let file = files.iter().find(|file| (file.first_line..=file.last_line).contains(&line))?;
            Some((file.name.clone(), line + 1 - file.first_line))
        };
        for reading in self.days.iter_mut().flat_map(|day| &mut day.readings) {
            (reading.file, reading.line_in_file) = place(reading.line).unzip();
        }
        for refused in &mut self.refused {
            (refused.file, refused.line_in_file) = place(refused.line).unzip();
        }
        self.files = files;
    }
}
