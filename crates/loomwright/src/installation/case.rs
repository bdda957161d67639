//! Operating cases: what runs, and from which source.

use crate::names::named;

named! {
    /// What the engine does.
    Engine, "engine state", {
        /// Stands still.
        Off => "off",
        /// Idles hot.
        Idle => "idle",
        /// Turns at cruising speed.
        Cruise => "cruise",
    }
}

named! {
    /// How full the batteries are.
    BatteryState, "battery state", {
        /// Nearly empty.
        Low => "low",
        /// Half full, at rest.
        Resting => "resting",
        /// Full.
        Full => "full",
    }
}

/// One operating case.
#[derive(Clone, Debug)]
pub struct Case {
    /// Its name.
    pub name: String,
    /// What the engine does.
    pub engine: Engine,
    /// Whether shore power is connected.
    pub shore: bool,
    /// Whether the sun shines on the arrays.
    pub sun: bool,
    /// How full the batteries are.
    pub batteries: BatteryState,
    /// The loads that run; `None` for those whose `when` fits the case.
    pub loads: Option<Vec<usize>>,
    /// The load that is just starting.
    pub starting: Option<usize>,
    /// Whether every converter draws what it draws at its lock-out voltage: a case for currents, not for
    /// voltages.
    pub lock_out: bool,
    /// Whether every load runs, and every inverter at its rated power.
    pub everything: bool,
}

impl Case {
    /// Index into `runs_when` and `closed_when`: engine off, driving, shore.
    pub fn situation(&self) -> usize {
        if self.engine != Engine::Off {
            1
        } else if self.shore {
            2
        } else {
            0
        }
    }
}
