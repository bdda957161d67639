//! Rules on the operating point itself: how far it is from collapse, and whether converters find one at all.

use super::{Measure, n, plain};
use crate::converter::LockOut;
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::DeviceRef;
use crate::network::{Part, input_power};
use crate::study::judge::{CheckRecord, Judgement};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    margin(judgement).into_iter().chain(chatter(judgement)).collect()
}

/// The least stability margin of all cases.
fn measure(judgement: &Judgement) -> Option<Measure<'_>> {
    let installation = &judgement.installation;
    let margins =
        judgement.cases.iter().filter_map(|case| Some((case.case, case.point.as_ref()?.stability_margin?.value)));
    let (case, margin) = margins.min_by(|one, other| one.1.total_cmp(&other.1))?;
    let limit = constants::STABILITY_MARGIN;
    Some(Measure {
        rule: "stability-margin",
        subject: "constant power",
        measured: margin,
        limit,
        unit: "times",
        margin: margin / limit,
        failing: Signal::Caution,
        citation: "common practice, no source; constant power over a resistance: P ≤ V²/(4R)",
        confidence: Confidence::CommonPractice,
        case: installation.cases.get(case).map(|case| case.name.clone()),
    })
}

pub(super) fn check(judgement: &Judgement) -> Option<CheckRecord> {
    measure(judgement).map(|measure| measure.check())
}

/// Passing is enough: the limit is itself the reserve.
fn margin(judgement: &Judgement) -> Option<Finding> {
    let measure = measure(judgement)?.enough();
    let margin = measure.measured;
    measure.finding(|_| {
        format!("at {} times the power that converters and loads draw together the voltage collapses", n(margin))
    })
}

/// Converters that start and stop without end.
fn chatter(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found: Vec<Finding> = Vec::new();
    for case in &judgement.cases {
        let Some(of) = installation.cases.get(case.case) else { continue };
        for (index, open) in &case.chatters {
            let Some(converter) = installation.converters.get(*index) else { continue };
            if found.iter().any(|told| told.subject == converter.name) {
                continue;
            }
            let (Some(stops), Some(restarts), Some(input)) = (converter.lock_out, converter.restart, converter.input)
            else {
                continue;
            };
            // What its feeder, source included, loses per ampere while it draws.
            let part = Part::Device(DeviceRef::Converter(*index));
            let drawn = case.demands.iter().find(|(found, _)| *found == part).map(|(_, current)| *current);
            let power =
                drawn.map_or_else(|| input_power(installation, of, *index), |drawn| drawn * case.between(input));
            let feeder = drawn.filter(|drawn| drawn.value > 0.0).map(|drawn| (*open - case.between(input)) / drawn);
            // Any resistance far too large asks for the same cure.
            let asked = feeder.unwrap_or_else(|| *open * *open / power);
            let at_end = LockOut::new(stops, restarts).and_then(|lock_out| lock_out.on_feeder(*open, asked, power));
            let cure = at_end.ok().and_then(|at_end| at_end.largest_resistance);
            let cure = cure.map_or_else(String::new, |largest| {
                format!("; source, cables and joints together may have {} mΩ", n(1e3 * largest.value))
            });
            let has = feeder.map_or_else(String::new, |feeder| format!(" and have {} mΩ", n(1e3 * feeder.value)));
            let message = format!(
                "starts at {} V, its own draw pulls the input below {} V where it stops, and without it the input \
                 recovers to {} V: it starts and stops without end{cure}{has}",
                n(restarts.value),
                n(stops.value),
                n(open.value)
            );
            let citation = "V = (E + √(E² − 4·P·R))/2; largest R = (E − V)·V/P";
            let mut finding = plain("converter-chatter", &converter.name, Signal::Warning, message, citation);
            finding.case = Some(of.name.clone());
            found.push(finding);
        }
    }
    found
}
