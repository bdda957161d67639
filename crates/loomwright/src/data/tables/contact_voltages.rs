// Written by `cargo run -p xtask -- data` from contact_voltages.csv; do not edit.

use crate::data::{Source, tables::sources};

/// voltage across a contact at which its metal softens and at which it melts.
#[derive(Debug)]
pub(crate) struct ContactVoltages {
    pub(crate) metal: &'static str,
    pub(crate) softening_v: f64,
    pub(crate) melting_v: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ContactVoltages] = &[
    ContactVoltages { metal: "tin", softening_v: 0.07, melting_v: 0.13, source: &sources::CONTACT_VOLTAGE_REPORT, },
    ContactVoltages { metal: "silver", softening_v: 0.09, melting_v: 0.37, source: &sources::CONTACT_VOLTAGE_REPORT, },
    ContactVoltages { metal: "gold", softening_v: 0.08, melting_v: 0.43, source: &sources::CONTACT_VOLTAGE_REPORT, },
    ContactVoltages { metal: "nickel", softening_v: 0.22, melting_v: 0.65, source: &sources::CONTACT_VOLTAGE_REPORT, },
    ContactVoltages { metal: "copper", softening_v: 0.12, melting_v: 0.43, source: &sources::CONTACT_VOLTAGE_MEMORY, },
    ContactVoltages { metal: "aluminium", softening_v: 0.1, melting_v: 0.3, source: &sources::CONTACT_VOLTAGE_MEMORY, },
    ContactVoltages { metal: "iron", softening_v: 0.21, melting_v: 0.6, source: &sources::CONTACT_VOLTAGE_MEMORY, },
    ContactVoltages { metal: "zinc", softening_v: 0.1, melting_v: 0.17, source: &sources::CONTACT_VOLTAGE_MEMORY, },
];
