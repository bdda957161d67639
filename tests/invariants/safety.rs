//! Monotonic safety of the check of a plan: what makes a plan harder never raises the margin of what it bears on, so that a
//! failing check never passes by it. Each statement names the rules that it holds of; the others may well gain: a longer run
//! lets less fault current through.

use std::collections::BTreeMap;

use crate::draft::draft;
use loomwright::conductor::series;
use loomwright::installation::{Change, ConductorChoice, FuseChoice, Installation, LoadKind};
use loomwright::protection::Fuse;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{Length, TemperatureInterval};
use loomwright::study::judge::{CheckRecord, Judgement, judge};
use loomwright_tests::sampling;
use proptest::prelude::*;
use proptest::sample::Index;

/// The least that is told of each rule and subject.
type Told = BTreeMap<(&'static str, String), f64>;

fn told(judgement: &Judgement, number: fn(&CheckRecord) -> f64) -> Told {
    let mut found = Told::new();
    for check in judgement.checks() {
        let number = number(&check);
        let least = found.entry((check.rule, check.subject)).or_insert(f64::INFINITY);
        *least = least.min(number);
    }
    found
}

/// The margin of a check.
fn margin(check: &CheckRecord) -> f64 {
    check.margin
}

/// The margin of a passing check, 0 of a failing one: where a fuse fails by rating, overload and time, the first that fails is told,
/// not the worst.
fn passing(check: &CheckRecord) -> f64 {
    if check.margin < 1.0 - 1e-9 { 0.0 } else { check.margin }
}

/// What may be at most, whatever is.
fn limit(check: &CheckRecord) -> f64 {
    check.limit.unwrap_or(f64::INFINITY)
}

/// Margins are told to nine digits of a state that settles to 1e-4 K, some 1e-6 of a rise or a drop.
const SETTLED: f64 = 1e-5;

/// Asserts that no such number of these rules has risen by more than `slack`, and that none of them is gone unsaid.
fn no_better(
    easy: &Judgement,
    hard: &Installation,
    (number, slack): (fn(&CheckRecord) -> f64, f64),
    of: impl Fn(&'static str, &str) -> bool,
) -> Result<(), TestCaseError> {
    let Ok(hard) = judge(hard) else { return Ok(()) };
    // A case without an operating point carries nothing and is the worst of all; its own danger says so.
    if hard.cases.iter().any(|case| case.point.is_none()) {
        prop_assert!(!hard.holds(), "a case collapses and the plan holds");
        return Ok(());
    }
    let (before, after) = (told(easy, number), told(&hard, number));
    for ((rule, subject), was) in before.iter().filter(|((rule, subject), _)| of(rule, subject)) {
        match after.get(&(*rule, subject.clone())) {
            Some(now) => prop_assert!(*now <= was * (1.0 + slack), "{rule} of {subject} rose from {was} to {now}"),
            // What cannot be judged is no pass.
            None => {
                // A run that would melt has no temperature to tell; that it bears too little is told instead.
                let instead = if *rule == "conductor-temperature" { "ampacity" } else { rule };
                let said = hard.findings.iter().any(|one| one.rule == instead && one.subject == *subject);
                prop_assert!(*was >= 1.0 - 1e-9 || said, "{rule} of {subject} was {was} and is gone");
            }
        }
    }
    Ok(())
}

/// The runs on the way to a load and back, by the circuit or the common part that it hangs on.
fn legs_of(plan: &Installation, load: usize) -> Vec<usize> {
    let nodes = plan.loads[load].nodes.expect("it has a circuit");
    (0..plan.runs.len())
        .filter(|run| nodes.contains(&plan.runs[*run].to) || nodes.contains(&plan.runs[*run].from))
        .collect()
}

fn smaller(choice: ConductorChoice) -> Option<loomwright::conductor::Conductor> {
    let ConductorChoice::Fixed(now) = choice else { return None };
    series(now.kind, now.material).filter(|one| one.area < now.area).last()
}

fn larger(choice: FuseChoice) -> Option<Fuse> {
    let FuseChoice::Fixed(now) = choice else { return None };
    let rating = now.family.ratings().find(|rating| *rating > now.rating)?;
    Some(Fuse { rating, ..now })
}

proptest! {
    #![proptest_config(sampling(0x5afe))]

    /// One plan, made harder in every way in turn.
    #[test]
    fn harder_is_never_safer(draft in draft(), which in any::<Index>(), factor in 1.01..2.5_f64, kelvins in 0.5..30.0_f64) {
        let plan = draft.plan();
        let Ok(easy) = judge(&plan) else { return Ok(()) };
        let load = which.index(plan.loads.len());
        let name = plan.loads[load].name.clone();
        let legs = legs_of(&plan, load);
        let names: Vec<&str> = legs.iter().map(|run| plan.runs[*run].name.as_str()).collect();
        let own = |subject: &str| names.contains(&subject);

        // A longer run: its load gets less voltage. (Faults become smaller, and what a resistance draws too.)
        let length: Length = plan.runs[legs[0]].route() * factor;
        let longer = plan.with(&Change::Length(legs[0], length));
        no_better(&easy, &longer, (margin, SETTLED), |rule, subject| rule == "voltage-drop" && subject == name)?;

        // More load: its conductors and all on the way are warmer and bear no more, fuses carry no more, every drop grows.
        let mut loaded = plan.clone();
        match &mut loaded.loads[load].kind {
            LoadKind::Current(current) => *current *= factor,
            LoadKind::Power(power) => *power *= factor,
            LoadKind::Resistance(resistance) => *resistance /= factor,
        }
        loaded.loads[load].inrush = loaded.loads[load].inrush.map(|inrush| inrush * factor);
        no_better(&easy, &loaded, (margin, SETTLED), |rule, subject| match rule {
            "ampacity" | "conductor-temperature" | "fuse-carries-load" => own(subject),
            "voltage-drop" => subject == name,
            _ => false,
        })?;

        // Hotter air everywhere: nothing may carry more, neither conductors nor fuses, nothing is less warm beside what it may
        // be, and no load loses less. (A resistance draws a little less, so the margin of a printed ampacity may rise.)
        let mut hotter = plan.clone();
        for zone in &mut hotter.zones {
            zone.hottest += TemperatureInterval::new::<kelvin>(kelvins);
        }
        no_better(&easy, &hotter, (limit, SETTLED), |rule, _| matches!(rule, "ampacity" | "fuse-carries-load"))?;
        no_better(&easy, &hotter, (margin, SETTLED), |rule, subject| match rule {
            "conductor-temperature" => true,
            "voltage-drop" => subject == name,
            _ => false,
        })?;

        // A smaller conductor in the circuit: it bears less, gets warmer, drops more, and stands the fuse for no longer. 4 % for
        // what damage curves may be early.
        if let Some(conductor) = smaller(plan.runs[legs[0]].conductor) {
            let thinner = plan.with(&Change::Conductor(legs[0], conductor));
            no_better(&easy, &thinner, (margin, SETTLED), |rule, subject| match rule {
                "ampacity" => own(subject),
                "voltage-drop" => subject == name,
                _ => false,
            })?;
            no_better(&easy, &thinner, (passing, 0.04), |rule, subject| rule == "fuse-protects-conductor" && own(subject))?;
        }

        // A larger fuse of the family: the conductor is protected no better; 4 % as above. (It drops less, and carries more.)
        let fused = legs.iter().find_map(|run| Some((*run, larger(plan.runs[*run].fuse)?)));
        if let Some((run, fuse)) = fused {
            let slower = plan.with(&Change::Fuse(run, fuse));
            no_better(&easy, &slower, (passing, 0.04), |rule, subject| rule == "fuse-protects-conductor" && own(subject))?;
        }

        // A battery that drives a higher fault: no fuse breaks it with more reserve.
        let mut stiffer = plan.clone();
        for battery in &mut stiffer.batteries {
            battery.resistance /= factor;
            battery.ohmic /= factor;
        }
        no_better(&easy, &stiffer, (margin, SETTLED), |rule, _| rule == "fuse-interrupts-fault")?;
    }
}
