//! The tables of IEC 60364-5-52 as a heat path, carried to other temperatures.
//!
//! A table says what current holds a PVC conductor at 70 °C in 30 °C air; so it says what heat a size
//! sheds per kelvin. That conductance is kept for other limits, ambients and resistances, which is the
//! square-root law of the standards with the conductor's own resistance put in.

use super::Installation;
use crate::conductor::Material;
use crate::data::{Source, tables::grouping, tables::iec60228, tables::iec60364_5_52};
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

/// Where the tables come from.
pub(super) const SOURCE: &Source = &crate::data::tables::sources::IEC_60364_5_52_ABC;

/// The tables' conductor temperature rise, K.
const TABLE_RISE: f64 = 70.0 - 30.0;

type Row = iec60364_5_52::Iec60364552;

/// What one row of a table prints in a column.
type Column = fn(&Row) -> Option<f64>;

/// Which column holds for an installation, and its method's letter.
fn column(installation: Installation) -> Option<(char, Column)> {
    match installation {
        Installation::FreeAir | Installation::Bundle => None,
        Installation::Insulated => Some(('A', |row| row.a_a)),
        Installation::Surface => Some(('C', |row| Some(row.c_a))),
        Installation::ConduitPlastic
        | Installation::ConduitMetal
        | Installation::ConduitSplit
        | Installation::Enclosed => Some(('B', |row| Some(row.b_a))),
    }
}

/// The letter of the table's method.
pub(super) fn method(installation: Installation) -> Option<char> {
    column(installation).map(|(letter, _)| letter)
}

/// Heat in W/m that one row's conductor sheds at the table's temperatures.
fn heat_of(row: &Row, ampacity: f64) -> Option<f64> {
    let before = |conductor: &iec60228::Iec60228| (conductor.class, conductor.csa_mm2) < (2.0, row.csa_mm2);
    let class_2 = iec60228::ROWS.get(iec60228::ROWS.partition_point(before))?;
    if (class_2.class, class_2.csa_mm2) != (2.0, row.csa_mm2) {
        return None;
    }
    let (constant, slope) = Material::Copper.law_per_celsius();
    Some(ampacity * ampacity * class_2.plain_ohm_per_km * 1e-3 * (constant + slope * 70.0))
}

/// Heat shed per metre and kelvin by one of two loaded conductors of this size, W/(m·K); straight in the
/// logarithms between rows, and none outside the table.
pub(super) fn conductance(installation: Installation, csa_mm2: f64) -> Option<f64> {
    let (_, column) = column(installation)?;
    // Areas come from gauge laws and unit conversions; a part in a billion is no other size.
    let rows = iec60364_5_52::ROWS;
    let place = rows.partition_point(|row| row.csa_mm2 < csa_mm2 * (1.0 - 1e-9));
    let row = rows.get(place)?;
    if row.csa_mm2 < csa_mm2 * (1.0 + 1e-9) {
        return heat_of(row, column(row)?).map(|heat| heat / TABLE_RISE);
    }
    let below = rows.get(place.checked_sub(1)?)?;
    let (below_heat, above_heat) = (heat_of(below, column(below)?)?, heat_of(row, column(row)?)?);
    let share = (csa_mm2 / below.csa_mm2).ln() / (row.csa_mm2 / below.csa_mm2).ln();
    Some(below_heat * (above_heat / below_heat).powf(share) / TABLE_RISE)
}

/// The conductance of the last row that the installation's column has, for a size above it.
pub(super) fn at_the_end(installation: Installation, csa_mm2: f64) -> Option<f64> {
    let (_, column) = column(installation)?;
    let last = iec60364_5_52::ROWS.iter().rev().find(|row| column(row).is_some())?;
    let above = csa_mm2 > last.csa_mm2;
    heat_of(last, column(last)?).filter(|_| above).map(|heat| heat / TABLE_RISE)
}

/// The smallest and largest size of the tables, mm².
pub(super) fn ends() -> (f64, f64) {
    let size = |row: Option<&Row>| row.map_or(0.0, |row| row.csa_mm2);
    (size(iec60364_5_52::ROWS.first()), size(iec60364_5_52::ROWS.last()))
}

/// Factor on the ampacity of each of `circuits` equal circuits together: of the next larger number that
/// the table prints, and `None` beyond its last.
///
/// ```
/// use loomwright::heat::group_factor;
/// let factors = [1, 2, 3].map(|circuits| group_factor(circuits).map(|factor| factor.value));
/// assert_eq!(factors, [Some(1.0), Some(0.8), Some(0.7)]); // IEC 60364-5-52, bunched
/// assert!(group_factor(21).is_none());
/// ```
pub fn group_factor(circuits: u16) -> Option<Ratio> {
    let row = grouping::ROWS.iter().find(|row| row.circuits >= f64::from(circuits.max(1)))?;
    Some(Ratio::new::<ratio>(row.factor))
}

/// Where the grouping factor comes from.
///
/// ```
/// assert!(loomwright::heat::group_factor_source().to_string().contains("60364-5-52"));
/// ```
pub fn group_factor_source() -> &'static Source {
    &crate::data::tables::sources::IEC_60364_5_52_GROUPING_MEMORY
}

/// The most circuits of the grouping table.
pub(super) fn most_circuits() -> f64 {
    grouping::ROWS.last().map_or(1.0, |row| row.circuits)
}
