//! What nobody stated, in words and with its source.

use super::{Circuit, ReturnPath};
use crate::data::{Source, tables::sources};
use crate::fitting::contact_resistance;
use crate::heat::Installation;
use crate::quantity::{ToText, in_celsius, significant};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

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
impl Circuit {
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
            Assumption::Continuous => self.duty.is_none(),
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
                "enclosed in conduit or trunking, all its conductors loaded, by the table of IEC 60364-5-52 method B; sizes from 1 mm²"
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
}
