// Written by `cargo run -p xtask -- data` from stud_currents.csv; do not edit.

use crate::data::{Source, tables::sources};

/// current of a lug clamped on a stud that does not itself carry it, by thread.
#[derive(Debug)]
pub(crate) struct StudCurrents {
    pub(crate) thread: &'static str,
    pub(crate) clamped_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[StudCurrents] = &[
    StudCurrents { thread: "M4", clamped_a: 35.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M5", clamped_a: 75.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M6", clamped_a: 125.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M8", clamped_a: 150.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M10", clamped_a: 200.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M12", clamped_a: 350.0, source: &sources::TERMINAL_BOARD_BOLTS, },
    StudCurrents { thread: "M16", clamped_a: 500.0, source: &sources::TERMINAL_BOARD_BOLTS, },
];
