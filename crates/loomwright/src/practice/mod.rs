//! Rule sets: what each practice limits, with its citation.

mod caps;
mod limits;
mod overrides;

pub use caps::{Cap, TableCap, table_cap};
pub use limits::{Limit, Practice, TerminalRule};
pub use overrides::{LimitValue, Limited, Override};
