//! Parts of an earlier system, in an upgrade.

use crate::conductor::Conductor;
use crate::names::named;
use crate::protection::Fuse;
use crate::quantity::Length;

named! {
    /// What becomes of an existing part.
    State, "state of an existing part", {
        /// It stays as it is, if it may.
        Kept => "kept",
        /// It is taken out.
        Removed => "removed",
    }
}

named! {
    /// What an existing part is, by the section of the plan that describes it.
    Part, "existing part", {
        /// A battery.
        Battery => "batteries",
        /// An alternator.
        Alternator => "alternators",
        /// A converter.
        Converter => "converters",
        /// A load.
        Load => "loads",
        /// A busbar.
        Busbar => "busbars",
        /// A device in line.
        Link => "links",
        /// A circuit.
        Circuit => "circuits",
        /// A single run.
        Run => "runs",
    }
}

/// An existing part.
#[derive(Clone, Debug)]
pub struct Existing {
    /// What it is.
    pub part: Part,
    /// Its name.
    pub name: String,
    /// What becomes of it.
    pub state: State,
    /// The conductor of a removed run or circuit, and how long it is over both legs, where the plan states them.
    pub freed: Option<(Conductor, Length)>,
    /// The fuse of a removed run or circuit.
    pub fuse: Option<Fuse>,
}
