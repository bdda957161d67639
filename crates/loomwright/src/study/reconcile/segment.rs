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
    /// The fuse or breaker of a run, with its holder.
    Fuse(usize),
    /// The conductor of a run.
    Cable(usize),
    /// An isolator, shunt, relay or other joint in line, by its index.
    Link(usize),
}

impl Segment {
    /// What it is called.
    pub fn name(self, plan: &Installation) -> String {
        let run = |index: usize| plan.runs.get(index).map_or("", |run| run.name.as_str());
        match self {
            Self::Joint(index, end) => {
                let node = plan.runs.get(index).map(|run| if end == 0 { run.from } else { run.to });
                let node = node.and_then(|node| plan.nodes.get(node.0)).map_or("", |node| node.name.as_str());
                format!("joint of {} on {node}", run(index))
            }
            Self::Fuse(index) => format!("fuse of {}", run(index)),
            Self::Cable(index) => format!("conductor of {}", run(index)),
            Self::Link(index) => plan.links.get(index).map_or_else(String::new, |link| link.name.clone()),
        }
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
