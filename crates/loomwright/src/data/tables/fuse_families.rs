// Written by `cargo run -p xtask -- data` from fuse_families.csv; do not edit.

use crate::data::{Source, tables::sources};

/// fuse families; conventional_ratio is the conventional operating current I2 over the rating, empty where no time limit is at hand.
/// small_conventional_ratio holds in place of conventional_ratio for ratings up to small_up_to_a.
/// interrupt_a is stated at interrupt_v; an automatic choice takes from the families marked first, and from those marked second where no first one carries the load.
/// the ratings it is made in, smallest first, stand in ratings_a_list.
#[derive(Debug)]
pub(crate) struct FuseFamilies {
    pub(crate) family: &'static str,
    pub(crate) title: &'static str,
    pub(crate) standard: &'static str,
    pub(crate) ratings_a_list: &'static [f64],
    pub(crate) rated_v: Option<f64>,
    pub(crate) interrupt_a: Option<f64>,
    pub(crate) interrupt_v: Option<f64>,
    pub(crate) continuous_ratio: f64,
    pub(crate) conventional_ratio: Option<f64>,
    pub(crate) small_up_to_a: Option<f64>,
    pub(crate) small_conventional_ratio: Option<f64>,
    pub(crate) automatic: &'static str,
    pub(crate) ratings_source: &'static Source,
    pub(crate) rated_source: Option<&'static Source>,
    pub(crate) interrupt_source: Option<&'static Source>,
    pub(crate) continuous_source: &'static Source,
    pub(crate) conventional_source: Option<&'static Source>,
    pub(crate) small_conventional_source: Option<&'static Source>,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseFamilies] = &[
    FuseFamilies { family: "blade-f", title: "blade fuse-link type F, 10.9 mm body", standard: "ISO 8820-3", ratings_a_list: &[2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0], rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "no", ratings_source: &sources::FUSE_RATINGS_BLADE, rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_TIMES_MEMORY), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), small_conventional_source: None, },
    FuseFamilies { family: "blade-c", title: "blade fuse-link type C, 19.1 mm body", standard: "ISO 8820-3", ratings_a_list: &[1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0], rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "first", ratings_source: &sources::FUSE_RATINGS_BLADE, rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_BLADE_SHEET), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), small_conventional_source: None, },
    FuseFamilies { family: "blade-e", title: "blade fuse-link type E, 29.2 mm body", standard: "ISO 8820-3", ratings_a_list: &[20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0], rated_v: Some(32.0), interrupt_a: Some(1000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "first", ratings_source: &sources::FUSE_RATINGS_BLADE, rated_source: Some(&sources::FUSE_BLADE_SHEET), interrupt_source: Some(&sources::FUSE_BLADE_SHEET), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_BLADE_SHEET), small_conventional_source: None, },
    FuseFamilies { family: "strip-sf30", title: "strip fuse-link SF30, M5", standard: "ISO 8820-5", ratings_a_list: &[30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 100.0, 125.0, 150.0, 200.0], rated_v: Some(32.0), interrupt_a: Some(2000.0), interrupt_v: Some(32.0), continuous_ratio: 0.75, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "first", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: Some(&sources::ISO_8820_5_SCOPE), interrupt_source: Some(&sources::ISO_8820_5_SCOPE), continuous_source: &sources::FUSE_CONTINUOUS_MEMORY, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), small_conventional_source: None, },
    FuseFamilies { family: "strip-sf51", title: "strip fuse-link SF51, M8", standard: "ISO 8820-5", ratings_a_list: &[60.0, 80.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0], rated_v: Some(32.0), interrupt_a: Some(2000.0), interrupt_v: Some(32.0), continuous_ratio: 0.75, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "first", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: Some(&sources::ISO_8820_5_SCOPE), interrupt_source: Some(&sources::ISO_8820_5_SCOPE), continuous_source: &sources::FUSE_CONTINUOUS_MEMORY, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), small_conventional_source: None, },
    FuseFamilies { family: "bolt-down-limiter", title: "bolt-down limiter fuse", standard: "makers' data", ratings_a_list: &[35.0, 40.0, 50.0, 60.0, 80.0, 100.0, 125.0, 130.0, 150.0, 175.0, 200.0, 225.0, 250.0, 275.0, 300.0, 325.0, 350.0, 400.0, 450.0, 500.0, 600.0, 750.0], rated_v: Some(32.0), interrupt_a: Some(6000.0), interrupt_v: Some(32.0), continuous_ratio: 0.8, conventional_ratio: None, small_up_to_a: None, small_conventional_ratio: None, automatic: "no", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: Some(&sources::FUSE_TRADE_PAGES), interrupt_source: Some(&sources::FUSE_TRADE_PAGES), continuous_source: &sources::CONTINUOUS_80, conventional_source: None, small_conventional_source: None, },
    FuseFamilies { family: "terminal-cube", title: "fuse cube mounted on a battery terminal", standard: "makers' data", ratings_a_list: &[30.0, 40.0, 50.0, 60.0, 75.0, 80.0, 90.0, 100.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0], rated_v: Some(58.0), interrupt_a: Some(2000.0), interrupt_v: Some(58.0), continuous_ratio: 0.8, conventional_ratio: None, small_up_to_a: None, small_conventional_ratio: None, automatic: "no", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: Some(&sources::FUSE_TRADE_PAGES), interrupt_source: Some(&sources::FUSE_TIMES_MEMORY), continuous_source: &sources::CONTINUOUS_80, conventional_source: None, small_conventional_source: None, },
    FuseFamilies { family: "class-t", title: "UL class T fuse-link", standard: "UL 248-15", ratings_a_list: &[1.0, 2.0, 3.0, 6.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0, 150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 700.0, 800.0, 1000.0, 1200.0], rated_v: Some(125.0), interrupt_a: Some(20000.0), interrupt_v: Some(125.0), continuous_ratio: 0.8, conventional_ratio: Some(1.35), small_up_to_a: None, small_conventional_ratio: None, automatic: "second", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: Some(&sources::FUSE_TIMES_MEMORY), interrupt_source: Some(&sources::FUSE_TRADE_PAGES), continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::FUSE_TIMES_MEMORY), small_conventional_source: None, },
    FuseFamilies { family: "gg", title: "IEC 60269 gG fuse-link", standard: "IEC 60269-1", ratings_a_list: &[6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0, 315.0, 400.0, 500.0, 630.0, 800.0, 1000.0, 1250.0], rated_v: None, interrupt_a: None, interrupt_v: None, continuous_ratio: 0.8, conventional_ratio: Some(1.6), small_up_to_a: Some(13.0), small_conventional_ratio: Some(1.9), automatic: "no", ratings_source: &sources::FUSE_RATINGS_MEMORY, rated_source: None, interrupt_source: None, continuous_source: &sources::CONTINUOUS_80, conventional_source: Some(&sources::IEC_60269_1), small_conventional_source: Some(&sources::FUSE_TIMES_MEMORY), },
];
