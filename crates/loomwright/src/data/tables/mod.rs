// Written by `cargo run -p xtask -- data`; do not edit.

pub(crate) mod adiabatic_k;
pub(crate) mod battery_emf;
pub(crate) mod cfr33_engine;
pub(crate) mod cfr33_table5;
pub(crate) mod constants;
pub(crate) mod contacts;
pub(crate) mod drop_limits;
pub(crate) mod fuse_families;
pub(crate) mod fuse_rerating;
pub(crate) mod grouping;
pub(crate) mod iec60228;
pub(crate) mod iec60287_air;
pub(crate) mod iec60287_duct;
pub(crate) mod iec60364_5_52;
pub(crate) mod iso10133;
pub(crate) mod iso6722;
pub(crate) mod materials;
pub(crate) mod nec_310_16;
pub(crate) mod nec_310_17;
pub(crate) mod nec_table8;
pub(crate) mod practice_grouping;
pub(crate) mod practice_limits;
pub(crate) mod sae;
pub(crate) mod sources;
pub(crate) mod walls;
pub(crate) mod zone_ambient;
