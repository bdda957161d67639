//! Ampacity against printed tables: the errors are stored, so that a change of the physics is seen row by row.

use std::fmt::Write as _;
use std::path::Path;

use loomwright::conductor::Conductor;
use loomwright::heat::{HeatPath, Installation, Lay};
use loomwright::quantity::celsius;

/// One row of a table against ours.
#[derive(Clone, Debug)]
pub struct Compared {
    /// Size and column.
    pub row: String,
    /// The printed current, A.
    pub printed_a: f64,
    /// Our current, A.
    pub ours_a: f64,
}

impl Compared {
    /// Ours over printed, less one, in per cent.
    pub fn error_percent(&self) -> f64 {
        100.0 * (self.ours_a / self.printed_a - 1.0)
    }
}

/// The current in amperes that our free-air heat balance permits at a conductor limit.
pub fn free_air_ampacity(conductor: &Conductor, limit_c: f64, ambient_c: f64) -> f64 {
    let path =
        HeatPath::new(conductor, &Lay::alone(Installation::FreeAir), celsius(ambient_c)).expect("a usual ambient");
    path.ampacity(celsius(limit_c)).expect("a limit above ambient").value
}

/// Asserts that every error lies in `band` (per cent, low and high), and that the report equals the stored one in
/// `tests/reference/errors`. With `LOOMWRIGHT_BLESS=1` the stored report is rewritten instead.
pub fn compare(name: &str, rows: &[Compared], band: (f64, f64)) {
    let mut report = format!(
        "# source: computed by tests/outside/{name}.rs from the printed table and our heat balance; not outside values\n\
         # error_percent = ours/printed - 1; rewrite with LOOMWRIGHT_BLESS=1\nrow,printed_a,ours_a,error_percent\n"
    );
    for row in rows {
        crate::compared(row.ours_a, row.printed_a);
        let _ = writeln!(report, "{},{},{:.2},{:.2}", row.row, row.printed_a, row.ours_a, row.error_percent());
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/errors").join(format!("{name}.csv"));
    if std::env::var_os("LOOMWRIGHT_BLESS").is_some_and(|value| value == "1") {
        std::fs::write(&path, &report).expect("the report can be written");
    }
    let outside: Vec<String> = rows
        .iter()
        .filter(|row| !(band.0..=band.1).contains(&row.error_percent()))
        .map(|row| {
            format!("{}: printed {} A, ours {:.2} A, {:+.2} %", row.row, row.printed_a, row.ours_a, row.error_percent())
        })
        .collect();
    assert!(outside.is_empty(), "{name}: outside {} to {} %:\n{}", band.0, band.1, outside.join("\n"));
    let stored = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(stored == report, "{name}: the errors have changed; see git diff after LOOMWRIGHT_BLESS=1\n{report}");
}
