// Written by `cargo run -p xtask -- data` from screw_torques.csv; do not edit.

use crate::data::{Source, tables::sources};

/// tightening torque of screw terminals by the conductor in them, slotted screws up to and above 1.2 mm slot width.
/// for North American practice where the terminal's maker states none.
#[derive(Debug)]
pub(crate) struct ScrewTorques {
    pub(crate) csa_mm2: f64,
    pub(crate) narrow_nm: Option<f64>,
    pub(crate) wide_nm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ScrewTorques] = &[
    ScrewTorques { csa_mm2: 5.3, narrow_nm: Some(2.3), wide_nm: 4.0, source: &sources::NEC_ANNEX_I, },
    ScrewTorques { csa_mm2: 8.4, narrow_nm: Some(2.8), wide_nm: 4.5, source: &sources::NEC_ANNEX_I, },
    ScrewTorques { csa_mm2: 21.2, narrow_nm: Some(4.0), wide_nm: 5.1, source: &sources::NEC_ANNEX_I, },
    ScrewTorques { csa_mm2: 26.7, narrow_nm: Some(4.0), wide_nm: 5.6, source: &sources::NEC_ANNEX_I, },
    ScrewTorques { csa_mm2: 33.7, narrow_nm: Some(4.5), wide_nm: 5.6, source: &sources::NEC_ANNEX_I, },
    ScrewTorques { csa_mm2: 177.4, narrow_nm: None, wide_nm: 5.6, source: &sources::NEC_ANNEX_I, },
];
