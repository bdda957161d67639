//! One size held against every check, electro-thermally consistent: the drop is that of the conductor
//! at its own working temperature.

use super::margin::{Check, Margin};
use super::{CableError, Circuit};
use crate::conductor::Conductor;
use crate::heat::{HeatError, HeatPath, Lay, Model, Transient};
use crate::practice::{TableCap, table_cap};
use crate::protection::{Fuse, OVERLOAD_FACTOR};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, LineResistance, Mass, Power, Ratio,
    ThermodynamicTemperature, in_mm2,
};
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// What happens in the circuit at its design current.
#[derive(Clone, Copy, Debug)]
pub struct OperatingPoint {
    /// Conductor temperature: steady, or the highest of the duty cycle.
    pub temperature: ThermodynamicTemperature,
    /// The temperature that the drop is computed at: the same, but for a duty cycle the conductor's limit.
    pub resistance_at: ThermodynamicTemperature,
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
    /// What the most cautious heat model permits.
    pub model_ampacity: ElectricCurrent,
    /// What each heat model that bears on the installation permits, all parallel conductors together.
    pub models: [Option<(Model, ElectricCurrent)>; 4],
    /// The current that the duty cycle may have, where one was asked for.
    pub duty_ampacity: Option<ElectricCurrent>,
    /// What the practice's table says, all parallel conductors together.
    pub table: TableCap,
    /// The operating point; `None` when no steady temperature of use exists.
    pub operating: Option<OperatingPoint>,
    /// The smallest fuse that carries the load; `None` when none does.
    pub fuse: Option<Fuse>,
    /// The checks that bear on the circuit.
    margins: [Option<Margin>; 7],
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
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
    /// use loomwright::study::cable::{CableQuery, Check, Load, size};
    /// let load = Load::Current(ElectricCurrent::from_text("10 A")?);
    /// let far = CableQuery::new(load, Length::from_text("20 m")?, ElectricPotential::from_text("12 V")?);
    /// let chosen = size(&far)?.chosen.ok_or("none passes")?;
    /// assert_eq!(chosen.binding().map(|margin| margin.check), Some(Check::VoltageDrop)); // 40 m of 10 A: not heat
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn binding(&self) -> Option<&Margin> {
        let counts = |margin: &&Margin| !margin.check.is_fit() || !margin.passes();
        self.margins().filter(counts).min_by(|one, other| one.margin.value.total_cmp(&other.margin.value))
    }

    /// The heat model that governs.
    pub fn governing_model(&self) -> Model {
        let least = self.models.iter().flatten().min_by(|one, other| one.1.value.total_cmp(&other.1.value));
        least.map_or(Model::Table, |(model, _)| *model)
    }

    /// Whether the practice's table, not the heat model, governs the ampacity.
    pub fn table_governs(&self) -> bool {
        matches!(self.table, TableCap::Capped(cap) if cap.ampacity < self.model_ampacity)
    }
}

/// What a conductor may carry, and what that rests on.
pub(super) struct Bearing {
    ampacity: ElectricCurrent,
    model: ElectricCurrent,
    models: [Option<(Model, ElectricCurrent)>; 4],
    table: TableCap,
    limit: ThermodynamicTemperature,
}

/// A conductor in its circuit, before the numbers are worked out.
pub(super) struct Trial<'a> {
    circuit: &'a Circuit,
    conductor: Conductor,
    parallel: u8,
    lay: Lay,
    path: HeatPath,
    /// Whether the stated conduit is too small, so that the path was taken in the smallest that is not.
    too_tight: bool,
}

impl<'a> Trial<'a> {
    /// `None` when the installation's table does not hold the size.
    pub(super) fn new(circuit: &'a Circuit, conductor: Conductor, parallel: u8) -> Result<Option<Self>, CableError> {
        let mut lay = circuit.lay(parallel);
        let too_tight = lay.bore.is_some_and(|bore| bore < lay.contents(&conductor));
        if too_tight {
            lay.bore = Some(lay.contents(&conductor));
        }
        match HeatPath::new(&conductor, &lay, circuit.ambient) {
            Ok(path) => Ok(Some(Self { circuit, conductor, parallel, lay, path, too_tight })),
            Err(HeatError::OutsideTable { .. } | HeatError::Grouping { .. } | HeatError::Together { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    /// Whether a single conductor of this size loses too much even when it is no warmer than the air, so that
    /// no heat path need be made.
    pub(super) fn hopeless(circuit: &Circuit, conductor: &Conductor) -> bool {
        let cable = conductor.resistance_at(circuit.ambient) * circuit.length * circuit.legs;
        (cable + circuit.chassis + circuit.joint_resistance) * circuit.current > circuit.drop_limit
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
            let mut models = [None; 4];
            let permitted = self.path.candidates(limit)?.map(|(model, each)| (model, each * self.conductors()));
            for (slot, found) in models.iter_mut().zip(permitted) {
                *slot = Some(found);
            }
            let least = models.iter().flatten().map(|(_, current): &(Model, ElectricCurrent)| *current);
            let model = least.reduce(|one, other| if other < one { other } else { one }).unwrap_or_default();
            let table = self.table(limit);
            let ampacity = match &table {
                TableCap::Capped(cap) if cap.ampacity < model => cap.ampacity,
                _ => model,
            };
            Ok(Bearing { ampacity, model, models, table, limit })
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
        match table_cap(circuit.practice, &self.conductor, &self.lay, limit, circuit.ambient) {
            TableCap::Capped(mut cap) => {
                cap.ampacity *= self.conductors();
                cap.at_30_c *= self.conductors();
                TableCap::Capped(cap)
            }
            TableCap::NoTable => TableCap::NoTable,
        }
    }

    /// The ampacity that the fuse must respect: with parallel conductors, that left when one leg opens; never more than the
    /// largest device that the practice prints for the size.
    fn protected_ampacity(&self, ampacity: ElectricCurrent) -> ElectricCurrent {
        let all = if self.parallel > 1 { ampacity * ((self.conductors() - 1.0) / self.conductors()) } else { ampacity };
        let printed = self.circuit.practice.largest_overcurrent(self.conductor.area);
        printed.filter(|printed| printed.value < all).map_or(all, |printed| printed.value)
    }

    /// Resistance of everything but the fuse, for a conductor resistance per metre.
    fn resistance(&self, per_metre: LineResistance) -> (ElectricalResistance, ElectricalResistance) {
        let legs = self.circuit.legs / self.conductors();
        (per_metre * self.circuit.length * legs, self.circuit.chassis + self.circuit.joint_resistance)
    }

    /// What happens at the design current; `None` without a temperature of use.
    fn operate(&self, limit: ThermodynamicTemperature, transient: Option<&Transient>) -> Option<OperatingPoint> {
        let circuit = self.circuit;
        let current = circuit.current;
        let each = current / self.conductors();
        // What pulses lose most is lost at their end, and at most at the limit.
        let (temperature, resistance_at) = match circuit.duty.zip(transient) {
            Some((duty, transient)) => (transient.settled_peak(&duty, each).ok()?, limit),
            None => {
                let steady = self.path.temperature(each).ok()?;
                (steady, steady)
            }
        };
        let hotter = if temperature > resistance_at { temperature } else { resistance_at };
        let (cable, rest) = self.resistance(self.conductor.resistance_at(hotter));
        let conductor_drop = cable * current;
        let fuse_drop = Circuit::fuse_drop_fully_loaded();
        let drop = conductor_drop + rest * current + fuse_drop;
        Some(OperatingPoint {
            temperature,
            resistance_at: hotter,
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
    fn largest_current(&self, most: ElectricCurrent, limit: ThermodynamicTemperature) -> ElectricCurrent {
        let circuit = self.circuit;
        let room = circuit.drop_limit - Circuit::fuse_drop_fully_loaded();
        let fixed = circuit.chassis + circuit.joint_resistance;
        let by_drop = if circuit.duty.is_some() {
            let (cable, rest) = self.resistance(self.conductor.resistance_at(limit));
            if room.value > 0.0 { room / (cable + rest) } else { ElectricCurrent::default() }
        } else {
            // Each of the parallel conductors carries its part, so what lies beside it counts as often.
            let each = self.path.current_at_drop(circuit.length * circuit.legs, fixed * self.conductors(), room);
            each * self.conductors()
        };
        if by_drop < most { by_drop } else { most }
    }

    /// The checks that need no drop.
    fn static_margins(
        &self,
        load: ElectricCurrent,
        ampacity: ElectricCurrent,
        fuse: Option<&Fuse>,
    ) -> [Option<Margin>; 6] {
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
                let operating = fuse.conventional_current();
                let overload = operating.map(|one| amperes(Check::FuseOverload, one, bears * OVERLOAD_FACTOR));
                (amperes(Check::FuseRating, fuse.rating, bears), overload)
            }
            None => (amperes(Check::FuseRating, circuit.current, ElectricCurrent::default()), None),
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
        let conduit = circuit.bore.map(|bore| {
            let contents = self.lay.contents(&self.conductor);
            let millimetres = |length: Length| length.get::<uom::si::length::millimeter>();
            Margin {
                check: Check::Conduit,
                measured: millimetres(contents),
                limit: millimetres(bore),
                unit: "mm",
                margin: if self.too_tight { bore / contents } else { (bore / contents).max(Ratio::new::<ratio>(1.0)) },
            }
        });
        let load = amperes(Check::Ampacity, circuit.current, load);
        [Some(load), Some(rating), overload, terminal, smallest, conduit]
    }

    /// What the size bears, unless it can be left out without working out its temperature and inverses.
    pub(super) fn promising(&self, fuse: Option<&Fuse>) -> Result<Option<Bearing>, CableError> {
        // A duty cycle bears more, but the fuse has to protect from the current that does not stop.
        let bearing = self.bearing()?;
        let load = if self.circuit.duty.is_some() { self.circuit.current } else { bearing.ampacity };
        let margins = self.static_margins(load, bearing.ampacity, fuse);
        Ok(margins.iter().flatten().all(Margin::passes).then_some(bearing))
    }

    /// Works out everything about this size.
    pub(super) fn work_out(&self) -> Result<Candidate, CableError> {
        self.work_out_from(self.bearing()?)
    }

    /// As [`work_out`](Self::work_out), with what the size bears known already.
    pub(super) fn work_out_from(&self, bearing: Bearing) -> Result<Candidate, CableError> {
        let circuit = self.circuit;
        let Bearing { ampacity, model, models, table, limit } = bearing;
        let fuse = circuit.selection.smallest_carrying(circuit.current);
        let transient = match circuit.duty {
            Some(_) => Some(Transient::new(&self.conductor, &self.lay, circuit.ambient)?),
            None => None,
        };
        let duty_ampacity = match circuit.duty.zip(transient.as_ref()) {
            Some((duty, transient)) => {
                let permitted = transient.permitted_current(&duty, limit)? * self.conductors();
                // What a table takes off the steady current it takes off this one too.
                Some(if model.value > 0.0 { permitted * (ampacity / model) } else { permitted })
            }
            None => None,
        };
        let operating = self.operate(limit, transient.as_ref());
        let statics = self.static_margins(duty_ampacity.unwrap_or(ampacity), ampacity, fuse.as_ref());
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
        let bearable = duty_ampacity.unwrap_or(ampacity);
        let most = if protected < bearable { protected } else { bearable };
        let largest_current = if never { ElectricCurrent::default() } else { self.largest_current(most, limit) };
        let length_alone = statics.iter().flatten().all(Margin::passes);
        let longest_run = match &operating {
            Some(point) if length_alone => self.longest_run(point),
            _ => Length::default(),
        };
        let [load, rating, overload, terminal, smallest, conduit] = statics;
        Ok(Candidate {
            conductor: self.conductor,
            parallel: self.parallel,
            conductor_limit: limit,
            ampacity,
            model_ampacity: model,
            models,
            duty_ampacity,
            table,
            operating,
            fuse,
            margins: [load, Some(drop), rating, overload, terminal, smallest, conduit],
            longest_run,
            largest_current,
            mass: self.conductor.mass(circuit.length * circuit.legs * self.conductors()),
        })
    }
}
