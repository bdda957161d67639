// Written by `cargo run -p xtask -- data` from battery_ocv.csv; do not edit.

use crate::data::{Source, tables::sources};

/// open-circuit voltage per 12 V block (six lead-acid or four lithium iron phosphate cells) at 25 °C by state of charge.
#[derive(Debug)]
pub(crate) struct BatteryOcv {
    pub(crate) chemistry: &'static str,
    pub(crate) charge_ratio: f64,
    pub(crate) open_v: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[BatteryOcv] = &[
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.0, open_v: 8.0, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.01, open_v: 9.062, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.02, open_v: 9.84, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.05, open_v: 11.141, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.1, open_v: 11.912, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.15, open_v: 12.432, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.2, open_v: 12.674, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.25, open_v: 12.743, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.3, open_v: 12.823, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.4, open_v: 13.01, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.5, open_v: 13.064, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.6, open_v: 13.075, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.7, open_v: 13.096, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.75, open_v: 13.17, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.8, open_v: 13.239, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.85, open_v: 13.253, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.9, open_v: 13.257, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.95, open_v: 13.266, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.98, open_v: 13.401, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 0.99, open_v: 13.66, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "lithium-iron-phosphate", charge_ratio: 1.0, open_v: 14.4, source: &sources::LFP_OCV_MODEL, },
    BatteryOcv { chemistry: "flooded", charge_ratio: 0.0, open_v: 11.89, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "flooded", charge_ratio: 0.25, open_v: 12.06, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "flooded", charge_ratio: 0.5, open_v: 12.24, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "flooded", charge_ratio: 0.75, open_v: 12.45, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "flooded", charge_ratio: 1.0, open_v: 12.65, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "gel", charge_ratio: 0.0, open_v: 11.8, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "gel", charge_ratio: 0.25, open_v: 12.0, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "gel", charge_ratio: 0.5, open_v: 12.4, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "gel", charge_ratio: 0.75, open_v: 12.6, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "gel", charge_ratio: 1.0, open_v: 12.8, source: &sources::LEAD_ACID_CHART, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.0, open_v: 11.406, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.1, open_v: 11.73, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.2, open_v: 11.904, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.3, open_v: 12.096, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.4, open_v: 12.216, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.5, open_v: 12.384, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.6, open_v: 12.492, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.7, open_v: 12.636, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.8, open_v: 12.75, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 0.9, open_v: 12.918, source: &sources::LEAD_ACID_LAB, },
    BatteryOcv { chemistry: "agm", charge_ratio: 1.0, open_v: 12.99, source: &sources::LEAD_ACID_LAB, },
];
