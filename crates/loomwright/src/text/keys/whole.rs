//! What holds for the whole plan, where things lie, and when.

use super::Form::{Choice, Flag, Length, Ratio, Reference, References, Speed, Temperature, Text, Voltage};
use super::{INSTALL, INSULATION, KIND, MATERIAL, METHODS, Section, TERMINAL_TEMPERATURE, may, must};

pub(super) const PLAN: Section = Section {
    name: "plan",
    named: false,
    about: "What is planned.",
    keys: &[
        must("name", Text, "\"River-survey launch (invented)\"", "name of the system"),
        must("place", Choice(crate::installation::Place::NAMES), "\"boat\"", "what it is installed in"),
        must("system_voltage", Voltage, "\"12 V\"", "nominal voltage of the main system"),
        may("practice", Choice(crate::practice::Practice::NAMES), "\"general\"", "rule set; general when not said"),
        may(
            "bonding",
            Choice(crate::installation::Bonding::NAMES),
            "\"chassis\"",
            "how negatives and chassis are meant to be joined; chassis when anything is joined to it, else floating, when not said",
        ),
        may("note", Text, "\"second revision\"", "anything worth remembering"),
    ],
};

pub(super) const DEFAULTS: Section = Section {
    name: "defaults",
    named: false,
    about: "What holds for every run that does not say otherwise.",
    keys: &[KIND, MATERIAL, INSULATION, INSTALL, TERMINAL_TEMPERATURE],
};

pub(super) const LIMITS: Section = Section {
    name: "limits",
    named: true,
    about: "Limits set otherwise than the practice does; the report prints each with its reason.",
    keys: &[
        must("value", Text, "\"5 %\"", "the limit, in the unit it is of"),
        must("reason", Text, "\"short runs, lamps rated 9 V to 16 V\"", "why it may be so"),
    ],
};

pub(super) const ZONES: Section = Section {
    name: "zones",
    named: true,
    about: "Places that conductors pass through.",
    keys: &[
        must(
            "kind",
            Choice(crate::installation::ZoneKind::NAMES),
            "\"van-cabin\"",
            "kind of zone, which gives its usual hottest air",
        ),
        may("hottest", Temperature, "\"50 °C\"", "hottest air in it; by kind when not said"),
        may("coldest", Temperature, "\"-20 °C\"", "coldest air in it; -20 °C when not said"),
        may(
            "explosive",
            Choice(crate::installation::Explosive::NAMES),
            "\"gas\"",
            "what may burn in its air; nothing when not said",
        ),
    ],
};

pub(super) const LOOMS: Section = Section {
    name: "looms",
    named: true,
    about: "Conductors laid together, bare or in one conduit, along stretches that say: with NAME.",
    keys: &[
        must("install", Choice(METHODS), "\"conduit-split\"", "how it lies"),
        may("bore", Length, "\"25 mm\"", "bore of its conduit; one filled to 40 % when not said"),
    ],
};

pub(super) const CASES: Section = Section {
    name: "cases",
    named: true,
    about: "Operating cases of your own, besides those that every plan is judged over.",
    keys: &[
        may(
            "engine",
            Choice(crate::installation::Engine::NAMES),
            "\"cruise\"",
            "what the engine does; off when not said",
        ),
        may("shore", Flag, "true", "shore power is connected; false when not said"),
        may("sun", Flag, "true", "the sun shines; false when not said"),
        may(
            "batteries",
            Choice(crate::installation::BatteryState::NAMES),
            "\"resting\"",
            "how full the batteries are; resting when not said",
        ),
        may("state_of_charge", Ratio, "\"35 %\"", "state of charge of every battery, instead of batteries"),
        may("battery_temperature", Temperature, "\"-5 °C\"", "temperature of every battery; 25 °C when not said"),
        may(
            "alternator_speed",
            Speed,
            "\"2600 r/min\"",
            "speed of the alternators' own shafts, instead of what the engine's state gives",
        ),
        may("loads", References, "[\"lights\"]", "the loads that run; those whose when fits, when not said"),
        may("starting", Reference, "\"winch\"", "the load that is just starting"),
    ],
};
