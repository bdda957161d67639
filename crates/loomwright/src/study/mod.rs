//! What users ask: the rooms below give candidates, this one applies the practice and decides.

pub mod cable;
pub mod judge;
pub mod remedy;

/// What everybody who cuts cable should hear, with every result.
pub fn cautions() -> &'static [&'static str] {
    &[
        "A battery short circuit starts fires: disconnect before you work, fuse at the source, cover live studs.",
        "Not judged yet: whether a fuse breaks the fault current of your battery (kiloamperes from lithium) or outlasts a motor's start.",
        "Lengths are one-way; both legs are computed. Crimp with the tool made for the lug; never trim strands.",
        "Mains from an inverter or shore can kill: that side is work for a licensed person.",
        "This is a computation, not an approval. Local codes and the makers' instructions come first.",
    ]
}
