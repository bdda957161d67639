// Written by `cargo run -p xtask -- data` from glands.csv; do not edit.

use crate::data::{Source, tables::sources};

/// cable glands by metric thread: outer diameters that usual ones grip; makers differ by a millimetre.
#[derive(Debug)]
pub(crate) struct Glands {
    pub(crate) gland: &'static str,
    pub(crate) least_mm: f64,
    pub(crate) most_mm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Glands] = &[
    Glands { gland: "M12", least_mm: 3.0, most_mm: 6.5, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M16", least_mm: 5.0, most_mm: 10.0, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M20", least_mm: 7.0, most_mm: 13.0, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M25", least_mm: 10.0, most_mm: 17.0, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M32", least_mm: 15.0, most_mm: 21.0, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M40", least_mm: 19.0, most_mm: 28.0, source: &sources::GLAND_MEMORY, },
    Glands { gland: "M50", least_mm: 27.0, most_mm: 35.0, source: &sources::GLAND_MEMORY, },
];
