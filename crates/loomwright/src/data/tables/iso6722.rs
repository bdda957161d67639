// Written by `cargo run -p xtask -- data` from iso6722.csv; do not edit.

use crate::data::{Source, tables::sources};

/// ISO 6722 road-vehicle cable, plain copper: maximum d.c. resistance at 20 °C and largest thin-wall outer diameter.
#[derive(Debug)]
pub(crate) struct Iso6722 {
    pub(crate) csa_mm2: f64,
    pub(crate) resistance_mohm_per_m: f64,
    pub(crate) outer_diameter_mm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Iso6722] = &[
    Iso6722 { csa_mm2: 0.13, resistance_mohm_per_m: 136.0, outer_diameter_mm: 1.05, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 0.22, resistance_mohm_per_m: 84.8, outer_diameter_mm: 1.2, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 0.35, resistance_mohm_per_m: 54.4, outer_diameter_mm: 1.4, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 0.5, resistance_mohm_per_m: 37.1, outer_diameter_mm: 1.6, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 0.75, resistance_mohm_per_m: 24.7, outer_diameter_mm: 1.9, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 1.0, resistance_mohm_per_m: 18.5, outer_diameter_mm: 2.1, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 1.25, resistance_mohm_per_m: 14.9, outer_diameter_mm: 2.3, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 1.5, resistance_mohm_per_m: 12.7, outer_diameter_mm: 2.4, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 2.0, resistance_mohm_per_m: 9.42, outer_diameter_mm: 2.8, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 2.5, resistance_mohm_per_m: 7.6, outer_diameter_mm: 3.0, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 3.0, resistance_mohm_per_m: 6.15, outer_diameter_mm: 3.4, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 4.0, resistance_mohm_per_m: 4.71, outer_diameter_mm: 3.7, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 5.0, resistance_mohm_per_m: 3.94, outer_diameter_mm: 4.2, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 6.0, resistance_mohm_per_m: 3.14, outer_diameter_mm: 4.3, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 8.0, resistance_mohm_per_m: 2.38, outer_diameter_mm: 5.0, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 10.0, resistance_mohm_per_m: 1.82, outer_diameter_mm: 6.0, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 12.0, resistance_mohm_per_m: 1.52, outer_diameter_mm: 6.5, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 16.0, resistance_mohm_per_m: 1.16, outer_diameter_mm: 7.2, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 20.0, resistance_mohm_per_m: 0.955, outer_diameter_mm: 7.8, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 25.0, resistance_mohm_per_m: 0.743, outer_diameter_mm: 8.7, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 30.0, resistance_mohm_per_m: 0.647, outer_diameter_mm: 9.6, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 35.0, resistance_mohm_per_m: 0.527, outer_diameter_mm: 10.4, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 40.0, resistance_mohm_per_m: 0.473, outer_diameter_mm: 11.1, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 50.0, resistance_mohm_per_m: 0.368, outer_diameter_mm: 12.2, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 60.0, resistance_mohm_per_m: 0.315, outer_diameter_mm: 13.3, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 70.0, resistance_mohm_per_m: 0.259, outer_diameter_mm: 14.4, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 95.0, resistance_mohm_per_m: 0.196, outer_diameter_mm: 16.7, source: &sources::ISO_6722_MEMORY, },
    Iso6722 { csa_mm2: 120.0, resistance_mohm_per_m: 0.153, outer_diameter_mm: 18.7, source: &sources::ISO_6722_MEMORY, },
];
