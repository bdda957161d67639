//! Joints in good order.

use crate::data::tables::contacts;
use crate::quantity::ElectricalResistance;
use uom::si::electrical_resistance::milliohm;

/// Resistance of one joint in good order: `lug-on-stud`, `screw-cage`, `isolator` or `chassis-path`; common
/// practice, no source. A name that is not in the table counts as the worst joint in it.
///
/// ```
/// use loomwright::{fitting::contact_resistance, quantity::{ElectricCurrent, FromText}};
/// let drop = ElectricCurrent::from_text("100 A")? * contact_resistance("lug-on-stud");
/// assert!((drop.value - 0.01).abs() < 1e-9); // 100 A through 0.1 mΩ
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn contact_resistance(joint: &str) -> ElectricalResistance {
    let worst = contacts::ROWS.iter().map(|row| row.resistance_mohm).fold(0.0, f64::max);
    let row = contacts::ROWS.iter().find(|row| row.joint == joint);
    ElectricalResistance::new::<milliohm>(row.map_or(worst, |row| row.resistance_mohm))
}
