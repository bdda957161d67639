//! What the stays show, and what a forecast takes for granted.

use uom::si::energy::watt_hour;
use uom::si::time::hour;

use super::model::Model;
use super::{BankOutcome, Forecast, Options, StayOutcome};
use crate::data::Source;
use crate::data::tables::{constants, sources};
use crate::finding::{Finding, Signal};
use crate::installation::{ConverterKind, Installation, PlanAssumption};
use crate::quantity::{Ratio, significant};
use crate::study::cable::round9;

impl Forecast {
    /// What the stays show: loads that get less than they ask, banks that come near their floor.
    pub fn findings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        for stay in &self.stays {
            for (place, bank) in stay.banks.iter().enumerate() {
                found.extend(frost(stay, bank));
                found.extend(finding(
                    stay,
                    bank,
                    stay.band.as_ref().and_then(|band| band.bank_lasts.get(place)).copied(),
                ));
            }
        }
        found.sort_by_key(|finding| std::cmp::Reverse(finding.signal));
        found
    }
}

/// A bank that is too cold to be charged, with something there to charge it.
fn frost(stay: &StayOutcome, bank: &BankOutcome) -> Option<Finding> {
    let days = bank.frost_days;
    if days == 0 || (bank.energies.came() + bank.energies.unused).value <= 0.0 {
        return None;
    }
    let count = if days == 1 { "one day".to_owned() } else { format!("{days} days") };
    let message = format!("on {count} it is below 0 °C and must not be charged: warm it, or state battery_temperature");
    let mut finding = Finding::plain(
        "charging-in-frost",
        bank.name.clone(),
        Signal::Caution,
        message,
        "cell data sheets: no charge below 0 °C",
    );
    finding.case = Some(stay.name.clone());
    Some(finding)
}

/// How a bank stands against its floor.
fn finding(stay: &StayOutcome, bank: &BankOutcome, chance: Option<f64>) -> Option<Finding> {
    let percent = |ratio: Ratio| significant(100.0 * ratio.value, 3);
    let rule = if bank.is_starter { "starter-keeps-cranking" } else { "energy-lasts" };
    let window = (bank.ceiling - bank.floor).value.max(1e-9);
    let left = (bank.lowest_charge - bank.floor).value / window;
    let (signal, message) = if let Some(at) = bank.floor_reached {
        let unserved = significant(bank.energies.unserved.get::<watt_hour>(), 3);
        let text = format!(
            "its floor of {} % is reached on {} at {}: loads get {unserved} Wh less than they ask, over {} h",
            percent(bank.floor),
            at.date(),
            at.time().strftime("%H:%M"),
            significant(bank.short_for.get::<hour>(), 3)
        );
        (Signal::Warning, text)
    } else if chance.is_some_and(|chance| chance < constants::KEPT_CHANCE) {
        let text = format!(
            "it lasts in {} of 100 samples of weather and loads only",
            significant(100.0 * chance.unwrap_or_default(), 3)
        );
        (Signal::Caution, text)
    } else if left < constants::THIN_MARGIN - 1.0 {
        let text = format!("it falls to {} %, its floor is {} %", percent(bank.lowest_charge), percent(bank.floor));
        (Signal::Caution, text)
    } else {
        return None;
    };
    let mut finding =
        Finding::plain(rule, bank.name.clone(), signal, message, "the plan's diary, and the floor of its battery");
    finding.measured = Some(round9(100.0 * bank.lowest_charge.value));
    finding.limit = Some(round9(100.0 * bank.floor.value));
    finding.unit = "%";
    finding.case = Some(stay.name.clone());
    Some(finding)
}

/// Whether something that the plan does not state counts in a forecast: not what only wiring and faults rest on.
fn counts(assumption: &PlanAssumption) -> bool {
    let kind = assumption.subject.split(' ').next().unwrap_or_default();
    match kind {
        "array" | "place" | "stay" | "alternator" | "converter" => true,
        "battery" => assumption.source.id != sources::BATTERY_FAULT_MEMORY.id,
        "load" => assumption.text.starts_with("typical "),
        _ => false,
    }
}

/// What a forecast takes for granted: what the plan does not state and counts here, and what no plan says.
pub(super) fn assumptions(plan: &Installation, model: &Model, options: &Options<'_>) -> Vec<(String, &'static Source)> {
    let mut found: Vec<(String, &'static Source)> = Vec::new();
    let common = &sources::DIARY_COMMON_PRACTICE;
    let stated = plan.assumptions.iter().filter(|one| counts(one));
    found.extend(stated.map(|one| (format!("{}: {}", one.subject, one.text), one.source)));
    for net in &model.nets {
        let storage = &net.bank.storage;
        let text = format!(
            "{}: used down to {} %, Peukert {} at {} h, {} % of charge comes back, {} % lost a month",
            net.bank.name,
            significant(100.0 * storage.floor.value, 3),
            significant(storage.peukert.value, 3),
            significant(storage.hour_rate.get::<hour>(), 3),
            significant(100.0 * storage.charge_efficiency.value, 3),
            significant(100.0 * storage.self_discharge.value, 3)
        );
        found.push((text, storage.chemistry.storage_source()));
    }
    let all_day = |load: &&crate::installation::Load| load.usage.hours == [crate::installation::ClockSpan::day()];
    let unstated: Vec<&str> = plan
        .loads
        .iter()
        .filter(|load| all_day(load) && load.usage.share.value >= 1.0)
        .map(|load| load.name.as_str())
        .collect();
    if !unstated.is_empty() {
        found.push((format!("run without pause whenever they may: {}", unstated.join(", ")), common));
    }
    let percent = |share: f64| significant(100.0 * share, 3);
    let wiring = percent(constants::WIRING_LOSS);
    found.push((format!("{wiring} % is lost in conductors on the way to loads and from arrays"), common));
    if plan.alternators.iter().any(|one| one.regulation == crate::installation::Regulation::Variable) {
        let held = constants::VARIABLE_HOLDS_V;
        found.push((format!("an alternator with variable regulation holds {held} V per 12 V in the mean"), common));
    }
    if options.samples > 0 {
        let light = if options.weather.is_some() {
            "weather is as measured in every sample".to_owned()
        } else {
            format!(
                "samples: brightness spreads by {} from day to day and {} from stay to stay (deviations on the logistic scale), a day \
                 keeps {} % of the one before",
                constants::SPREAD_DAY_LIGHT,
                constants::SPREAD_STAY_LIGHT,
                percent(constants::DAY_AFTER_DAY)
            )
        };
        let [day, stay] = [constants::SPREAD_DAY_LOAD, constants::SPREAD_STAY_LOAD].map(percent);
        found
            .push((format!("{light}; loads spread by {day} % from day to day and {stay} % from stay to stay"), common));
    }
    let mild: Vec<&str> = plan
        .stays
        .iter()
        .filter(|stay| stay.battery_temperature.is_none() && options.weather.is_none())
        .filter(|stay| plan.places.get(stay.place).is_some_and(|place| place.climate.is_none()))
        .map(|stay| stay.name.as_str())
        .collect();
    if !mild.is_empty() {
        found.push((
            format!("batteries at {} °C, for no climate is stated: {}", constants::MILD_C, mild.join(", ")),
            common,
        ));
    }
    let dark: Vec<&str> = plan
        .converters
        .iter()
        .enumerate()
        .filter(|(index, one)| {
            one.kind == ConverterKind::SolarController && !plan.arrays.iter().any(|array| array.controller == *index)
        })
        .map(|(_, one)| one.name.as_str())
        .collect();
    if !dark.is_empty() {
        found
            .push((format!("give nothing, for their modules are not stated in [arrays]: {}", dark.join(", ")), common));
    }
    if !plan.arrays.is_empty() {
        let sun = &sources::SOLAR_COMMON_PRACTICE;
        let light =
            if options.weather.is_some() { "as measured" } else { "each day as bright as its month in the mean" };
        found.push((
            format!(
                "{light}; {} % lost to unlike modules, ground throws back {} %, wind {} m/s unless measured",
                percent(constants::ARRAY_MISMATCH),
                percent(constants::ALBEDO),
                constants::WIND_M_PER_S
            ),
            sun,
        ));
        for place in plan.places.iter().filter(|_| options.weather.is_none()) {
            if let Some(source) = place.climate_source {
                found.push((format!("months of {}", place.name), source));
            }
        }
    }
    found
}
