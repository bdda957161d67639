//! `loomwright tolerance`: how surely a plan holds.

use loomwright::study::tolerance::{LimitRecord, Options, ToleranceRecord, tolerance};

use crate::args::{Format, ToleranceArguments};
use crate::layout::{assumed, cautions, cut, number, table_with_gap, wrapped};
use crate::{Answer, Exit, Refusal, plans};

/// Most limits that the text shows.
const SHOWN: usize = 20;

/// The answer as printed; a limit that is kept too seldom is a finding.
pub(crate) fn answer(arguments: &ToleranceArguments) -> Answer {
    plans::as_asked(arguments.format, found(arguments))
}

fn found(arguments: &ToleranceArguments) -> Answer {
    let judgement = plans::judged(&arguments.plan, arguments.format)?;
    let threads = arguments.threads.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from));
    let options = Options { samples: arguments.samples, seed: arguments.seed, threads, ..Options::default() };
    let record = tolerance(&judgement, &options).map_err(|error| Refusal::Message(error.to_string()))?.record();
    let exit = if record.holds { Exit::Holds } else { Exit::Findings };
    let text = match arguments.format {
        Format::Text => printed(&record),
        Format::Json => plans::json(&record)?,
    };
    Ok((exit, text))
}

/// A limit that a single case has is told with that case.
fn subject(limit: &LimitRecord) -> String {
    if limit.rule == "alternator-headroom" {
        return format!("{}, {}", limit.rule, limit.case);
    }
    format!("{}, {}", limit.rule, limit.subject)
}

fn printed(record: &ToleranceRecord) -> String {
    let verdict = if record.holds {
        "every limit is kept in 95 % of them or more"
    } else {
        "some limits fail, or are kept in fewer than 95 % of them"
    };
    let head = format!("{}: {} variants (seed {}); {verdict}.", record.name, record.samples, record.seed);
    let mut out = wrapped(&head, "", "") + "\n";
    let percent = |share: f64| {
        let hundredths = 100.0 * share;
        // What is not quite certain is not told as 100.
        if (99.95..100.0).contains(&hundredths) { ">99.9".to_owned() } else { format!("{hundredths:.1}") }
    };
    out.push_str("\nLimits, the one kept least often first (margins: 1.00 just passes)\n");
    let rows = record.limits.iter().take(SHOWN).map(|limit| {
        vec![
            cut(&subject(limit), 33),
            percent(limit.chance),
            format!("{}–{}", percent(limit.chance_low), percent(limit.chance_high)),
            number(limit.margin, 3),
            number(limit.fifth_percentile_margin, 3),
            number(limit.worst_corner_margin, 3),
            limit.moved_by.unwrap_or("–").to_owned(),
        ]
    });
    let head = ["limit", "kept %", "95 % int.", "plan", "5 %", "worst", "moved by"];
    out.push_str(&table_with_gap(&head, rows.collect(), 1));
    if let Some(rest) = record.limits.len().checked_sub(SHOWN).filter(|rest| *rest > 0) {
        out.push_str(&format!("  {rest} more are kept as often or more so; --format json lists all\n"));
    }
    out.push_str("\nTaken for granted\n");
    assumed(&record.assumptions, &mut out);
    cautions(&mut out);
    out
}
