//! A current that flows for a part of the time.

use super::HeatError;
use super::transient::Pulse;
use crate::quantity::{ElectricCurrent, FromText, Ratio, Time, ToText, significant};
use uom::si::time::second;

/// So long on, in every period of so long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    on: Time,
    period: Time,
}

impl Duty {
    /// A duty cycle.
    ///
    /// ```
    /// use loomwright::{heat::Duty, quantity::{FromText, Time}};
    /// let duty = Duty::new(Time::from_text("30 s")?, Time::from_text("10 min")?)?;
    /// assert!((duty.factor().value - 0.05).abs() < 1e-12);
    /// assert!(Duty::new(Time::from_text("2 min")?, Time::from_text("1 min")?).is_err()); // on for longer than its period
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::Duration`] unless 1 ms ≤ on ≤ period ≤ 30 days.
    pub fn new(on: Time, period: Time) -> Result<Self, HeatError> {
        let refuse = |what, given: Time, accepted: String| {
            Err(HeatError::Duration { what, given_s: given.get::<second>(), accepted })
        };
        if !(1e-3..=30.0 * 86_400.0).contains(&period.get::<second>()) {
            return refuse("a period", period, "1 ms to 30 d, for example 10 min".to_owned());
        }
        if !(1e-3..=period.get::<second>()).contains(&on.get::<second>()) {
            return refuse("an on-time", on, format!("1 ms to its period of {} s", period.get::<second>()));
        }
        Ok(Self { on, period })
    }

    /// How long it is on.
    pub fn on(&self) -> Time {
        self.on
    }

    /// From one start to the next.
    pub fn period(&self) -> Time {
        self.period
    }

    /// On-time over period.
    pub fn factor(&self) -> Ratio {
        self.on / self.period
    }

    pub(super) fn pulses(&self, current: ElectricCurrent) -> [Pulse; 2] {
        let pause = Pulse { duration: self.period - self.on, current: ElectricCurrent::default() };
        [Pulse { duration: self.on, current }, pause]
    }
}

impl std::str::FromStr for Duty {
    type Err = HeatError;

    /// `30 s in 10 min`.
    fn from_str(text: &str) -> Result<Self, HeatError> {
        let given = || text.chars().take(60).collect::<String>();
        let unfit = |reason: String| HeatError::Duty { given: given(), reason };
        let Some((on, period)) = text.split_once(" in ") else {
            return Err(unfit("write on-time and period with their units".to_owned()));
        };
        let read = |text: &str| Time::from_text(text).map_err(|error| unfit(error.to_string()));
        Self::new(read(on)?, read(period)?).map_err(|error| unfit(error.to_string()))
    }
}

impl ToText for Duty {
    fn to_text(&self) -> String {
        let text = |time: Time| {
            let seconds = time.get::<second>();
            if seconds >= 120.0 && seconds % 60.0 == 0.0 {
                format!("{} min", significant(seconds / 60.0, 6))
            } else {
                time.to_text()
            }
        };
        format!("{} in {}", text(self.on), text(self.period))
    }
}
