//! What helps where a conductor does not go into its terminal.

use super::{Edits, Subject, whole};
use crate::conductor::{Conductor, series};
use crate::data::tables::constants;
use crate::fitting::{Form, Terminal, Tight};
use crate::installation::{Change, NodeId};
use crate::quantity::{Length, in_mm2};
use uom::si::length::meter;

/// Settings and lengths tried, from the mildest.
const STEPS: u16 = 15;

/// In the order of PRACTICE: a setting, a shorter run, another size, conductors in parallel, a pin, a busbar with a tail.
pub(super) fn groups(subject: &Subject<'_>) -> Vec<Vec<Edits>> {
    let Some((run, end, terminal)) = place(subject) else { return Vec::new() };
    let Some(now) = subject.conductor(run) else { return Vec::new() };
    let fits = |size: &Conductor| terminal.refuses(size, None).is_none();
    let entering: Vec<Conductor> = series(now.kind, now.material).filter(fits).collect();
    let smaller = entering.iter().rfind(|size| size.area < now.area).copied();
    let larger = entering.iter().find(|size| size.area > now.area).copied();
    let alone = |size: Option<Conductor>| size.map(|size| vec![Change::Conductor(run, size)]).into_iter().collect();
    let with_smaller = |edit: &dyn Fn(f64) -> Option<Change>| -> Vec<Edits> {
        let Some(size) = smaller else { return Vec::new() };
        let shares = (1..STEPS).map(|step| 1.0 - f64::from(step) / f64::from(STEPS));
        shares.filter_map(|share| Some(vec![edit(share)?, Change::Conductor(run, size)])).collect()
    };
    let setting =
        subject.setting_of(run).and_then(|index| Some((index, subject.plan().converters.get(index)?.output_current?)));
    let lower = with_smaller(&|share| {
        let (index, current) = setting?;
        let current = whole(current * share);
        (current.value >= 1.0).then_some(Change::OutputCurrent(index, current))
    });
    let route = subject.plan().runs.get(run).map_or(0.0, |run| run.route().get::<meter>());
    let shorter = with_smaller(&|share| {
        let length = (route * share * 10.0).floor() / 10.0;
        (length >= 0.2).then(|| Change::Length(run, Length::new::<meter>(length)))
    });
    let beside = smaller.filter(|size| in_mm2(size.area) >= constants::SMALLEST_PARALLEL_MM2);
    let beside = beside.map(|size| vec![Change::Beside(run, size)]).into_iter().collect();
    // A pin goes into a clamp, not over a stud.
    let pinned = terminal.largest.filter(|to| *to < now.area && terminal.form != Some(Form::Stud));
    let pin = pinned.map(|to| vec![Change::Pin(run, end, to)]).into_iter().collect();
    let bar = smaller.or(larger).map(|size| vec![Change::Bar(run, end, size)]).into_iter().collect();
    vec![alone(smaller), lower, shorter, alone(larger), beside, pin, bar]
}

/// The run, the end of it, and the terminal that does not take it, pin or no pin.
fn place(subject: &Subject<'_>) -> Option<(usize, usize, Terminal)> {
    let run = subject.run()?;
    let of = subject.plan().runs.get(run)?;
    let conductor = subject.conductor(run)?;
    let ends = [of.from, of.to].into_iter().enumerate();
    let at =
        |(end, node): (usize, NodeId)| Some((end, subject.plan().nodes.get(node.0)?.terminal_for(&conductor, None)));
    let tight = |(_, terminal): &(usize, Terminal)| {
        matches!(terminal.refuses(&conductor, None), Some(Tight::Large(_) | Tight::Small(_)))
    };
    let (end, terminal) = ends.filter_map(at).find(tight)?;
    Some((run, end, terminal))
}
