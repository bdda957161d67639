//! Every overcurrent of a run: the latest opening of its fuses against what its conductor bears.

use super::Judgement;
use super::paths::Protection;
use crate::installation::{Installation, Leg};
use crate::protection::{Band, Device, Fuse, Least};
use crate::quantity::ElectricCurrent;

/// A run and the fuses that protect it, through time.
#[derive(Clone, Debug)]
pub struct Overcurrent {
    /// The runs that the fuses sit in, the largest first.
    pub feeding: Vec<usize>,
    /// The fuses, and which of them have a sheet of their own.
    pub fuses: Vec<(Fuse, Option<usize>)>,
    /// Their band, all together; `None` where time limits of one are not at hand.
    pub band: Option<Band>,
    /// The current up to which it is judged: the highest fault, rounded up.
    pub up_to: ElectricCurrent,
    /// The load before, rounded up.
    pub before: ElectricCurrent,
    /// Where the two come closest; `None` where the conductor bears all of it for good.
    pub least: Option<Least>,
}

/// Rounded up to two digits: cautious for a fault and for a load, and the same again where little has changed.
fn up(current: ElectricCurrent) -> ElectricCurrent {
    let amperes = current.value;
    if !(amperes > 0.0 && amperes.is_finite()) {
        return current;
    }
    let step = 10.0_f64.powf(amperes.log10().floor() - 1.0);
    ElectricCurrent::new::<uom::si::electric_current::ampere>((amperes / step - 1e-9).ceil() * step)
}

pub(super) fn overcurrents(judgement: &Judgement, earlier: Option<&Judgement>) -> Vec<Option<Overcurrent>> {
    let runs = judgement.installation.runs.iter().zip(&judgement.protections).enumerate();
    let each = runs.map(|(index, (run, protection))| {
        let Protection::Fuses(feeding) = protection else { return None };
        let together = || overcurrent(judgement, earlier, index, feeding);
        if run.leg == Leg::Positive || feeding.len() < 2 {
            return together();
        }
        // A return that several circuits share carries the fault of one of them at a time.
        let kept = earlier.and_then(|earlier| earlier.overcurrents.get(index)?.as_ref());
        let alone = feeding.iter().filter_map(|one| {
            let earlier = earlier.filter(|_| kept.is_some_and(|kept| kept.feeding == [*one]));
            overcurrent(judgement, earlier, index, &[*one])
        });
        let ratio = |one: &Overcurrent| match (&one.band, one.least) {
            (None, _) => 0.0,
            (Some(_), least) => least.map_or(f64::INFINITY, |least| least.ratio.value),
        };
        alone.min_by(|one, other| ratio(one).total_cmp(&ratio(other)))
    });
    each.collect()
}

/// The band of the fuses of these runs, all together; `None` where time limits of one are not at hand.
pub(super) fn band_of(plan: &Installation, feeding: &[usize]) -> Option<Band> {
    let devices: Vec<Device<'_>> = feeding.iter().filter_map(|run| plan.device(*run)).collect();
    match devices.as_slice() {
        [one] => one.band(),
        several => {
            let bands: Option<Vec<_>> = several.iter().map(|one| Some((one.band()?, one.fuse.rating))).collect();
            bands.and_then(|bands| Band::together(&bands))
        }
    }
}

/// A run behind the fuses of these runs, all together.
fn overcurrent(
    judgement: &Judgement,
    earlier: Option<&Judgement>,
    index: usize,
    feeding: &[usize],
) -> Option<Overcurrent> {
    let plan = &judgement.installation;
    let model = judgement.models.get(index)?;
    let devices: Vec<Device<'_>> = feeding.iter().filter_map(|run| plan.device(*run)).collect();
    let sheets = feeding.iter().filter_map(|run| plan.runs.get(*run)).map(|run| run.sheet);
    let fuses: Vec<(Fuse, Option<usize>)> = devices.iter().map(|device| device.fuse).zip(sheets).collect();
    let faults = feeding.iter().filter_map(|run| judgement.faults.get(*run)?.as_ref());
    let highest = faults.fold(ElectricCurrent::default(), |sum, fault| sum + fault.highest);
    let (up_to, before) = (up(highest), up(judgement.design.get(index)?.current));
    let kept = earlier.and_then(|earlier| {
        let (of, was) = (earlier.models.get(index)?, earlier.overcurrents.get(index)?.as_ref()?);
        let same = was.fuses == fuses && was.up_to == up_to && was.before == before && of.heats_as(model);
        same.then_some(was.least)
    });
    let band = band_of(plan, feeding);
    let least = match (kept, &band) {
        (Some(kept), _) => kept,
        (None, Some(band)) => {
            // A failure within the stated times is a failure, whatever cannot be judged beyond them.
            let known = band.known_up_to().filter(|known| *known < up_to);
            let within = known.and_then(|known| model.against(band, known, before));
            within.filter(|least| least.ratio.value < 1.0).or_else(|| model.against(band, up_to, before))
        }
        (None, None) => None,
    };
    Some(Overcurrent { feeding: feeding.to_vec(), fuses, band, up_to, before, least })
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::ampere;

    /// Two digits, never less than it was, and nothing stays nothing.
    #[test]
    fn currents_are_rounded_up_to_two_digits() {
        for (given, rounded) in
            [(0.0, 0.0), (0.0421, 0.043), (9.95, 10.0), (100.0, 100.0), (101.0, 110.0), (5432.0, 5500.0)]
        {
            let found = up(ElectricCurrent::new::<ampere>(given)).value;
            assert!((found - rounded).abs() <= 1e-9 * rounded, "{given}: {found}");
        }
    }
}
