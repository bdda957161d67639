//! `loomwright curve`: fuses and a conductor through time.

use loomwright::study::curve::{AgainstRecord, CurveQuery, CurveRecord, FuseCurveRecord, OpensRecord, Wire};

use crate::Exit;
use crate::args::{CurveArguments, PictureFormat};
use crate::layout::{number, plain, table, wrapped};

fn query(arguments: &CurveArguments) -> CurveQuery {
    let wire = arguments.conductor.map(|size| Wire {
        kind: arguments.kind,
        material: arguments.material,
        insulation: arguments.insulation,
        terminal: arguments.terminal_temperature,
        installation: arguments.install,
        load: arguments.load,
        ..Wire::new(size)
    });
    CurveQuery { fuses: arguments.fuses.clone(), ambient: arguments.ambient, wire, fault: arguments.fault }
}

/// The answer as printed; a conductor that none of the fuses is known to protect is a finding.
pub(crate) fn answer(arguments: &CurveArguments) -> Result<(Exit, String), String> {
    let record = query(arguments).record().map_err(|error| error.to_string())?;
    let protected = |against: &[AgainstRecord]| against.iter().any(|against| against.protects == Some(true));
    let holds = record.conductor.as_ref().is_none_or(|wire| protected(&wire.against));
    let exit = if holds { Exit::Holds } else { Exit::Findings };
    let text = match arguments.format {
        PictureFormat::Text => text(&record),
        PictureFormat::Json => serde_json::to_string_pretty(&record).map_err(|error| error.to_string())? + "\n",
        PictureFormat::Svg => loomwright_draw::curves(&record).svg(),
    };
    Ok((exit, text))
}

/// A time for people, in the unit that suits it.
fn time(seconds: f64) -> String {
    match seconds {
        long if long >= 48.0 * 3600.0 => format!("{} d", number(long / 86_400.0, 2)),
        long if long >= 2.0 * 3600.0 => format!("{} h", number(long / 3600.0, 2)),
        long if long >= 120.0 => format!("{} min", number(long / 60.0, 2)),
        short if short < 0.1 => format!("{} ms", number(1e3 * short, 2)),
        seconds => format!("{} s", number(seconds, 2)),
    }
}

/// Earliest and latest opening.
fn opens(fuse: &FuseCurveRecord, point: &OpensRecord) -> String {
    match (point.fastest_s, point.slowest_s) {
        (Some(fastest), Some(slowest)) => format!("{} to {}", time(fastest), time(slowest)),
        (Some(fastest), None) => format!("{} or never", time(fastest)),
        (None, Some(slowest)) => format!("up to {}", time(slowest)),
        (None, None) if fuse.fastest_known => "never".to_owned(),
        (None, None) => "perhaps never".to_owned(),
    }
}

fn text(record: &CurveRecord) -> String {
    let mut out = String::new();
    for fuse in &record.fuses {
        let conventional = fuse.conventional_a.map_or_else(|| "?".to_owned(), |amperes| number(amperes, 3));
        let known = fuse.known_up_to_a.map_or_else(String::new, |amperes| {
            format!(
                "; no limits are at hand above {} A, its times there are the most it could take",
                number(amperes, 3)
            )
        });
        let line = format!(
            "{} A {} ({}): every link opens from {conventional} A on{known}",
            plain(fuse.rating_a),
            fuse.family,
            fuse.title
        );
        out.push_str(&(wrapped(&line, "", "  ") + "\n"));
    }
    if let Some(wire) = &record.conductor {
        let line = format!(
            "{} {}, {} A before: bears {} A without end",
            wire.size,
            wire.installation,
            plain(wire.load_a),
            number(wire.ampacity_a, 3)
        );
        out.push_str(&(wrapped(&line, "", "  ") + "\n"));
    }
    out.push('\n');
    let mut head = vec!["A".to_owned()];
    head.extend(record.fuses.iter().map(|fuse| format!("{} A {}", plain(fuse.rating_a), fuse.family)));
    head.extend(record.conductor.iter().map(|_| "conductor bears".to_owned()));
    let currents = record.fuses.first().map_or(&[][..], |fuse| &fuse.points);
    let rows = currents.iter().enumerate().map(|(index, point)| {
        let mut row = vec![number(point.current_a, 3)];
        row.extend(
            record.fuses.iter().map(|fuse| fuse.points.get(index).map_or_else(String::new, |point| opens(fuse, point))),
        );
        row.extend(record.conductor.iter().map(|wire| {
            let bears = wire.points.get(index).and_then(|point| point.bears_s);
            bears.map_or_else(|| "for good".to_owned(), time)
        }));
        row
    });
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    out.push_str(&table(&head, rows.collect()));
    out.push('\n');
    for against in record.conductor.iter().flat_map(|wire| &wire.against) {
        let at = against.at_a.map_or_else(String::new, |at| format!(" at {} A", number(at, 3)));
        let times = against.time_margin.map_or_else(String::new, |margin| format!("{} times", number(margin, 3)));
        let line = match against.protects {
            Some(true) if against.time_margin.is_none() => {
                format!("{} protects the conductor, which bears all that it lets through for good.", against.fuse)
            }
            Some(true) => format!("{} protects the conductor, which bears {times} as long{at}.", against.fuse),
            Some(false) => {
                format!(
                    "{} does not protect the conductor, which bears {times} as long as it may take{at}.",
                    against.fuse
                )
            }
            None => format!(
                "{} cannot be judged{at}: the conductor bears {times} of the most it could take, and no closer limit is at hand.",
                against.fuse
            ),
        };
        out.push_str(&(wrapped(&line, "", "  ") + "\n"));
    }
    for pair in &record.discrimination {
        let line = match (pair.time_margin, pair.at_a) {
            (Some(margin), Some(_)) if margin >= 1.0 => format!(
                "{} opens before {} up to {} A: {} times as fast at the least.",
                pair.behind,
                pair.before,
                number(record.fault_a, 3),
                number(margin, 3)
            ),
            (Some(_), Some(at)) => {
                format!("{} may open before {}, worst at {} A.", pair.before, pair.behind, number(at, 3))
            }
            _ => format!(
                "Which of {} and {} opens first cannot be judged: a time is not at hand.",
                pair.before, pair.behind
            ),
        };
        out.push_str(&(wrapped(&line, "", "  ") + "\n"));
    }
    out.push_str("\nTaken for granted\n");
    let mut sources: Vec<&str> = record.fuses.iter().flat_map(|fuse| &fuse.sources).map(String::as_str).collect();
    sources.sort_unstable();
    sources.dedup();
    let sources = sources.into_iter().map(|source| format!("times: {source}"));
    for assumption in record.assumptions.iter().cloned().chain(sources) {
        out.push_str(&(wrapped(&assumption, "- ", "  ") + "\n"));
    }
    out.push_str("\nCautions\n");
    for caution in &record.cautions {
        out.push_str(&(wrapped(caution, "! ", "  ") + "\n"));
    }
    out
}
