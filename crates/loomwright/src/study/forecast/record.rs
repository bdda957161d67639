//! The result as plain data: numbers with the unit in the key.

mod make;

use crate::finding::{Finding, Verdict};
use crate::study::cable::AssumptionRecord;
use serde::Serialize;

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
