//! Crimp lugs as they are made.

use super::Thread;
use crate::conductor::Conductor;
use crate::data::{Source, tables::lugs};
use crate::quantity::{Area, ToText, in_mm2, mm2};

/// A conductor up to this share above a lug's size still goes into its barrel: gauges lie between the metric sizes.
const INTO_BARREL: f64 = 1.01;

/// A crimp lug.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lug {
    /// Cross-sectional area of the conductor that its barrel is made for.
    pub csa: Area,
    /// The stud that its ring goes over.
    pub thread: Thread,
    /// Where it is from that such a lug is made.
    pub source: &'static Source,
}

impl Lug {
    /// The lug for a conductor and a stud; `None` where none is made. The barrel is the smallest that the conductor goes
    /// into; strands are never cut away to make it fit.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{fitting::{Lug, Thread}, quantity::{CrossSection, FromText}};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
    /// assert_eq!(Lug::of(&cable, Thread::M8).map(|lug| lug.words()), Some("lug 35 mm² M8".to_owned()));
    /// assert!(Lug::of(&cable, Thread::M3_5).is_none()); // its ring has no metal left
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(conductor: &Conductor, thread: Thread) -> Option<Self> {
        let row = row_of(conductor.area)?;
        thread.is_among(row.threads).then(|| Self { csa: mm2(row.csa_mm2), thread, source: row.source })
    }

    /// The threads that lugs for a conductor of this area are made for, smallest first.
    ///
    /// ```
    /// use loomwright::{fitting::{Lug, Thread}, quantity::mm2};
    /// let threads: Vec<Thread> = Lug::threads(mm2(35.0)).collect();
    /// assert!(threads.contains(&Thread::M8) && !threads.contains(&Thread::M3_5));
    /// ```
    pub fn threads(area: Area) -> impl Iterator<Item = Thread> {
        let cell = row_of(area).map_or("", |row| row.threads);
        cell.split_whitespace().filter_map(|thread| thread.parse().ok())
    }

    /// The lug in words.
    pub fn words(&self) -> String {
        format!("lug {} {}", self.csa.to_text(), self.thread.name())
    }
}

fn row_of(area: Area) -> Option<&'static lugs::Lugs> {
    lugs::ROWS.iter().find(|row| in_mm2(area) <= row.csa_mm2 * INTO_BARREL)
}
