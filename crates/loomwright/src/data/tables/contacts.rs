// Written by `cargo run -p xtask -- data` from contacts.csv; do not edit.

use crate::data::{Source, tables::sources};

/// contact resistance of one joint in good order.
#[derive(Debug)]
pub(crate) struct Contacts {
    pub(crate) joint: &'static str,
    pub(crate) resistance_mohm: f64,
    pub(crate) source: &'static Source,
}

#[rustfmt::skip]
pub(crate) const ROWS: &[Contacts] = &[
    Contacts { joint: "lug-on-stud", resistance_mohm: 0.1, source: &sources::CONTACT_COMMON_PRACTICE, },
    Contacts { joint: "screw-cage", resistance_mohm: 0.2, source: &sources::CONTACT_COMMON_PRACTICE, },
    Contacts { joint: "isolator", resistance_mohm: 0.2, source: &sources::CONTACT_COMMON_PRACTICE, },
    Contacts { joint: "chassis-path", resistance_mohm: 3.0, source: &sources::CONTACT_COMMON_PRACTICE, },
];
