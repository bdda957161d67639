//! Devices that runs join.

use super::Form::{
    Capacitance, Charge, Choice, Choices, Current, Duty, Efficiencies, Flag, Length, Months, Power, Ratio, Reference,
    Resistance, Size, Spans, Speed, Temperature, Terminal as TerminalForm, Text, Time, Voltage,
};
use super::{EXISTING, Key, Section, TERMINAL_TEMPERATURE, may, must};

const WHEN: &[&str] = &["parked", "driving", "shore"];
const TERMINAL: Key = may(
    "terminal",
    TerminalForm,
    "\"16 mm2\"",
    "its terminals: largest conductor that they accept, thread of a stud such as M8, or the name of one of [terminals]; any conductor enters when not said",
);
const ZONE: Key = may("zone", Reference, "\"cabin\"", "the zone it stands in");
const IGNITION_PROTECTED: Key =
    may("ignition_protected", Flag, "true", "makes no spark that lights gas around it; false when not said");
const GROUNDED: Key =
    may("grounded", Flag, "true", "its negative is its housing, bolted to the chassis; false when not said");

pub(super) const BATTERIES: Section = Section {
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
        may("hour_rate", Time, "\"20 h\"", "the hours within which the rated capacity is taken; 20 h when not said"),
        may(
            "peukert",
            Ratio,
            "\"115 %\"",
            "Peukert's exponent as 1.15 = 115 %; by chemistry when not said; needs hour_rate",
        ),
        may("floor", Ratio, "\"20 %\"", "state of charge below which it is not to be used; by chemistry when not said"),
        may("ceiling", Ratio, "\"90 %\"", "state of charge to which it is charged; 100 % when not said"),
        may(
            "charge_efficiency",
            Ratio,
            "\"98 %\"",
            "charge that comes back over charge put in; by chemistry when not said",
        ),
        may("self_discharge", Ratio, "\"3 %\"", "lost in a month of rest; by chemistry when not said"),
        may(
            "charge_current_limit",
            Current,
            "\"100 A\"",
            "largest charge current; by chemistry and temperature when not said",
        ),
        may(
            "stops_in_frost",
            Flag,
            "true",
            "something stops its charge below 0 °C: its own protection, or the charger by a probe; unknown when not said",
        ),
        may("installed", Text, "\"2024\"", "year in which it was new, to tell old from new where they are joined"),
        may("current_limit", Current, "\"100 A\"", "most current that its protection or maker permits, in and out"),
        GROUNDED,
        ZONE,
        IGNITION_PROTECTED,
        TERMINAL,
        TERMINAL_TEMPERATURE,
        EXISTING,
    ],
};

pub(super) const ALTERNATORS: Section = Section {
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
        may("suppressed", Flag, "true", "its own diodes clip a load dump (ISO 16750-2, test B); false when not said"),
        GROUNDED,
        ZONE,
        IGNITION_PROTECTED,
        TERMINAL,
        TERMINAL_TEMPERATURE,
        EXISTING,
    ],
};

pub(super) const CONVERTERS: Section = Section {
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
        may("output_voltage", Voltage, "\"14.4 V\"", "output voltage; the charge voltage of the system when not said"),
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
        may("restart", Voltage, "\"11.5 V\"", "input voltage at which it starts again; 1.06 of lock_out when not said"),
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
        may("array_limit", Voltage, "\"100 V\"", "highest input voltage of a solar controller; unknown when not said"),
        may("tracks", Flag, "false", "a solar controller finds the array's best voltage; true when not said"),
        may("float_voltage", Voltage, "\"13.5 V\"", "float voltage; unknown when not said"),
        may("equalise_voltage", Voltage, "\"15 V\"", "equalisation voltage; never equalises when not said"),
        may(
            "voltage_per_kelvin",
            Voltage,
            "\"-18 mV\"",
            "change of its voltages per kelvin of its battery; unknown when not said",
        ),
        may(
            "holds_alone",
            Flag,
            "true",
            "a solar controller that holds its output voltage without a battery; false when not said",
        ),
        may("isolated", Flag, "true", "input and output negative are apart; false when not said"),
        may(
            "case_bond",
            Size,
            "\"16 mm2\"",
            "conductor from its case to the chassis or bonding bar, made as [defaults] says; unknown when not said",
        ),
        may("case_bond_length", Length, "\"0.5 m\"", "length of that conductor; 1 m when not said"),
        may("rcd", Flag, "true", "a residual-current device on an inverter's mains side; unknown when not said"),
        may(
            "neutral_bond",
            Flag,
            "true",
            "an inverter's neutral is joined to its protective conductor; unknown when not said",
        ),
        may("running_signal", Flag, "true", "it is told that the engine runs (ignition or D+); false when not said"),
        GROUNDED,
        ZONE,
        IGNITION_PROTECTED,
        TERMINAL,
        TERMINAL_TEMPERATURE,
        EXISTING,
    ],
};

pub(super) const LOADS: Section = Section {
    name: "loads",
    named: true,
    about: "Loads; their terminals are NAME.+ and NAME.-",
    keys: &[
        may("current", Current, "\"4 A\"", "constant current; one of current, power and resistance is needed"),
        may("power", Power, "\"60 W\"", "constant power"),
        may("resistance", Resistance, "\"500 mohm\"", "constant resistance"),
        may(
            "typical",
            Choice(crate::installation::TypicalLoad::NAMES),
            "\"compressor-refrigerator\"",
            "what such a load typically takes, the high end of lists, instead of current, power and resistance",
        ),
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
        may(
            "hours",
            Spans,
            "[\"07:00 to 09:00\", \"18:00 to 22:30\"]",
            "parts of the day in which it runs; all day when not said",
        ),
        may("per_day", Time, "\"25 min\"", "how long it runs a day, within those hours, instead of duty"),
        may("months", Months, "[\"october to march\"]", "months in which it is used; all when not said"),
        may("standby", Power, "\"2 W\"", "taken when it does not run; nothing when not said"),
        may("keep_powered", Flag, "true", "must not lose its supply when something opens; false when not said"),
        may("inverter", Reference, "\"inverter\"", "the inverter that feeds it, instead of a circuit"),
        may("nominal_voltage", Voltage, "\"12 V\"", "nominal voltage; the system voltage when not said"),
        GROUNDED,
        ZONE,
        IGNITION_PROTECTED,
        TERMINAL,
        TERMINAL_TEMPERATURE,
        EXISTING,
    ],
};

pub(super) const BUSBARS: Section = Section {
    name: "busbars",
    named: true,
    about: "Busbars and boards: one node each, called by its name.",
    keys: &[
        may("rating", Current, "\"250 A\"", "rated current of the bar"),
        ZONE,
        IGNITION_PROTECTED,
        TERMINAL,
        may(
            "second_terminal",
            TerminalForm,
            "\"M5\"",
            "a second kind of terminals on the same bar, for conductors that the first does not take",
        ),
        TERMINAL_TEMPERATURE,
        EXISTING,
    ],
};

pub(super) const LINKS: Section = Section {
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
        EXISTING,
    ],
};
