// Written by `cargo run -p xtask -- data` from torques.csv; do not edit.

use crate::data::{Source, tables::sources};

/// tightening torques of bolted joints by what is bolted; several rows of one joint are several makers, who differ.
/// the figure of the component at hand comes first.
#[derive(Debug)]
pub(crate) struct Torques {
    pub(crate) joint: &'static str,
    pub(crate) thread: &'static str,
    pub(crate) least_nm: f64,
    pub(crate) most_nm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Torques] = &[
    Torques { joint: "battery", thread: "M5", least_nm: 5.0, most_nm: 5.0, source: &sources::TORQUE_BATTERY_C, },
    Torques { joint: "battery", thread: "M6", least_nm: 5.6, most_nm: 7.9, source: &sources::TORQUE_BATTERY_A, },
    Torques { joint: "battery", thread: "M6", least_nm: 3.0, most_nm: 4.0, source: &sources::TORQUE_BATTERY_B, },
    Torques { joint: "battery", thread: "M6", least_nm: 6.0, most_nm: 6.0, source: &sources::TORQUE_BATTERY_C, },
    Torques { joint: "battery", thread: "M8", least_nm: 9.6, most_nm: 10.7, source: &sources::TORQUE_BATTERY_A, },
    Torques { joint: "battery", thread: "M8", least_nm: 10.0, most_nm: 11.0, source: &sources::TORQUE_BATTERY_B, },
    Torques { joint: "battery", thread: "M8", least_nm: 8.0, most_nm: 8.0, source: &sources::TORQUE_BATTERY_C, },
    Torques { joint: "battery", thread: "M10", least_nm: 13.0, most_nm: 16.0, source: &sources::TORQUE_BATTERY_A, },
    Torques { joint: "battery", thread: "M6", least_nm: 4.5, most_nm: 6.3, source: &sources::TORQUE_BATTERY_A_STUDS, },
    Torques { joint: "battery", thread: "M8", least_nm: 6.6, most_nm: 8.5, source: &sources::TORQUE_BATTERY_A_STUDS, },
    Torques { joint: "battery", thread: "M10", least_nm: 10.4, most_nm: 13.0, source: &sources::TORQUE_BATTERY_A_STUDS, },
    Torques { joint: "stud", thread: "M4", least_nm: 1.2, most_nm: 1.2, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M5", least_nm: 2.0, most_nm: 2.0, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M6", least_nm: 3.0, most_nm: 3.0, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M8", least_nm: 6.0, most_nm: 6.0, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M10", least_nm: 10.0, most_nm: 10.0, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M12", least_nm: 15.5, most_nm: 15.5, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M16", least_nm: 30.0, most_nm: 30.0, source: &sources::TORQUE_TERMINAL_BOARD, },
    Torques { joint: "stud", thread: "M3.5", least_nm: 0.8, most_nm: 0.8, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M4", least_nm: 1.2, most_nm: 1.2, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M5", least_nm: 2.0, most_nm: 2.0, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M6", least_nm: 2.5, most_nm: 2.5, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M8", least_nm: 6.0, most_nm: 6.0, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M10", least_nm: 10.0, most_nm: 10.0, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M12", least_nm: 14.0, most_nm: 14.0, source: &sources::TORQUE_DRIVE_MANUAL, },
    Torques { joint: "stud", thread: "M16", least_nm: 25.0, most_nm: 25.0, source: &sources::TORQUE_DRIVE_MANUAL, },
];
