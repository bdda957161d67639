//! Tightening torques.

use super::Thread;
use crate::data::{Source, tables::screw_torques, tables::torques};
use crate::names::named;
use crate::quantity::{Area, Torque, in_mm2};
use uom::si::torque::newton_meter;

named! {
    /// What is bolted together.
    Joint, "joint", {
        /// A lug on a battery's terminal.
        Battery => "battery",
        /// A lug on any other stud or bar, brass or copper.
        Stud => "stud",
    }
}

/// From what to what makers of such a joint ask for.
#[derive(Clone, Debug, PartialEq)]
pub struct TorqueRange {
    /// The least.
    pub least: Torque,
    /// The most.
    pub most: Torque,
    /// Who says so.
    pub sources: Vec<&'static Source>,
}

impl TorqueRange {
    /// Whether makers differ so much that only the figure of the part at hand will do: by more than half.
    pub fn unsettled(&self) -> bool {
        self.most.value > 1.5 * self.least.value
    }
}

/// The torque of a joint by its thread, over all makers at hand; the maker's own figure comes before it.
///
/// ```
/// use loomwright::fitting::{Joint, Thread, torque};
/// let bar = torque(Joint::Stud, Thread::M8).ok_or("none")?;
/// assert_eq!((bar.least.value, bar.most.value), (6.0, 6.0));
/// assert!(torque(Joint::Battery, Thread::M6).ok_or("none")?.unsettled()); // 3 to 7.9 N m
/// # Ok::<(), &str>(())
/// ```
pub fn torque(joint: Joint, thread: Thread) -> Option<TorqueRange> {
    let rows = || torques::ROWS.iter().filter(|row| row.joint == joint.name() && thread.is_among(row.thread));
    let of = |pick: fn(f64, f64) -> f64, value: fn(&torques::Torques) -> f64| rows().map(value).reduce(pick);
    let (least, most) = (of(f64::min, |row| row.least_nm)?, of(f64::max, |row| row.most_nm)?);
    Some(TorqueRange {
        least: Torque::new::<newton_meter>(least),
        most: Torque::new::<newton_meter>(most),
        sources: rows().map(|row| row.source).collect(),
    })
}

/// The torque of a slotted screw terminal by the conductor in it, where its maker states none: North American practice
/// (UL 486A-B). From the narrow slot's to the wide one's value.
///
/// ```
/// use loomwright::{fitting::screw_torque, quantity::mm2};
/// let range = screw_torque(mm2(10.0)).ok_or("none")?;
/// let inch_pounds = [range.least, range.most].map(|torque| (torque.value / 0.112985 / 5.0).round() * 5.0);
/// assert_eq!(inch_pounds, [35.0, 45.0]); // NEC annex I, 6 and 4 AWG
/// # Ok::<(), &str>(())
/// ```
pub fn screw_torque(area: Area) -> Option<TorqueRange> {
    let row = screw_torques::ROWS.iter().find(|row| in_mm2(area) <= row.csa_mm2 * 1.01)?;
    Some(TorqueRange {
        least: Torque::new::<newton_meter>(row.narrow_nm.unwrap_or(row.wide_nm)),
        most: Torque::new::<newton_meter>(row.wide_nm),
        sources: vec![row.source],
    })
}
