//! What to buy, grouped and rounded up to the units that it is sold in.

use std::collections::BTreeMap;

use super::cables::{colour, supports};
use super::ends::end;
use super::{Cell, Sheet, SheetName, columns};
use crate::conductor::Conductor;
use crate::data::tables::{constants, selling_units};
use crate::fitting::Termination;
use crate::installation::{Installation, Leg, Run, State};
use crate::quantity::{Length, Mass, in_celsius, significant};
use crate::study::judge::Judgement;
use uom::si::length::meter;
use uom::si::mass::kilogram;

/// Something that is needed, kept or freed.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Material {
    /// What it is: a row of the table of selling units.
    pub(crate) part: &'static str,
    /// What it is called.
    pub(crate) description: String,
    /// Metres or pieces.
    pub(crate) quantity: f64,
    /// Metal in it, for conductors.
    pub(crate) metal: Mass,
}

impl Material {
    /// Metres or pieces, as sold: rounded up.
    pub(crate) fn sold(&self) -> (f64, &'static str) {
        let row = selling_units::ROWS.iter().find(|row| row.part == self.part);
        let (step, unit) = row.map_or((1.0, "pieces"), |row| match (row.least_m, row.pieces_ratio) {
            (Some(metres), _) => (metres, "m"),
            (None, pieces) => (pieces.unwrap_or(1.0), "pieces"),
        });
        ((self.quantity / step - 1e-9).ceil() * step, unit)
    }
}

/// Sums of what is alike, in order of part and description.
#[derive(Default)]
struct Heap(BTreeMap<(usize, u64, String), Material>);

impl Heap {
    fn add(&mut self, part: &'static str, description: String, quantity: f64, metal: Mass) {
        let order = selling_units::ROWS.iter().position(|row| row.part == part).unwrap_or(usize::MAX);
        // By the number that the description starts with, so that 4 mm² comes before 10 mm².
        let number = description.split_whitespace().find_map(|word| word.parse::<f64>().ok()).unwrap_or(0.0);
        let slot = self.0.entry((order, number.max(0.0).to_bits(), description.clone()));
        let slot = slot.or_insert(Material { part, description, quantity: 0.0, metal: Mass::default() });
        slot.quantity += quantity;
        slot.metal += metal;
    }
}

/// A conductor as it is ordered.
fn ordered(conductor: &Conductor, insulation_c: f64, colour: &str) -> String {
    let size = conductor.label();
    let coloured = if colour.is_empty() { String::new() } else { format!(", {colour}") };
    format!("{size} {} {}, {} °C{coloured}", conductor.kind, conductor.material, significant(insulation_c, 3))
}

/// What a plan needs besides what it keeps, or with `kept` what it keeps. A fuse that is chosen here is new, also in a
/// run that stays.
fn needed(judgement: &Judgement, kept: bool) -> Vec<Material> {
    let plan = &judgement.installation;
    let stays = |index: usize| plan.runs.get(index).is_some_and(|run| plan.is_kept(run));
    let chosen = |index: usize| judgement.choices.iter().any(|choice| choice.run == index && choice.fuse.is_some());
    of_runs(judgement, &|index| stays(index) == kept, &|index| (stays(index) && !chosen(index)) == kept)
}

/// What goes into the runs of which `wire` holds, and the fuses of those of which `fuse` holds.
pub(crate) fn of_runs(
    judgement: &Judgement,
    wire: &dyn Fn(usize) -> bool,
    fuse: &dyn Fn(usize) -> bool,
) -> Vec<Material> {
    let plan = &judgement.installation;
    let mut heap = Heap::default();
    for (index, (run, model)) in plan.runs.iter().zip(&judgement.models).enumerate() {
        if let Some(device) = plan.device(index).filter(|_| fuse(index)) {
            heap.add("fuse", device.called(), 1.0, Mass::default());
        }
        if !wire(index) {
            continue;
        }
        let length = run.cut_length();
        let description = ordered(&model.conductor, in_celsius(run.insulation), colour(plan, run));
        heap.add("cable", description, length.get::<meter>(), model.conductor.mass(length));
        for which in [0, 1] {
            let Some(end) = end(judgement, index, which) else { continue };
            let part = match end.termination {
                Termination::Lug(_) => "lug",
                Termination::Ferrule(_) => "ferrule",
                Termination::Pin(_) => "pin",
                Termination::NoLug(..) | Termination::Bare | Termination::Unstated => continue,
            };
            let words = end.termination.words();
            let description = words.trim_start_matches(part).trim_start_matches("reducing pin").trim().to_owned();
            heap.add(part, description, 1.0, Mass::default());
            if part == "lug" {
                let outer = significant(model.conductor.outer_diameter.value * 1e3, 2);
                heap.add(
                    "sleeve",
                    format!("heat-shrink over {outer} mm"),
                    constants::SLEEVE_PER_END_M,
                    Mass::default(),
                );
            }
        }
        let count = f64::from(supports(plan, run));
        // Both legs of a circuit go into one.
        if count > 0.0 && (run.leg == Leg::Positive || run.twin.is_none()) {
            let outer = significant(model.conductor.outer_diameter.value * 1e3, 2);
            let pair = if run.twin.is_some() { "2 × " } else { "" };
            heap.add("clip", format!("for {pair}{outer} mm"), count, Mass::default());
        }
        if let Some(gland) = run.laying.gland {
            heap.add("gland", gland.name.to_owned(), 1.0, Mass::default());
        }
    }
    conduits(plan, wire, &mut heap);
    heap.0.into_values().collect()
}

/// Conduits of looms in which any run is chosen, as long as the longest run in them.
fn conduits(plan: &Installation, wire: &dyn Fn(usize) -> bool, heap: &mut Heap) {
    for (index, loom) in plan.looms.iter().enumerate().filter(|(_, loom)| loom.method.is_conduit()) {
        let inside = |run: &Run| {
            let stretches = run.segments.iter().filter(|segment| segment.loom == Some(index));
            stretches.fold(Length::default(), |sum, segment| sum + segment.length)
        };
        let within = || plan.runs.iter().enumerate().filter(|(_, run)| inside(run).value > 0.0);
        let longest = within().map(|(_, run)| inside(run)).reduce(|most, at| if at > most { at } else { most });
        // A conduit stays as long as anything in it does.
        let stays = within().any(|(_, run)| plan.is_kept(run));
        let chosen = within().any(|(at, run)| wire(at) && (plan.is_kept(run) || !stays));
        if let Some(longest) = longest.filter(|_| chosen) {
            let bore =
                loom.bore.map(|bore| format!(", bore {} mm", significant(bore.value * 1e3, 3))).unwrap_or_default();
            heap.add(
                "conduit",
                format!("{}{bore}", loom.method.title().trim_end_matches(" conduit")),
                longest.get::<meter>(),
                Mass::default(),
            );
        }
    }
}

/// Conductors and fuses that a plan takes out.
pub(crate) fn freed(plan: &Installation) -> Vec<Material> {
    let mut heap = Heap::default();
    for part in plan.existing.iter().filter(|part| part.state == State::Removed) {
        if let Some((conductor, length)) = &part.freed {
            let description = format!("{} {} {}", conductor.label(), conductor.kind, conductor.material);
            heap.add("cable", description, length.get::<meter>(), conductor.mass(*length));
        }
        if let Some(fuse) = part.fuse {
            heap.add("fuse", crate::protection::Device::from(fuse).called(), 1.0, Mass::default());
        }
    }
    heap.0.into_values().collect()
}

pub(super) fn sheet(judgement: &Judgement) -> Sheet {
    let plan = &judgement.installation;
    let row = |material: &Material, use_: &'static str| -> Vec<Cell> {
        let (sold, unit) = material.sold();
        let metal = material.metal.get::<kilogram>();
        vec![
            material.part.into(),
            material.description.as_str().into(),
            material.quantity.into(),
            if use_ == "buy" { sold.into() } else { Cell::Empty },
            unit.into(),
            (metal > 0.0).then_some(metal).into(),
            use_.into(),
        ]
    };
    let buy = needed(judgement, false);
    let metal: Mass = buy.iter().fold(Mass::default(), |sum, material| sum + material.metal);
    let mut rows: Vec<Vec<Cell>> = buy.iter().map(|material| row(material, "buy")).collect();
    rows.extend(needed(judgement, true).iter().map(|material| row(material, "kept")));
    rows.extend(freed(plan).iter().map(|material| row(material, "freed")));
    let mut notes = vec![
        format!("metal in the conductors to buy: {} kg", significant(metal.get::<kilogram>(), 3)),
        "rounded up to how such parts are usually sold (common practice, no source)".to_owned(),
    ];
    let open = buy_unstated(judgement);
    if open > 0 {
        notes.push(format!(
            "{open} ends of new conductors need a lug or ferrule that the plan's terminals do not state"
        ));
    }
    Sheet {
        name: SheetName::Materials,
        columns: columns![
            "part": "part", "description": "description", "quantity": "needed", "to_buy": "to buy", "unit": "unit",
            "metal_kg": "metal" / "kg", "use": "use",
        ],
        rows,
        notes,
    }
}

fn buy_unstated(judgement: &Judgement) -> usize {
    let plan = &judgement.installation;
    let new = plan.runs.iter().enumerate().filter(|(_, run)| !plan.is_kept(run)).map(|(index, _)| index);
    let ends = new.flat_map(|index| [end(judgement, index, 0), end(judgement, index, 1)]).flatten();
    ends.filter(|end| end.termination == Termination::Unstated && plan.chassis != Some(end.node)).count()
}
