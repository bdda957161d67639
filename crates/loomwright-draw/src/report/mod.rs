//! The report: one page with everything, complete in itself, to read on a screen or print.

mod measured;
mod parts;
mod plan;
mod stays;
mod table;
mod working;

use std::collections::BTreeSet;

use loomwright::finding::Signal;
use loomwright::study::dossier::{Dossier, Stays};
use loomwright::study::forecast::ForecastRecord;
use loomwright::study::judge::PlanRecord;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::picture::legible;
use crate::style;

/// A section under its name.
struct Section {
    id: &'static str,
    title: &'static str,
    /// Whether it begins a sheet of paper of its own.
    sheet: bool,
    body: Markup,
}

/// What all sections share.
struct Page<'a> {
    dossier: &'a Dossier,
    plan: PlanRecord,
    /// Names of the findings, such as `W2`.
    tags: Vec<String>,
}

/// Everything about a plan on one page of HTML that needs no network and no script: to read on a screen or to print.
pub fn report(dossier: &Dossier) -> String {
    let plan = dossier.judgement.record();
    let tags = crate::tags::of(&plan.findings);
    let page = Page { dossier, plan, tags };
    let mut sections = page.sections();
    let sources = parts::sources(&page.sources());
    sections.push(Section { id: "sources", title: "Sources", sheet: false, body: sources });
    legible(page.whole(&sections).into_string())
}

impl Page<'_> {
    fn forecast(&self) -> Option<&ForecastRecord> {
        if let Stays::Forecast(found) = &self.dossier.stays { Some(found) } else { None }
    }

    fn sections(&self) -> Vec<Section> {
        let some = |id, title, sheet, body: Markup| Section { id, title, sheet, body };
        let mut sections = vec![
            some("findings", "Findings", false, self.findings()),
            some("diagram", "Single-line diagram", true, self.diagram()),
            some("margins", "Margins", false, self.margins()),
            some("runs", "Runs", false, self.runs()),
            some("voltages", "Voltage on the way", false, self.voltages()),
            some("fuses", "Fuses through time", false, self.fuses()),
            some("cases", "Devices and cases", false, self.cases()),
        ];
        if let Some(existing) = self.existing() {
            sections.push(some("existing", "Existing parts", false, existing));
        }
        sections.push(some("schedules", "Schedules", true, self.schedules()));
        match &self.dossier.stays {
            Stays::None => {}
            Stays::Forecast(forecast) => sections.push(some("stays", "Stays", true, stays::stays(forecast))),
            Stays::Unknown(why) => {
                let told = html! { p { "The stays of this plan could not be forecast: " (why) "." } };
                sections.push(some("stays", "Stays", false, told));
            }
        }
        if let Some(measured) = measured::measured(&self.dossier.commission.readings) {
            sections.push(some("measured", "Measured", true, measured));
        }
        sections.extend([
            some("commissioning", "Commissioning record", true, self.commissioning()),
            some("working", "Working", false, self.working()),
            some("assumptions", "Taken for granted", false, self.assumptions()),
            some("cautions", "Cautions", false, parts::cautions()),
        ]);
        sections
    }

    fn whole(&self, sections: &[Section]) -> Markup {
        let name = &self.plan.name;
        html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width,initial-scale=1";
                    meta name="generator" content=(format!("Loomwright {}", self.plan.engine_version));
                    title { (name) ": report" }
                    style { (PreEscaped(include_str!("page.css"))) (PreEscaped(style::sheet())) }
                }
                body {
                    header { (self.plate()) }
                    main {
                        nav aria-label="Contents" {
                            ol { @for section in sections { li { a href=(format!("#{}", section.id)) { (section.title) } } } }
                        }
                        div class="tools" {}
                        @for (at, section) in sections.iter().enumerate() {
                            section id=(section.id) class=[section.sheet.then_some("sheet")] aria-labelledby=(format!("{}-name", section.id)) {
                                h2 id=(format!("{}-name", section.id)) { span class="no" { (at + 1) } (section.title) }
                                div { (section.body) }
                            }
                        }
                    }
                    footer {
                        p class="small quiet" {
                            "Loomwright " (self.plan.engine_version) ". The same plan gives the same page. This is a computation, \
                            not an approval: local codes and the makers' instructions come first."
                        }
                    }
                    script { (PreEscaped(include_str!("page.js"))) }
                }
            }
        }
    }

    /// What a drawing has in its corner: what it is of, and whether it holds.
    fn plate(&self) -> Markup {
        let plan = &self.plan;
        let of = &self.dossier.judgement.installation;
        let count = |signal: Signal| plan.findings.iter().filter(|finding| finding.signal == signal).count();
        let holds = self.dossier.judgement.holds();
        let volts = crate::text::plain(of.system_voltage.value, 3);
        let remake = &self.dossier.commission.readings.remake;
        let ask = !remake.is_empty();
        let short: Vec<&str> = match &self.dossier.stays {
            Stays::Forecast(found) => {
                found.stays.iter().filter(|stay| !stay.lasts).map(|stay| stay.name.as_str()).collect()
            }
            _ => Vec::new(),
        };
        let cell = |label: &str, value: Markup| html! { div { span class="label" { (label) } (value) } };
        html! {
            div class="plate" {
                div class="wide" { span class="label" { "Plan" } h1 { (plan.name) } }
                div class={ "wide verdict " (if holds && !ask && short.is_empty() { "holds" } else { "fails" }) } {
                    @if holds { "The plan holds." } @else { "The plan does not hold: do not build it." }
                    @if !short.is_empty() { " Its batteries do not last " a href="#stays" { (short.join(", ")) } "." }
                    @if ask {
                        " By the readings, " a href="#measured" { "remake" } " before it is loaded again: "
                        (remake.join(", ")) "."
                    }
                    " "
                    span class="small quiet" {
                        (count(Signal::Danger)) " danger, " (count(Signal::Warning)) " warning, " (count(Signal::Caution))
                        " caution, " (count(Signal::Notice)) " notice"
                    }
                }
                (cell("Rule set", html! { (plan.practice) }))
                (cell("System", html! { (volts) " V" }))
                (cell("Operating cases", html! { (plan.cases.len()) }))
                (cell("Stays", match &self.dossier.stays {
                    Stays::None => html! { "none in the plan" },
                    Stays::Unknown(_) => html! { "could not be forecast" },
                    Stays::Forecast(forecast) => {
                        let short = forecast.stays.iter().filter(|stay| !stay.lasts).count();
                        let all = forecast.stays.len();
                        // Lasted in mean weather only would be half of the truth.
                        let chances = forecast.stays.iter().filter_map(|stay| stay.chance);
                        let least = chances.map(|[chance, _, _]| chance).fold(1.0, f64::min);
                        if short == 0 && least < 0.995 {
                            html! { (all) " of " (all) " lasted, in mean weather; the least sure in " (format!("{:.0}", 100.0 * least)) " % of samples" }
                        } else if short == 0 { html! { (all) " of " (all) " lasted" } }
                        else { html! { strong { (short) " of " (forecast.stays.len()) " not lasted" } } }
                    }
                }))
                (cell("Readings", match self.dossier.commission.readings.days.as_slice() {
                    [] => html! { "none yet" },
                    days => html! { (days.len()) @if days.len() == 1 { " day, " } @else { " days, " } (self.dossier.commission.readings.verdict) },
                }))
                (cell("Runs", html! { (plan.runs.len()) }))
            }
        }
    }

    /// Everything that anything on the page is cited from.
    fn sources(&self) -> BTreeSet<String> {
        let plan = &self.plan;
        let mut found: BTreeSet<String> = plan.findings.iter().map(|finding| finding.citation.clone()).collect();
        found.extend(plan.assumptions.iter().map(|one| one.source.clone()));
        found.extend(plan.fuses.iter().map(|sheet| sheet.source.clone()));
        if let Some(forecast) = self.forecast() {
            found.extend(forecast.assumptions.iter().map(|one| one.source.clone()));
            found.extend(forecast.findings.iter().map(|one| one.citation.clone()));
        }
        found.extend(self.workings().into_iter().flat_map(|(_, steps)| steps).map(|step| step.source));
        found.retain(|source| !source.is_empty());
        found
    }
}
