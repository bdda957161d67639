// Written by `cargo run -p xtask -- data` from fuse_breaking.csv; do not edit.

use crate::data::{Source, tables::sources};

/// the largest direct current that a fuse-link breaks at circuits up to a voltage.
#[derive(Debug)]
pub(crate) struct FuseBreaking {
    pub(crate) family: &'static str,
    pub(crate) up_to_v: f64,
    pub(crate) breaks_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseBreaking] = &[
    FuseBreaking { family: "blade-f", up_to_v: 32.0, breaks_a: 1000.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseBreaking { family: "blade-c", up_to_v: 32.0, breaks_a: 1000.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseBreaking { family: "blade-e", up_to_v: 32.0, breaks_a: 1000.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseBreaking { family: "blade-p", up_to_v: 32.0, breaks_a: 1000.0, source: &sources::ISO_8820_13_SCOPE, },
    FuseBreaking { family: "strip-sf30", up_to_v: 32.0, breaks_a: 2000.0, source: &sources::ISO_8820_5_SCOPE, },
    FuseBreaking { family: "strip-sf51", up_to_v: 32.0, breaks_a: 2000.0, source: &sources::ISO_8820_5_SCOPE, },
    FuseBreaking { family: "bolt-down-limiter", up_to_v: 32.0, breaks_a: 6000.0, source: &sources::FUSE_TRADE_PAGES, },
    FuseBreaking { family: "terminal-cube", up_to_v: 14.0, breaks_a: 10000.0, source: &sources::FUSE_TRADE_PAGES, },
    FuseBreaking { family: "terminal-cube", up_to_v: 32.0, breaks_a: 5000.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseBreaking { family: "terminal-cube", up_to_v: 58.0, breaks_a: 2000.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseBreaking { family: "class-t", up_to_v: 125.0, breaks_a: 20000.0, source: &sources::FUSE_TRADE_PAGES, },
    FuseBreaking { family: "class-j", up_to_v: 300.0, breaks_a: 20000.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseBreaking { family: "breaker-thermal", up_to_v: 15.0, breaks_a: 2500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-thermal", up_to_v: 32.0, breaks_a: 1500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-thermal-modified", up_to_v: 15.0, breaks_a: 2500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-thermal-modified", up_to_v: 32.0, breaks_a: 1500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-thermal-automatic", up_to_v: 15.0, breaks_a: 2500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-thermal-automatic", up_to_v: 32.0, breaks_a: 1500.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-hydraulic", up_to_v: 65.0, breaks_a: 5000.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-hydraulic-polarised", up_to_v: 65.0, breaks_a: 5000.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-miniature-c", up_to_v: 60.0, breaks_a: 6000.0, source: &sources::BREAKER_MEMORY, },
    FuseBreaking { family: "breaker-miniature-c-polarised", up_to_v: 60.0, breaks_a: 6000.0, source: &sources::BREAKER_MEMORY, },
];
