//! What the judged plan shows: findings, pictures, runs, devices, schedules, assumptions.

use loomwright::finding::Signal;
use loomwright::study::judge::{RunRecord, ThroughTimeRecord};
use loomwright::study::schedule::schedule;
use maud::{Markup, html};

use super::Page;
use super::parts::{figure, finding, sentence, titled};
use super::table::{Told, notes, sheet, table};
use crate::text::plain;

/// Margins in the picture; the table below has all.
const WORST: usize = 30;
/// Ways and curves that are open from the start.
const OPEN: usize = 3;

impl Page<'_> {
    pub(super) fn findings(&self) -> Markup {
        html! {
            @if self.plan.findings.is_empty() { p { "Nothing was found: every check passes with 10 % or more." } }
            @else {
                (self.first_remedies())
                p class="small quiet about" {
                    "Margin: how many times over a limit is kept; at 1 it just passes, below 1 it does not. The diagram marks \
                    findings by their tags, such as " (self.tags.first().map_or("", String::as_str)) "."
                }
            }
            @for (one, tag) in self.plan.findings.iter().zip(&self.tags) {
                (finding(one, tag, Some(format!("finding-{tag}"))))
            }
        }
    }

    /// What fails in a line each, with the first thing that would mend it: on paper all of it is on the first sheet.
    fn first_remedies(&self) -> Markup {
        let failing = || {
            let all = self.plan.findings.iter().zip(&self.tags);
            all.filter(|(one, _)| matches!(one.signal, Signal::Danger | Signal::Warning))
        };
        html! {
            @if failing().next().is_some() {
                h3 { "What to change" }
                ul class="first" {
                    @for (one, tag) in failing() {
                        li {
                            a href=(format!("#finding-{tag}")) { (tag) } " " b { (one.subject) } ": "
                            @if let Some(remedy) = one.remedies.first() { (remedy) }
                            @else { (sentence(&one.message)) " Nothing that would pass was found." }
                        }
                    }
                }
                p class="small quiet" {
                    "The first thing that would mend each, confirmed for that finding alone; others may ask for more. Change the plan \
                    and judge it again before building."
                }
            }
        }
    }

    pub(super) fn diagram(&self) -> Markup {
        let sheets = crate::diagram_sheets(&self.dossier.judgement);
        html! {
            @for (at, sheet) in (1..).zip(&sheets) {
                (titled(sheet, &format!("diagram-picture-{at}"), at > 1))
            }
        }
    }

    pub(super) fn margins(&self) -> Markup {
        let rows: Vec<Vec<Told>> = self
            .plan
            .checks
            .iter()
            .map(|check| {
                vec![
                    check.subject.clone().into(),
                    check.rule.into(),
                    check.case.clone().unwrap_or_default().into(),
                    Told::three(check.measured),
                    Told::three(check.limit),
                    check.unit.into(),
                    Told::three(Some(check.margin)),
                    check.signal.map_or("", |signal| signal.word()).into(),
                ]
            })
            .collect();
        let heads = ["of", "check", "worst in", "#found", "#limit", "unit", "#margin", "signal"];
        html! {
            p {
                "Every check with its margin, worst first: how many times over its limit is kept. A bar to the left of 1 does not keep \
                it; a cross fails, a ring is narrow or could not be judged. Bars end at the edges of the scale; the number at the \
                right does not."
            }
            (figure(&crate::margins(&self.plan, WORST), "margins-picture"))
            details { summary { "All " (rows.len()) " checks, worst first" } (table("Every check with its margin", &heads, &rows)) }
            p {
                "How hot each conductor gets: from the hottest air around it (left stroke) to the metal (dot); the upright bar is what \
                insulation and terminals permit."
            }
            (figure(&crate::temperatures(&self.plan), "temperatures-picture"))
        }
    }

    pub(super) fn runs(&self) -> Markup {
        let mark = |chosen: bool| if chosen { "*" } else { "" };
        let row = |run: &RunRecord| -> Vec<Told> {
            let fuse = match (run.fuse_family, run.fuse_rating_a) {
                (Some(family), Some(rating)) => format!("{} A {family}{}", plain(rating, 3), mark(run.fuse_chosen)),
                _ => "–".to_owned(),
            };
            vec![
                run.name.clone().into(),
                run.from.clone().into(),
                run.to.clone().into(),
                format!("{}{}", run.size, mark(run.conductor_chosen)).into(),
                fuse.into(),
                Told::three(Some(run.cut_m)),
                Told::three(Some(run.current_a)),
                run.current_set_by.clone().into(),
                Told::three(run.duty_ampacity_a.or(run.ampacity_a)),
                Told::Number(run.conductor_temperature_c.map_or_else(|| "> 250".to_owned(), |at| format!("{at:.0}"))),
                Told::Number(format!("{:.0}", run.drop_v * 1e3)),
            ]
        };
        let rows: Vec<Vec<Told>> = self.plan.runs.iter().map(row).collect();
        let heads = ["run", "from", "to", "size", "fuse", "#cut m", "#load A", "set by", "#bears A", "#°C", "#mV"];
        html! {
            (table("Every run at the current that it is judged at", &heads, &rows))
            p class="small quiet" { "* chosen here. How each number comes about stands under " a href="#working" { "Working" } "." }
        }
    }

    pub(super) fn voltages(&self) -> Markup {
        let paths = self.dossier.judgement.voltage_paths();
        html! {
            p { "Volts lost stop by stop on the way from the source to a consumer and back, the one with least margin first. \
                A line that ends above the permitted drop fails, unless no limit holds in that case, as in the moment of a start." }
            @for (at, path) in paths.iter().enumerate() {
                @let picture = crate::voltage(path);
                details open[at < OPEN] { summary { (path.consumer) } (figure(&picture, &format!("voltage-{at}"))) }
            }
        }
    }

    pub(super) fn fuses(&self) -> Markup {
        let mut runs: Vec<ThroughTimeRecord> =
            (0..self.plan.runs.len()).filter_map(|run| self.dossier.judgement.through_time(run)).collect();
        let margin = |one: &ThroughTimeRecord| one.time_margin.unwrap_or(f64::INFINITY);
        runs.sort_by(|one, other| margin(one).total_cmp(&margin(other)));
        html! {
            p { "When the fuses of a run open, and how long its conductor bears each current; the least margin first. \
                Where the fuse's line lies below the conductor's, it opens before the conductor is harmed." }
            @for (at, run) in runs.iter().enumerate() {
                @let picture = crate::through_time(run);
                details open[at < 1] {
                    summary { (run.run) ", " (run.conductor) @if let Some(margin) = run.time_margin { ": margin " (plain(margin, 3)) } }
                    (figure(&picture, &format!("through-time-{at}")))
                }
            }
        }
    }

    pub(super) fn cases(&self) -> Markup {
        let device = |one: &loomwright::study::judge::DeviceRecord| -> Vec<Told> {
            vec![
                one.name.clone().into(),
                one.device.into(),
                Told::three(one.current_a),
                Told::Number(one.highest_voltage_v.map_or_else(|| "–".to_owned(), |volts| plain(volts, 4))),
                Told::Number(one.lowest_voltage_v.map_or_else(|| "–".to_owned(), |volts| plain(volts, 4))),
                one.lowest_case.clone().unwrap_or_default().into(),
                Told::three(one.heat_w),
                Told::three(one.short_circuit_peak_a),
            ]
        };
        let devices: Vec<Vec<Told>> = self.plan.devices.iter().map(device).collect();
        let heads =
            ["device", "kind", "#most A", "#highest V", "#lowest V", "lowest in", "#heat W", "#short circuit A"];
        let cases: Vec<Vec<Told>> = self
            .plan
            .cases
            .iter()
            .map(|case| {
                let alternators = case.alternators.iter().map(|one| {
                    format!("{} asked {} A of {} A", one.name, plain(one.asked_a, 3), plain(one.available_a, 3))
                });
                vec![
                    case.name.clone().into(),
                    if case.outcome == "none" { "no operating point" } else { "solved" }.into(),
                    Told::three(Some(case.loss_w)),
                    Told::three(case.stability_margin),
                    alternators.collect::<Vec<_>>().join("; ").into(),
                ]
            })
            .collect();
        let case_heads = ["case", "outcome", "#heat in runs W", "#constant power may grow", "alternators"];
        let levels: Vec<Vec<Told>> = self
            .plan
            .fault_levels
            .iter()
            .filter(|level| level.busbar)
            .map(|level| {
                vec![level.node.clone().into(), Told::three(Some(level.highest_a)), Told::three(level.lowest_a)]
            })
            .collect();
        html! {
            (table("Devices over all cases", &heads, &devices))
            (table("Operating cases", &case_heads, &cases))
            @if !levels.is_empty() {
                (table("Prospective fault currents at busbars", &["busbar", "#highest A, with its reserve", "#lowest A"], &levels))
            }
            @for case in &self.plan.cases {
                details {
                    summary { "Case " (case.name) ": every voltage and current" }
                    div class="pair" {
                    (table(&format!("{}: nodes", case.name), &["node", "#V"], &case.nodes.iter().map(|node| vec![
                        node.name.clone().into(),
                        Told::Number(node.voltage_v.map_or_else(|| "–".to_owned(), |volts| plain(volts, 5))),
                    ]).collect::<Vec<_>>()))
                    (table(&format!("{}: runs", case.name), &["run", "#A", "#°C", "#W"], &case.runs.iter().map(|run| vec![
                        run.name.clone().into(),
                        Told::three(Some(run.current_a)),
                        Told::Number(run.temperature_c.map_or_else(|| "–".to_owned(), |at| format!("{at:.0}"))),
                        Told::three(Some(run.loss_w)),
                    ]).collect::<Vec<_>>()))
                    }
                }
            }
        }
    }

    pub(super) fn existing(&self) -> Option<Markup> {
        let told = |verdict: &str| match verdict {
            "may-stay" => "may stay as it is".to_owned(),
            "removed" => "is taken out".to_owned(),
            _ => "must change".to_owned(),
        };
        let rows: Vec<Vec<Told>> = self
            .plan
            .existing
            .iter()
            .map(|part| {
                vec![part.name.clone().into(), part.part.into(), told(part.verdict).into(), part.why.join("; ").into()]
            })
            .collect();
        (!rows.is_empty()).then(|| table("Parts of the earlier system", &["part", "kind", "verdict", "why"], &rows))
    }

    pub(super) fn schedules(&self) -> Markup {
        let schedule = schedule(&self.dossier.judgement);
        html! {
            @if !schedule.holds { p { strong { "The plan does not hold: do not build from these sheets before it does." } } }
            @for one in &schedule.sheets { (sheet(one.name.title(), one)) }
        }
    }

    pub(super) fn assumptions(&self) -> Markup {
        let plan = &self.plan;
        let cited = |text: &str, source: &str| format!("{text} [{source}]");
        let of_plan: Vec<String> = plan.assumptions.iter().map(|one| cited(&one.text, &one.source)).collect();
        let limits: Vec<String> = plan
            .limits
            .iter()
            .map(|limit| format!("{} {}, because: {}", limit.limit, limit.value, limit.reason))
            .collect();
        let sheets: Vec<String> = plan
            .fuses
            .iter()
            .map(|one| {
                format!("{}: {} A, otherwise like {}, by {}", one.name, plain(one.rating_a, 3), one.like, one.source)
            })
            .collect();
        let forecast: Vec<String> = self
            .forecast()
            .map(|found| found.assumptions.iter().map(|one| cited(&one.text, &one.source)).collect())
            .unwrap_or_default();
        let readings = &self.dossier.commission.readings;
        let measured: Vec<&str> = if readings.days.is_empty() {
            Vec::new()
        } else {
            readings.assumptions.iter().map(String::as_str).chain([readings.noise_law]).collect()
        };
        html! {
            @if !limits.is_empty() { h3 { "Set by the plan itself" } (notes(&limits)) }
            @if !sheets.is_empty() { h3 { "Protective devices by their makers' sheets" } (notes(&sheets)) }
            h3 { "Assumed, because the plan does not say" }
            (notes(&of_plan))
            @if !forecast.is_empty() { h3 { "Of the stays" } (notes(&forecast)) }
            @if !measured.is_empty() { h3 { "Of the readings" } (notes(&measured)) }
        }
    }
}
