//! Banks of batteries as one source behind one resistance.

use super::SourceError;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance};

/// A voltage behind a resistance: a battery with its own leads.
#[derive(Clone, Copy, Debug)]
pub struct Behind {
    /// Voltage without load.
    pub emf: ElectricPotential,
    /// Resistance of battery and leads, above zero.
    pub resistance: ElectricalResistance,
}

fn check(bank: &[Behind]) -> Result<(), SourceError> {
    let good =
        |one: &Behind| one.resistance.value > 0.0 && one.resistance.value.is_finite() && one.emf.value.is_finite();
    if !bank.is_empty() && bank.iter().all(good) { Ok(()) } else { Err(SourceError::Bank) }
}

/// Batteries in series as one.
///
/// ```
/// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText};
/// use loomwright::source::{Behind, series};
/// let (emf, resistance) = (ElectricPotential::from_text("12.8 V")?, ElectricalResistance::from_text("4 mohm")?);
/// let block = Behind { emf, resistance };
/// let bank = series(&[block, block])?;
/// assert!((bank.emf.value - 25.6).abs() < 1e-9 && (bank.resistance.value - 8e-3).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// [`SourceError::Bank`] without a battery or with one without resistance.
pub fn series(bank: &[Behind]) -> Result<Behind, SourceError> {
    check(bank)?;
    let mut whole = Behind { emf: ElectricPotential::default(), resistance: ElectricalResistance::default() };
    for one in bank {
        whole.emf += one.emf;
        whole.resistance += one.resistance;
    }
    Ok(whole)
}

/// Batteries in parallel as one: `E = Σ(e/r)/Σ(1/r)`, `R = 1/Σ(1/r)`.
///
/// ```
/// use loomwright::quantity::{ElectricPotential, ElectricalResistance, FromText};
/// use loomwright::source::{Behind, parallel};
/// let (emf, resistance) = (ElectricPotential::from_text("12.8 V")?, ElectricalResistance::from_text("4 mohm")?);
/// let block = Behind { emf, resistance };
/// let bank = parallel(&[block, block])?;
/// assert!((bank.emf.value - 12.8).abs() < 1e-9 && (bank.resistance.value - 2e-3).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`series`].
pub fn parallel(bank: &[Behind]) -> Result<Behind, SourceError> {
    check(bank)?;
    let conductance = bank.iter().map(|one| one.resistance.recip()).reduce(|sum, one| sum + one);
    let current = bank.iter().map(|one| one.emf / one.resistance).reduce(|sum, one| sum + one);
    let (Some(conductance), Some(current)) = (conductance, current) else { return Err(SourceError::Bank) };
    let resistance: ElectricalResistance = conductance.recip();
    Ok(Behind { emf: current * resistance, resistance })
}

/// What each of several batteries in parallel gives of a current drawn together: above zero it discharges.
///
/// ```
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, FromText};
/// use loomwright::source::{Behind, shares};
/// let battery = |milliohms: &str| -> Result<Behind, Box<dyn std::error::Error>> {
///     Ok(Behind { emf: ElectricPotential::from_text("12.8 V")?, resistance: ElectricalResistance::from_text(milliohms)? })
/// };
/// // Twice the resistance, half the current.
/// let given = shares(&[battery("4 mohm")?, battery("8 mohm")?], ElectricCurrent::from_text("60 A")?)?;
/// assert!((given[0].value - 40.0).abs() < 1e-9 && (given[1].value - 20.0).abs() < 1e-9);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// As [`series`].
pub fn shares(bank: &[Behind], drawn: ElectricCurrent) -> Result<Vec<ElectricCurrent>, SourceError> {
    let whole = parallel(bank)?;
    let across = whole.emf - drawn * whole.resistance;
    Ok(bank.iter().map(|one| (one.emf - across) / one.resistance).collect())
}
