//! Upright lines over a chart, such as a load or a fault current, each with its name above the plane.

use maud::{Markup, html};

use crate::chart::Chart;
use crate::style::TEXT;
use crate::text::{px, staggered, width};

/// Height of a row of names.
const ROW: f64 = 14.0;

/// A line at a value.
pub(crate) struct Upright {
    pub(crate) at: f64,
    pub(crate) name: String,
    pub(crate) class: &'static str,
}

/// Lines with their names in rows, so that no name lies over another.
pub(crate) struct Uprights {
    placed: Vec<(f64, f64, f64, Upright)>,
    /// The room that the names take above a chart.
    pub(crate) height: f64,
}

impl Uprights {
    /// Lines over a chart whose level axis is as that of `chart`; their names begin at the top of the picture.
    pub(crate) fn new(chart: &Chart, mut lines: Vec<Upright>) -> Self {
        lines.sort_by(|one, other| one.at.total_cmp(&other.at));
        let [left, _, right, _] = chart.plane;
        let spans: Vec<(f64, f64, f64)> = lines
            .iter()
            .map(|line| {
                let (x, wide) = (chart.at(line.at, f64::MIN_POSITIVE).0, width(&line.name, TEXT));
                (x, (x - wide / 2.0).clamp(left - 50.0, (right + 20.0 - wide).max(left - 50.0)), wide)
            })
            .collect();
        let (rows, count) = staggered(spans.iter().map(|(_, start, wide)| (*start, *wide)));
        let high = |rows: usize| ROW * f64::from(u32::try_from(rows).unwrap_or(0));
        let placed = spans.iter().zip(rows).zip(lines);
        let placed = placed.map(|(((x, start, _), row), line)| (*x, *start, high(row), line)).collect();
        let height = high(count);
        Self { placed, height }
    }

    /// The lines down to the foot of a plane; names stand in rows from `top` on.
    pub(crate) fn draw(&self, top: f64, foot: f64) -> Markup {
        html! {
            @for (x, _, y, line) in &self.placed {
                path class=(line.class) d=(format!("M{} {}V{}", px(*x), px(top + y + ROW), px(foot))) {}
            }
            @for (_, start, y, line) in &self.placed {
                text class="halo" x=(px(*start)) y=(px(top + y + 11.0)) { (line.name) }
            }
        }
    }
}
