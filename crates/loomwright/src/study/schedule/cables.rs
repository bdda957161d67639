//! The cable schedule.

use super::ends::{end, mm};
use super::{Cell, Labels, Sheet, SheetName, columns};
use crate::heat::Installation as Method;
use crate::installation::{Installation, Run, Segment};
use crate::quantity::{in_celsius, in_mm2, significant};
use crate::study::judge::Judgement;
use uom::si::length::meter;
use uom::si::mass::kilogram;

/// How many supports a run needs, at the spacing that it states or its practice asks for: one for every spacing, at least
/// one; none where it lies in conduit or trunking all the way.
pub(in crate::study) fn supports(installation: &Installation, run: &Run) -> u32 {
    let in_conduit = |segment: &Segment| {
        let method = installation.method(run, segment);
        method.is_conduit() || method == Method::Enclosed
    };
    if run.segments.iter().all(in_conduit) {
        return 0;
    }
    let usual = installation.support_spacing(run).map(|limit| limit.value);
    let Some(spacing) = run.laying.support_spacing.or(usual) else { return 0 };
    let count = (run.route() / spacing).value.ceil().max(1.0);
    // Below a thousand metres and above a centimetre; a text holds the number without a cast.
    format!("{count:.0}").parse().unwrap_or(0)
}

/// The insulation colour by practice.
pub(super) fn colour(installation: &Installation, run: &Run) -> &'static str {
    installation.practice.colour(run.leg.name()).map_or("", |(colour, _)| colour)
}

pub(super) fn sheet(judgement: &Judgement, labels: &Labels) -> Sheet {
    let plan = &judgement.installation;
    let rows = (0..plan.runs.len()).filter_map(|index| row(judgement, labels, index)).collect();
    let colours = plan.practice.colour("positive").map(|(_, source)| format!("colours: {source}"));
    let strip =
        "where no length to strip is given, it is the depth of the lug's or pin's barrel, or the terminal's own";
    let cut = "cut = route + 10 % + 0.3 m per end; measure the way before you cut";
    Sheet {
        name: SheetName::Cables,
        columns: columns![
            "label": "no.", "run": "run", "from": "from", "to": "to", "route_m": "route" / "m", "cut_m": "cut" / "m",
            "size": "size", "csa_mm2": "area" / "mm²", "kind": "kind", "material": "material", "colour": "colour",
            "insulation_c": "class" / "°C", "outer_mm": "outer" / "mm", "end_from": "start", "strip_from_mm": "strip" / "mm",
            "end_to": "end", "strip_to_mm": "strip there" / "mm", "way": "way", "supports": "supports",
            "gland": "gland", "bend_mm": "bends to" / "mm", "mass_kg": "metal" / "kg", "insulated_kg": "whole" / "kg", "status": "part",
        ],
        rows,
        notes: [Some(cut.to_owned()), Some(strip.to_owned()), colours].into_iter().flatten().collect(),
    }
}

fn row(judgement: &Judgement, labels: &Labels, index: usize) -> Option<Vec<Cell>> {
    let plan = &judgement.installation;
    let (run, model) = (plan.runs.get(index)?, judgement.models.get(index)?);
    let conductor = &model.conductor;
    let name = |node: crate::installation::NodeId| plan.nodes.get(node.0).map_or("", |node| node.name.as_str());
    let [start, finish] = [end(judgement, index, 0)?, end(judgement, index, 1)?];
    let supports = supports(plan, run);
    Some(vec![
        labels.run(index).into(),
        run.name.as_str().into(),
        name(run.from).into(),
        name(run.to).into(),
        run.route().get::<meter>().into(),
        run.cut_length().get::<meter>().into(),
        conductor.label().into(),
        in_mm2(conductor.area).into(),
        conductor.kind.name().into(),
        conductor.material.name().into(),
        colour(plan, run).into(),
        in_celsius(run.insulation).into(),
        mm(conductor.outer_diameter).into(),
        start.termination.words().into(),
        start.strip.map(mm).into(),
        finish.termination.words().into(),
        finish.strip.map(mm).into(),
        way(plan, run).into(),
        (supports > 0).then_some(f64::from(supports)).into(),
        run.laying.gland.map(|gland| gland.name).into(),
        mm(crate::fitting::bend_radius(conductor).0).into(),
        conductor.mass(run.cut_length()).get::<kilogram>().into(),
        conductor.insulated_mass(run.cut_length()).get::<kilogram>().into(),
        if plan.is_kept(run) { "kept" } else { "new" }.into(),
    ])
}

/// Its stretches in words.
fn way(plan: &Installation, run: &Run) -> String {
    let stretch = |segment: &Segment| {
        let zone = plan.zones.get(segment.zone).map_or("", |zone| zone.name.as_str());
        let loom = segment.loom.and_then(|loom| plan.looms.get(loom)).map(|loom| {
            let bore = loom.bore.map(|bore| format!(", bore {} mm", significant(mm(bore), 3))).unwrap_or_default();
            format!(" with {} ({}{bore})", loom.name, loom.method.title())
        });
        let method = loom.unwrap_or_else(|| format!(", {}", plan.method(run, segment).title()));
        format!("{} m {zone}{method}", significant(segment.length.get::<meter>(), 3))
    };
    run.segments.iter().map(stretch).collect::<Vec<_>>().join("; ")
}
