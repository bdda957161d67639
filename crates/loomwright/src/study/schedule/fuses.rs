//! The fuse schedule.

use super::ends::mm;
use super::{Cell, Labels, Sheet, SheetName, columns};
use crate::quantity::in_mm2;
use crate::study::judge::Judgement;

pub(super) fn sheet(judgement: &Judgement, labels: &Labels) -> Sheet {
    let rows = (0..judgement.installation.runs.len()).filter_map(|index| row(judgement, labels, index)).collect();
    Sheet {
        name: SheetName::Fuses,
        columns: columns![
            "label": "no.", "run": "protects", "at": "at", "distance_mm": "after" / "mm", "family": "family",
            "rating_a": "rating" / "A", "rated_voltage_v": "rated" / "V", "carries_a": "carries" / "A",
            "fault_highest_a": "faults up to" / "A", "protects_size": "conductor", "holder_mm2": "holder up to" / "mm²",
            "bolt": "bolt", "torque_nm": "torque" / "N m", "by": "by",
        ],
        rows,
        notes: vec![
            "insert fuses last, when everything else is done and measured; spares of every rating belong aboard".into(),
        ],
    }
}

fn row(judgement: &Judgement, labels: &Labels, index: usize) -> Option<Vec<Cell>> {
    let plan = &judgement.installation;
    let (run, model) = (plan.runs.get(index)?, judgement.models.get(index)?);
    let device = plan.device(index)?;
    let family = device.fuse.family;
    let holder = family.holder();
    let at = plan.nodes.get(run.from.0).map_or("", |node| node.name.as_str());
    let distance = Some(run.fuse_distance).filter(|distance| distance.value > 0.0);
    let fault = judgement.faults.get(index).and_then(Option::as_ref);
    Some(vec![
        labels.fuse(index).into(),
        run.name.as_str().into(),
        at.into(),
        distance.map(mm).into(),
        family.name().into(),
        device.fuse.rating.value.into(),
        device.rated_voltage().map(|voltage| voltage.value).into(),
        judgement.design.get(index).map(|design| design.current.value).into(),
        fault.map(|fault| fault.highest.value).into(),
        model.conductor.label().into(),
        holder.map(|holder| in_mm2(holder.largest)).into(),
        holder.and_then(|holder| holder.thread).into(),
        holder.and_then(|holder| holder.torque).map(|torque| torque.value).into(),
        device.sheet.map_or_else(|| "family".to_owned(), |sheet| format!("{}, {}", sheet.name, sheet.source)).into(),
    ])
}
