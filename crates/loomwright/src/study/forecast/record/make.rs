//! From the outcome to its record.

use super::{
    ArrayRecord, BankRecord, CouplingRecord, DayRecord, EnergyRecord, ForecastRecord, SizedRecord, StayRecord,
    StepRecord,
};
use crate::finding::verdict;
use crate::quantity::{Energy, Ratio};
use crate::study::cable::{AssumptionRecord, round9};
use crate::study::forecast::{
    BankOutcome, DayOutcome, Energies, Forecast, Options, Size, Sized, Spread, StayOutcome, StepOutcome,
};
use uom::si::electric_charge::ampere_hour;
use uom::si::energy::watt_hour;
use uom::si::time::hour;

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
                Size::Battery => "Ah",
                Size::Charger => "A",
                Size::Panels | Size::Split => "W",
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
                size: Size::Split.name(),
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
