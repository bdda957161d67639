//! A protective device: a fuse-link or breaker of a family, or one by its maker's own sheet, which comes first.

use super::{Band, Family, Fuse, Reset};
use crate::data::Confidence;
use crate::data::tables::constants;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, JouleIntegral, Ratio, ThermodynamicTemperature, significant,
};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

/// What a maker's sheet says of one device; what it leaves out is as its family's.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The device's name in the plan.
    pub name: String,
    /// The sheet as cited.
    pub source: String,
    /// The family that it is otherwise like, and its rating, which need not be one of the family's.
    pub fuse: Fuse,
    /// Rated DC voltage.
    pub rated_voltage: Option<ElectricPotential>,
    /// The largest current that it breaks at its rated voltage.
    pub breaks: Option<ElectricCurrent>,
    /// The share of its rating that it carries without pause.
    pub continuous: Option<Ratio>,
    /// Its time-current band.
    pub band: Option<Band>,
    /// The I²t that melts it.
    pub melting: Option<JouleIntegral>,
    /// Its drop at its rating.
    pub drop: Option<ElectricPotential>,
    /// Whether current may pass it one way only.
    pub polarised: Option<bool>,
    /// How it closes again.
    pub reset: Option<Reset>,
}

/// A device with the sheet that a plan gives for it.
///
/// ```
/// use loomwright::protection::{Device, Family};
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText};
/// let fuse = Family::named("class-t")?.fuse(ElectricCurrent::from_text("200 A")?)?;
/// let (breaks, _) = Device::from(fuse).breaks(ElectricPotential::from_text("58.4 V")?).expect("it is known");
/// assert_eq!(breaks.value, 20_000.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Device<'a> {
    /// Family and rating.
    pub fuse: Fuse,
    /// The maker's sheet.
    pub sheet: Option<&'a Sheet>,
}

impl From<Fuse> for Device<'_> {
    fn from(fuse: Fuse) -> Self {
        Self { fuse, sheet: None }
    }
}

impl Device<'_> {
    fn family(&self) -> Family {
        self.fuse.family
    }

    /// What it is called: rating and family, or its name in the plan with both.
    pub fn called(&self) -> String {
        let plain = format!("{} A {}", significant(self.fuse.rating.get::<ampere>(), 3), self.family().name());
        self.sheet.map_or_else(|| plain.clone(), |sheet| format!("{} ({plain})", sheet.name))
    }

    /// Operating time against current, at its reference temperature; `None` where no times are at hand.
    pub fn band(&self) -> Option<Band> {
        self.sheet.and_then(|sheet| sheet.band.clone()).or_else(|| Band::of(&self.fuse))
    }

    /// Rated DC voltage; `None` where it differs by size and maker.
    pub fn rated_voltage(&self) -> Option<ElectricPotential> {
        self.sheet.and_then(|sheet| sheet.rated_voltage).or_else(|| self.family().rated_voltage())
    }

    /// The largest current that it breaks in a circuit that reaches this voltage, and how far that can be trusted;
    /// `None` where it is not at hand.
    pub fn breaks(&self, highest: ElectricPotential) -> Option<(ElectricCurrent, Confidence)> {
        match self.sheet.and_then(|sheet| sheet.breaks) {
            Some(breaks) => self
                .rated_voltage()
                .is_some_and(|rated| rated >= highest * (1.0 - 1e-9))
                .then_some((breaks, Confidence::Published)),
            None => self.family().breaks(highest).map(|(breaks, source)| (breaks, source.confidence)),
        }
    }

    /// The share of its rating that it carries without pause, in its reference air.
    pub fn continuous_share(&self) -> Ratio {
        self.sheet.and_then(|sheet| sheet.continuous).unwrap_or_else(|| self.family().continuous_share())
    }

    /// The current it carries without pause in that ambient; `None` outside the re-rating data.
    ///
    /// ```
    /// use loomwright::{protection::{Device, Fuse}, quantity::celsius};
    /// let device = Device::from("30 A blade-c".parse::<Fuse>()?);
    /// let carries = device.continuous_current(celsius(25.0)).ok_or("known")?;
    /// assert!((carries.value - 24.0).abs() < 1e-9); // 80 % of 30 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn continuous_current(&self, ambient: ThermodynamicTemperature) -> Option<ElectricCurrent> {
        Some(self.fuse.rating * self.continuous_share() * self.family().rerating(ambient)?)
    }

    /// Conventional operating current I2; `None` where no time limits are at hand.
    ///
    /// ```
    /// use loomwright::protection::{Device, Fuse};
    /// let device = Device::from("63 A gg".parse::<Fuse>()?);
    /// assert!(device.conventional_current().is_some_and(|current| (current.value - 100.8).abs() < 1e-9)); // 1.6 · 63 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn conventional_current(&self) -> Option<ElectricCurrent> {
        let stated = self.sheet.and_then(|sheet| sheet.band.as_ref());
        stated.map_or_else(|| self.fuse.conventional_current(), Band::conventional_current)
    }

    /// The I²t that melts it in the adiabatic range, the least that is at hand: the sheet's, else the lesser of the
    /// family's typical value and the end of the fast edge. `None` where none is; a breaker does not melt.
    pub fn melting(&self) -> Option<JouleIntegral> {
        if self.family().breaker().is_some() {
            return None;
        }
        let stated = self.sheet.and_then(|sheet| sheet.melting);
        let typical = || self.family().melting(self.fuse.rating);
        let edge = || self.band().as_ref().and_then(Band::melting);
        stated.or_else(|| match (typical(), edge()) {
            (Some(typical), Some(edge)) => Some(if edge < typical { edge } else { typical }),
            (typical, edge) => typical.or(edge),
        })
    }

    /// Drop at its rating, with its holder: 100 mV, or what its sheet or its family's typical value says where that is
    /// more.
    ///
    /// ```
    /// use loomwright::protection::{Device, Fuse};
    /// let device = Device::from("30 A blade-c".parse::<Fuse>()?);
    /// assert!(device.drop().value >= 0.1); // never less than is usual with a holder
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn drop(&self) -> ElectricPotential {
        let usual = ElectricPotential::new::<volt>(constants::FUSE_DROP_AT_RATING_V);
        let stated = self.sheet.and_then(|sheet| sheet.drop).or_else(|| self.family().drop(self.fuse.rating));
        stated.filter(|stated| *stated > usual).unwrap_or(usual)
    }

    /// Whether current may pass it one way only.
    pub fn polarised(&self) -> bool {
        let stated = self.sheet.and_then(|sheet| sheet.polarised);
        stated.or_else(|| self.family().breaker().map(|(polarised, _)| polarised)).unwrap_or(false)
    }

    /// How it closes again; `None` for a fuse-link.
    pub fn reset(&self) -> Option<Reset> {
        self.sheet.and_then(|sheet| sheet.reset).or_else(|| self.family().breaker().map(|(_, reset)| reset))
    }

    /// Whether anything that lets it pass in a circuit that reaches `highest` is written from memory.
    ///
    /// ```
    /// use loomwright::{protection::{Device, Fuse}, quantity::{ElectricPotential, FromText}};
    /// let device = Device::from("200 A class-t".parse::<Fuse>()?);
    /// assert!(device.rests_on_memory(ElectricPotential::from_text("14.6 V")?)); // its times are from memory
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rests_on_memory(&self, highest: ElectricPotential) -> bool {
        let memory = |confidence: Confidence| confidence == Confidence::Memory;
        let family = self.family();
        let breaking = self.breaks(highest).is_some_and(|(_, confidence)| memory(confidence));
        let times = || Band::of(&self.fuse).is_some_and(|band| band.from_memory());
        let Some(sheet) = self.sheet else {
            return breaking || times() || family.sources().iter().any(|source| memory(source.confidence));
        };
        // What the sheet leaves out is its family's still.
        let left_out = [
            family.rated_source().filter(|_| sheet.rated_voltage.is_none()),
            Some(family.continuous_source()).filter(|_| sheet.continuous.is_none()),
            family.rerating_source(),
        ];
        let rest = left_out.into_iter().flatten().any(|source| memory(source.confidence));
        breaking || rest || (sheet.band.is_none() && times())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::protection::families;

    /// With all that its sheet says and a family whose times are published, a device rests on nothing remembered.
    #[test]
    fn a_whole_sheet_rests_on_no_memory() {
        let highest = ElectricPotential::new::<volt>(14.6);
        let rests: Vec<bool> = families()
            .flat_map(|family| family.ratings().map(move |rating| Fuse { family, rating }))
            .filter(|fuse| Band::of(fuse).is_some_and(|band| !band.from_memory()))
            .map(|fuse| {
                let sheet = Sheet {
                    name: "device".to_owned(),
                    source: "its sheet".to_owned(),
                    fuse,
                    rated_voltage: Some(ElectricPotential::new::<volt>(58.0)),
                    breaks: Some(ElectricCurrent::new::<uom::si::electric_current::ampere>(2000.0)),
                    continuous: Some(Ratio::from(0.8)),
                    band: None,
                    melting: None,
                    drop: None,
                    polarised: None,
                    reset: None,
                };
                Device { fuse, sheet: Some(&sheet) }.rests_on_memory(highest)
            })
            .collect();
        assert!(rests.contains(&false), "{rests:?}");
    }
}
