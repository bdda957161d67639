// Written by `cargo run -p xtask -- data` from nec_table8.csv; do not edit.

use crate::data::{Source, tables::sources};

/// NEC chapter 9 table 8, d.c. resistance at 75 °C; area from the printed circular mils.
#[derive(Debug)]
pub(crate) struct NecTable8 {
    pub(crate) gauge: &'static str,
    pub(crate) area_cmil: f64,
    pub(crate) strands: f64,
    pub(crate) uncoated_ohm_per_kft: f64,
    pub(crate) coated_ohm_per_kft: f64,
    pub(crate) aluminium_ohm_per_kft: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[NecTable8] = &[
    NecTable8 { gauge: "18", area_cmil: 1620.0, strands: 1.0, uncoated_ohm_per_kft: 7.77, coated_ohm_per_kft: 8.08, aluminium_ohm_per_kft: 12.8, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "18", area_cmil: 1620.0, strands: 7.0, uncoated_ohm_per_kft: 7.95, coated_ohm_per_kft: 8.45, aluminium_ohm_per_kft: 13.1, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "16", area_cmil: 2580.0, strands: 1.0, uncoated_ohm_per_kft: 4.89, coated_ohm_per_kft: 5.08, aluminium_ohm_per_kft: 8.05, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "16", area_cmil: 2580.0, strands: 7.0, uncoated_ohm_per_kft: 4.99, coated_ohm_per_kft: 5.29, aluminium_ohm_per_kft: 8.21, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "14", area_cmil: 4110.0, strands: 1.0, uncoated_ohm_per_kft: 3.07, coated_ohm_per_kft: 3.19, aluminium_ohm_per_kft: 5.06, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "14", area_cmil: 4110.0, strands: 7.0, uncoated_ohm_per_kft: 3.14, coated_ohm_per_kft: 3.26, aluminium_ohm_per_kft: 5.17, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "12", area_cmil: 6530.0, strands: 1.0, uncoated_ohm_per_kft: 1.93, coated_ohm_per_kft: 2.01, aluminium_ohm_per_kft: 3.18, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "12", area_cmil: 6530.0, strands: 7.0, uncoated_ohm_per_kft: 1.98, coated_ohm_per_kft: 2.05, aluminium_ohm_per_kft: 3.25, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "10", area_cmil: 10380.0, strands: 1.0, uncoated_ohm_per_kft: 1.21, coated_ohm_per_kft: 1.26, aluminium_ohm_per_kft: 2.0, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "10", area_cmil: 10380.0, strands: 7.0, uncoated_ohm_per_kft: 1.24, coated_ohm_per_kft: 1.29, aluminium_ohm_per_kft: 2.04, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "8", area_cmil: 16510.0, strands: 1.0, uncoated_ohm_per_kft: 0.764, coated_ohm_per_kft: 0.786, aluminium_ohm_per_kft: 1.26, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "8", area_cmil: 16510.0, strands: 7.0, uncoated_ohm_per_kft: 0.778, coated_ohm_per_kft: 0.809, aluminium_ohm_per_kft: 1.28, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "6", area_cmil: 26240.0, strands: 7.0, uncoated_ohm_per_kft: 0.491, coated_ohm_per_kft: 0.51, aluminium_ohm_per_kft: 0.808, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "4", area_cmil: 41740.0, strands: 7.0, uncoated_ohm_per_kft: 0.308, coated_ohm_per_kft: 0.321, aluminium_ohm_per_kft: 0.508, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "3", area_cmil: 52620.0, strands: 7.0, uncoated_ohm_per_kft: 0.245, coated_ohm_per_kft: 0.254, aluminium_ohm_per_kft: 0.403, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "2", area_cmil: 66360.0, strands: 7.0, uncoated_ohm_per_kft: 0.194, coated_ohm_per_kft: 0.201, aluminium_ohm_per_kft: 0.319, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "1", area_cmil: 83690.0, strands: 19.0, uncoated_ohm_per_kft: 0.154, coated_ohm_per_kft: 0.16, aluminium_ohm_per_kft: 0.253, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "1/0", area_cmil: 105600.0, strands: 19.0, uncoated_ohm_per_kft: 0.122, coated_ohm_per_kft: 0.127, aluminium_ohm_per_kft: 0.201, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "2/0", area_cmil: 133100.0, strands: 19.0, uncoated_ohm_per_kft: 0.0967, coated_ohm_per_kft: 0.101, aluminium_ohm_per_kft: 0.159, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "3/0", area_cmil: 167800.0, strands: 19.0, uncoated_ohm_per_kft: 0.0766, coated_ohm_per_kft: 0.0797, aluminium_ohm_per_kft: 0.126, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "4/0", area_cmil: 211600.0, strands: 19.0, uncoated_ohm_per_kft: 0.0608, coated_ohm_per_kft: 0.0626, aluminium_ohm_per_kft: 0.1, source: &sources::NEC_CHAPTER9_TABLE8, },
    NecTable8 { gauge: "250", area_cmil: 250000.0, strands: 37.0, uncoated_ohm_per_kft: 0.0515, coated_ohm_per_kft: 0.0535, aluminium_ohm_per_kft: 0.0847, source: &sources::NEC_CHAPTER9_TABLE8, },
];
