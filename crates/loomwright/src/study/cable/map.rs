//! Where each standard size takes over: the largest current that it is chosen for, over a range of lengths.
//!
//! ```
//! use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
//! use loomwright::study::cable::{CableQuery, Load, size_map};
//! let query = CableQuery::new(
//!     Load::Current(ElectricCurrent::from_text("40 A")?),
//!     Length::from_text("5.5 m")?,
//!     ElectricPotential::from_text("12 V")?,
//! );
//! let map = size_map(&query)?;
//! let one = map.sizes.iter().find(|one| one.size == "50 mm²").ok_or("no such size")?;
//! // The longer the run, the less current is left to a size.
//! assert!(one.largest_a.is_sorted_by(|near, far| near >= far));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use serde::Serialize;

use super::record::round9;
use super::{CableError, CableQuery, Circuit, Load, size};
use crate::conductor::series;
use crate::quantity::{Area, ElectricCurrent, Length, in_mm2};
use uom::si::electric_current::ampere;
use uom::si::length::meter;

/// From the asked length over this to the asked length times this.
const RANGE: f64 = 5.0;
/// Lengths in it.
const LENGTHS: u16 = 41;
/// The least and the largest current that is looked at.
const CURRENTS: (f64, f64) = (0.5, 2000.0);
/// Halvings between those, on logarithmic paper: to 0.1 %.
const HALVINGS: usize = 13;

/// Sizes over lengths and currents.
#[derive(Clone, Debug, Serialize)]
pub struct SizeMapRecord {
    /// Version of this form.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// The length asked for, one way.
    pub length_m: f64,
    /// The current asked for.
    pub current_a: f64,
    /// The size chosen there; absent where none passes, or only several in parallel.
    pub size: Option<String>,
    /// System voltage.
    pub voltage_v: f64,
    /// The lengths looked at, rising, one way.
    pub lengths_m: Vec<f64>,
    /// Each size that is ever chosen, rising.
    pub sizes: Vec<SizeLineRecord>,
}

/// A size and how far it goes.
#[derive(Clone, Debug, Serialize)]
pub struct SizeLineRecord {
    /// The size as people say it.
    pub size: String,
    /// Cross-sectional area.
    pub csa_mm2: f64,
    /// By length, the largest current for which this size or a smaller one is chosen; 0 where that is below 0.5 A.
    pub largest_a: Vec<f64>,
}

/// The area of the single conductor that is chosen for a current; `None` where none is.
fn chosen(query: &CableQuery, amperes: f64) -> Option<Area> {
    let load = Load::Current(ElectricCurrent::new::<ampere>(amperes));
    let sized = size(&CableQuery { load, ..*query }).ok()?;
    sized.chosen.filter(|one| one.parallel == 1).map(|one| one.conductor.area)
}

/// The map of sizes around a circuit: everything else as asked, length and current varied.
///
/// ```
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
/// use loomwright::study::cable::{CableQuery, Load, size_map};
/// let load = Load::Current(ElectricCurrent::from_text("20 A")?);
/// let map = size_map(&CableQuery::new(load, Length::from_text("2 m")?, ElectricPotential::from_text("12 V")?))?;
/// let falls = |line: &[f64]| line.windows(2).all(|pair| pair[1] <= pair[0]);
/// assert!(map.sizes.iter().all(|line| falls(&line.largest_a))); // a longer run never bears more
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`CableError`] as of [`size`].
pub fn size_map(query: &CableQuery) -> Result<SizeMapRecord, CableError> {
    let circuit = Circuit::resolve(query)?;
    let asked = size(query)?;
    let middle = query.length.get::<meter>();
    let (shortest, longest) = ((middle / RANGE).max(0.01), (middle * RANGE).min(1000.0));
    let share = |at: u16| f64::from(at) / f64::from(LENGTHS - 1);
    let lengths: Vec<f64> = (0..LENGTHS).map(|at| shortest * (longest / shortest).powf(share(at))).collect();
    let mut sizes: Vec<SizeLineRecord> = Vec::new();
    for conductor in series(circuit.kind, circuit.material) {
        let below = sizes.last().map(|line| line.largest_a.as_slice()).unwrap_or_default();
        let largest = lengths.iter().enumerate().map(|(at, length)| {
            let query = CableQuery { length: Length::new::<meter>(*length), ..*query };
            let enough = |amperes: f64| chosen(&query, amperes).is_some_and(|area| area <= conductor.area);
            // A larger size never bears less.
            let known = below.get(at).copied().unwrap_or(0.0);
            let (mut low, mut high) = (known.max(CURRENTS.0), CURRENTS.1);
            if known == 0.0 && !enough(low) {
                return 0.0;
            }
            for _ in 0..HALVINGS {
                let between = (low * high).sqrt();
                if enough(between) { low = between } else { high = between }
            }
            round9(low)
        });
        // Within what the halvings leave open, a longer run never bears more.
        let falling = largest.scan(f64::INFINITY, |least, one| {
            *least = least.min(one);
            Some(*least)
        });
        let largest: Vec<f64> = falling.collect();
        let grows = largest.iter().enumerate().any(|(at, one)| *one > 1.002 * below.get(at).copied().unwrap_or(0.0));
        if grows {
            sizes.push(SizeLineRecord {
                size: conductor.label(),
                csa_mm2: round9(in_mm2(conductor.area)),
                largest_a: largest,
            });
        }
    }
    Ok(SizeMapRecord {
        format: 1,
        engine_version: env!("CARGO_PKG_VERSION"),
        length_m: round9(middle),
        current_a: round9(circuit.current.get::<ampere>()),
        size: asked.chosen.filter(|one| one.parallel == 1).map(|one| one.conductor.label()),
        voltage_v: round9(query.voltage.value),
        lengths_m: lengths.into_iter().map(round9).collect(),
        sizes,
    })
}
