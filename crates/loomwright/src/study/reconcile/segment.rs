//! The pieces of a way that have a resistance of their own, and what is to be said of one.

use jiff::civil::Date;

use crate::installation::Installation;
use crate::names::named;
use crate::quantity::ElectricalResistance;

/// A piece of a way with a resistance of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Segment {
    /// The joint at the start (0) or end (1) of a run, by the run's index.
    Joint(usize, usize),
    /// The fuse or breaker of a run, with its holder, and the conductor before it where it does not sit at its start.
    Fuse(usize),
    /// The conductor of a run.
    Cable(usize),
    /// An isolator, shunt, relay or other joint in line, by its index.
    Link(usize),
}

impl Segment {
    /// The run that it belongs to; none for a link.
    pub fn run(self) -> Option<usize> {
        match self {
            Self::Joint(run, _) | Self::Fuse(run) | Self::Cable(run) => Some(run),
            Self::Link(_) => None,
        }
    }

    /// What it is called within its run, or by itself.
    fn part(self, plan: &Installation) -> String {
        match self {
            Self::Joint(index, end) => {
                let node = plan.runs.get(index).map(|run| if end == 0 { run.from } else { run.to });
                let node = node.and_then(|node| plan.nodes.get(node.0)).map_or("", |node| node.name.as_str());
                format!("joint on {node}")
            }
            Self::Fuse(_) => "fuse".to_owned(),
            Self::Cable(_) => "conductor".to_owned(),
            Self::Link(index) => plan.links.get(index).map_or_else(String::new, |link| link.name.clone()),
        }
    }

    /// What it is called.
    pub fn name(self, plan: &Installation) -> String {
        Self::names(&[self], plan)
    }

    /// What several are called together: `joint on board and fuse of lamp +`, or the name of a run of which nothing is
    /// missing.
    pub fn names(segments: &[Self], plan: &Installation) -> String {
        let of_run = |run: Option<usize>| segments.iter().filter(move |segment| run.is_some() && segment.run() == run);
        let mut found: Vec<String> = Vec::new();
        let mut named = Vec::new();
        for segment in segments {
            let run = segment.run();
            if run.is_none() {
                found.push(segment.part(plan));
            } else if !named.contains(&run) {
                named.push(run);
                let name = run.and_then(|run| plan.runs.get(run)).map_or("", |run| run.name.as_str());
                let ends = of_run(run).filter(|segment| matches!(segment, Self::Joint(..))).count();
                let parts: Vec<String> = of_run(run).map(|segment| segment.part(plan)).collect();
                let whole = ends == 2 && of_run(run).any(|segment| matches!(segment, Self::Cable(_)));
                found.push(if whole { name.to_owned() } else { format!("{} of {name}", parts.join(" and ")) });
            }
        }
        found.join(", ")
    }
}

named! {
    /// What is to be done about a segment.
    Verdict, "verdict", {
        /// What was measured is what was planned.
        AsPlanned => "as-planned",
        /// The readings do not tell: too coarse, too little current, or several segments that only show together.
        NotTold => "not-told",
        /// More than planned, but cool yet: measure it again soon.
        Watch => "watch",
        /// Open it up and remake it now.
        Remake => "remake",
    }
}

/// What is known of a segment from the readings of one day.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// The segment.
    pub segment: Segment,
    /// The day, when it is known.
    pub date: Option<Date>,
    /// Resistance above what was planned.
    pub excess: ElectricalResistance,
    /// Half the width of its 95 % interval.
    pub within: ElectricalResistance,
    /// What was said of it.
    pub verdict: Verdict,
}
