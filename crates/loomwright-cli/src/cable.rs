//! `loomwright cable`: one circuit.

use loomwright::finding::Verdict;
use loomwright::study::cable::{
    CableQuery, CableRecord, CandidateRecord, Joints, Load, ReturnPath, Step, size, size_map,
};

use crate::Exit;
use crate::args::{CableArguments, PictureFormat, Return};
use crate::layout::{assumed, finding, floor, number, plain, table, wrapped};

fn query(arguments: &CableArguments) -> Result<CableQuery, String> {
    let load = match (arguments.current, arguments.power, arguments.lowest_voltage) {
        (Some(current), _, _) => Load::Current(current),
        (None, Some(power), Some(lowest_voltage)) => Load::Power { power, lowest_voltage },
        _ => return Err("give --current, or --power with --lowest-voltage".into()),
    };
    let return_path = match (arguments.return_path, arguments.chassis_resistance) {
        (Some(Return::Chassis), resistance) => Some(ReturnPath::Chassis(resistance)),
        (_, Some(_)) => return Err("--chassis-resistance goes with --return chassis".into()),
        (Some(Return::Conductor), None) => Some(ReturnPath::Conductor),
        (None, None) => None,
    };
    let stated = arguments.lugs.is_some() || arguments.screw_cages.is_some() || arguments.isolators.is_some();
    let joints = stated.then(|| Joints {
        lugs: arguments.lugs,
        screw_cages: arguments.screw_cages.unwrap_or(0),
        isolators: arguments.isolators.unwrap_or(0),
    });
    Ok(CableQuery {
        drop: arguments.drop,
        ambient: arguments.ambient,
        insulation: arguments.insulation,
        kind: arguments.kind,
        material: arguments.material,
        installation: arguments.install,
        together: arguments.together,
        bore: arguments.bore,
        duty: arguments.duty,
        return_path,
        joints,
        terminal_size: arguments.terminal,
        terminal_temperature: arguments.terminal_temperature,
        practice: arguments.practice,
        ..CableQuery::new(load, arguments.length, arguments.voltage)
    })
}

/// The answer as printed, and how the run ends.
pub(crate) fn answer(arguments: &CableArguments) -> Result<(Exit, String), String> {
    let sized = size(&query(arguments)?).map_err(|error| error.to_string())?;
    let record = sized.record(arguments.working);
    let exit = match record.verdict {
        Verdict::Holds => Exit::Holds,
        Verdict::DoesNotHold => Exit::Findings,
    };
    let text = match arguments.format {
        PictureFormat::Text => text(&record),
        PictureFormat::Json => serde_json::to_string_pretty(&record).map_err(|error| error.to_string())? + "\n",
        PictureFormat::Svg => {
            let map = size_map(&query(arguments)?).map_err(|error| error.to_string())?;
            loomwright_draw::sizes(&map).svg()
        }
    };
    Ok((exit, text))
}

fn text(record: &CableRecord) -> String {
    let mut out = String::new();
    match &record.chosen {
        Some(chosen) => {
            out.push_str(&fit(record, chosen));
            out.push_str(&at_work(record, chosen));
            out.push_str(&margins(chosen));
            out.push_str(&sizes(record, chosen));
        }
        None => {
            out.push_str("Nothing passes.\n");
            if let Some(closest) = &record.closest {
                out.push_str(&wrapped(
                    &format!("Closest: {}, whose margins are below.", described(record, closest)),
                    "",
                    "  ",
                ));
                out.push('\n');
                out.push_str(&margins(closest));
            }
        }
    }
    if !record.findings.is_empty() {
        out.push_str("\nFindings\n");
        record.findings.iter().for_each(|each| out.push_str(&finding(each)));
    }
    out.push_str("\nAssumed, because not stated\n");
    assumed(&record.assumptions, &mut out);
    if !record.working.is_empty() {
        out.push_str("\nWorking\n");
        record.working.iter().for_each(|step| out.push_str(&working(step)));
    }
    out.push_str("\nCautions\n");
    for caution in &record.cautions {
        out.push_str(&wrapped(caution, "! ", "  "));
        out.push('\n');
    }
    out
}

fn described(record: &CableRecord, candidate: &CandidateRecord) -> String {
    let parallel =
        if candidate.parallel > 1 { format!("{} in parallel of ", candidate.parallel) } else { String::new() };
    let area = if candidate.size.ends_with("mm²") {
        String::new()
    } else {
        format!(" ({} mm²)", number(candidate.csa_mm2, 3))
    };
    format!("{parallel}{}{area} {}, {}", candidate.size, record.material, record.kind_title)
}

/// What to buy and fit.
fn fit(record: &CableRecord, chosen: &CandidateRecord) -> String {
    let legs = if record.return_path == "chassis" { 1.0 } else { 2.0 };
    let metres = record.length_m * legs * f64::from(chosen.parallel);
    let length = plain(record.length_m);
    let line = format!(
        "{} m of {}, insulation {} °C: {}; {} kg of metal; add what trimming takes",
        plain(metres),
        described(record, chosen),
        plain(record.insulation_c),
        if legs > 1.0 {
            format!("two legs of {length} m one way")
        } else {
            format!("one leg of {length} m one way, return through the chassis")
        },
        number(chosen.conductor_mass_kg, 2)
    );
    let mut out = wrapped(&line, "Fit   ", "      ") + "\n";
    if let Some(fuse) = &chosen.fuse {
        let rated = fuse.rated_voltage_v.map_or_else(String::new, |rated| format!(", {} V", plain(rated)));
        let line = format!(
            "{} A {} ({}{rated}) at the source; carries {} A here without pause",
            plain(fuse.rating_a),
            fuse.family,
            fuse.title,
            number(fuse.continuous_a, 3)
        );
        out.push_str(&wrapped(&line, "Fuse  ", "      "));
        out.push('\n');
    }
    out
}

/// A value that may be absent.
fn maybe(value: Option<f64>, digits: usize, unit: &str) -> String {
    value.map_or_else(|| "–".into(), |value| format!("{} {unit}", number(value, digits)).trim_end().to_owned())
}

fn at_work(record: &CableRecord, chosen: &CandidateRecord) -> String {
    let first = format!(
        "At {} A in {} °C air: up to {} lost ({}), {} at the load; conductor {} of {} °C permitted; {} of heat.",
        plain(record.design_current_a),
        plain(record.ambient_c),
        maybe(chosen.drop_v, 3, "V"),
        maybe(chosen.drop_percent, 3, "%"),
        maybe(chosen.load_voltage_v, 4, "V"),
        maybe(chosen.conductor_temperature_c, 3, "°C"),
        plain(chosen.conductor_limit_c),
        maybe(chosen.loss_w, 3, "W"),
    );
    let second = format!(
        "This size bears {} A here by the {}. At {} A it may run {} m one way; at {} m it may carry {} A.",
        number(chosen.ampacity_a, 3),
        chosen.ampacity_governed_by,
        plain(record.design_current_a),
        floor(chosen.longest_run_m, 3),
        plain(record.length_m),
        floor(chosen.largest_current_a, 3),
    );
    let mut out = format!("\n{}\n{}\n", wrapped(&first, "", ""), wrapped(&second, "", ""));
    if let (Some(duty), Some(bears)) = (&record.duty, chosen.duty_ampacity_a) {
        let line = format!("For {duty} it bears {} A; the temperature is the highest of a cycle.", floor(bears, 3));
        out.push_str(&wrapped(&line, "", ""));
        out.push('\n');
    }
    if let [_, _, ..] = chosen.ampacity_candidates.as_slice() {
        let each: Vec<String> = chosen
            .ampacity_candidates
            .iter()
            .map(|candidate| format!("{} {} A", candidate.model, number(candidate.ampacity_a, 3)))
            .collect();
        out.push_str(&wrapped(&format!("The least of: {}.", each.join(", ")), "", ""));
        out.push('\n');
    }
    out
}

fn margins(candidate: &CandidateRecord) -> String {
    // Just fitting a terminal binds only when it fails.
    let counts = |rule: &str, passes: bool| {
        !passes || !matches!(rule, "terminal-accepts-conductor" | "smallest-conductor" | "conduit-holds-conductors")
    };
    let counted = candidate.margins.iter().filter(|margin| counts(margin.rule, margin.passes));
    let least = counted.map(|margin| margin.margin).fold(f64::INFINITY, f64::min);
    let rows = candidate
        .margins
        .iter()
        .map(|margin| {
            vec![
                margin.check.to_owned(),
                maybe(margin.measured, 3, margin.unit),
                format!("{} {}", number(margin.limit, 3), margin.unit),
                floor(margin.margin, 3),
                (if !margin.passes {
                    "fails"
                } else if margin.margin == least {
                    "passes, binding"
                } else {
                    "passes"
                })
                .to_owned(),
            ]
        })
        .collect();
    format!("\nMargins (1.00 just passes)\n{}", table(&["check", "found", "limit", "margin", ""], rows))
}

/// A rule in one word, where columns are narrow.
fn short(rule: &str) -> &str {
    match rule {
        "voltage-drop" => "drop",
        "fuse-protects-conductor" => "fuse",
        "terminal-accepts-conductor" => "terminal",
        "smallest-conductor" => "size",
        "conduit-holds-conductors" => "conduit",
        other => other,
    }
}

/// The chosen size between its neighbours.
fn sizes(record: &CableRecord, chosen: &CandidateRecord) -> String {
    let smaller = record.neighbours.iter().filter(|size| size.csa_mm2 < chosen.csa_mm2);
    let larger = record.neighbours.iter().filter(|size| size.csa_mm2 > chosen.csa_mm2);
    let row = |candidate: &CandidateRecord| {
        let size = if candidate.parallel > 1 {
            format!("{} × {}", candidate.parallel, candidate.size)
        } else {
            candidate.size.clone()
        };
        vec![
            size,
            maybe(candidate.drop_v, 3, ""),
            maybe(candidate.conductor_temperature_c, 3, ""),
            maybe(candidate.loss_w, 3, ""),
            number(candidate.ampacity_a, 3),
            floor(candidate.longest_run_m, 3),
            floor(candidate.largest_current_a, 3),
            if candidate.passes { "passes".into() } else { format!("fails {}", short(candidate.binding)) },
        ]
    };
    let rows = smaller.map(row).chain([row(chosen)]).chain(larger.map(row)).collect();
    let head = ["size", "drop V", "°C", "heat W", "bears A", "longest m", "largest A", ""];
    format!("\nThis size and its neighbours\n{}", table(&head, rows))
}

fn working(step: &Step) -> String {
    format!(
        "{}\n{}\n{}\n{}\n",
        wrapped(step.title, "", "  "),
        wrapped(step.formula, "    ", "      "),
        wrapped(&step.numbers, "    ", "      "),
        wrapped(&format!("[{}]", step.source), "    ", "      ")
    )
}
