//! Many comparisons and the worst of them.

use std::fmt::Debug;

/// The largest deviation of many comparisons, and where it was.
#[derive(Clone, Debug)]
pub struct Worst {
    name: String,
    deviation: f64,
    at: String,
    seen: usize,
}

impl Worst {
    /// Of nothing yet.
    pub fn of(name: &str) -> Self {
        Self { name: name.to_owned(), deviation: 0.0, at: String::new(), seen: 0 }
    }

    /// Two numbers by their difference.
    pub fn apart(&mut self, ours: f64, theirs: f64, at: &impl Debug) {
        self.note(ours - theirs, ours, theirs, at);
    }

    /// Two numbers by the share of theirs that they differ by.
    pub fn share(&mut self, ours: f64, theirs: f64, at: &impl Debug) {
        let deviation = if ours == theirs { 0.0 } else { (ours - theirs) / theirs.abs() };
        self.note(deviation, ours, theirs, at);
    }

    fn note(&mut self, deviation: f64, ours: f64, theirs: f64, at: &impl Debug) {
        self.seen += 1;
        crate::compared(ours, theirs);
        // No number is worse than any.
        if deviation.is_nan() || deviation.abs() > self.deviation.abs() {
            self.deviation = if deviation.is_nan() { f64::INFINITY } else { deviation };
            self.at = format!("ours {ours}, theirs {theirs}, {at:?}");
        }
    }

    /// Asserts that so many were compared, and that none deviates by more.
    pub fn hold(&self, count: usize, most: f64) {
        println!("{}: worst of {} is {:+.3e}, permitted {most:e}", self.name, self.seen, self.deviation);
        assert_eq!(self.seen, count, "{}", self.name);
        assert!(self.deviation.abs() <= most, "{}: {:+e} over {most:e}: {}", self.name, self.deviation, self.at);
    }
}
