//! `loomwright check`: a whole plan.

use std::io::Read as _;
use std::path::Path;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use loomwright::finding::{Signal, Verdict};
use loomwright::study::judge::{PlanRecord, RunRecord, judge};
use loomwright::study::remedy::propose;
use loomwright::text::{LARGEST_PLAN, PlanError, read_plan};

use crate::args::{CheckArguments, Format};
use crate::layout::{cut, finding, number, table, table_with_gap, wrapped};
use crate::{Answer, Exit, Refusal};

fn read(path: &Path) -> Result<String, Refusal> {
    let unreadable = |error: std::io::Error| Refusal::Message(format!("{} could not be read: {error}", path.display()));
    let mut bytes = Vec::new();
    // One byte more than is accepted tells that there is too much, without reading it all.
    let most = u64::try_from(LARGEST_PLAN).unwrap_or(u64::MAX) + 1;
    if path == Path::new("-") {
        std::io::stdin().lock().take(most).read_to_end(&mut bytes).map_err(unreadable)?;
    } else {
        std::fs::File::open(path).and_then(|file| file.take(most).read_to_end(&mut bytes)).map_err(unreadable)?;
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        Refusal::Message(format!("{} is not UTF-8 text: the byte at {at} does not belong", path.display()))
    })
}

/// The answer as printed, and how the run ends. Whoever asks for JSON gets refusals as JSON too.
pub(crate) fn answer(arguments: &CheckArguments) -> Answer {
    judged(arguments).map_err(|refusal| match (refusal, arguments.format) {
        (Refusal::Message(message), Format::Json) => {
            let report = serde_json::json!({ "format": 1, "errors": [{ "message": message }] });
            Refusal::Report(format!("{report:#}\n"))
        }
        (refusal, _) => refusal,
    })
}

fn judged(arguments: &CheckArguments) -> Answer {
    let text = read(&arguments.plan)?;
    let name = if arguments.plan == Path::new("-") {
        "standard input".to_owned()
    } else {
        arguments.plan.display().to_string()
    };
    let plan = read_plan(&text).map_err(|errors| mistakes(&text, &name, &errors, arguments.format))?;
    let mut judgement = judge(&plan).map_err(|error| Refusal::Message(error.to_string()))?;
    propose(&mut judgement);
    let record = judgement.record();
    let exit = match record.verdict {
        Verdict::Holds => Exit::Holds,
        Verdict::DoesNotHold => Exit::Findings,
    };
    let text = match arguments.format {
        Format::Text => report(&record),
        Format::Json => {
            serde_json::to_string_pretty(&record).map_err(|error| Refusal::Message(error.to_string()))? + "\n"
        }
    };
    Ok((exit, text))
}

/// Every mistake of a plan file at its place.
fn mistakes(text: &str, name: &str, errors: &[PlanError], format: Format) -> Refusal {
    if format == Format::Json {
        let report = serde_json::json!({ "format": 1, "errors": errors });
        return Refusal::Report(format!("{report:#}\n"));
    }
    let renderer = Renderer::styled();
    let mut out = String::new();
    for error in errors {
        let start = error.span.start.min(text.len());
        let end = error.span.end.clamp(start, text.len());
        let snippet =
            Snippet::source(text).line_start(1).path(name).annotation(AnnotationKind::Primary.span(start..end));
        let title =
            if error.key.is_empty() { error.message.clone() } else { format!("{}: {}", error.key, error.message) };
        let title = wrapped(&title, "       ", "       ").replace("\n       ", "\n").trim_start().to_owned();
        let group = Group::with_title(Level::ERROR.primary_title(title)).element(snippet);
        out.push_str(&renderer.render(&[group]));
        out.push('\n');
    }
    let count = errors.len();
    let mistakes = if count == 1 { "one mistake" } else { "mistakes" };
    let all = if count == 1 {
        format!("{mistakes} in {name}; nothing was judged")
    } else {
        format!("{count} {mistakes} in {name}; nothing was judged")
    };
    out.push_str(&all);
    out.push('\n');
    Refusal::Report(out)
}

fn report(record: &PlanRecord) -> String {
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
    out.push_str("\nAssumed, because the plan does not say\n");
    for assumption in &record.assumptions {
        out.push_str(&wrapped(&format!("{} [{}]", assumption.text, assumption.source), "- ", "  "));
        out.push('\n');
    }
    out.push_str("\nCautions\n");
    for caution in loomwright::study::cautions() {
        out.push_str(&wrapped(caution, "! ", "  "));
        out.push('\n');
    }
    out
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
