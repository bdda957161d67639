// Written by `cargo run -p xtask -- data` from zone_ambient.csv; do not edit.

use crate::data::{Source, tables::sources};

/// hottest ambient by kind of zone; the US column is 33 CFR 183 practice where it differs.
#[derive(Debug)]
pub(crate) struct ZoneAmbient {
    pub(crate) kind: &'static str,
    pub(crate) hottest_c: f64,
    pub(crate) hottest_us_c: Option<f64>,
    pub(crate) title: &'static str,
    pub(crate) source: &'static Source,
    pub(crate) us_source: Option<&'static Source>,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ZoneAmbient] = &[
    ZoneAmbient { kind: "van-cabin", hottest_c: 40.0, hottest_us_c: None, title: "living space of a vehicle", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "converter-locker", hottest_c: 50.0, hottest_us_c: None, title: "locker with converters or chargers", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "roof-void", hottest_c: 70.0, hottest_us_c: None, title: "void under a sunlit roof", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "under-body", hottest_c: 50.0, hottest_us_c: None, title: "under the floor of a vehicle", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "beside-exhaust", hottest_c: 85.0, hottest_us_c: None, title: "under the floor beside the exhaust", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "engine-bay", hottest_c: 85.0, hottest_us_c: None, title: "engine bay of a vehicle", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
    ZoneAmbient { kind: "boat-engine-space", hottest_c: 60.0, hottest_us_c: Some(50.0), title: "engine space of a boat", source: &sources::ISO_10133_MEMORY, us_source: Some(&sources::CFR33_183_425), },
    ZoneAmbient { kind: "boat", hottest_c: 40.0, hottest_us_c: Some(30.0), title: "anywhere else on a boat", source: &sources::ZONE_COMMON_PRACTICE, us_source: Some(&sources::CFR33_183_425), },
    ZoneAmbient { kind: "hut", hottest_c: 30.0, hottest_us_c: None, title: "inside a cabin or hut", source: &sources::ZONE_COMMON_PRACTICE, us_source: None, },
];
