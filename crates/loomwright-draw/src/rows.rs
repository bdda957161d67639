//! Pictures of rows: a name at the left, something on a common scale, a word at the right.

use maud::{Markup, html};

use crate::chart::{Axis, Chart, Scale};
use crate::style::TEXT;
use crate::text::{fitted, px, width};

/// Height of a row.
const ROW: i32 = 17;
/// Width of the picture.
const WIDTH: i32 = 840;
/// The widest that names may become.
const NAMES: f64 = 260.0;
/// Above the first row and below the last.
const AROUND: i32 = 8;

/// A row: what it is called, and what is said at its right.
pub(crate) struct Row {
    pub(crate) name: String,
    pub(crate) says: String,
}

/// Rows over a common scale.
pub(crate) struct Rows {
    /// Axis, grid and texts.
    pub(crate) ground: Markup,
    /// Where values fall.
    pub(crate) chart: Chart,
    /// Width and height of it all.
    pub(crate) size: (f64, f64),
    first: f64,
}

impl Rows {
    /// Rows, and below them what their marks mean.
    pub(crate) fn new(rows: &[Row], foot: &str, title: &str, scale: Scale, says: &dyn Fn(f64) -> String) -> Self {
        let widest = |pick: fn(&Row) -> &str, most: f64| {
            rows.iter().map(|row| width(pick(row), TEXT)).fold(60.0, f64::max).min(most)
        };
        let (names, words) = (widest(|row| &row.name, NAMES), widest(|row| &row.says, NAMES));
        let count = i32::try_from(rows.len()).unwrap_or(i32::MAX / ROW / 2);
        let room = whole(names + 14.0);
        let y = Axis { title: "", scale: Scale::Even(0.0, 1.0), ticks: 0, says: &|_| String::new() };
        let height = count * ROW + 2 * AROUND + 62;
        let x = Axis { title, scale, ticks: 8, says };
        let chart = Chart::new((WIDTH - whole(words + 6.0), height), 0.0, room, &x, &y);
        let [left, above, right, below] = chart.plane;
        let first = above + f64::from(AROUND) + f64::from(ROW) / 2.0;
        let line = |at: usize| first + f64::from(ROW) * f64::from(u32::try_from(at).unwrap_or(0));
        let ground = html! {
            (chart.ground)
            text class="small quiet" x="10" y=(px(below + 54.0)) { (foot) }
            @for (at, row) in rows.iter().enumerate() {
                text x=(px(left - 10.0)) y=(px(line(at) + 4.0)) text-anchor="end" {
                    title { (row.name) } (fitted(&row.name, TEXT, names))
                }
                text class="num" x=(px(right + 10.0)) y=(px(line(at) + 4.0)) {
                    @if width(&row.says, TEXT) > words { title { (row.says) } }
                    (fitted(&row.says, TEXT, words))
                }
                path class="grid thin" d=(format!("M{} {}H{}", px(left), px(line(at) + f64::from(ROW) / 2.0), px(right))) {}
            }
        };
        Self { ground, chart, size: (f64::from(WIDTH), below + 62.0), first }
    }

    /// The middle of a row.
    pub(crate) fn middle(&self, row: usize) -> f64 {
        self.first + f64::from(ROW) * f64::from(u32::try_from(row).unwrap_or(0))
    }

    /// Where a value falls along the scale.
    pub(crate) fn x(&self, value: f64) -> f64 {
        self.chart.at(value, 0.0).0
    }

    /// An upright line over all rows.
    pub(crate) fn upright(&self, value: f64, class: &str) -> Markup {
        let [_, above, _, below] = self.chart.plane;
        html! { path class=(class) d=(format!("M{} {}V{}", px(self.x(value)), px(above), px(below))) {} }
    }
}

/// Whole pixels, never fewer.
fn whole(value: f64) -> i32 {
    format!("{:.0}", value.ceil().clamp(0.0, 1e5)).parse().unwrap_or(0)
}
