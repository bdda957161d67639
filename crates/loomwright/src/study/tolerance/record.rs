//! The result as plain data: numbers with the unit in the key.

use serde::Serialize;

use super::{LimitTolerance, Spreads, Tolerance};
use crate::data::tables::{constants, sources};
use crate::finding::Signal;
use crate::study::cable::{AssumptionRecord, round9};

/// One limit over all variants.
#[derive(Clone, Debug, Serialize)]
pub struct LimitRecord {
    /// The rule.
    pub rule: &'static str,
    /// What it is about.
    pub subject: String,
    /// The case of least margin in the judged plan.
    pub case: String,
    /// How far the judged plan meets it.
    pub margin: f64,
    /// In how many variants it is kept.
    pub kept: usize,
    /// The chance that it is kept, 0 to 1.
    pub chance: f64,
    /// The low end of its 95 % interval.
    pub chance_low: f64,
    /// The high end.
    pub chance_high: f64,
    /// The margin that nineteen of twenty variants reach.
    pub fifth_percentile_margin: f64,
    /// The margin where every quantity lies at its worse end.
    pub worst_corner_margin: f64,
    /// The kind of quantity that moves it most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub moved_by: Option<&'static str>,
    /// The signal word of a failure of it.
    pub failing: Signal,
}

/// A plan over all variants.
#[derive(Clone, Debug, Serialize)]
pub struct ToleranceRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Name of the plan.
    pub name: String,
    /// How many variants.
    pub samples: usize,
    /// Which.
    pub seed: u64,
    /// Whether every limit but those that are only a caution is kept by the judged plan and in 95 % of the variants.
    pub holds: bool,
    /// Every limit that a spread can bring near, the one that is kept least often first.
    pub limits: Vec<LimitRecord>,
    /// How far quantities spread, and what is left out.
    pub assumptions: Vec<AssumptionRecord>,
}

impl Tolerance {
    /// Whether every limit is kept by the judged plan and in 95 % of the variants; those that are only a caution when they
    /// are not, such as an alternator's at idle, do not count.
    pub fn holds(&self) -> bool {
        let kept = |limit: &LimitTolerance| {
            // What is only a caution in the check is one here.
            let told = limit.failing < Signal::Warning;
            told || (limit.margin >= 1.0 - 1e-9 && limit.chance[0] >= constants::KEPT_CHANCE)
        };
        self.limits.iter().all(kept)
    }

    /// The result as plain data.
    pub fn record(&self) -> ToleranceRecord {
        // What nothing can bring near has no margin to speak of.
        let near = |limit: &&LimitTolerance| limit.margin.is_finite() && limit.fifth_percentile.is_finite();
        let of = |limit: &LimitTolerance| LimitRecord {
            rule: limit.rule,
            subject: limit.subject.clone(),
            case: limit.case.clone(),
            margin: round9(limit.margin),
            kept: limit.kept,
            chance: round9(limit.chance[0]),
            chance_low: round9(limit.chance[1]),
            chance_high: round9(limit.chance[2]),
            fifth_percentile_margin: round9(limit.fifth_percentile),
            worst_corner_margin: round9(limit.worst_corner),
            moved_by: limit.moved_by,
            failing: limit.failing,
        };
        ToleranceRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            name: self.name.clone(),
            samples: self.samples,
            seed: self.seed,
            holds: self.holds(),
            limits: self.limits.iter().filter(near).map(of).collect(),
            assumptions: assumptions(&self.spreads),
        }
    }
}

fn assumptions(spreads: &Spreads) -> Vec<AssumptionRecord> {
    let between = |[low, high]: [f64; 2]| format!("{} to {}", round9(low), round9(high));
    let of = |ends: [crate::quantity::Ratio; 2]| between(ends.map(|end| end.value));
    let texts = [
        format!(
            "conductors have {} times the largest resistance of their standard, all of one size alike, evenly",
            of(spreads.conductor)
        ),
        format!(
            "joints have {} times the resistance of one in good order, run by run, as often half as twice it",
            of(spreads.joint)
        ),
        format!(
            "air lies {} K from the hottest of its zone, everywhere together, evenly",
            between(spreads.ambient.map(|end| end.value))
        ),
        format!(
            "batteries and alternators have {} times their voltage, batteries of one kind alike, evenly",
            of(spreads.source)
        ),
        format!("converters lose {} times what they count for, each by itself, evenly", of(spreads.loss)),
        "temperatures follow to first order: a conductor sheds per kelvin what it does in the judged plan".to_owned(),
        "fuses, faults and terminals are not varied: `check` holds them at their cautious ends".to_owned(),
    ];
    let source = &sources::TOLERANCE_COMMON_PRACTICE;
    let record = |text| AssumptionRecord { text, source: source.to_string(), confidence: source.confidence };
    texts.into_iter().map(record).collect()
}
