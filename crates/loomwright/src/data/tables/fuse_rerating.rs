// Written by `cargo run -p xtask -- data` from fuse_rerating.csv; do not edit.

use crate::data::{Source, tables::sources};

/// share of its rating that a fuse-link carries at an ambient temperature; straight lines between points, no use beyond the last.
#[derive(Debug)]
pub(crate) struct FuseRerating {
    pub(crate) family: &'static str,
    pub(crate) ambient_c: f64,
    pub(crate) factor: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseRerating] = &[
    FuseRerating { family: "blade-f", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-f", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-f", ambient_c: 85.0, factor: 0.82, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-c", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-c", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-c", ambient_c: 85.0, factor: 0.82, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-e", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "blade-e", ambient_c: 20.0, factor: 1.0, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "blade-e", ambient_c: 65.0, factor: 0.85, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "blade-e", ambient_c: 85.0, factor: 0.75, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "blade-e", ambient_c: 110.0, factor: 0.625, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "blade-e", ambient_c: 125.0, factor: 0.55, source: &sources::FUSE_RERATING_SHEET, },
    FuseRerating { family: "strip-sf30", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "strip-sf30", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "strip-sf30", ambient_c: 85.0, factor: 0.79, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "strip-sf51", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "strip-sf51", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "strip-sf51", ambient_c: 85.0, factor: 0.79, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "class-t", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "class-t", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "class-t", ambient_c: 65.0, factor: 0.88, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "gg", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_GG, },
    FuseRerating { family: "gg", ambient_c: 40.0, factor: 1.0, source: &sources::FUSE_RERATING_GG, },
    FuseRerating { family: "gg", ambient_c: 100.0, factor: 0.7, source: &sources::FUSE_RERATING_GG, },
    FuseRerating { family: "class-j", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "class-j", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "class-j", ambient_c: 65.0, factor: 0.88, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-p", ambient_c: -40.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-p", ambient_c: 25.0, factor: 1.0, source: &sources::FUSE_RERATING_MEMORY, },
    FuseRerating { family: "blade-p", ambient_c: 85.0, factor: 0.79, source: &sources::FUSE_RERATING_MEMORY, },
];
