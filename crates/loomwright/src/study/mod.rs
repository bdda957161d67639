//! What users ask: the rooms below give candidates, this one applies the practice and decides.

pub mod cable;
