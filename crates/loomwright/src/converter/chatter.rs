//! Starting and stopping without end.
//!
//! A converter starts at its restart voltage; what it then draws pulls its input below the voltage at which it stops;
//! without load the input recovers. On a feeder of open voltage E and resistance R a constant power P leaves
//! V = (E + √(E² − 4·P·R))/2, and nothing at all when P > E²/4R.

use crate::quantity::{ElectricPotential, ElectricalResistance, Power};
use uom::si::electric_potential::volt;

/// Voltages between which a consumer stops and starts again: hysteresis.
#[derive(Clone, Copy, Debug)]
pub struct LockOut {
    /// Below this it stops.
    pub stops: ElectricPotential,
    /// At this or above it starts again; not below `stops`.
    pub restarts: ElectricPotential,
}

/// A converter that starts and stops without end.
#[derive(Clone, Copy, Debug)]
pub struct Chatter {
    /// What starting would pull its input to; `None` when its voltage collapses.
    pub pulled_to: Option<ElectricPotential>,
    /// The largest resistance of the feeder, source and both legs, at which it keeps running; `None` when not even a
    /// feeder without resistance does.
    pub largest_resistance: Option<ElectricalResistance>,
}

/// Whether a converter chatters on a feeder, and the resistance that cures it.
///
/// ```
/// use loomwright::converter::{LockOut, chatter};
/// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText, Power};
/// let lock_out = LockOut { stops: ElectricPotential::from_text("10.5 V")?, restarts: ElectricPotential::from_text("11.5 V")? };
/// let feeder = ElectricalResistance::from_text("25 mohm")?;
/// let found = chatter(ElectricPotential::from_text("12 V")?, feeder, Power::from_text("800 W")?, lock_out);
/// // (12 V − 10.5 V) · 10.5 V / 800 W = 19.7 mΩ.
/// assert!((found.unwrap().largest_resistance.unwrap().value - 0.0196875).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn chatter(
    open: ElectricPotential,
    feeder: ElectricalResistance,
    power: Power,
    lock_out: LockOut,
) -> Option<Chatter> {
    let (e, stops) = (open.value, lock_out.stops.value);
    if open < lock_out.restarts {
        return None;
    }
    let under_root = e * e - 4.0 * power.value * feeder.value;
    let pulled_to = (under_root >= 0.0).then(|| ElectricPotential::new::<volt>(0.5 * (e + under_root.sqrt())));
    if pulled_to.is_some_and(|voltage| voltage >= lock_out.stops) {
        return None;
    }
    // Below half the open voltage no operating point exists: there the collapse is the limit.
    let holds = stops.max(0.5 * e);
    let largest_resistance = (power.value > 0.0 && e > holds).then(|| open_less(open, holds) * volts(holds) / power);
    Some(Chatter { pulled_to, largest_resistance })
}

fn volts(value: f64) -> ElectricPotential {
    ElectricPotential::new::<volt>(value)
}

fn open_less(open: ElectricPotential, holds: f64) -> ElectricPotential {
    open - volts(holds)
}
