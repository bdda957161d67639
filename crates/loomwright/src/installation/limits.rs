//! Limits as they hold for a plan: by its practice, or as it states them itself, with a reason.

use super::{Function, Installation};
use crate::data::{Confidence, Source, tables::constants, tables::drop_limits};
use crate::practice::{LimitValue, Limited, Practice};
use crate::quantity::{Area, ElectricCurrent, Length, Ratio, ThermodynamicTemperature};
use uom::si::ratio::ratio;

/// A limit with what it rests on.
#[derive(Clone, Debug)]
pub struct Bound<T> {
    /// The limit.
    pub value: T,
    /// Where it comes from.
    pub citation: String,
    /// How far that can be trusted.
    pub confidence: Confidence,
}

impl<T> Bound<T> {
    fn of(value: T, source: &'static Source, note: &str) -> Self {
        let citation = if note.is_empty() { source.to_string() } else { format!("{source}: {note}") };
        Self { value, citation, confidence: source.confidence }
    }
}

fn share(value: LimitValue) -> Option<Ratio> {
    if let LimitValue::Ratio(value) = value { Some(value) } else { None }
}

impl Installation {
    /// What the plan itself says.
    fn stated<T>(&self, limit: Limited, pick: impl Fn(LimitValue) -> Option<T>) -> Option<Bound<T>> {
        let stated = self.limits.iter().find(|stated| stated.limit == limit)?;
        let citation = format!("set by the plan: {}", stated.reason);
        Some(Bound { value: pick(stated.value)?, citation, confidence: Confidence::Published })
    }

    /// Permitted drop of a function as a share of nominal voltage.
    pub fn drop_limit(&self, function: Function) -> Bound<Ratio> {
        let stated = format!("drop-{}", function.name()).parse().ok();
        if let Some(stated) = stated.and_then(|limit| self.stated(limit, share)) {
            return stated;
        }
        let row = drop_limits::ROWS.iter().find(|row| row.function == function.name());
        let default = &crate::data::tables::sources::COMMON_PRACTICE_DEFAULT;
        match row {
            Some(row) => Bound::of(Ratio::new::<ratio>(row.running_ratio), row.source, row.note),
            None => Bound::of(Ratio::new::<ratio>(constants::DROP_SHARE), default, ""),
        }
    }

    /// How hot terminals of unstated temperature may get.
    ///
    /// ```
    /// use loomwright::{quantity::in_celsius, text::read_plan};
    /// let plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// assert!((in_celsius(plan.terminal_limit().value) - 75.0).abs() < 1e-9); // of its practice: it states none itself
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn terminal_limit(&self) -> Bound<ThermodynamicTemperature> {
        let temperature = |value| if let LimitValue::Temperature(value) = value { Some(value) } else { None };
        self.stated(Limited::TerminalTemperature, temperature).unwrap_or_else(|| {
            let usual = self.practice.terminal_rule().usual;
            Bound::of(usual.value, usual.source, "")
        })
    }

    /// The smallest conductor permitted, where there is a limit.
    pub fn smallest_conductor(&self) -> Option<Bound<Area>> {
        let area = |value| if let LimitValue::Area(value) = value { Some(value) } else { None };
        self.stated(Limited::SmallestConductor, area).or_else(|| {
            let least = self.practice.smallest_conductor()?;
            Some(Bound::of(least.value, least.source, least.note))
        })
    }

    /// How far along the conductor from its source a protective device may sit; farther where the conductor up to it lies
    /// in conduit.
    ///
    /// ```
    /// use loomwright::{practice::Practice, text::read_plan};
    /// let mut plan = read_plan(include_str!("../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// plan.practice = Practice::UsSmallCraft;
    /// assert!((plan.fuse_distance(false).value.value / 0.0254 - 7.0).abs() < 0.01); // 7 in by 33 CFR 183
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn fuse_distance(&self, sheathed: bool) -> Bound<Length> {
        let length = |value| if let LimitValue::Length(value) = value { Some(value) } else { None };
        let limit = if sheathed { Limited::FuseDistanceSheathed } else { Limited::FuseDistance };
        self.stated(limit, length).unwrap_or_else(|| {
            let most = self.practice.fuse_distance(sheathed);
            Bound::of(most.value, most.source, most.note)
        })
    }

    /// What a solar array's circuit is designed for, from its short-circuit current, and that factor.
    pub fn array_design(&self, short_circuit: ElectricCurrent) -> (ElectricCurrent, f64) {
        let stated = self.stated(Limited::ArrayDesign, share).map(|stated| stated.value.get::<ratio>());
        let factor = stated.unwrap_or(match self.practice {
            Practice::NaRecreationalVehicle | Practice::UsSmallCraft => constants::ARRAY_DESIGN_NA,
            _ => constants::ARRAY_DESIGN,
        });
        (short_circuit * factor, factor)
    }

    /// The least fuse of an alternator over its rating.
    pub fn alternator_fuse(&self) -> Bound<Ratio> {
        self.stated(Limited::AlternatorFuse, share).unwrap_or_else(|| {
            let default = &crate::data::tables::sources::COMMON_PRACTICE_DEFAULT;
            Bound::of(Ratio::new::<ratio>(constants::ALTERNATOR_FUSE), default, "")
        })
    }
}
