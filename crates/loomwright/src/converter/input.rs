//! The input side: what a converter takes, gives, and what holds it down.

use super::losses::Losses;
use crate::names::named;
use crate::quantity::{ElectricCurrent, ElectricPotential, Power, Ratio, ThermodynamicTemperature};
use uom::si::ratio::ratio;

named! {
    /// What holds a converter's output where it is.
    Binding, "binding limit", {
        /// It gives what is asked for.
        Asked => "asked",
        /// Its rated output.
        OutputPower => "output-power",
        /// Its rated output in this warm an air.
        Derating => "derating",
        /// The limit of its input current.
        InputCurrent => "input-current",
        /// Its lock-out voltage: it gives nothing.
        LockOut => "lock-out",
    }
}

/// Full output up to one temperature, none from another, straight in between.
#[derive(Clone, Copy, Debug)]
pub struct Derating {
    /// Up to here its output is full.
    pub full_up_to: ThermodynamicTemperature,
    /// From here on it gives nothing; above `full_up_to`.
    pub nothing_at: ThermodynamicTemperature,
}

impl Derating {
    /// Share of its rated output in air of that temperature.
    pub fn share(&self, ambient: ThermodynamicTemperature) -> Ratio {
        let span = self.nothing_at.value - self.full_up_to.value;
        let left = self.nothing_at.value - ambient.value;
        let share = if span > 0.0 { (left / span).clamp(0.0, 1.0) } else { f64::from(u8::from(left > 0.0)) };
        Ratio::new::<ratio>(share)
    }
}

/// A converter at its input.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// What it takes for what it gives.
    pub losses: Losses,
    /// Rated output.
    pub rated: Power,
    /// Limit of its input current.
    pub input_limit: Option<ElectricCurrent>,
    /// Below this voltage it gives nothing.
    pub lock_out: Option<ElectricPotential>,
    /// How its output falls in warm air.
    pub derating: Option<Derating>,
}

/// What a converter takes and gives.
#[derive(Clone, Copy, Debug)]
pub struct Drawn {
    /// Power given.
    pub output: Power,
    /// Power taken.
    pub input: Power,
    /// Current taken.
    pub current: ElectricCurrent,
    /// What holds the output where it is.
    pub binding: Binding,
}

impl Input {
    /// What it takes and gives when `asked` for an output power, at an input voltage above zero and in air of `ambient`.
    ///
    /// Of several limits the one that leaves least is named.
    pub fn at(&self, asked: Power, voltage: ElectricPotential, ambient: ThermodynamicTemperature) -> Drawn {
        let works = voltage.value > 0.0 && self.lock_out.is_none_or(|lock_out| voltage >= lock_out);
        if !works {
            let nothing = (Power::default(), ElectricCurrent::default());
            return Drawn { output: nothing.0, input: nothing.0, current: nothing.1, binding: Binding::LockOut };
        }
        let mut least = (asked, Binding::Asked);
        let mut hold = |most: Power, binding| {
            if most < least.0 {
                least = (most, binding);
            }
        };
        hold(self.rated, Binding::OutputPower);
        if let Some(derating) = self.derating {
            hold(self.rated * derating.share(ambient), Binding::Derating);
        }
        if let Some(limit) = self.input_limit {
            hold(self.losses.output(voltage * limit), Binding::InputCurrent);
        }
        let (output, binding) = least;
        let input = self.losses.input(output);
        Drawn { output, input, current: input / voltage, binding }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::converter::losses::watts;
    use crate::quantity::{FromText, celsius};
    use approx::assert_relative_eq;

    #[test]
    fn the_limit_that_leaves_least_is_named() {
        let input = Input {
            losses: Losses::flat(Ratio::from(0.9), watts(0.0)),
            rated: watts(720.0),
            input_limit: Some(ElectricCurrent::from_text("55 A").unwrap()),
            lock_out: Some(ElectricPotential::from_text("10.5 V").unwrap()),
            derating: Some(Derating { full_up_to: celsius(40.0), nothing_at: celsius(70.0) }),
        };
        let at = |asked: f64, volts: f64, degrees: f64| {
            input.at(watts(asked), ElectricPotential::new::<uom::si::electric_potential::volt>(volts), celsius(degrees))
        };
        assert_eq!(at(300.0, 13.0, 25.0).binding, Binding::Asked);
        // 720 W take 800 W: 57.1 A at 14 V, which the input does not permit; 55 A · 14 V · 0.9 = 693 W.
        let held = at(900.0, 14.0, 25.0);
        assert_eq!(held.binding, Binding::InputCurrent);
        assert_relative_eq!(held.output.value, 693.0, max_relative = 1e-9);
        assert_eq!(at(900.0, 15.0, 25.0).binding, Binding::OutputPower);
        // At 55 °C half is left: 360 W.
        let warm = at(900.0, 14.0, 55.0);
        assert_eq!(warm.binding, Binding::Derating);
        assert_relative_eq!(warm.output.value, 360.0, max_relative = 1e-9);
        assert_eq!(at(900.0, 10.4, 25.0).binding, Binding::LockOut);
    }
}
