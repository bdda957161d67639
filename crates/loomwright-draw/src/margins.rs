//! Every check of a plan with its margin on one scale, and how hot every conductor gets.

use loomwright::finding::Signal;
use loomwright::study::judge::{CheckRecord, PlanRecord};
use maud::{Markup, html};

use crate::chart::Scale;
use crate::picture::Picture;
use crate::rows::{Row, Rows};
use crate::text::{number, plain, prefix, px};

/// The scale of margins: what is beyond it stands at its end.
const SCALE: (f64, f64) = (0.25, 8.0);

/// A margin as people say it.
fn times(margin: f64) -> String {
    if margin >= 100.0 { "100 and more".to_owned() } else { number(margin, 3) }
}

/// What a check says at the right of its row.
fn says(check: &CheckRecord) -> String {
    let numbers = match (check.measured, check.limit) {
        (Some(measured), Some(limit)) => {
            let (by, prefix) = prefix(measured.abs().max(limit.abs()));
            format!(" · {} of {} {prefix}{}", plain(measured / by, 3), plain(limit / by, 3), check.unit)
        }
        _ => String::new(),
    };
    format!("{}{numbers}", times(check.margin))
}

/// The class of a bar by its signal, which also has a form of its own.
fn class(signal: Option<Signal>) -> &'static str {
    match signal {
        Some(Signal::Danger) => "tag-danger",
        Some(Signal::Warning) => "tag-warning",
        Some(Signal::Caution) => "tag-caution",
        _ => "f1",
    }
}

/// Whether a check fails. What is below 1 with a caution does not: it could not be judged, or is to be known.
fn fails(check: &CheckRecord) -> bool {
    check.margin < 1.0 - 1e-9 && !matches!(check.signal, Some(Signal::Caution | Signal::Notice))
}

/// The margins of a plan, worst first: all of them, or so many.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let plan = read_plan(include_str!("../../loomwright/examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// let picture = loomwright_draw::margins(&judgement.record(), 10);
/// assert!(picture.svg().contains("limit"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn margins(plan: &PlanRecord, most: usize) -> Picture {
    let shown: Vec<&CheckRecord> = plan.checks.iter().take(most).collect();
    let rows: Vec<Row> = shown
        .iter()
        .map(|check| Row { name: format!("{}, {}", check.subject, check.rule), says: says(check) })
        .collect();
    let tick = |value: f64| plain(value, 3);
    let foot = "Cross: fails. Ring: a caution or notice; it passes narrowly or cannot be judged. Bars end at 0.25 and 8, however far they go.";
    let rows = Rows::new(&rows, foot, "margin: 1 just passes", Scale::Decades(SCALE.0, SCALE.1), &tick);
    let bar = |at: usize, check: &CheckRecord| -> Markup {
        let (one, end) = (rows.x(1.0), rows.x(check.margin));
        let (left, right) = if end < one { (end, one) } else { (one, end) };
        let y = rows.middle(at);
        html! {
            rect class=(class(check.signal)) x=(px(left)) y=(px(y - 4.0)) width=(px((right - left).max(1.5))) height="8" {
                title { (check.subject) ", " (check.rule) @if let Some(case) = &check.case { " (" (case) ")" } ": " (says(check)) }
            }
            // Told apart without colour: what fails has a cross at its end, what is narrow or could not be judged a ring.
            @if fails(check) { path class="wire" d=(format!("M{} {}l6 6m0 -6l-6 6", px(end - 3.0), px(y - 3.0))) {} }
            @else if check.signal.is_some() { circle class="body" cx=(px(end)) cy=(px(y)) r="3" {} }
        }
    };
    let failing = plan.checks.iter().filter(|check| fails(check)).count();
    let below = plan.checks.iter().filter(|check| check.margin < 1.0 - 1e-9 && !fails(check)).count();
    let below =
        if below == 0 { String::new() } else { format!(" (cross), {below} below 1 are cautions or notices (ring)") };
    let worst =
        shown.iter().take(5).map(|check| format!("{} of {} {}", check.rule, check.subject, times(check.margin)));
    let description = format!(
        "{} of {} checks, worst first, each with its margin on a logarithmic scale; {failing} fail{below}. The least: {}.",
        shown.len(),
        plan.checks.len(),
        worst.collect::<Vec<_>>().join(", ")
    );
    let body = html! {
        (rows.ground)
        @for (at, check) in shown.iter().enumerate() { (bar(at, check)) }
        (rows.upright(1.0, "limit"))
    };
    Picture::new(format!("Margins of {}", plan.name), description, rows.size, body)
}

/// How hot each conductor gets between the air around it and what it bears, the nearest to its limit first.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let plan = read_plan(include_str!("../../loomwright/examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// assert!(loomwright_draw::temperatures(&judgement.record()).svg().contains("<svg"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn temperatures(plan: &PlanRecord) -> Picture {
    let mut runs: Vec<_> = plan.runs.iter().filter_map(|run| Some((run, run.conductor_temperature_c?))).collect();
    let left = |(run, at): &(&loomwright::study::judge::RunRecord, f64)| run.limit_c - at;
    runs.sort_by(|one, other| left(one).total_cmp(&left(other)));
    let rows: Vec<Row> = runs
        .iter()
        .map(|(run, at)| Row {
            name: format!("{}, {}", run.name, run.size),
            says: format!("{at:.0} of {:.0} °C", run.limit_c),
        })
        .collect();
    let coldest = plan.runs.iter().map(|run| run.ambient_c).fold(40.0, f64::min);
    let hottest = runs.iter().map(|(run, at)| run.limit_c.max(*at)).fold(80.0, f64::max);
    let scale = Scale::Even((coldest / 10.0).floor() * 10.0, (hottest / 10.0).ceil() * 10.0);
    let foot = "From the hottest air around it (stroke) to the conductor (dot), and what insulation and terminals permit (bar).";
    let rows = Rows::new(&rows, foot, "temperature, °C", scale, &|value| plain(value, 3));
    let body = html! {
        (rows.ground)
        @for (at, (run, hot)) in runs.iter().enumerate() {
            @let y = rows.middle(at);
            path class="s1 whole" d=(format!("M{} {}H{}", px(rows.x(run.ambient_c)), px(y), px(rows.x(*hot)))) {}
            path class="wire thin" d=(format!("M{} {}v8", px(rows.x(run.ambient_c)), px(y - 4.0))) {}
            circle class="f1" cx=(px(rows.x(*hot))) cy=(px(y)) r="3.6" {}
            path class="s2 whole" d=(format!("M{} {}v10", px(rows.x(run.limit_c)), px(y - 5.0))) {}
        }
    };
    let near = runs.iter().take(3).map(|(run, at)| format!("{} at {at:.0} of {:.0} °C", run.name, run.limit_c));
    let description = format!(
        "For each of {} runs: from the hottest air around it (stroke) to its conductor (dot), and what insulation and \
         terminals permit (bar). Nearest to the limit: {}.",
        runs.len(),
        near.collect::<Vec<_>>().join(", ")
    );
    Picture::new(format!("Conductor temperatures of {}", plan.name), description, rows.size, body)
}
