//! An old converter against a new one: watts, ampere-hours and kelvin.

use super::error::{self, ConverterError, check};
use super::{Enclosure, Losses};
use crate::quantity::{ElectricCharge, ElectricPotential, Power, TemperatureInterval, Time};
use uom::si::time::{day, hour};

/// How a converter is used: it is switched off for the rest of the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usage {
    /// What it gives; nothing when it idles.
    pub output: Power,
    /// How long each day.
    pub daily: Time,
    /// Voltage of the system that feeds it.
    pub system: ElectricPotential,
}

/// What one converter costs in a use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Running {
    /// What it takes.
    pub input: Power,
    /// What of that becomes heat.
    pub loss: Power,
    /// What it takes from the battery each day.
    pub daily: ElectricCharge,
    /// How much hotter than outside the air in its box gets when it runs for long.
    pub rise: TemperatureInterval,
}

/// Two converters in the same use and the same box.
///
/// ```
/// use loomwright::converter::{Comparison, Enclosure, Losses, Usage};
/// use loomwright::quantity::{Area, ElectricPotential, FromText, Power, Ratio, Time, celsius};
/// let rated = Power::from_text("500 W")?;
/// let old = Losses::typical(Ratio::from_text("82 %")?, rated, None)?;
/// let new = Losses::typical(Ratio::from_text("92 %")?, rated, None)?;
/// let usage = Usage {
///     output: Power::from_text("250 W")?,
///     daily: Time::from_text("6 h")?,
///     system: ElectricPotential::from_text("12.8 V")?,
/// };
/// let locker = Enclosure { surface: Area::from_text("1 m2")?, ambient: celsius(35.0) };
/// let found = Comparison::new(&old, &new, &usage, &locker)?;
/// assert!((found.saved_power().value - 28.2).abs() < 0.1);
/// assert!((found.saved_charge().value / 3600.0 - 13.2).abs() < 0.1); // Ah a day
/// assert!(found.cooler().value > 6.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// The old one.
    pub old: Running,
    /// The new one.
    pub new: Running,
}

impl Comparison {
    /// Compares two converters in one use and one box.
    ///
    /// ```
    /// use loomwright::converter::{Comparison, Enclosure, Losses, Usage};
    /// use loomwright::quantity::{Area, ElectricPotential, FromText, Power, Ratio, Time, celsius};
    /// let [output, none] = [Power::from_text("90 W")?, Power::from_text("0 W")?];
    /// let [old, new] = [Losses::flat(Ratio::from(0.75), none), Losses::flat(Ratio::from(0.9), none)];
    /// let usage = Usage { output, daily: Time::from_text("2 h")?, system: ElectricPotential::from_text("12.5 V")? };
    /// let locker = Enclosure { surface: Area::from_text("1 m2")?, ambient: celsius(30.0) };
    /// let found = Comparison::new(&old, &new, &usage, &locker)?;
    /// assert!((found.saved_power().value - 20.0).abs() < 1e-9); // 120 W − 100 W
    /// assert!((found.saved_charge().value / 3600.0 - 3.2).abs() < 1e-9); // 20 W · 2 h/12.5 V, in Ah
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for an output that is negative, a time outside 0 to 24 h, a voltage of 0 V or
    /// less, or one that is no finite number; and what [`Enclosure::rise`] refuses.
    pub fn new(old: &Losses, new: &Losses, usage: &Usage, enclosure: &Enclosure) -> Result<Self, ConverterError> {
        error::power("an output", usage.output)?;
        error::voltage("a system voltage", usage.system)?;
        let holds = usage.daily.value >= 0.0 && usage.daily <= Time::new::<day>(1.0);
        check("a time each day", usage.daily.get::<hour>(), "h", "0 h to 24 h", holds)?;
        let running = |losses: &Losses| {
            let (input, loss) = (losses.input(usage.output), losses.loss(usage.output));
            let daily: ElectricCharge = input * usage.daily / usage.system;
            Ok(Running { input, loss, daily, rise: enclosure.rise(loss)? })
        };
        Ok(Self { old: running(old)?, new: running(new)? })
    }

    /// Power saved while it runs; negative when the new one is the worse.
    pub fn saved_power(&self) -> Power {
        self.old.loss - self.new.loss
    }

    /// Charge saved each day; negative when the new one is the worse.
    pub fn saved_charge(&self) -> ElectricCharge {
        self.old.daily - self.new.daily
    }

    /// How much cooler the box gets; negative when the new one is the worse.
    pub fn cooler(&self) -> TemperatureInterval {
        self.old.rise - self.new.rise
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Area, Ratio, celsius};
    use uom::si::area::square_meter;
    use uom::si::electric_potential::volt;
    use uom::si::power::watt;
    use uom::si::ratio::ratio;

    fn usage() -> Usage {
        Usage {
            output: Power::new::<watt>(200.0),
            daily: Time::new::<hour>(5.0),
            system: ElectricPotential::new::<volt>(12.5),
        }
    }

    fn locker() -> Enclosure {
        Enclosure { surface: Area::new::<square_meter>(1.0), ambient: celsius(30.0) }
    }

    fn flat(efficiency: f64) -> Losses {
        Losses::flat(Ratio::new::<ratio>(efficiency), Power::new::<watt>(0.0))
    }

    #[test]
    fn watts_and_ampere_hours_by_hand() {
        // 250 W against 222.2 W in, for 5 h at 12.5 V: 100 Ah against 88.9 Ah.
        let found = Comparison::new(&flat(0.8), &flat(0.9), &usage(), &locker()).unwrap();
        assert!((found.saved_power().value - 250.0 / 9.0).abs() < 1e-9);
        assert!((found.old.daily.value / 3600.0 - 100.0).abs() < 1e-9);
        assert!((found.saved_charge().value / 3600.0 - 100.0 / 9.0).abs() < 1e-9);
        assert!(found.cooler().value > 0.0 && found.old.rise > found.new.rise);
        let back = Comparison::new(&flat(0.9), &flat(0.8), &usage(), &locker()).unwrap();
        assert_eq!(back.saved_power(), -found.saved_power());
    }

    #[test]
    fn what_is_no_use_is_refused() {
        let refused = |usage: Usage| Comparison::new(&flat(0.8), &flat(0.9), &usage, &locker()).is_err();
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(refused(Usage { output: Power::new::<watt>(bad), ..usage() }));
            assert!(refused(Usage { daily: Time::new::<hour>(bad), ..usage() }));
            assert!(refused(Usage { system: ElectricPotential::new::<volt>(bad), ..usage() }));
        }
        assert!(refused(Usage { daily: Time::new::<hour>(24.1), ..usage() }));
        let hot = Usage { output: Power::new::<watt>(5e3), ..usage() };
        assert!(matches!(Comparison::new(&flat(0.8), &flat(0.9), &hot, &locker()), Err(ConverterError::TooHot { .. })));
    }
}
