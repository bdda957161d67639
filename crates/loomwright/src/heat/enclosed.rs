//! Enclosed with both legs loaded: the IEC 60364-5-52 method B table, carried to other temperatures.
//!
//! The table says what current holds a PVC conductor at 70 °C in 30 °C air; so it says what heat a size
//! sheds per kelvin. That conductance is kept for other limits, ambients and resistances, which is the
//! square-root law of the standards with the conductor's own resistance put in.

use crate::conductor::Material;
use crate::data::{Source, tables::iec60228, tables::method_b};

/// Where the table comes from.
pub(super) const SOURCE: &Source = &crate::data::tables::sources::IEC_60364_5_52_B;

/// The table's conductor temperature rise, K.
const TABLE_RISE: f64 = 70.0 - 30.0;

/// Heat in W/m that one row's conductor sheds at the table's temperatures.
fn heat_of(row: &method_b::MethodB) -> Option<f64> {
    let class_2 = iec60228::ROWS.iter().find(|conductor| conductor.class == 2.0 && conductor.csa_mm2 == row.csa_mm2)?;
    let (constant, slope) = Material::Copper.law_per_celsius();
    Some(row.ampacity_a * row.ampacity_a * class_2.plain_ohm_per_km * 1e-3 * (constant + slope * 70.0))
}

/// Heat shed per metre and kelvin by a conductor of this size, W/(m·K); straight in the logarithms
/// between rows. Outside the table: its smallest and largest size.
pub(super) fn conductance(csa_mm2: f64) -> Result<f64, (f64, f64)> {
    let mut lower: Option<&method_b::MethodB> = None;
    for row in method_b::ROWS {
        // Areas come from gauge laws and unit conversions; a part in a billion is no other size.
        if (row.csa_mm2 / csa_mm2 - 1.0).abs() < 1e-9 {
            return heat_of(row).map(|heat| heat / TABLE_RISE).ok_or_else(ends);
        }
        if row.csa_mm2 > csa_mm2 {
            let (Some(below), Some(above_heat)) = (lower, heat_of(row)) else { return Err(ends()) };
            let Some(below_heat) = heat_of(below) else { return Err(ends()) };
            let share = (csa_mm2 / below.csa_mm2).ln() / (row.csa_mm2 / below.csa_mm2).ln();
            return Ok(below_heat * (above_heat / below_heat).powf(share) / TABLE_RISE);
        }
        lower = Some(row);
    }
    Err(ends())
}

fn ends() -> (f64, f64) {
    let size = |row: Option<&method_b::MethodB>| row.map_or(0.0, |row| row.csa_mm2);
    (size(method_b::ROWS.first()), size(method_b::ROWS.last()))
}
