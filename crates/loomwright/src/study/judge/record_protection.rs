//! Protective devices in the report.

use serde::Serialize;

use super::Judgement;
use crate::practice::Override;
use crate::protection::Sheet;
use crate::study::cable::round9;

/// The protective device of a run.
#[derive(Clone, Debug, Serialize)]
pub struct ProtectiveRecord {
    /// What it is called: rating and family, after its name in the plan where it has one.
    pub device: String,
    /// Rated DC voltage, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rated_v: Option<f64>,
    /// What it breaks at the highest voltage there, where that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub breaks_a: Option<f64>,
    /// What it carries without pause in the air around it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub carries_a: Option<f64>,
    /// Drop with its holder at the current that the run is judged at.
    pub drop_v: f64,
    /// Heat that it gives off there.
    pub heat_w: f64,
    /// Thread of its bolt, where it is bolted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thread: Option<&'static str>,
    /// Tightening torque; the maker's figure for the part at hand comes first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub torque_nm: Option<f64>,
}

/// The fault level of a node.
#[derive(Clone, Debug, Serialize)]
pub struct FaultLevelRecord {
    /// The node.
    pub node: String,
    /// Whether it is a busbar or board.
    pub busbar: bool,
    /// The highest fault current, with its reserve.
    pub highest_a: f64,
    /// The lowest, fed by one battery.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lowest_a: Option<f64>,
}

/// A limit that the plan sets otherwise.
#[derive(Clone, Debug, Serialize)]
pub struct LimitRecord {
    /// Its name.
    pub limit: &'static str,
    /// Its value, with unit.
    pub value: String,
    /// Why.
    pub reason: String,
}

impl LimitRecord {
    pub(super) fn of(stated: &Override) -> Self {
        Self { limit: stated.limit.name(), value: stated.value.to_string(), reason: stated.reason.clone() }
    }
}

/// A device that the plan gives by its maker's sheet.
#[derive(Clone, Debug, Serialize)]
pub struct SheetRecord {
    /// Its name.
    pub name: String,
    /// The family that it is otherwise like.
    pub like: &'static str,
    /// Its rating.
    pub rating_a: f64,
    /// The sheet as cited.
    pub source: String,
}

impl SheetRecord {
    pub(super) fn of(sheet: &Sheet) -> Self {
        Self {
            name: sheet.name.clone(),
            like: sheet.fuse.family.name(),
            rating_a: round9(sheet.fuse.rating.value),
            source: sheet.source.clone(),
        }
    }
}

impl Judgement {
    pub(super) fn fault_level_records(&self) -> Vec<FaultLevelRecord> {
        let record = |level: &super::FaultLevel| {
            let node = self.installation.nodes.get(level.node)?;
            Some(FaultLevelRecord {
                node: node.name.clone(),
                // Terminals are called by device and sign.
                busbar: !node.name.contains('.'),
                highest_a: round9(level.highest.value),
                lowest_a: level.lowest.map(|lowest| round9(lowest.value)),
            })
        };
        self.fault_levels().iter().filter_map(record).collect()
    }

    pub(super) fn protective_record(&self, run: usize) -> Option<ProtectiveRecord> {
        let plan = &self.installation;
        let device = plan.device(run)?;
        let highest = self.ways.highest_voltage(plan, plan.runs.get(run)?.from);
        let current = self.design.get(run)?.current;
        let drop = device.drop() * (current / device.fuse.rating);
        let holder = device.fuse.family.holder();
        Some(ProtectiveRecord {
            device: device.called(),
            rated_v: device.rated_voltage().map(|rated| round9(rated.value)),
            breaks_a: device.breaks(highest).map(|(breaks, _)| round9(breaks.value)),
            carries_a: device
                .continuous_current(self.models.get(run)?.fuse_ambient)
                .map(|carried| round9(carried.value)),
            drop_v: round9(drop.value),
            heat_w: round9((drop * current).value),
            thread: holder.and_then(|holder| holder.thread),
            torque_nm: holder.and_then(|holder| holder.torque).map(|torque| round9(torque.value)),
        })
    }
}
