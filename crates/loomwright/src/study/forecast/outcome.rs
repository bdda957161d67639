//! What came of a stay.

use std::ops::ControlFlow;

use jiff::civil::{Date, DateTime};
use uom::si::energy::watt_hour;
use uom::si::power::watt;

use super::band::Band;
use super::books::{Day, Flow, State};
use super::inverse::Sized;
use super::questions::BankAnswers;
use super::run::Stage;
use crate::installation::Stay;
use crate::quantity::{ElectricCharge, ElectricCurrent, ElectricPotential, Energy, Power, Ratio, Time};
use crate::source::Chemistry;
use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::time::hour;

/// Energies of a bank over a time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Energies {
    /// From solar controllers.
    pub sun: Energy,
    /// From alternators straight.
    pub engine: Energy,
    /// From chargers out of another bank.
    pub charger: Energy,
    /// From shore chargers.
    pub shore: Energy,
    /// What loads got.
    pub used: Energy,
    /// What loads did not get.
    pub unserved: Energy,
    /// Lost in converters and conductors on the way to loads.
    pub converted: Energy,
    /// Drawn by chargers to other banks.
    pub onward: Energy,
    /// Out through relays and the like; negative when it came in.
    pub coupled: Energy,
    /// Turned to heat in the bank.
    pub lost: Energy,
    /// More in the bank than at the beginning.
    pub stored: Energy,
    /// Sun that a controller's current limit kept out.
    pub clipped: Energy,
    /// Sun that a full bank did not take.
    pub unused: Energy,
}

impl Energies {
    fn add(&mut self, flow: &Flow, hours: f64) {
        let over = |watts: f64| Energy::new::<watt_hour>(watts * hours);
        self.sun += over(flow.sun);
        self.engine += over(flow.engine);
        self.charger += over(flow.charger);
        self.shore += over(flow.shore);
        self.used += over(flow.used);
        self.unserved += over(flow.unserved);
        self.converted += over(flow.converted);
        self.onward += over(flow.onward);
        self.coupled += over(flow.coupled);
        self.lost += Energy::new::<watt_hour>(flow.lost);
        self.stored += Energy::new::<watt_hour>(flow.stored);
        self.clipped += over(flow.clipped);
        self.unused += over(flow.unused);
    }

    /// Everything that came in.
    pub fn came(&self) -> Energy {
        self.sun + self.engine + self.charger + self.shore
    }
}

/// A day of a bank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayOutcome {
    /// The day.
    pub date: Date,
    /// Lowest state of charge.
    pub lowest: Ratio,
    /// State of charge at its end.
    pub end: Ratio,
    /// Its energies.
    pub energies: Energies,
}

/// A step of a bank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StepOutcome {
    /// Its beginning, by the clocks of the place.
    pub at: DateTime,
    /// State of charge at its end.
    pub charge: Ratio,
    /// Voltage at its terminals, in the mean.
    pub voltage: ElectricPotential,
    /// From the sun.
    pub sun: Power,
    /// From the engine, straight or through chargers.
    pub engine: Power,
    /// From shore power.
    pub shore: Power,
    /// To loads.
    pub used: Power,
    /// What loads did not get.
    pub unserved: Power,
    /// What came in less what went, was stored and was lost: nothing but rounding.
    pub imbalance: Energy,
}

/// A stay of a bank.
#[derive(Clone, Debug)]
pub struct BankOutcome {
    /// Its batteries.
    pub name: String,
    /// Their chemistry.
    pub chemistry: Chemistry,
    /// Capacity of all.
    pub capacity: ElectricCharge,
    /// Whether an alternator charges it straight.
    pub is_starter: bool,
    /// Lowest state of charge of use, on the coldest day.
    pub floor: Ratio,
    /// State of charge to which it is charged.
    pub ceiling: Ratio,
    /// State of charge at the beginning.
    pub start_charge: Ratio,
    /// State of charge at the end.
    pub end_charge: Ratio,
    /// The lowest.
    pub lowest_charge: Ratio,
    /// When.
    pub lowest_at: DateTime,
    /// When its loads first got less than they asked: the floor was reached.
    pub floor_reached: Option<DateTime>,
    /// How long loads got less than they asked.
    pub short_for: Time,
    /// On how many days it is too cold to be charged at all.
    pub frost_days: u32,
    /// Full discharges in a year, at this rate.
    pub cycles_per_year: Ratio,
    /// Solar arrays that charge it, with their controllers and rated power.
    pub arrays: Vec<(String, String, Power)>,
    /// Energies of the stay.
    pub energies: Energies,
    /// Each day.
    pub days: Vec<DayOutcome>,
    /// Each step, where they were asked for.
    pub steps: Vec<StepOutcome>,
}

/// What joined two banks at times.
#[derive(Clone, Debug)]
pub struct CouplingOutcome {
    /// Its name.
    pub name: String,
    /// How long it was closed.
    pub closed_for: Time,
    /// Energy from its first side to its second.
    pub forward: Energy,
    /// And back.
    pub back: Energy,
    /// The largest current, either way, in the mean over a step.
    pub most: ElectricCurrent,
}

/// A stay.
#[derive(Clone, Debug)]
pub struct StayOutcome {
    /// Its name.
    pub name: String,
    /// Its place.
    pub place: String,
    /// Its first day.
    pub from: Date,
    /// Its last day.
    pub to: Date,
    /// How long its steps are.
    pub step: Time,
    /// Each bank.
    pub banks: Vec<BankOutcome>,
    /// Relays, switches and diodes between them.
    pub couplings: Vec<CouplingOutcome>,
    /// How long each bank lasts by itself, and how long a drive fills it.
    pub answers: Vec<BankAnswers>,
    /// How far it may come otherwise, where samples were drawn.
    pub band: Option<Band>,
    /// What would last, where that was asked.
    pub sized: Option<Sized>,
}

/// What is not served and counts as nothing: rounding, Wh.
pub(super) const NOTHING_WH: f64 = 1e-6;

impl BankOutcome {
    /// Whether its loads got everything.
    pub fn lasts(&self) -> bool {
        self.energies.unserved.get::<watt_hour>() <= NOTHING_WH
    }
}

impl StayOutcome {
    /// Whether every load got everything.
    pub fn holds(&self) -> bool {
        self.banks.iter().all(BankOutcome::lasts)
    }

    /// How many days it has.
    pub fn days(&self) -> usize {
        self.banks.first().map_or(0, |bank| bank.days.len())
    }
}

/// Which arrays end at a bank, and through which controller.
fn arrays(stage: &Stage<'_>, net: &super::model::Net) -> Vec<(String, String, Power)> {
    let places = net.suns.iter().flat_map(|sun| &sun.arrays);
    let of = places.filter_map(|place| stage.arrays.get(*place));
    of.filter_map(|array| {
        let controller = stage.plan.converters.get(array.controller)?;
        Some((array.name.clone(), controller.name.clone(), array.strings.power()))
    })
    .collect()
}

fn frost_days(stage: &Stage<'_>, net: &super::model::Net, days: u32) -> u32 {
    let cold = |day: &u32| {
        let temperature = stage.temperature_on(usize::try_from(*day).unwrap_or_default());
        net.bank.storage.chemistry.acceptance_at(temperature).value <= 0.0
    };
    u32::try_from((0..days).filter(cold).count()).unwrap_or_default()
}

fn unused(coupling: &super::model::Coupling) -> CouplingOutcome {
    CouplingOutcome {
        name: coupling.name.clone(),
        closed_for: Time::default(),
        forward: Energy::default(),
        back: Energy::default(),
        most: ElectricCurrent::default(),
    }
}

impl CouplingOutcome {
    /// Adds a step in which so much passed out of a bank.
    fn pass(&mut self, current: Option<f64>, from: Option<&Flow>, hours: f64) {
        let (Some(current), Some(from)) = (current, from) else { return };
        self.closed_for += Time::new::<hour>(hours);
        let energy = Energy::new::<watt_hour>(current.abs() * from.volts * hours);
        if current > 0.0 {
            self.forward += energy
        } else {
            self.back += energy
        }
        self.most = self.most.max(ElectricCurrent::new::<ampere>(current.abs()));
    }
}

/// Runs a stay and writes down what came of it; the second is how it ended.
pub(super) fn follow(stage: &Stage<'_>, stay: &Stay, mut state: State, series: bool) -> (StayOutcome, State) {
    let hours = stage.hours();
    let per_day = stage.profile.steps_per_day;
    let midnight = stay.from.at(0, 0, 0, 0);
    let clock = |step: usize| {
        let seconds = f64::from(u32::try_from(step).unwrap_or_default()) * hours * 3600.0;
        midnight.saturating_add(jiff::SignedDuration::from_secs_f64(seconds.round()))
    };
    let mut banks: Vec<BankOutcome> = Vec::new();
    for (net, charge) in stage.model.nets.iter().zip(&state.charge) {
        let bank = &net.bank;
        let share = Ratio::from(charge / bank.capacity);
        banks.push(BankOutcome {
            name: bank.name.clone(),
            chemistry: bank.storage.chemistry,
            capacity: bank.storage.capacity,
            is_starter: net.is_starter,
            floor: Ratio::from(stage.highest_floor(net)),
            ceiling: Ratio::from(bank.ceiling / bank.capacity),
            start_charge: share,
            end_charge: share,
            lowest_charge: share,
            lowest_at: midnight,
            floor_reached: None,
            short_for: Time::default(),
            frost_days: frost_days(stage, net, stay.days()),
            cycles_per_year: Ratio::default(),
            arrays: arrays(stage, net),
            energies: Energies::default(),
            days: Vec::with_capacity(usize::try_from(stay.days()).unwrap_or_default()),
            steps: Vec::new(),
        });
    }
    let mut couplings: Vec<CouplingOutcome> = stage.model.couplings.iter().map(unused).collect();
    let mut given = vec![0.0; banks.len()];
    stage.run(
        &mut state,
        |_| Day::default(),
        |step, state, flows| {
            let begins = step % per_day == 0;
            for ((outcome, coupling), current) in couplings.iter_mut().zip(&stage.model.couplings).zip(&state.coupled) {
                let [from, to] = coupling.nets;
                let giving = if current.is_some_and(|current| current < 0.0) { to } else { from };
                outcome.pass(*current, flows.get(giving), hours);
            }
            for (place, (outcome, flow)) in banks.iter_mut().zip(flows).enumerate() {
                let capacity = outcome.capacity.get::<ampere_hour>();
                let charge = Ratio::from(state.charge.get(place).copied().unwrap_or_default() / capacity);
                outcome.end_charge = charge;
                if charge < outcome.lowest_charge {
                    (outcome.lowest_charge, outcome.lowest_at) = (charge, clock(step + 1));
                }
                if flow.unserved * hours > NOTHING_WH {
                    outcome.floor_reached.get_or_insert(clock(step));
                    outcome.short_for += Time::new::<hour>(hours);
                }
                outcome.energies.add(flow, hours);
                if let Some(sum) = given.get_mut(place) {
                    *sum += (-flow.current).max(0.0) * hours / capacity;
                }
                if begins {
                    let date = clock(step).date();
                    outcome.days.push(DayOutcome { date, lowest: charge, end: charge, energies: Energies::default() });
                }
                if let Some(day) = outcome.days.last_mut() {
                    day.end = charge;
                    day.lowest = day.lowest.min(charge);
                    day.energies.add(flow, hours);
                }
                if series {
                    outcome.steps.push(StepOutcome {
                        at: clock(step),
                        charge,
                        voltage: ElectricPotential::new::<volt>(flow.volts),
                        sun: Power::new::<watt>(flow.sun),
                        engine: Power::new::<watt>(flow.engine + flow.charger),
                        shore: Power::new::<watt>(flow.shore),
                        used: Power::new::<watt>(flow.used),
                        unserved: Power::new::<watt>(flow.unserved),
                        imbalance: Energy::new::<watt_hour>(flow.imbalance(hours)),
                    });
                }
            }
            ControlFlow::Continue(())
        },
    );
    let days = f64::from(stay.days().max(1));
    for (outcome, given) in banks.iter_mut().zip(given) {
        outcome.cycles_per_year = Ratio::from(given * 365.25 / days);
    }
    let place = stage.plan.places.get(stay.place).map(|place| place.name.clone()).unwrap_or_default();
    let outcome = StayOutcome {
        name: stay.name.clone(),
        place,
        from: stay.from,
        to: stay.to,
        step: Time::new::<hour>(hours),
        banks,
        couplings,
        answers: Vec::new(),
        band: None,
        sized: None,
    };
    (outcome, state)
}
