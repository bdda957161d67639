//! Lines, bands and markers of series, and the key that names them. A series has its colour, dash and marker by its number, 1
//! to 5; further ones begin again.

use maud::{Markup, html};

use super::Chart;
use crate::style::TEXT;
use crate::text::{fitted, px, width};

/// Classes of a series' line and of what it fills.
fn classes(series: usize) -> (&'static str, &'static str) {
    match series % 5 {
        0 => ("s5", "f5"),
        1 => ("s1", "f1"),
        2 => ("s2", "f2"),
        3 => ("s3", "f3"),
        _ => ("s4", "f4"),
    }
}

/// A line through values.
pub(crate) fn line(chart: &Chart, values: impl IntoIterator<Item = (f64, f64)>, series: usize) -> Markup {
    html! { path class=(classes(series).0) d=(chart.path(values)) {} }
}

/// A line of a series in steps: each value holds until the next.
pub(crate) fn steps(chart: &Chart, values: &[(f64, f64)], series: usize) -> Markup {
    let held = values.iter().zip(values.iter().skip(1)).flat_map(|(here, next)| [*here, (next.0, here.1)]);
    line(chart, held.chain(values.last().copied()), series)
}

/// The ground between two edges, each from left to right.
pub(crate) fn area(chart: &Chart, upper: &[(f64, f64)], lower: &[(f64, f64)], series: usize) -> Markup {
    let edge = upper.iter().copied().chain(lower.iter().rev().copied());
    html! { path class=(format!("veil {}", classes(series).1)) d=(chart.path(edge) + "Z") {} }
}

/// A marker at a place of the picture; each series has another form.
pub(crate) fn marker((x, y): (f64, f64), series: usize) -> Markup {
    let (stroke, fill) = classes(series);
    let d = 3.6;
    let path = match series % 5 {
        1 => return html! { circle class=(fill) cx=(px(x)) cy=(px(y)) r="3.4" {} },
        2 => format!("M{} {}h7.2v7.2h-7.2Z", px(x - d), px(y - d)),
        3 => format!("M{} {}l4.4 7.6h-8.8Z", px(x), px(y - 4.6)),
        4 => format!("M{} {}l4.4 4.4l-4.4 4.4l-4.4 -4.4Z", px(x), px(y - 4.4)),
        _ => format!("M{} {}l7.2 7.2M{} {}l7.2 -7.2", px(x - d), px(y - d), px(x - d), px(y + d)),
    };
    let class = if series.is_multiple_of(5) { format!("{stroke} mark") } else { fill.to_owned() };
    html! { path class=(class) d=(path) {} }
}

/// What an entry of the key shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sample {
    /// A line.
    Line,
    /// A line with markers.
    Marked,
    /// Markers alone.
    Marker,
    /// A filled ground.
    Area,
    /// The line of a limit.
    Limit,
}

/// The key below a chart: which line is which.
#[derive(Default)]
pub(crate) struct Key {
    entries: Vec<(Sample, usize, String)>,
}

impl Key {
    /// Adds an entry.
    pub(crate) fn add(&mut self, sample: Sample, series: usize, name: impl Into<String>) {
        self.entries.push((sample, series, name.into()));
    }

    /// The entries in rows between two edges from a height on, and the height below them.
    pub(crate) fn draw(&self, left: f64, right: f64, top: f64) -> (Markup, f64) {
        let (mut x, mut y) = (left, top + 12.0);
        let mut placed = Vec::new();
        for (sample, series, name) in &self.entries {
            let name = fitted(name, TEXT, right - left - 40.0);
            let taken = 34.0 + width(&name, TEXT) + 18.0;
            if x > left && x + taken > right {
                (x, y) = (left, y + 18.0);
            }
            placed.push((*sample, *series, name, x, y));
            x += taken;
        }
        let markup = html! {
            @for (sample, series, name, x, y) in &placed {
                (swatch(*sample, *series, *x, *y - 4.0))
                text x=(px(x + 34.0)) y=(px(*y)) { (name) }
            }
        };
        (markup, if placed.is_empty() { top } else { y + 10.0 })
    }
}

fn swatch(sample: Sample, series: usize, x: f64, y: f64) -> Markup {
    let (stroke, fill) = classes(series);
    let path = format!("M{} {}h26", px(x), px(y));
    let middle = (x + 13.0, y);
    html! {
        @match sample {
            Sample::Line => { path class=(stroke) d=(path) {} }
            Sample::Marked => { path class=(stroke) d=(path) {} (marker(middle, series)) }
            Sample::Marker => { (marker(middle, series)) }
            Sample::Area => { rect class=(format!("veil {fill}")) x=(px(x)) y=(px(y - 5.0)) width="26" height="10" {} }
            Sample::Limit => { path class="limit" d=(path) {} }
        }
    }
}
