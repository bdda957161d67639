//! Runs: one conductor from node to node through zones.

use super::NodeId;
use crate::conductor::{Conductor, Kind, Material};
use crate::data::tables::constants;
use crate::fitting::{Gland, Pin};
use crate::heat::Installation as Method;
use crate::protection::Fuse;
use crate::quantity::{Area, Length, ThermodynamicTemperature};
use uom::si::length::meter;

/// A stretch of a run in one zone.
#[derive(Clone, Copy, Debug)]
pub struct Segment {
    /// The zone's index.
    pub zone: usize,
    /// Routed length in it.
    pub length: Length,
    /// How the run lies here, where it lies otherwise than the rest of it.
    pub method: Option<Method>,
    /// The loom it lies in here, by index.
    pub loom: Option<usize>,
}

/// Runs laid together along a part of their way, bare or in one conduit: each warms the others.
#[derive(Clone, Debug)]
pub struct Loom {
    /// Its name.
    pub name: String,
    /// How it lies.
    pub method: Method,
    /// Bore of its conduit, when it is known.
    pub bore: Option<Length>,
}

/// The conductor of a run.
#[derive(Clone, Copy, Debug)]
pub enum ConductorChoice {
    /// As stated.
    Fixed(Conductor),
    /// To be chosen from this kind and material.
    Auto(Kind, Material),
}

/// The protective device at the source end of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FuseChoice {
    /// None.
    None,
    /// To be chosen.
    Auto,
    /// As stated.
    Fixed(Fuse),
}

/// Which side of the system a run belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leg {
    /// Positive.
    Positive,
    /// Negative.
    Negative,
}

impl Leg {
    /// In a word.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Positive => "positive",
            Self::Negative => "negative",
        }
    }
}

/// Cut length from route: 10 % and 0.3 m at each end (common practice, no source).
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    /// Share added to the route.
    pub share: f64,
    /// Length added for both ends together.
    pub ends: Length,
}

impl Cut {
    /// What is cut for a route.
    pub(crate) fn of(self, route: Length) -> Length {
        route * (1.0 + self.share) + self.ends
    }
}

impl Default for Cut {
    fn default() -> Self {
        Self { share: constants::CUT_SHARE, ends: Length::new::<meter>(constants::CUT_ENDS_M) }
    }
}

/// What a run passes on its way, where the plan states it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Laying {
    /// The tightest bend, inside.
    pub bend_radius: Option<Length>,
    /// The farthest from one support to the next.
    pub support_spacing: Option<Length>,
    /// The gland that it passes.
    pub gland: Option<Gland>,
}

/// One conductor from node to node.
#[derive(Clone, Debug)]
pub struct Run {
    /// Its name; a leg of a circuit carries the circuit's name and its sign.
    pub name: String,
    /// The circuit it is a leg of.
    pub circuit: Option<String>,
    /// The other leg's index, which has the same conductor.
    pub twin: Option<usize>,
    /// Where it starts; the protective device sits at this end.
    pub from: NodeId,
    /// Where it ends.
    pub to: NodeId,
    /// Which side it belongs to.
    pub leg: Leg,
    /// Its stretches.
    pub segments: Vec<Segment>,
    /// Allowance for cutting.
    pub cut: Cut,
    /// Its conductor.
    pub conductor: ConductorChoice,
    /// Its insulation class.
    pub insulation: ThermodynamicTemperature,
    /// How it lies.
    pub method: Method,
    /// Its protective device.
    pub fuse: FuseChoice,
    /// The maker's sheet of that device, by index.
    pub sheet: Option<usize>,
    /// How far along the conductor from its start the device sits.
    pub fuse_distance: Length,
    /// Whether it feeds a starter motor and is exempt from protection.
    pub cranking: bool,
    /// Reducing pins at its start and its end, by the cross-section of the pin.
    pub pins: [Option<Area>; 2],
    /// What it passes on its way.
    pub laying: Laying,
}

impl Run {
    /// Routed length.
    pub fn route(&self) -> Length {
        self.segments.iter().fold(Length::default(), |sum, segment| sum + segment.length)
    }

    /// The reducing pin at its start (0) or end (1), for the conductor that it has.
    pub fn pin(&self, end: usize, conductor: &Conductor) -> Option<Pin> {
        Pin::new(conductor.area, (*self.pins.get(end)?)?)
    }

    /// Length to cut, which is also the electrical length.
    pub fn cut_length(&self) -> Length {
        self.cut.of(self.route())
    }
}
