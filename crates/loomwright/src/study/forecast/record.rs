//! The result as plain data: numbers with the unit in the key.

use serde::Serialize;
use uom::si::electric_charge::ampere_hour;
use uom::si::energy::watt_hour;
use uom::si::time::hour;

use super::{BankOutcome, DayOutcome, Energies, Forecast, Options, Sized, Spread, StayOutcome, StepOutcome};
use crate::finding::{Finding, Verdict, verdict};
use crate::quantity::{Energy, Ratio};
use crate::study::cable::{AssumptionRecord, round9};

/// A plan over its stays.
#[derive(Clone, Debug, Serialize)]
pub struct ForecastRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Name of the plan.
    pub name: String,
    /// Whether every stay is lasted.
    pub verdict: Verdict,
    /// Whether the plan's wiring holds, as `check` judges it.
    pub plan_holds: bool,
    /// Every stay.
    pub stays: Vec<StayRecord>,
    /// What the stays show, worst first.
    pub findings: Vec<Finding>,
    /// Loads that hang on no battery.
    pub unfed: Vec<String>,
    /// What a forecast takes for granted.
    pub assumptions: Vec<AssumptionRecord>,
}

/// Energies in Wh.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct EnergyRecord {
    /// From solar controllers.
    pub sun_wh: f64,
    /// From alternators straight.
    pub engine_wh: f64,
    /// From chargers out of another bank.
    pub charger_wh: f64,
    /// From shore chargers.
    pub shore_wh: f64,
    /// What loads got.
    pub used_wh: f64,
    /// What loads did not get.
    pub unserved_wh: f64,
    /// Lost in converters and conductors on the way to loads.
    pub converted_wh: f64,
    /// Drawn by chargers to other banks.
    pub onward_wh: f64,
    /// Out through relays and the like.
    pub coupled_wh: f64,
    /// Turned to heat in the bank.
    pub lost_wh: f64,
    /// More in the bank than at the beginning.
    pub stored_wh: f64,
    /// Sun that a controller's current limit kept out.
    pub clipped_wh: f64,
    /// Sun that a full bank did not take.
    pub unused_wh: f64,
}

/// A day of a bank.
#[derive(Clone, Debug, Serialize)]
pub struct DayRecord {
    /// Its date.
    pub date: String,
    /// Lowest state of charge, 0 to 1.
    pub lowest_charge: f64,
    /// State of charge at its end.
    pub end_charge: f64,
    /// The tenth, fiftieth and ninetieth of a hundred samples of that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end_charge_band: Option<[f64; 3]>,
    /// Its energies.
    #[serde(flatten)]
    pub energies: EnergyRecord,
}

/// A step of a bank.
#[derive(Clone, Debug, Serialize)]
pub struct StepRecord {
    /// Its beginning, by the clocks of the place.
    pub at: String,
    /// State of charge at its end, 0 to 1.
    pub charge: f64,
    /// Voltage at its terminals.
    pub voltage_v: f64,
    /// From the sun.
    pub sun_w: f64,
    /// From the engine, straight or through chargers.
    pub engine_w: f64,
    /// From shore power.
    pub shore_w: f64,
    /// To loads.
    pub used_w: f64,
    /// What loads did not get.
    pub unserved_w: f64,
}

/// A solar array on its controller.
#[derive(Clone, Debug, Serialize)]
pub struct ArrayRecord {
    /// Its name.
    pub name: String,
    /// The controller that it feeds.
    pub controller: String,
    /// Rated power of its modules.
    pub power_w: f64,
}

/// A stay of a bank.
#[derive(Clone, Debug, Serialize)]
pub struct BankRecord {
    /// Its batteries.
    pub name: String,
    /// Their chemistry.
    pub chemistry: &'static str,
    /// Capacity of all.
    pub capacity_ah: f64,
    /// Whether an alternator charges it straight.
    pub is_starter: bool,
    /// Whether its loads got everything.
    pub lasts: bool,
    /// Lowest state of charge of use, on the coldest day.
    pub floor: f64,
    /// State of charge at the beginning.
    pub start_charge: f64,
    /// At the end.
    pub end_charge: f64,
    /// The lowest.
    pub lowest_charge: f64,
    /// When.
    pub lowest_at: String,
    /// When its loads first got less than they asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub floor_reached: Option<String>,
    /// How long they did.
    pub short_for_h: f64,
    /// On how many days it is too cold to be charged at all.
    pub frost_days: u32,
    /// Full discharges in a year.
    pub cycles_per_year: f64,
    /// How long it lasts from full with every source off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub autonomy_h: Option<f64>,
    /// How long a drive takes from its floor to the chosen level.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive_to_level_h: Option<f64>,
    /// And to full.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drive_to_full_h: Option<f64>,
    /// The chance that its loads get everything.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
    /// The tenth, fiftieth and ninetieth of a hundred samples of its lowest state of charge.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lowest_charge_band: Option<[f64; 3]>,
    /// Solar arrays that charge it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub arrays: Vec<ArrayRecord>,
    /// Energies of the stay.
    pub energies: EnergyRecord,
    /// Each day.
    pub days: Vec<DayRecord>,
    /// Each step, where they were asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<StepRecord>,
}

/// What joined two banks at times.
#[derive(Clone, Debug, Serialize)]
pub struct CouplingRecord {
    /// Its name.
    pub name: String,
    /// How long it was closed.
    pub closed_h: f64,
    /// From its first side to its second.
    pub forward_wh: f64,
    /// And back.
    pub back_wh: f64,
    /// The largest current, either way, in the mean over a step.
    pub most_a: f64,
}

/// What would last.
#[derive(Clone, Debug, Serialize)]
pub struct SizedRecord {
    /// The bank.
    pub bank: String,
    /// What was sized.
    pub size: &'static str,
    /// As planned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<f64>,
    /// The least that lasts; for a split what is best there. Absent where fifty times as much does not last.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub needed: Option<f64>,
    /// Unit of both.
    pub unit: &'static str,
}

/// A stay.
#[derive(Clone, Debug, Serialize)]
pub struct StayRecord {
    /// Its name.
    pub name: String,
    /// Its place.
    pub place: String,
    /// Its first day.
    pub from: String,
    /// Its last day.
    pub to: String,
    /// Length of its steps.
    pub step_min: f64,
    /// Whether every load got everything.
    pub lasts: bool,
    /// The level to which the hours of driving are told, 0 to 1.
    pub level: f64,
    /// How many samples were drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub samples: Option<usize>,
    /// Which.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub seed: Option<u64>,
    /// The chance that every load gets everything, with the ends of its 95 % interval.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<[f64; 3]>,
    /// What would last, where that was asked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sized: Vec<SizedRecord>,
    /// Each bank.
    pub banks: Vec<BankRecord>,
    /// Relays, switches and diodes between them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub couplings: Vec<CouplingRecord>,
}

fn wh(energy: Energy) -> f64 {
    round9(energy.get::<watt_hour>())
}

impl EnergyRecord {
    fn of(energies: &Energies) -> Self {
        Self {
            sun_wh: wh(energies.sun),
            engine_wh: wh(energies.engine),
            charger_wh: wh(energies.charger),
            shore_wh: wh(energies.shore),
            used_wh: wh(energies.used),
            unserved_wh: wh(energies.unserved),
            converted_wh: wh(energies.converted),
            onward_wh: wh(energies.onward),
            coupled_wh: wh(energies.coupled),
            lost_wh: wh(energies.lost),
            stored_wh: wh(energies.stored),
            clipped_wh: wh(energies.clipped),
            unused_wh: wh(energies.unused),
        }
    }
}

fn share(ratio: Ratio) -> f64 {
    round9(ratio.value)
}

fn three(spread: &Spread) -> [f64; 3] {
    [spread.tenth, spread.middle, spread.ninetieth].map(share)
}

fn day(day: &DayOutcome, band: Option<&Spread>) -> DayRecord {
    DayRecord {
        date: day.date.to_string(),
        lowest_charge: share(day.lowest),
        end_charge: share(day.end),
        end_charge_band: band.map(three),
        energies: EnergyRecord::of(&day.energies),
    }
}

fn step(step: &StepOutcome) -> StepRecord {
    StepRecord {
        at: step.at.to_string(),
        charge: share(step.charge),
        voltage_v: round9(step.voltage.value),
        sun_w: round9(step.sun.value),
        engine_w: round9(step.engine.value),
        shore_w: round9(step.shore.value),
        used_w: round9(step.used.value),
        unserved_w: round9(step.unserved.value),
    }
}

fn bank(stay: &StayOutcome, place: usize, bank: &BankOutcome) -> BankRecord {
    let answers = stay.answers.get(place);
    let band = stay.band.as_ref();
    let ends = band.and_then(|band| band.end.get(place));
    let days = bank.days.iter().enumerate().map(|(index, one)| day(one, ends.and_then(|ends| ends.get(index))));
    let hours = |time: Option<crate::quantity::Time>| time.map(|time| round9(time.get::<hour>()));
    BankRecord {
        name: bank.name.clone(),
        chemistry: bank.chemistry.name(),
        capacity_ah: round9(bank.capacity.get::<ampere_hour>()),
        is_starter: bank.is_starter,
        lasts: bank.lasts(),
        floor: share(bank.floor),
        start_charge: share(bank.start_charge),
        end_charge: share(bank.end_charge),
        lowest_charge: share(bank.lowest_charge),
        lowest_at: bank.lowest_at.to_string(),
        floor_reached: bank.floor_reached.map(|at| at.to_string()),
        short_for_h: round9(bank.short_for.get::<hour>()),
        frost_days: bank.frost_days,
        cycles_per_year: share(bank.cycles_per_year),
        autonomy_h: hours(answers.and_then(|answers| answers.autonomy)),
        drive_to_level_h: hours(answers.and_then(|answers| answers.drive_to_level)),
        drive_to_full_h: hours(answers.and_then(|answers| answers.drive_to_full)),
        chance: band.and_then(|band| band.bank_lasts.get(place)).map(|chance| round9(*chance)),
        lowest_charge_band: band.and_then(|band| band.lowest.get(place)).map(three),
        arrays: bank
            .arrays
            .iter()
            .map(|(name, controller, power)| ArrayRecord {
                name: name.clone(),
                controller: controller.clone(),
                power_w: round9(power.value),
            })
            .collect(),
        energies: EnergyRecord::of(&bank.energies),
        days: days.collect(),
        steps: bank.steps.iter().map(step).collect(),
    }
}

fn sized(found: &Sized) -> Vec<SizedRecord> {
    match found {
        Sized::One(one) => {
            let unit = match one.size {
                super::Size::Battery => "Ah",
                super::Size::Charger => "A",
                super::Size::Panels | super::Size::Split => "W",
            };
            vec![SizedRecord {
                bank: one.bank.clone(),
                size: one.size.name(),
                now: Some(round9(one.now)),
                needed: one.needed.map(round9),
                unit,
            }]
        }
        Sized::Split(shares) => shares
            .iter()
            .map(|(bank, power)| SizedRecord {
                bank: bank.clone(),
                size: super::Size::Split.name(),
                now: None,
                needed: Some(round9(power.value)),
                unit: "W",
            })
            .collect(),
    }
}

impl Forecast {
    /// The result as plain data.
    pub fn record(&self, options: &Options<'_>) -> ForecastRecord {
        let findings = self.findings();
        let stays = self.stays.iter().map(|stay| StayRecord {
            name: stay.name.clone(),
            place: stay.place.clone(),
            from: stay.from.to_string(),
            to: stay.to.to_string(),
            step_min: round9(stay.step.get::<hour>() * 60.0),
            lasts: stay.holds(),
            level: share(options.level),
            samples: stay.band.as_ref().map(|band| band.samples),
            seed: stay.band.as_ref().map(|band| band.seed),
            chance: stay.band.as_ref().map(|band| band.lasts.map(round9)),
            sized: stay.sized.as_ref().map(sized).unwrap_or_default(),
            banks: stay.banks.iter().enumerate().map(|(place, one)| bank(stay, place, one)).collect(),
            couplings: stay
                .couplings
                .iter()
                .map(|one| CouplingRecord {
                    name: one.name.clone(),
                    closed_h: round9(one.closed_for.get::<hour>()),
                    forward_wh: wh(one.forward),
                    back_wh: wh(one.back),
                    most_a: round9(one.most.value),
                })
                .collect(),
        });
        ForecastRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            name: self.name.clone(),
            verdict: verdict(&findings),
            plan_holds: self.plan_holds,
            stays: stays.collect(),
            findings,
            unfed: self.unfed.clone(),
            assumptions: self
                .assumptions
                .iter()
                .map(|(text, source)| AssumptionRecord {
                    text: text.clone(),
                    source: source.to_string(),
                    confidence: source.confidence,
                })
                .collect(),
        }
    }
}
