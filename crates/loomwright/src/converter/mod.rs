//! Converters: what they lose, what they take at their input, when they stop, and the heat they shed.
//!
//! `P_loss = p₀ + k₁·P + k₂·P²` with P the output power (Schmidt and Sauer 1996, citation from memory): p₀ is
//! what it takes for itself, k₁ the voltage drops of its semiconductors, k₂ its resistances. Either k may be negative in
//! fitted data. Many efficiency points of a data sheet are fitted, three fix the curve, one gives its usual shape.
//!
//! ```
//! use loomwright::converter::{Losses, fit};
//! use loomwright::quantity::{FromText, Power, Ratio};
//! let rated = Power::from_text("1 kW")?;
//! let points = [(0.1, 0.88), (0.25, 0.92), (0.5, 0.93), (0.75, 0.92), (1.0, 0.90)];
//! let fitted = fit(&points.map(|(share, efficiency)| (Ratio::from(share), Ratio::from(efficiency))), rated, Power::default())?;
//! assert!(fitted.residuals.iter().all(|residual| residual.efficiency.value.abs() < 0.005));
//! let taken = fitted.losses.input(Power::from_text("300 W")?);
//! assert!(taken > Power::from_text("320 W")? && taken < Power::from_text("330 W")?);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod chatter;
mod fit;
mod input;
mod losses;
mod precharge;
mod shed;
mod table;
mod weighted;

pub use chatter::{Chatter, LockOut, chatter};
pub use fit::{Fitted, Residual, fit};
pub use input::{Binding, Derating, Drawn, Input};
pub(crate) use losses::watts;
pub use losses::{LossError, Losses};
pub use precharge::Inrush;
pub use shed::{Comparison, Housing, Use, compare, rise_in_box, surface_needed};
pub use table::{EfficiencyTable, TableError};
pub use weighted::{Weighting, weighted_efficiency};
