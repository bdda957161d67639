//! The question resolved: every value stated or defaulted, and the defaults remembered.

use super::{CableError, CableQuery, DropLimit, Joints, Load, ReturnPath};
use crate::conductor::{Kind, Material, series};
use crate::data::{Source, tables::constants, tables::sources};
use crate::heat::{Duty, Installation, Lay, Others};
use crate::practice::{Limit, Practice, TerminalRule, contact_resistance};
use crate::protection::Selection;
use crate::quantity::{
    Area, CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, ThermodynamicTemperature,
    ToText, celsius, in_celsius, in_mm2, significant,
};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// A value that nobody stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Assumption {
    /// The permitted drop.
    Drop,
    /// The hottest air around the cable.
    Ambient,
    /// The insulation class.
    Insulation,
    /// The conductor kind.
    Kind,
    /// The conductor material.
    Material,
    /// How the conductor lies.
    Installation,
    /// The conductors it lies together with.
    Together,
    /// The bore of the conduit.
    Bore,
    /// How the current comes back.
    ReturnPath,
    /// The resistance of the chassis.
    ChassisResistance,
    /// The joints.
    Joints,
    /// Terminal temperature.
    TerminalTemperature,
    /// The rule set.
    Practice,
    /// Highest charge voltage, against which fuses are rated.
    HighestVoltage,
    /// Contact resistances and the drop of the fuse.
    Contacts,
    /// The load is continuous.
    Continuous,
    /// Emissivity, insulation and diameters of the heat balance.
    HeatBalance,
}

/// Every assumption, in the order in which it is listed.
const ALL: [Assumption; 17] = [
    Assumption::Installation,
    Assumption::Together,
    Assumption::Bore,
    Assumption::Ambient,
    Assumption::Insulation,
    Assumption::TerminalTemperature,
    Assumption::Drop,
    Assumption::Kind,
    Assumption::Material,
    Assumption::ReturnPath,
    Assumption::ChassisResistance,
    Assumption::Joints,
    Assumption::Contacts,
    Assumption::HighestVoltage,
    Assumption::Continuous,
    Assumption::HeatBalance,
    Assumption::Practice,
];

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
            accept(
                installation.is_conduit(),
                "a conduit's bore",
                bore,
                "it goes with conduit-plastic, conduit-metal or conduit-split",
            )?;
            accept(within(bore.value, 3e-3, 0.5), "a conduit's bore", bore, "3 mm to 500 mm, for example 25 mm")?;
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
            duty: query.duty,
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

    /// What was assumed, in the order in which it is listed.
    pub fn assumptions(&self) -> impl Iterator<Item = Assumption> {
        let query = self.query;
        let apart = self.installation == Installation::FreeAir;
        ALL.into_iter().filter(move |assumption| match assumption {
            Assumption::Drop => query.drop.is_none(),
            Assumption::Ambient => query.ambient.is_none(),
            Assumption::Insulation => query.insulation.is_none(),
            Assumption::Kind => query.kind.is_none(),
            Assumption::Material => query.material.is_none(),
            Assumption::Installation => query.installation.is_none(),
            Assumption::Together => !apart && query.together.is_none() && query.installation.is_some(),
            Assumption::Bore => self.installation.is_conduit() && query.bore.is_none(),
            Assumption::ReturnPath => query.return_path.is_none(),
            Assumption::ChassisResistance => query.return_path == Some(ReturnPath::Chassis(None)),
            Assumption::Joints => query.joints.is_none_or(|joints| joints.lugs.is_none()),
            Assumption::TerminalTemperature => query.terminal_temperature.is_none(),
            Assumption::Practice => query.practice.is_none(),
            Assumption::Continuous => query.duty.is_none(),
            Assumption::HighestVoltage | Assumption::Contacts => true,
            Assumption::HeatBalance => self.installation != Installation::Enclosed,
        })
    }

    /// One assumption in words, and where its value comes from.
    pub fn describe(&self, assumption: Assumption) -> (String, &'static Source) {
        let common = &sources::CONTACT_COMMON_PRACTICE;
        let degrees = |temperature| format!("{} °C", significant(in_celsius(temperature), 4));
        match assumption {
            Assumption::Drop => ("permitted drop 3 % of the system voltage".into(), &sources::COMMON_PRACTICE_DEFAULT),
            Assumption::Ambient => {
                (format!("hottest air around the cable {}", degrees(self.ambient)), &sources::COMMON_PRACTICE_DEFAULT)
            }
            Assumption::Insulation => (
                format!("insulation class {} (usual for {})", degrees(self.insulation), self.kind.name()),
                &sources::COMMON_PRACTICE_DEFAULT,
            ),
            Assumption::Kind => (format!("conductor kind {}", self.kind.title()), &sources::COMMON_PRACTICE_DEFAULT),
            Assumption::Material => ("annealed copper".into(), &sources::COMMON_PRACTICE_DEFAULT),
            Assumption::Installation => (
                "enclosed in conduit or trunking with all its conductors loaded, the cautious case; sizes from 1 mm²"
                    .into(),
                &sources::IEC_60364_5_52_ABC,
            ),
            Assumption::Together => (
                match self.together {
                    1 => "one loaded conductor, its return elsewhere".into(),
                    _ => "both legs of this circuit together and no other loaded conductor with them".into(),
                },
                &sources::COMMON_PRACTICE_DEFAULT,
            ),
            Assumption::Bore => (
                "conduit filled to 40 % by its conductors, or as narrow as holds them".into(),
                &sources::NEC_CHAPTER9_TABLE1_MEMORY,
            ),
            Assumption::ReturnPath => (
                "return through a second conductor of the same size and length".into(),
                &sources::COMMON_PRACTICE_DEFAULT,
            ),
            Assumption::ChassisResistance => {
                (format!("chassis return path {}; measure it", self.chassis.to_text()), common)
            }
            Assumption::Joints => ("four lugs on studs".into(), common),
            Assumption::TerminalTemperature => {
                let usual = degrees(self.terminal_rule.usual.value);
                let text = match self.terminal_rule.small_circuits {
                    Some((current, limit)) => {
                        format!(
                            "terminals up to {usual}, {} in circuits up to {}",
                            degrees(limit.value),
                            current.to_text()
                        )
                    }
                    None => format!("terminals up to {usual}"),
                };
                (text, self.terminal_rule.usual.source)
            }
            Assumption::Practice => ("no particular law (practice general)".into(), &sources::COMMON_PRACTICE_DEFAULT),
            Assumption::HighestVoltage => (
                format!(
                    "highest charge voltage {} V, for the fuse",
                    significant(self.highest_voltage.get::<volt>(), 4)
                ),
                &sources::COMMON_PRACTICE_DEFAULT,
            ),
            Assumption::Contacts => (
                format!(
                    "joints: lug {}, screw cage {}, isolator {}; fuse with holder {} mV (100 mV at its rating, loaded to 80 %); \
                     the fuse sits in the same air",
                    contact_resistance("lug-on-stud").to_text(),
                    contact_resistance("screw-cage").to_text(),
                    contact_resistance("isolator").to_text(),
                    significant(Self::fuse_drop_fully_loaded().get::<volt>() * 1e3, 3)
                ),
                common,
            ),
            Assumption::Continuous => (
                format!("{} A flows without pause", significant(self.current.get::<ampere>(), 4)),
                &sources::COMMON_PRACTICE_DEFAULT,
            ),
            Assumption::HeatBalance => {
                let alone = self.installation == Installation::FreeAir;
                let source = if alone { &sources::IEC_60287_2_1 } else { &sources::THERMAL_COMMON_PRACTICE };
                (self.heat_balance().into(), source)
            }
        }
    }

    /// What the heat balance takes for granted in this installation.
    fn heat_balance(&self) -> &'static str {
        match self.installation {
            Installation::FreeAir => {
                "each conductor alone, level in still air out of the sun, a diameter or more from its other leg and from walls; \
                 emissivity 0.9, insulation 5 K·m/W, walls and strand fill by kind"
            }
            Installation::Bundle => {
                "the bundle level in still air out of the sun, clear of walls; emissivity 0.9, insulation and inside of the bundle \
                 5 K·m/W"
            }
            Installation::Surface => {
                "still air out of the sun; three quarters of the outline shed heat (emissivity 0.9), the surface takes none; \
                 insulation 5 K·m/W"
            }
            Installation::Insulated => {
                "a 4 mm plywood lining on one side, in still air out of the sun, carries all heat (emissivity 0.9); none goes into \
                 the thermal insulation on the other"
            }
            Installation::ConduitMetal => {
                "conduit on a surface in still air out of the sun, three quarters of its outline shed heat (galvanised, emissivity \
                 0.25); wall 7 % of the bore"
            }
            Installation::ConduitPlastic | Installation::ConduitSplit | Installation::Enclosed => {
                "conduit on a surface in still air out of the sun, three quarters of its outline shed heat (emissivity 0.9); plastic \
                 6 K·m/W, wall 7 % of the bore; split: 9 K·m/W, 12 %"
            }
        }
    }

    /// Length in metres, for texts.
    pub(super) fn length_m(&self) -> f64 {
        self.length.get::<meter>()
    }
}
