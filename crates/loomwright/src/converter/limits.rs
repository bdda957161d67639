//! The input side: what a converter takes and gives in a state, and which limit binds.

use super::error::{self, ConverterError, check};
use super::{LockOut, Losses};
use crate::names::named;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, Power, Ratio, ThermodynamicTemperature, celsius, in_celsius,
};
use uom::si::power::watt;
use uom::si::ratio::{percent, ratio};

named! {
    /// What decides how much a converter gives.
    Binding, "binding limit", {
        /// Nothing: it gives what is wanted.
        Demand => "demand",
        /// Its output current, set or rated.
        OutputCurrent => "output-current",
        /// Its rated output power.
        OutputPower => "output-power",
        /// The temperature of the air around it.
        Ambient => "ambient",
        /// Its input current.
        InputCurrent => "input-current",
        /// Its input voltage: it has stopped.
        LockedOut => "locked-out",
    }
}

/// How rated output falls with the temperature of the air: full up to one temperature, then straight to a share, or
/// to nothing, at a second one. Hotter than that it gives nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Derating {
    full_up_to: ThermodynamicTemperature,
    end: ThermodynamicTemperature,
    share_at_end: Ratio,
}

impl Derating {
    /// Full output up to `full_up_to`, straight to `share_at_end` at `end`.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] when the second temperature is not above the first, one lies outside −60 to
    /// 200 °C, or the share outside 0 % to 100 %.
    ///
    /// ```
    /// use loomwright::{converter::Derating, quantity::{Ratio, celsius}};
    /// assert!(Derating::new(celsius(40.0), celsius(60.0), Ratio::from(0.5)).is_ok());
    /// assert!(Derating::new(celsius(60.0), celsius(40.0), Ratio::from(0.5)).is_err()); // it ends before it begins
    /// ```
    pub fn new(
        full_up_to: ThermodynamicTemperature,
        end: ThermodynamicTemperature,
        share_at_end: Ratio,
    ) -> Result<Self, ConverterError> {
        air("a temperature of full output", full_up_to)?;
        air("a temperature where derating ends", end)?;
        let above = "above the temperature of full output";
        check("a temperature where derating ends", in_celsius(end), "°C", above, end > full_up_to)?;
        let holds = (0.0..=1.0).contains(&share_at_end.value);
        check("a share of rated output", share_at_end.get::<percent>(), "%", "0 % to 100 %", holds)?;
        Ok(Self { full_up_to, end, share_at_end })
    }

    /// The share of rated output at a temperature of the air.
    ///
    /// ```
    /// use loomwright::{converter::Derating, quantity::{Ratio, celsius}};
    /// let derating = Derating::new(celsius(40.0), celsius(60.0), Ratio::from(0.5))?;
    /// let [full, half_way, beyond] = [25.0, 50.0, 61.0].map(|air| derating.share(celsius(air)).value);
    /// assert!(full == 1.0 && (half_way - 0.75).abs() < 1e-9 && beyond == 0.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn share(&self, ambient: ThermodynamicTemperature) -> Ratio {
        let share = if ambient <= self.full_up_to {
            1.0
        } else if ambient <= self.end {
            let along = (ambient.value - self.full_up_to.value) / (self.end.value - self.full_up_to.value);
            1.0 + along * (self.share_at_end.value - 1.0)
        } else {
            0.0
        };
        Ratio::new::<ratio>(share)
    }
}

fn air(what: &'static str, temperature: ThermodynamicTemperature) -> Result<(), ConverterError> {
    let holds = temperature >= celsius(-60.0) && temperature <= celsius(200.0);
    check(what, in_celsius(temperature), "°C", "−60 °C to 200 °C", holds)
}

/// What a converter is held to; what is not stated does not bind.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Output current, set or rated.
    pub output_current: Option<ElectricCurrent>,
    /// Rated output power.
    pub output_power: Option<Power>,
    /// Input current.
    pub input_current: Option<ElectricCurrent>,
    /// Rated output (the power, or the output current where no power is stated) by temperature of the air.
    pub derating: Option<Derating>,
    /// Input voltages at which it stops and starts again.
    pub lock_out: Option<LockOut>,
}

/// The state that a converter is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Voltage at its input while it runs; 0 V or more.
    pub input_voltage: ElectricPotential,
    /// Voltage at its output.
    pub output_voltage: ElectricPotential,
    /// What its output is asked for.
    pub wanted: Power,
    /// Temperature of the air around it, −60 to 200 °C.
    pub ambient: ThermodynamicTemperature,
    /// Whether it ran just before: between lock-out and restart voltage it stays as it was.
    pub running: bool,
}

/// What a converter does in a state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Operation {
    /// Power that it takes.
    pub input: Power,
    /// Current that it takes, without an inverter's ripple.
    pub input_current: ElectricCurrent,
    /// Power that it gives.
    pub output: Power,
    /// Current that it gives.
    pub output_current: ElectricCurrent,
    /// Heat that it sheds.
    pub heat: Power,
    /// What decides.
    pub binding: Binding,
}

impl Limits {
    /// What a converter with these losses does: the tightest limit decides, and of equals the first in the order of
    /// [`Binding`]. Locked out it is taken to take nothing, as also at an input of 0 V.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for a value that is negative or no finite number, an output voltage of 0 V, or
    /// air outside −60 to 200 °C; [`ConverterError::NothingToDerate`] for a derating without rated output.
    ///
    /// ```
    /// use loomwright::converter::{Binding, Conditions, Limits, Losses};
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Power, Ratio, celsius};
    /// let losses = Losses::flat(Ratio::from_text("90 %")?, Power::from_text("0 W")?);
    /// let limits = Limits { output_current: Some(ElectricCurrent::from_text("30 A")?), ..Limits::default() };
    /// let done = limits.operate(&losses, &Conditions {
    ///     input_voltage: ElectricPotential::from_text("12 V")?,
    ///     output_voltage: ElectricPotential::from_text("14.4 V")?,
    ///     wanted: Power::from_text("500 W")?,
    ///     ambient: celsius(40.0),
    ///     running: true,
    /// })?;
    /// assert_eq!(done.binding, Binding::OutputCurrent);
    /// assert!((done.input_current.value - 40.0).abs() < 1e-9); // 432 W out, 480 W in
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn operate(&self, losses: &Losses, at: &Conditions) -> Result<Operation, ConverterError> {
        let input_voltage = at.input_voltage;
        check("an input voltage", input_voltage.value, "V", "0 V or more", input_voltage.value >= 0.0)?;
        error::voltage("an output voltage", at.output_voltage)?;
        error::power("a wanted output", at.wanted)?;
        air("an ambient", at.ambient)?;
        let nothing = Power::new::<watt>(0.0);
        let runs = self.lock_out.is_none_or(|lock_out| lock_out.runs(input_voltage, at.running));
        let tightest = self.tightest(losses, at)?;
        let stopped = input_voltage.value == 0.0 || !runs;
        let (binding, output) = if stopped { (Binding::LockedOut, nothing) } else { tightest };
        let input = match (binding, self.input_current) {
            (Binding::LockedOut, _) => nothing,
            // It may not even get what it takes for itself.
            (Binding::InputCurrent, Some(limit)) => limit * input_voltage,
            _ => losses.input(output),
        };
        let input_current = if input.value > 0.0 { input / input_voltage } else { ElectricCurrent::default() };
        let output_current = output / at.output_voltage;
        Ok(Operation { input, input_current, output, output_current, heat: input - output, binding })
    }

    /// The least of all limits while it runs, the first of equals.
    fn tightest(&self, losses: &Losses, at: &Conditions) -> Result<(Binding, Power), ConverterError> {
        let mut found = (Binding::Demand, at.wanted);
        let mut limit = |binding, most: Power| {
            if most < found.1 {
                found = (binding, most);
            }
        };
        if let Some(most) = self.output_current {
            error::current("an output current", most)?;
            limit(Binding::OutputCurrent, most * at.output_voltage);
        }
        if let Some(most) = self.output_power {
            error::power("an output power", most)?;
            limit(Binding::OutputPower, most);
        }
        if let Some(derating) = self.derating {
            let by_current = self.output_current.map(|most| most * at.output_voltage);
            let rated = self.output_power.or(by_current).ok_or(ConverterError::NothingToDerate)?;
            limit(Binding::Ambient, rated * derating.share(at.ambient));
        }
        if let Some(most) = self.input_current {
            error::current("an input current", most)?;
            // What the limit lets it take; its own need counts even when nothing is wanted.
            let most = most * at.input_voltage;
            if most < losses.input(found.1) {
                found = (Binding::InputCurrent, losses.output(most).min(found.1));
            }
        }
        Ok(found)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::FromText;
    use proptest::prelude::*;

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    fn volts(text: &str) -> ElectricPotential {
        ElectricPotential::from_text(text).unwrap()
    }

    fn amperes(text: &str) -> ElectricCurrent {
        ElectricCurrent::from_text(text).unwrap()
    }

    fn losses() -> Losses {
        Losses::typical(Ratio::new::<ratio>(0.9), watts(500.0), None).unwrap()
    }

    fn limits() -> Limits {
        Limits {
            output_current: Some(amperes("40 A")),
            output_power: Some(watts(500.0)),
            input_current: Some(amperes("50 A")),
            derating: Some(Derating::new(celsius(40.0), celsius(60.0), Ratio::new::<ratio>(0.5)).unwrap()),
            lock_out: Some(LockOut::new(volts("10.5 V"), volts("12 V")).unwrap()),
        }
    }

    fn at(input: &str, wanted: f64, ambient: f64) -> Conditions {
        Conditions {
            input_voltage: volts(input),
            output_voltage: volts("14 V"),
            wanted: watts(wanted),
            ambient: celsius(ambient),
            running: true,
        }
    }

    #[test]
    fn the_limit_that_binds_is_named() {
        let bound = |input: &str, wanted: f64, ambient: f64| {
            let done = limits().operate(&losses(), &at(input, wanted, ambient)).unwrap();
            (done.binding, done.output.value)
        };
        assert_eq!(bound("13 V", 300.0, 25.0), (Binding::Demand, 300.0));
        assert_eq!(bound("13 V", 500.0, 25.0), (Binding::Demand, 500.0));
        assert_eq!(bound("13 V", 900.0, 25.0), (Binding::OutputPower, 500.0));
        assert_eq!(bound("13 V", 900.0, 50.0), (Binding::Ambient, 375.0));
        assert_eq!(bound("13 V", 900.0, 60.0), (Binding::Ambient, 250.0));
        assert_eq!(bound("13 V", 900.0, 60.1), (Binding::Ambient, 0.0));
        assert_eq!(bound("10.4 V", 300.0, 25.0), (Binding::LockedOut, 0.0));
        assert_eq!(bound("0 V", 300.0, 25.0), (Binding::LockedOut, 0.0));
        let (binding, output) = bound("10.6 V", 500.0, 25.0);
        assert_eq!(binding, Binding::InputCurrent);
        assert!((losses().input(watts(output)).value - 530.0).abs() < 1e-9, "{output}");
        let setting = Limits { output_current: Some(amperes("20 A")), ..limits() };
        let done = setting.operate(&losses(), &at("13 V", 900.0, 25.0)).unwrap();
        assert_eq!((done.binding, done.output.value), (Binding::OutputCurrent, 280.0));
        assert!((done.output_current - amperes("20 A")).value.abs() < 1e-12);
    }

    #[test]
    fn a_stopped_converter_waits_for_its_restart_voltage() {
        let asked = |input: &str, running: bool| {
            let conditions = Conditions { running, ..at(input, 300.0, 25.0) };
            let done = limits().operate(&losses(), &conditions).unwrap();
            assert_eq!(done.input.value == 0.0, done.binding == Binding::LockedOut);
            done.binding
        };
        assert_eq!(asked("11 V", true), Binding::Demand);
        assert_eq!(asked("11 V", false), Binding::LockedOut);
        assert_eq!(asked("12 V", false), Binding::Demand);
    }

    #[test]
    fn an_input_limit_below_its_own_need_leaves_no_output() {
        let limits = Limits { input_current: Some(amperes("0.5 A")), ..Limits::default() };
        let done = limits.operate(&losses(), &at("12 V", 0.0, 25.0)).unwrap();
        assert_eq!((done.binding, done.output.value, done.input.value), (Binding::InputCurrent, 0.0, 6.0));
    }

    #[test]
    fn what_is_no_state_is_refused() {
        let refused = |limits: &Limits, conditions: &Conditions| limits.operate(&losses(), conditions).is_err();
        let good = at("12 V", 100.0, 25.0);
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(refused(&limits(), &Conditions { wanted: watts(bad), ..good }));
            assert!(refused(&limits(), &Conditions { input_voltage: volts("1 V") * bad, ..good }));
            assert!(refused(&limits(), &Conditions { output_voltage: volts("1 V") * bad, ..good }));
            assert!(refused(&Limits { output_power: Some(watts(bad)), ..limits() }, &good));
            assert!(refused(&Limits { output_current: Some(amperes("1 A") * bad), ..limits() }, &good));
            assert!(refused(&Limits { input_current: Some(amperes("1 A") * bad), ..limits() }, &good));
        }
        for bad in [f64::NAN, -61.0, 201.0] {
            assert!(refused(&limits(), &Conditions { ambient: celsius(bad), ..good }));
        }
        let derating = limits().derating;
        assert_eq!(
            Limits { derating, ..Limits::default() }.operate(&losses(), &good),
            Err(ConverterError::NothingToDerate)
        );
        let share = Ratio::new::<ratio>(0.5);
        assert!(Derating::new(celsius(60.0), celsius(60.0), share).is_err());
        assert!(Derating::new(celsius(40.0), celsius(f64::NAN), share).is_err());
        assert!(Derating::new(celsius(40.0), celsius(60.0), Ratio::new::<ratio>(1.5)).is_err());
    }

    proptest! {
        #[test]
        fn no_limit_is_exceeded_and_power_is_kept(
            input in 10.0_f64..16.0, wanted in 0.0_f64..1000.0, ambient in -20.0_f64..80.0, running: bool,
        ) {
            let conditions = Conditions { input_voltage: volts("1 V") * input, running, ..at("12 V", wanted, ambient) };
            let done = limits().operate(&losses(), &conditions).unwrap();
            prop_assert!(done.output <= watts(wanted.min(500.0)));
            prop_assert!(done.input_current.value <= 50.0 + 1e-9);
            prop_assert!(done.output_current.value <= 40.0 + 1e-9);
            prop_assert!((done.input - done.output - done.heat).value.abs() < 1e-9);
            prop_assert!(done.heat.value >= 0.0);
            if done.binding == Binding::Demand {
                prop_assert_eq!(done.output.value, wanted);
            }
        }

        #[test]
        fn hotter_air_never_gives_more(ambient in -20.0_f64..80.0, more in 0.0_f64..40.0) {
            let output = |degrees: f64| limits().operate(&losses(), &at("13 V", 900.0, degrees)).unwrap().output;
            prop_assert!(output(ambient + more) <= output(ambient));
        }
    }
}
