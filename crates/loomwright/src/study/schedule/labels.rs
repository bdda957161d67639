//! Numbers of conductors and fuses, and the labels on their ends.

use super::{Sheet, SheetName, columns};
use crate::installation::Installation;
use crate::study::judge::Judgement;

/// The number of every run.
pub(in crate::study) struct Labels(Vec<String>);

impl Labels {
    /// Runs are `R01` on, circuits `C01+` and `C01-` on, each kind in the order of the plan, so that a circuit more does
    /// not move the numbers of the runs.
    pub(in crate::study) fn of(installation: &Installation) -> Self {
        let mut singles = 0;
        let mut circuits: Vec<&str> = Vec::new();
        let mut found = Vec::new();
        for run in &installation.runs {
            let Some(circuit) = run.circuit.as_deref() else {
                singles += 1;
                found.push(format!("R{singles:02}"));
                continue;
            };
            let at = circuits.iter().position(|known| *known == circuit).unwrap_or_else(|| {
                circuits.push(circuit);
                circuits.len() - 1
            });
            found.push(format!("C{:02}{}", at + 1, if run.name.ends_with(" -") { '-' } else { '+' }));
        }
        Self(found)
    }

    pub(in crate::study) fn run(&self, index: usize) -> &str {
        self.0.get(index).map_or("", String::as_str)
    }

    /// The number of the fuse in a run.
    pub(in crate::study) fn fuse(&self, index: usize) -> String {
        format!("F{}", self.run(index).trim_end_matches('+'))
    }
}

pub(super) fn sheet(judgement: &Judgement, labels: &Labels) -> Sheet {
    let plan = &judgement.installation;
    let name = |node: crate::installation::NodeId| plan.nodes.get(node.0).map_or("", |node| node.name.as_str());
    let mut rows = Vec::new();
    for (index, (run, model)) in plan.runs.iter().zip(&judgement.models).enumerate() {
        let label = labels.run(index);
        let size = model.conductor.label();
        let fuse = plan.device(index).map(|device| format!(" {} {}", labels.fuse(index), device.called()));
        let fuse = fuse.unwrap_or_default();
        for (end, here, there) in [("start", run.from, run.to), ("end", run.to, run.from)] {
            let text = format!("{label} to {} {size}{fuse}", name(there));
            rows.push(vec![label.into(), end.into(), name(here).into(), text.into()]);
        }
    }
    Sheet {
        name: SheetName::Labels,
        columns: columns!["label": "no.", "end": "end", "at": "at", "text": "label"],
        rows,
        notes: Vec::new(),
    }
}
