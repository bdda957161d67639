//! `loomwright inspect`: what to look at, tighten and measure, and how soon again.

use std::io::Write;

use loomwright::quantity::uom::si::{electric_potential::millivolt, torque::newton_meter};
use loomwright::study::inspect::{
    Due, Inspection, Item, Step, Wiring, before_energising, inspect, steps_record, steps_sheet,
};
use loomwright::study::judge::Judgement;

use crate::args::{Format, InspectArguments, SheetFormat};
use crate::layout::{all_cautions, listed, number, wrapped};
use crate::{Answer, Exit, plans, readings, reconcile, schedule};

/// The answer as printed; a plan that does not hold, and what must be remade now, are findings.
pub(crate) fn answer(arguments: &InspectArguments, errors: &mut dyn Write) -> Answer {
    let format = if arguments.format == SheetFormat::Json { Format::Json } else { Format::Text };
    plans::as_asked(format, answered(arguments, format, errors))
}

fn answered(arguments: &InspectArguments, format: Format, errors: &mut dyn Write) -> Answer {
    readings::one_input(&arguments.plan, &arguments.readings)?;
    let judgement = plans::judged(&arguments.plan, format)?;
    let holds = if judgement.holds() { Exit::Holds } else { Exit::Findings };
    if arguments.before_energising {
        let steps = before_energising(&judgement, Wiring::of(&judgement.installation));
        let text = match arguments.format {
            SheetFormat::Json => {
                let sheet = steps_sheet(&steps);
                let record = serde_json::json!({
                    "format": 1,
                    "engine_version": env!("CARGO_PKG_VERSION"),
                    "name": judgement.installation.name,
                    "plan_verdict": if judgement.holds() { "holds" } else { "does-not-hold" },
                    "steps": steps_record(&steps),
                    "notes": sheet.notes,
                });
                plans::json(&record)?
            }
            SheetFormat::Csv => schedule::separated(&steps_sheet(&steps))?,
            SheetFormat::Text => {
                let mut out = standing(&judgement);
                energising(&steps, &mut out);
                all_cautions(&mut out);
                out
            }
        };
        return Ok((holds, text));
    }
    let told = if arguments.readings.is_empty() {
        None
    } else {
        Some(readings::told(&judgement, &arguments.readings, format, errors)?)
    };
    let seen = told.as_ref().map(|told| told.found.seen()).unwrap_or_default();
    let inspection = inspect(&judgement, &seen);
    let now = inspection.items.iter().any(|item| item.due.now);
    let worst = told.as_ref().map_or(Exit::Holds, reconcile::exit);
    let exit = if now || worst == Exit::Findings { Exit::Findings } else { holds };
    let text = match arguments.format {
        SheetFormat::Json => plans::json(&inspection.record())?,
        SheetFormat::Csv => schedule::separated(&inspection.sheet())?,
        SheetFormat::Text => {
            let mut out = match &told {
                Some(told) => reconcile::headed(&told.record),
                None => standing(&judgement) + "No readings: nothing was measured yet, or --readings is missing.\n",
            };
            printed(&inspection, &mut out);
            if let Some(told) = &told {
                reconcile::taken(&told.record, &mut out);
            }
            all_cautions(&mut out);
            out
        }
    };
    Ok((exit, text))
}

fn standing(judgement: &Judgement) -> String {
    let plan = &judgement.installation;
    if judgement.holds() {
        return wrapped(&format!("{} (practice {}).", plan.name, plan.practice), "", "") + "\n";
    }
    let text =
        format!("{}: the plan DOES NOT HOLD (practice {}); mend what `check` finds first.", plan.name, plan.practice);
    wrapped(&text, "", "") + "\n"
}

/// The steps, numbered, each with its parts and why.
pub(crate) fn energising(steps: &[Step], out: &mut String) {
    let sheet = steps_sheet(steps);
    out.push_str(&format!("\n{}\n", sheet.name));
    for (index, step) in steps.iter().enumerate() {
        let mark = format!("{:>2}. ", index + 1);
        for (text, first) in [(format!("{}.", step.does), mark.as_str()), (format!("why: {}", step.why), "    ")] {
            out.push_str(&wrapped(&text, first, "    "));
            out.push('\n');
        }
        out.push_str(&wrapped(&step.parts.join("; "), "    of: ", "        "));
        out.push('\n');
    }
    let mut by: Vec<String> = steps.iter().map(|step| format!("by {}", step.source)).collect();
    by.dedup();
    listed("Read with it", "- ", sheet.notes.into_iter().chain(by), out);
}

/// When a turn comes, in words.
fn turn(due: &Due) -> String {
    if due.now {
        return "NOW: open, look, and remake what is bad before it is loaded again".to_owned();
    }
    if due.months == 1 { "Every month".to_owned() } else { format!("Every {} months", due.months) }
}

/// Items by turn, the most pressing first, then by their reasons.
pub(crate) fn printed(inspection: &Inspection, out: &mut String) {
    let key = |item: &Item| {
        // Whatever made its interval short no longer matters.
        let (months, reasons) =
            if item.due.now { (0, Vec::new()) } else { (item.due.months, item.due.reasons.clone()) };
        (months, reasons)
    };
    let mut keys: Vec<_> = inspection.items.iter().map(key).collect();
    keys.sort();
    keys.dedup();
    for wanted in keys {
        let of: Vec<&Item> = inspection.items.iter().filter(|item| key(item) == wanted).collect();
        let Some(due) = of.first().map(|item| &item.due) else { continue };
        out.push('\n');
        let reasons = if due.now { "by the last readings".to_owned() } else { due.reasons.join("; ") };
        out.push_str(&wrapped(&format!("{} ({reasons})", turn(due)), "", "  "));
        out.push('\n');
        for item in of {
            out.push_str(&wrapped(&told(item), "- ", "  "));
            out.push('\n');
        }
    }
    let sheet = inspection.sheet();
    let place = sheet.columns.iter().position(|column| column.key == "growth");
    let growth = sheet.rows.iter().filter_map(|row| match row.get(place?) {
        Some(loomwright::study::schedule::Cell::Text(text)) => Some(text.clone()),
        _ => None,
    });
    listed("How it has gone since it was first measured", "- ", growth, out);
    listed("Read with it", "- ", sheet.notes, out);
}

fn told(item: &Item) -> String {
    let mut text = format!("{} {}", item.what, item.name);
    if item.due.first && !item.due.now {
        text.push_str(" (first after 1 month or 50 h of running)");
    }
    text.push_str(&format!(": {}", item.look));
    let torque = item.torque.map(|torque| torque.map(|torque| number(torque.get::<newton_meter>(), 3)));
    match torque {
        [Some(one), Some(most)] if one != most => text.push_str(&format!("; {one} to {most} N m ({})", item.tighten)),
        [Some(one), _] => text.push_str(&format!("; {one} N m ({})", item.tighten)),
        _ if !item.tighten.is_empty() => text.push_str(&format!("; torque: {}", item.tighten)),
        _ => {}
    }
    if let Some(expected) = &item.expected {
        let (drop, at) = (number(expected.drop.get::<millivolt>(), 3), number(expected.current.value, 3));
        text.push_str(&format!("; {drop} mV at {at} A in {}", expected.case));
    }
    if let Some(last) = item.due.last {
        text.push_str(&format!("; measured {last}"));
    }
    if let Some(next) = item.due.next.filter(|_| !item.due.now) {
        text.push_str(&format!(", again by {next}"));
    }
    text
}
