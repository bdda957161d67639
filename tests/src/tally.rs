//! How many outside values were met, and how closely: each test's comparisons go to a file under `target/trust`, from
//! which `tests/trust/page.py` makes the trust page. Nothing is counted by hand.

use std::cell::RefCell;
use std::fmt::Write as _;
use std::path::Path;

thread_local! {
    static TOLD: RefCell<Told> = const { RefCell::new(Told(Vec::new())) };
}

/// What the test of this thread has compared; written when the thread ends, as a test does.
struct Told(Vec<f64>);

impl Drop for Told {
    fn drop(&mut self) {
        // Other programs compare by these, too, and have files of the same names.
        let program = std::env::current_exe().unwrap_or_default();
        if !program.file_name().is_some_and(|name| name.to_string_lossy().starts_with("outside-")) {
            return;
        }
        // The test harness names a thread after its test; where tests share the main thread nothing is told.
        let thread = std::thread::current();
        let Some((file, test)) = thread.name().and_then(|name| name.split_once("::")) else { return };
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/trust");
        let mut lines = String::new();
        for deviation in &self.0 {
            let _ = writeln!(lines, "{deviation:e}");
        }
        // A page that lacks a file is refused where it is made, so that a full disk is no silent loss.
        let _ = std::fs::create_dir_all(&folder);
        let _ = std::fs::write(folder.join(format!("{file}.{}", test.replace("::", "."))), lines);
    }
}

/// Counts a comparison of ours with an outside value; where that is zero, our own size counts as the deviation.
pub fn compared(ours: f64, theirs: f64) {
    let deviation = (ours - theirs).abs();
    let share = if theirs == 0.0 { deviation } else { deviation / theirs.abs() };
    TOLD.with_borrow_mut(|told| told.0.push(share));
}

/// By how much ours differs from an outside value, counted.
pub fn apart(ours: f64, theirs: f64) -> f64 {
    compared(ours, theirs);
    (ours - theirs).abs()
}

/// Asserts that ours lies within a share of what is printed, counted.
#[track_caller]
pub fn close(ours: f64, printed: f64, share: f64) {
    assert!(within(ours, printed, share), "{ours}, printed {printed}");
}

/// Whether `ours` lies within a share of `printed`, counted.
pub fn within(ours: f64, printed: f64, share: f64) -> bool {
    apart(ours, printed) <= share * printed.abs()
}
