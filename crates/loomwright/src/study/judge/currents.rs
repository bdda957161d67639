//! The current that each run is judged at: the worst of all cases and of what its devices may draw.

use std::collections::BTreeMap;

use super::operate::CaseResult;
use super::paths::{Ways, are_joined, driving};
use crate::heat::Duty;
use crate::installation::{Alternator, Battery, Case, ConverterKind, Installation, Load, NodeId};
use crate::network::{delivers, joined};
use crate::quantity::{ElectricCurrent, Time};
use uom::si::electric_current::ampere;

/// A current, and what makes it so large.
#[derive(Clone, Debug, Default)]
pub struct Design {
    /// The current.
    pub current: ElectricCurrent,
    /// The case or device that sets it.
    pub reason: String,
    /// Index of the case, when a case sets it.
    pub case: Option<usize>,
    /// How long it flows in every period, where the run feeds one load alone whose cycle is known.
    pub duty: Option<Duty>,
}

/// The design current of every run.
pub(super) fn design(installation: &Installation, ways: &Ways, cases: &[CaseResult]) -> Vec<Design> {
    let mut found: Vec<Design> = vec![Design::default(); installation.runs.len()];
    let charging = charging(installation, ways);
    let quiet = quiet(installation, ways);
    for (index, design) in found.iter_mut().enumerate() {
        let mut raise = |current: ElectricCurrent, reason: &str, case: Option<usize>| {
            // Equal but for rounding is equal: the first case keeps its name.
            if current > design.current * (1.0 + 1e-9) {
                *design = Design { current, reason: reason.to_owned(), case, duty: None };
            }
        };
        let lasts = |result: &&CaseResult| installation.cases.get(result.case).is_some_and(Case::lasts);
        for result in cases.iter().filter(lasts) {
            let current = result.run_currents.get(index).copied().unwrap_or_default().abs();
            let name = installation.cases.get(result.case).map_or("", |case| case.name.as_str());
            raise(current, name, Some(result.case));
        }
        for converter in &installation.converters {
            if !feeds(installation, index, converter.input) {
                continue;
            }
            if let Some((short_circuit, _)) = converter.array {
                let (designed, factor) = installation.array_design(short_circuit);
                raise(designed, &format!("{factor} times the array's short-circuit current"), None);
            }
        }
        // An alternator may give all it is rated for, whatever a case asks of it.
        for alternator in &installation.alternators {
            let at = |node: NodeId| alternator.nodes.contains(&node) && Some(node) != installation.chassis;
            if installation.runs.get(index).is_some_and(|run| at(run.from) || at(run.to)) {
                raise(alternator.rating, &format!("rating of {}", alternator.name), None);
            }
        }
        for (total, runs) in &quiet {
            if runs.contains_key(&index) {
                raise(runs.get(&index).copied().unwrap_or_default(), total, None);
            }
        }
        // And an empty battery that is joined to it may take all of that.
        for (alternator, battery, runs) in &charging {
            if runs.contains(&index) {
                raise(alternator.rating, &format!("{} empty on {}", battery.name, alternator.name), None);
            }
        }
        if let Some((duty, start)) = design.case.and_then(|_| cycle(installation, index)) {
            design.duty = Some(duty);
            // Every on-time begins with a start: the constant current that makes as much heat in that time.
            if let Some((inrush, lasts)) = start {
                let share = (lasts / duty.on()).value.min(1.0);
                let squares = inrush.value.powi(2) * share + design.current.value.powi(2) * (1.0 - share);
                let all = ElectricCurrent::new::<ampere>(squares.sqrt());
                if all > design.current {
                    design.current = all;
                    design.reason.push_str(", starting every time");
                }
            }
        }
    }
    found
}

/// Each alternator with each battery that it charges without a converter between them, and the runs between
/// their terminals.
fn charging<'a>(installation: &'a Installation, ways: &Ways) -> Vec<(&'a Alternator, &'a Battery, Vec<usize>)> {
    let mut found = Vec::new();
    let Some(case) = installation.cases.iter().find(|case| driving(case)) else { return found };
    let island = joined(installation, case);
    for alternator in &installation.alternators {
        for battery in &installation.batteries {
            if are_joined(&island, alternator.nodes[0], battery.nodes[0]) {
                let [there, back] = alternator.nodes;
                let mut runs = ways.between(there, battery.nodes[0]);
                runs.extend(ways.between(back, battery.nodes[1]));
                found.push((alternator, battery, runs));
            }
        }
    }
    found
}

/// By situation: what its chargers give together to each run between them and a battery, while no load takes
/// any of it.
fn quiet(installation: &Installation, ways: &Ways) -> Vec<(String, BTreeMap<usize, ElectricCurrent>)> {
    let mut paths = Vec::new();
    for converter in &installation.converters {
        let (Some(output), Some(current)) = (converter.output, converter.output_current) else { continue };
        let reached = installation.batteries.iter().filter(|battery| ways.reaches(battery.nodes[0], output[0]));
        for battery in reached {
            let mut runs = ways.between(output[0], battery.nodes[0]);
            runs.extend(ways.between(output[1], battery.nodes[1]));
            paths.push((converter.kind, battery, current, runs));
        }
    }
    let mut found = Vec::new();
    for case in installation.cases.iter().filter(|case| case.is_usual()) {
        for battery in &installation.batteries {
            let mut given: BTreeMap<usize, ElectricCurrent> = BTreeMap::new();
            let to_it = |path: &&(ConverterKind, &Battery, ElectricCurrent, Vec<usize>)| {
                delivers(path.0, case) && path.1.name == battery.name
            };
            for (_, _, current, runs) in paths.iter().filter(to_it) {
                for run in runs {
                    *given.entry(*run).or_default() += *current;
                }
            }
            if !given.is_empty() {
                found.push((format!("{} charging with loads off, {}", battery.name, case.name), given));
            }
        }
    }
    found
}

/// The cycle of the load that a run feeds alone, and the current and time with which each on-time starts.
fn cycle(installation: &Installation, run: usize) -> Option<(Duty, Option<(ElectricCurrent, Time)>)> {
    let run = installation.runs.get(run)?;
    let touching = |node: NodeId| {
        let runs = installation.runs.iter().filter(|other| other.from == node || other.to == node).count();
        runs + installation.links.iter().filter(|link| link.nodes.contains(&node)).count()
    };
    let own = |load: &&Load| load.nodes.is_some_and(|nodes| nodes.contains(&run.to));
    let mut fed = installation.loads.iter().filter(own);
    let (load, alone) = (fed.next()?, fed.next().is_none());
    let devices = installation.batteries.iter().any(|battery| battery.nodes.contains(&run.to))
        || installation.alternators.iter().any(|alternator| alternator.nodes.contains(&run.to))
        || installation.converters.iter().any(|converter| {
            [converter.input, converter.output].into_iter().flatten().any(|nodes| nodes.contains(&run.to))
        });
    let cycle =
        load.cycle.filter(|_| alone && !devices && Some(run.to) != installation.chassis && touching(run.to) == 1)?;
    Some((cycle, load.inrush.map(|inrush| (inrush, load.start_time))))
}

/// Whether a run is the one that ends at a converter's input, or its other leg.
fn feeds(installation: &Installation, run: usize, input: Option<[NodeId; 2]>) -> bool {
    let ends = |run: usize| installation.runs.get(run).zip(input).is_some_and(|(run, input)| run.to == input[0]);
    installation.run_and_twin(run).any(ends)
}
