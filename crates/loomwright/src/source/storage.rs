//! What a battery stores and gives back: Peukert's law, efficiency, cold, and what it takes when nearly full.

use uom::si::time::{day, hour};

use super::{Chemistry, SourceError};
use crate::data::Source;
use crate::data::tables::{battery_acceptance, battery_capacity, battery_charging, battery_storage, sources};
use crate::quantity::{
    ElectricCharge, ElectricCurrent, ElectricPotential, Ratio, ThermodynamicTemperature, Time, in_celsius,
};

/// How a battery stores charge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Storage {
    /// Its chemistry.
    pub chemistry: Chemistry,
    /// Rated capacity, taken within the hour rate.
    pub capacity: ElectricCharge,
    /// The hours within which the rated capacity is taken.
    pub hour_rate: Time,
    /// Peukert's exponent, 1 or more.
    pub peukert: Ratio,
    /// Charge that comes back over charge put in.
    pub charge_efficiency: Ratio,
    /// The state of charge below which it is not to be used.
    pub floor: Ratio,
    /// The state of charge to which it is charged.
    pub ceiling: Ratio,
    /// Share of its capacity lost in a month of rest.
    pub self_discharge: Ratio,
}

/// What a chemistry is charged with: voltages of a 12 V block at 25 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChargeWindow {
    /// Absorption between these.
    pub absorption: [ElectricPotential; 2],
    /// Float between these.
    pub float: [ElectricPotential; 2],
    /// Equalisation at most; `None` where it harms.
    pub equalise: Option<ElectricPotential>,
    /// Change with each kelvin; zero where none is wanted.
    pub per_kelvin: ElectricPotential,
    /// Charge current that makers recommend at least, over capacity in one hour.
    pub least_per_hour: Ratio,
    /// Where this comes from.
    pub source: &'static Source,
}

fn hours(value: f64) -> Time {
    Time::new::<hour>(value)
}

/// Peukert's exponent from two discharges: `n = ln(t₂/t₁)/ln(I₁/I₂)`.
///
/// ```
/// use loomwright::quantity::{ElectricCurrent, FromText, Time};
/// let slow = (ElectricCurrent::from_text("5 A")?, Time::from_text("20 h")?);
/// let fast = (ElectricCurrent::from_text("10 A")?, Time::from_text("8 h")?);
/// let exponent = loomwright::source::peukert_exponent(slow, fast)?;
/// assert!((exponent.value - 1.32193).abs() < 1e-5); // ln 2.5/ln 2
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`SourceError::Peukert`] unless the smaller current lasts longer, and longer than in proportion or as long.
pub fn peukert_exponent(one: (ElectricCurrent, Time), other: (ElectricCurrent, Time)) -> Result<Ratio, SourceError> {
    let n = (other.1 / one.1).value.ln() / (one.0 / other.0).value.ln();
    if (1.0..=2.0).contains(&n) { Ok(Ratio::from(n)) } else { Err(SourceError::Peukert) }
}

impl Chemistry {
    fn storage(self) -> Option<&'static battery_storage::BatteryStorage> {
        battery_storage::ROWS.iter().find(|row| row.chemistry == self.name())
    }

    fn family(self) -> &'static str {
        if self.is_lead() { "lead" } else { "lithium" }
    }

    /// Where the usual values of [`Storage::typical`] come from.
    pub fn storage_source(self) -> &'static Source {
        self.storage().map_or(&sources::BATTERY_MEMORY, |row| row.source)
    }

    /// Capacity at a temperature over that at 25 °C, straight between published points; warmth is not credited.
    ///
    /// ```
    /// use loomwright::{quantity::celsius, source::Chemistry};
    /// let [warm, cold] = [25.0, -18.0].map(|air| Chemistry::LithiumIronPhosphate.capacity_at(celsius(air)).value);
    /// assert!((warm - 1.0).abs() < 1e-9 && (cold - 0.7).abs() < 1e-9); // supplier's text
    /// ```
    pub fn capacity_at(self, temperature: ThermodynamicTemperature) -> Ratio {
        let rows = battery_capacity::ROWS.iter().filter(|row| row.family == self.family());
        let points = rows.map(|row| (row.at_c, row.over_ratio));
        Ratio::from(super::battery::between(points, in_celsius(temperature)))
    }

    /// The largest charge current at a temperature over the capacity in one hour; 0 where it must not be charged at all.
    ///
    /// ```
    /// use loomwright::{quantity::celsius, source::Chemistry};
    /// let [frost, warm] = [-1.0, 20.0].map(|cell| Chemistry::LithiumIronPhosphate.acceptance_at(celsius(cell)).value);
    /// assert!(frost == 0.0 && warm > 0.0); // below freezing it is not charged at all
    /// ```
    pub fn acceptance_at(self, temperature: ThermodynamicTemperature) -> Ratio {
        let degrees = in_celsius(temperature);
        let mut rows =
            battery_acceptance::ROWS.iter().filter(|row| row.family == self.family() && row.from_c <= degrees);
        Ratio::from(rows.next_back().map_or(0.0, |row| row.most_per_h))
    }

    /// With what it is charged; `None` where its row is missing.
    ///
    /// ```
    /// use loomwright::source::Chemistry;
    /// let lead = Chemistry::Flooded.charge_window().ok_or("no row")?;
    /// assert!(lead.float[1] < lead.absorption[0] && lead.per_kelvin.value < 0.0); // warmer, less
    /// let lithium = Chemistry::LithiumIronPhosphate.charge_window().ok_or("no row")?;
    /// assert!(lithium.equalise.is_none() && lithium.absorption[1].value <= 4.0 * 3.65 + 1e-9); // four cells of 3.65 V
    /// # Ok::<(), &str>(())
    /// ```
    pub fn charge_window(self) -> Option<ChargeWindow> {
        let row = battery_charging::ROWS.iter().find(|row| row.chemistry == self.name())?;
        let volts = ElectricPotential::new::<uom::si::electric_potential::volt>;
        Some(ChargeWindow {
            absorption: [row.absorption_low_v, row.absorption_high_v].map(volts),
            float: [row.float_low_v, row.float_high_v].map(volts),
            equalise: (row.equalise_v > 0.0).then(|| volts(row.equalise_v)),
            per_kelvin: volts(row.compensation_v_per_k),
            least_per_hour: Ratio::from(row.least_per_h),
            source: row.source,
        })
    }

    /// The time constant with which a nearly full battery takes less and less: `I = C·(1 − s)/τ` at its charge voltage.
    pub fn taper(self) -> Time {
        hours(self.storage().map_or(1.5, |row| row.taper_h))
    }
}

impl Storage {
    /// What is usual for a chemistry; see [`Chemistry::storage_source`].
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricCharge, FromText}, source::{Chemistry, Storage}};
    /// let capacity = ElectricCharge::from_text("100 Ah")?;
    /// let [lead, lithium] = [Chemistry::Agm, Chemistry::LithiumIronPhosphate].map(|one| Storage::typical(one, capacity));
    /// assert!(lithium.floor < lead.floor && lithium.charge_efficiency > lead.charge_efficiency);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn typical(chemistry: Chemistry, capacity: ElectricCharge) -> Self {
        let row = chemistry.storage();
        let usual = |value: fn(&battery_storage::BatteryStorage) -> f64, else_: f64| row.map_or(else_, value);
        Self {
            chemistry,
            capacity,
            hour_rate: hours(usual(|row| row.rate_h, 20.0)),
            peukert: Ratio::from(usual(|row| row.peukert_ratio, 1.3)),
            charge_efficiency: Ratio::from(usual(|row| row.charge_ratio, 0.85)),
            floor: Ratio::from(usual(|row| row.least_ratio, 0.5)),
            ceiling: Ratio::from(1.0),
            self_discharge: Ratio::from(usual(|row| row.month_ratio, 0.15)),
        }
    }

    /// The current that empties it within its hour rate.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricCharge, FromText}, source::{Chemistry, Storage}};
    /// let battery = Storage::typical(Chemistry::Agm, ElectricCharge::from_text("100 Ah")?);
    /// assert!((battery.rated_current().value - 5.0).abs() < 1e-9); // 100 Ah over 20 h
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rated_current(&self) -> ElectricCurrent {
        self.capacity / self.hour_rate
    }

    /// How long a full battery lasts down to nothing at 25 °C: Peukert's law by hour rate, `t = R·(C/(I·R))ⁿ`.
    ///
    /// The form `t = C/Iⁿ` holds only for a capacity measured at one ampere; with a 20-hour rating it is a common error.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCharge, ElectricCurrent, FromText, Ratio};
    /// use loomwright::source::{Chemistry, Storage};
    /// let battery = Storage { peukert: Ratio::from(1.3), ..Storage::typical(Chemistry::Flooded, ElectricCharge::from_text("100 Ah")?) };
    /// let time = battery.discharge_time(ElectricCurrent::from_text("10 A")?);
    /// assert!((time.value / 3600.0 - 8.1225).abs() < 1e-4); // and 20 h at 5 A
    /// # Ok::<(), loomwright::quantity::QuantityError>(())
    /// ```
    pub fn discharge_time(&self, current: ElectricCurrent) -> Time {
        self.hour_rate * Ratio::from((self.rated_current() / current).value.powf(self.peukert.value))
    }

    /// What it loses of its charge over what it gives: 1 up to its rated current, `(I/I_R)ⁿ⁻¹` above. Slower discharge is
    /// not credited.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCharge, ElectricCurrent, FromText, Ratio};
    /// use loomwright::source::{Chemistry, Storage};
    /// let typical = Storage::typical(Chemistry::Agm, ElectricCharge::from_text("100 Ah")?);
    /// let battery = Storage { peukert: Ratio::from(1.25), ..typical };
    /// let over = battery.taken_over_given(ElectricCurrent::from_text("80 A")?);
    /// assert!((over.value - 2.0).abs() < 1e-9); // (80 A/5 A)^0.25
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn taken_over_given(&self, current: ElectricCurrent) -> Ratio {
        let over = (current / self.rated_current()).value;
        Ratio::from(if over > 1.0 { over.powf(self.peukert.value - 1.0) } else { 1.0 })
    }

    /// The lowest state of charge of use in the cold, which takes its share from below:
    /// `ceiling − k(T)·(ceiling − floor)`.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCharge, FromText, Ratio, celsius};
    /// use loomwright::source::{Chemistry, Storage};
    /// let typical = Storage::typical(Chemistry::LithiumIronPhosphate, ElectricCharge::from_text("100 Ah")?);
    /// let battery = Storage { floor: Ratio::from(0.2), ..typical };
    /// assert!((battery.floor_at(celsius(-18.0)).value - 0.44).abs() < 1e-9); // 1 − 0.7 · (1 − 0.2)
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn floor_at(&self, temperature: ThermodynamicTemperature) -> Ratio {
        self.ceiling - self.chemistry.capacity_at(temperature) * (self.ceiling - self.floor)
    }

    /// What can be used of it between ceiling and floor at a temperature, at its rated current.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCharge, FromText, Ratio, celsius};
    /// use loomwright::source::{Chemistry, Storage};
    /// let typical = Storage::typical(Chemistry::LithiumIronPhosphate, ElectricCharge::from_text("100 Ah")?);
    /// let battery = Storage { floor: Ratio::from(0.2), ..typical };
    /// let [warm, cold] = [25.0, -18.0].map(|air| battery.usable(celsius(air)).value / 3600.0);
    /// assert!((warm - 80.0).abs() < 1e-9 && (cold - 56.0).abs() < 1e-9); // Ah; 0.7 of it in the cold
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn usable(&self, temperature: ThermodynamicTemperature) -> ElectricCharge {
        self.capacity * (self.ceiling - self.floor_at(temperature))
    }

    /// The capacity that gives such a charge between ceiling and floor at a temperature.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCharge, FromText, Ratio, celsius};
    /// use loomwright::source::{Chemistry, Storage};
    /// let needed = ElectricCharge::from_text("40 Ah")?;
    /// let battery = Storage { floor: Ratio::from(0.2), ..Storage::typical(Chemistry::LithiumIronPhosphate, needed) };
    /// assert!((battery.capacity_for(needed, celsius(25.0)).value / 3600.0 - 50.0).abs() < 1e-9); // 40 Ah/0.8
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn capacity_for(&self, charge: ElectricCharge, temperature: ThermodynamicTemperature) -> ElectricCharge {
        charge / (self.ceiling - self.floor_at(temperature))
    }

    /// The largest charge current at a temperature.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricCharge, FromText, celsius}, source::{Chemistry, Storage}};
    /// let battery = Storage::typical(Chemistry::LithiumIronPhosphate, ElectricCharge::from_text("100 Ah")?);
    /// assert!((battery.most_charge(celsius(20.0)).value - 50.0).abs() < 1e-9); // half its capacity in an hour: cell sheet
    /// assert!(battery.most_charge(celsius(-5.0)).value == 0.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn most_charge(&self, temperature: ThermodynamicTemperature) -> ElectricCurrent {
        self.capacity / hours(1.0) * self.chemistry.acceptance_at(temperature)
    }

    /// What it loses at rest.
    ///
    /// ```
    /// use loomwright::{quantity::{ElectricCharge, FromText, Ratio}, source::{Chemistry, Storage}};
    /// let typical = Storage::typical(Chemistry::Agm, ElectricCharge::from_text("72 Ah")?);
    /// let battery = Storage { self_discharge: Ratio::from_text("5 %")?, ..typical };
    /// assert!((battery.leak().value - 5e-3).abs() < 1e-9); // 3.6 Ah over 720 h
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn leak(&self) -> ElectricCurrent {
        self.capacity * self.self_discharge / Time::new::<day>(30.0)
    }
}
