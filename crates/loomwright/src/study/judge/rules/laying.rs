//! Rules on how conductors are laid: conduits, bends, supports, glands, and conductors in parallel.

use super::{Measure, n, plain};
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::fitting::{Gland, bend_radius, conduit_fill};
use crate::installation::Run;
use crate::practice::Practice;
use crate::quantity::{Area, Length, in_mm2};
use crate::study::judge::Judgement;
use crate::study::judge::model::RunModel;
use uom::si::length::millimeter;
use uom::si::ratio::percent;

const PARALLEL: &str = "NEC 310.10(G) (from memory)";

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let mut found = Vec::new();
    for loom in 0..judgement.installation.looms.len() {
        found.extend(fill(judgement, loom));
    }
    for (index, (run, model)) in judgement.installation.runs.iter().zip(&judgement.models).enumerate() {
        found.extend(bend(run, model));
        found.extend(supports(judgement, run));
        found.extend(gland(run, model));
        found.extend(parallel(judgement, index, run, model));
    }
    found
}

fn mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

/// How full the conduit of a loom is in the zone where most lies in it.
fn fill(judgement: &Judgement, loom: usize) -> Option<Finding> {
    let plan = &judgement.installation;
    let of = plan.looms.get(loom)?;
    let bore = of.bore?;
    let in_zone = |zone: usize| {
        let runs = plan.runs.iter().zip(&judgement.models);
        let here = runs.filter(|(run, _)| run.segments.iter().any(|at| at.loom == Some(loom) && at.zone == zone));
        here.fold((0_u16, Area::default()), |(count, squares), (_, model)| {
            (count.saturating_add(1), squares + model.conductor.outer_diameter * model.conductor.outer_diameter)
        })
    };
    let worst = (0..plan.zones.len()).map(in_zone).filter(|(count, _)| *count > 0);
    let share = |(count, squares): (u16, Area)| {
        let limit = conduit_fill(count).0;
        (squares / (bore * bore) / limit).value
    };
    let (count, squares) = worst.max_by(|one, other| share(*one).total_cmp(&share(*other)))?;
    let (limit, source) = conduit_fill(count);
    let filled = (squares / (bore * bore)).get::<percent>();
    Measure {
        rule: "conduit-fill",
        subject: &of.name,
        measured: filled,
        limit: limit.get::<percent>(),
        unit: "%",
        margin: limit.get::<percent>() / filled,
        // Elsewhere it is good custom, so that cables can be drawn in and out without harm.
        failing: if plan.practice == Practice::NaRecreationalVehicle { Signal::Warning } else { Signal::Caution },
        citation: &source.to_string(),
        confidence: source.confidence,
        case: None,
    }
    .finding(|_| {
        format!(
            "{count} conductors fill {} % of the bore of {} mm; {} % may be filled, or they cannot be drawn in unharmed",
            n(filled),
            n(mm(bore)),
            n(limit.get::<percent>())
        )
    })
    // A conduit is sold in few sizes: a near fit is a fit.
    .filter(|finding| finding.margin.is_some_and(|margin| margin < 1.0))
}

fn bend(run: &Run, model: &RunModel) -> Option<Finding> {
    let stated = mm(run.laying.bend_radius?);
    let (least, source) = bend_radius(&model.conductor);
    let least = mm(least);
    Measure {
        rule: "bend-radius",
        subject: &run.name,
        measured: stated,
        limit: least,
        unit: "mm",
        margin: stated / least,
        failing: Signal::Warning,
        citation: &source.to_string(),
        confidence: source.confidence,
        case: None,
    }
    .finding(|_| {
        format!(
            "the tightest bend has {} mm inside; {} of {} mm over its insulation bends to {} mm",
            n(stated),
            model.conductor.label(),
            n(mm(model.conductor.outer_diameter)),
            n(least)
        )
    })
}

fn supports(judgement: &Judgement, run: &Run) -> Option<Finding> {
    let stated = mm(run.laying.support_spacing?);
    let limit = judgement.installation.support_spacing(run)?;
    let most = mm(limit.value);
    Measure {
        rule: "support-spacing",
        subject: &run.name,
        measured: stated,
        limit: most,
        unit: "mm",
        // Spacings are round numbers: the limit itself is kept, not narrowly.
        margin: if stated <= most * (1.0 + 1e-9) { f64::INFINITY } else { most / stated },
        failing: Signal::Warning,
        citation: &limit.source.to_string(),
        confidence: limit.source.confidence,
        case: None,
    }
    .finding(|_| format!("supports stand {} mm apart; {} mm at most ({})", n(stated), n(most), limit.note))
}

fn gland(run: &Run, model: &RunModel) -> Option<Finding> {
    let gland = run.laying.gland?;
    let outer = model.conductor.outer_diameter;
    if gland.grips(outer) {
        return None;
    }
    let (measured, limit) = (mm(outer), mm(if outer < gland.least { gland.least } else { gland.most }));
    let fits = Gland::of(outer).map_or_else(|| "none known does".to_owned(), |fits| format!("{} does", fits.name));
    Measure {
        rule: "gland-grips-conductor",
        subject: &run.name,
        measured,
        limit,
        unit: "mm",
        margin: if outer < gland.least { measured / limit } else { limit / measured },
        failing: Signal::Warning,
        citation: &gland.source.to_string(),
        confidence: gland.source.confidence,
        case: None,
    }
    .finding(|_| {
        let range = format!("{} to {} mm", n(mm(gland.least)), n(mm(gland.most)));
        format!(
            "{} of {} mm does not seal in {}, which grips {range}; {fits}",
            model.conductor.label(),
            n(measured),
            gland.name
        )
    })
}

/// Conductors side by side from node to node share their current only when they are alike, and large.
fn parallel(judgement: &Judgement, index: usize, run: &Run, model: &RunModel) -> Option<Finding> {
    let same =
        |other: &Run| [other.from, other.to] == [run.from, run.to] || [other.to, other.from] == [run.from, run.to];
    let mut others = judgement.installation.runs.iter().zip(&judgement.models).enumerate();
    // Told once, for the first of them.
    let first = others.find(|(_, (other, _))| same(other))?.0 == index;
    if !first {
        return None;
    }
    let beside: Vec<(&Run, &RunModel)> = others.map(|(_, pair)| pair).filter(|(other, _)| same(other)).collect();
    if beside.is_empty() {
        return None;
    }
    let alike = beside.iter().all(|(other, of)| {
        let length = (other.cut_length() / run.cut_length()).value;
        of.conductor == model.conductor && (0.95..=1.05).contains(&length)
    });
    let smallest = beside.iter().map(|(_, of)| in_mm2(of.conductor.area)).fold(in_mm2(model.conductor.area), f64::min);
    let least = constants::SMALLEST_PARALLEL_MM2;
    let names: Vec<&str> = beside.iter().map(|(other, _)| other.name.as_str()).collect();
    let names = names.join(", ");
    let message = format!(
        "it lies in parallel with {names}: such conductors are equal in kind, size and length, and of {} mm² or more, or one \
         of them carries too much",
        n(least)
    );
    if !alike {
        let mut unlike = plain("parallel-conductors", &run.name, Signal::Warning, message, PARALLEL);
        unlike.confidence = Confidence::Memory;
        return Some(unlike);
    }
    Measure {
        rule: "parallel-conductors",
        subject: &run.name,
        measured: smallest,
        limit: least,
        unit: "mm²",
        // The size itself is enough.
        margin: if smallest >= least { f64::INFINITY } else { smallest / least },
        failing: Signal::Warning,
        citation: PARALLEL,
        confidence: Confidence::Memory,
        case: None,
    }
    .finding(|_| message)
}
