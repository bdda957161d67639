// Written by `cargo run -p xtask -- data` from typical_loads.csv; do not edit.

use crate::data::{Source, tables::sources};

/// what loads typically take: the range that public lists give, and the share of time where it is known; to start from, not to rely on.
#[derive(Debug)]
pub(crate) struct TypicalLoads {
    pub(crate) load: &'static str,
    pub(crate) kind: &'static str,
    pub(crate) low_w: f64,
    pub(crate) high_w: f64,
    pub(crate) duty_ratio: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[TypicalLoads] = &[
    TypicalLoads { load: "clock-radio", kind: "mains", low_w: 10.0, high_w: 10.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "coffee-maker", kind: "mains", low_w: 900.0, high_w: 1200.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "microwave-oven", kind: "mains", low_w: 750.0, high_w: 1100.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "laptop-supply", kind: "mains", low_w: 50.0, high_w: 50.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "toaster", kind: "mains", low_w: 800.0, high_w: 1400.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "hair-dryer", kind: "mains", low_w: 1200.0, high_w: 1875.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "portable-heater", kind: "mains", low_w: 750.0, high_w: 1500.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "electric-blanket", kind: "mains", low_w: 60.0, high_w: 100.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "clothes-iron", kind: "mains", low_w: 1000.0, high_w: 1800.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "vacuum-cleaner", kind: "mains", low_w: 1000.0, high_w: 1440.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "television", kind: "mains", low_w: 110.0, high_w: 110.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "personal-computer", kind: "mains", low_w: 30.0, high_w: 120.0, duty_ratio: 1.0, source: &sources::LOAD_LISTS, },
    TypicalLoads { load: "water-pump", kind: "direct", low_w: 72.0, high_w: 72.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "gas-furnace-fan", kind: "direct", low_w: 132.0, high_w: 132.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "absorption-refrigerator-on-gas", kind: "direct", low_w: 6.0, high_w: 6.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "standing-draw", kind: "direct", low_w: 14.4, high_w: 14.4, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "television-and-receiver", kind: "direct", low_w: 72.0, high_w: 72.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "breathing-machine", kind: "direct", low_w: 10.8, high_w: 10.8, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "room-lights", kind: "direct", low_w: 19.2, high_w: 19.2, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "outdoor-lamp", kind: "direct", low_w: 7.0, high_w: 7.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "navigation-lamp", kind: "direct", low_w: 6.0, high_w: 6.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "anchor-windlass", kind: "direct", low_w: 1200.0, high_w: 1200.0, duty_ratio: 0.01, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "compressor-coolbox", kind: "direct", low_w: 45.0, high_w: 45.0, duty_ratio: 0.35, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "thermoelectric-coolbox", kind: "direct", low_w: 36.0, high_w: 48.0, duty_ratio: 1.0, source: &sources::LOAD_AUDITS, },
    TypicalLoads { load: "compressor-refrigerator", kind: "direct", low_w: 40.0, high_w: 50.0, duty_ratio: 0.35, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "air-heater", kind: "direct", low_w: 10.0, high_w: 35.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "induction-plate", kind: "mains", low_w: 1000.0, high_w: 2000.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "kettle", kind: "mains", low_w: 1000.0, high_w: 3000.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "lamp", kind: "direct", low_w: 2.0, high_w: 10.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "roof-fan", kind: "direct", low_w: 10.0, high_w: 50.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "vhf-radio", kind: "direct", low_w: 5.0, high_w: 70.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
    TypicalLoads { load: "autopilot", kind: "direct", low_w: 20.0, high_w: 60.0, duty_ratio: 1.0, source: &sources::LOAD_MEMORY, },
];
