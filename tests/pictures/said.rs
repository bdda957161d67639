//! What charts say: values read from places by the axes' own ticks, held to the engine's numbers. A place may be off by
//! `crate::svg::NEAR`, a third of a pixel.

mod charge;
mod curves;
mod margins;
mod measured;
mod sizes;
mod voltage;

use crate::svg::{Axis, NEAR, Plane, planes};
use roxmltree::{Document, Node};

const CABIN: &str = "crates/loomwright/examples/cabin.toml";
const VAN: &str = "examples/plans/veterinary-van.toml";
const LAUNCH: &str = "examples/plans/river-launch.toml";
const FAILING: &str = "examples/plans/failing.toml";

/// The one plane of a picture.
fn plane(document: &Document<'_>) -> Plane {
    let mut planes = planes(document);
    assert_eq!(planes.len(), 1);
    planes.remove(0)
}

/// Asserts that a place says a value.
fn says(axis: &Axis, place: f64, value: f64, what: &str) {
    let (belongs, read) = (axis.place(value), axis.value(place));
    assert!((place - belongs).abs() <= NEAR, "{what}: at {place} stands {read}, {value} belongs at {belongs}");
}

/// The same where the value may lie beyond the plane: it then stands on its border.
fn says_within(plane: &Plane, place: f64, value: f64, what: &str) {
    let belongs = plane.x().place(value).clamp(plane.left, plane.right);
    let read = plane.x().value(place);
    assert!((place - belongs).abs() <= NEAR, "{what}: at {place} stands {read}, {value} belongs at {belongs}");
}

/// The elements whose middle lies at a height.
fn in_row<'a, 'i>(nodes: &[Node<'a, 'i>], middle: impl Fn(Node<'a, 'i>) -> f64, row: f64) -> Vec<Node<'a, 'i>> {
    // Letters are set by their foot, so their row is known to two pixels; rows lie farther apart.
    nodes.iter().copied().filter(|node| (middle(*node) - row).abs() < 2.0).collect()
}

fn one<'a, 'i>(nodes: &[Node<'a, 'i>], what: &str) -> Node<'a, 'i> {
    let [node] = nodes else { panic!("{what}: {} elements", nodes.len()) };
    *node
}
