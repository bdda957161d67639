//! `loomwright reconcile --record`: everything that is handed over, in one document.

use loomwright::study::commission::{Commission, NO_INSPECTION, SIGNATURE, commission};
use loomwright::study::judge::Judgement;
use loomwright::study::remedy::propose;

use crate::args::Format;
use crate::layout::{assumed, finding, listed, wrapped};
use crate::readings::Told;
use crate::{Answer, Exit, inspect, plans, reconcile, schedule};

/// The record; a plan that does not hold is a finding of it too.
pub(crate) fn answer(mut judgement: Judgement, told: &Told, format: Format) -> Answer {
    propose(&mut judgement);
    let mut commission = commission(&judgement, &told.found);
    // With the lines that could not be read, and with the files.
    commission.readings = told.record.clone();
    let exit = if commission.holds { reconcile::exit(told) } else { Exit::Findings };
    let text = match format {
        Format::Text => printed(&commission),
        Format::Json => plans::json(&commission.record())?,
    };
    Ok((exit, text))
}

fn printed(commission: &Commission) -> String {
    let notice = wrapped(NO_INSPECTION, "", "");
    let mut out = format!("{notice}\n\nCommissioning record\n");
    out.push_str(&reconcile::headed(&commission.readings));
    let verdict = if commission.holds { "holds" } else { "does not hold" };
    let text = format!("Plan: {verdict} (practice {}).", commission.practice);
    out.push_str(&format!("\n{}\n", wrapped(&text, "", "")));
    if !commission.findings.is_empty() {
        out.push_str("\nFindings of the plan, worst first\n");
        commission.findings.iter().for_each(|each| out.push_str(&finding(each)));
    }
    reconcile::days(&commission.readings, true, &mut out);
    reconcile::taken(&commission.readings, &mut out);
    for sheet in [&commission.settings, &commission.terminals] {
        schedule::printed(sheet.name.title(), sheet, &mut out);
    }
    inspect::energising(&commission.before_energising, &mut out);
    out.push_str("\nInspection\n");
    inspect::printed(&commission.inspection, &mut out);
    out.push_str("\nAssumed, because the plan does not say\n");
    assumed(&commission.plan_assumptions, &mut out);
    listed("Cautions", "! ", &commission.readings.cautions, &mut out);
    out.push('\n');
    for line in SIGNATURE {
        out.push_str(&format!("{:<9}{}\n", format!("{line}:"), "_".repeat(40)));
    }
    out.push_str(&format!("\n{notice}\n"));
    out
}
