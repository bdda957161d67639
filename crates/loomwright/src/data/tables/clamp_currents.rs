// Written by `cargo run -p xtask -- data` from clamp_currents.csv; do not edit.

use crate::data::{Source, tables::sources};

/// test current of a terminal by the cross-sectional area that it is rated for: a tenth of it may drop 3.2 mV over two of them.
#[derive(Debug)]
pub(crate) struct ClampCurrents {
    pub(crate) csa_mm2: f64,
    pub(crate) current_a: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[ClampCurrents] = &[
    ClampCurrents { csa_mm2: 0.2, current_a: 4.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 0.5, current_a: 6.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 0.75, current_a: 9.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 1.0, current_a: 13.5, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 1.5, current_a: 17.5, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 2.5, current_a: 24.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 4.0, current_a: 32.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 6.0, current_a: 41.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 10.0, current_a: 57.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 16.0, current_a: 76.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 35.0, current_a: 125.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 50.0, current_a: 150.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 95.0, current_a: 232.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 150.0, current_a: 309.0, source: &sources::IEC_60947_7_1_PAGE, },
    ClampCurrents { csa_mm2: 240.0, current_a: 415.0, source: &sources::IEC_60947_7_1_PAGE, },
];
