//! When a part is looked at again: months by risk, common practice with no source.

use jiff::civil::Date;

use super::trend::{Trend, trend};
use crate::data::tables::constants;
use crate::installation::{Installation, Place, ZoneKind};
use crate::quantity::{in_celsius, significant};
use crate::study::judge::Judgement;
use crate::study::reconcile::{Seen, Segment, Verdict};

/// The months that intervals are told in.
const TOLD: [u16; 6] = [24, 12, 6, 3, 2, 1];

/// When a part is to be looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Due {
    /// It must be opened up and remade before the system is used again; everything else counts from then.
    pub now: bool,
    /// From one inspection to the next: 1, 2, 3, 6, 12 or 24 months.
    pub months: u16,
    /// Whether it is new or remade: first after one month or 50 hours of running, whichever comes first.
    pub first: bool,
    /// What the months follow from.
    pub reasons: Vec<String>,
    /// The last day on which it was measured.
    pub last: Option<Date>,
    /// The next day, counted from that one: nobody here knows what day it is today.
    pub next: Option<Date>,
}

/// What bears on the interval of a part.
#[derive(Clone, Debug, Default)]
pub(super) struct Risk {
    /// Zones that it lies or stands in.
    pub(super) zones: Vec<usize>,
    /// Design current over what it may carry, the worst.
    pub(super) load: Option<f64>,
    /// Lugs on one terminal.
    pub(super) lugs: usize,
    /// Segments whose readings tell of it.
    pub(super) segments: Vec<Segment>,
    /// Whether it is made anew in this plan and holds by a screw.
    pub(super) new: bool,
}

/// The rule in words.
pub(super) fn rule() -> String {
    format!(
        "Every {} months, in a cabin every {}; halved once for each of: a vehicle or boat that shakes; an engine space or under-body; \
         air that swings by more than {} K; a design current above {} % of what is permitted; more than {} lugs on a terminal; \
         a joint that is to be watched or grows. Told as 1, 2, 3, 6, 12 or 24 months, rounded down. What is new or remade comes first \
         after {} month or {} h of running, whichever is sooner; what is to be remade comes now. {}.",
        constants::INSPECT_MONTHS,
        constants::INSPECT_CABIN_MONTHS,
        constants::INSPECT_SWING_K,
        significant(100.0 * constants::INSPECT_LOAD_SHARE, 3),
        constants::INSPECT_LUGS,
        constants::INSPECT_LEAST_MONTHS,
        constants::INSPECT_NEW_H,
        crate::data::tables::sources::INSPECTION_COMMON_PRACTICE,
    )
}

/// Whether a zone of this kind is shaken by an engine or the road more than the rest.
fn shaken(kind: ZoneKind) -> bool {
    matches!(kind, ZoneKind::EngineBay | ZoneKind::UnderBody | ZoneKind::BesideExhaust | ZoneKind::BoatEngineSpace)
}

/// What shortens the interval by where the part is.
fn surroundings(plan: &Installation, risk: &Risk, reasons: &mut Vec<String>) {
    match plan.place {
        Place::Vehicle => reasons.push("vibration: a vehicle".to_owned()),
        Place::Boat => reasons.push("vibration: a boat".to_owned()),
        Place::Cabin => (),
    }
    let zones = || risk.zones.iter().filter_map(|zone| plan.zones.get(*zone));
    if let Some(zone) = zones().find(|zone| shaken(zone.kind)).filter(|_| plan.place != Place::Cabin) {
        reasons.push(format!("more vibration: {}", zone.name));
    }
    let swings = zones().map(|zone| (in_celsius(zone.hottest) - in_celsius(zone.coldest), zone));
    let widest = swings.reduce(|widest, next| if next.0 > widest.0 { next } else { widest });
    // Two rounded temperatures 60 K apart are not above 60 K.
    if let Some((swing, zone)) = widest.filter(|(swing, _)| *swing > constants::INSPECT_SWING_K + 1e-6) {
        reasons.push(format!("{} swings by {} K", zone.name, significant(swing, 3)));
    }
}

/// What the readings say of a part: its last telling verdict, the worst of its segments, and when it was last measured.
fn told(segments: &[Segment], seen: &[Seen]) -> (Option<Verdict>, Option<Date>) {
    let of = |segment: &Segment| {
        // What tells nothing does not take back what was told before.
        let telling = seen.iter().filter(|one| one.segment == *segment && one.verdict != Verdict::NotTold);
        telling.max_by_key(|one| (one.date, one.verdict)).map(|one| one.verdict)
    };
    let last = seen.iter().filter(|one| segments.contains(&one.segment)).filter_map(|one| one.date).max();
    (segments.iter().filter_map(of).max(), last)
}

/// When a part of this risk is due, and how its segments have gone.
pub(super) fn due(judgement: &Judgement, risk: &Risk, seen: &[Seen]) -> (Due, Vec<Trend>) {
    let plan = &judgement.installation;
    let mut reasons = Vec::new();
    surroundings(plan, risk, &mut reasons);
    if let Some(load) = risk.load.filter(|load| *load > constants::INSPECT_LOAD_SHARE) {
        reasons.push(if load.is_finite() {
            format!("loaded to {} % of what is permitted", significant(100.0 * load, 3))
        } else {
            "loaded where nothing is permitted".to_owned()
        });
    }
    if f64::from(u16::try_from(risk.lugs).unwrap_or(u16::MAX)) > constants::INSPECT_LUGS {
        reasons.push(format!("{} lugs on one terminal", risk.lugs));
    }
    let trends: Vec<Trend> = risk.segments.iter().filter_map(|segment| trend(judgement, *segment, seen)).collect();
    let (verdict, last) = told(&risk.segments, seen);
    if let Some(growing) = trends.iter().find(|trend| trend.grows) {
        reasons.push(format!("{} grows", growing.name));
    } else if matches!(verdict, Some(Verdict::Watch)) {
        reasons.push("to be watched by the last readings".to_owned());
    }
    let now = matches!(verdict, Some(Verdict::Remake));
    let cabin = plan.place == Place::Cabin;
    let base = if cabin { constants::INSPECT_CABIN_MONTHS } else { constants::INSPECT_MONTHS };
    let halved = reasons.iter().fold(base, |months, _| 0.5 * months).max(constants::INSPECT_LEAST_MONTHS);
    let months = TOLD.into_iter().find(|told| f64::from(*told) <= halved).unwrap_or(1);
    // Measured and not found bad: its first time has passed.
    let first = now || (risk.new && verdict.is_none());
    reasons.insert(0, format!("{base} months {}", if cabin { "in a cabin" } else { "to begin with" }));
    if now {
        reasons.push("to be remade by the last readings".to_owned());
    }
    let span = if first { 1 } else { i64::from(months) };
    let after = |date: Date| date.checked_add(jiff::Span::new().try_months(span).ok()?).ok();
    let next = if now { last } else { last.and_then(after) };
    (Due { now, months, first, reasons, last, next }, trends)
}
