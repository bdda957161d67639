//! The question resolved: every value stated or defaulted, and the defaults remembered.

use super::{CableError, CableQuery, DropLimit, Joints, Load, ReturnPath};
use crate::conductor::{Kind, Material, series};
use crate::data::tables::constants;
use crate::fitting::contact_resistance;
use crate::heat::{Duty, Installation, Lay, Others};
use crate::practice::{Limit, Practice, TerminalRule};
use crate::protection::Selection;
use crate::quantity::{
    Area, CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, ThermodynamicTemperature,
    ToText, celsius, in_celsius, in_mm2,
};
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// A circuit with every value resolved.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// The question it came from.
    pub query: CableQuery,
    /// Design current.
    pub current: ElectricCurrent,
    /// One-way length.
    pub length: Length,
    /// System voltage.
    pub voltage: ElectricPotential,
    /// Permitted drop in volts.
    pub drop_limit: ElectricPotential,
    /// Hottest ambient.
    pub ambient: ThermodynamicTemperature,
    /// Insulation class.
    pub insulation: ThermodynamicTemperature,
    /// Conductor kind.
    pub kind: Kind,
    /// Conductor material.
    pub material: Material,
    /// How the conductor lies.
    pub installation: Installation,
    /// Loaded conductors together, both legs counted, with one conductor in each leg.
    pub together: u16,
    /// Bore of the conduit, when it is known.
    pub bore: Option<Length>,
    /// The part of the time that the current flows.
    pub duty: Option<Duty>,
    /// Number of cable legs: 2, or 1 with a chassis return.
    pub legs: f64,
    /// Resistance of the chassis return; zero without one.
    pub chassis: ElectricalResistance,
    /// Whether the chassis carries the return.
    pub chassis_return: bool,
    /// The joints.
    pub joints: Joints,
    /// Resistance of all joints but the fuse.
    pub joint_resistance: ElectricalResistance,
    /// The largest area that the terminals accept.
    pub terminal_area: Option<Area>,
    /// Terminal temperature rule, or the stated limit.
    pub terminal_rule: TerminalRule,
    /// The rule set.
    pub practice: Practice,
    /// The smallest conductor that it permits.
    pub smallest_conductor: Option<Limit<Area>>,
    /// The highest voltage the circuit sees while charging.
    pub highest_voltage: ElectricPotential,
    /// The fuses that may be chosen.
    pub selection: Selection,
}

/// Lugs on studs in a circuit when nothing is said: one at each end of both legs.
const USUAL_LUGS: u16 = 4;

/// Longest one-way run that is accepted, and reported.
pub(super) const LONGEST_M: f64 = 1e3;

fn accept(ok: bool, what: &'static str, given: impl ToText, accepted: &'static str) -> Result<(), CableError> {
    if ok { Ok(()) } else { Err(CableError::OutOfRange { what, given: given.to_text(), accepted }) }
}

impl Circuit {
    /// Checks every value and fills in the defaults of PRACTICE.
    pub(super) fn resolve(query: &CableQuery) -> Result<Self, CableError> {
        let within = |value: f64, low: f64, high: f64| (low..=high).contains(&value);
        let kind = query.kind.unwrap_or(Kind::Iec5);
        let material = query.material.unwrap_or(Material::Copper);
        if kind.is_solid() {
            return Err(CableError::SolidConductor { kind: kind.name() });
        }
        if material == Material::MildSteel {
            return Err(CableError::NotACable { material: material.name() });
        }
        if series(kind, material).next().is_none() {
            return Err(crate::conductor::material_not_in_kind(kind, material).into());
        }
        let voltage = query.voltage;
        accept(
            within(voltage.value, 5.0, 60.0),
            "a system voltage",
            voltage,
            "5 V to 60 V DC, the nominal voltage of the system",
        )?;
        let length = query.length;
        accept(within(length.value, 1e-3, LONGEST_M), "a one-way length", length, "1 mm to 1000 m, for example 5.5 m")?;
        let current = match query.load {
            Load::Current(current) => current,
            Load::Power { power, lowest_voltage } => {
                accept(power.value > 0.0 && power.value <= 6e5, "a power", power, "above 0 W, at most 600 kW")?;
                let fits = lowest_voltage.value > 0.25 * voltage.value && lowest_voltage.value < voltage.value;
                accept(fits, "a lowest voltage", lowest_voltage, "above a quarter of the system voltage and below it")?;
                power / lowest_voltage
            }
        };
        accept(current.value > 0.0 && current.value <= 5e3, "a current", current, "above 0 A, at most 5000 A")?;
        let drop = query
            .drop
            .unwrap_or(DropLimit::Share(crate::quantity::Ratio::new::<uom::si::ratio::ratio>(constants::DROP_SHARE)));
        let drop_limit = match drop {
            DropLimit::Share(share) => voltage * share,
            DropLimit::Absolute(limit) => limit,
        };
        // A load that works down to a voltage must still get it.
        let drop_limit = match query.load {
            Load::Power { lowest_voltage, .. } if voltage - lowest_voltage < drop_limit => voltage - lowest_voltage,
            _ => drop_limit,
        };
        let share = drop_limit.value / voltage.value;
        accept(share > 0.0 && share < 0.5, "a permitted drop", drop, "above 0 and below half the system voltage")?;
        let ambient = query.ambient.unwrap_or_else(|| celsius(constants::AMBIENT_C));
        accept(within(in_celsius(ambient), -40.0, 200.0), "an ambient", ambient, "−40 °C to 200 °C")?;
        let insulation = query.insulation.unwrap_or_else(|| kind.usual_insulation());
        accept(within(in_celsius(insulation), 40.0, 250.0), "an insulation class", insulation, "40 °C to 250 °C")?;
        let practice = query.practice.unwrap_or(Practice::General);
        let mut terminal_rule = practice.terminal_rule();
        if let Some(stated) = query.terminal_temperature {
            accept(within(in_celsius(stated), 40.0, 250.0), "a terminal temperature", stated, "40 °C to 250 °C")?;
            terminal_rule.usual.value = stated;
            terminal_rule.small_circuits = None;
        }
        let (chassis_return, chassis) = match query.return_path.unwrap_or(ReturnPath::Conductor) {
            ReturnPath::Conductor => (false, ElectricalResistance::default()),
            ReturnPath::Chassis(stated) => (true, stated.unwrap_or_else(|| contact_resistance("chassis-path"))),
        };
        accept(within(chassis.value, 0.0, 10.0), "a chassis resistance", chassis, "0 mΩ to 10 Ω")?;
        let joints = query.joints.unwrap_or_default();
        let joint_resistance = contact_resistance("lug-on-stud") * f64::from(joints.lugs.unwrap_or(USUAL_LUGS))
            + contact_resistance("screw-cage") * f64::from(joints.screw_cages)
            + contact_resistance("isolator") * f64::from(joints.isolators);
        let terminal_area = query.terminal_size.map(|size| match size {
            CrossSection::Area(area) => area,
            // A terminal marked for an SAE size is taken to accept the AWG size of the same number.
            CrossSection::Awg(gauge) | CrossSection::Sae(gauge) => gauge.awg_area(),
        });
        if let Some(area) = terminal_area {
            accept(within(in_mm2(area), 0.01, 1e4), "a terminal's cross-section", area, "0.01 mm² to 10 000 mm²")?;
        }
        let highest_voltage = voltage * constants::HIGHEST_OVER_NOMINAL;
        let installation = query.installation.unwrap_or(Installation::Enclosed);
        let legs = if chassis_return { 1 } else { 2 };
        if let Some(together) = query.together {
            let apart = installation == Installation::FreeAir;
            let count = || format!("{together}");
            let refuse =
                |accepted| CableError::OutOfRange { what: "a number of conductors together", given: count(), accepted };
            if apart {
                return Err(refuse("free-air is alone; touching conductors are a bundle"));
            }
            if !(legs..=Lay::MOST).contains(&together) {
                return Err(refuse("the legs of this circuit (2, or 1 with a chassis return) to 40"));
            }
        }
        if let Some(bore) = query.bore {
            let given = format!("{} mm", crate::quantity::significant(bore.value * 1e3, 4));
            let refuse = |accepted| CableError::OutOfRange { what: "a conduit's bore", given: given.clone(), accepted };
            if !installation.is_conduit() {
                return Err(refuse("it goes with conduit-plastic, conduit-metal or conduit-split"));
            }
            if !within(bore.value, 3e-3, 0.5) {
                return Err(refuse("3 mm to 500 mm, for example 25 mm"));
            }
        }
        Ok(Self {
            query: *query,
            current,
            length,
            voltage,
            drop_limit,
            ambient,
            insulation,
            kind,
            material,
            installation,
            together: query.together.unwrap_or(legs),
            bore: query.bore,
            // Nobody says that neighbours pause with it: beside other circuits only the steady current counts.
            duty: query.duty.filter(|_| query.together.is_none_or(|together| together <= legs)),
            legs: f64::from(legs),
            chassis,
            chassis_return,
            joints,
            joint_resistance,
            terminal_area,
            terminal_rule,
            practice,
            smallest_conductor: practice.smallest_conductor(),
            highest_voltage,
            selection: Selection::new(highest_voltage, ambient),
        })
    }

    /// How one of so many parallel conductors lies.
    pub fn lay(&self, parallel: u8) -> Lay {
        let parallel = u16::from(parallel);
        let together = match self.installation {
            // Each alone, but the parallel ones run side by side.
            Installation::FreeAir => parallel,
            _ if self.chassis_return => self.together + (parallel - 1),
            _ => self.together + 2 * (parallel - 1),
        };
        Lay { installation: self.installation, together, others: Others::default(), bore: self.bore }
    }

    /// Drop of the fuse with its holder, 100 mV at rated current, at 80 % of the rating: the most that any
    /// fuse carries continuously.
    pub(super) fn fuse_drop_fully_loaded() -> ElectricPotential {
        ElectricPotential::new::<volt>(constants::FUSE_DROP_AT_RATING_V * constants::FUSE_FULL_LOAD_SHARE)
    }

    /// Lugs counted in the circuit.
    pub fn lugs(&self) -> u16 {
        self.joints.lugs.unwrap_or(USUAL_LUGS)
    }

    /// What joints, fuse and chassis lose at the design current.
    pub(super) fn fixed_drop(&self) -> ElectricPotential {
        (self.joint_resistance + self.chassis) * self.current + Self::fuse_drop_fully_loaded()
    }

    /// Length in metres, for texts.
    pub(super) fn length_m(&self) -> f64 {
        self.length.get::<meter>()
    }
}
