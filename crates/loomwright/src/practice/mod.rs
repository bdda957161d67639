//! Rule sets: what each practice limits, with its citation.

mod caps;
mod limits;
mod overrides;

pub use caps::{Cap, TableCap, table_cap};
pub use limits::{Limit, Practice, TerminalRule, contact_resistance};
pub use overrides::{LimitValue, Limited, Override};
