// Written by `cargo run -p xtask -- data` from selling_units.csv; do not edit.

use crate::data::{Source, tables::sources};

/// how parts are usually sold: what a schedule of materials is rounded up to.
#[derive(Debug)]
pub(crate) struct SellingUnits {
    pub(crate) part: &'static str,
    pub(crate) least_m: Option<f64>,
    pub(crate) pieces_ratio: Option<f64>,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[SellingUnits] = &[
    SellingUnits { part: "cable", least_m: Some(1.0), pieces_ratio: None, source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "conduit", least_m: Some(1.0), pieces_ratio: None, source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "lug", least_m: None, pieces_ratio: Some(2.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "ferrule", least_m: None, pieces_ratio: Some(10.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "pin", least_m: None, pieces_ratio: Some(1.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "fuse", least_m: None, pieces_ratio: Some(1.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "clip", least_m: None, pieces_ratio: Some(10.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "gland", least_m: None, pieces_ratio: Some(1.0), source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "sleeve", least_m: Some(0.5), pieces_ratio: None, source: &sources::SELLING_COMMON_PRACTICE, },
    SellingUnits { part: "busbar", least_m: None, pieces_ratio: Some(1.0), source: &sources::SELLING_COMMON_PRACTICE, },
];
