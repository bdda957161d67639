//! What is to be done about what was measured: by the heat that it would make at full load.
//! Numbers in this kernel are SI units.

use super::segment::{Segment, Verdict};
use crate::data::tables::constants;
use crate::heat::{ContactMetal, HeatPath, JointHeat, joint_heat};
use crate::installation::NodeId;
use crate::network::Part;
use crate::quantity::{
    ElectricCurrent, ElectricalResistance, TemperatureInterval, ThermodynamicTemperature, in_celsius, significant,
};
use crate::study::judge::Judgement;
use uom::si::electrical_resistance::ohm;
use uom::si::temperature_interval::kelvin;

/// What a joint does at the current that its run is judged at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Warmth {
    /// That current.
    pub current: ElectricCurrent,
    /// Heat and temperatures if all that is too much sits in one joint that a single cable cools.
    pub one_sided: JointHeat,
    /// The same where the cables on both sides cool it, when there are any.
    pub two_sided: Option<JointHeat>,
    /// How hot insulation or terminal may get there.
    pub limit: ThermodynamicTemperature,
}

/// A measured piece of a way: what was planned and measured of it, in Ω.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece<'a> {
    pub(super) segments: &'a [Segment],
    pub(super) planned: (f64, f64, f64),
    pub(super) measured: f64,
    pub(super) within: f64,
}

/// The current that a segment is judged at: its run's, or the most that any lasting case drives through a link.
pub(super) fn design_current(judgement: &Judgement, segment: Segment) -> ElectricCurrent {
    match segment {
        Segment::Joint(run, _) | Segment::Fuse(run) | Segment::Cable(run) => {
            judgement.design.get(run).map(|design| design.current).unwrap_or_default()
        }
        Segment::Link(link) => {
            let currents = judgement.lasting().filter_map(|case| {
                let place = case.lowered.branches.iter().position(|part| *part == Part::Link(link))?;
                Some(case.point.as_ref()?.branch_currents.get(place)?.abs())
            });
            currents.fold(ElectricCurrent::default(), ElectricCurrent::max)
        }
    }
}

/// The cables that leave a segment on its two sides, the own one first.
fn cables(judgement: &Judgement, segment: Segment) -> (Option<&HeatPath>, Option<&HeatPath>) {
    let own = |run: usize, end: usize| judgement.models.get(run).and_then(|model| model.end_path(end));
    let on = |node: NodeId, but: Option<usize>| {
        let runs = judgement.installation.runs.iter().enumerate();
        let mut here = runs.filter(|(index, run)| Some(*index) != but && (run.from == node || run.to == node));
        here.find_map(|(index, run)| own(index, usize::from(run.from != node)))
    };
    let end = |run: usize, end: usize| {
        let node = judgement.installation.runs.get(run).map(|run| if end == 0 { run.from } else { run.to });
        (own(run, end), node.and_then(|node| on(node, Some(run))))
    };
    match segment {
        Segment::Joint(run, which) => end(run, which),
        Segment::Fuse(run) => end(run, 0),
        // A crimp or splice on the way: the cable itself on both sides.
        Segment::Cable(run) => (own(run, 0), own(run, 0)),
        Segment::Link(link) => {
            let nodes = judgement.installation.links.get(link).map(|link| link.nodes);
            let both = nodes.map(|[one, other]| (on(one, None), on(other, None)));
            match both {
                Some((None, other)) => (other, None),
                Some(both) => both,
                None => (None, None),
            }
        }
    }
}

fn limit(judgement: &Judgement, segment: Segment) -> ThermodynamicTemperature {
    let of = |run: usize| judgement.models.get(run).map(|model| model.limit);
    let terminal = || judgement.installation.terminal_limit().value;
    match segment {
        Segment::Joint(run, _) | Segment::Fuse(run) | Segment::Cable(run) => of(run).unwrap_or_else(terminal),
        Segment::Link(_) => terminal(),
    }
}

/// What so much resistance too much would do in the worst of some segments.
pub(super) fn warmth(judgement: &Judgement, segments: &[Segment], excess: f64) -> Option<Warmth> {
    let excess = ElectricalResistance::new::<ohm>(excess.max(0.0));
    let of = |segment: &Segment| {
        let current = design_current(judgement, *segment);
        let (own, beyond) = cables(judgement, *segment);
        let own = own?;
        let one_sided = joint_heat(excess, current, &[own]).ok()?;
        let two_sided = beyond.and_then(|beyond| joint_heat(excess, current, &[own, beyond]).ok());
        Some(Warmth { current, one_sided, two_sided, limit: limit(judgement, *segment) })
    };
    let hotter = |one: Warmth, other: Warmth| {
        let over = |warmth: &Warmth| warmth.one_sided.body.value - warmth.limit.value;
        if over(&other) > over(&one) { other } else { one }
    };
    segments.iter().filter_map(of).reduce(hotter)
}

/// The least voltage across a contact at which any metal of terminals softens.
fn softening() -> f64 {
    ContactMetal::ALL
        .iter()
        .filter_map(|metal| metal.voltages())
        .map(|(softening, _, _)| softening.value)
        .fold(f64::INFINITY, f64::min)
}

/// Why something must not stay as it is; `None` where its heat is harmless.
fn harm(warmth: &Warmth, excess: f64) -> Option<String> {
    let heat = &warmth.one_sided;
    let amperes = significant(warmth.current.value, 3);
    let watts = significant(heat.watts.value, 2);
    let body = in_celsius(heat.body);
    let beyond = if heat.beyond { "above " } else { "" };
    let glows = if heat.watts.value >= constants::GLOWING_W {
        format!("; connections of {} W were seen to glow (NBSIR 76-1011)", constants::GLOWING_W)
    } else {
        String::new()
    };
    if heat.rise > TemperatureInterval::new::<kelvin>(constants::JOINT_RISE_K) {
        let rise = significant(heat.rise.value, 2);
        let both = warmth
            .two_sided
            .map(|both| format!("{} K if the cables on both sides cool it, ", significant(both.rise.value, 2)));
        return Some(format!(
            "at {amperes} A it would shed {watts} W and be {beyond}{rise} K hotter than its cable ({}spots up to {beyond}{} °C): more \
             than the {} K of IEC 60947-7-1{glows}",
            both.unwrap_or_default(),
            significant(in_celsius(heat.spot), 3),
            constants::JOINT_RISE_K
        ));
    }
    if heat.body > warmth.limit && heat.rise.value > 1.0 {
        let limit = significant(in_celsius(warmth.limit), 3);
        return Some(format!(
            "at {amperes} A it would shed {watts} W and reach {}: insulation or terminal bear {limit} °C",
            format_args!("{beyond}{} °C", significant(body, 3))
        ));
    }
    let contact = excess * warmth.current.value;
    (contact > softening()).then(|| {
        format!(
            "at {amperes} A {} mV would stand across it: {} mV soften tin",
            significant(contact * 1e3, 2),
            significant(softening() * 1e3, 2)
        )
    })
}

/// Milliohms of a number of ohms.
pub(super) fn milliohms(value: f64) -> String {
    format!("{} mΩ", significant(value * 1e3, 3))
}

/// What is to be done, with the reason and the warmth that decides.
pub(super) fn verdict(judgement: &Judgement, piece: Piece<'_>) -> (Verdict, String, Option<Warmth>) {
    let (_, nominal, most) = piece.planned;
    let highest = (piece.measured + piece.within - nominal).max(0.0);
    let warmth = warmth(judgement, piece.segments, highest);
    let harm = match &warmth {
        Some(warmth) => harm(warmth, highest),
        None => (highest > 0.0).then(|| "no model says how hot it would get".to_owned()),
    };
    let more = piece.measured - piece.within > most;
    // What a sound piece may have is no reason for worry, however warm it would be in a single joint.
    let harm = harm.filter(|_| piece.measured + piece.within > most);
    let [measured, within, planned, would_do] = [piece.measured, piece.within, nominal, most].map(milliohms);
    // Of hundreds of joints a few lie two deviations off by chance; three are needed to open one up.
    let surely = piece.measured - 1.5 * piece.within > most;
    match (more, harm) {
        (true, Some(harm)) if !surely => (
            Verdict::Watch,
            format!(
                "{measured} ± {within} where {planned} were planned: read it again with a finer instrument; {harm}"
            ),
            warmth,
        ),
        (true, Some(harm)) => {
            (Verdict::Remake, format!("{measured} ± {within} where {planned} were planned: {harm}"), warmth)
        }
        (true, None) => (
            Verdict::Watch,
            format!("{measured} ± {within} where {planned} were planned and {would_do} would do: cool yet"),
            warmth,
        ),
        (false, Some(harm)) => (
            Verdict::NotTold,
            format!("{measured} ± {within} where {planned} were planned: it may be good; but if not, {harm}"),
            warmth,
        ),
        (false, None) => (Verdict::AsPlanned, format!("{measured} ± {within}, planned {planned}"), warmth),
    }
}
