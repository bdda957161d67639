//! Diameters and insulation walls by kind: what the heat balance needs and no resistance table gives.

use super::Kind;
use crate::data::{Source, tables::sources, tables::walls};

/// Metal area over the area of the circle around the strands. Source: common practice from strand
/// geometry (7 equal strands fill 0.778); a smaller circle sheds less heat, so these lean to the high side.
fn fill(kind: Kind) -> f64 {
    match kind {
        Kind::Iec1 => 1.0,
        Kind::Iec2 | Kind::Awg => 0.78,
        Kind::Iec5 | Kind::Iec6 | Kind::Iso6722 | Kind::Sae => 0.75,
    }
}

/// Where the strand fill comes from.
pub(crate) const FILL_SOURCE: &Source = &sources::STRAND_FILL;

/// Diameter over the strands, in metres, from the metal area in square metres.
pub(super) fn conductor_diameter_m(kind: Kind, area_m2: f64) -> f64 {
    (4.0 * area_m2 / (std::f64::consts::PI * fill(kind))).sqrt()
}

/// Nominal insulation wall in metres for an area in square millimetres, and its source; the largest
/// wall of the table serves beyond it.
pub(super) fn wall_m(kind: Kind, csa_mm2: f64) -> (f64, &'static Source) {
    let name = if kind.is_gauge() { "gauge" } else { "iec" };
    let mut rows = walls::ROWS.iter().filter(|row| row.kind == name);
    let fits = rows.clone().find(|row| row.csa_mm2 >= csa_mm2);
    fits.or_else(|| rows.next_back()).map_or((0.6e-3, FILL_SOURCE), |row| (row.wall_mm * 1e-3, row.source))
}
