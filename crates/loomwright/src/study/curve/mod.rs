//! Time-current curves side by side: fuse-links as bands, and what a conductor bears.
//!
//! ```
//! use loomwright::study::curve::{CurveQuery, Wire};
//! use loomwright::quantity::{CrossSection, FromText};
//! let query = CurveQuery {
//!     fuses: vec!["60 A blade-e".parse()?],
//!     wire: Some(Wire::new(CrossSection::from_text("16 mm2")?)),
//!     ..CurveQuery::default()
//! };
//! let record = query.record()?;
//! let wire = record.conductor.expect("a conductor was asked for");
//! assert!(wire.against.first().is_some_and(|against| against.time_margin.is_none_or(|margin| margin > 1.0)));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod record;

pub(crate) use record::bears;
pub use record::{
    AgainstRecord, BearsRecord, CurveRecord, DiscriminationRecord, FuseCurveRecord, OpensRecord, WireRecord,
};

use crate::conductor::{Conductor, ConductorError, Kind, Material, find};
use crate::data::tables::constants;
use crate::heat::{DamageCurve, HeatError, HeatPath, Installation, Lay, OverloadLimits};
use crate::protection::{Band, Fuse};
use crate::quantity::{CrossSection, ElectricCurrent, Ratio, ThermodynamicTemperature, ToText, celsius, in_celsius};
use thiserror::Error;
use uom::si::electric_current::ampere;
use uom::si::ratio::ratio;

/// Why there are no curves.
#[derive(Clone, Debug, PartialEq, Error)]
#[non_exhaustive]
pub enum CurveError {
    /// Nothing was asked for.
    #[error("name one fuse or more, such as \"60 A blade-e\"")]
    NoFuse,
    /// A value outside what is accepted.
    #[error("{what} of {given} is not accepted; {accepted}")]
    OutOfRange {
        /// Which value.
        what: &'static str,
        /// The value as given.
        given: String,
        /// What is accepted.
        accepted: &'static str,
    },
    /// No time limits are at hand.
    #[error(
        "no time limits of {family} are at hand for {rating}: what is missing is the maker's time-current data; families with limits: {known}"
    )]
    NoTimes {
        /// The family.
        family: &'static str,
        /// The rating.
        rating: String,
        /// Families that have some.
        known: String,
    },
    /// Outside the family's re-rating data.
    #[error("no re-rating of {family} is at hand for {ambient}")]
    NoRerating {
        /// The family.
        family: &'static str,
        /// The air around it.
        ambient: String,
    },
    /// The conductor does not exist.
    #[error(transparent)]
    Conductor(#[from] ConductorError),
    /// The conductor cannot be followed.
    #[error(transparent)]
    Heat(#[from] HeatError),
}

/// The conductor to hold the fuses against; what is not stated takes a default that the result lists.
#[derive(Clone, Copy, Debug)]
pub struct Wire {
    /// Its size.
    pub size: CrossSection,
    /// Its kind; IEC 60228 class 5, or AWG or SAE for their gauges.
    pub kind: Option<Kind>,
    /// Its material; copper.
    pub material: Option<Material>,
    /// Its insulation class; usual for the kind.
    pub insulation: Option<ThermodynamicTemperature>,
    /// What its terminals may reach; 75 °C.
    pub terminal: Option<ThermodynamicTemperature>,
    /// How it lies; enclosed with its return.
    pub installation: Option<Installation>,
    /// What it carries before the overcurrent; nothing.
    pub load: Option<ElectricCurrent>,
}

impl Wire {
    /// A conductor of this size, with everything else left unsaid.
    pub fn new(size: CrossSection) -> Self {
        Self { size, kind: None, material: None, insulation: None, terminal: None, installation: None, load: None }
    }
}

/// What to lay side by side.
#[derive(Clone, Debug, Default)]
pub struct CurveQuery {
    /// Fuses, those nearest to the source first.
    pub fuses: Vec<Fuse>,
    /// Air around fuses and conductor: −40 °C to 200 °C. Default 40 °C.
    pub ambient: Option<ThermodynamicTemperature>,
    /// The conductor that they are to protect.
    pub wire: Option<Wire>,
    /// The highest fault current. Default 20 times the largest rating.
    pub fault: Option<ElectricCurrent>,
}

/// Most fuses side by side.
const MOST_FUSES: usize = 8;
/// The highest fault over the largest rating, when nothing is said.
const FAULT_OVER_RATING: f64 = 20.0;

/// A fuse with its band in the air around it.
struct Rated {
    fuse: Fuse,
    band: Band,
}

/// A conductor with its damage curve.
struct Followed {
    conductor: Conductor,
    installation: Installation,
    insulation: ThermodynamicTemperature,
    terminal: ThermodynamicTemperature,
    ampacity: ElectricCurrent,
    load: ElectricCurrent,
    curve: DamageCurve,
}

impl CurveQuery {
    fn air(&self) -> Result<ThermodynamicTemperature, CurveError> {
        let ambient = self.ambient.unwrap_or_else(|| celsius(constants::AMBIENT_C));
        let accepted = (-40.0..=200.0).contains(&in_celsius(ambient));
        let refused =
            || CurveError::OutOfRange {
                what: "an ambient", given: ambient.to_text(), accepted: "−40 °C to 200 °C"
            };
        if accepted { Ok(ambient) } else { Err(refused()) }
    }

    fn rated(&self, ambient: ThermodynamicTemperature) -> Result<Vec<Rated>, CurveError> {
        if self.fuses.is_empty() {
            return Err(CurveError::NoFuse);
        }
        if self.fuses.len() > MOST_FUSES {
            let given = self.fuses.len().to_string();
            return Err(CurveError::OutOfRange { what: "a number of fuses", given, accepted: "1 to 8" });
        }
        let rated = self.fuses.iter().map(|fuse| {
            let family = fuse.family.name();
            let band = Band::of(fuse).ok_or_else(|| {
                let known: Vec<&str> = crate::protection::families()
                    .filter(|family| {
                        family.ratings().any(|rating| Band::of(&Fuse { family: *family, rating }).is_some())
                    })
                    .map(|family| family.name())
                    .collect();
                CurveError::NoTimes { family, rating: fuse.rating.to_text(), known: known.join(", ") }
            })?;
            let share = fuse.family.rerating(ambient);
            let share = share.ok_or_else(|| CurveError::NoRerating { family, ambient: ambient.to_text() })?;
            Ok(Rated { fuse: *fuse, band: band.rerated(share) })
        });
        rated.collect()
    }

    fn fault(&self) -> Result<ElectricCurrent, CurveError> {
        let largest = self.fuses.iter().map(|fuse| fuse.rating.get::<ampere>()).fold(0.0, f64::max);
        let fault = self.fault.unwrap_or_else(|| ElectricCurrent::new::<ampere>(FAULT_OVER_RATING * largest));
        let accepted = fault.value > 0.0 && fault.value <= 2e5;
        let given = || fault.to_text();
        let refused =
            || CurveError::OutOfRange { what: "a fault current", given: given(), accepted: "above 0, at most 200 kA" };
        if accepted { Ok(fault) } else { Err(refused()) }
    }

    fn followed(&self, ambient: ThermodynamicTemperature) -> Result<Option<Followed>, CurveError> {
        let Some(wire) = self.wire else { return Ok(None) };
        let kind = wire.kind.unwrap_or(match wire.size {
            CrossSection::Area(_) => Kind::Iec5,
            CrossSection::Awg(_) => Kind::Awg,
            CrossSection::Sae(_) => Kind::Sae,
        });
        let conductor = find(kind, wire.material.unwrap_or(Material::Copper), wire.size)?;
        let limit = |what: &'static str, value: ThermodynamicTemperature| {
            let refused = || CurveError::OutOfRange { what, given: value.to_text(), accepted: "40 °C to 250 °C" };
            if (40.0..=250.0).contains(&in_celsius(value)) { Ok(value) } else { Err(refused()) }
        };
        let insulation = limit("an insulation class", wire.insulation.unwrap_or_else(|| kind.usual_insulation()))?;
        let usual = crate::practice::Practice::General.terminal_rule().usual.value;
        let terminal = limit("a terminal temperature", wire.terminal.unwrap_or(usual))?;
        let installation = wire.installation.unwrap_or(Installation::Enclosed);
        let lay =
            if installation == Installation::FreeAir { Lay::alone(installation) } else { Lay::pair(installation) };
        let limits = OverloadLimits::of(insulation, terminal);
        let path = HeatPath::new(&conductor, &lay, ambient)?;
        let ampacity = path.ampacity(limits.continuous)?;
        let load = wire.load.unwrap_or_default();
        if !(load.value >= 0.0 && load <= ampacity) {
            let accepted = "0 A to what the conductor bears without end";
            return Err(CurveError::OutOfRange { what: "a load", given: load.to_text(), accepted });
        }
        let curve = DamageCurve::new(&conductor, &lay, ambient, path.temperature(load)?, limits)?;
        Ok(Some(Followed { conductor, installation, insulation, terminal, ampacity, load, curve }))
    }
}

/// Currents to tell: round steps from the least conventional current to the highest fault, and every gate.
fn currents(rated: &[Rated], fault: ElectricCurrent) -> Vec<ElectricCurrent> {
    let least = rated.iter().filter_map(|one| one.band.conventional_current()).map(|current| current.value);
    let least = least.fold(f64::INFINITY, f64::min);
    let fault = fault.get::<ampere>();
    let mut found = Vec::new();
    let mut decade = 10.0_f64.powf((least * 0.5).log10().floor());
    while decade <= fault && found.len() < 200 {
        found.extend([1.0, 1.5, 2.0, 3.0, 5.0, 7.0].map(|step| step * decade));
        decade *= 10.0;
    }
    found.retain(|current| *current >= least * 0.7 && *current < fault);
    found.push(fault);
    found.into_iter().map(ElectricCurrent::new::<ampere>).collect()
}

/// Even steps on a logarithmic scale that a picture goes through.
const STEPS: u32 = 60;

/// Currents that a picture goes through, A: even steps on a logarithmic scale, and besides them every turn of an edge.
pub(crate) fn through(from: f64, to: f64, besides: impl Iterator<Item = f64>) -> Vec<ElectricCurrent> {
    let steps = (0..STEPS).map(|step| from * (to / from).powf(f64::from(step) / f64::from(STEPS - 1)));
    let mut found: Vec<f64> = steps.chain(besides).filter(|one| (from..=to).contains(one)).collect();
    found.sort_by(f64::total_cmp);
    found.dedup();
    found.into_iter().map(ElectricCurrent::new::<ampere>).collect()
}

/// The same for fuses side by side, from the first current that is told to the last.
fn between(rated: &[Rated], told: &[ElectricCurrent]) -> Vec<ElectricCurrent> {
    let [Some(from), Some(to)] = [told.first(), told.last()].map(|one| one.map(|current| current.value)) else {
        return Vec::new();
    };
    let turns = rated.iter().flat_map(|one| one.band.turns().chain(one.band.fast_turns()));
    through(from, to, turns.chain(told.iter().copied()).map(|current| current.value))
}

/// A share as quantity.
fn share(of: Ratio) -> f64 {
    of.get::<ratio>()
}
