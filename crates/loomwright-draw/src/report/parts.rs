//! Findings, cautions and sources.

use std::collections::BTreeSet;

use loomwright::finding::Finding;
use loomwright::study::{cautions as all, live_cautions};
use maud::{Markup, html};

use crate::picture::Picture;
use crate::text::{plain, prefix};

/// A message as a sentence of its own.
pub(super) fn sentence(message: &str) -> String {
    let mut letters = message.chars();
    // A message goes on from its subject, which stands in the heading.
    if message.starts_with("is ") {
        return format!("It {message}.");
    }
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}.", letters.as_str())
}

/// A finding with its numbers, remedies and source.
pub(super) fn finding(finding: &Finding, tag: &str, id: Option<String>) -> Markup {
    let word = finding.signal.word();
    let unit = finding.unit;
    let numbers = match (finding.measured, finding.limit) {
        (Some(measured), Some(limit)) => {
            let (by, prefix) = prefix(measured.abs().max(limit.abs()));
            let [measured, limit] = [measured, limit].map(|value| plain(value / by, 3));
            Some(format!("found {measured} {prefix}{unit}, limit {limit} {prefix}{unit}"))
        }
        (Some(measured), None) => {
            let (by, prefix) = prefix(measured);
            Some(format!("found {} {prefix}{unit}", plain(measured / by, 3)))
        }
        _ => None,
    };
    html! {
        article class={ "finding is-" (word) } id=[id] {
            div { span class={ "tag " (word) } { (tag) " " (word) } }
            div {
                h3 { (finding.rule) ", " (finding.subject) @if let Some(case) = &finding.case { " (" (case) ")" } }
                p { (sentence(&finding.message)) }
                @if let Some(numbers) = numbers {
                    p class="facts" { (numbers) @if let Some(margin) = finding.margin { ", margin " (plain(margin, 3)) } }
                }
                @if !finding.remedies.is_empty() {
                    ul { @for remedy in &finding.remedies { li { "would pass: " (remedy) } } }
                }
                p class="small quiet" { (finding.citation) }
            }
        }
    }
}

/// A picture with its title.
pub(super) fn figure(picture: &Picture, id: &str) -> Markup {
    titled(picture, id, false)
}

/// The same; whether it begins a sheet of paper of its own.
pub(super) fn titled(picture: &Picture, id: &str, sheet: bool) -> Markup {
    html! {
        figure class=[sheet.then_some("sheet")] {
            figcaption { (picture.title) }
            div class="scroll" tabindex="0" role="group" aria-label=(picture.title) { (picture.inline(id)) }
        }
    }
}

/// What everybody should hear.
pub(super) fn cautions() -> Markup {
    html! { ul class="cautions" { @for caution in all().iter().chain(live_cautions()) { li { (caution) } } } }
}

/// Where the numbers come from.
pub(super) fn sources(sources: &BTreeSet<String>) -> Markup {
    html! {
        p class="quiet" { "Everything that anything on this page is cited from." }
        ul class="notes" { @for source in sources { li { (source) } } }
    }
}
