// Written by `cargo run -p xtask -- data` from sae.csv; do not edit.

use crate::data::{Source, tables::sources};

/// SAE gauges, smallest conductor area in circular mils; every size is smaller than the AWG size of the same number.
#[derive(Debug)]
pub(crate) struct Sae {
    pub(crate) gauge: &'static str,
    pub(crate) area_cmil: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Sae] = &[
    Sae { gauge: "18", area_cmil: 1537.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "16", area_cmil: 2336.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "14", area_cmil: 3702.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "12", area_cmil: 5833.0, source: &sources::SAE_AREA_12, },
    Sae { gauge: "10", area_cmil: 9343.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "8", area_cmil: 14810.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "6", area_cmil: 24538.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "4", area_cmil: 37360.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "2", area_cmil: 62450.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "1", area_cmil: 77790.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "1/0", area_cmil: 98980.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "2/0", area_cmil: 125100.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "3/0", area_cmil: 158600.0, source: &sources::SAE_AREA_MEMORY, },
    Sae { gauge: "4/0", area_cmil: 205500.0, source: &sources::SAE_AREA_MEMORY, },
];
