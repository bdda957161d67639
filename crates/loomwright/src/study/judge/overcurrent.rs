//! Every overcurrent of a run: the latest opening of its fuse against what its conductor bears.

use super::Judgement;
use super::paths::{Protection, protections};
use crate::protection::{Band, Fuse, Least};
use crate::quantity::ElectricCurrent;

/// A run and the one fuse that protects it, through time.
#[derive(Clone, Debug)]
pub struct Overcurrent {
    /// The run that the fuse sits in.
    pub feeding: usize,
    /// The fuse.
    pub fuse: Fuse,
    /// Its band; `None` where no time limits are at hand.
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
    let protections = protections(&judgement.installation, &judgement.ways);
    let each = protections.iter().zip(&judgement.models).enumerate().map(|(index, (protection, model))| {
        let Protection::Fuse(feeding, fuse, 1) = protection else { return None };
        let highest = judgement.faults.get(*feeding)?.as_ref()?.highest;
        let (up_to, before) = (up(highest), up(judgement.design.get(index)?.current));
        let kept = earlier.and_then(|earlier| {
            let (of, was) = (earlier.models.get(index)?, earlier.overcurrents.get(index)?.as_ref()?);
            let same = was.fuse == *fuse && was.up_to == up_to && was.before == before && of.heats_as(model);
            same.then_some(was.least)
        });
        let band = Band::of(fuse);
        let least = kept.unwrap_or_else(|| model.against(band.as_ref()?, up_to, before));
        Some(Overcurrent { feeding: *feeding, fuse: *fuse, band, up_to, before, least })
    });
    each.collect()
}
