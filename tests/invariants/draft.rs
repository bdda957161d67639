//! Random plans that are sound to read and of which every number is known, so that one of them can be changed: a battery
//! between two bars, sometimes an alternator, sometimes a board further on, and loads of all kinds.

use loomwright::installation::Installation;
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;
use proptest::prelude::*;
use proptest::sample::select;

/// How numbers are written: the same plan in other units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Metres, degrees Celsius, watts, ampere hours.
    Metric,
    /// Feet and inches, degrees Fahrenheit, kilowatts, milliampere hours.
    Customary,
}

impl Units {
    fn length(self, metres: f64) -> String {
        match self {
            Self::Metric => format!("{metres} m"),
            Self::Customary if metres < 0.5 => format!("{} in", metres / 0.0254),
            Self::Customary => format!("{} ft", metres / 0.3048),
        }
    }

    fn temperature(self, degrees: f64) -> String {
        match self {
            Self::Metric => format!("\"{degrees} °C\""),
            Self::Customary => format!("\"{} °F\"", degrees * 1.8 + 32.0),
        }
    }

    fn scaled(self, value: f64, [unit, other]: [&str; 2], factor: f64) -> String {
        match self {
            Self::Metric => format!("\"{value} {unit}\""),
            Self::Customary => format!("\"{} {other}\"", value * factor),
        }
    }
}

/// A conductor, or both legs of a circuit.
#[derive(Clone, Debug)]
pub struct Wire {
    length_m: f64,
    /// Stretches that the way is written as: the same zone and method, so they are one stretch all the same.
    pieces: Vec<f64>,
    zone: usize,
    size: &'static str,
    install: &'static str,
    fuse: &'static str,
}

/// What a load draws.
#[derive(Clone, Copy, Debug)]
enum Draws {
    Watts(f64),
    Amperes(f64),
    /// Given by the watts at nominal voltage.
    Ohms(f64),
}

#[derive(Clone, Debug)]
struct Consumer {
    draws: Draws,
    on_board: bool,
    /// Over what it draws running.
    inrush: Option<f64>,
    wire: Wire,
}

/// A plan.
#[derive(Clone, Debug)]
pub struct Draft {
    place: &'static str,
    practice: &'static str,
    system_v: f64,
    chemistry: &'static str,
    capacity_ah: f64,
    battery_mohm: f64,
    insulation_c: f64,
    hottest_c: [f64; 2],
    lead: Wire,
    alternator: Option<(f64, Wire)>,
    board: Option<Wire>,
    consumers: Vec<Consumer>,
    pub units: Units,
}

/// A table of a plan file: its head and its lines.
#[derive(Clone, Debug)]
pub struct Table {
    pub head: String,
    pub keys: Vec<String>,
}

impl Table {
    fn new(head: &str, keys: &[(&str, String)]) -> Self {
        Self { head: head.to_owned(), keys: keys.iter().map(|(key, value)| format!("{key} = {value}")).collect() }
    }
}

/// Tables as a plan file.
pub fn written(tables: &[Table]) -> String {
    let table = |table: &Table| format!("[{}]\n{}\n", table.head, table.keys.join("\n"));
    format!("format = 1\n{}", tables.iter().map(table).collect::<String>())
}

/// A plan as it is read.
pub fn read(text: &str) -> Installation {
    read_plan(text).unwrap_or_else(|errors| panic!("{errors:#?}\n{text}"))
}

fn quoted(text: &str) -> String {
    format!("\"{text}\"")
}

impl Wire {
    fn keys(&self, units: Units) -> Vec<(&'static str, String)> {
        let whole: f64 = self.pieces.iter().sum();
        let stretch = |piece: &f64| format!("\"{} in z{}\"", units.length(self.length_m * piece / whole), self.zone);
        let route = self.pieces.iter().map(stretch).collect::<Vec<_>>().join(", ");
        vec![
            ("route", format!("[{route}]")),
            ("conductor", quoted(self.size)),
            ("install", quoted(self.install)),
            ("fuse", quoted(self.fuse)),
        ]
    }

    fn table(&self, head: &str, ends: &[(&'static str, &str)], units: Units) -> Table {
        let ends = ends.iter().map(|(key, node)| (*key, quoted(node)));
        Table::new(head, &ends.chain(self.keys(units)).collect::<Vec<_>>())
    }

    fn unfused(&self) -> Self {
        Self { fuse: "none", ..self.clone() }
    }
}

impl Draft {
    /// Its tables, in the order in which people write them.
    pub fn tables(&self) -> Vec<Table> {
        let units = self.units;
        let volts = |volts: f64| units.scaled(volts, ["V", "mV"], 1e3);
        let mut tables = vec![
            Table::new(
                "plan",
                &[
                    ("name", quoted("Random plan (invented)")),
                    ("place", quoted(self.place)),
                    ("practice", quoted(self.practice)),
                    ("system_voltage", volts(self.system_v)),
                ],
            ),
            Table::new("defaults", &[("insulation", units.temperature(self.insulation_c))]),
            Table::new(
                "batteries.house",
                &[
                    ("chemistry", quoted(self.chemistry)),
                    ("capacity", units.scaled(self.capacity_ah, ["Ah", "mAh"], 1e3)),
                    ("resistance", units.scaled(self.battery_mohm, ["mohm", "ohm"], 1e-3)),
                ],
            ),
            Table::new("busbars.plus", &[]),
            Table::new("busbars.minus", &[]),
            self.lead.table("runs.lead", &[("from", "house.+"), ("to", "plus")], units),
            self.lead.unfused().table("runs.back", &[("from", "minus"), ("to", "house.-")], units),
        ];
        for (zone, hottest) in self.hottest_c.iter().enumerate() {
            let keys = [("kind", quoted("hut")), ("hottest", units.temperature(*hottest))];
            tables.push(Table::new(&format!("zones.z{zone}"), &keys));
        }
        if let Some((rating, wire)) = &self.alternator {
            tables.push(Table::new(
                "alternators.engine",
                &[("rating", units.scaled(*rating, ["A", "kA"], 1e-3)), ("suppressed", "true".to_owned())],
            ));
            tables.push(wire.table("runs.generation", &[("from", "plus"), ("to", "engine.+")], units));
            tables.push(wire.unfused().table("runs.ground", &[("from", "engine.-"), ("to", "minus")], units));
        }
        // Nobody has a board with nothing on it.
        let board = self.board.as_ref().filter(|_| self.consumers.iter().any(|one| one.on_board));
        if let Some(wire) = board {
            tables.push(Table::new("busbars.board", &[]));
            tables.push(Table::new("busbars.frame", &[]));
            tables.push(wire.table("runs.feeder", &[("from", "plus"), ("to", "board")], units));
            tables.push(wire.unfused().table("runs.frame-back", &[("from", "frame"), ("to", "minus")], units));
        }
        for (number, one) in self.consumers.iter().enumerate() {
            let draws = match one.draws {
                Draws::Watts(watts) => ("power", units.scaled(watts, ["W", "kW"], 1e-3)),
                Draws::Amperes(amperes) => ("current", units.scaled(amperes, ["A", "mA"], 1e3)),
                Draws::Ohms(watts) => {
                    ("resistance", units.scaled(self.system_v * self.system_v / watts, ["ohm", "mohm"], 1e3))
                }
            };
            let running = match one.draws {
                Draws::Amperes(amperes) => amperes,
                Draws::Watts(watts) | Draws::Ohms(watts) => watts / self.system_v,
            };
            let inrush = one.inrush.map(|inrush| ("inrush", units.scaled(inrush * running, ["A", "mA"], 1e3)));
            let keys: Vec<_> = [draws].into_iter().chain(inrush).collect();
            tables.push(Table::new(&format!("loads.l{number}"), &keys));
            let further = one.on_board && board.is_some();
            let [from, back] = if further { ["board", "frame"] } else { ["plus", "minus"] };
            let ends = [("from", from), ("return", back), ("to", &format!("l{number}"))];
            tables.push(one.wire.table(&format!("circuits.c{number}"), &ends, units));
        }
        tables
    }

    /// The same with every way written as one stretch.
    pub fn whole(&self) -> Self {
        let mut whole = self.clone();
        let boards = whole.board.iter_mut().chain(whole.alternator.iter_mut().map(|(_, wire)| wire));
        let wires = boards.chain(whole.consumers.iter_mut().map(|one| &mut one.wire)).chain([&mut whole.lead]);
        wires.for_each(|wire| wire.pieces = vec![1.0]);
        whole
    }

    pub fn text(&self) -> String {
        written(&self.tables())
    }

    /// The plan; these are never refused.
    pub fn plan(&self) -> Installation {
        read(&self.text())
    }

    /// The plan as judged; `None` when a network of it cannot be computed.
    pub fn judged(&self) -> Option<Judgement> {
        judge(&self.plan()).ok()
    }
}

/// From 0.3 to 12 m, evenly over the decades, as one stretch or several.
fn wire(
    sizes: &'static [&'static str],
    fuses: &'static [&'static str],
    lengths: std::ops::Range<f64>,
) -> impl Strategy<Value = Wire> {
    let pieces = prop_oneof![3 => Just(vec![1.0]), 1 => prop::collection::vec(0.2..1.0_f64, 2..4)];
    (lengths, pieces, 0..2_usize, select(sizes), select(loomwright::heat::Installation::NAMES), select(fuses)).prop_map(
        |(length, pieces, zone, size, install, fuse)| Wire {
            length_m: 10_f64.powf(length),
            pieces,
            zone,
            size,
            install,
            fuse,
        },
    )
}

const THICK: [&str; 6] = ["16 mm2", "25 mm2", "35 mm2", "50 mm2", "70 mm2", "95 mm2"];
const THICK_FUSES: [&str; 6] =
    ["100 A strip-sf51", "150 A strip-sf51", "200 A class-t", "150 A class-t", "80 A class-t", "250 A strip-sf51"];
const THIN: [&str; 6] = ["1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2"];
const THIN_FUSES: [&str; 7] =
    ["10 A blade-c", "15 A blade-c", "20 A blade-c", "30 A blade-c", "40 A blade-c", "60 A blade-e", "20 A class-t"];

fn consumer() -> impl Strategy<Value = Consumer> {
    let draws = (0..3, 0.5..2.6_f64).prop_map(|(kind, watts)| match (kind, 10_f64.powf(watts)) {
        (0, watts) => Draws::Watts(watts),
        (1, watts) => Draws::Amperes(watts / 12.0),
        (_, watts) => Draws::Ohms(watts),
    });
    let inrush = prop::option::weighted(0.2, 1.5..6.0_f64);
    (draws, any::<bool>(), inrush, wire(&THIN, &THIN_FUSES, -0.5..1.1))
        .prop_map(|(draws, on_board, inrush, wire)| Consumer { draws, on_board, inrush, wire })
}

/// Any plan with every size and fuse stated.
pub fn draft() -> impl Strategy<Value = Draft> {
    let thick = || wire(&THICK, &THICK_FUSES, -0.5..0.7);
    let rules = (
        select(vec!["vehicle", "boat", "cabin"]),
        select(loomwright::practice::Practice::NAMES),
        select(vec![12.0, 12.0, 24.0]),
    );
    let battery = (select(vec!["agm", "flooded", "lithium-iron-phosphate"]), 40.0..400.0_f64, 0.3..1.5_f64);
    let heat = (60.0..110.0_f64, [15.0..55.0_f64, 15.0..55.0_f64]);
    let wires = (
        thick(),
        prop::option::weighted(0.4, (40.0..160.0_f64, thick())),
        prop::option::weighted(0.5, thick()),
        prop::collection::vec(consumer(), 1..4),
    );
    (rules, battery, heat, wires).prop_map(|(rules, battery, heat, wires)| Draft {
        place: rules.0,
        practice: rules.1,
        system_v: rules.2,
        chemistry: battery.0,
        capacity_ah: battery.1,
        battery_mohm: 10_f64.powf(battery.2),
        insulation_c: heat.0,
        hottest_c: heat.1,
        lead: wires.0,
        alternator: wires.1,
        board: wires.2,
        consumers: wires.3,
        units: Units::Metric,
    })
}

/// Plans in which every size and fuse is still to be chosen.
pub fn open_draft() -> impl Strategy<Value = Draft> {
    draft().prop_map(|mut draft| {
        let open = |wire: &mut Wire| (wire.size, wire.fuse) = ("auto", "auto");
        open(&mut draft.lead);
        draft.alternator.iter_mut().for_each(|(_, wire)| open(wire));
        draft.board.iter_mut().for_each(open);
        draft.consumers.iter_mut().for_each(|one| open(&mut one.wire));
        draft
    })
}
