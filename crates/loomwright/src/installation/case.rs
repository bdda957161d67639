//! Operating cases: what runs, and from which source.

use super::{Alternator, Battery};
use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::{ElectricCurrent, Ratio, ThermodynamicTemperature, celsius};
use crate::source::{Behind, Speed};

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
    /// State of charge of every battery instead, 0 to 1.
    pub charge: Option<Ratio>,
    /// Temperature of every battery; 25 °C when not stated.
    pub battery_temperature: Option<ThermodynamicTemperature>,
    /// Speed of the alternators instead of that of the engine's state.
    pub alternator_speed: Option<Speed>,
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
    /// A case of its name and conditions in which whatever fits them runs.
    ///
    /// ```
    /// use loomwright::installation::{BatteryState, Case, Engine};
    /// let case = Case::new("drive", Engine::Cruise, BatteryState::Full);
    /// assert!(!case.shore && !case.sun && case.loads.is_none()); // what fits it runs
    /// ```
    pub fn new(name: &str, engine: Engine, batteries: BatteryState) -> Self {
        Self {
            name: name.to_owned(),
            engine,
            shore: false,
            sun: false,
            batteries,
            charge: None,
            battery_temperature: None,
            alternator_speed: None,
            loads: None,
            starting: None,
            lock_out: false,
            everything: false,
        }
    }

    /// A battery in this case: voltage at rest and resistance, by its state of charge and temperature.
    ///
    /// A battery called low, resting or full stands at the voltage of its chemistry for that; its resistance is that at
    /// 10, 50 and 100 % charge (common practice, no source).
    ///
    /// ```
    /// use loomwright::installation::{BatteryState, Case, Engine};
    /// let text = include_str!("../../examples/lamp.toml");
    /// let plan = loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?;
    /// let [low, full] =
    ///     [BatteryState::Low, BatteryState::Full].map(|state| Case::new("", Engine::Off, state).battery(&plan.batteries[0]));
    /// assert!(low.emf < full.emf && low.resistance > full.resistance);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn battery(&self, battery: &Battery) -> Behind {
        let [low, resting, full] = battery.at_rest;
        let (named, usual) = match self.batteries {
            BatteryState::Low => (low, constants::LOW_CHARGE),
            BatteryState::Resting => (resting, constants::RESTING_CHARGE),
            BatteryState::Full => (full, 1.0),
        };
        let temperature = self.battery_temperature.unwrap_or_else(|| celsius(25.0));
        let blocks = battery.chemistry.blocks(battery.nominal);
        let charge = self.charge.unwrap_or_else(|| usual.into());
        let factor = battery.chemistry.resistance_factor(charge, temperature).map_or(1.0, |factor| factor.value);
        let open = self.charge.and_then(|charge| battery.chemistry.open_voltage(charge, temperature).ok());
        Behind { emf: open.map_or(named, |open| open * blocks), resistance: battery.resistance * factor }
    }

    /// What an alternator can deliver in this case.
    pub fn available(&self, alternator: &Alternator) -> ElectricCurrent {
        match (self.engine, self.alternator_speed.zip(alternator.curve)) {
            (Engine::Off, _) => ElectricCurrent::default(),
            (_, Some((speed, curve))) => curve.output(speed),
            (Engine::Idle, None) => alternator.idle_output,
            (Engine::Cruise, None) => alternator.hot_output,
        }
    }

    /// Whether it lasts: a start is over in moments, so it counts for voltage and for no heat.
    pub(crate) fn lasts(&self) -> bool {
        self.starting.is_none()
    }

    /// Whether it lasts and is met in use: every converter at its lock-out at once is a case for currents only.
    pub(crate) fn is_usual(&self) -> bool {
        self.lasts() && !self.lock_out
    }

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
