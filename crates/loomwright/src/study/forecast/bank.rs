//! A bank of batteries as a store: open voltage, resistance and energy by the charge in it.
//!
//! A kernel. Bare numbers inside: V, A, Ω, Ah, Wh, W, h; shares of 1.

use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::time::hour;

use crate::installation::Battery;
use crate::quantity::{ElectricCharge, Ratio, ThermodynamicTemperature, celsius};
use crate::source::{SourceError, Storage};

/// Cells of the grid on which voltage and resistance are tabulated; the published points lie on it.
const CELLS: usize = 200;
/// The same as a number.
const CELLS_F: f64 = 200.0;

/// A store of charge.
#[derive(Clone, Debug)]
pub(super) struct Bank {
    /// Names of its batteries.
    pub(super) name: String,
    /// How each battery of it stores charge, together.
    pub(super) storage: Storage,
    /// Ah.
    pub(super) capacity: f64,
    /// Open voltage at the grid's points.
    volts: Vec<f64>,
    /// Energy stored up to there, Wh.
    energy: Vec<f64>,
    /// Resistance at the grid's points, at 25 °C.
    ohms: Vec<f64>,
    pub(super) efficiency: f64,
    peukert: f64,
    rated_current: f64,
    pub(super) leak: f64,
    taper: f64,
    pub(super) ceiling: f64,
    charge_limit: f64,
    current_limit: f64,
}

/// What holds of a bank at a temperature: how far it may be used, what it takes, and how much more it resists.
#[derive(Clone, Copy, Debug)]
pub(super) struct Weathered {
    /// Lowest charge of use, Ah.
    pub(super) floor: f64,
    /// Largest charge current.
    pub(super) accepts: f64,
    /// Resistance over that at 25 °C.
    pub(super) colder: f64,
    /// The share of what is missing to full that it takes over a step, when nothing else limits it.
    pub(super) fading: f64,
}

impl Bank {
    /// Batteries in series, and such strings in parallel; all as the first.
    ///
    /// # Errors
    /// [`SourceError`] when a voltage cannot be told.
    pub(super) fn new(strings: &[Vec<&Battery>]) -> Result<Option<Self>, SourceError> {
        let Some(first) = strings.first().and_then(|string| string.first()) else { return Ok(None) };
        let least = |string: &Vec<&Battery>| {
            string.iter().map(|battery| battery.capacity).reduce(ElectricCharge::min).unwrap_or_default()
        };
        let whole = strings.iter().fold(ElectricCharge::default(), |sum, string| sum + least(string));
        let of_one = |one: &&Battery| one.chemistry.blocks(one.nominal).value;
        let blocks: f64 = strings.first().map_or(0.0, |string| string.iter().map(of_one).sum());
        let siemens: f64 = strings
            .iter()
            .map(|string| 1.0 / string.iter().map(|battery| battery.resistance.get::<ohm>()).sum::<f64>())
            .sum();
        // Strings share a current by capacity; the one whose limit is reached first holds all.
        let together = |limit: fn(&Battery) -> Option<f64>| {
            let of = |string: &Vec<&Battery>| {
                let share = (least(string) / whole).value;
                string.iter().filter_map(|battery| limit(battery)).reduce(f64::min).map(|most| most / share)
            };
            strings.iter().filter_map(of).fold(f64::INFINITY, f64::min)
        };
        let chemistry = first.chemistry;
        let storage = Storage { capacity: whole, ..first.storage };
        let capacity = whole.get::<ampere_hour>();
        let (mut volts, mut ohms) = (Vec::with_capacity(CELLS + 1), Vec::with_capacity(CELLS + 1));
        for point in 0..=CELLS {
            let share = Ratio::from(f64::from(u16::try_from(point).unwrap_or(0)) / CELLS_F);
            volts.push(chemistry.open_voltage(share, celsius(25.0))?.get::<volt>() * blocks);
            ohms.push(chemistry.resistance_factor(share, celsius(25.0))?.value / siemens);
        }
        let mut energy = vec![0.0];
        let mut sum = 0.0;
        for pair in volts.windows(2) {
            sum += pair.iter().sum::<f64>() * 0.5 * capacity / CELLS_F;
            energy.push(sum);
        }
        let names: Vec<&str> = strings.iter().flatten().map(|battery| battery.name.as_str()).collect();
        Ok(Some(Self {
            name: names.join(" + "),
            storage,
            capacity,
            volts,
            energy,
            ohms,
            efficiency: storage.charge_efficiency.value,
            peukert: storage.peukert.value,
            rated_current: storage.rated_current().get::<ampere>(),
            leak: storage.leak().get::<ampere>(),
            taper: chemistry.taper().get::<hour>(),
            ceiling: storage.ceiling.value * capacity,
            charge_limit: together(|battery| {
                battery.charge_limit.or(battery.current_limit).map(|most| most.get::<ampere>())
            }),
            current_limit: together(|battery| battery.current_limit.map(|most| most.get::<ampere>())),
        }))
    }

    /// A store whose open voltage is a straight line over its charge, which takes any current, loses nothing and knows no
    /// Peukert: what closed forms can be held against.
    #[cfg(test)]
    pub(super) fn linear(capacity: f64, empty: f64, slope: f64, ohms: f64) -> Self {
        let chemistry = crate::source::Chemistry::Flooded;
        let storage = Storage::typical(chemistry, ElectricCharge::new::<ampere_hour>(capacity));
        let grid = || (0..=CELLS).map(|point| capacity * f64::from(u16::try_from(point).unwrap_or(0)) / CELLS_F);
        Self {
            name: "linear".to_owned(),
            storage,
            capacity,
            volts: grid().map(|charge| empty + slope * charge).collect(),
            energy: grid().map(|charge| charge * (empty + 0.5 * slope * charge)).collect(),
            ohms: vec![ohms; CELLS + 1],
            efficiency: 1.0,
            peukert: 1.0,
            rated_current: capacity / 20.0,
            leak: 0.0,
            taper: 1e-6,
            ceiling: capacity,
            charge_limit: f64::INFINITY,
            current_limit: f64::INFINITY,
        }
    }

    /// The same bank so many times as large: limits and resistance follow.
    pub(super) fn scaled(&self, factor: f64) -> Self {
        let times = |values: &[f64], factor: f64| values.iter().map(|value| value * factor).collect();
        Self {
            storage: Storage { capacity: self.storage.capacity * factor, ..self.storage },
            capacity: self.capacity * factor,
            energy: times(&self.energy, factor),
            ohms: times(&self.ohms, 1.0 / factor),
            rated_current: self.rated_current * factor,
            leak: self.leak * factor,
            ceiling: self.ceiling * factor,
            charge_limit: self.charge_limit * factor,
            current_limit: self.current_limit * factor,
            ..self.clone()
        }
    }

    /// What holds at a temperature, over steps of so many hours.
    pub(super) fn at(&self, temperature: ThermodynamicTemperature, hours: f64) -> Weathered {
        let floor = self.storage.floor_at(temperature).value * self.capacity;
        let usual = self.storage.most_charge(temperature).get::<ampere>();
        // A stated limit holds where its chemistry takes what it does at 25 °C; what frost forbids, no limit permits.
        let as_warm = |at| self.storage.chemistry.acceptance_at(at);
        let stated = self.charge_limit.is_finite() && as_warm(temperature) >= as_warm(celsius(25.0));
        let accepts = if stated { self.charge_limit } else { usual.min(self.charge_limit) };
        let colder = self.storage.chemistry.resistance_factor(Ratio::from(0.8), temperature);
        let usual = self.storage.chemistry.resistance_factor(Ratio::from(0.8), celsius(25.0));
        let colder = colder.ok().zip(usual.ok()).map_or(1.0, |(cold, warm)| (cold / warm).value);
        let fading = -(-self.efficiency * hours / self.taper).exp_m1();
        Weathered { floor: floor.min(self.ceiling), accepts, colder, fading }
    }

    /// The cell that a charge lies in, and how far into it, 0 to 1.
    fn cell(&self, charge: f64) -> (usize, f64) {
        let place = (charge / self.capacity * CELLS_F).clamp(0.0, CELLS_F);
        let cell = whole(place).min(CELLS - 1);
        (cell, place - f64::from(u16::try_from(cell).unwrap_or_default()))
    }

    /// The values at both ends of a cell of the grid.
    fn ends(values: &[f64], cell: usize) -> [f64; 2] {
        let at = |index: usize| values.get(index).copied().unwrap_or_default();
        [at(cell), at(cell + 1)]
    }

    /// Open voltage, and how it rises with each Ah.
    pub(super) fn open(&self, charge: f64) -> (f64, f64) {
        let (cell, part) = self.cell(charge);
        let [low, high] = Self::ends(&self.volts, cell);
        (low + part * (high - low), (high - low) * CELLS_F / self.capacity)
    }

    /// Energy stored, Wh: the open voltage over the charge.
    pub(super) fn stored(&self, charge: f64) -> f64 {
        let (cell, part) = self.cell(charge);
        let [low, high] = Self::ends(&self.volts, cell);
        let below = self.energy.get(cell).copied().unwrap_or_default();
        below + self.capacity / CELLS_F * part * (low + 0.5 * part * (high - low))
    }

    /// Resistance at 25 °C.
    pub(super) fn resistance(&self, charge: f64) -> f64 {
        let (cell, part) = self.cell(charge);
        let [low, high] = Self::ends(&self.ohms, cell);
        low + part * (high - low)
    }

    /// The charge at which it stands at a voltage; all of it above its full voltage.
    pub(super) fn charge_at(&self, volts: f64) -> f64 {
        let above = self.volts.partition_point(|point| *point <= volts);
        let Some(cell) = above.checked_sub(1) else { return 0.0 };
        if cell >= CELLS {
            return self.capacity;
        }
        let [low, high] = Self::ends(&self.volts, cell);
        let part = if high > low { (volts - low) / (high - low) } else { 0.0 };
        (f64::from(u16::try_from(cell).unwrap_or(0)) + part) * self.capacity / CELLS_F
    }

    /// Charge lost over charge given at a discharge current.
    pub(super) fn taken(&self, current: f64) -> f64 {
        if current > self.rated_current { (current / self.rated_current).powf(self.peukert - 1.0) } else { 1.0 }
    }

    /// What it takes at most over so many hours, whatever the voltage: as it fills, as its chemistry takes, up to its ceiling.
    pub(super) fn most_in(&self, charge: f64, hours: f64, weathered: &Weathered) -> f64 {
        let eta = self.efficiency;
        let room = (self.ceiling - charge) / (eta * hours);
        let fading = (self.capacity - charge) * weathered.fading / (eta * hours);
        room.min(fading).min(weathered.accepts).max(0.0)
    }

    /// Whether it gives such a current over so many hours, when each Ah given takes so many.
    pub(super) fn gives(&self, current: f64, charge: f64, hours: f64, taken: f64, weathered: &Weathered) -> bool {
        current <= self.current_limit && current * taken * hours <= (charge - weathered.floor).max(0.0)
    }

    /// What it gives at most over so many hours, evenly: down to its floor, with what Peukert takes.
    pub(super) fn most_out(&self, charge: f64, hours: f64, weathered: &Weathered) -> f64 {
        let even = ((charge - weathered.floor) / hours).max(0.0);
        let over = even / self.rated_current;
        let current = if over > 1.0 { self.rated_current * over.powf(1.0 / self.peukert) } else { even };
        current.min(self.current_limit)
    }

    /// The power that it gives at most over so many hours, with so many amperes from elsewhere, at the voltage that it falls to.
    pub(super) fn power_out(&self, charge: f64, hours: f64, weathered: &Weathered, beside: f64) -> f64 {
        let (open, slope) = self.open(charge);
        let most = self.most_out(charge, hours, weathered);
        let impedance = self.resistance(charge) * weathered.colder + 0.5 * slope * self.taken(most) * hours;
        let most = most.min(0.5 * open / impedance);
        (open - impedance * most) * (most + beside)
    }
}

/// A whole number between 0 and the grid's size as an index.
fn whole(value: f64) -> usize {
    // Truncation is what is meant; the value is within 0 and 200.
    #[expect(
        clippy::as_conversions,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "within 0 to 200"
    )]
    let index = value as usize;
    index
}
