//! What was measured: a value, how far the instrument may be off, and in which operating case.

use jiff::civil::Date;

use crate::installation::{Installation, NodeId};
use crate::names::named;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, Power, Ratio, TemperatureInterval, ThermodynamicTemperature,
};

named! {
    /// A place inside a run at which a probe can be held, beside the terminals at its two ends.
    Inside, "place inside a run", {
        /// The conductor where it begins, past the joint at its start: the barrel of the lug.
        Start => "start",
        /// The outgoing side of its fuse or breaker, holder included.
        Fuse => "fuse",
        /// The conductor where it ends, before the joint at its end.
        End => "end",
    }
}

/// Where a probe is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Point {
    /// A terminal or busbar of the plan.
    Node(NodeId),
    /// A place inside a run, by the run's index.
    Run(usize, Inside),
}

impl Point {
    /// What it is called in readings: the name of a node, or `run@place`.
    pub fn name(self, plan: &Installation) -> String {
        match self {
            Self::Node(node) => plan.nodes.get(node.0).map_or_else(String::new, |node| node.name.clone()),
            Self::Run(run, place) => {
                format!("{}@{place}", plan.runs.get(run).map_or("", |run| run.name.as_str()))
            }
        }
    }
}

/// What the sensor of a temperature saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// A contact probe on it.
    Probe,
    /// An infrared instrument on tape, paint or insulation of this emissivity, to which it was set.
    Emissivity(Ratio),
    /// An infrared instrument on bare metal, or on nobody knows what: it reads too low.
    Bare,
}

/// What was measured, with the largest error that the instrument's maker admits (half the width of a rectangle).
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measured {
    /// Voltage of the first point over the second.
    Voltage {
        /// Where the positive and the negative probe were held.
        between: [Point; 2],
        /// What was read.
        value: ElectricPotential,
        /// Largest error of the instrument.
        within: ElectricPotential,
    },
    /// Current in a run, positive from its start to its end.
    Current {
        /// The run.
        run: usize,
        /// What was read.
        value: ElectricCurrent,
        /// Largest error of the instrument.
        within: ElectricCurrent,
    },
    /// Temperature of a terminal or of a place on a run.
    Temperature {
        /// Where.
        at: Point,
        /// What was read.
        value: ThermodynamicTemperature,
        /// Largest error of the instrument.
        within: TemperatureInterval,
        /// What the sensor saw.
        surface: Surface,
    },
    /// Power that an inverter gives to its loads.
    Power {
        /// The converter.
        converter: usize,
        /// What was read.
        value: Power,
        /// Largest error of the instrument.
        within: Power,
    },
}

/// One reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The line of the file that it stands in, from 1; for messages and results.
    pub line: usize,
    /// The operating case in which it was taken, by index.
    pub case: usize,
    /// What was measured.
    pub measured: Measured,
    /// Air beside it, when it was measured.
    pub ambient: Option<ThermodynamicTemperature>,
    /// The day, when it is known.
    pub date: Option<Date>,
    /// Whether its accuracy was not stated, so that a usual instrument was assumed.
    pub assumed: bool,
    /// What whoever measured it wrote beside it.
    pub note: String,
}
