// Written by `cargo run -p xtask -- data` from fuse_families.csv; do not edit.

use crate::data::{Source, tables::sources};

/// fuse families; conventional_ratio is the conventional operating current I2 over the rating, empty where no time limit is at hand.
/// interrupt_a is stated at interrupt_v; automatic choice uses only families whose row says yes.
#[derive(Debug)]
pub(crate) struct FuseFamilies {
    pub(crate) family: &'static str,
    pub(crate) title: &'static str,
    pub(crate) standard: &'static str,
    pub(crate) rated_v: Option<f64>,
    pub(crate) interrupt_a: Option<f64>,
    pub(crate) interrupt_v: Option<f64>,
    pub(crate) continuous_ratio: f64,
    pub(crate) conventional_ratio: Option<f64>,
    pub(crate) automatic: &'static str,
    pub(crate) rated_source: Option<&'static Source>,
    pub(crate) interrupt_source: Option<&'static Source>,
    pub(crate) continuous_source: &'static Source,
    pub(crate) conventional_source: Option<&'static Source>,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseFamilies] = &[
    FuseFamilies { family: "blade-f", title: "blade fuse-link type F, 10.9 mm body", standard: "ISO 8820-3", rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), automatic: "no", rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_TIMES_MEMORY), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
    FuseFamilies { family: "blade-c", title: "blade fuse-link type C, 19.1 mm body", standard: "ISO 8820-3", rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), automatic: "yes", rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_BLADE_SHEET), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
    FuseFamilies { family: "blade-e", title: "blade fuse-link type E, 29.2 mm body", standard: "ISO 8820-3", rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), automatic: "yes", rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_BLADE_SHEET), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_BLADE_SHEET), },
    FuseFamilies { family: "strip-sf30", title: "strip fuse-link SF30, M5", standard: "ISO 8820-5", rated_v: Some(32.0), interrupt_a: Some(2000.0), interrupt_v: Some(32.0), continuous_ratio: 0.75, conventional_ratio: Some(1.35), automatic: "yes", rated_source: Some(&sources::ISO_8820_5_SCOPE), interrupt_source: Some(&sources::ISO_8820_5_SCOPE), continuous_source: &sources::FUSE_CONTINUOUS_MEMORY, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
    FuseFamilies { family: "strip-sf51", title: "strip fuse-link SF51, M8", standard: "ISO 8820-5", rated_v: Some(32.0), interrupt_a: Some(2000.0), interrupt_v: Some(32.0), continuous_ratio: 0.75, conventional_ratio: Some(1.35), automatic: "yes", rated_source: Some(&sources::ISO_8820_5_SCOPE), interrupt_source: Some(&sources::ISO_8820_5_SCOPE), continuous_source: &sources::FUSE_CONTINUOUS_MEMORY, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
    FuseFamilies { family: "bolt-down-limiter", title: "bolt-down limiter fuse", standard: "makers' data", rated_v: Some(32.0), interrupt_a: Some(6000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: None, automatic: "no", rated_source: Some(&sources::FUSE_TRADE_PAGES), interrupt_source: Some(&sources::FUSE_TRADE_PAGES), continuous_source: &sources::CONTINUOUS_80, conventional_source: None, },
    FuseFamilies { family: "terminal-cube", title: "fuse cube mounted on a battery terminal", standard: "makers' data", rated_v: Some(58.0), interrupt_a: Some(2000.0), interrupt_v: Some(58.0), continuous_ratio: 0.8, conventional_ratio: None, automatic: "no", rated_source: Some(&sources::FUSE_TRADE_PAGES), interrupt_source: Some(&sources::FUSE_TIMES_MEMORY), continuous_source: &sources::CONTINUOUS_80, conventional_source: None, },
    FuseFamilies { family: "class-t", title: "UL class T fuse-link", standard: "UL 248-15", rated_v: Some(125.0), interrupt_a: Some(20000.0), interrupt_v: Some(125.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), automatic: "yes", rated_source: Some(&sources::FUSE_TIMES_MEMORY), interrupt_source: Some(&sources::FUSE_TRADE_PAGES), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
    FuseFamilies { family: "gg", title: "IEC 60269 gG fuse-link", standard: "IEC 60269-1", rated_v: None, interrupt_a: None, interrupt_v: None, continuous_ratio: 0.8, conventional_ratio: Some(1.6), automatic: "no", rated_source: None, interrupt_source: None, continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::IEC_60269_1), },
];
