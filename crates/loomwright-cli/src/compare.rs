//! `loomwright compare`: an old plan against a new one.

use loomwright::finding::Verdict;
use loomwright::study::compare::{Comparison, DeviceChange, MaterialChange, RunChange, RunSide, compare};
use loomwright_draw::text::plain;

use crate::args::{CompareArguments, Format};
use crate::layout::{cautions, number, wrapped};
use crate::{Answer, Exit, plans};

/// The answer as printed; the exit status is that of the new plan.
pub(crate) fn answer(arguments: &CompareArguments) -> Answer {
    plans::as_asked(arguments.format, compared(arguments))
}

fn compared(arguments: &CompareArguments) -> Answer {
    let old = plans::judged(&arguments.old, arguments.format)?;
    let new = plans::judged(&arguments.new, arguments.format)?;
    let comparison = compare(&old, &new);
    let exit = if comparison.new.verdict == Verdict::Holds { Exit::Holds } else { Exit::Findings };
    let text = match arguments.format {
        Format::Text => printed(&comparison),
        Format::Json => plans::json(&comparison)?,
    };
    Ok((exit, text))
}

/// Two values with an arrow between, or the one that there is.
fn both(old: Option<String>, new: Option<String>) -> String {
    match (old, new) {
        (None, None) => "–".to_owned(),
        (Some(old), Some(new)) if old == new => new,
        // A part that is new, or gone, has one side only.
        (None, Some(one)) | (Some(one), None) => one,
        (old, new) => {
            format!("{} → {}", old.unwrap_or_default(), new.unwrap_or_default())
        }
    }
}

fn printed(comparison: &Comparison) -> String {
    let mut out = String::new();
    for (which, side) in [("old", &comparison.old), ("new", &comparison.new)] {
        let verdict = if side.verdict == Verdict::Holds { "holds" } else { "does not hold" };
        let [danger, warning, caution, notice] = side.findings;
        let counts = format!("{danger} danger, {warning} warning, {caution} caution, {notice} notice");
        out.push_str(&wrapped(&format!("{which}: {}: {verdict}. {counts}.", side.name), "", "     "));
        out.push('\n');
    }
    if !comparison.findings.is_empty() {
        out.push_str("\nFindings that come and go\n");
    }
    for finding in &comparison.findings {
        let text = format!(
            "{}: {} {}, {}: {}",
            finding.change,
            finding.signal.word(),
            finding.rule,
            finding.subject,
            finding.message
        );
        out.push_str(&wrapped(&text, "- ", "  "));
        out.push('\n');
    }
    runs(&comparison.runs, &mut out);
    devices(&comparison.devices, &mut out);
    let told: Vec<String> = comparison
        .headroom
        .iter()
        .map(|left| {
            let amperes = |value: Option<f64>| value.map(|value| format!("{} A", number(value, 3)));
            format!("{}, {}: {}", left.alternator, left.case, both(amperes(left.old_a), amperes(left.new_a)))
        })
        .collect();
    if !told.is_empty() {
        out.push_str("\nWhat alternators have left\n");
        told.iter().for_each(|line| out.push_str(&(wrapped(line, "  ", "    ") + "\n")));
    }
    let materials = &comparison.materials;
    let metal =
        |kg: f64| if kg > 0.0 { format!(": {} kg of metal in conductors", number(kg, 3)) } else { String::new() };
    materials_list(&format!("To add{}", metal(materials.add_metal_kg)), &materials.add, &mut out);
    materials_list(&format!("Freed{}", metal(materials.freed_metal_kg)), &materials.freed, &mut out);
    materials_list("Kept", &materials.kept, &mut out);
    cautions(&mut out);
    out
}

/// Runs that differ, with both sides; those that are the same are counted.
fn runs(all: &[RunChange], out: &mut String) {
    let same = all.iter().filter(|run| run.change == "same").count();
    out.push_str(&format!("\nRuns ({same} more are the same)\n"));
    for run in all.iter().filter(|run| run.change != "same") {
        out.push_str(&wrapped(&line(run), "  ", "      "));
        out.push('\n');
    }
}

fn line(run: &RunChange) -> String {
    let value = |pick: &dyn Fn(&RunSide) -> Option<String>| {
        both(run.old.as_ref().and_then(pick), run.new.as_ref().and_then(pick))
    };
    let told = [
        value(&|side| Some(side.size.clone())),
        format!("cut {}", value(&|side| Some(format!("{} m", number(side.cut_m, 3))))),
        Some(value(&|side| side.fuse.clone()))
            .filter(|fuse| fuse != "–")
            .map(|fuse| format!("fuse {fuse}"))
            .unwrap_or_default(),
        format!("bears {} times its load", value(&|side| side.ampacity_margin.map(|margin| number(margin, 2)))),
        value(&|side| side.temperature_c.map(|degrees| format!("{degrees:.0} °C"))),
        value(&|side| Some(format!("{:.0} mV", side.drop_v * 1e3))),
        value(&|side| Some(format!("{} W", number(side.loss_w, 2)))),
    ];
    let told: Vec<String> = told.into_iter().filter(|part| !part.is_empty()).collect();
    format!("{} {}: {}", run.name, run.change, told.join("; "))
}

fn devices(all: &[DeviceChange], out: &mut String) {
    out.push_str("\nDevices\n");
    for device in all {
        let volts = |value: Option<f64>| value.map(|volts| format!("{} V", number(volts, 4)));
        let amperes = |value: Option<f64>| value.map(|amperes| format!("{} A", number(amperes, 3)));
        let watts = |value: Option<f64>| value.map(|watts| format!("{} W", number(watts, 3)));
        let [old, new] = [device.old.as_ref(), device.new.as_ref()];
        let lowest =
            both(old.and_then(|side| volts(side.lowest_voltage_v)), new.and_then(|side| volts(side.lowest_voltage_v)));
        let most = both(old.and_then(|side| amperes(side.current_a)), new.and_then(|side| amperes(side.current_a)));
        let heat = both(old.and_then(|side| watts(side.heat_w)), new.and_then(|side| watts(side.heat_w)));
        let heat = if heat == "–" { String::new() } else { format!("; heat {heat}") };
        let text = format!("{} {} {}: lowest {lowest}; most {most}{heat}", device.device, device.name, device.change);
        out.push_str(&wrapped(&text, "  ", "      "));
        out.push('\n');
    }
}

fn materials_list(title: &str, materials: &[MaterialChange], out: &mut String) {
    if materials.is_empty() {
        return;
    }
    out.push_str(&format!("\n{title}\n"));
    for material in materials {
        let text = format!(
            "{} {}: {} {} (as sold {})",
            material.part,
            material.description,
            plain(material.quantity, 3),
            material.unit,
            plain(material.sold, 3)
        );
        out.push_str(&wrapped(&text, "- ", "  "));
        out.push('\n');
    }
}
