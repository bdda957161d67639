//! Low-voltage lock-out, restart, and whether a converter chatters at the end of its feeder.

use super::error::{self, ConverterError, check};
use crate::names::named;
use crate::quantity::{ElectricPotential, ElectricalResistance, Power};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// The input voltages at which a converter stops and starts again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LockOut {
    stop: ElectricPotential,
    restart: ElectricPotential,
}

named! {
    /// What a converter does at the end of a feeder.
    Behaviour, "behaviour", {
        /// It starts, and stays on.
        Runs => "runs",
        /// It stays on, but once stopped the feeder does not start it again.
        RunsUntilStopped => "runs-until-stopped",
        /// Starting pulls its input below lock-out, stopping lets it recover: on and off without end.
        Chatters => "chatters",
        /// It cannot stay on and does not start.
        StaysOut => "stays-out",
    }
}

/// A converter of constant power at the end of a feeder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnFeeder {
    /// Its input voltage while it draws its power, whether or not it is locked out there; none when the feeder
    /// cannot carry that power at all.
    pub voltage: Option<ElectricPotential>,
    /// What it does.
    pub behaviour: Behaviour,
    /// The largest resistance of both legs together at which it stays on; none when its open voltage is already below
    /// lock-out, which no conductor cures.
    pub largest_resistance: Option<ElectricalResistance>,
}

impl LockOut {
    /// Stops below `stop`, starts again from `restart` on.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] when the lock-out voltage is not above 0 V, or the restart voltage below it.
    ///
    /// ```
    /// use loomwright::{converter::LockOut, quantity::{ElectricPotential, FromText}};
    /// let [stop, restart] = [ElectricPotential::from_text("10.5 V")?, ElectricPotential::from_text("11.8 V")?];
    /// assert!(LockOut::new(stop, restart).is_ok());
    /// assert!(LockOut::new(restart, stop).is_err()); // it would start below where it stops
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(stop: ElectricPotential, restart: ElectricPotential) -> Result<Self, ConverterError> {
        error::voltage("a lock-out voltage", stop)?;
        check("a restart voltage", restart.value, "V", "the lock-out voltage or more", restart >= stop)?;
        Ok(Self { stop, restart })
    }

    /// The voltage below which it stops.
    pub fn stop(&self) -> ElectricPotential {
        self.stop
    }

    /// The voltage from which on it starts again.
    pub fn restart(&self) -> ElectricPotential {
        self.restart
    }

    /// Whether it runs at an input voltage, having run before or not.
    ///
    /// ```
    /// use loomwright::{converter::LockOut, quantity::{ElectricPotential, FromText}};
    /// let volts = ElectricPotential::from_text;
    /// let lock_out = LockOut::new(volts("10.5 V")?, volts("11.8 V")?)?;
    /// let between = volts("11 V")?; // it stays as it was
    /// assert!(lock_out.runs(between, true) && !lock_out.runs(between, false));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn runs(&self, voltage: ElectricPotential, running: bool) -> bool {
        voltage >= if running { self.stop } else { self.restart }
    }

    /// A converter that takes constant `power` at the end of a feeder of open voltage E and loop `resistance` R.
    ///
    /// On load V = (E + √(E² − 4·P·R))/2, the upper of two roots; none when R > E²/(4·P). It stays at or above a
    /// lock-out of V_lo up to R = (E − V_lo)·V_lo/P; where V_lo is below E/2 the feeder fails first, at R = E²/(4·P).
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] when `open` or `power` is not above zero, `resistance` negative, or one no
    /// finite number.
    ///
    /// ```
    /// use loomwright::converter::{Behaviour, LockOut};
    /// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText, Power};
    /// let lock_out = LockOut::new(ElectricPotential::from_text("10.5 V")?, ElectricPotential::from_text("11.8 V")?)?;
    /// let found = lock_out.on_feeder(
    ///     ElectricPotential::from_text("12.2 V")?,
    ///     ElectricalResistance::from_text("45 mΩ")?,
    ///     Power::from_text("480 W")?,
    /// )?;
    /// assert_eq!(found.behaviour, Behaviour::Chatters);
    /// let most = found.largest_resistance.ok_or("no conductor cures it")?;
    /// assert!((most.value - 0.0371875).abs() < 1e-9); // shorten or fatten to 37 mΩ
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn on_feeder(
        &self,
        open: ElectricPotential,
        resistance: ElectricalResistance,
        power: Power,
    ) -> Result<OnFeeder, ConverterError> {
        error::voltage("an open voltage", open)?;
        check("a loop resistance", resistance.value, "Ω", "0 Ω or more", resistance.value >= 0.0)?;
        check("an input power", power.value, "W", "above 0 W", power.value > 0.0)?;
        let (e, r, p, stop) = (open.value, resistance.value, power.value, self.stop.value);
        let at = stop.max(0.5 * e);
        let largest_resistance = (e >= stop).then(|| ElectricalResistance::new::<ohm>((e - at) * at / p));
        let square = e * e - 4.0 * p * r;
        // At the very limit rounding may not make a root vanish.
        let voltage =
            (square >= -1e-12 * e * e).then(|| ElectricPotential::new::<volt>(0.5 * (e + square.max(0.0).sqrt())));
        let stays = largest_resistance.is_some_and(|most| resistance <= most);
        let behaviour = match (open >= self.restart, stays) {
            (true, true) => Behaviour::Runs,
            (false, true) => Behaviour::RunsUntilStopped,
            (true, false) => Behaviour::Chatters,
            (false, false) => Behaviour::StaysOut,
        };
        Ok(OnFeeder { voltage, behaviour, largest_resistance })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uom::si::power::watt;

    fn volts(value: f64) -> ElectricPotential {
        ElectricPotential::new::<volt>(value)
    }

    fn ohms(value: f64) -> ElectricalResistance {
        ElectricalResistance::new::<ohm>(value)
    }

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    #[test]
    fn all_four_behaviours() {
        let lock_out = LockOut::new(volts(10.5), volts(12.0)).unwrap();
        let of = |open: f64, resistance: f64| {
            lock_out.on_feeder(volts(open), ohms(resistance), watts(300.0)).unwrap().behaviour
        };
        assert_eq!(of(12.8, 0.02), Behaviour::Runs);
        assert_eq!(of(11.9, 0.02), Behaviour::RunsUntilStopped);
        assert_eq!(of(12.8, 0.10), Behaviour::Chatters);
        assert_eq!(of(11.9, 0.10), Behaviour::StaysOut);
        assert_eq!(of(10.4, 0.0), Behaviour::StaysOut);
    }

    #[test]
    fn below_half_the_open_voltage_the_feeder_fails_first() {
        let lock_out = LockOut::new(volts(5.0), volts(9.0)).unwrap();
        let found = lock_out.on_feeder(volts(24.0), ohms(0.5), watts(300.0)).unwrap();
        assert_eq!(found.voltage, None);
        assert_eq!(found.behaviour, Behaviour::Chatters);
        assert!((found.largest_resistance.unwrap().value - 0.48).abs() < 1e-12); // 24²/(4·300)
        let none = LockOut::new(volts(10.5), volts(11.0)).unwrap();
        assert_eq!(none.on_feeder(volts(10.0), ohms(0.0), watts(300.0)).unwrap().largest_resistance, None);
    }

    #[test]
    fn what_is_no_feeder_is_refused() {
        let lock_out = LockOut::new(volts(10.5), volts(12.0)).unwrap();
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(LockOut::new(volts(bad), volts(12.0)).is_err());
            assert!(LockOut::new(volts(10.0), volts(bad)).is_err());
            assert!(lock_out.on_feeder(volts(bad), ohms(0.1), watts(100.0)).is_err());
            assert!(lock_out.on_feeder(volts(12.0), ohms(bad), watts(100.0)).is_err());
            assert!(lock_out.on_feeder(volts(12.0), ohms(0.1), watts(bad)).is_err());
        }
        assert!(LockOut::new(volts(12.0), volts(11.9)).is_err());
        assert!(lock_out.on_feeder(volts(12.0), ohms(0.1), watts(0.0)).is_err());
    }

    proptest! {
        #[test]
        fn the_largest_resistance_is_where_it_just_stays_on(
            open in 10.0_f64..60.0, stop in 0.1_f64..1.0, gap in 0.0_f64..0.3, power in 1.0_f64..5000.0,
        ) {
            let lock_out = LockOut::new(volts(stop * open), volts((stop + gap) * open)).unwrap();
            let at = |resistance| lock_out.on_feeder(volts(open), resistance, watts(power)).unwrap();
            let most = at(ohms(0.0)).largest_resistance.unwrap();
            let just = at(most);
            prop_assert!(matches!(just.behaviour, Behaviour::Runs | Behaviour::RunsUntilStopped));
            let lowest = just.voltage.unwrap().value;
            prop_assert!((lowest - (stop * open).max(0.5 * open)).abs() < 2e-6 * open, "{lowest}");
            prop_assert!(matches!(at(most * 1.0001 + ohms(1e-9)).behaviour, Behaviour::Chatters | Behaviour::StaysOut));
            // Power is kept: V·(E − V)/R.
            let half = at(most * 0.5);
            if let Some(v) = half.voltage && most.value > 1e-9 {
                let carried = v.value * (open - v.value) / (0.5 * most.value);
                prop_assert!((carried / power - 1.0).abs() < 1e-6, "{carried} W");
            }
        }
    }
}
