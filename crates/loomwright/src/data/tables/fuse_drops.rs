// Written by `cargo run -p xtask -- data` from fuse_drops.csv; do not edit.

use crate::data::{Source, tables::sources};

/// drop of a fuse-link at rated current, hot, and its cold resistance, typical of one maker.
/// an empty drop is not known.
#[derive(Debug)]
pub(crate) struct FuseDrops {
    pub(crate) family: &'static str,
    pub(crate) rating_a: f64,
    pub(crate) drop_v: Option<f64>,
    pub(crate) cold_mohm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseDrops] = &[
    FuseDrops { family: "blade-c", rating_a: 1.0, drop_v: Some(0.176), cold_mohm: 123.0, source: &sources::FUSE_DROP_SHEET, },
    FuseDrops { family: "blade-c", rating_a: 2.0, drop_v: Some(0.141), cold_mohm: 53.5, source: &sources::FUSE_DROP_SHEET, },
    FuseDrops { family: "blade-c", rating_a: 3.0, drop_v: Some(0.137), cold_mohm: 31.1, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 4.0, drop_v: Some(0.136), cold_mohm: 22.8, source: &sources::FUSE_DROP_SHEET, },
    FuseDrops { family: "blade-c", rating_a: 5.0, drop_v: Some(0.128), cold_mohm: 17.85, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 7.5, drop_v: Some(0.116), cold_mohm: 10.91, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 10.0, drop_v: Some(0.109), cold_mohm: 7.7, source: &sources::FUSE_DROP_SHEET, },
    FuseDrops { family: "blade-c", rating_a: 15.0, drop_v: Some(0.102), cold_mohm: 4.8, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 20.0, drop_v: Some(0.098), cold_mohm: 3.38, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 25.0, drop_v: Some(0.092), cold_mohm: 2.52, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 30.0, drop_v: Some(0.084), cold_mohm: 1.97, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 35.0, drop_v: Some(0.087), cold_mohm: 1.61, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-c", rating_a: 40.0, drop_v: Some(0.096), cold_mohm: 1.44, source: &sources::FUSE_DROP_SHEET, },
    FuseDrops { family: "blade-f", rating_a: 3.0, drop_v: Some(0.153), cold_mohm: 31.1, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 5.0, drop_v: Some(0.133), cold_mohm: 17.9, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 7.5, drop_v: Some(0.116), cold_mohm: 11.1, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 10.0, drop_v: Some(0.109), cold_mohm: 7.75, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 15.0, drop_v: None, cold_mohm: 4.59, source: &sources::FUSE_DROP_CHART, },
    FuseDrops { family: "blade-f", rating_a: 20.0, drop_v: Some(0.098), cold_mohm: 3.21, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 25.0, drop_v: Some(0.092), cold_mohm: 2.36, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-f", rating_a: 30.0, drop_v: Some(0.084), cold_mohm: 1.85, source: &sources::FUSE_DROP_MEMORY, },
    FuseDrops { family: "blade-e", rating_a: 40.0, drop_v: Some(0.075), cold_mohm: 1.4, source: &sources::FUSE_BLADE_SHEET, },
];
