//! The key table: every section and key of a plan, with its form, default and meaning.

/// What a value must look like.
#[derive(Clone, Copy)]
pub(super) enum Form {
    /// Any text.
    Text,
    /// `true` or `false`.
    Flag,
    /// A quantity of that kind, with its unit.
    Current,
    Voltage,
    Resistance,
    Power,
    Charge,
    Temperature,
    Ratio,
    Speed,
    Length,
    Time,
    /// A share of time, or on-time and period such as `30 s in 10 min`.
    Duty,
    /// A cross-sectional area or gauge.
    Size,
    /// A size, or `auto`.
    SizeOrAuto,
    /// `auto`, `none`, a rating and family, or the name of one of `[fuses]`.
    Fuse,
    /// An I²t.
    Joule,
    /// A capacitance.
    Capacitance,
    /// Times at shares of a rating or at currents, such as `10 min at 135 %`.
    Gates,
    /// One of these names.
    Choice(&'static [&'static str]),
    /// A list of some of these names.
    Choices(&'static [&'static str]),
    /// The name of something in that section.
    Reference,
    /// A list of names in that section.
    References,
    /// A node: a busbar, a device's terminal, or `chassis`.
    Node,
    /// The device at the end of a circuit.
    Device,
    /// Stretches such as `2 m in cabin`.
    Route,
    /// Three points or more such as `93 % at 50 %`.
    Efficiencies,
}

pub(super) struct Key {
    pub(super) name: &'static str,
    pub(super) form: Form,
    pub(super) required: bool,
    /// An accepted value as it stands in a file; also the example of messages.
    pub(super) example: &'static str,
    /// What it means, and the default when it is not said.
    pub(super) about: &'static str,
}

pub(super) struct Section {
    pub(super) name: &'static str,
    /// Whether entries have names of their own: `[batteries.service]`.
    pub(super) named: bool,
    pub(super) about: &'static str,
    pub(super) keys: &'static [Key],
}

const fn must(name: &'static str, form: Form, example: &'static str, about: &'static str) -> Key {
    Key { name, form, required: true, example, about }
}

const fn may(name: &'static str, form: Form, example: &'static str, about: &'static str) -> Key {
    Key { name, form, required: false, example, about }
}

use Form::{
    Capacitance, Charge, Choice, Choices, Current, Device, Duty, Efficiencies, Flag, Fuse, Gates, Joule, Length, Node,
    Power, Ratio, Reference, References, Resistance, Route, Size, SizeOrAuto, Speed, Temperature, Text, Time, Voltage,
};

const WHEN: &[&str] = &["parked", "driving", "shore"];
const MATERIALS: &[&str] = &["copper", "tinned-copper", "aluminium", "copper-clad-aluminium"];
const KINDS: &[&str] = &["iec-1", "iec-2", "iec-5", "iec-6", "iso-6722", "awg", "sae"];
const METHODS: &[&str] = crate::heat::Installation::NAMES;

const TERMINAL: Key =
    may("terminal", Size, "\"16 mm2\"", "largest conductor that its terminals accept; any when not said");
const TERMINAL_TEMPERATURE: Key =
    may("terminal_temperature", Temperature, "\"75 °C\"", "how hot its terminals may get; by practice when not said");
const ZONE: Key = may("zone", Reference, "\"cabin\"", "the zone it stands in");
const IGNITION_PROTECTED: Key =
    may("ignition_protected", Flag, "true", "makes no spark that lights gas around it; false when not said");
const GROUNDED: Key =
    may("grounded", Flag, "true", "its negative is its housing, bolted to the chassis; false when not said");

const CONDUCTOR: Key = may("conductor", SizeOrAuto, "\"auto\"", "size, or auto to have it chosen; auto when not said");
const KIND: Key = may("kind", Choice(KINDS), "\"iec-5\"", "conductor kind; from [defaults] when not said");
const MATERIAL: Key =
    may("material", Choice(MATERIALS), "\"copper\"", "conductor material; from [defaults] when not said");
const INSULATION: Key =
    may("insulation", Temperature, "\"90 °C\"", "insulation class; from [defaults], else usual for the kind");
const INSTALL: Key = may("install", Choice(METHODS), "\"enclosed\"", "how it lies; from [defaults], else enclosed");
const ROUTE: Key = must(
    "route",
    Route,
    "[\"2 m in engine-bay\", \"1.5 m in cabin, surface\"]",
    "routed length zone by zone, one way; after a comma how it lies there, or after with its loom",
);

const FUSE_DISTANCE: Key = may(
    "fuse_distance",
    Length,
    "\"150 mm\"",
    "how far along the conductor from its start the fuse sits; at its start when not said",
);

/// Every section, in the order in which a plan is read aloud.
pub(super) const SECTIONS: &[Section] = &[
    Section {
        name: "plan",
        named: false,
        about: "What is planned.",
        keys: &[
            must("name", Text, "\"River-survey launch (invented)\"", "name of the system"),
            must("place", Choice(crate::installation::Place::NAMES), "\"boat\"", "what it is installed in"),
            must("system_voltage", Voltage, "\"12 V\"", "nominal voltage of the main system"),
            may("practice", Choice(crate::practice::Practice::NAMES), "\"general\"", "rule set; general when not said"),
            may("note", Text, "\"second revision\"", "anything worth remembering"),
        ],
    },
    Section {
        name: "defaults",
        named: false,
        about: "What holds for every run that does not say otherwise.",
        keys: &[KIND, MATERIAL, INSULATION, INSTALL, TERMINAL_TEMPERATURE],
    },
    Section {
        name: "limits",
        named: true,
        about: "Limits set otherwise than the practice does; the report prints each with its reason.",
        keys: &[
            must("value", Text, "\"5 %\"", "the limit, in the unit it is of"),
            must("reason", Text, "\"short runs, lamps rated 9 V to 16 V\"", "why it may be so"),
        ],
    },
    Section {
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
    },
    Section {
        name: "looms",
        named: true,
        about: "Conductors laid together, bare or in one conduit, along stretches that say: with NAME.",
        keys: &[
            must("install", Choice(METHODS), "\"conduit-split\"", "how it lies"),
            may("bore", Length, "\"25 mm\"", "bore of its conduit; one filled to 40 % when not said"),
        ],
    },
    Section {
        name: "batteries",
        named: true,
        about: "Batteries; their terminals are NAME.+ and NAME.-",
        keys: &[
            must("chemistry", Choice(crate::installation::Chemistry::NAMES), "\"lithium-iron-phosphate\"", "chemistry"),
            must("capacity", Charge, "\"200 Ah\"", "rated capacity"),
            may("nominal_voltage", Voltage, "\"12 V\"", "nominal voltage; the system voltage when not said"),
            may("resistance", Resistance, "\"2 mohm\"", "internal resistance; by chemistry and capacity when not said"),
            may(
                "ohmic_resistance",
                Resistance,
                "\"1 mohm\"",
                "its ohmic part (1 kHz), which limits a short circuit; resistance when that is said, else half of what is usual",
            ),
            may("charge_voltage", Voltage, "\"14.4 V\"", "highest charge voltage; by chemistry when not said"),
            may("installed", Text, "\"2024\"", "year in which it was new, to tell old from new where they are joined"),
            may("current_limit", Current, "\"100 A\"", "most current that its protection or maker permits, in and out"),
            GROUNDED,
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "alternators",
        named: true,
        about: "Alternators; their terminals are NAME.+ and NAME.-",
        keys: &[
            must("rating", Current, "\"150 A\"", "rated output"),
            may("hot_output", Current, "\"120 A\"", "hot output at cruising speed; 0.8 of the rating when not said"),
            may("idle_output", Current, "\"60 A\"", "hot output at idle; 0.4 of the rating when not said"),
            may(
                "idle_speed",
                Speed,
                "\"1800 r/min\"",
                "its own speed at idle, for cases that state a speed; 1800 r/min when not said",
            ),
            may("rated_speed", Speed, "\"6000 r/min\"", "its own speed at hot_output; 6000 r/min when not said"),
            may("voltage", Voltage, "\"14.2 V\"", "regulated voltage; 14.2 V per 12 V when not said"),
            may(
                "regulation",
                Choice(crate::installation::Regulation::NAMES),
                "\"variable\"",
                "how it is regulated; fixed when not said",
            ),
            may(
                "suppressed",
                Flag,
                "true",
                "its own diodes clip a load dump (ISO 16750-2, test B); false when not said",
            ),
            GROUNDED,
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "converters",
        named: true,
        about: "Chargers, inverters, solar controllers, buck converters; terminals NAME.in+, NAME.in-, NAME.out+, NAME.out-",
        keys: &[
            must("kind", Choice(crate::installation::ConverterKind::NAMES), "\"dc-dc-charger\"", "what it does"),
            may(
                "output_current",
                Current,
                "\"50 A\"",
                "output current setting; needed for chargers, controllers and buck converters",
            ),
            may(
                "output_voltage",
                Voltage,
                "\"14.4 V\"",
                "output voltage; the charge voltage of the system when not said",
            ),
            may("output_power", Power, "\"2 kW\"", "rated output power; needed for inverters"),
            may("input_limit", Current, "\"60 A\"", "limit of its input current"),
            may("efficiency", Ratio, "\"92 %\"", "efficiency at rated output; 90 % when not said"),
            may(
                "efficiency_points",
                Efficiencies,
                "[\"90 % at 10 %\", \"93 % at 50 %\", \"91 % at 100 %\"]",
                "instead of efficiency: three efficiencies or more at shares of rated output",
            ),
            may("lock_out", Voltage, "\"10.5 V\"", "input voltage at which it stops; 0.875 of nominal when not said"),
            may(
                "restart",
                Voltage,
                "\"11.5 V\"",
                "input voltage at which it starts again; 1.06 of lock_out when not said",
            ),
            may("no_load", Power, "\"12 W\"", "power taken with nothing on its output; nothing when not said"),
            may(
                "input_capacitance",
                Capacitance,
                "\"22 mF\"",
                "of its input, for what fuses and contacts bear when it is switched on; unknown when not said",
            ),
            may(
                "pre_charge",
                Flag,
                "true",
                "its input capacitors are charged through a resistor first; false when not said",
            ),
            may("full_up_to", Temperature, "\"40 °C\"", "air up to which its output is full; needed with nothing_at"),
            may("nothing_at", Temperature, "\"70 °C\"", "air at which it gives nothing any more, straight in between"),
            may("array_current", Current, "\"9.5 A\"", "short-circuit current of the solar array"),
            may("array_voltage", Voltage, "\"36 V\"", "operating voltage of the solar array"),
            may(
                "holds_alone",
                Flag,
                "true",
                "a solar controller that holds its output voltage without a battery; false when not said",
            ),
            may("isolated", Flag, "true", "input and output negative are apart; false when not said"),
            may(
                "running_signal",
                Flag,
                "true",
                "it is told that the engine runs (ignition or D+); false when not said",
            ),
            GROUNDED,
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "loads",
        named: true,
        about: "Loads; their terminals are NAME.+ and NAME.-",
        keys: &[
            may("current", Current, "\"4 A\"", "constant current; one of current, power and resistance is needed"),
            may("power", Power, "\"60 W\"", "constant power"),
            may("resistance", Resistance, "\"500 mohm\"", "constant resistance"),
            may("inrush", Current, "\"40 A\"", "current in the moment of starting"),
            may("start_time", Time, "\"3 s\"", "how long it starts; 10 s when not said"),
            may("lowest_voltage", Voltage, "\"10.5 V\"", "lowest voltage at which it works"),
            may(
                "function",
                Choice(crate::installation::Function::NAMES),
                "\"navigation\"",
                "what it is for, which sets its drop limit; general when not said",
            ),
            may("when", Choices(WHEN), "[\"parked\", \"driving\"]", "when it runs; always when not said"),
            may(
                "duty",
                Duty,
                "\"25 %\"",
                "share of time that it runs, counted in what an alternator is asked for; or on-time and period such as 30 s in 10 min, which its own conductors are then heated by; 100 % when not said",
            ),
            may("keep_powered", Flag, "true", "must not lose its supply when something opens; false when not said"),
            may("inverter", Reference, "\"inverter\"", "the inverter that feeds it, instead of a circuit"),
            may("nominal_voltage", Voltage, "\"12 V\"", "nominal voltage; the system voltage when not said"),
            GROUNDED,
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "busbars",
        named: true,
        about: "Busbars and boards: one node each, called by its name.",
        keys: &[
            may("rating", Current, "\"250 A\"", "rated current of the bar"),
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "links",
        named: true,
        about: "Isolators, shunts, relays, diodes and other joints in line; terminals NAME.in and NAME.out",
        keys: &[
            must("kind", Choice(crate::installation::LinkKind::NAMES), "\"isolator\"", "what it is"),
            may("rating", Current, "\"300 A\"", "rated current; a shunt needs it"),
            may("resistance", Resistance, "\"0.2 mohm\"", "resistance; by kind when not said"),
            may(
                "diode",
                Choice(crate::source::OneWay::NAMES),
                "\"schottky\"",
                "what makes a splitter one-way; silicon when not said",
            ),
            may("drop", Voltage, "\"0.8 V\"", "constant drop of a diode; by its kind when not said"),
            may("closed", Choices(WHEN), "[\"driving\"]", "when it is closed; always when not said"),
            may("closes_at", Voltage, "\"13.3 V\"", "voltage at NAME.in at which a relay that senses it closes"),
            may("opens_at", Voltage, "\"12.8 V\"", "voltage at which it opens again; needed with closes_at"),
            ZONE,
            IGNITION_PROTECTED,
            TERMINAL,
            TERMINAL_TEMPERATURE,
        ],
    },
    Section {
        name: "circuits",
        named: true,
        about: "Two-wire runs from a busbar to a device and back: the usual short form.",
        keys: &[
            must("from", Node, "\"board\"", "positive node it starts from; its fuse sits there"),
            must("return", Node, "\"negative bar\"", "negative node it comes back to, or chassis"),
            must("to", Device, "\"refrigerator\"", "load or converter it feeds; converter NAME.out for an output"),
            ROUTE,
            may(
                "fuse",
                Fuse,
                "\"auto\"",
                "auto, none, rating and family such as 15 A blade-c, or the name of one of [fuses]; auto when not said",
            ),
            FUSE_DISTANCE,
            may(
                "return_resistance",
                Resistance,
                "\"3 mohm\"",
                "resistance of the chassis path, with return = \"chassis\"; 3 mohm when not said",
            ),
            CONDUCTOR,
            KIND,
            MATERIAL,
            INSULATION,
            INSTALL,
        ],
    },
    Section {
        name: "runs",
        named: true,
        about: "Single conductors from node to node.",
        keys: &[
            must("from", Node, "\"service.+\"", "where it starts; its fuse sits there"),
            must("to", Node, "\"isolator.in\"", "where it ends"),
            ROUTE,
            may(
                "fuse",
                Fuse,
                "\"none\"",
                "auto, none, rating and family, or the name of one of [fuses]; none when not said",
            ),
            FUSE_DISTANCE,
            may("cranking", Flag, "true", "feeds a starter motor, exempt from protection; false when not said"),
            CONDUCTOR,
            KIND,
            MATERIAL,
            INSULATION,
            INSTALL,
        ],
    },
    Section {
        name: "fuses",
        named: true,
        about: "Fuse-links and breakers by their makers' sheets, which come before what is known of their family.",
        keys: &[
            must("like", Text, "\"strip-sf51\"", "the family that it belongs to, or is otherwise like"),
            must("rating", Current, "\"225 A\"", "rated current"),
            must("source", Text, "\"maker's data sheet, page 3\"", "the sheet that the values are taken from"),
            may("rated_voltage", Voltage, "\"58 V\"", "rated direct voltage; its family's when not said"),
            may(
                "breaks",
                Current,
                "\"5 kA\"",
                "largest current that it breaks at its rated voltage; its family's when not said",
            ),
            may(
                "continuous",
                Ratio,
                "\"80 %\"",
                "share of its rating that it carries without pause; its family's when not said",
            ),
            may(
                "slowest",
                Gates,
                "[\"30 min at 135 %\", \"15 s at 200 %\"]",
                "latest opening; its family's when not said",
            ),
            may(
                "fastest",
                Gates,
                "[\"4 h at 110 %\", \"1 s at 200 %\"]",
                "earliest opening, beside slowest; unknown when not said",
            ),
            may("melting", Joule, "\"40 kA2s\"", "I²t that melts it; its family's when not said"),
            may("drop", Voltage, "\"90 mV\"", "drop at its rating; 100 mV when that is more or nothing is said"),
            may("polarised", Flag, "true", "current may pass it one way only; as its family when not said"),
            may(
                "reset",
                Choice(crate::protection::Reset::NAMES),
                "\"manual\"",
                "how a breaker closes again; as its family when not said",
            ),
        ],
    },
    Section {
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
    },
];
