// Written by `cargo run -p xtask -- data` from materials.csv; do not edit.

use crate::data::{Source, tables::sources};

/// conductor materials; zero_resistance_k_below_0c is the inferred zero-resistance temperature, counted downwards from 0 °C.
/// copper-clad aluminium is the 10 % copper by volume class: its heat capacity is the volume-weighted mean, its temperature law that of its aluminium core.
/// conductivity_w_per_m_k is the low end of what handbooks print near 20 °C and of what 200 °C leaves; copper-clad aluminium counts as its core.
#[derive(Debug)]
pub(crate) struct Materials {
    pub(crate) material: &'static str,
    pub(crate) resistivity_ohm_mm2_per_m: f64,
    pub(crate) zero_resistance_k_below_0c: f64,
    pub(crate) density_kg_per_m3: f64,
    pub(crate) heat_capacity_j_per_m3_k: f64,
    pub(crate) conductivity_w_per_m_k: f64,
    pub(crate) resistivity_source: &'static Source,
    pub(crate) zero_resistance_source: &'static Source,
    pub(crate) density_source: &'static Source,
    pub(crate) heat_capacity_source: &'static Source,
    pub(crate) conductivity_source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Materials] = &[
    Materials { material: "copper", resistivity_ohm_mm2_per_m: 0.017241379310344827, zero_resistance_k_below_0c: 234.5, density_kg_per_m3: 8890.0, heat_capacity_j_per_m3_k: 3450000.0, conductivity_w_per_m_k: 385.0, resistivity_source: &sources::IEC_60028, zero_resistance_source: &sources::IEC_60287_1_1, density_source: &sources::IACS_GUIDE, heat_capacity_source: &sources::IEC_60949, conductivity_source: &sources::METAL_CONDUCTIVITY_MEMORY, },
    Materials { material: "tinned-copper", resistivity_ohm_mm2_per_m: 0.018310725690892975, zero_resistance_k_below_0c: 234.5, density_kg_per_m3: 8890.0, heat_capacity_j_per_m3_k: 3450000.0, conductivity_w_per_m_k: 360.0, resistivity_source: &sources::ASTM_B33_MEMORY, zero_resistance_source: &sources::IEC_60287_1_1, density_source: &sources::IACS_GUIDE, heat_capacity_source: &sources::IEC_60949, conductivity_source: &sources::METAL_CONDUCTIVITY_MEMORY, },
    Materials { material: "aluminium", resistivity_ohm_mm2_per_m: 0.028264, zero_resistance_k_below_0c: 228.0, density_kg_per_m3: 2703.0, heat_capacity_j_per_m3_k: 2500000.0, conductivity_w_per_m_k: 230.0, resistivity_source: &sources::IEC_60889, zero_resistance_source: &sources::IEC_60949, density_source: &sources::ALUMINIUM_DENSITY_MEMORY, heat_capacity_source: &sources::IEC_60949, conductivity_source: &sources::METAL_CONDUCTIVITY_MEMORY, },
    Materials { material: "copper-clad-aluminium", resistivity_ohm_mm2_per_m: 0.027410777917884, zero_resistance_k_below_0c: 228.0, density_kg_per_m3: 3320.0, heat_capacity_j_per_m3_k: 2595000.0, conductivity_w_per_m_k: 230.0, resistivity_source: &sources::ASTM_B566, zero_resistance_source: &sources::CCA_TEMPERATURE_MEMORY, density_source: &sources::ASTM_B566, heat_capacity_source: &sources::IEC_60949, conductivity_source: &sources::METAL_CONDUCTIVITY_MEMORY, },
    Materials { material: "mild-steel", resistivity_ohm_mm2_per_m: 0.143, zero_resistance_k_below_0c: 202.0, density_kg_per_m3: 7850.0, heat_capacity_j_per_m3_k: 3800000.0, conductivity_w_per_m_k: 45.0, resistivity_source: &sources::CARBON_STEEL_TABLE, zero_resistance_source: &sources::IEC_60949, density_source: &sources::STEEL_DENSITY_MEMORY, heat_capacity_source: &sources::IEC_60949, conductivity_source: &sources::METAL_CONDUCTIVITY_MEMORY, },
];
