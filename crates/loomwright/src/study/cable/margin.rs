//! The checks that a size must pass, and how far it passes each.

use crate::quantity::Ratio;

/// One thing that a conductor and its fuse must satisfy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Check {
    /// Ib ≤ Iz.
    Ampacity,
    /// The voltage lost stays within its limit.
    VoltageDrop,
    /// A fuse exists that carries the load and is not larger than the conductor bears: In ≤ Iz.
    FuseRating,
    /// I2 ≤ 1.45 Iz.
    FuseOverload,
    /// The conductor enters its terminals.
    Terminal,
    /// The practice's smallest conductor.
    SmallestConductor,
    /// The conduit holds its conductors.
    Conduit,
}

impl Check {
    /// The rule's name.
    pub fn rule(self) -> &'static str {
        match self {
            Self::Ampacity => "ampacity",
            Self::VoltageDrop => "voltage-drop",
            Self::FuseRating | Self::FuseOverload => "fuse-protects-conductor",
            Self::Terminal => "terminal-accepts-conductor",
            Self::SmallestConductor => "smallest-conductor",
            Self::Conduit => "conduit-holds-conductors",
        }
    }

    /// Whether the check is about fitting, not about current or voltage: an exact fit is a full pass.
    pub fn is_fit(self) -> bool {
        matches!(self, Self::Terminal | Self::SmallestConductor | Self::Conduit)
    }

    /// The check in words, with what must be smaller first.
    pub fn title(self) -> &'static str {
        match self {
            Self::Ampacity => "load within ampacity",
            Self::VoltageDrop => "voltage drop",
            Self::FuseRating => "fuse within ampacity",
            Self::FuseOverload => "fuse opens on overload",
            Self::Terminal => "fits the terminal",
            Self::SmallestConductor => "not below the smallest size",
            Self::Conduit => "fits the conduit",
        }
    }
}

/// How far one check is met.
#[derive(Clone, Copy, Debug)]
pub struct Margin {
    /// Which check.
    pub check: Check,
    /// The number found, in `unit`.
    pub measured: f64,
    /// The number it is held against, in `unit`.
    pub limit: f64,
    /// Unit of both.
    pub unit: &'static str,
    /// 1 or more passes.
    pub margin: Ratio,
}

impl Margin {
    /// Whether the check passes; a part in a billion is rounding, not failure.
    pub fn passes(&self) -> bool {
        self.margin.value >= 1.0 - 1e-9
    }
}
