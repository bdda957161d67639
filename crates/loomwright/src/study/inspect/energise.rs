//! In what order a new system, or a new part of one, is made live: made from the plan at hand.

use serde_json::{Value, json};

use crate::data::{Source, tables::constants, tables::sources};
use crate::installation::{ConverterKind, Installation, LinkKind, NodeId, State};
use crate::names::named;
use crate::quantity::significant;
use crate::study::judge::Judgement;
use crate::study::schedule::{Cell, Labels, Sheet, columns, object};

/// How many of the most loaded runs are felt by hand in the first minutes.
const WARMEST: usize = 5;

named! {
    /// Whether the wiring is all new.
    Wiring, "wiring", {
        /// Nothing of it was ever live.
        New => "new",
        /// Parts of an earlier system stay.
        Existing => "existing",
    }
}

impl Wiring {
    /// What a plan says of its wiring: existing as soon as it keeps a part.
    ///
    /// ```
    /// use loomwright::study::inspect::Wiring;
    /// let text = include_str!("../../../examples/lamp.toml");
    /// let plan = loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?;
    /// assert_eq!(Wiring::of(&plan), Wiring::New); // it keeps no part
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(plan: &Installation) -> Self {
        let keeps = plan.existing.iter().any(|one| one.state == State::Kept);
        if keeps { Self::Existing } else { Self::New }
    }
}

named! {
    /// A step on the way to a live system.
    Energise, "energising step", {
        /// Isolators open, fuses out.
        Open => "open",
        /// Polarity of every device.
        Polarity => "polarity",
        /// Every terminal tightened and marked.
        Torque => "torque",
        /// Conductors are whole, and nothing joins plus and minus.
        Continuity => "continuity",
        /// Insulation of bare wiring.
        Insulation => "insulation",
        /// Controllers get their battery before their array.
        BatterySide => "battery-side",
        /// Input capacitors are charged before a contact closes on them.
        PreCharge => "pre-charge",
        /// Fuses in, the battery's own last.
        BatteryFuse => "battery-fuse",
        /// The arrays, once their controllers live.
        Array => "array",
        /// First load: drops, smoke, warmth.
        Warmth => "warmth",
        /// Protection of the mains side.
        Mains => "mains",
    }
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Which.
    pub step: Energise,
    /// The parts of the plan that it is about.
    pub parts: Vec<String>,
    /// What to do.
    pub does: String,
    /// Why.
    pub why: String,
    /// Who says so.
    pub source: &'static Source,
}

fn step(step: Energise, parts: Vec<String>, does: &str, why: &str) -> Step {
    let source = &sources::ENERGISING_COMMON_PRACTICE;
    Step { step, parts, does: does.to_owned(), why: why.to_owned(), source }
}

/// What to do before and while a plan's system is made live for the first time, in order. Steps that it has no part for are
/// left out; so is the insulation test of wiring that is not all new, whose electronics its voltage would kill.
///
/// The battery comes before the array and its fuse is the last one in. Arrays come after it: a controller takes its
/// system voltage from the battery, and one that sees sunlight alone may be destroyed.
///
/// ```
/// use loomwright::study::{inspect::{Energise, Wiring, before_energising}, judge::judge};
/// use loomwright::text::read_plan;
/// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// let steps = before_energising(&judgement, Wiring::of(&plan));
/// assert!(steps.iter().all(|step| step.step != Energise::Array)); // it has none
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn before_energising(judgement: &Judgement, wiring: Wiring) -> Vec<Step> {
    let plan = &judgement.installation;
    let labels = Labels::of(plan);
    let mut steps = checks(judgement, &labels, wiring);
    let solar = |kind: ConverterKind| kind == ConverterKind::SolarController;
    let arrays = || plan.converters.iter().filter(|one| solar(one.kind) && one.array.is_some());
    let names = || arrays().map(|one| one.name.clone()).collect::<Vec<_>>();
    if !plan.batteries.is_empty() {
        steps.push(step(
            Energise::BatterySide,
            names(),
            "connect the battery side of each controller now and leave its array apart, covered or with its fuse out",
            "a controller sets its voltage by the battery; to disconnect, take the array off first and the battery last",
        ));
    }
    steps.push(pre_charge(plan));
    if !plan.batteries.is_empty() {
        steps.push(battery_fuses(judgement, &labels));
    }
    steps.push(step(
        Energise::Array,
        names(),
        "connect the array, positive and negative as marked, once the controller shows the battery's voltage",
        "an array is live whenever there is light and cannot be switched off: cover it while you work on its plugs",
    ));
    steps.push(warmth(judgement, &labels));
    let mains = plan.converters.iter().filter(|one| is_mains(one.kind)).map(|one| one.name.clone()).collect();
    steps.push(step(
        Energise::Mains,
        mains,
        "have the residual-current device, protective conductor and neutral bond of the mains side tested with an instrument, then \
         press its test button",
        "mains can kill, and a test button proves the mechanism only: work for a licensed person",
    ));
    steps.retain(|step| !step.parts.is_empty());
    steps
}

fn is_mains(kind: ConverterKind) -> bool {
    matches!(kind, ConverterKind::Inverter | ConverterKind::ShoreCharger)
}

/// Everything that is checked while nothing is live.
fn checks(judgement: &Judgement, labels: &Labels, wiring: Wiring) -> Vec<Step> {
    let plan = &judgement.installation;
    let isolators = plan.links.iter().filter(|link| link.kind == LinkKind::Isolator).map(|link| link.name.clone());
    let fused = (0..plan.runs.len()).filter_map(|run| Some(fuse_name(plan, labels, run, plan.device(run)?.called())));
    let devices = plan
        .loads
        .iter()
        .filter(|load| load.nodes.is_some())
        .map(|load| load.name.clone())
        .chain(plan.converters.iter().map(|one| one.name.clone()))
        .chain(plan.alternators.iter().map(|one| one.name.clone()));
    let terminals = super::rows::terminal_names(judgement, labels);
    let runs: Vec<String> =
        plan.runs.iter().enumerate().map(|(index, run)| format!("{} {}", labels.run(index), run.name)).collect();
    let mut steps = vec![
        step(
            Energise::Open,
            isolators.chain(fused).collect(),
            "open every isolator, take out every fuse, switch off every breaker",
            "nothing is live until it has been checked",
        ),
        step(
            Energise::Polarity,
            devices.collect(),
            "follow plus and minus of every device back to its bar with the meter, and hold both against the plan and its labels",
            "reversed polarity destroys electronics before any fuse melts",
        ),
        step(
            Energise::Torque,
            terminals,
            "tighten to the torque of the sheet and mark screw and part with a line",
            "a loose joint is the usual beginning of a fire",
        ),
        step(
            Energise::Continuity,
            runs.clone(),
            "with loads disconnected, measure every conductor from end to end, and plus against minus of every bar: no continuity \
             between them",
            "what is found with the meter is not found with the battery",
        ),
    ];
    if wiring == Wiring::New {
        steps.push(step(
            Energise::Insulation,
            runs,
            "only on bare wiring, every load, converter, battery and sensor disconnected at both poles: plus against minus and each \
             against chassis or hull; skip it where you are not certain that nothing is connected",
            "it finds a nicked conductor before it heats; its test voltage kills electronics, so it is never done on a system that \
             is there already",
        ));
    }
    steps
}

fn fuse_name(plan: &Installation, labels: &Labels, run: usize, called: String) -> String {
    let of = plan.runs.get(run).map_or("", |run| run.name.as_str());
    format!("{} {called} of {of}", labels.fuse(run))
}

/// Inverters that stand at 48 V, or whose capacitors or pre-charge the plan states.
fn pre_charge(plan: &Installation) -> Step {
    let high = plan.system_voltage.value > constants::PRE_CHARGE_V;
    let inverters = plan.converters.iter().filter(|one| one.kind == ConverterKind::Inverter);
    let asked = inverters.filter(|one| high || one.pre_charge || one.input_capacitance.is_some());
    step(
        Energise::PreCharge,
        asked.map(|one| one.name.clone()).collect(),
        "bridge the open contact before it with a resistor until its input stands near the battery's voltage, then close",
        "empty input capacitors are a short circuit for a moment: it welds contacts and pits fuse blades",
    )
}

/// Fuses and breakers on the batteries' own posts, where a run's device sits at its start; the batteries where they have none.
fn battery_fuses(judgement: &Judgement, labels: &Labels) -> Step {
    let plan = &judgement.installation;
    let at_battery = |node: NodeId| plan.batteries.iter().any(|one| one.nodes.contains(&node));
    let own = plan.runs.iter().enumerate().filter(|(_, run)| at_battery(run.from));
    let fuses: Vec<String> =
        own.filter_map(|(run, _)| Some(fuse_name(plan, labels, run, plan.device(run)?.called()))).collect();
    let bare = fuses.is_empty();
    let parts = if bare { plan.batteries.iter().map(|one| one.name.clone()).collect() } else { fuses };
    let does = if bare {
        "put in all fuses, then connect the battery last, its isolator open"
    } else {
        "put in the fuses of the circuits with their loads off, and the battery's own fuse last; then close the isolators"
    };
    step(
        Energise::BatteryFuse,
        parts,
        does,
        "the fuse that goes in last takes the arc of whatever is wrong, and stands where it can be taken out again",
    )
}

/// The runs nearest to what they may carry, which show a bad joint first.
fn warmth(judgement: &Judgement, labels: &Labels) -> Step {
    let plan = &judgement.installation;
    let mut loaded: Vec<(f64, usize)> = (0..plan.runs.len())
        .filter_map(|run| Some((super::rows::load(judgement, run)?, run)))
        // Where nothing is permitted there is no share to tell.
        .filter(|(load, _)| *load > 0.0 && load.is_finite())
        .collect();
    loaded.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
    let words = |(load, run): &(f64, usize)| {
        let name = plan.runs.get(*run).map_or("", |run| run.name.as_str());
        format!("{} {name} ({} % of what it may carry)", labels.run(*run), significant(100.0 * load, 2))
    };
    step(
        Energise::Warmth,
        loaded.iter().take(WARMEST).map(words).collect(),
        "switch on one load after the other, look and smell for smoke, measure the drops of the sheet, and after half an hour feel \
         the lugs of these with the back of the hand: none warmer than its cable",
        "a joint that is bad from the start shows in the first hour, while somebody stands beside it",
    )
}

/// The steps as a sheet of cells.
///
/// ```
/// use loomwright::study::{inspect::{Energise, Wiring, before_energising, steps_sheet}, judge::judge};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let steps = before_energising(&judgement, Wiring::New);
/// assert_eq!(steps[0].step, Energise::Open); // isolators open and fuses out before all else
/// assert_eq!(steps_sheet(&steps).rows.len(), steps.len());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn steps_sheet(steps: &[Step]) -> Sheet<&'static str> {
    let row = |(index, step): (usize, &Step)| -> Vec<Cell> {
        let number: f64 = (index + 1).to_string().parse().unwrap_or_default();
        vec![
            number.into(),
            step.step.name().into(),
            step.parts.join("; ").into(),
            step.does.as_str().into(),
            step.why.as_str().into(),
            step.source.to_string().into(),
            Cell::Empty,
        ]
    };
    let mut notes = vec!["stop at the first step that is not as it should be".to_owned()];
    if steps.iter().all(|step| step.step != Energise::Insulation) {
        notes.push(
            "no insulation test: its voltage kills electronics, and where parts of an earlier system stay nobody knows for certain that \
             all of them are off"
                .to_owned(),
        );
    }
    Sheet {
        name: "Before it is made live, in this order",
        columns: columns![
            "number": "no.", "step": "step", "parts": "parts", "do": "do", "why": "why", "source": "by", "done": "done",
        ],
        rows: steps.iter().enumerate().map(row).collect(),
        notes,
    }
}

/// The steps as JSON: a list of objects by the keys of their sheet's columns, parts as a list.
///
/// ```
/// use loomwright::study::{inspect::{Wiring, before_energising, steps_record}, judge::judge};
/// let text = include_str!("../../../examples/lamp.toml");
/// let judgement = judge(&loomwright::text::read_plan(text).map_err(|errors| format!("{errors:?}"))?)?;
/// let record = steps_record(&before_energising(&judgement, Wiring::New));
/// assert_eq!((&record[0]["number"], &record[0]["step"]), (&1.0.into(), &"open".into()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn steps_record(steps: &[Step]) -> Value {
    let sheet = steps_sheet(steps);
    let rows = sheet.rows.iter().zip(steps).map(|(row, step)| {
        let mut object = object(sheet.columns, row);
        if let Some(parts) = object.get_mut("parts") {
            *parts = json!(step.parts);
        }
        object
    });
    Value::Array(rows.collect())
}
