//! What users ask: the rooms below give candidates, this one applies the practice and decides.

pub mod cable;
pub mod commission;
pub mod compare;
pub mod curve;
pub mod dossier;
pub mod forecast;
pub mod inspect;
pub mod judge;
pub mod reconcile;
pub mod remedy;
pub mod schedule;
pub mod tolerance;

/// What everybody who cuts cable should hear, with every result.
///
/// ```
/// assert!(loomwright::study::cautions().iter().any(|caution| caution.contains("Lengths are one-way")));
/// ```
pub fn cautions() -> &'static [&'static str] {
    &[
        "A battery short circuit starts fires: disconnect before you work, fuse at the source, cover live studs.",
        "Fuse times are bands of families, many from memory: hold the maker's own sheet against them, and his word on two fuses in line.",
        "Lengths are one-way; both legs are computed. Crimp with the tool made for the lug; never trim strands.",
        "Mains from an inverter or shore can kill: that side is work for a licensed person.",
        "This is a computation, not an approval. Local codes and the makers' instructions come first.",
    ]
}

/// What nobody should forget who measures in what is live.
///
/// ```
/// assert!(loomwright::study::live_cautions().iter().any(|caution| caution.contains("currents with a clamp")));
/// ```
pub fn live_cautions() -> &'static [&'static str] {
    &[
        "Work on live parts: leads and probes rated and fused, one hand, no rings, watch or chain, tools insulated.",
        "A meter set to amperes is a short circuit across a battery: measure currents with a clamp.",
        "Do not measure on the mains side of an inverter or of shore power with open probes: use a meter in the outlet.",
        "Stop at once where something is hot, smells, or shows far more or less than expected.",
    ]
}
