//! One size held against every check, electro-thermally consistent: the drop is that of the conductor
//! at its own working temperature.

use super::margin::{Check, Margin};
use super::{CableError, Circuit};
use crate::conductor::Conductor;
use crate::heat::{HeatError, HeatPath, Near, group_factor};
use crate::practice::{Cap, TableCap, table_cap};
use crate::protection::{Fuse, protection_margins};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, LineResistance, Mass, Power, Ratio,
    ThermodynamicTemperature, in_mm2,
};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// How close the largest current is worked out, as a share of itself; always from the passing side.
const CLOSE: f64 = 1e-7;

/// What happens in the circuit at its design current.
#[derive(Clone, Copy, Debug)]
pub struct OperatingPoint {
    /// Steady conductor temperature.
    pub temperature: ThermodynamicTemperature,
    /// Drop of the cable legs.
    pub conductor_drop: ElectricPotential,
    /// Drop of the chassis return.
    pub chassis_drop: ElectricPotential,
    /// Drop of the joints.
    pub joint_drop: ElectricPotential,
    /// Drop of the fuse with its holder, counted as fully loaded (80 mV) whatever its rating. A fuse steps
    /// to the next rating as load or heat grow, and the larger one drops less; so counted, more current
    /// or hotter air never asks for a smaller cable.
    pub fuse_drop: ElectricPotential,
    /// All drops together.
    pub drop: ElectricPotential,
    /// System voltage less the drop.
    pub load_voltage: ElectricPotential,
    /// Heat lost in cable, joints, fuse and chassis.
    pub loss: Power,
}

/// One size with everything that was found about it.
#[derive(Clone, Debug)]
pub struct Candidate {
    /// The conductor.
    pub conductor: Conductor,
    /// How many equal conductors in parallel make one leg.
    pub parallel: u8,
    /// The temperature that insulation and terminals permit.
    pub conductor_limit: ThermodynamicTemperature,
    /// What the conductor may carry continuously: the smaller of model and table.
    pub ampacity: ElectricCurrent,
    /// What the heat model permits.
    pub model_ampacity: ElectricCurrent,
    /// What the practice's table says, all parallel conductors together.
    pub table: TableCap,
    /// The operating point; `None` when no steady temperature of use exists.
    pub operating: Option<OperatingPoint>,
    /// The smallest fuse that carries the load; `None` when none does.
    pub fuse: Option<Fuse>,
    /// The checks that bear on the circuit.
    margins: [Option<Margin>; 6],
    /// The longest one-way run that this size allows within all limits, 1000 m at most; 0 when it fails at
    /// any length.
    pub longest_run: Length,
    /// The largest current that this size allows at this length; 0 when it fails at any current.
    pub largest_current: ElectricCurrent,
    /// Metal mass of all legs.
    pub mass: Mass,
}

impl Candidate {
    /// The checks that bear on the circuit.
    pub fn margins(&self) -> impl Iterator<Item = &Margin> {
        self.margins.iter().flatten()
    }

    /// Whether every check passes.
    pub fn passes(&self) -> bool {
        self.margins().all(Margin::passes)
    }

    /// The check with the smallest margin; whether the terminal or the smallest size just fits binds only
    /// when it fails.
    pub fn binding(&self) -> Option<&Margin> {
        let counts = |margin: &&Margin| !margin.check.is_fit() || !margin.passes();
        self.margins().filter(counts).min_by(|one, other| one.margin.value.total_cmp(&other.margin.value))
    }

    /// Whether the practice's table, not the heat model, governs the ampacity.
    pub fn table_governs(&self) -> bool {
        matches!(self.table, TableCap::Capped(cap) if cap.ampacity < self.model_ampacity)
    }
}

/// What a conductor may carry, and what that rests on.
struct Bearing {
    ampacity: ElectricCurrent,
    model: ElectricCurrent,
    table: TableCap,
    limit: ThermodynamicTemperature,
}

/// A conductor in its circuit, before the numbers are worked out.
pub(super) struct Trial<'a> {
    circuit: &'a Circuit,
    conductor: Conductor,
    parallel: u8,
    path: HeatPath,
}

impl<'a> Trial<'a> {
    /// `None` when the installation's table does not hold the size.
    pub(super) fn new(circuit: &'a Circuit, conductor: Conductor, parallel: u8) -> Result<Option<Self>, CableError> {
        match HeatPath::new(&conductor, circuit.installation, circuit.ambient, parallel) {
            Ok(path) => Ok(Some(Self { circuit, conductor, parallel, path })),
            Err(HeatError::OutsideTable { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    fn conductors(&self) -> f64 {
        f64::from(self.parallel)
    }

    /// What the conductor may carry, and why: the smaller of heat model and table, both at the lower of
    /// insulation class and terminals.
    fn bearing(&self) -> Result<Bearing, HeatError> {
        let circuit = self.circuit;
        let at = |terminal: ThermodynamicTemperature| {
            let limit = if terminal < circuit.insulation { terminal } else { circuit.insulation };
            let model = self.path.ampacity(limit)? * self.conductors();
            let table = self.table(limit);
            let ampacity = match &table {
                TableCap::Capped(cap) if cap.ampacity < model => cap.ampacity,
                _ => model,
            };
            Ok(Bearing { ampacity, model, table, limit })
        };
        let rule = &circuit.terminal_rule;
        if let Some((threshold, small)) = rule.small_circuits {
            let strict = at(small.value)?;
            if strict.ampacity < threshold {
                return Ok(strict);
            }
        }
        at(rule.usual.value)
    }

    /// What the practice's table permits at a conductor temperature, all parallel conductors together.
    fn table(&self, limit: ThermodynamicTemperature) -> TableCap {
        let circuit = self.circuit;
        let table = table_cap(circuit.practice, &self.conductor, circuit.installation, limit, circuit.ambient);
        let all = self.conductors() * group_factor(self.parallel).get::<ratio>();
        match table {
            TableCap::Capped(Cap { ampacity, at_30_c, source }) => {
                TableCap::Capped(Cap { ampacity: ampacity * all, at_30_c: at_30_c * all, source })
            }
            other => other,
        }
    }

    /// The ampacity that the fuse must respect: with parallel conductors, that left when one leg opens.
    fn protected_ampacity(&self, ampacity: ElectricCurrent) -> ElectricCurrent {
        if self.parallel > 1 { ampacity * ((self.conductors() - 1.0) / self.conductors()) } else { ampacity }
    }

    /// Resistance of everything but the fuse, for a conductor resistance per metre.
    fn resistance(&self, per_metre: LineResistance) -> (ElectricalResistance, ElectricalResistance) {
        let legs = self.circuit.legs / self.conductors();
        (per_metre * self.circuit.length * legs, self.circuit.chassis + self.circuit.joint_resistance)
    }

    /// A lower bound of the drop that needs no heat balance: the conductor no warmer than its ambient.
    pub(super) fn least_drop(&self) -> ElectricPotential {
        let (cable, rest) = self.resistance(self.conductor.resistance_at(self.circuit.ambient));
        (cable + rest) * self.circuit.current
    }

    /// What happens at a current; `None` without a steady temperature of use.
    fn operate(&self, current: ElectricCurrent, near: &Near) -> Option<OperatingPoint> {
        let circuit = self.circuit;
        let temperature = self.path.temperature_near(current / self.conductors(), near).ok()?;
        let (cable, rest) = self.resistance(self.conductor.resistance_at(temperature));
        let conductor_drop = cable * current;
        let fuse_drop = Circuit::fuse_drop_fully_loaded();
        let drop = conductor_drop + rest * current + fuse_drop;
        Some(OperatingPoint {
            temperature,
            conductor_drop,
            chassis_drop: circuit.chassis * current,
            joint_drop: circuit.joint_resistance * current,
            fuse_drop,
            drop,
            load_voltage: circuit.voltage - drop,
            loss: drop * current,
        })
    }

    /// The longest run at the design current, when nothing but the length can fail.
    fn longest_run(&self, point: &OperatingPoint) -> Length {
        let circuit = self.circuit;
        let rest = point.joint_drop + point.chassis_drop;
        let room = circuit.drop_limit - rest - point.fuse_drop;
        let per_metre = point.conductor_drop / circuit.length;
        let longest = Length::new::<uom::si::length::meter>(super::circuit::LONGEST_M);
        let found = if room.value > 0.0 { room / per_metre } else { Length::default() };
        if found < longest { found } else { longest }
    }

    /// The largest current at the circuit's length, given what ampacity and fuse leave.
    fn largest_current(&self, most: ElectricCurrent, known: Option<&OperatingPoint>) -> ElectricCurrent {
        let limit = self.circuit.drop_limit;
        let near = Near::default();
        let spare = |current: f64| {
            let point = self.operate(ElectricCurrent::new::<ampere>(current), &near);
            point.map_or(-1e3, |point| (limit - point.drop).value.max(-1e3))
        };
        let most_a = most.get::<ampere>();
        let design = known.map(|point| (self.circuit.current.get::<ampere>(), (limit - point.drop).value));
        // Spare volts fall steadily with current: close in from both ends by the Illinois rule, starting
        // from the design current, whose drop is known already.
        let (mut low, mut high) = match design {
            Some(design) if design.1 < 0.0 && design.0 < most_a => ((0.0, limit.value), design),
            _ => {
                let at_most = spare(most_a);
                if most_a <= 0.0 || at_most >= 0.0 {
                    return most;
                }
                (design.filter(|design| design.1 >= 0.0).unwrap_or((0.0, limit.value)), (most_a, at_most))
            }
        };
        // The first aim takes the drop as proportional to current, which it nearly is.
        let mut aim = design.map(|(current, spare)| current * limit.value / (limit.value - spare));
        let mut last_passed = None;
        for _ in 0..60 {
            if high.0 - low.0 <= CLOSE * high.0 {
                break;
            }
            // Aim a hair below the crossing, so that the passing side closes in too.
            let crossing = low.0 + (high.0 - low.0) * low.1 / (low.1 - high.1) - 0.5 * CLOSE * high.0;
            let straight = aim.take().unwrap_or(crossing);
            let middle = if straight > low.0 && straight < high.0 { straight } else { 0.5 * (low.0 + high.0) };
            let found = spare(middle);
            if found >= 0.0 {
                low = (middle, found);
                // An end that stands still twice weighs half.
                if last_passed == Some(true) {
                    high.1 *= 0.5;
                }
                if found <= CLOSE * limit.value {
                    break;
                }
            } else {
                high = (middle, found);
                if last_passed == Some(false) {
                    low.1 *= 0.5;
                }
            }
            last_passed = Some(found >= 0.0);
        }
        ElectricCurrent::new::<ampere>(low.0)
    }

    /// The checks that need no drop.
    fn static_margins(&self, ampacity: ElectricCurrent, fuse: Option<&Fuse>) -> [Option<Margin>; 5] {
        let circuit = self.circuit;
        let amperes = |check, measured: ElectricCurrent, limit: ElectricCurrent| Margin {
            check,
            measured: measured.get::<ampere>(),
            limit: limit.get::<ampere>(),
            unit: "A",
            margin: limit / measured,
        };
        let bears = self.protected_ampacity(ampacity);
        let (rating, overload) = match fuse {
            Some(fuse) => {
                let (rating_margin, overload_margin) = protection_margins(fuse, bears);
                let overload = overload_margin.zip(fuse.conventional_current()).map(|(margin, operating)| Margin {
                    margin,
                    ..amperes(Check::FuseOverload, operating, bears * crate::protection::OVERLOAD_FACTOR)
                });
                (Margin { margin: rating_margin, ..amperes(Check::FuseRating, fuse.rating, bears) }, overload)
            }
            None => {
                let none = amperes(Check::FuseRating, circuit.current, ElectricCurrent::default());
                (Margin { margin: Ratio::default(), ..none }, None)
            }
        };
        let area = self.conductor.area;
        let square_millimetres =
            |check, measured: f64, limit: f64, margin: Ratio| Margin { check, measured, limit, unit: "mm²", margin };
        let terminal = circuit.terminal_area.map(|accepted| {
            let all = area * self.conductors();
            square_millimetres(Check::Terminal, in_mm2(all), in_mm2(accepted), accepted / all)
        });
        let smallest = circuit.smallest_conductor.map(|least| {
            square_millimetres(Check::SmallestConductor, in_mm2(area), in_mm2(least.value), area / least.value)
        });
        [Some(amperes(Check::Ampacity, circuit.current, ampacity)), Some(rating), overload, terminal, smallest]
    }

    /// Whether the size can be left out without working out its drop and inverses.
    pub(super) fn fails_early(&self, fuse: Option<&Fuse>) -> Result<bool, CableError> {
        if self.least_drop() > self.circuit.drop_limit {
            return Ok(true);
        }
        let ampacity = self.bearing()?.ampacity;
        Ok(self.static_margins(ampacity, fuse).iter().flatten().any(|margin| !margin.passes()))
    }

    /// Works out everything about this size.
    pub(super) fn work_out(&self) -> Result<Candidate, CableError> {
        let circuit = self.circuit;
        let Bearing { ampacity, model, table, limit } = self.bearing()?;
        let fuse = circuit.selection.smallest_carrying(circuit.current);
        let operating = self.operate(circuit.current, &Near::default());
        let statics = self.static_margins(ampacity, fuse.as_ref());
        let drop = Margin {
            check: Check::VoltageDrop,
            measured: operating.map_or(f64::INFINITY, |point| point.drop.value),
            limit: circuit.drop_limit.value,
            unit: "V",
            margin: operating.map_or(Ratio::default(), |point| circuit.drop_limit / point.drop),
        };
        // What no shorter run and no smaller current can mend.
        let never = statics.iter().flatten().any(|margin| margin.check.is_fit() && !margin.passes());
        let bears = self.protected_ampacity(ampacity);
        let protected = circuit.selection.largest_protected(bears);
        let most = if protected < ampacity { protected } else { ampacity };
        let largest_current =
            if never { ElectricCurrent::default() } else { self.largest_current(most, operating.as_ref()) };
        let length_alone = statics.iter().flatten().all(Margin::passes);
        let longest_run = match &operating {
            Some(point) if length_alone => self.longest_run(point),
            _ => Length::default(),
        };
        let [load, rating, overload, terminal, smallest] = statics;
        Ok(Candidate {
            conductor: self.conductor,
            parallel: self.parallel,
            conductor_limit: limit,
            ampacity,
            model_ampacity: model,
            table,
            operating,
            fuse,
            margins: [load, Some(drop), rating, overload, terminal, smallest],
            longest_run,
            largest_current,
            mass: self.conductor.mass(circuit.length * circuit.legs * self.conductors()),
        })
    }
}
