//! Weighted efficiencies.

use crate::data::tables::weighted_efficiency;
use crate::names::named;
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

named! {
    /// Weights of an efficiency over shares of rated output.
    Weighting, "weighting", {
        /// California Energy Commission: 4, 5, 12, 21, 53, 5 % at 10, 20, 30, 50, 75, 100 %.
        Cec => "cec",
        /// European (EN 50530): 3, 6, 13, 10, 48, 20 % at 5, 10, 20, 30, 50, 100 %.
        European => "european",
    }
}

/// The weighted efficiency of a curve of efficiency over share of rated output.
///
/// ```
/// use loomwright::converter::{Weighting, weighted_efficiency};
/// use loomwright::quantity::Ratio;
/// let flat = weighted_efficiency(Weighting::European, |_| Ratio::from(0.93));
/// assert!((flat.value - 0.93).abs() < 1e-12);
/// ```
pub fn weighted_efficiency(weighting: Weighting, efficiency: impl Fn(Ratio) -> Ratio) -> Ratio {
    let rows = weighted_efficiency::ROWS.iter().filter(|row| row.scheme == weighting.name());
    let sum = rows.map(|row| row.weight * efficiency(Ratio::new::<ratio>(row.load_share)).value).sum();
    Ratio::new::<ratio>(sum)
}
