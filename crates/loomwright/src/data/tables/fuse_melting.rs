// Written by `cargo run -p xtask -- data` from fuse_melting.csv; do not edit.

use crate::data::{Source, tables::sources};

/// I²t that melts a fuse-link in the adiabatic range, typical of one maker, by family and rating.
#[derive(Debug)]
pub(crate) struct FuseMelting {
    pub(crate) family: &'static str,
    pub(crate) rating_a: f64,
    pub(crate) melting_a2s: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[FuseMelting] = &[
    FuseMelting { family: "blade-c", rating_a: 5.0, melting_a2s: 26.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 7.5, melting_a2s: 60.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 10.0, melting_a2s: 115.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 15.0, melting_a2s: 340.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 20.0, melting_a2s: 520.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 25.0, melting_a2s: 1080.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 30.0, melting_a2s: 1510.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 35.0, melting_a2s: 2310.0, source: &sources::FUSE_TIMES_MEMORY, },
    FuseMelting { family: "blade-c", rating_a: 40.0, melting_a2s: 3300.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseMelting { family: "blade-e", rating_a: 30.0, melting_a2s: 4100.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseMelting { family: "blade-e", rating_a: 35.0, melting_a2s: 6000.0, source: &sources::FUSE_BLADE_SHEET, },
    FuseMelting { family: "blade-e", rating_a: 40.0, melting_a2s: 8500.0, source: &sources::FUSE_BLADE_SHEET, },
];
