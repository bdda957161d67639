// Written by `cargo run -p xtask -- data` from fuse_holders.csv; do not edit.

use crate::data::{Source, tables::sources};

/// holders and bolts of each family: the most that a usual holder carries, the largest conductor that it takes, and the tightening torque where it is bolted.
/// an empty cell is not known; the maker's figure for the part at hand comes first.
#[derive(Debug)]
pub(crate) struct FuseHolders {
    pub(crate) family: &'static str,
    pub(crate) carries_a: Option<f64>,
    pub(crate) largest_mm2: f64,
    pub(crate) thread: &'static str,
    pub(crate) torque_nm: Option<f64>,
    pub(crate) source: &'static Source,
    pub(crate) torque_source: Option<&'static Source>,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseHolders] = &[
    FuseHolders { family: "blade-f", carries_a: Some(30.0), largest_mm2: 4.0, thread: "", torque_nm: None, source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: None, },
    FuseHolders { family: "blade-c", carries_a: Some(30.0), largest_mm2: 6.0, thread: "", torque_nm: None, source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: None, },
    FuseHolders { family: "blade-p", carries_a: Some(30.0), largest_mm2: 4.0, thread: "", torque_nm: None, source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: None, },
    FuseHolders { family: "blade-e", carries_a: Some(80.0), largest_mm2: 16.0, thread: "", torque_nm: None, source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: None, },
    FuseHolders { family: "strip-sf30", carries_a: Some(200.0), largest_mm2: 35.0, thread: "M5", torque_nm: Some(3.05), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_BLOCK_PAGE), },
    FuseHolders { family: "strip-sf51", carries_a: Some(500.0), largest_mm2: 120.0, thread: "M8", torque_nm: Some(11.0), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_HOLDER_MEMORY), },
    FuseHolders { family: "bolt-down-limiter", carries_a: Some(750.0), largest_mm2: 120.0, thread: "M8", torque_nm: None, source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: None, },
    FuseHolders { family: "terminal-cube", carries_a: Some(300.0), largest_mm2: 120.0, thread: "M8", torque_nm: Some(8.5), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_BLOCK_PAGE), },
    FuseHolders { family: "class-t", carries_a: None, largest_mm2: 120.0, thread: "5/16 in", torque_nm: Some(8.0), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_HOLDER_MEMORY), },
    FuseHolders { family: "breaker-miniature-c", carries_a: Some(63.0), largest_mm2: 25.0, thread: "", torque_nm: Some(2.5), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_HOLDER_MEMORY), },
    FuseHolders { family: "breaker-miniature-c-polarised", carries_a: Some(63.0), largest_mm2: 25.0, thread: "", torque_nm: Some(2.5), source: &sources::FUSE_HOLDER_COMMON_PRACTICE, torque_source: Some(&sources::FUSE_HOLDER_MEMORY), },
];
