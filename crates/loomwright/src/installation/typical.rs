//! What loads typically take: to start from, not to rely on.

use uom::si::power::watt;

use crate::data::Source;
use crate::data::tables::typical_loads::{ROWS, TypicalLoads};
use crate::names::UnknownName;
use crate::quantity::{Power, Ratio};

/// A load of the catalogue.
#[derive(Clone, Copy, Debug)]
pub struct TypicalLoad(&'static TypicalLoads);

const fn names() -> [&'static str; ROWS.len()] {
    let mut names = [""; ROWS.len()];
    let mut index = 0;
    while index < ROWS.len() {
        #[expect(clippy::indexing_slicing, reason = "in a constant, below its own length")]
        {
            names[index] = ROWS[index].load;
        }
        index += 1;
    }
    names
}

static NAMES: [&str; ROWS.len()] = names();

impl TypicalLoad {
    /// Every name.
    pub const NAMES: &'static [&'static str] = &NAMES;

    /// The whole catalogue.
    pub fn all() -> impl Iterator<Item = Self> {
        ROWS.iter().map(Self)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        self.0.load
    }

    /// Whether it needs mains, from an inverter.
    pub fn needs_mains(self) -> bool {
        self.0.kind == "mains"
    }

    /// What it takes, from and to.
    pub fn power(self) -> [Power; 2] {
        [self.0.low_w, self.0.high_w].map(Power::new::<watt>)
    }

    /// The share of time that it runs.
    pub fn duty(self) -> Ratio {
        Ratio::from(self.0.duty_ratio)
    }

    /// Where this comes from.
    pub fn source(self) -> &'static Source {
        self.0.source
    }
}

impl std::str::FromStr for TypicalLoad {
    type Err = UnknownName;

    fn from_str(text: &str) -> Result<Self, UnknownName> {
        let found = ROWS.iter().find(|row| row.load == text.trim());
        found.map(Self).ok_or_else(|| UnknownName::new("typical load", text, Self::NAMES))
    }
}
