//! What stands beside each symbol, and how wide it may come out.

use std::collections::BTreeMap;

use loomwright::finding::Signal;
use loomwright::installation::{ConverterKind, Installation, LoadKind, NodeId};
use loomwright::quantity::ToText;
use loomwright::quantity::uom::si::power::watt;
use loomwright::study::judge::Judgement;

use super::graph::{Part, chassis_path, return_of};
use crate::style::{SMALL, TEXT};
use crate::tags;
use crate::text::{fitted, plain, width};

/// The most that one text takes.
const WIDEST: f64 = 190.0;
/// From one line to the next.
pub(super) const PITCH: f64 = 13.0;
/// Most tags beside one name.
const MOST_TAGS: usize = 4;

/// One text.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    /// What it says, cut where it is too long.
    pub(super) text: String,
    /// The whole of it, where it is cut.
    pub(super) full: Option<String>,
    /// How it is set.
    pub(super) class: &'static str,
    /// The number of the mark that it belongs to, and the room for the sheet that it may yet name.
    pub(super) mark: Option<(usize, f64)>,
}

impl Line {
    /// A text that is cut where it is wider than a column may be.
    pub(super) fn new(class: &'static str, text: &str) -> Self {
        Self::within(class, text, WIDEST)
    }

    /// A text that is cut to a width.
    pub(super) fn within(class: &'static str, text: &str, room: f64) -> Self {
        let cut = fitted(text, TEXT * weight(class), room);
        let full = (cut != text).then(|| text.to_owned());
        Self { text: cut, full, class, mark: None }
    }

    /// How wide it may come out.
    pub(super) fn width(&self) -> f64 {
        width(&self.text, TEXT * weight(self.class)) + self.mark.map_or(0.0, |(_, room)| room)
    }
}

/// How much wider or larger a class is set than ordinary text.
pub(super) fn weight(class: &str) -> f64 {
    match class {
        "strong" => 1.1,
        "head" => 1.3,
        _ => 1.0,
    }
}

/// A finding beside a name.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tag {
    /// Letter and number.
    pub(super) text: String,
    /// The signal word.
    pub(super) word: &'static str,
    /// Rule and message.
    pub(super) title: String,
    /// The tag of the finding in the report.
    pub(super) target: String,
    /// What it is called there: tag, rule and subject.
    pub(super) name: String,
}

impl Tag {
    /// How wide its box is.
    pub(super) fn width(&self) -> f64 {
        width(&self.text, SMALL * 1.1) + 6.0
    }
}

/// Everything that is said of one thing.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Label {
    /// Its lines; the first bears the tags.
    pub(super) lines: Vec<Line>,
    /// Its findings.
    pub(super) tags: Vec<Tag>,
}

impl Label {
    /// How wide it may come out.
    pub(super) fn width(&self) -> f64 {
        let tags: f64 = self.tags.iter().map(|tag| tag.width() + 3.0).sum();
        let lines = self.lines.iter().enumerate();
        lines.map(|(index, line)| line.width() + if index == 0 { tags } else { 0.0 }).fold(0.0, f64::max)
    }

    /// How high its lines are together.
    pub(super) fn height(&self) -> f64 {
        self.lines.iter().map(|_| PITCH).sum()
    }
}

/// Names, values and findings of everything in a plan.
pub(super) struct Book<'a> {
    pub(super) plan: &'a Installation,
    chosen: Vec<[bool; 2]>,
    tags: BTreeMap<Part, Vec<Tag>>,
    returns: BTreeMap<usize, Vec<&'a str>>,
}

impl<'a> Book<'a> {
    /// Looks everything up once.
    pub(super) fn of(judgement: &'a Judgement) -> Self {
        let plan = &judgement.installation;
        let mut chosen = vec![[false; 2]; plan.runs.len()];
        for choice in &judgement.choices {
            if let Some(slot) = chosen.get_mut(choice.run) {
                *slot = [choice.conductor.is_some(), choice.fuse.is_some()];
            }
        }
        let mut returns: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for (index, run) in plan.runs.iter().enumerate() {
            let twin = return_of(plan, index).and_then(|twin| plan.runs.get(twin));
            let chassis = plan.chassis.filter(|_| run.circuit.is_some() && run.twin.is_none());
            if let Some(back) = twin.map(|twin| twin.from).or(chassis) {
                returns.entry(back.0).or_default().push(run.circuit.as_deref().unwrap_or(&run.name));
            }
        }
        Self { plan, chosen, tags: tagged(judgement), returns }
    }

    /// Whether anything in the plan was chosen here.
    pub(super) fn has_choices(&self) -> bool {
        self.chosen.iter().any(|chosen| chosen.contains(&true))
    }

    /// The name of a part as the plan has it.
    pub(super) fn name(&self, part: Part) -> String {
        let plan = self.plan;
        let name = match part {
            Part::Run(index) => plan.runs.get(index).map(|run| {
                let whole = run.twin.is_none() || return_of(plan, index).is_some();
                run.circuit.as_ref().filter(|_| whole).unwrap_or(&run.name).clone()
            }),
            Part::Link(index) => plan.links.get(index).map(|one| one.name.clone()),
            Part::Converter(index) => plan.converters.get(index).map(|one| one.name.clone()),
            Part::Battery(index) => plan.batteries.get(index).map(|one| one.name.clone()),
            Part::Alternator(index) => plan.alternators.get(index).map(|one| one.name.clone()),
            Part::Load(index) => plan.loads.get(index).map(|one| one.name.clone()),
            Part::Array(index) => plan.arrays.get(index).map(|one| one.name.clone()),
            Part::Panels(index) => plan.converters.get(index).map(|one| format!("array of {}", one.name)),
            Part::Pole(index) => plan.batteries.get(index).map(|one| format!("{} −", one.name)),
            Part::AlternatorPole(index) => plan.alternators.get(index).map(|one| format!("{} −", one.name)),
            Part::OutputPole(index) => plan.converters.get(index).map(|one| format!("{} −", one.name)),
            Part::Node(index) => plan.nodes.get(index).map(|one| one.name.clone()),
            Part::Mains(index) => plan.converters.get(index).map(|one| format!("mains of {}", one.name)),
            Part::Returns(_) | Part::Chassis => None,
        };
        name.unwrap_or_default()
    }

    /// The name of a vertex.
    pub(super) fn vertex(&self, vertex: usize) -> Part {
        let nodes = self.plan.nodes.len();
        if vertex < nodes { Part::Node(vertex) } else { Part::Mains(vertex - nodes) }
    }

    /// Name, values and findings of a part; what a run's fuse says comes last where the fuse sits at its lower end.
    pub(super) fn label(&self, part: Part, fuse_last: bool) -> Label {
        let mut lines = vec![Line::new("strong", &self.name(part))];
        if let Part::Run(index) = part {
            let fuse = self.fuse(index).map(|text| Line::new("", &text));
            let rest = self.conductor(index);
            let rest = rest.iter().map(|text| Line::new("", text));
            let [before, after] = if fuse_last { [None, fuse] } else { [fuse, None] };
            lines.extend(before.into_iter().chain(rest).chain(after));
        } else {
            lines.extend(self.values(part).iter().map(|text| Line::new("quiet", text)));
        }
        Label { lines, tags: self.tags.get(&part).map_or_else(Vec::new, |tags| few(tags)) }
    }

    /// The label of a bar, on its second and later stretches with their number.
    pub(super) fn bar(&self, vertex: usize, stretch: usize) -> Label {
        let part = self.vertex(vertex);
        let node = self.plan.nodes.get(vertex);
        let class = match part {
            Part::Node(node) if self.plan.is_bar(NodeId(node)) || self.plan.chassis == Some(NodeId(node)) => "strong",
            _ => "quiet",
        };
        let mut text = self.name(part);
        if stretch > 1 {
            let number = format!(" ({stretch})");
            let room = WIDEST - width(&number, TEXT * 1.1);
            let cut = fitted(&text, TEXT * 1.1, room);
            return Label { lines: vec![Line::new(class, &(cut + &number))], tags: Vec::new() };
        }
        if let Some(rating) = node.and_then(|node| node.rating) {
            text = format!("{text}, {}", rating.to_text());
        }
        let tags = self.tags.get(&part).map_or_else(Vec::new, |tags| few(tags));
        Label { lines: vec![Line::new(class, &text)], tags }
    }

    /// The circuits that return to a node.
    pub(super) fn returns(&self, node: usize) -> &[&'a str] {
        self.returns.get(&node).map_or(&[], Vec::as_slice)
    }

    fn fuse(&self, run: usize) -> Option<String> {
        let (of, device) = (self.plan.runs.get(run)?, self.plan.device(run)?);
        let mark = if self.chosen.get(run).is_some_and(|chosen| chosen[1]) { "*" } else { "" };
        let at = of.fuse_distance.value;
        let away = if at > 0.0 { format!(" at {} m", plain(at, 2)) } else { String::new() };
        let fuse = device.fuse;
        Some(format!("{} A {}{mark}{away}", plain(fuse.rating.value, 3), fuse.family.name()))
    }

    /// Size and length of a run.
    fn conductor(&self, run: usize) -> Vec<String> {
        let Some(of) = self.plan.runs.get(run) else { return Vec::new() };
        let mark = if self.chosen.get(run).is_some_and(|chosen| chosen[0]) { "*" } else { "" };
        let size = match of.conductor {
            loomwright::installation::ConductorChoice::Fixed(conductor) => conductor.label(),
            loomwright::installation::ConductorChoice::Auto(..) => "size open".to_owned(),
        };
        let route = of.route().value;
        let length = format!("{} m", plain(route, 3));
        let twin = return_of(self.plan, run).and_then(|twin| self.plan.runs.get(twin)).map(|twin| twin.route().value);
        let length = match twin {
            Some(back) if (back - route).abs() < 1e-9 => format!("{length} and back"),
            Some(back) => format!("{length}, back {} m", plain(back, 3)),
            None => length,
        };
        // A single conductor is short enough for one line.
        if twin.is_none() { vec![format!("{size}{mark} · {length}")] } else { vec![format!("{size}{mark}"), length] }
    }

    fn values(&self, part: Part) -> Vec<String> {
        let plan = self.plan;
        match part {
            Part::Battery(index) => plan.batteries.get(index).map_or_else(Vec::new, |one| {
                let kind = one.chemistry.name().to_owned();
                vec![format!("{}, {}", one.nominal.to_text(), one.capacity.to_text()), kind]
            }),
            Part::Alternator(index) => plan
                .alternators
                .get(index)
                .map_or_else(Vec::new, |one| vec![format!("{}, {}", one.rating.to_text(), one.voltage.to_text())]),
            Part::Converter(index) => plan.converters.get(index).map_or_else(Vec::new, |one| {
                let voltage = (one.kind != ConverterKind::Inverter).then(|| one.output_voltage.to_text());
                let power = one.output_power.filter(|_| one.kind == ConverterKind::Inverter);
                let set = power.map(|power| power.to_text()).or(one.output_current.map(|current| current.to_text()));
                let set: Vec<String> = set.into_iter().chain(voltage).collect();
                vec![one.kind.name().replace('-', " ").replace("dc dc", "DC-DC"), set.join(", ")]
            }),
            Part::Load(index) => plan.loads.get(index).map_or_else(Vec::new, |one| {
                vec![match one.kind {
                    LoadKind::Current(current) => current.to_text(),
                    LoadKind::Power(power) => power.to_text(),
                    LoadKind::Resistance(resistance) => resistance.to_text(),
                }]
            }),
            Part::Link(index) => plan.links.get(index).map_or_else(Vec::new, |one| {
                let rating = one.rating.map(|rating| rating.to_text());
                vec![std::iter::once(one.kind.name().to_owned()).chain(rating).collect::<Vec<_>>().join(", ")]
            }),
            Part::Array(index) => plan.arrays.get(index).map_or_else(Vec::new, |one| {
                let modules = f64::from(one.strings.series) * f64::from(one.strings.parallel);
                let each = one.strings.module.power.get::<watt>();
                vec![format!("{} × {} W", plain(modules, 6), plain(each, 4))]
            }),
            Part::Panels(index) => {
                let array = plan.converters.get(index).and_then(|one| one.array);
                array.map_or_else(Vec::new, |(current, voltage)| {
                    vec![format!("{}, {}", voltage.to_text(), current.to_text())]
                })
            }
            _ => Vec::new(),
        }
    }
}

/// So many of the tags as fit, and how many more there are.
fn few(tags: &[Tag]) -> Vec<Tag> {
    if tags.len() <= MOST_TAGS {
        return tags.to_vec();
    }
    let rest: Vec<&Tag> = tags.iter().skip(MOST_TAGS).collect();
    let title: Vec<String> = rest.iter().map(|tag| format!("{} {}", tag.text, tag.title)).collect();
    let word = rest.first().map_or("caution", |tag| tag.word);
    let text = format!("+{}", rest.len());
    let names: Vec<&str> = rest.iter().map(|tag| tag.name.as_str()).collect();
    let name = format!("{text}: {}", names.join("; "));
    let target = rest.first().map_or_else(String::new, |tag| tag.target.clone());
    let more = Tag { text, word, title: title.join("\n"), target, name };
    tags.iter().take(MOST_TAGS).cloned().chain([more]).collect()
}

/// What each finding is about, as far as it is drawn.
fn tagged(judgement: &Judgement) -> BTreeMap<Part, Vec<Tag>> {
    let plan = &judgement.installation;
    let mut parts: BTreeMap<&str, Part> = BTreeMap::new();
    // What comes first keeps a name: a run before a device of the same name, a circuit last of all.
    for (index, run) in plan.runs.iter().enumerate() {
        let drawn = run.twin.filter(|twin| return_of(plan, *twin) == Some(index)).unwrap_or(index);
        parts.entry(&run.name).or_insert(Part::Run(drawn));
    }
    for (index, one) in plan.batteries.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Battery(index));
    }
    for (index, one) in plan.alternators.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Alternator(index));
    }
    for (index, one) in plan.converters.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Converter(index));
    }
    for (index, one) in plan.loads.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Load(index));
    }
    for (index, one) in plan.arrays.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Array(index));
    }
    for (index, one) in plan.links.iter().enumerate() {
        parts.entry(&one.name).or_insert(chassis_path(plan, index).map_or(Part::Link(index), Part::Run));
    }
    for (index, one) in plan.nodes.iter().enumerate() {
        parts.entry(&one.name).or_insert(Part::Node(index));
    }
    for (index, run) in plan.runs.iter().enumerate() {
        if let Some(circuit) = &run.circuit {
            let drawn = run.twin.filter(|twin| return_of(plan, *twin) == Some(index)).unwrap_or(index);
            parts.entry(circuit).or_insert(Part::Run(drawn));
        }
    }
    let mut tags: BTreeMap<Part, Vec<Tag>> = BTreeMap::new();
    for (finding, text) in judgement.findings.iter().zip(tags::of(&judgement.findings)) {
        // The terminal of a device is told at the device.
        let stem = finding.subject.rsplit_once('.').map_or("", |(stem, _)| stem);
        let terminal = parts.get(stem).filter(|part| !matches!(part, Part::Run(_) | Part::Node(_)));
        let part = match parts.get(finding.subject.as_str()) {
            Some(Part::Node(_)) | None => terminal.or(parts.get(finding.subject.as_str())),
            found => found,
        };
        if let Some(part) = part.filter(|_| finding.signal > Signal::Notice) {
            let title = format!("{}: {}", finding.rule, finding.message);
            let name = format!("{text}: {}, {}", finding.rule, finding.subject);
            let tag = Tag { target: text.clone(), text, word: finding.signal.word(), title, name };
            tags.entry(*part).or_default().push(tag);
        }
    }
    tags
}
