//! The resistances that explain all readings of a day together, each weighed by its instrument.
//!
//! Unknown are the resistance that every group of segments has above the plan's, shared by all rounds, and what the plan
//! knows only roughly: voltages of sources and currents of demands, round by round. Segments that all readings see alike
//! form one group from the start. An instrument's limits are a rectangle: its deviation is their half-width over √3
//! (JCGM 100, 4.3.7). Numbers in this kernel are SI units.

use nalgebra::DVector;

use super::model::{Frame, LEAST_SHARE, Round};
use super::probe::{Probe, View, currents, look};
use super::reading::{Measured, Reading};
use super::system::{Half, Row, Solved, System, coverage};
use crate::data::tables::constants::IMPOSSIBLE_SHARE;
use crate::network::{Network, NetworkError, Workbench};

/// Deviation of a resistance before anything is read, in Ω: so wide that the readings alone decide.
const ANY_OHM: f64 = 1.0;
/// Deviation of a clamp's zero while it is not suspected, and when it is, in A.
const ZERO_A: f64 = 1e-6;
const ANY_ZERO_A: f64 = 30.0;
/// No instrument is taken to be better than 20 µV, 1 mA and 20 millionths: a reading without any error would be all there is.
const FINEST: f64 = 2e-5;
/// Steps of Newton's rule; the model is linear but for products of a current and a resistance.
const MOST_STEPS: usize = 15;
/// Share of its deviation by which nothing moves any more.
const SETTLED: f64 = 1e-6;

/// One reading as an equation.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    /// Its place among the readings of the day.
    pub(super) reading: usize,
    pub(super) round: usize,
    pub(super) probe: Probe,
    pub(super) value: f64,
    /// Half-width of the instrument's limits.
    pub(super) within: f64,
    pub(super) clamp: bool,
    /// Left out: a gross error.
    pub(super) out: bool,
}

impl Seen {
    pub(super) fn deviation(&self) -> f64 {
        self.within / 3.0_f64.sqrt()
    }

    /// The equation of a reading; `None` for what is no voltage or current, or where no probe can be.
    pub(super) fn of(frame: &Frame, round: usize, place: usize, reading: &Reading) -> Option<Self> {
        let (probe, value, within, clamp) = match reading.measured {
            Measured::Voltage { between: [one, other], value, within } => {
                (Probe::Voltage([frame.node(one)?, frame.node(other)?]), value.value, within.value, false)
            }
            Measured::Current { run, value, within } => {
                (Probe::Current(*frame.cables.get(run)?), value.value, within.value, true)
            }
            Measured::Temperature { .. } | Measured::Power { .. } => return None,
        };
        let finest = FINEST * if clamp { 50.0 } else { 1.0 };
        let within = within.max(finest).max(FINEST * value.abs());
        Some(Self { reading: place, round, probe, value, within, clamp, out: false })
    }
}

/// Bridges that all readings see alike.
#[derive(Clone, Debug, Default)]
pub(super) struct Groups {
    /// The group of each bridge; none where no reading tells anything of it.
    pub(super) of: Vec<Option<usize>>,
    pub(super) members: Vec<Vec<usize>>,
    /// What of a group's excess stands in each bridge.
    share: Vec<f64>,
    /// The least excess of each group that leaves a trace of what was planned.
    least: Vec<f64>,
}

impl Groups {
    /// By the slopes of all readings: one list for each, by bridge.
    fn new(frame: &Frame, rounds: &[Round], views: &[View]) -> Self {
        let count = frame.bridges.len();
        let planned = |bridge: usize| {
            let of = rounds.iter().filter_map(|round| round.planned.get(bridge));
            of.map(|planned| planned.nominal).fold(0.0, f64::max)
        };
        let column = |bridge: usize| views.iter().map(move |view| view.bridges.get(bridge).copied().unwrap_or(0.0));
        let largest: Vec<f64> =
            (0..count).map(|bridge| column(bridge).fold(0.0, |most, slope| slope.abs().max(most))).collect();
        let mut groups = Self { of: vec![None; count], share: vec![0.0; count], ..Self::default() };
        for (bridge, most) in largest.iter().enumerate() {
            // Less than a milliampere tells nothing.
            if *most < 1e-3 {
                continue;
            }
            let alike = |members: &&mut Vec<usize>| {
                let first = members.first().copied().unwrap_or(0);
                column(bridge).zip(column(first)).all(|(one, other)| (one - other).abs() <= 1e-6 * most)
            };
            match groups.members.iter_mut().find(alike) {
                Some(members) => members.push(bridge),
                None => groups.members.push(vec![bridge]),
            }
        }
        for (group, members) in groups.members.iter().enumerate() {
            let sum: f64 = members.iter().map(|bridge| planned(*bridge)).sum();
            groups.least.push(-(1.0 - LEAST_SHARE) * sum);
            for bridge in members {
                if let (Some(of), Some(share)) = (groups.of.get_mut(*bridge), groups.share.get_mut(*bridge)) {
                    *of = Some(group);
                    *share = if sum > 0.0 { planned(*bridge) / sum } else { 0.0 };
                }
            }
        }
        groups
    }

    /// Slopes by group from slopes by bridge, with that of the clamp's zero behind them.
    fn shared(&self, view: &View, clamp: bool) -> DVector<f64> {
        let count = self.members.len();
        DVector::from_fn(count + 1, |place, _| {
            let first = self.members.get(place).and_then(|members| members.first());
            match first {
                Some(first) => view.bridges.get(*first).copied().unwrap_or(0.0),
                None => f64::from(u8::from(clamp)),
            }
        })
    }

    /// What of the excess a network can have.
    fn held(&self, groups: &DVector<f64>) -> DVector<f64> {
        let mut held = groups.clone();
        held.iter_mut().zip(&self.least).for_each(|(value, least)| *value = value.max(*least));
        held
    }

    fn excess(&self, bridge: usize, groups: &DVector<f64>) -> f64 {
        let group = self.of.get(bridge).copied().flatten().and_then(|group| groups.get(group));
        group.copied().unwrap_or(0.0) * self.share.get(bridge).copied().unwrap_or(0.0)
    }
}

/// A fit as far as it has come.
pub(super) struct Fit<'a> {
    pub(super) frame: &'a Frame,
    pub(super) rounds: &'a [Round],
    pub(super) seen: Vec<Seen>,
    pub(super) groups: Groups,
    /// Excess of each group, then the clamp's zero.
    pub(super) shared: DVector<f64>,
    /// Rough numbers of each round, over the plan's.
    pub(super) off: Vec<DVector<f64>>,
    /// Whether the clamp's zero is sought.
    pub(super) zero: bool,
    benches: Vec<Workbench>,
    /// What each reading should show by the fit, with the half row of each.
    pub(super) rows: Vec<(f64, Row, Half)>,
    pub(super) solved: Option<Solved>,
}

impl<'a> Fit<'a> {
    pub(super) fn new(frame: &'a Frame, rounds: &'a [Round], seen: Vec<Seen>) -> Result<Self, NetworkError> {
        let off = rounds.iter().map(|round| DVector::zeros(round.rough.len())).collect();
        let mut fit = Self {
            frame,
            rounds,
            seen,
            groups: Groups { of: vec![None; frame.bridges.len()], ..Groups::default() },
            shared: DVector::zeros(1),
            off,
            zero: false,
            benches: rounds.iter().map(|_| Workbench::default()).collect(),
            rows: Vec::new(),
            solved: None,
        };
        let views = fit.views()?;
        fit.groups = Groups::new(frame, rounds, &views);
        fit.shared = DVector::zeros(fit.groups.members.len() + 1);
        Ok(fit)
    }

    /// A round as the fit stands: its network, and the workbench that knows its topology.
    fn stands(&mut self, round: usize) -> Option<(&'a Round, Network, &mut Workbench)> {
        let (of, off) = (self.rounds.get(round)?, self.off.get(round)?);
        let held = self.groups.held(&self.shared);
        let network = of.shifted(&|bridge| self.groups.excess(bridge, &held), off.as_slice());
        Some((of, network, self.benches.get_mut(round)?))
    }

    /// What probes show in a round as the fit stands.
    pub(super) fn look(&mut self, round: usize, probes: &[Probe]) -> Result<Vec<View>, NetworkError> {
        let (frame, held) = (self.frame, self.groups.held(&self.shared));
        let Some((of, network, bench)) = self.stands(round) else { return Ok(Vec::new()) };
        let mut views = look(bench, frame, of, &network, probes)?.unwrap_or_default();
        // What a noisy reading asks for below nothing goes on along the slope, or the fit would not be the best one.
        for (members, (wanted, held)) in self.groups.members.iter().zip(self.shared.iter().zip(held.iter())) {
            let first = members.first().copied().filter(|_| wanted != held);
            for view in views.iter_mut().filter(|_| first.is_some()) {
                view.value +=
                    first.and_then(|first| view.bridges.get(first)).map_or(0.0, |slope| slope * (wanted - held));
            }
        }
        Ok(views)
    }

    /// The current in every bridge of a round as the fit stands.
    pub(super) fn currents(&mut self, round: usize) -> Result<Vec<f64>, NetworkError> {
        let Some((of, network, bench)) = self.stands(round) else { return Ok(Vec::new()) };
        currents(bench, of, &network)
    }

    /// What every reading should show as the fit stands, in the order of `seen`.
    pub(super) fn views(&mut self) -> Result<Vec<View>, NetworkError> {
        let mut found: Vec<Option<View>> = vec![None; self.seen.len()];
        for round in 0..self.rounds.len() {
            let here = self.seen.iter().enumerate().filter(|(_, seen)| seen.round == round);
            let (places, probes): (Vec<usize>, Vec<Probe>) = here.map(|(place, seen)| (place, seen.probe)).unzip();
            for (place, view) in places.into_iter().zip(self.look(round, &probes)?) {
                if let Some(slot) = found.get_mut(place) {
                    *slot = Some(view);
                }
            }
        }
        let none = || View { value: 0.0, bridges: vec![0.0; self.frame.bridges.len()], own: Vec::new() };
        Ok(found.into_iter().map(|view| view.unwrap_or_else(none)).collect())
    }

    /// A view as a row of the system.
    pub(super) fn row(&self, round: usize, view: &View, clamp: bool) -> Row {
        let own = self.rounds.get(round).map_or(0, |round| round.rough.len());
        let own = DVector::from_fn(own, |place, _| view.own.get(place).copied().unwrap_or(0.0));
        Row { round, shared: self.groups.shared(view, clamp), own }
    }

    /// Newton's rule until nothing moves, and how everything then hangs together.
    pub(super) fn settle(&mut self) -> Result<(), NetworkError> {
        let rows = self.newton()?;
        if let Some(solved) = &self.solved {
            self.rows = rows.into_iter().map(|(shows, row)| (shows, row.clone(), solved.half(&row))).collect();
        }
        Ok(())
    }

    /// Whether there is an explanation at all: numbers too far apart leave none.
    pub(super) fn explains(&self) -> bool {
        let numbers = self.shared.iter().chain(self.off.iter().flat_map(|off| off.iter()));
        self.solved.is_some() && numbers.into_iter().all(|number| number.is_finite())
    }

    /// Newton's rule until nothing moves: what each reading then should show, with its slopes.
    fn newton(&mut self) -> Result<Vec<(f64, Row)>, NetworkError> {
        let groups = self.groups.members.len();
        let zero = if self.zero { ANY_ZERO_A } else { ZERO_A };
        let prior = |place: usize| if place < groups { ANY_OHM } else { zero };
        let mut rows = Vec::new();
        for _ in 0..MOST_STEPS {
            let views = self.views()?;
            let known = |value: f64, deviation: f64| (-value, deviation);
            let shared: Vec<(f64, f64)> =
                self.shared.iter().enumerate().map(|(place, value)| known(*value, prior(place))).collect();
            let own = self.rounds.iter().zip(&self.off).map(|(round, off)| {
                round.rough.iter().zip(off.iter()).map(|(rough, off)| known(*off, rough.deviation)).collect()
            });
            let mut system = System::new(&shared, &own.collect::<Vec<Vec<_>>>());
            let zero = self.shared.get(groups).copied().unwrap_or(0.0);
            rows.clear();
            for (seen, view) in self.seen.iter().zip(&views) {
                let row = self.row(seen.round, view, seen.clamp);
                let shows = view.value + if seen.clamp { zero } else { 0.0 };
                if !seen.out {
                    system.add(&row, seen.value - shows, seen.deviation());
                }
                rows.push((shows, row));
            }
            let Some(solved) = system.solve() else { break };
            let moved = self.step(&solved);
            self.solved = Some(solved);
            if moved < SETTLED {
                break;
            }
        }
        Ok(rows)
    }

    /// How badly all readings fit the best explanation of them: squares over variances, of what the plan says roughly too,
    /// and what no way can have; with what each reading then should show.
    pub(super) fn misfit(&mut self) -> Result<(f64, Vec<(f64, Row)>), NetworkError> {
        let rows = self.newton()?;
        let used = self.seen.iter().zip(&rows).filter(|(seen, _)| !seen.out);
        let mut sum: f64 = used.map(|(seen, (shows, _))| ((seen.value - shows) / seen.deviation()).powi(2)).sum();
        for (round, off) in self.rounds.iter().zip(&self.off) {
            sum += round.rough.iter().zip(off.iter()).map(|(rough, off)| (off / rough.deviation).powi(2)).sum::<f64>();
        }
        for group in 0..self.groups.members.len() {
            sum += self.oddity(group);
        }
        Ok((sum, rows))
    }

    /// How odd the resistance of a group is: much, where it has less than its metal; a little, the more it has too much.
    fn oddity(&self, group: usize) -> f64 {
        const MOST: f64 = 100.0;
        let Some(members) = self.groups.members.get(group) else { return 0.0 };
        let (least, nominal, _) = self.planned(members);
        let measured = nominal + self.shared.get(group).copied().unwrap_or(0.0);
        if measured < IMPOSSIBLE_SHARE * least {
            let deviation = self.unit(group).map_or(0.0, |half| half.variance().sqrt());
            return ((IMPOSSIBLE_SHARE * least - measured) / deviation.max(1e-9)).powi(2).min(MOST);
        }
        0.5 * ((measured / nominal.max(1e-9)).max(1.0).ln() / 0.7).powi(2)
    }

    /// Moves by a step; how far at most, over the deviation before anything was read.
    fn step(&mut self, solved: &Solved) -> f64 {
        let groups = self.groups.members.len();
        let mut moved = 0.0_f64;
        for (place, (value, step)) in self.shared.iter_mut().zip(solved.values.0.iter()).enumerate() {
            moved = moved.max(step.abs() / if place < groups { ANY_OHM } else { ANY_ZERO_A });
            *value += step;
        }
        for ((off, step), round) in self.off.iter_mut().zip(&solved.values.1).zip(self.rounds) {
            for ((value, step), rough) in off.iter_mut().zip(step.iter()).zip(&round.rough) {
                moved = moved.max(step.abs() / rough.deviation);
                *value += step;
            }
        }
        moved
    }

    /// Least, nominal and most of what was planned for bridges together.
    pub(super) fn planned(&self, bridges: &[usize]) -> (f64, f64, f64) {
        let mut sum = (0.0, 0.0, 0.0);
        for bridge in bridges {
            let rounds = self.rounds.iter().filter(|round| round.branches.get(*bridge).copied().flatten().is_some());
            let rounds: Vec<_> = rounds.filter_map(|round| round.planned.get(*bridge)).collect();
            let over = |pick: &dyn Fn(&super::model::Planned) -> f64, better: fn(f64, f64) -> f64| {
                rounds.iter().map(|planned| pick(planned)).reduce(better).unwrap_or(0.0)
            };
            sum.0 += over(&|planned| planned.least, f64::min);
            sum.1 += over(&|planned| planned.nominal, f64::max);
            sum.2 += over(&|planned| planned.most, f64::max);
        }
        sum
    }

    /// Deviation and half-width of the 95 % interval of what a half row stands for, by the laws of all that it rests on.
    pub(super) fn spread(&self, half: &Half) -> (f64, f64) {
        let variance = half.variance();
        let mut fourth = 0.0;
        for (seen, (_, _, reading)) in self.seen.iter().zip(&self.rows) {
            if !seen.out {
                let part = half.covariance(reading).powi(2) / seen.deviation().powi(2);
                fourth += part * part;
            }
        }
        let flatness = if variance > 0.0 { (fourth / (variance * variance)).min(1.0) } else { 0.0 };
        (variance.sqrt(), coverage(flatness) * variance.sqrt())
    }

    /// The current through every group in a round, with its deviation.
    pub(super) fn through(&mut self, round: usize) -> Result<Vec<(f64, f64)>, NetworkError> {
        let first = |members: &Vec<usize>| Probe::Current(members.first().copied().unwrap_or(0));
        let probes: Vec<Probe> = self.groups.members.iter().map(first).collect();
        let views = self.look(round, &probes)?;
        let Some(solved) = self.solved.as_ref() else { return Ok(Vec::new()) };
        let of = |view: &View| (view.value, solved.half(&self.row(round, view, false)).variance().sqrt());
        Ok(views.iter().map(of).collect())
    }

    /// The half row of one of the shared unknowns.
    pub(super) fn unit(&self, unknown: usize) -> Option<Half> {
        let solved = self.solved.as_ref()?;
        Some(solved.half(&solved.unit(unknown)))
    }
}
