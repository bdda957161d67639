//! Measured against planned: every piece of a way with the interval of its resistance, every reading with what it is off.

use loomwright::study::reconcile::{DayRecord, ReadingRecord, ReconcileRecord, SegmentRecord};
use maud::{Markup, html};

use crate::chart::Scale;
use crate::picture::Picture;
use crate::rows::{Row, Rows};
use crate::text::{plain, px};

fn on(day: &DayRecord) -> String {
    day.date.as_ref().map_or_else(String::new, |date| format!(", {date}"))
}

/// A whisker along a row.
fn whisker(rows: &Rows, y: f64, (low, high): (f64, f64), class: &str) -> Markup {
    let (left, right) = (rows.x(low), rows.x(high));
    let path = format!(
        "M{} {y}H{}M{} {}v6M{} {}v6",
        px(left),
        px(right),
        px(left),
        px(y - 3.0),
        px(right),
        px(y - 3.0),
        y = px(y)
    );
    html! { path class=(class) d=(path) {} }
}

/// The resistance of every piece as measured, on the last day of the readings, against the range that was planned.
pub fn joints(found: &ReconcileRecord) -> Option<Picture> {
    let day = found.days.iter().rev().find(|day| !day.segments.is_empty())?;
    let pieces: Vec<&SegmentRecord> = day.segments.iter().collect();
    let rows: Vec<Row> = pieces
        .iter()
        .map(|piece| Row {
            name: piece.name.clone(),
            says: format!("{} ± {} mΩ  {}", plain(piece.measured_mohm, 3), plain(piece.within_mohm, 2), piece.verdict),
        })
        .collect();
    let ends = |piece: &&SegmentRecord| {
        [piece.planned_mohm[0], piece.planned_mohm[2], piece.measured_mohm + piece.within_mohm]
    };
    let positive = || pieces.iter().flat_map(ends).filter(|value| *value > 0.0);
    let decade = |value: f64, up: bool| 10.0_f64.powf(if up { value.log10().ceil() } else { value.log10().floor() });
    let least = decade(positive().fold(1.0, f64::min).max(0.001), false);
    let most = decade(positive().fold(least * 10.0, f64::max), true);
    let foot = "Band: what was planned, with its nominal value. Whisker: 95 % interval as measured. Square: to be watched or remade.";
    let rows = Rows::new(&rows, foot, "resistance, mΩ", Scale::Decades(least, most), &|value| plain(value, 3));
    let body = html! {
        (rows.ground)
        @for (at, piece) in pieces.iter().enumerate() {
            @let y = rows.middle(at);
            @let (low, high) = (rows.x(piece.planned_mohm[0]), rows.x(piece.planned_mohm[2]));
            @let off = matches!(piece.verdict, "remake" | "watch");
            rect class="veil f3" x=(px(low)) y=(px(y - 5.0)) width=(px((high - low).max(2.0))) height="10" {}
            path class="wire thin" d=(format!("M{} {}v10", px(rows.x(piece.planned_mohm[1])), px(y - 5.0))) {}
            (whisker(&rows, y, (piece.measured_mohm - piece.within_mohm, piece.measured_mohm + piece.within_mohm), if off { "s2 mark" } else { "s1 mark" }))
            @if off { rect class="f2" x=(px(rows.x(piece.measured_mohm) - 3.5)) y=(px(y - 3.5)) width="7" height="7" {} }
            @else { circle class="f1" cx=(px(rows.x(piece.measured_mohm))) cy=(px(y)) r="3.4" {} }
        }
    };
    let told = |verdict: &str| pieces.iter().filter(|piece| piece.verdict == verdict).count();
    let description = format!(
        "{} pieces, worst first: what was planned (band, nominal stroke) and what was measured with its 95 % interval \
         (marker with whisker; a square is to be watched or remade). To be remade: {}; to be watched: {}.",
        pieces.len(),
        told("remake"),
        told("watch")
    );
    Some(Picture::new(format!("Joints and conductors of {}{}", found.name, on(day)), description, rows.size, body))
}

/// How far a reading is off, its doubt, and what the plan may be off, each over the last of these.
struct Off<'a> {
    day: &'a DayRecord,
    reading: &'a ReadingRecord,
    off: f64,
    within: f64,
    says: String,
}

fn off<'a>(day: &'a DayRecord, reading: &'a ReadingRecord) -> Option<Off<'a>> {
    let ([measured, within, planned, tolerance, _, _], unit) = reading.numbers.as_ref()?.all();
    let off = measured - planned;
    let says = format!(
        "{}{} ± {} {unit}{}",
        if off < 0.0 { "−" } else { "+" },
        plain(off.abs(), 2),
        plain(within, 2),
        if reading.left_out.is_some() { ", left out" } else { "" }
    );
    (tolerance > 0.0).then(|| Off { day, reading, off: off / tolerance, within: within / tolerance, says })
}

/// The scale of readings: what is beyond it stands at its end.
const EDGE: f64 = 3.0;

/// Every voltage and current as read, against what was planned.
pub fn readings(found: &ReconcileRecord) -> Option<Picture> {
    let all = found.days.iter().flat_map(|day| day.readings.iter().filter_map(move |reading| off(day, reading)));
    let all: Vec<Off<'_>> = all.collect();
    if all.is_empty() {
        return None;
    }
    let several = found.days.len() > 1;
    let rows: Vec<Row> = all
        .iter()
        .map(|one| {
            let against = one.reading.against.as_ref().map_or_else(String::new, |other| format!(" to {other}"));
            let day = if several { on(one.day) } else { String::new() };
            Row { name: format!("{}: {}{against}{day}", one.reading.line, one.reading.at), says: one.says.clone() }
        })
        .collect();
    let title = "measured less planned, over what the plan may be off";
    let foot = "Band: as planned. Whisker: doubt of the instrument. Square: does not overlap the plan. Arrow: beyond the scale.";
    let rows = Rows::new(&rows, foot, title, Scale::Even(-EDGE, EDGE), &|value| plain(value, 2).replace('-', "−"));
    let fit = all.iter().filter(|one| one.reading.fits).count();
    let description = format!(
        "{} readings: how far each is off its plan, with the doubt of the instrument (whisker), over what the plan may be off \
         and still be as planned (band from −1 to 1). {fit} overlap with the plan (dot), the others do not (square).",
        all.len()
    );
    let [_, above, _, below] = rows.chart.plane;
    let body = html! {
        rect class="veil f3" x=(px(rows.x(-1.0))) y=(px(above)) width=(px(rows.x(1.0) - rows.x(-1.0))) height=(px(below - above)) {}
        (rows.ground)
        (rows.upright(0.0, "rule"))
        @for (at, one) in all.iter().enumerate() {
            @let y = rows.middle(at);
            @let fits = one.reading.fits;
            (whisker(&rows, y, (one.off - one.within, one.off + one.within), if fits { "s1 mark" } else { "s2 mark" }))
            @if fits { circle class="f1" cx=(px(rows.x(one.off))) cy=(px(y)) r="3.4" {} }
            @else { rect class="f2" x=(px(rows.x(one.off) - 3.5)) y=(px(y - 3.5)) width="7" height="7" {} }
            // Beyond the scale: an arrow at its end.
            @if one.off.abs() > EDGE {
                @let tip = rows.x(one.off);
                @let back = if one.off > 0.0 { -6.0 } else { 6.0 };
                path class="wire" d=(format!("M{} {}L{} {}L{} {}", px(tip + back), px(y - 5.0), px(tip), px(y), px(tip + back), px(y + 5.0))) {}
            }
        }
    };
    Some(Picture::new(format!("Readings of {} against its plan", found.name), description, rows.size, body))
}
