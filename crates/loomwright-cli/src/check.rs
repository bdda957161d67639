//! `loomwright check`: a whole plan.

use loomwright::finding::{Signal, Verdict};
use loomwright::study::judge::{PlanRecord, RunRecord};
use loomwright::study::remedy::propose;

use crate::args::{CheckArguments, Format};
use crate::layout::{assumed, cautions, cut, finding, number, table, table_with_gap, wrapped};
use crate::screen::{self, Screen};
use crate::{Answer, Exit, plans};

/// The answer as printed, and how the run ends.
pub(crate) fn answer(arguments: &CheckArguments, screen: Screen) -> Answer {
    plans::as_asked(arguments.format, checked(arguments, screen))
}

fn checked(arguments: &CheckArguments, screen: Screen) -> Answer {
    let mut judgement = plans::judged(&arguments.plan, arguments.format)?;
    propose(&mut judgement);
    let record = judgement.record();
    let exit = match record.verdict {
        Verdict::Holds => Exit::Holds,
        Verdict::DoesNotHold => Exit::Findings,
    };
    let text = match arguments.format {
        Format::Text => report(&record, screen),
        Format::Json => plans::json(&record)?,
    };
    Ok((exit, text))
}

fn report(record: &PlanRecord, screen: Screen) -> String {
    let count = |signal: Signal| record.findings.iter().filter(|finding| finding.signal == signal).count();
    let verdict = if record.verdict == Verdict::Holds { "holds" } else { "does not hold" };
    let mut out = format!(
        "{}: {verdict}. {} danger, {} warning, {} caution, {} notice over {} cases (practice {}).",
        record.name,
        count(Signal::Danger),
        count(Signal::Warning),
        count(Signal::Caution),
        count(Signal::Notice),
        record.cases.len(),
        record.practice
    );
    out = wrapped(&out, "", "") + "\n";
    if !record.findings.is_empty() {
        out.push_str("\nFindings, worst first\n");
        record.findings.iter().for_each(|each| out.push_str(&finding(each)));
    }
    if screen == Screen::Pictures {
        out.push_str(&screen::margins(&record.checks));
    }
    out.push_str("\nRuns (size and fuse chosen here are marked *)\n");
    let rows = record.runs.iter().map(run).collect();
    out.push_str(&table_with_gap(&["run", "cut m", "size", "fuse A", "load A", "bears A", "°C", "mV"], rows, 1));
    out.push_str("\nDevices\n");
    let volts = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |value| format!("{} V", number(value, 4)));
    let rows = record
        .devices
        .iter()
        .map(|device| {
            vec![
                cut(&format!("{} {}", device.device, device.name), 30),
                device.current_a.map_or_else(|| "–".to_owned(), |current| format!("{} A", number(current, 3))),
                volts(device.highest_voltage_v),
                volts(device.lowest_voltage_v),
                device.lowest_case.clone().unwrap_or_default(),
            ]
        })
        .collect();
    out.push_str(&table(&["device", "most", "highest", "lowest", "in"], rows));
    for device in &record.devices {
        if let (Some(heat), Some(surface)) = (device.heat_w, device.free_surface_m2) {
            let text = format!(
                "{} sheds up to {} W: {} m² of free upright surface keep it 20 K above its air",
                device.name,
                number(heat, 3),
                number(surface, 2)
            );
            out.push_str(&wrapped(&text, "  ", "    "));
            out.push('\n');
        }
    }
    out.push_str("\nCases\n");
    for case in &record.cases {
        let alternators = case.alternators.iter().map(|one| {
            format!("; {} asked {} A of {} A", one.name, number(one.asked_a, 3), number(one.available_a, 3))
        });
        let outcome = if case.outcome == "none" { "no operating point" } else { "" };
        let heat = if outcome.is_empty() {
            let margin = case
                .stability_margin
                .map_or_else(String::new, |margin| format!("; constant power may grow {} times", number(margin, 3)));
            format!("{} W of heat in runs{margin}", number(case.loss_w, 3))
        } else {
            let share = case.load_factor.unwrap_or_default();
            format!("{outcome}; {} % of the constant power would be carried", number(100.0 * share, 3))
        };
        out.push_str(&wrapped(&format!("{}: {heat}{}", case.name, alternators.collect::<String>()), "  ", "    "));
        out.push('\n');
    }
    let boards = record.fault_levels.iter().filter(|level| level.busbar).map(|level| {
        let lowest = level.lowest_a.map_or_else(|| "–".to_owned(), |lowest| number(lowest, 3));
        vec![cut(&level.node, 30), number(level.highest_a, 3), lowest]
    });
    let boards: Vec<Vec<String>> = boards.collect();
    if !boards.is_empty() {
        out.push_str("\nProspective fault currents at busbars\n");
        out.push_str(&table(&["busbar", "highest A with its reserve", "lowest A"], boards));
    }
    if let Some(first) = record.fatten_first.first() {
        let gain = number(first.volts_per_kg, 2);
        let text = format!(
            "Tightest on voltage: {} ({}). More copper helps it most in {}: {gain} V per kg.",
            first.consumer, first.case, first.run
        );
        out.push_str(&format!("\n{}\n", wrapped(&text, "", "")));
    }
    if !record.limits.is_empty() || !record.fuses.is_empty() {
        out.push_str("\nSet by the plan itself\n");
    }
    for limit in &record.limits {
        out.push_str(&wrapped(&format!("{} {}, because: {}", limit.limit, limit.value, limit.reason), "- ", "  "));
        out.push('\n');
    }
    for sheet in &record.fuses {
        let like = format!("{} A, otherwise like {}", sheet.rating_a, sheet.like);
        out.push_str(&wrapped(&format!("{}: {like}, by {}", sheet.name, sheet.source), "- ", "  "));
        out.push('\n');
    }
    existing(record, &mut out);
    out.push_str("\nAssumed, because the plan does not say\n");
    assumed(&record.assumptions, &mut out);
    cautions(&mut out);
    out
}

/// What of an earlier system may stay, what must change, and what goes.
fn existing(record: &PlanRecord, out: &mut String) {
    if !record.existing.is_empty() {
        out.push_str("\nExisting parts\n");
    }
    for part in &record.existing {
        let told = match part.verdict {
            "may-stay" => "may stay as it is".to_owned(),
            "removed" => "is taken out".to_owned(),
            _ => format!("must change: {}", part.why.join("; ")),
        };
        out.push_str(&wrapped(&format!("{} ({}) {told}", part.name, part.part), "- ", "  "));
        out.push('\n');
    }
}

fn run(run: &RunRecord) -> Vec<String> {
    let mark = |chosen: bool| if chosen { "*" } else { "" };
    let fuse = match (run.fuse_family, run.fuse_rating_a) {
        (Some(family), Some(rating)) => format!("{}{}", cut(&format!("{rating} {family}"), 20), mark(run.fuse_chosen)),
        _ => "–".to_owned(),
    };
    vec![
        cut(&run.name, 20),
        number(run.cut_m, 3),
        format!("{}{}", run.size, mark(run.conductor_chosen)),
        fuse,
        number(run.current_a, 3),
        run.duty_ampacity_a.or(run.ampacity_a).map_or_else(|| "–".to_owned(), |ampacity| number(ampacity, 3)),
        run.conductor_temperature_c.map_or_else(|| ">250".to_owned(), |degrees| format!("{degrees:.0}")),
        format!("{:.0}", run.drop_v * 1e3),
    ]
}
