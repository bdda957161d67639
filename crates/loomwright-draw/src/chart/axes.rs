//! Axes with their ticks and grid, drawn by plotters, and where a value falls between them.

use std::fmt::Write;

use maud::{Markup, PreEscaped, html};
use plotters::coord::combinators::WithKeyPoints;
use plotters::coord::ranged1d::{AsRangedCoord, Ranged, ValueFormatter};
use plotters::prelude::{
    BLACK, BindKeyPoints, ChartBuilder, IntoDrawingArea, IntoLogRange, LogCoord, RGBColor, TextStyle,
};
use plotters::style::IntoFont;

use super::backend::{FINE, Ground};
use crate::style::TEXT;
use crate::text::{px, width as text_width};

/// How values lie along an axis.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Scale {
    /// Evenly, from the first to the last.
    Even(f64, f64),
    /// Each decade as long as the next, from the first to the last.
    Decades(f64, f64),
}

impl Scale {
    /// Where a value falls, 0 at the beginning and 1 at the end; held within both.
    fn share(self, value: f64) -> f64 {
        let share = match self {
            Self::Even(from, to) => (value - from) / (to - from),
            Self::Decades(from, to) => (value.max(from * 1e-3) / from).ln() / (to / from).ln(),
        };
        if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 }
    }
}

/// An axis.
pub(crate) struct Axis<'a> {
    /// What it counts, with its unit.
    pub(crate) title: &'a str,
    /// How.
    pub(crate) scale: Scale,
    /// About how many ticks.
    pub(crate) ticks: usize,
    /// What a tick says.
    pub(crate) says: &'a dyn Fn(f64) -> String,
}

/// A plane between two axes.
pub(crate) struct Chart {
    /// Axes, ticks and grid.
    pub(crate) ground: Markup,
    /// Left, top, right and bottom of the plane, in pixels.
    pub(crate) plane: [f64; 4],
    x: Scale,
    y: Scale,
}

/// Room below it for the ticks and the title of the level axis.
const BELOW: i32 = 38;
/// Room above it for the title of the upright axis.
const ABOVE: i32 = 24;
/// Room right of it for half a tick.
const RIGHT: i32 = 22;

impl Chart {
    /// Axes over a picture of a width and height, from a height on, with so much room left of the plane. An upright axis
    /// without ticks has no line either: rows stand there.
    pub(crate) fn new((width, height): (i32, i32), top: f64, room: i32, x: &Axis<'_>, y: &Axis<'_>) -> Self {
        let mut out = String::new();
        let size = (width.max(200) * FINE, height.max(ABOVE + BELOW + 10) * FINE, room * FINE);
        let [left, right] = [f64::from(room), f64::from(width.max(200) - RIGHT)];
        let [above, below] = [f64::from(ABOVE), f64::from(height.max(ABOVE + BELOW + 10) - BELOW)];
        // A tick takes its label along the level axis, and a line along the upright one.
        let level = |from, to| decades(from, to, right - left, &|tick| text_width(&(x.says)(tick), TEXT) + 4.0);
        let upright = |from, to| decades(from, to, below - above, &|_| TEXT + 3.0);
        match (x.scale, y.scale) {
            (Scale::Even(a, b), Scale::Even(c, d)) => axes(&mut out, size, (a..b, c..d), x, y),
            (Scale::Even(a, b), Scale::Decades(c, d)) => axes(&mut out, size, (a..b, upright(c, d)), x, y),
            (Scale::Decades(a, b), Scale::Even(c, d)) => axes(&mut out, size, (level(a, b), c..d), x, y),
            (Scale::Decades(a, b), Scale::Decades(c, d)) => {
                axes(&mut out, size, (level(a, b), upright(c, d)), x, y);
            }
        }
        let ground = html! {
            g transform=[(top > 0.0).then(|| format!("translate(0 {})", px(top)))] {
                (PreEscaped(&out))
                text class="strong" x=(px((left - 50.0).max(0.0))) y="14" { (y.title) }
                text class="strong" x=(px(right)) y=(px(below + 32.0)) text-anchor="end" { (x.title) }
            }
        };
        Self { ground, plane: [left, top + above, right, top + below], x: x.scale, y: y.scale }
    }

    /// Where a value lies, in pixels of the picture; held within the plane.
    pub(crate) fn at(&self, x: f64, y: f64) -> (f64, f64) {
        let [left, above, right, below] = self.plane;
        (left + self.x.share(x) * (right - left), below - self.y.share(y) * (below - above))
    }

    /// A path through values.
    pub(crate) fn path(&self, values: impl IntoIterator<Item = (f64, f64)>) -> String {
        let mut path = String::new();
        for (x, y) in values {
            let (x, y) = self.at(x, y);
            let _ = write!(path, "{}{} {}", if path.is_empty() { "M" } else { "L" }, px(x), px(y));
        }
        path
    }
}

/// A logarithmic range with ticks at 1, 2 and 5 of each decade, at every unit of a short one, at 1 alone of a long one;
/// fewer where their labels would touch on so many pixels.
fn decades(from: f64, to: f64, pixels: f64, takes: &dyn Fn(f64) -> f64) -> WithKeyPoints<LogCoord<f64>> {
    let length = (to / from).log10();
    let first = match length {
        short if short <= 1.3 => 0,
        middle if middle <= 4.0 => 1,
        _ => 3,
    };
    let every = |units: &[f64]| {
        let mut ticks = Vec::new();
        let mut decade = 10.0_f64.powf(from.log10().floor());
        while decade <= to && ticks.len() < 100 {
            ticks.extend(units.iter().map(|unit| unit * decade));
            decade *= 10.0;
        }
        ticks.retain(|tick| *tick >= from * (1.0 - 1e-9) && *tick <= to * (1.0 + 1e-9));
        ticks
    };
    let fits = |ticks: &[f64]| {
        ticks.windows(2).all(|pair| {
            let [one, other] = [pair.first(), pair.last()].map(|tick| tick.copied().unwrap_or(from));
            (other / one).log10() / length * pixels >= (takes(one) + takes(other)) / 2.0
        })
    };
    let sets: [&[f64]; 4] = [&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0], &[1.0, 2.0, 5.0], &[1.0, 3.0], &[1.0]];
    let all: Vec<Vec<f64>> = sets.iter().skip(first).map(|units| every(units)).collect();
    let ticks = all.iter().find(|ticks| fits(ticks)).or_else(|| all.last()).cloned().unwrap_or_default();
    (from..to).log_scale().with_key_points(ticks)
}

/// Ticks and grid over ranges of any kind.
fn axes<X, Y>(out: &mut String, (width, height, room): (i32, i32, i32), ranges: (X, Y), x: &Axis<'_>, y: &Axis<'_>)
where
    X: AsRangedCoord<Value = f64>,
    Y: AsRangedCoord<Value = f64>,
    X::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
    Y::CoordDescType: Ranged<ValueType = f64> + ValueFormatter<f64>,
{
    let size = (width.unsigned_abs(), height.unsigned_abs());
    let area = Ground { out, size }.into_drawing_area();
    let built = ChartBuilder::on(&area)
        .margin_top(ABOVE * FINE)
        .margin_right(RIGHT * FINE)
        .set_left_and_bottom_label_area_size(0)
        .x_label_area_size(BELOW * FINE)
        .y_label_area_size(room)
        .build_cartesian_2d(ranges.0, ranges.1);
    // Nothing of it can fail: the ground takes everything.
    let Ok(mut chart) = built else { return };
    let text = TextStyle::from(("sans-serif", TEXT * f64::from(FINE)).into_font());
    let mut mesh = chart.configure_mesh();
    if y.ticks == 0 {
        mesh.disable_y_mesh().disable_y_axis();
    }
    let _ = mesh
        .x_labels(x.ticks)
        .y_labels(y.ticks)
        .max_light_lines(1)
        .bold_line_style(RGBColor(200, 200, 200))
        .light_line_style(plotters::style::TRANSPARENT)
        .axis_style(BLACK)
        .set_all_tick_mark_size(4 * FINE)
        .label_style(text)
        .x_label_formatter(&|value| (x.says)(*value))
        .y_label_formatter(&|value| (y.says)(*value))
        .draw();
}
