//! What was measured, and the record that is handed over and signed.

use loomwright::study::commission::{NO_INSPECTION, SIGNATURE};
use loomwright::study::inspect::steps_sheet;
use loomwright::study::reconcile::{DayRecord, ReconcileRecord, SegmentRecord};
use maud::{Markup, html};

use super::Page;
use super::parts::figure;
use super::table::{Told, notes, sheet, table};
use crate::text::{number, plain};

fn segment(one: &SegmentRecord) -> Vec<Told> {
    vec![
        one.name.clone().into(),
        one.verdict.into(),
        Told::Number(format!("{} ± {}", plain(one.measured_mohm, 3), plain(one.within_mohm, 2))),
        Told::Number(format!("{} to {}", plain(one.planned_mohm[0], 3), plain(one.planned_mohm[2], 3))),
        format!("{}{}", one.reason, one.next.as_ref().map_or_else(String::new, |next| format!("; next: {next}")))
            .into(),
    ]
}

fn day(day: &DayRecord) -> Markup {
    let heads = ["piece", "verdict", "#measured mΩ", "#planned mΩ", "why"];
    let told: Vec<Vec<Told>> = day.segments.iter().filter(|one| one.verdict != "as-planned").map(segment).collect();
    let rest: Vec<Vec<Told>> = day.segments.iter().filter(|one| one.verdict == "as-planned").map(segment).collect();
    let devices: Vec<String> = day
        .devices
        .iter()
        .map(|one| format!("{} {} ({}): {}", one.verdict, one.device, one.cases.join(", "), one.reason))
        .collect();
    let warm: Vec<String> = day
        .temperatures
        .iter()
        .map(|one| format!("{} {} ({}): {}", one.verdict, one.at, one.case, one.reason))
        .collect();
    let left: Vec<String> = day
        .readings
        .iter()
        .filter_map(|one| Some(format!("line {}, {}: {}", one.line, one.at, one.left_out.as_ref()?)))
        .chain(day.clamp_zero.clone())
        .collect();
    let readings: Vec<Vec<Told>> = day
        .readings
        .iter()
        .filter_map(|one| {
            let ([measured, within, planned, tolerance, explained, _], unit) = one.numbers.as_ref()?.all();
            let place = one.against.as_ref().map_or_else(|| one.at.clone(), |other| format!("{} over {other}", one.at));
            Some(vec![
                place.into(),
                Told::Number(one.line.to_string()),
                one.case.clone().into(),
                Told::Number(format!("{} ± {}", number(measured, 4), number(within, 2))),
                Told::Number(format!("{} ± {}", number(planned, 4), number(tolerance, 2))),
                Told::Number(number(explained, 4)),
                unit.into(),
                if one.left_out.is_some() {
                    "left out"
                } else if one.fits {
                    "fits"
                } else {
                    "off"
                }
                .into(),
            ])
        })
        .collect();
    let reading_heads = ["where", "#line", "case", "#measured", "#planned", "#explained", "unit", "verdict"];
    html! {
        h3 { @if let Some(date) = &day.date { "Measured on " (date) } @else { "Measured on a day that is not told" } }
        @if !told.is_empty() { (table("Joints and cables that are not as planned, worst first", &heads, &told)) }
        @if !devices.is_empty() { p { "Devices" } (notes(&devices)) }
        @if !warm.is_empty() { p { "Temperatures" } (notes(&warm)) }
        @if !left.is_empty() { p { "Left out" } (notes(&left)) }
        @if !rest.is_empty() {
            details { summary { (rest.len()) " pieces as planned" } (table("Joints and cables as planned", &heads, &rest)) }
        }
        @if !readings.is_empty() {
            details { summary { (readings.len()) " readings" } (table("Readings", &reading_heads, &readings)) }
        }
        @if !day.untold.is_empty() { p class="small quiet" { (day.untold.len()) " pieces are told by no reading." } }
    }
}

/// Readings beside their plan; `None` where there are none.
pub(super) fn measured(found: &ReconcileRecord) -> Option<Markup> {
    if found.days.is_empty() && found.refused.is_empty() {
        return None;
    }
    let refused: Vec<String> = found.refused.iter().map(|one| format!("line {}: {}", one.line, one.reason)).collect();
    Some(html! {
        p { "Verdict: " strong { (found.verdict) } ", " (found.left_out()) " readings left out, " (found.refused.len()) " lines refused." }
        @if let Some(picture) = crate::joints(found) { (figure(&picture, "joints-picture")) }
        @if let Some(picture) = crate::readings(found) {
            details { summary { "Every reading against its plan" } (figure(&picture, "readings-picture")) }
        }
        @for one in found.days.iter().rev() { (day(one)) }
        @if !refused.is_empty() { h3 { "Refused" } (notes(&refused)) }
    })
}

impl Page<'_> {
    /// In what order the system is made live, what is looked at how soon again, and the lines to sign.
    pub(super) fn commissioning(&self) -> Markup {
        let commission = &self.dossier.commission;
        let steps = steps_sheet(&commission.before_energising);
        html! {
            p { strong { (NO_INSPECTION) } }
            p {
                "Plan: " @if commission.holds { "holds" } @else { strong { "does not hold" } } ". Readings: "
                @if commission.readings.days.is_empty() { "none yet" } @else { (commission.readings.verdict) }
                ". Settings and torques stand in the " a href="#schedules" { "schedules" } "."
            }
            h3 { "Before energising" }
            ol class="order" {
                @for step in &commission.before_energising {
                    li {
                        span class="box" aria-hidden="true" {} (step.does) "." br;
                        span class="small quiet" { "why: " (step.why) ". Of: " (step.parts.join("; ")) " [" (step.source) "]" }
                    }
                }
            }
            (notes(&steps.notes))
            details { summary { "Inspection: what to look at, and how soon again" } (sheet("Inspection", &commission.inspection.sheet())) }
            div class="sign" { @for line in SIGNATURE { span { (line) } span {} } }
        }
    }
}
