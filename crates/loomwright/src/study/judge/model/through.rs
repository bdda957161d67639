//! A run through time: overcurrents against what its stretches bear, and the moments of a start.

use super::{RunModel, Stretch};
use crate::data::tables::constants;
use crate::heat::{DamageCurve, DamageFloor, OverloadLimits, Pulse, Transient};
use crate::protection::{Band, Least, least_ratio};
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, Time, celsius};

impl RunModel {
    /// Where the latest opening of a fuse comes closest to what the conductor bears, loaded by `before`: the worst
    /// stretch. What a bound settles costs no transient. `None` where nothing is to be held against it.
    pub(in super::super) fn against(
        &self,
        band: &Band,
        highest: ElectricCurrent,
        before: ElectricCurrent,
    ) -> Option<Least> {
        self.worst(band, highest, before).map(|(least, _)| least)
    }

    /// What a stretch may reach for how long, and how warm an overcurrent finds it after a load of `before`; `None`
    /// where it cannot be followed.
    fn overload(
        &self,
        stretch: &Stretch,
        before: ElectricCurrent,
    ) -> Option<(OverloadLimits, ThermodynamicTemperature)> {
        let path = stretch.path.as_ref().ok()?;
        let limits = OverloadLimits::of(self.insulation, stretch.limit);
        let start = path.temperature(before).ok().filter(|start| *start < limits.continuous);
        let hottest = (limits.continuous > stretch.ambient).then_some(limits.continuous);
        Some((limits, start.or(hottest)?))
    }

    fn worst(&self, band: &Band, highest: ElectricCurrent, before: ElectricCurrent) -> Option<(Least, &Stretch)> {
        let mut worst: Option<(Least, &Stretch)> = None;
        for stretch in &self.stretches {
            let Some((limits, start)) = self.overload(stretch, before) else { continue };
            let floor = DamageFloor::new(&self.conductor, &stretch.lay, stretch.ambient, start, limits).ok()?;
            let bounded = least_ratio(band, highest, |current| floor.time(current).ok().flatten());
            let Some(bounded) = bounded else { continue };
            // Nor does what cannot be judged for want of time limits.
            let hopeless = bounded.ratio.value < 0.5
                && band.known_up_to().is_some_and(|known| bounded.current > known * (1.0 + 1e-9));
            let settled = bounded.ratio.value >= constants::THIN_MARGIN || hopeless;
            let found = if settled {
                Some(bounded)
            } else {
                let curve = DamageCurve::new(&self.conductor, &stretch.lay, stretch.ambient, start, limits).ok()?;
                least_ratio(band, highest, |current| curve.time(current).ok().flatten())
            };
            worst = match (found, worst) {
                (Some(found), Some(worst)) if found.ratio >= worst.0.ratio => Some(worst),
                (found, worst) => found.map(|found| (found, stretch)).or(worst),
            };
        }
        worst
    }

    /// How long the stretch that `against` judges bears what current; where it bears every one that the fuse lets pass, or
    /// no band is at hand, the stretch that bears least for good. `None` where no stretch can be followed.
    pub(in super::super) fn damage(
        &self,
        band: Option<&Band>,
        highest: ElectricCurrent,
        before: ElectricCurrent,
    ) -> Option<DamageCurve> {
        let curve = |stretch: &Stretch| {
            let (limits, start) = self.overload(stretch, before)?;
            DamageCurve::new(&self.conductor, &stretch.lay, stretch.ambient, start, limits).ok()
        };
        if let Some((_, stretch)) = band.and_then(|band| self.worst(band, highest, before)) {
            return curve(stretch);
        }
        let all = self.stretches.iter().filter_map(curve);
        all.min_by(|one, other| one.ampacity().value.total_cmp(&other.ampacity().value))
    }

    /// The stretch that comes nearest to what it may reach when a current flows once for `duration` after a
    /// load of `before`: temperature at the end, and limit. `None` when no stretch can be followed.
    pub(in super::super) fn start(
        &self,
        current: ElectricCurrent,
        duration: Time,
        before: ElectricCurrent,
    ) -> Option<(ThermodynamicTemperature, ThermodynamicTemperature)> {
        let mut worst: Option<(f64, ThermodynamicTemperature, ThermodynamicTemperature)> = None;
        for stretch in &self.stretches {
            let Ok(path) = &stretch.path else { continue };
            let limit = OverloadLimits::of(self.insulation, self.insulation).at(duration);
            // What carries the start for good needs no clock.
            let steady = path.temperature(current).ok();
            let ceiling = celsius(250.0);
            let reached = match steady.filter(|steady| *steady <= stretch.limit) {
                Some(steady) => steady,
                None => {
                    let start = path.temperature(before).unwrap_or(ceiling);
                    let transient = Transient::new(&self.conductor, &stretch.lay, stretch.ambient).ok()?;
                    let pulse = [Pulse { duration, current }];
                    transient.course(&pulse, start).ok()?.last()?.conductor
                }
            };
            let share = (reached.value - stretch.ambient.value) / (limit.value - stretch.ambient.value).max(1e-9);
            if worst.is_none_or(|(most, _, _)| share > most) {
                worst = Some((share, reached, limit));
            }
        }
        worst.map(|(_, reached, limit)| (reached, limit))
    }
}
