//! What others published or measured, one file per source, and our results beside it.

mod adiabatic_k;
mod ambient_factors;
mod astm_b258;
mod batteries;
mod battery_charging;
mod bs7671_free_air;
mod cfr33_183;
mod churchill_chu;
mod converter_examples;
mod converter_fit;
mod converter_losses;
mod coolprop_air;
mod din_vde_0298_4;
mod energy_sources;
mod faa_ac43_13;
mod flexible_rubber;
mod fuse_gates;
mod iec60228;
mod iec60287_parts;
mod iec60364_methods;
mod joints;
mod nec_310_17;
mod nec_table8;
mod nist_copper;
mod operating_points;
mod plants;
mod power_handbook;
mod protection_examples;
mod radial_transient;
mod solar;
mod solar_energy;
#[path = "../plans/stays.rs"]
mod stays;
#[path = "../plans/support.rs"]
mod support;
mod terminations;
mod tolerance;
mod uncertainty;
mod vertical_plate;
mod weighted_efficiency;
mod worked_examples;
