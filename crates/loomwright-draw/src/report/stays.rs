//! The plan over its stays.

use loomwright::study::forecast::{BankRecord, DayRecord, EnergyRecord, ForecastRecord, StayRecord};
use maud::{Markup, html};

use super::parts::{figure, finding};
use super::table::{Told, table};
use crate::text::plain;

fn percent(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

fn whole(wh: f64) -> Told {
    Told::Number(if wh.abs() < 0.5 { "–".to_owned() } else { format!("{wh:.0}") })
}

fn day(day: &DayRecord) -> Vec<Told> {
    let of: &EnergyRecord = &day.energies;
    let band =
        day.end_charge_band.map_or_else(String::new, |[low, _, high]| format!("{} to {}", percent(low), percent(high)));
    vec![
        day.date.clone().into(),
        whole(of.sun_wh),
        whole(of.engine_wh + of.charger_wh),
        whole(of.shore_wh),
        whole(of.used_wh),
        whole(of.unserved_wh),
        Told::Number(percent(day.lowest_charge)),
        Told::Number(percent(day.end_charge)),
        Told::Number(band),
    ]
}

fn bank(stay: &StayRecord, bank: &BankRecord, id: &str) -> Markup {
    let days: Vec<Vec<Told>> = bank.days.iter().map(day).collect();
    let heads =
        ["day", "#sun Wh", "#engine Wh", "#shore Wh", "#used Wh", "#short Wh", "#lowest %", "#end %", "#10 to 90 %"];
    let mut told = vec![format!(
        "{} ({}, {} Ah): from {} to {} %, lowest {} %, floor {} %",
        bank.name,
        bank.chemistry,
        plain(bank.capacity_ah, 3),
        percent(bank.start_charge),
        percent(bank.end_charge),
        percent(bank.lowest_charge),
        percent(bank.floor)
    )];
    told.extend(bank.autonomy_h.map(|hours| format!("from full it lasts {} h with every source off", plain(hours, 2))));
    told.extend(
        bank.drive_to_full_h
            .filter(|_| !bank.is_starter)
            .map(|hours| format!("from its floor it takes {} h of driving to full", plain(hours, 2))),
    );
    html! {
        h3 { (bank.name) @if !bank.lasts { ": does not last" } }
        p class="facts" { (told.join("; ")) "." }
        @if let Some(picture) = crate::charge(stay, bank) { (figure(&picture, id)) }
        details { summary { "Day by day" } (table(&format!("{}, {}", stay.name, bank.name), &heads, &days)) }
    }
}

pub(super) fn stays(forecast: &ForecastRecord) -> Markup {
    html! {
        @for (at, stay) in forecast.stays.iter().enumerate() {
            h3 {
                (stay.name) ", at " (stay.place) ", " (stay.from) " to " (stay.to) ": "
                @if stay.lasts { "lasts" } @else { "does not last" }
            }
            @if let (Some([chance, low, high]), Some(samples)) = (stay.chance, stay.samples) {
                p class="facts" {
                    "It lasts in " (percent(chance)) " % of " (samples) " samples of weather and loads (95 %: " (percent(low)) " to "
                    (percent(high)) " %)."
                }
            }
            @for (place, one) in stay.banks.iter().enumerate() { (bank(stay, one, &format!("stay-{at}-{place}"))) }
        }
        @if !forecast.findings.is_empty() {
            h3 { "Findings of the stays" }
            @for one in &forecast.findings { (finding(one, "", None)) }
        }
        @if !forecast.unfed.is_empty() { p { "Hang on no battery and are left out: " (forecast.unfed.join(", ")) "." } }
    }
}
