//! The key table: every section and key of a plan, with its form, default and meaning.

mod devices;
mod diary;
mod whole;
mod wiring;

/// What a value must look like.
#[derive(Clone, Copy)]
pub(in crate::text) enum Form {
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
    /// A size, a thread such as `M8`, or the name of one of `[terminals]`.
    Terminal,
    /// A whole number.
    Count,
    /// A torque.
    Torque,
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
    /// An angle.
    Angle,
    /// A date such as `2026-11-02`.
    Date,
    /// Parts of the day such as `07:00 to 09:30`.
    Spans,
    /// Parts of the day with the days that they are on, such as `08:00 to 09:30 on monday`.
    Spells,
    /// Months such as `july` or `october to march`.
    Months,
    /// Twelve irradiations of a day, January first.
    Irradiations,
    /// Twelve temperatures, January first.
    Temperatures,
    /// Three points or more such as `93 % at 50 %`.
    Efficiencies,
}

pub(in crate::text) struct Key {
    pub(in crate::text) name: &'static str,
    pub(in crate::text) form: Form,
    pub(in crate::text) required: bool,
    /// An accepted value as it stands in a file; also the example of messages.
    pub(in crate::text) example: &'static str,
    /// What it means, and the default when it is not said.
    pub(in crate::text) about: &'static str,
}

impl Key {
    /// What one of its values is called in a message.
    pub(in crate::text) fn called(&self) -> &'static str {
        match self.name {
            "existing" => "state of an existing part",
            "typical" => "typical load",
            name => name,
        }
    }
}

pub(in crate::text) struct Section {
    pub(in crate::text) name: &'static str,
    /// Whether entries have names of their own: `[batteries.service]`.
    pub(in crate::text) named: bool,
    pub(in crate::text) about: &'static str,
    pub(in crate::text) keys: &'static [Key],
}

const fn must(name: &'static str, form: Form, example: &'static str, about: &'static str) -> Key {
    Key { name, form, required: true, example, about }
}

const fn may(name: &'static str, form: Form, example: &'static str, about: &'static str) -> Key {
    Key { name, form, required: false, example, about }
}

use Form::{Choice, Temperature};

const METHODS: &[&str] = crate::heat::Installation::NAMES;
const KINDS: &[&str] = &["iec-1", "iec-2", "iec-5", "iec-6", "iso-6722", "awg", "sae"];
const MATERIALS: &[&str] = &["copper", "tinned-copper", "aluminium", "copper-clad-aluminium"];
const KIND: Key = may("kind", Choice(KINDS), "\"iec-5\"", "conductor kind; from [defaults] when not said");
const MATERIAL: Key =
    may("material", Choice(MATERIALS), "\"copper\"", "conductor material; from [defaults] when not said");
const INSULATION: Key =
    may("insulation", Temperature, "\"90 °C\"", "insulation class; from [defaults], else usual for the kind");
const INSTALL: Key = may("install", Choice(METHODS), "\"enclosed\"", "how it lies; from [defaults], else enclosed");
const EXISTING: Key = may(
    "existing",
    Choice(crate::installation::State::NAMES),
    "\"kept\"",
    "it is there already: kept as it stands, or removed; new when not said",
);
const TERMINAL_TEMPERATURE: Key =
    may("terminal_temperature", Temperature, "\"75 °C\"", "how hot its terminals may get; by practice when not said");

/// Every section, in the order in which a plan is read aloud.
pub(in crate::text) const SECTIONS: &[Section] = &[
    whole::PLAN,
    whole::DEFAULTS,
    whole::LIMITS,
    whole::ZONES,
    whole::LOOMS,
    wiring::TERMINALS,
    devices::BATTERIES,
    devices::ALTERNATORS,
    devices::CONVERTERS,
    diary::ARRAYS,
    devices::LOADS,
    devices::BUSBARS,
    devices::LINKS,
    wiring::CIRCUITS,
    wiring::RUNS,
    wiring::FUSES,
    whole::CASES,
    diary::PLACES,
    diary::STAYS,
];
