//! Straight lines between the points of a curve, which stand in order of x.

/// A point of a curve.
pub(crate) type Point = (f64, f64);

/// The points on either side of `x`: the last one below it, and the first one at it or above.
#[inline]
pub(crate) fn around(points: &[Point], x: f64) -> (Option<Point>, Option<Point>) {
    let after = points.partition_point(|(known, _)| *known < x);
    let before = after.checked_sub(1).and_then(|before| points.get(before));
    (before.copied(), points.get(after).copied())
}

/// The height at `x` of the line through two points.
#[inline]
pub(crate) fn between(one: Point, other: Point, x: f64) -> f64 {
    one.1 + (other.1 - one.1) * (x - one.0) / (other.0 - one.0)
}
