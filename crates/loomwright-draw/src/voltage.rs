//! Voltage along the way from a source to a consumer and back, in every case.

use loomwright::study::judge::{StopRecord, VoltagePathRecord};
use maud::{Markup, html};

use crate::chart::{Axis, Chart, Key, Sample, Scale, line, marker};
use crate::picture::Picture;
use crate::style::SMALL;
use crate::text::{fitted, number, plain, px, staggered, width};

const SIZE: (i32, i32) = (760, 320);
/// Cases with lines of their own: those of the largest drops.
const MOST_CASES: usize = 5;

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// Names of stops below the plane, in rows so that none lies over another.
fn names(chart: &Chart, stops: &[&StopRecord], from: f64) -> (Markup, f64) {
    let [left, _, right, below] = chart.plane;
    let spans: Vec<(f64, f64, f64, String)> = stops
        .iter()
        .enumerate()
        .map(|(at, stop)| {
            let (x, name) = (chart.at(count(at), 0.0).0, fitted(&stop.node, SMALL, 150.0));
            let wide = width(&name, SMALL);
            (x, (x - wide / 2.0).clamp(left - 40.0, (right + 18.0 - wide).max(left - 40.0)), wide, name)
        })
        .collect();
    let (rows, high) = staggered(spans.iter().map(|(_, start, wide, _)| (*start, *wide)));
    let placed: Vec<(f64, f64, f64, String, &&StopRecord)> = spans
        .into_iter()
        .zip(rows)
        .zip(stops)
        .map(|(((x, start, _, name), row), stop)| (x, start, from + 13.0 * count(row), name, stop))
        .collect();
    let markup = html! {
        @for (x, _, y, _, _) in &placed {
            path class="grid" d=(format!("M{} {}V{}", px(*x), px(below), px(*y + 2.0))) {}
        }
        @for (_, start, y, name, stop) in &placed {
            text class="small halo" x=(px(*start)) y=(px(*y + 11.0)) { title { (stop.node) } (name) }
        }
    };
    (markup, from + 13.0 * count(high) + 4.0)
}

/// The volts left between what goes out and what comes back, stop by stop: out along the positive conductors, back along the
/// negative ones.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let plan = read_plan(include_str!("../../loomwright/examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// let path = judgement.voltage_path("lamp").ok_or("it is fed")?;
/// assert!(loomwright_draw::voltage(&path).svg().contains("lamp"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn voltage(path: &VoltagePathRecord) -> Picture {
    let stops: Vec<&StopRecord> = path.out.iter().chain(&path.back).collect();
    let mut cases: Vec<_> = path.cases.iter().collect();
    cases.sort_by(|one, other| other.drop_v.total_cmp(&one.drop_v));
    let all = cases.len();
    cases.truncate(MOST_CASES);
    // Volts lost so far: on the way out below the source's positive, on the way back what the negative stands above it.
    let lost: Vec<Vec<(f64, f64)>> = cases
        .iter()
        .map(|case| {
            let source = case.out_v.first().copied().unwrap_or(0.0);
            let out = case.out_v.iter().map(|volts| source - volts);
            let at_load = case.out_v.last().copied().unwrap_or(0.0) - case.back_v.first().copied().unwrap_or(0.0);
            let back = case.back_v.iter().map(|volts| source - at_load - volts);
            out.chain(back).enumerate().map(|(at, lost)| (count(at), lost)).collect()
        })
        .collect();
    let values = lost.iter().flatten().map(|(_, lost)| *lost).chain(path.limit_v);
    let (least, most) = values.fold((0.0, 0.01), |(least, most): (f64, f64), one| (least.min(one), most.max(one)));
    let volts = |value: f64| if value == 0.0 { "0".to_owned() } else { plain(value, 3) };
    let last = count(stops.len().saturating_sub(1)).max(1.0);
    let x = Axis { title: "", scale: Scale::Even(0.0, last), ticks: 0, says: &|_| String::new() };
    let y =
        Axis { title: "volts lost on the way, V", scale: Scale::Even(least * 1.1, most * 1.1), ticks: 6, says: &volts };
    let chart = Chart::new(SIZE, 0.0, 62, &x, &y);
    let [left, top, right, below] = chart.plane;
    let (names, end) = names(&chart, &stops, below + 6.0);
    let consumer = chart.at(count(path.out.len()) - 0.5, 0.0).0;
    let mut key = Key::default();
    for (at, case) in cases.iter().enumerate() {
        let margin = case
            .margin
            .map_or_else(|| ", no limit of drop here".to_owned(), |margin| format!(", margin {}", number(margin, 3)));
        let told = format!("{}: {} A, {} V lost{margin}", case.case, plain(case.current_a, 3), plain(case.drop_v, 3));
        key.add(Sample::Marked, at + 1, told);
    }
    if let Some(limit) = path.limit_v {
        key.add(Sample::Limit, 0, format!("permitted, {} V", plain(limit, 3)));
    }
    let (key, end) = key.draw(left - 40.0, right, end);
    let body = html! {
        (chart.ground)
        (names)
        path class="rule dash" d=(format!("M{} {}V{}", px(consumer), px(top), px(below))) {}
        text class="small quiet" x=(px(consumer - 6.0)) y=(px(top + 10.0)) text-anchor="end" { "out" }
        text class="small quiet" x=(px(consumer + 6.0)) y=(px(top + 10.0)) { "back" }
        @if let Some(limit) = path.limit_v { path class="limit" d=(chart.path([(0.0, limit), (last, limit)])) {} }
        @for (at, values) in lost.iter().enumerate() {
            (line(&chart, values.iter().copied(), at + 1))
            @for (x, y) in values { (marker(chart.at(*x, *y), at + 1)) }
        }
        (key)
    };
    let way: Vec<&str> = stops.iter().map(|stop| stop.node.as_str()).collect();
    let worst = cases
        .first()
        .map_or_else(String::new, |case| format!(" Most is lost in {}: {} V.", case.case, plain(case.drop_v, 3)));
    let some = if all > cases.len() {
        format!(" The {} cases of {all} with the largest drops.", cases.len())
    } else {
        String::new()
    };
    let description = format!(
        "Volts lost from {} to {} and back, stop by stop: {}.{worst}{some}",
        path.source,
        path.consumer,
        way.join(", ")
    );
    Picture::new(
        format!("Volts lost from {} to {} and back", path.source, path.consumer),
        description,
        (f64::from(SIZE.0), end + 4.0),
        body,
    )
}
