//! Looking up a value by its plain name, with the nearest name when it is misspelled.

use thiserror::Error;

/// A name that is not known, with the nearest and all known names.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{given:?} is not a known {what}{}; known: {known}", did_you_mean(*nearest))]
pub struct UnknownName {
    /// What kind of name was needed.
    pub what: &'static str,
    /// The text as given, cut when it is long.
    pub given: String,
    /// The nearest known name, when one is near.
    pub nearest: Option<&'static str>,
    /// All known names.
    pub known: String,
}

impl UnknownName {
    /// The error for a text that is none of the known names.
    pub(crate) fn new(what: &'static str, given: &str, known: &[&'static str]) -> Self {
        Self { what, given: given.chars().take(60).collect(), nearest: nearest(given, known), known: known.join(", ") }
    }
}

/// The known names nearest to `given`, when one is near enough to be meant.
fn nearest(given: &str, known: &[&'static str]) -> Option<&'static str> {
    let given = given.to_lowercase();
    known
        .iter()
        .map(|name| (strsim::damerau_levenshtein(name, &given), *name))
        .filter(|(distance, name)| *distance <= (name.len() / 3).max(1))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

/// The hint at a name that may have been meant, to follow what was given.
pub(crate) fn did_you_mean(name: Option<&str>) -> String {
    name.map(|name| format!(", did you mean {name:?}?")).unwrap_or_default()
}

/// The same of the known name nearest to `given`.
pub(crate) fn hint(given: &str, known: &[&'static str]) -> String {
    did_you_mean(nearest(given, known))
}

/// Gives an enum its names: `name()`, `ALL`, `FromStr` by name and `Display`.
macro_rules! named {
    ($(#[$about:meta])* $type:ident, $what:literal, { $($(#[$doc:meta])* $variant:ident => $name:literal,)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $type { $($(#[$doc])* $variant,)+ }

        impl $type {
            /// Every value, in a fixed order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];
            /// Every name, in the order of `ALL`.
            pub const NAMES: &'static [&'static str] = &[$($name,)+];

            /// The name as written in commands, plans and results.
            pub fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }
        }

        impl std::fmt::Display for $type {
            fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                formatter.write_str(self.name())
            }
        }

        impl std::str::FromStr for $type {
            type Err = crate::names::UnknownName;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                let wanted = text.trim();
                let found = Self::ALL.iter().copied().find(|value| value.name().eq_ignore_ascii_case(wanted));
                found.ok_or_else(|| crate::names::UnknownName::new($what, text, Self::NAMES))
            }
        }
    };
}
pub(crate) use named;
