//! From conductor to air: one object per conductor and way of lying that answers both questions,
//! how hot at this current and how much current at this temperature.

use super::chain::{Along, CEILING_K, Chain, Company, Gap, Outside};
use super::lay::{Others, Outline};
use super::models::{balance, bare, circuits, iec60287};
use super::withstand::metal;
use super::{HeatError, Installation, Lay, table};
use crate::conductor::Conductor;
use crate::data::{Source, tables::sources};
use crate::names::named;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, LinearPowerDensity, ThermodynamicTemperature,
    in_celsius, in_mm2,
};
use uom::si::electric_current::ampere;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::thermodynamic_temperature::kelvin;

named! {
    /// What says how much heat a conductor sheds. Where several bear on one way of lying, the most
    /// cautious decides and all are reported.
    Model, "heat model", {
        /// Convection, radiation and conduction from first principles.
        HeatBalance => "heat-balance",
        /// The coefficients of IEC 60287-2-1.
        Iec60287 => "iec-60287",
        /// The method A, B or C table of IEC 60364-5-52.
        Table => "iec-60364-5-52",
        /// The heat balance of its own circuit alone: company that hardly carries anything cools nobody.
        Alone => "own-circuit-alone",
    }
}

impl Model {
    /// The model in words, for one installation.
    ///
    /// ```
    /// use loomwright::heat::{Installation, Model};
    /// assert_eq!(Model::Table.title(Installation::Surface), "method C table (IEC 60364-5-52)");
    /// ```
    pub fn title(self, installation: Installation) -> String {
        match self {
            Self::HeatBalance if installation == Installation::FreeAir => {
                "heat balance in free air (Churchill and Chu 1975)".to_owned()
            }
            Self::HeatBalance => format!("heat balance, {} (Churchill and Chu 1975)", installation.title()),
            Self::Alone => "heat balance of its own circuit alone (Churchill and Chu 1975)".to_owned(),
            Self::Iec60287 if installation.is_conduit() => "duct formula (IEC 60287-2-1)".to_owned(),
            Self::Iec60287 => "air formula (IEC 60287-2-1)".to_owned(),
            Self::Table => format!("method {} table (IEC 60364-5-52)", table::method(installation).unwrap_or('B')),
        }
    }

    /// Where its numbers come from, for one installation.
    ///
    /// ```
    /// use loomwright::heat::{Installation, Model};
    /// assert!(Model::Iec60287.source(Installation::FreeAir).to_string().contains("60287"));
    /// ```
    pub fn source(self, installation: Installation) -> &'static Source {
        match self {
            Self::HeatBalance if installation == Installation::FreeAir => &sources::CHURCHILL_CHU_1975,
            Self::HeatBalance | Self::Alone => &sources::THERMAL_COMMON_PRACTICE,
            Self::Iec60287 if matches!(installation, Installation::FreeAir | Installation::ConduitPlastic) => {
                &sources::IEC_60287_2_1
            }
            Self::Iec60287 => &sources::IEC_60287_2_1_MEMORY,
            Self::Table => table::SOURCE,
        }
    }
}

/// Where the heat of a conductor goes, by the model that governs: temperatures along its path, W/m.
#[derive(Clone, Copy, Debug)]
pub struct Balance {
    /// The model that gives the highest temperature.
    pub model: Model,
    /// Conductor temperature.
    pub conductor: ThermodynamicTemperature,
    /// Surface of the conductor's insulation; `None` where the model is a table that gives none.
    pub surface: Option<ThermodynamicTemperature>,
    /// Bore and outside of the conduit, where there is one.
    pub conduit: Option<[ThermodynamicTemperature; 2]>,
    /// Joule heat of this conductor at its temperature.
    pub joule: LinearPowerDensity,
    /// Heat of all conductors it is laid together with.
    pub neighbours: LinearPowerDensity,
    /// Shed to the air by natural convection, by all of them.
    pub convection: LinearPowerDensity,
    /// Shed by radiation.
    pub radiation: LinearPowerDensity,
    /// Shed as a formula or table has it, which does not tell convection and radiation apart.
    pub undivided: LinearPowerDensity,
    /// From the bunch to the bore by convection and by radiation, where the model tells them apart.
    pub gap: Option<[LinearPowerDensity; 2]>,
}

/// The thermal path of one conductor in one installation and ambient.
#[derive(Clone, Copy, Debug)]
pub struct HeatPath {
    /// By model, in the order of [`Model::ALL`].
    pub(super) chains: [Option<Chain>; 4],
    pub(super) ambient_k: f64,
    /// Thermal resistance of the conductor's own insulation, K·m/W.
    pub(super) insulation: f64,
    /// Conductivity times area of the metal that the conductor's resistance proves, W·m/K.
    pub(super) metal: f64,
}

impl HeatPath {
    /// The path of a conductor that lies so, in air of `ambient`.
    ///
    /// # Errors
    /// [`HeatError::Ambient`] outside −60 to 200 °C; [`HeatError::Together`] for no or more than
    /// [`Lay::MOST`] conductors; [`HeatError::Conduit`] when a conduit is smaller than its contents;
    /// [`HeatError::Grouping`] for more circuits together than the standard's factors know, and
    /// [`HeatError::OutsideTable`] when the enclosed installation's table does not hold the size, since neither is
    /// ever extrapolated.
    pub fn new(conductor: &Conductor, lay: &Lay, ambient: ThermodynamicTemperature) -> Result<Self, HeatError> {
        let ambient_c = in_celsius(ambient);
        if !(-60.0..=200.0).contains(&ambient_c) {
            return Err(HeatError::Ambient { ambient_c });
        }
        if !(1..=Lay::MOST).contains(&lay.together) {
            return Err(HeatError::Together { together: lay.together, most: Lay::MOST });
        }
        let outline = Outline::of(conductor, lay)?;
        let bare = bare(conductor, ambient);
        let grouping = table::group_factor(circuits(lay)).map(|factor| factor.value);
        let csa_mm2 = in_mm2(conductor.area);
        let conductance = table::conductance(lay.installation, csa_mm2);
        if grouping.is_none() {
            return Err(HeatError::Grouping { circuits: circuits(lay), most: table::most_circuits() });
        }
        if conductance.is_none() && lay.installation == Installation::Enclosed {
            let (least_mm2, most_mm2) = table::ends();
            return Err(HeatError::OutsideTable { csa_mm2, least_mm2, most_mm2 });
        }
        let mixed = lay.others != Others::default();
        let company = mixed.then(|| Company {
            count: f64::from(lay.together),
            others: lay.others.heat.value,
            loaded: f64::from(lay.loaded()),
        });
        // Above its end the table still bounds: a larger size is not credited with more than its last sheds.
        let bound = conductance.or_else(|| table::at_the_end(lay.installation, csa_mm2));
        let from_table = bound.zip(grouping).map(|(each, factor)| Chain {
            outside: Outside::Table(each * factor * factor, company),
            insulation: 0.0,
            ..bare
        });
        // Company bounds by what the own circuit bears alone, in both opinions.
        let (opinion, alone) = if mixed {
            let lay = Lay { others: Others::default(), bore: None, ..*lay };
            let outline = Outline::of(conductor, &lay)?;
            let grouping = table::group_factor(circuits(&lay)).map(|factor| factor.value);
            let opinion = iec60287(&bare, conductor, &lay, &outline, grouping);
            (opinion, balance(&bare, conductor, &lay, &outline, grouping))
        } else {
            (iec60287(&bare, conductor, lay, &outline, grouping), None)
        };
        Ok(Self {
            chains: [balance(&bare, conductor, lay, &outline, grouping), opinion, from_table, alone],
            ambient_k: ambient.value,
            insulation: bare.insulation,
            metal: conductor.material.data().conductivity.value * metal(conductor),
        })
    }

    fn models(&self) -> impl Iterator<Item = (Model, &Chain)> {
        Model::ALL.iter().zip(&self.chains).filter_map(|(model, chain)| Some((*model, chain.as_ref()?)))
    }

    fn above_ambient(&self, limit: ThermodynamicTemperature) -> Result<(), HeatError> {
        if limit.value > self.ambient_k {
            return Ok(());
        }
        let ambient_c = in_celsius(ThermodynamicTemperature::new::<kelvin>(self.ambient_k));
        Err(HeatError::LimitBelowAmbient { limit_c: in_celsius(limit), ambient_c })
    }

    /// What each model that bears on the installation permits at `limit`.
    ///
    /// # Errors
    /// As [`ampacity`](Self::ampacity).
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{HeatPath, Installation, Lay};
    /// use loomwright::quantity::{CrossSection, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let (path, limit) = (HeatPath::new(&cable, &Lay::pair(Installation::Surface), celsius(30.0))?, celsius(70.0));
    /// let least = path.candidates(limit)?.map(|(_, current)| current.value).fold(f64::INFINITY, f64::min);
    /// assert!((path.ampacity(limit)?.value - least).abs() < 1e-6); // the most cautious decides
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn candidates(
        &self,
        limit: ThermodynamicTemperature,
    ) -> Result<impl Iterator<Item = (Model, ElectricCurrent)>, HeatError> {
        self.above_ambient(limit)?;
        Ok(self
            .models()
            .map(move |(model, chain)| (model, ElectricCurrent::new::<ampere>(chain.current_at(limit.value)))))
    }

    /// The current that holds the conductor steadily at `limit`, by the most cautious model; 0 when its
    /// neighbours alone heat it so far.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{heat::{HeatPath, Installation, Lay}, quantity::{CrossSection, FromText, celsius}};
    /// let cable = find(Kind::Iec2, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let path = HeatPath::new(&cable, &Lay::pair(Installation::Surface), celsius(30.0))?;
    /// let ampacity = path.ampacity(celsius(70.0))?;
    /// assert!(ampacity.value <= 85.0 + 1e-6 && (path.temperature(ampacity)?.value - 343.15).abs() < 0.01); // method C: 85 A
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`HeatError::LimitBelowAmbient`] when the limit is not above ambient.
    pub fn ampacity(&self, limit: ThermodynamicTemperature) -> Result<ElectricCurrent, HeatError> {
        let least = self.candidates(limit)?.map(|(_, current)| current.value).reduce(f64::min);
        Ok(ElectricCurrent::new::<ampere>(least.unwrap_or(0.0)))
    }

    /// The model that governs at `limit`.
    pub(crate) fn governing(&self, limit: ThermodynamicTemperature) -> Option<Model> {
        let candidates = self.candidates(limit).ok()?;
        candidates.min_by(|one, other| one.1.value.total_cmp(&other.1.value)).map(|(model, _)| model)
    }

    /// The largest current that loses at most `drop` in `length` of this conductor and a resistance
    /// `beside` it, each at the temperature it then has; by the most cautious model.
    pub(crate) fn current_at_drop(
        &self,
        length: Length,
        beside: ElectricalResistance,
        drop: ElectricPotential,
    ) -> ElectricCurrent {
        if drop.value.is_nan() || drop.value <= 0.0 {
            return ElectricCurrent::default();
        }
        let least = self.models().map(|(_, chain)| chain.current_at_volts(length.value, beside.value, drop.value));
        ElectricCurrent::new::<ampere>(least.reduce(f64::min).unwrap_or(0.0))
    }

    /// Steady conductor temperature at a current, by the most cautious model.
    ///
    /// # Errors
    /// [`HeatError::Current`] for a negative or non-finite current; [`HeatError::TooHot`] when the
    /// conductor would pass 250 °C or run away.
    pub fn temperature(&self, current: ElectricCurrent) -> Result<ThermodynamicTemperature, HeatError> {
        Ok(ThermodynamicTemperature::new::<kelvin>(self.solve(current)?.1))
    }

    /// The model that governs, and the conductor temperature in kelvin.
    fn solve(&self, current: ElectricCurrent) -> Result<(Model, f64), HeatError> {
        let current_a = current.get::<ampere>();
        if !current_a.is_finite() || current_a < 0.0 {
            return Err(HeatError::Current { current_a });
        }
        let mut hottest: Option<(Model, f64)> = None;
        for (model, chain) in self.models() {
            let reached = chain.temperatures(current_a);
            let (_, hot) = reached.ok_or(HeatError::TooHot { current_a, ceiling_c: CEILING_K - 273.15 })?;
            if hottest.is_none_or(|(_, so_far)| hot > so_far) {
                hottest = Some((model, hot));
            }
        }
        hottest.ok_or(HeatError::TooHot { current_a, ceiling_c: CEILING_K - 273.15 })
    }

    /// The heat balance at a current, term by term, by the model that governs.
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature).
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{HeatPath, Installation, Lay};
    /// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let path = HeatPath::new(&cable, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
    /// let balance = path.balance(ElectricCurrent::from_text("80 A")?)?;
    /// let shed = balance.convection + balance.radiation + balance.undivided;
    /// assert!(((shed / balance.joule).value - 1.0).abs() < 1e-3); // what comes in goes out
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn balance(&self, current: ElectricCurrent) -> Result<Balance, HeatError> {
        let governing = self.solve(current)?.0;
        self.balance_by(governing, current)
    }

    /// The heat balance at a current by one model.
    ///
    /// # Errors
    /// As [`temperature`](Self::temperature); [`HeatError::NoModel`] where the model does not bear on the
    /// installation.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{HeatPath, Installation, Lay, Model};
    /// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let path = HeatPath::new(&cable, &Lay::alone(Installation::FreeAir), celsius(40.0))?;
    /// let current = ElectricCurrent::from_text("80 A")?;
    /// assert!(path.balance_by(Model::HeatBalance, current)?.conductor.value <= path.temperature(current)?.value + 1e-6);
    /// assert!(path.balance_by(Model::Table, current).is_err()); // no table of IEC 60364-5-52 for it
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn balance_by(&self, model: Model, current: ElectricCurrent) -> Result<Balance, HeatError> {
        let current_a = current.get::<ampere>();
        if !current_a.is_finite() || current_a < 0.0 {
            return Err(HeatError::Current { current_a });
        }
        let found = self.models().find(|(which, _)| *which == model);
        let (_, chain) = found.ok_or(HeatError::NoModel { model: model.name() })?;
        let too_hot = HeatError::TooHot { current_a, ceiling_c: CEILING_K - 273.15 };
        let (rise, hot) = chain.temperatures(current_a).ok_or(too_hot)?;
        let per_metre = LinearPowerDensity::new::<watt_per_meter>;
        let absolute = ThermodynamicTemperature::new::<kelvin>;
        let joule = current_a * current_a * chain.resistance(hot);
        let (first, second, _) = chain.shed(rise);
        let Along { outside, bore, bunch, surface } = chain.along(rise, first + second);
        let divided = matches!(model, Model::HeatBalance | Model::Alone);
        let gap = match &chain.gap {
            Gap::Annulus(annulus) => Some(annulus.shed(bore, bunch - bore)),
            _ => None,
        };
        Ok(Balance {
            model,
            conductor: absolute(hot),
            surface: (model != Model::Table).then(|| absolute(surface)),
            conduit: (!matches!(chain.gap, Gap::None)).then(|| [absolute(bore), absolute(outside)]),
            joule: per_metre(joule),
            neighbours: per_metre((chain.count - 1.0) * joule + chain.others),
            convection: per_metre(if divided { first } else { 0.0 }),
            radiation: per_metre(if divided { second } else { 0.0 }),
            undivided: per_metre(if divided { 0.0 } else { first }),
            gap: gap.map(|(convection, radiation)| [per_metre(convection), per_metre(radiation)]),
        })
    }
}

#[cfg(test)]
mod tests;
