//! `loomwright forecast`: does it last the stay, and does it fill on the drive?

use std::collections::BTreeMap;
use std::io::{IsTerminal as _, Write as _};
use std::sync::atomic::{AtomicUsize, Ordering};

use loomwright::quantity::{Ratio, Time};
use loomwright::study::forecast::{
    BankRecord, DayRecord, EnergyRecord, ForecastRecord, Options, SizedRecord, StayRecord, forecast,
};

use crate::args::{ForecastArguments, Format, SheetFormat};
use crate::files::{harmless, separated};
use crate::layout::{assumed, cautions, finding, number, table_with_gap, wrapped};
use crate::screen::{self, Screen};
use crate::{Answer, Exit, Refusal, plans};

/// Longest stay that is told day by day; longer ones are told by months.
const MOST_DAYS: usize = 45;
/// Samples from which on the way is told.
const LONG: usize = 500;

/// The answer as printed; a stay that is not lasted is a finding.
pub(crate) fn answer(arguments: &ForecastArguments, screen: Screen) -> Answer {
    let format = if arguments.format == SheetFormat::Json { Format::Json } else { Format::Text };
    plans::as_asked(format, forecasted(arguments, format, screen))
}

fn forecasted(arguments: &ForecastArguments, format: Format, screen: Screen) -> Answer {
    let pictures = screen == Screen::Pictures && arguments.format == SheetFormat::Text;
    let judgement = plans::judged(&arguments.plan, format)?;
    let weather = arguments.weather.as_deref().map(|path| plans::weather(path, format)).transpose()?;
    let threads = arguments.threads.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from));
    let done = AtomicUsize::new(0);
    let told = || progress(done.fetch_add(1, Ordering::Relaxed) + 1, arguments.samples);
    let shown = arguments.samples >= LONG && std::io::stderr().is_terminal();
    let options = Options {
        stay: arguments.stay.as_deref(),
        steps_per_day: steps_per_day(arguments.step)?,
        weather: weather.as_ref(),
        samples: arguments.samples,
        seed: arguments.seed,
        threads,
        level: arguments.level.unwrap_or_else(|| Ratio::from(0.8)),
        size: arguments.size,
        // A strip shows what a day hides.
        series: arguments.series || pictures || arguments.format == SheetFormat::Csv,
        told: shown.then_some(&told),
    };
    let found = forecast(&judgement, &options);
    if shown {
        let _ = writeln!(std::io::stderr());
    }
    let record = found.map_err(|error| Refusal::Message(error.to_string()))?.record(&options);
    let holds = record.verdict == loomwright::finding::Verdict::Holds;
    let text = match arguments.format {
        SheetFormat::Text => printed(&record, pictures),
        SheetFormat::Json => plans::json(&record)?,
        SheetFormat::Csv => series(&record)?,
    };
    Ok((if holds { Exit::Holds } else { Exit::Findings }, text))
}

/// On a terminal only, over itself.
fn progress(done: usize, of: usize) {
    if done.is_multiple_of((of / 100).max(1)) {
        let _ = write!(std::io::stderr(), "\r{done} of {of} samples");
    }
}

fn steps_per_day(step: Option<Time>) -> Result<u32, Refusal> {
    let Some(step) = step else { return Ok(Options::default().steps_per_day) };
    let found = loomwright::study::forecast::STEPS_PER_DAY
        .into_iter()
        .find(|steps| (step.value * f64::from(*steps) - 86_400.0).abs() < 1e-6);
    found.ok_or_else(|| Refusal::Message("steps of 1, 2, 5, 10, 15, 30 or 60 min are taken, such as 15min".to_owned()))
}

fn percent(share: f64) -> String {
    format!("{:.0}", 100.0 * share)
}

fn energy(wh: f64) -> String {
    if wh.abs() >= 10_000.0 { format!("{} kWh", number(wh / 1000.0, 3)) } else { format!("{wh:.0} Wh") }
}

fn printed(record: &ForecastRecord, pictures: bool) -> String {
    let failed: Vec<&str> = record.stays.iter().filter(|stay| !stay.lasts).map(|stay| stay.name.as_str()).collect();
    let verdict = match (failed.as_slice(), record.stays.len()) {
        ([], 1) => "the stay is lasted".to_owned(),
        ([], count) => format!("all {count} stays are lasted"),
        (failed, _) => format!("NOT LASTED: {}", failed.join(", ")),
    };
    let steps: Vec<String> = record.stays.iter().map(|stay| stay.step_min.to_string()).collect();
    let steps = if steps.iter().all(|step| steps.first() == Some(step)) { steps.first().cloned() } else { None };
    let steps = steps.map_or_else(String::new, |step| format!(" (steps of {step} min)"));
    let head = format!("{}: {verdict}{steps}.", record.name);
    let mut out = wrapped(&head, "", "") + "\n";
    if !record.plan_holds {
        out.push_str("The wiring itself DOES NOT HOLD; do not build it before `check` is clean.\n");
    }
    for stay in &record.stays {
        told(stay, pictures, &mut out);
    }
    if !record.findings.is_empty() {
        out.push_str("\nFindings\n");
        record.findings.iter().for_each(|one| out.push_str(&finding(one)));
    }
    if !record.unfed.is_empty() {
        let text = format!("hang on no battery and are left out: {}", record.unfed.join(", "));
        out.push_str(&format!("\n{}\n", wrapped(&text, "", "  ")));
    }
    out.push_str("\nTaken for granted\n");
    assumed(&record.assumptions, &mut out);
    cautions(&mut out);
    out
}

fn told(stay: &StayRecord, pictures: bool, out: &mut String) {
    let lasts = if stay.lasts { "lasts" } else { "DOES NOT LAST" };
    let mut head = format!("{}, at {}, {} to {}: {lasts}", stay.name, stay.place, stay.from, stay.to);
    if let (Some([chance, low, high]), Some(samples), Some(seed)) = (stay.chance, stay.samples, stay.seed) {
        head.push_str(&format!(
            "; in {} % of {samples} samples (95 %: {} to {} %, seed {seed})",
            number(100.0 * chance, 3),
            number(100.0 * low, 3),
            number(100.0 * high, 3)
        ));
    }
    out.push_str(&format!("\n{}\n", wrapped(&head, "", "  ")));
    for bank in &stay.banks {
        bank_told(bank, stay.level, pictures, out);
    }
    for one in &stay.couplings {
        let text = format!(
            "{}: closed for {} h; {} passed on, {} came back, {} A at most",
            one.name,
            number(one.closed_h, 3),
            energy(one.forward_wh),
            energy(one.back_wh),
            number(one.most_a, 3)
        );
        out.push_str(&format!("{}\n", wrapped(&text, "  ", "    ")));
    }
    for one in &stay.sized {
        out.push_str(&format!("{}\n", wrapped(&sized(one), "  ", "    ")));
    }
}

fn sized(one: &SizedRecord) -> String {
    let SizedRecord { bank, size, now, needed, unit } = one;
    match (needed, now) {
        (Some(needed), Some(now)) => format!(
            "{bank}: {} {unit} of {size} is the least that lasts the stay; {} {unit} is planned",
            number(*needed, 3),
            number(*now, 3)
        ),
        (Some(needed), None) => format!("{bank}: {} {unit} is the best share of the panels", number(*needed, 3)),
        (None, _) => format!("{bank}: fifty times the {size} planned does not last the stay"),
    }
}

fn bank_told(bank: &BankRecord, level: f64, pictures: bool, out: &mut String) {
    let head = format!(
        "{} ({}, {} Ah), floor {} %",
        bank.name,
        bank.chemistry,
        number(bank.capacity_ah, 3),
        percent(bank.floor)
    );
    out.push_str(&format!("{}\n", wrapped(&head, "  ", "    ")));
    let mut line = |name: &str, text: String| {
        out.push_str(&format!("{}\n", wrapped(&text, &format!("    {name:10} "), &" ".repeat(15))));
    };
    line(
        "charge",
        format!(
            "from {} to {} %, lowest {} % on {}; {} full discharges a year",
            percent(bank.start_charge),
            percent(bank.end_charge),
            percent(bank.lowest_charge),
            bank.lowest_at.get(..16).unwrap_or(&bank.lowest_at).replace('T', " "),
            number(bank.cycles_per_year, 2)
        ),
    );
    if !bank.arrays.is_empty() {
        let arrays =
            bank.arrays.iter().map(|one| format!("{} ({} W) by {}", one.name, number(one.power_w, 3), one.controller));
        line("panels", arrays.collect::<Vec<_>>().join(", "));
    }
    let of = &bank.energies;
    let came = [
        ("sun", of.sun_wh),
        ("engine", of.engine_wh + of.charger_wh),
        ("shore", of.shore_wh),
        ("battery that it is joined to", -of.coupled_wh),
    ];
    let came: Vec<String> =
        came.iter().filter(|(_, wh)| *wh >= 0.5).map(|(name, wh)| format!("{} from the {name}", energy(*wh))).collect();
    line("came in", if came.is_empty() { "nothing".to_owned() } else { came.join(", ") });
    let mut went = vec![format!("{} to loads", energy(of.used_wh))];
    let others = [
        ("lost on the way to them", of.converted_wh),
        ("to other batteries", of.onward_wh + of.coupled_wh.max(0.0)),
        ("lost in the battery", of.lost_wh),
    ];
    went.extend(others.iter().filter(|(_, wh)| *wh >= 0.5).map(|(name, wh)| format!("{} {name}", energy(*wh))));
    line("went out", went.join(", "));
    let left = [("found the battery full", of.unused_wh), ("was more than its controller passes", of.clipped_wh)];
    let left: Vec<String> =
        left.iter().filter(|(_, wh)| *wh >= 0.5).map(|(name, wh)| format!("{} {name}", energy(*wh))).collect();
    if !left.is_empty() {
        line("sun left", left.join(", "));
    }
    let hours = |hours: f64| {
        if hours >= 72.0 { format!("{} days", number(hours / 24.0, 2)) } else { format!("{} h", number(hours, 2)) }
    };
    let mut alone = Vec::new();
    if let Some(time) = bank.autonomy_h {
        alone.push(format!("from full it lasts {} with every source off", hours(time)));
    }
    if let Some(full) = bank.drive_to_full_h.filter(|_| !bank.is_starter) {
        let level = bank
            .drive_to_level_h
            .map_or_else(String::new, |time| format!("{} of driving to {} % and ", hours(time), percent(level)));
        alone.push(format!("from its floor it takes {level}{} to full", hours(full)));
    }
    if !alone.is_empty() {
        line("by itself", alone.join("; "));
    }
    if pictures {
        out.push_str(&screen::charge(bank));
    }
    if of.used_wh + of.unserved_wh >= 0.5 {
        out.push_str(&days(&bank.days));
    }
}

/// Day by day, or month by month.
fn days(days: &[DayRecord]) -> String {
    let banded = days.iter().any(|day| day.end_charge_band.is_some());
    let by_month = days.len() > MOST_DAYS;
    let mut head = vec![
        if by_month { "  month" } else { "  day" },
        "sun Wh",
        "engine",
        "shore",
        "used",
        "short",
        "lowest %",
        "end %",
    ];
    if banded && !by_month {
        head.push("10 to 90 %");
    }
    let row = |name: &str, group: &[&DayRecord]| {
        let sum = |of: fn(&EnergyRecord) -> f64| {
            let sum: f64 = group.iter().map(|day| of(&day.energies)).sum();
            if sum.abs() < 0.5 { "–".to_owned() } else { format!("{sum:.0}") }
        };
        let lowest = group.iter().map(|day| day.lowest_charge).fold(1.0, f64::min);
        let end = group.last().map_or(0.0, |day| day.end_charge);
        let mut cells = vec![
            format!("  {name}"),
            sum(|of| of.sun_wh),
            sum(|of| of.engine_wh + of.charger_wh),
            sum(|of| of.shore_wh),
            sum(|of| of.used_wh),
            sum(|of| of.unserved_wh),
            percent(lowest),
            percent(end),
        ];
        if let Some([tenth, _, ninetieth]) = group.last().and_then(|day| day.end_charge_band).filter(|_| !by_month) {
            cells.push(format!("{} to {}", percent(tenth), percent(ninetieth)));
        }
        cells
    };
    let rows = if by_month {
        let mut months: BTreeMap<&str, Vec<&DayRecord>> = BTreeMap::new();
        for day in days {
            let month = day.date.get(..7).unwrap_or(&day.date);
            months.entry(month).or_default().push(day);
        }
        months.into_iter().map(|(month, group)| row(month, &group)).collect()
    } else {
        days.iter().map(|day| row(&day.date, &[day])).collect()
    };
    table_with_gap(&head, rows, 1)
}

/// Every step of every bank as comma-separated values.
fn series(record: &ForecastRecord) -> Result<String, Refusal> {
    let head = ["stay", "bank", "at", "charge", "voltage_v", "sun_w", "engine_w", "shore_w", "used_w", "unserved_w"];
    let banks = record.stays.iter().flat_map(|stay| stay.banks.iter().map(move |bank| (stay, bank)));
    let rows = banks.flat_map(|(stay, bank)| {
        bank.steps.iter().map(move |step| {
            let names = [harmless(&stay.name), harmless(&bank.name), step.at.clone()];
            let numbers =
                [step.charge, step.voltage_v, step.sun_w, step.engine_w, step.shore_w, step.used_w, step.unserved_w];
            names.into_iter().chain(numbers.map(|number| number.to_string())).collect()
        })
    });
    separated(head.into_iter(), rows)
}
