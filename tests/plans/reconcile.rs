//! Readings explained: small plans, with resistances, intervals, heat and slips by hand.

mod devices;
mod runs;
mod slips;
mod verdicts;
mod warmth;

use crate::support::judged;
use jiff::civil::Date;
use loomwright::installation::NodeId;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::volt;
use loomwright::quantity::uom::si::temperature_interval::kelvin;
use loomwright::quantity::{
    ElectricCurrent, ElectricPotential, TemperatureInterval, ThermodynamicTemperature, celsius,
};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::{
    Day, Inside, Measured, Point, Reading, Reconciliation, Segment, SegmentResult, Surface, reconcile,
};

/// Readings of a plan, line by line from 1, in air of 20 °C.
#[derive(Clone)]
struct Sheet<'a> {
    of: &'a Judgement,
    readings: Vec<Reading>,
    ambient: Option<ThermodynamicTemperature>,
    date: Option<Date>,
}

fn on(of: &Judgement) -> Sheet<'_> {
    Sheet { of, readings: Vec::new(), ambient: Some(celsius(20.0)), date: None }
}

fn run_of(of: &Judgement, name: &str) -> usize {
    of.installation.runs.iter().position(|run| run.name == name).unwrap_or_else(|| panic!("no run {name}"))
}

fn case_of(of: &Judgement, name: &str) -> usize {
    of.installation.cases.iter().position(|case| case.name == name).unwrap_or_else(|| panic!("no case {name}"))
}

fn point_of(of: &Judgement, name: &str) -> Point {
    if let Some((run, place)) = name.split_once('@') {
        let place = Inside::ALL.iter().copied().find(|one| one.name() == place).expect("a place inside a run");
        return Point::Run(run_of(of, run), place);
    }
    let node = of.installation.nodes.iter().position(|node| node.name == name);
    Point::Node(NodeId(node.unwrap_or_else(|| panic!("no node {name}"))))
}

impl Sheet<'_> {
    fn add(mut self, case: &str, measured: Measured) -> Self {
        let line = self.readings.len() + 1;
        let (case, ambient, date) = (case_of(self.of, case), self.ambient, self.date);
        self.readings.push(Reading { line, case, measured, ambient, date, assumed: false, note: String::new() });
        self
    }

    fn volts(self, case: &str, between: [&str; 2], value: f64, within: f64) -> Self {
        let between = between.map(|name| point_of(self.of, name));
        let [value, within] = [value, within].map(ElectricPotential::new::<volt>);
        self.add(case, Measured::Voltage { between, value, within })
    }

    fn amperes(self, case: &str, run: &str, value: f64, within: f64) -> Self {
        let run = run_of(self.of, run);
        let [value, within] = [value, within].map(ElectricCurrent::new::<ampere>);
        self.add(case, Measured::Current { run, value, within })
    }

    fn degrees(self, case: &str, at: &str, value: f64, surface: Surface) -> Self {
        let at = point_of(self.of, at);
        let within = TemperatureInterval::new::<kelvin>(1.0);
        self.add(case, Measured::Temperature { at, value: celsius(value), within, surface })
    }

    fn dated(self, date: Date) -> Self {
        Self { date: Some(date), ..self }
    }

    /// The same with another value in a line.
    fn spoilt(mut self, line: usize, read: f64) -> Self {
        match &mut self.readings[line - 1].measured {
            Measured::Voltage { value, .. } => *value = ElectricPotential::new::<volt>(read),
            Measured::Current { value, .. } => *value = ElectricCurrent::new::<ampere>(read),
            other => panic!("{other:?}"),
        }
        self
    }

    fn read(&self) -> Reconciliation {
        reconcile(self.of, &self.readings).expect("it can be explained")
    }

    /// The only day.
    fn day(&self) -> Day {
        let mut found = self.read();
        assert_eq!(found.days.len(), 1);
        found.days.remove(0)
    }
}

/// The piece of a name.
#[track_caller]
fn piece<'a>(of: &Judgement, day: &'a Day, name: &str) -> &'a SegmentResult {
    let found = day.segments.iter().find(|piece| piece.name(of) == name);
    found.unwrap_or_else(|| panic!("no {name}: {:?}", day.segments.iter().map(|one| one.name(of)).collect::<Vec<_>>()))
}

/// The piece that a segment is in.
fn holding(day: &Day, segment: Segment) -> Option<&SegmentResult> {
    day.segments.iter().find(|piece| piece.segments.contains(&segment))
}

const HEAD: &str = "format = 1\n[plan]\nname = \"Small plan (invented)\"\nplace = \"cabin\"\nsystem_voltage = \"12 V\"\n\
                    [zones.here]\nkind = \"hut\"\n";

fn battery(name: &str) -> String {
    format!("[batteries.{name}]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\nresistance = \"5 mohm\"\n")
}

fn load(name: &str, amperes: f64) -> String {
    format!("[loads.{name}]\ncurrent = \"{amperes} A\"\n")
}

fn run(name: &str, [from, to]: [&str; 2], metres: f64, made: &str, fuse: &str) -> String {
    format!(
        "[runs.\"{name}\"]\nfrom = \"{from}\"\nto = \"{to}\"\nroute = [\"{metres} m in here\"]\nconductor = \"{made}\"\n\
         install = \"free-air\"\nfuse = \"{fuse}\"\n"
    )
}

fn case(name: &str, loads: &[&str]) -> String {
    format!("[cases.{name}]\nengine = \"off\"\nbatteries = \"resting\"\nloads = {loads:?}\n")
}

/// A battery, a fused run, a lamp and its way back; the lamp is on in case `on`.
fn lamp(amperes: f64) -> Judgement {
    judged(
        &[
            HEAD,
            &battery("house"),
            &load("lamp", amperes),
            &run("feed", ["house.+", "lamp.+"], 3.0, "6 mm2", "30 A blade-c"),
            &run("back", ["lamp.-", "house.-"], 3.0, "6 mm2", "none"),
            &case("on", &["lamp"]),
        ]
        .concat(),
    )
}

const FEED: [&str; 2] = ["house.+", "lamp.+"];
const FUSE: [&str; 2] = ["house.+", "feed@fuse"];
