//! What a change takes and sets free.

use serde::Serialize;

use crate::installation::{Installation, Run};
use crate::quantity::round_significant;
use crate::study::judge::Judgement;
use crate::study::schedule::{Material, freed, of_runs};
use uom::si::mass::kilogram;

/// An item of a list of materials.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialChange {
    /// What it is: cable, lug, fuse and so on.
    pub part: &'static str,
    /// What it is called.
    pub description: String,
    /// How much of it, in `unit`.
    pub quantity: f64,
    /// The same as sold.
    pub sold: f64,
    /// `m` or `pieces`.
    pub unit: &'static str,
    /// Metal in it.
    pub metal_kg: f64,
}

/// What a change takes and sets free.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Materials {
    /// To buy.
    pub add: Vec<MaterialChange>,
    /// Taken out: conductors and fuses; lugs and ferrules are not used twice.
    pub freed: Vec<MaterialChange>,
    /// In place already and used again: conductors and fuses.
    pub kept: Vec<MaterialChange>,
    /// Metal of the conductors to buy.
    pub add_metal_kg: f64,
    /// Metal of the conductors that are taken out.
    pub freed_metal_kg: f64,
}

/// Whether a conductor of the old plan serves a run of the new one: equal, and long enough.
fn serves(old: (&Run, &Judgement, usize), new: (&Run, &Judgement, usize)) -> bool {
    let conductor = |judgement: &Judgement, index: usize| judgement.models.get(index).map(|model| model.conductor);
    old.0.name == new.0.name
        && conductor(old.1, old.2) == conductor(new.1, new.2)
        && old.0.insulation == new.0.insulation
        && old.0.cut_length() >= new.0.cut_length() * (1.0 - 1e-9)
}

pub(super) fn materials(old: &Judgement, new: &Judgement) -> Materials {
    let runs = |judgement: &Judgement| judgement.installation.runs.len();
    let pair = |then: usize, now: usize| {
        let (before, after) = (old.installation.runs.get(then), new.installation.runs.get(now));
        before.zip(after).is_some_and(|(before, after)| serves((before, old, then), (after, new, now)))
    };
    // What the new plan says is there already stays, also where the old plan does not know it.
    let kept = |now: usize| new.installation.runs.get(now).is_some_and(|run| new.installation.is_kept(run));
    let chosen = |now: usize| new.choices.iter().any(|choice| choice.run == now && choice.fuse.is_some());
    let wire_stays: Vec<bool> =
        (0..runs(new)).map(|now| kept(now) || (0..runs(old)).any(|then| pair(then, now))).collect();
    let wire_serves: Vec<bool> = (0..runs(old)).map(|then| (0..runs(new)).any(|now| pair(then, now))).collect();
    let called = |plan: &Installation, run: usize| plan.device(run).map(|device| device.called());
    let same_fuse = |then: usize, now: usize| {
        let names = old.installation.runs.get(then).zip(new.installation.runs.get(now));
        names.is_some_and(|(one, other)| one.name == other.name)
            && called(&old.installation, then) == called(&new.installation, now)
    };
    let fuse_stays: Vec<bool> = (0..runs(new))
        .map(|now| (kept(now) && !chosen(now)) || (0..runs(old)).any(|then| same_fuse(then, now)))
        .collect();
    let fuse_serves: Vec<bool> = (0..runs(old)).map(|then| (0..runs(new)).any(|now| same_fuse(then, now))).collect();
    let is = |list: &Vec<bool>, index: usize| list.get(index).copied().unwrap_or(false);
    let reusable = |material: &Material| matches!(material.part, "cable" | "fuse");
    let add = of_runs(new, &|now| !is(&wire_stays, now), &|now| !is(&fuse_stays, now));
    let mut out = of_runs(old, &|then| !is(&wire_serves, then), &|then| !is(&fuse_serves, then));
    // What the new plan marks as removed and the old one does not know.
    let unknown =
        |name: &str| !old.installation.runs.iter().any(|run| run.name == name || run.circuit.as_deref() == Some(name));
    let mut rest = new.installation.clone();
    rest.existing.retain(|part| unknown(&part.name));
    out.extend(freed(&rest));
    let kept = of_runs(new, &|now| is(&wire_stays, now), &|now| is(&fuse_stays, now));
    let metal = |list: &[Material]| round_significant(list.iter().map(|one| one.metal.get::<kilogram>()).sum(), 9);
    out.retain(reusable);
    Materials {
        add_metal_kg: metal(&add),
        freed_metal_kg: metal(&out),
        add: add.iter().map(record).collect(),
        freed: out.iter().map(record).collect(),
        kept: kept.iter().filter(|material| reusable(material)).map(record).collect(),
    }
}

fn record(material: &Material) -> MaterialChange {
    let (sold, unit) = material.sold();
    MaterialChange {
        part: material.part,
        description: material.description.clone(),
        quantity: round_significant(material.quantity, 9),
        sold,
        unit,
        metal_kg: round_significant(material.metal.get::<kilogram>(), 9),
    }
}
