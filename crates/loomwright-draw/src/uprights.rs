//! Upright lines over a chart, such as a load or a fault current, each with its name above the plane.

use maud::{Markup, html};

use crate::chart::Chart;
use crate::style::TEXT;
use crate::text::{px, width};

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
        // By row, where its last name ends.
        let mut rows: Vec<f64> = Vec::new();
        let mut placed = Vec::new();
        for line in lines {
            let x = chart.at(line.at, f64::MIN_POSITIVE).0;
            let wide = width(&line.name, TEXT);
            let start = (x - wide / 2.0).clamp(left - 50.0, (right + 20.0 - wide).max(left - 50.0));
            let free = rows.iter().position(|end| *end + 8.0 < start);
            let row = free.unwrap_or(rows.len());
            match rows.get_mut(row) {
                Some(end) => *end = start + wide,
                None => rows.push(start + wide),
            }
            let y = ROW * f64::from(u32::try_from(row).unwrap_or(0));
            placed.push((x, start, y, line));
        }
        let height = ROW * f64::from(u32::try_from(rows.len()).unwrap_or(0));
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
