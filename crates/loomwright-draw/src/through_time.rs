//! Fuses and a conductor through time, on double logarithmic paper.

use loomwright::study::curve::{BearsRecord, CurveRecord, OpensRecord};
use loomwright::study::judge::ThroughTimeRecord;
use maud::{Markup, html};

use crate::chart::{Axis, Chart, Key, Sample, Scale, area, line, marker};
use crate::picture::Picture;
use crate::text::plain;
use crate::uprights::{Upright, Uprights};

const SIZE: (i32, i32) = (760, 560);
/// From the shortest to the longest time.
const TIMES: (f64, f64) = (1e-3, 1e5);
/// Series of the fuses, in turn; the conductor has a line of its own.
const FUSES: [usize; 3] = [1, 3, 4];

/// What is drawn.
struct Curves<'a> {
    title: String,
    /// Name, times, and whether its earliest openings are at hand.
    fuses: Vec<(String, &'a [OpensRecord], bool)>,
    conductor: Option<(String, &'a [BearsRecord])>,
    uprights: Vec<Upright>,
    /// Name, current and length of starts.
    starts: Vec<(String, f64, f64)>,
    /// Where fuse and conductor come closest: current and ratio.
    closest: Option<(f64, f64)>,
}

/// A time as a tick says it.
fn seconds(time: f64) -> String {
    match time {
        short if short < 0.0999 => format!("{} ms", plain(1e3 * short, 2)),
        time if time < 9_999.0 => format!("{} s", plain(time, 3)),
        long => format!("{} h", plain(long / 3600.0, 2)),
    }
}

/// The current at which a fuse begins to open at all lies between the last that it carries for good and the first that it
/// opens on: its edge goes straight up there.
fn edge(points: &[OpensRecord], time: fn(&OpensRecord) -> Option<f64>) -> Vec<(f64, f64)> {
    let timed = points.iter().filter_map(|point| Some((point.current_a, time(point)?)));
    let mut edge: Vec<(f64, f64)> = timed.collect();
    if let Some(first) = edge.first().copied().filter(|first| first.1 < TIMES.1) {
        edge.insert(0, (first.0, TIMES.1));
    }
    edge
}

/// The part of a line within the times that are shown, straight on double logarithmic paper: what lies beyond them would
/// else run along the border, as if it were a time.
fn shown(values: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let inside = |time: f64| (TIMES.0..=TIMES.1).contains(&time);
    let mut line: Vec<(f64, f64)> = values.first().copied().filter(|first| inside(first.1)).into_iter().collect();
    for (near, far) in values.iter().zip(values.iter().skip(1)) {
        let crossing = |time: f64| {
            let share = (time / near.1).ln() / (far.1 / near.1).ln();
            (near.0 * (far.0 / near.0).powf(share), time)
        };
        let crossed = |time: &f64| (near.1 < *time) != (far.1 < *time) && near.1 != *time && far.1 != *time;
        let mut borders: Vec<f64> = [TIMES.1, TIMES.0].into_iter().filter(crossed).collect();
        if near.1 < far.1 {
            borders.reverse();
        }
        line.extend(borders.into_iter().map(crossing));
        line.extend(Some(*far).filter(|far| inside(far.1)));
    }
    line
}

fn draw(curves: Curves<'_>) -> Picture {
    let Curves { title, fuses, conductor, uprights, starts, closest } = curves;
    let currents = fuses
        .iter()
        .flat_map(|(_, points, _)| points.iter().map(|point| point.current_a))
        .chain(conductor.iter().flat_map(|(_, points)| points.iter().map(|point| point.current_a)))
        .chain(uprights.iter().map(|line| line.at))
        .chain(starts.iter().map(|start| start.1))
        .filter(|current| *current > 0.0);
    let (least, most) =
        currents.fold((f64::INFINITY, 0.0), |(least, most): (f64, f64), one| (least.min(one), most.max(one)));
    let (least, most) = if least < most { (least * 0.85, most * 1.15) } else { (1.0, 1000.0) };
    let amperes = |value: f64| plain(value, 3);
    let x = Axis { title: "current, A", scale: Scale::Decades(least, most), ticks: 40, says: &amperes };
    let y = Axis { title: "time", scale: Scale::Decades(TIMES.0, TIMES.1), ticks: 40, says: &seconds };
    let uprights = Uprights::new(&Chart::new(SIZE, 0.0, 62, &x, &y), uprights);
    let chart = Chart::new(SIZE, uprights.height, 62, &x, &y);
    let [left, _, right, foot] = chart.plane;
    let mut key = Key::default();
    let bands: Vec<Markup> = fuses
        .iter()
        .enumerate()
        .map(|(at, (name, points, fastest))| {
            let series = FUSES.get(at % FUSES.len()).copied().unwrap_or(1);
            let [slow, fast] =
                [edge(points, |point| point.slowest_s), edge(points, |point| point.fastest_s)].map(|one| shown(&one));
            key.add(
                if *fastest { Sample::Area } else { Sample::Line },
                series,
                if *fastest {
                    format!("{name}, earliest to latest opening")
                } else {
                    format!("{name}, latest opening")
                },
            );
            html! {
                @if *fastest && !fast.is_empty() && !slow.is_empty() {
                    (area(&chart, &slow, &fast, series)) (line(&chart, fast.iter().copied(), series))
                }
                (line(&chart, slow.iter().copied(), series))
            }
        })
        .collect();
    let bears = conductor.as_ref().map(|(name, points)| {
        let mut values: Vec<(f64, f64)> =
            points.iter().filter_map(|point| Some((point.current_a, point.bears_s?))).collect();
        // Somewhere after the last current that is borne for good: the line begins there, which is the cautious side.
        let for_good = points.iter().take_while(|point| point.bears_s.is_none()).last();
        if let (Some(last), Some(first)) = (for_good, values.first().copied().filter(|first| first.1 < TIMES.1)) {
            values.splice(0..0, [(last.current_a, TIMES.1), (last.current_a, first.1)]);
        }
        // Dashed as its series is: a fuse known by its latest opening alone is a whole line too.
        key.add(Sample::Line, 2, format!("{name} bears it so long"));
        line(&chart, shown(&values), 2)
    });
    if !starts.is_empty() {
        let names: Vec<String> = starts
            .iter()
            .map(|(name, current, time)| format!("{name}, {} A for {}", amperes(*current), seconds(*time)))
            .collect();
        key.add(Sample::Marker, 5, format!("starts: {}", names.join("; ")));
    }
    let (key, end) = key.draw(left, right, foot + 46.0);
    // Above that the search for the closest place has ended early.
    let told = closest.filter(|(_, ratio)| *ratio < 1.1).map_or_else(String::new, |(current, ratio)| {
        format!(
            " They come closest at {} A, where the conductor bears {} times the latest opening.",
            amperes(current),
            plain(ratio, 3)
        )
    });
    let names: Vec<&str> = fuses.iter().map(|(name, _, _)| name.as_str()).collect();
    let against =
        conductor.as_ref().map_or_else(String::new, |(name, _)| format!(" and how long {name} bears each current"));
    let description =
        format!("Opening times of {}{against}, over current, both axes logarithmic.{told}", names.join(", "));
    let body = html! {
        (chart.ground)
        @for band in &bands { (band) }
        @if let Some(bears) = bears { (bears) }
        (uprights.draw(0.0, foot))
        @for (_, current, time) in &starts { (marker(chart.at(*current, *time), 5)) }
        (key)
    };
    Picture::new(title, description, (f64::from(SIZE.0), end + 4.0), body)
}

/// Fuses and a conductor as they were asked for.
pub fn curves(found: &CurveRecord) -> Picture {
    let mut uprights =
        vec![Upright { at: found.fault_a, name: format!("fault {} A", plain(found.fault_a, 3)), class: "limit" }];
    if let Some(wire) = &found.conductor {
        uprights.push(Upright {
            at: wire.ampacity_a,
            name: format!("bears {} A", plain(wire.ampacity_a, 3)),
            class: "wire thin",
        });
        if wire.load_a > 0.0 {
            uprights.push(Upright {
                at: wire.load_a,
                name: format!("load {} A", plain(wire.load_a, 3)),
                class: "wire thin",
            });
        }
    }
    let fuses = found.fuses.iter().map(|fuse| {
        (format!("{} A {}", plain(fuse.rating_a, 3), fuse.family), fuse.line.as_slice(), fuse.fastest_known)
    });
    let against = found.conductor.as_ref().and_then(|wire| {
        wire.against
            .iter()
            .filter_map(|one| Some((one.at_a?, one.time_margin?)))
            .min_by(|one, other| one.1.total_cmp(&other.1))
    });
    let names: Vec<String> =
        found.fuses.iter().map(|fuse| format!("{} A {}", plain(fuse.rating_a, 3), fuse.family)).collect();
    draw(Curves {
        title: format!("Opening times of {}", names.join(", ")),
        fuses: fuses.collect(),
        conductor: found.conductor.as_ref().map(|wire| (wire.size.clone(), wire.line.as_slice())),
        uprights,
        starts: Vec::new(),
        closest: against,
    })
}

/// What protects a run of a plan, and what its conductor bears.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let plan = read_plan(include_str!("../../loomwright/examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// let found = (0..plan.runs.len()).find_map(|run| judgement.through_time(run)).ok_or("no fuse")?;
/// assert!(loomwright_draw::through_time(&found).svg().contains("<svg"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn through_time(found: &ThroughTimeRecord) -> Picture {
    let mut uprights = Vec::new();
    let mut upright = |at: Option<f64>, name: &str, class: &'static str| {
        if let Some(at) = at.filter(|at| *at > 0.0) {
            uprights.push(Upright { at, name: format!("{name} {} A", plain(at, 3)), class });
        }
    };
    upright(Some(found.load_a), "load", "wire thin");
    upright(found.ampacity_a, "bears", "wire thin");
    upright(found.fault_lowest_a, "lowest fault", "limit");
    upright(found.fault_highest_a, "highest fault", "limit");
    let fuses = found.fuses.iter().map(|fuse| (fuse.name.clone(), fuse.opens.as_slice(), fuse.fastest_known));
    draw(Curves {
        title: format!("Fuses and conductor of {} through time", found.run),
        fuses: fuses.filter(|(_, opens, _)| !opens.is_empty()).collect(),
        conductor: Some((found.conductor.clone(), found.bears.as_slice())),
        uprights,
        starts: found.starts.iter().map(|start| (start.load.clone(), start.current_a, start.time_s)).collect(),
        closest: found.closest_at_a.zip(found.time_margin),
    })
}

#[cfg(test)]
mod tests {
    use super::{TIMES, shown};

    #[test]
    fn what_lies_beyond_the_times_that_are_shown_is_cut_off_where_it_crosses() {
        let near = |one: &[(f64, f64)], other: &[(f64, f64)]| {
            one.len() == other.len()
                && one.iter().zip(other).all(|(a, b)| (a.0 / b.0 - 1.0).abs() < 1e-9 && (a.1 / b.1 - 1.0).abs() < 1e-9)
        };
        // Time falls with the square of the current: a decade of current for two of time.
        let steep = [(1.0, 1e7), (10.0, 1e5), (100.0, 1e3), (1e4, 1e-1), (1e6, 1e-5)];
        assert!(near(&shown(&steep), &[(10.0, 1e5), (100.0, 1e3), (1e4, 1e-1), (1e5, TIMES.0)]));
        assert!(near(&shown(&[(1.0, 1e7), (1e6, 1e-5)]), &[(10.0, TIMES.1), (1e5, TIMES.0)]));
        assert!(near(&shown(&[(1e6, 1e-5), (1e4, 1e-1)]), &[(1e5, TIMES.0), (1e4, 1e-1)]));
        // Upright from the border, and all of it beyond.
        assert!(near(&shown(&[(5.0, TIMES.1), (5.0, 10.0)]), &[(5.0, TIMES.1), (5.0, 10.0)]));
        assert!(shown(&[(1.0, 1e-4), (2.0, 1e-5)]).is_empty() && shown(&[]).is_empty());
    }
}
