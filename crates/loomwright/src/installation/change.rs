//! Typed edits of a plan: what a remedy applies before it asks again.

use super::{ConductorChoice, Cut, FuseChoice, Installation, Laying, Node, NodeId, Run, Segment, Terminal};
use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::protection::Fuse;
use crate::quantity::{Area, ElectricCurrent, ElectricPotential, Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

/// One edit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Another conductor for a run and its twin.
    Conductor(usize, Conductor),
    /// Another fuse in a run.
    Fuse(usize, Fuse),
    /// Another routed length for a run and its twin, spread over its zones as before.
    Length(usize, Length),
    /// Another output current setting of a converter.
    OutputCurrent(usize, ElectricCurrent),
    /// Another output voltage of a converter.
    OutputVoltage(usize, ElectricPotential),
    /// Another float voltage of a charger.
    FloatVoltage(usize, ElectricPotential),
    /// Another equalisation voltage of a charger, or none.
    Equalise(usize, Option<ElectricPotential>),
    /// Another change of a charger's voltages with each kelvin; none at all where it is zero.
    Compensation(usize, ElectricPotential),
    /// An ignition or D+ signal for a charger.
    RunningSignal(usize),
    /// A resistor through which a converter's input capacitors are charged first.
    PreCharge(usize),
    /// A reducing pin of that cross-section at the start (0) or end (1) of a run and its twin.
    Pin(usize, usize, Area),
    /// A second conductor of that kind and size beside a run and its twin, which take it too.
    Beside(usize, Conductor),
    /// A busbar at the start (0) or end (1) of a run and its twin, and a short tail of that conductor on to what was there.
    Bar(usize, usize, Conductor),
}

impl Installation {
    /// The plan with one edit applied; an index that does not exist changes nothing.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{installation::Change, quantity::{CrossSection, FromText}, study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let larger = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
    /// let changed = judge(&plan.with(&Change::Conductor(0, larger)))?.record();
    /// assert_eq!(changed.runs[0].csa_mm2, 35.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with(&self, change: &Change) -> Self {
        let mut changed = self.clone();
        match *change {
            Change::Conductor(run, conductor) => {
                for index in self.run_and_twin(run) {
                    if let Some(run) = changed.runs.get_mut(index) {
                        run.conductor = ConductorChoice::Fixed(conductor);
                    }
                }
            }
            Change::Fuse(run, fuse) => {
                if let Some(run) = changed.runs.get_mut(run) {
                    run.fuse = FuseChoice::Fixed(fuse);
                    // Another part than the one whose sheet the plan gives.
                    run.sheet = None;
                }
            }
            Change::Length(run, length) => {
                for index in self.run_and_twin(run) {
                    if let Some(run) = changed.runs.get_mut(index) {
                        let scale: Ratio = length / run.route();
                        if scale.get::<ratio>().is_finite() {
                            run.segments.iter_mut().for_each(|segment| segment.length *= scale.get::<ratio>());
                        }
                    }
                }
            }
            Change::OutputCurrent(converter, current) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.output_current = Some(current);
                }
            }
            Change::OutputVoltage(converter, voltage) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.output_voltage = voltage;
                }
            }
            Change::FloatVoltage(converter, voltage) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.float_voltage = Some(voltage);
                }
            }
            Change::Equalise(converter, voltage) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.equalise_voltage = voltage;
                }
            }
            Change::Compensation(converter, voltage) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.voltage_per_kelvin = Some(voltage);
                }
            }
            Change::PreCharge(converter) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.pre_charge = true;
                }
            }
            Change::Pin(run, end, to) => {
                for index in self.run_and_twin(run) {
                    let pins = changed.runs.get_mut(index).map(|run| &mut run.pins);
                    if let Some(pin) = pins.and_then(|pins| pins.get_mut(end)) {
                        *pin = Some(to);
                    }
                }
            }
            Change::Beside(run, conductor) => changed.lay_beside(run, conductor),
            Change::Bar(run, end, tail) => changed.put_bar(run, end, tail),
            Change::RunningSignal(converter) => {
                if let Some(converter) = changed.converters.get_mut(converter) {
                    converter.running_signal = true;
                }
            }
        }
        changed
    }

    fn lay_beside(&mut self, run: usize, conductor: Conductor) {
        let legs: Vec<usize> = self.run_and_twin(run).collect();
        let first = self.runs.len();
        for (count, leg) in legs.iter().enumerate() {
            let Some(of) = self.runs.get_mut(*leg) else { continue };
            of.conductor = ConductorChoice::Fixed(conductor);
            let second = Run {
                name: format!("{} second", of.name),
                circuit: of.circuit.as_ref().map(|circuit| format!("{circuit} second")),
                twin: (legs.len() == 2).then_some(first + 1 - count),
                ..of.clone()
            };
            self.runs.push(second);
        }
    }

    fn put_bar(&mut self, run: usize, end: usize, tail: Conductor) {
        let legs: Vec<usize> = self.run_and_twin(run).collect();
        let first = self.runs.len();
        for (count, leg) in legs.iter().enumerate() {
            let bar = NodeId(self.nodes.len());
            let Some(of) = self.runs.get_mut(*leg) else { continue };
            let Some(segment) = (if end == 0 { of.segments.first() } else { of.segments.last() }).copied() else {
                continue;
            };
            let length = Length::new::<meter>(constants::BAR_TAIL_M);
            let (from, to) = if end == 0 { (of.from, bar) } else { (bar, of.to) };
            let tail = Run {
                name: format!("{} tail", of.name),
                circuit: of.circuit.as_ref().map(|circuit| format!("{circuit} tail")),
                twin: (legs.len() == 2).then_some(first + 1 - count),
                from,
                to,
                segments: vec![Segment { length, ..segment }],
                // Its length is that of the piece.
                cut: Cut { share: 0.0, ends: Length::default() },
                conductor: ConductorChoice::Fixed(tail),
                fuse: FuseChoice::None,
                sheet: None,
                fuse_distance: Length::default(),
                pins: [None; 2],
                laying: Laying::default(),
                ..of.clone()
            };
            let device =
                if end == 0 { std::mem::replace(&mut of.from, bar) } else { std::mem::replace(&mut of.to, bar) };
            if let Some(pin) = of.pins.get_mut(end) {
                *pin = None;
            }
            let beside = self.nodes.get(device.0);
            self.nodes.push(Node {
                name: format!("bar beside {}", beside.map_or("", |node| node.name.as_str())),
                terminal: Terminal {
                    temperature: beside.and_then(|node| node.terminal.temperature),
                    ..Terminal::default()
                },
                second_terminal: None,
                zone: Some(segment.zone),
                rating: None,
                ignition_protected: beside.is_some_and(|node| node.ignition_protected),
            });
            self.runs.push(tail);
        }
    }

    /// A run's index and that of its other leg.
    ///
    /// ```
    /// use loomwright::text::read_plan;
    /// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let run = plan.runs.iter().position(|run| run.twin.is_some()).expect("the lamp's circuit has two legs");
    /// assert_eq!(plan.run_and_twin(run).count(), 2);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn run_and_twin(&self, run: usize) -> impl Iterator<Item = usize> {
        let twin = self.runs.get(run).and_then(|run| run.twin);
        std::iter::once(run).chain(twin)
    }
}
