//! Curves as plain data.

use serde::Serialize;

use super::{CurveError, CurveQuery, Followed, Rated, between, currents, share};
use crate::heat::DamageCurve;
use crate::protection::{Band, discrimination, least_ratio};
use crate::quantity::{ElectricCurrent, ToText, in_celsius, in_mm2};
use crate::study::cable::round9;
use crate::study::cautions;

/// All curves that were asked for.
#[derive(Clone, Debug, Serialize)]
pub struct CurveRecord {
    /// Form of this record.
    pub format: u32,
    /// Version of the engine.
    pub engine_version: &'static str,
    /// Air around fuses and conductor.
    pub ambient_c: f64,
    /// The highest fault current.
    pub fault_a: f64,
    /// Fuses in the order asked for.
    pub fuses: Vec<FuseCurveRecord>,
    /// The conductor, when one was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub conductor: Option<WireRecord>,
    /// Each fuse with the next one.
    pub discrimination: Vec<DiscriminationRecord>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// What everybody should hear.
    pub cautions: Vec<&'static str>,
}

/// A fuse's band.
#[derive(Clone, Debug, Serialize)]
pub struct FuseCurveRecord {
    /// Family name.
    pub family: &'static str,
    /// Family in words.
    pub title: &'static str,
    /// Rated current.
    pub rating_a: f64,
    /// From this current on every link opens.
    pub conventional_a: Option<f64>,
    /// Whether its earliest openings are at hand.
    pub fastest_known: bool,
    /// Beyond this current the slow edge is a bound only; left out where it holds at any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known_up_to_a: Option<f64>,
    /// Its times.
    pub points: Vec<OpensRecord>,
    /// The same at many more currents and wherever an edge turns: what a picture is drawn through.
    #[serde(skip)]
    pub line: Vec<OpensRecord>,
    /// Where its gates come from.
    pub sources: Vec<String>,
}

/// When links open at a current; null for never, or not at hand.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct OpensRecord {
    /// The current.
    pub current_a: f64,
    /// The earliest.
    pub fastest_s: Option<f64>,
    /// The latest.
    pub slowest_s: Option<f64>,
}

/// A conductor's damage curve.
#[derive(Clone, Debug, Serialize)]
pub struct WireRecord {
    /// Its size.
    pub size: String,
    /// Its cross-sectional area.
    pub csa_mm2: f64,
    /// How it lies.
    pub installation: &'static str,
    /// What it bears without end.
    pub ampacity_a: f64,
    /// What it carries before.
    pub load_a: f64,
    /// How long it bears a current; null for good.
    pub points: Vec<BearsRecord>,
    /// The same at many more currents: what a picture is drawn through. What cannot be followed is left out.
    #[serde(skip)]
    pub line: Vec<BearsRecord>,
    /// Each fuse against it.
    pub against: Vec<AgainstRecord>,
}

/// How long a conductor bears a current.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct BearsRecord {
    /// The current.
    pub current_a: f64,
    /// How long; null for good.
    pub bears_s: Option<f64>,
}

/// A fuse against the conductor.
#[derive(Clone, Debug, Serialize)]
pub struct AgainstRecord {
    /// The fuse.
    pub fuse: String,
    /// What is borne over the latest opening, the least over all currents; null where all are borne for good.
    pub time_margin: Option<f64>,
    /// The current there.
    pub at_a: Option<f64>,
    /// Whether the conductor is protected through time; null when the limits at hand end before that current.
    pub protects: Option<bool>,
}

/// Two fuses, one after the other.
#[derive(Clone, Debug, Serialize)]
pub struct DiscriminationRecord {
    /// The one nearer to the source.
    pub before: String,
    /// The next.
    pub behind: String,
    /// The earliest opening before over the latest behind, the least over all currents; null when a time is not at hand.
    pub time_margin: Option<f64>,
    /// The current there.
    pub at_a: Option<f64>,
}

fn name(rated: &Rated) -> String {
    format!("{} {}", rated.fuse.rating.to_text(), rated.fuse.family.name())
}

impl CurveQuery {
    /// The curves, at round currents up to the highest fault.
    ///
    /// # Errors
    /// [`CurveError`] without a fuse, for one whose time limits or re-rating are not at hand, for a conductor that does
    /// not exist or cannot be followed, and for values out of range.
    pub fn record(&self) -> Result<CurveRecord, CurveError> {
        let ambient = self.air()?;
        let rated = self.rated(ambient)?;
        let fault = self.fault()?;
        let followed = self.followed(ambient)?;
        let steps = currents(&rated, fault);
        let fine = between(&rated, &steps);
        let fuses = rated.iter().map(|one| FuseCurveRecord {
            family: one.fuse.family.name(),
            title: one.fuse.family.title(),
            rating_a: round9(one.fuse.rating.value),
            conventional_a: one.band.conventional_current().map(|current| round9(current.value)),
            fastest_known: one.band.knows_fastest(),
            known_up_to_a: one.band.known_up_to().map(|current| round9(current.value)),
            points: opens(&one.band, &steps),
            line: opens(&one.band, &fine),
            sources: one.band.sources().iter().map(ToString::to_string).collect(),
        });
        let fuses: Vec<FuseCurveRecord> = fuses.collect();
        let pairs = rated.windows(2).filter_map(|pair| {
            let [before, behind] = pair else { return None };
            let least = discrimination(&before.band, &behind.band, fault);
            Some(DiscriminationRecord {
                before: name(before),
                behind: name(behind),
                time_margin: least.map(|least| round9(share(least.ratio))),
                at_a: least.map(|least| round9(least.current.value)),
            })
        });
        Ok(CurveRecord {
            format: 1,
            engine_version: env!("CARGO_PKG_VERSION"),
            ambient_c: round9(in_celsius(ambient)),
            fault_a: round9(fault.value),
            fuses,
            conductor: followed.as_ref().map(|wire| of_wire(wire, &rated, [&steps, &fine], fault)).transpose()?,
            discrimination: pairs.collect(),
            assumptions: self.assumed(followed.as_ref()),
            cautions: cautions().to_vec(),
        })
    }

    fn assumed(&self, followed: Option<&Followed>) -> Vec<String> {
        let mut found = Vec::new();
        let mut tell = |stated: bool, text: String| {
            if !stated {
                found.push(text);
            }
        };
        tell(self.ambient.is_some(), "air of 40 °C around fuses and conductor".to_owned());
        tell(self.fault.is_some(), "a highest fault current of 20 times the largest rating".to_owned());
        if let (Some(wire), Some(followed)) = (self.wire, followed) {
            tell(wire.kind.is_some(), format!("conductor kind {}", followed.conductor.kind));
            tell(wire.material.is_some(), format!("conductor of {}", followed.conductor.material));
            tell(wire.insulation.is_some(), format!("insulation class {}", followed.insulation.to_text()));
            tell(wire.terminal.is_some(), format!("terminals up to {}", followed.terminal.to_text()));
            tell(wire.installation.is_some(), format!("{}, both legs loaded", followed.installation));
            tell(wire.load.is_some(), "the conductor carries nothing before".to_owned());
        }
        found.push(
            "between its gates a band is straight on double logarithmic paper; beyond the last I²t stays".to_owned(),
        );
        found
    }
}

fn opens(band: &Band, currents: &[ElectricCurrent]) -> Vec<OpensRecord> {
    let seconds = |time: Option<crate::quantity::Time>| time.map(|time| round9(time.value));
    let opens = currents.iter().map(|current| OpensRecord {
        current_a: round9(current.value),
        fastest_s: seconds(band.fastest(*current)),
        slowest_s: seconds(band.slowest(*current)),
    });
    opens.collect()
}

/// How long a conductor bears currents. What cannot be followed is left out: it is not borne for good.
pub(crate) fn bears(curve: &DamageCurve, currents: &[ElectricCurrent]) -> Vec<BearsRecord> {
    let point = |current: &ElectricCurrent| {
        let time = curve.time(*current).ok()?;
        Some(BearsRecord { current_a: round9(current.value), bears_s: time.map(|time| round9(time.value)) })
    };
    currents.iter().filter_map(point).collect()
}

fn of_wire(
    wire: &Followed,
    rated: &[Rated],
    [steps, fine]: [&[ElectricCurrent]; 2],
    fault: ElectricCurrent,
) -> Result<WireRecord, CurveError> {
    let points = steps.iter().map(|current| {
        let bears = wire.curve.time(*current)?;
        Ok(BearsRecord { current_a: round9(current.value), bears_s: bears.map(|time| round9(time.value)) })
    });
    let against = rated.iter().map(|one| {
        let least = least_ratio(&one.band, fault, |current| wire.curve.time(current).ok().flatten());
        let beyond = |at: ElectricCurrent| one.band.known_up_to().is_some_and(|known| at > known * (1.0 - 1e-9));
        AgainstRecord {
            fuse: name(one),
            time_margin: least.map(|least| round9(share(least.ratio))),
            at_a: least.map(|least| round9(least.current.value)),
            protects: match least {
                None => Some(true),
                Some(least) if share(least.ratio) >= 1.0 => Some(true),
                Some(least) => (!beyond(least.current)).then_some(false),
            },
        }
    });
    Ok(WireRecord {
        size: wire.conductor.label(),
        csa_mm2: round9(in_mm2(wire.conductor.area)),
        installation: wire.installation.name(),
        ampacity_a: round9(wire.ampacity.value),
        load_a: round9(wire.load.value),
        points: points.collect::<Result<_, CurveError>>()?,
        line: bears(&wire.curve, fine),
        against: against.collect(),
    })
}
