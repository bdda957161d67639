//! The working of heat, for one circuit and for a run of a plan: resistance, the balance with every term, ampacity, the
//! duty cycle, the adiabatic withstand.

use super::Step;
use super::working::n;
use crate::conductor::Conductor;
use crate::heat::{Balance, Duty, Installation, Lay, Model, OverloadLimits, Withstand, group_factor, withstand};
use crate::practice::Cap;
use crate::quantity::{
    ElectricCurrent, JouleIntegral, ThermodynamicTemperature, ToText, in_celsius, in_mm2, in_ohm_per_km,
};
use uom::si::electric_current::ampere;
use uom::si::length::millimeter;

/// A conductor as it lies, of so many in parallel.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Laid<'a> {
    /// The conductor.
    pub(crate) conductor: &'a Conductor,
    /// How it lies.
    pub(crate) lay: &'a Lay,
    /// How many of them make one leg.
    pub(crate) parallel: u8,
    /// The air around it.
    pub(crate) ambient: ThermodynamicTemperature,
}

/// The resistance of a conductor at a temperature, with its numbers.
pub(crate) fn resistance(conductor: &Conductor, at: ThermodynamicTemperature) -> String {
    let zero = n(conductor.material.data().zero_resistance.value);
    format!(
        "r = {} Ω/km · ({zero} + {}) / ({zero} + 20) = {} Ω/km",
        n(in_ohm_per_km(conductor.resistance_20)),
        n(in_celsius(at)),
        n(in_ohm_per_km(conductor.resistance_at(at)))
    )
}

/// Where that comes from.
pub(crate) fn resistance_source(conductor: &Conductor) -> String {
    format!("{}; {}", conductor.source, conductor.material.data().zero_resistance_source)
}

/// The duty cycle: the temperature it reaches, the current it may have at `limit`, the temperature of the drop.
pub(crate) fn duty_step(
    duty: &Duty,
    [current, permitted]: [ElectricCurrent; 2],
    [reached, limit, dropping]: [ThermodynamicTemperature; 3],
) -> Step {
    Step {
        title: "Duty cycle, repeated until it settles",
        formula: "C · dT/dt = I² · r(T) − heat into 12 shells of insulation and on to the air; the highest temperature of a cycle",
        numbers: format!(
            "{}: {} A reaches {} °C, {} A would reach {} °C; the drop is computed at {} °C",
            duty.to_text(),
            n(current.get::<ampere>()),
            n(in_celsius(reached)),
            n(permitted.get::<ampere>()),
            n(in_celsius(limit)),
            n(in_celsius(dropping)),
        ),
        source: "radial heat conduction (Fourier); IEC 60853-2 for the heat capacity of insulation".into(),
    }
}

/// The practice's table against the model: the smaller governs.
pub(crate) fn table_step(cap: &Cap, ampacity: ElectricCurrent) -> Step {
    Step {
        title: "Ampacity by the practice's table",
        formula: "I_table(30 °C) · √((t_column − t_ambient) / (t_column − 30 °C)) · grouping, at most the printed value",
        numbers: format!(
            "{} A printed, grouping {}, {} A here; the smaller of both governs: Iz = {} A",
            n(cap.at_30_c.get::<ampere>()),
            n(cap.grouping),
            n(cap.ampacity.get::<ampere>()),
            n(ampacity.get::<ampere>())
        ),
        source: cap.source.to_string(),
    }
}

/// The adiabatic withstand of a conductor from its limit to the short-time temperature of its insulation.
pub(crate) fn withstands(
    conductor: &Conductor,
    insulation: ThermodynamicTemperature,
    limit: ThermodynamicTemperature,
) -> Option<Withstand> {
    withstand(conductor, limit, OverloadLimits::of(insulation, limit).moments).ok()
}

/// The same for people: k from first constants and rounded, both shown.
pub(crate) fn withstand_step(
    conductor: &Conductor,
    insulation: ThermodynamicTemperature,
    limit: ThermodynamicTemperature,
) -> Option<Step> {
    let found = withstands(conductor, insulation, limit)?;
    let area = in_mm2(conductor.area);
    let k = |integral: JouleIntegral| n(integral.value.sqrt() / area);
    let limits = OverloadLimits::of(insulation, limit);
    let (printed, source) = match found.as_printed {
        Some((printed, source)) => {
            (format!("printed k = {}: {} kA²s", k(printed), n(printed.value * 1e-3)), format!("; {source}"))
        }
        None => ("no printed k".to_owned(), String::new()),
    };
    Some(Step {
        title: "Adiabatic withstand of one conductor",
        formula: "I²t = k² · S²; k² = Q · (β + 20) / ρ20 · ln((β + t_end) / (β + t_start))",
        numbers: format!(
            "from {} to {} °C: k = {}: {} kA²s; {printed}; with its own resistance {} kA²s; the least counts, up to 5 s",
            n(in_celsius(limit)),
            n(in_celsius(limits.moments)),
            k(found.from_constants),
            n(found.from_constants.value * 1e-3),
            n(found.own_resistance.value * 1e-3),
        ),
        source: format!("IEC 60949{source}"),
    })
}

impl Laid<'_> {
    /// What the conductors that lie together change, where a table's grouping factor counts it.
    fn grouped(&self) -> String {
        let (lay, parallel) = (self.lay, self.parallel);
        let free = lay.installation == Installation::FreeAir;
        let circuits = if free { lay.loaded() } else { lay.loaded().div_ceil(2) };
        let enclosed = lay.installation == Installation::Enclosed;
        match group_factor(circuits).filter(|_| circuits > 1 && (free || enclosed)) {
            Some(factor) if parallel > 1 => {
                format!(" for {parallel} in parallel, each with grouping factor {}", n(factor.value))
            }
            Some(factor) => format!(" with grouping factor {}", n(factor.value)),
            None if parallel > 1 => format!(" for {parallel} in parallel"),
            None => String::new(),
        }
    }

    /// What the models that do not govern say.
    fn opinions(&self, governing: Model, models: &[(Model, ElectricCurrent)]) -> String {
        let others = models.iter().filter(|(model, _)| *model != governing);
        let told = others.map(|(model, current)| {
            format!("; {} would give {} A", model.title(self.lay.installation), n(current.get::<ampere>()))
        });
        told.collect()
    }

    /// The current that holds the limit, by the model that permits least; `within` says what the limit is and where it comes from.
    pub(crate) fn ampacity_step(
        &self,
        within: &str,
        limit: ThermodynamicTemperature,
        models: &[(Model, ElectricCurrent)],
    ) -> Option<Step> {
        let (governing, ampacity) =
            models.iter().min_by(|one, other| one.1.value.total_cmp(&other.1.value)).copied()?;
        let (degrees, at_limit) = (n(in_celsius(limit)), n(in_ohm_per_km(self.conductor.resistance_at(limit))));
        Some(Step {
            title: "Ampacity by the heat model",
            formula: match governing {
                Model::Table => "Iz = √(G · (t_limit − t_ambient) / r(t_limit))",
                _ => "the current at which the heat balance holds the limit",
            },
            numbers: format!(
                "limit = {within}; r({degrees} °C) = {at_limit} Ω/km; Iz = {} A{}{}",
                n(ampacity.get::<ampere>()),
                self.grouped(),
                self.opinions(governing, models),
            ),
            source: governing.title(self.lay.installation),
        })
    }

    /// The heat balance of one metre, term by term.
    pub(crate) fn balance_step(&self, each_a: f64, balance: &Balance) -> Step {
        let ambient = n(in_celsius(self.ambient));
        let (joule, hot) = (n(balance.joule.value), n(in_celsius(balance.conductor)));
        let neighbours = balance.neighbours.value;
        let of_others =
            if neighbours > 0.0 { format!(" and {} W/m of its neighbours", n(neighbours)) } else { String::new() };
        let title = "Heat balance of one metre of conductor";
        let source = match balance.model {
            Model::HeatBalance => {
                "Churchill and Chu 1975; Stefan–Boltzmann, emissivity 0.9; IEC 60287-2-1 for T1".to_owned()
            }
            model => model.source(self.lay.installation).to_string(),
        };
        let Some(surface) = balance.surface else {
            let rise = in_celsius(balance.conductor) - in_celsius(self.ambient);
            let conductance = if rise > 0.0 { balance.joule.value / rise } else { 0.0 };
            // What lies there with it sheds through the same table.
            let shared = match self.lay.others.loaded {
                0 => String::new(),
                _ => format!(", its share of what all {} conductors shed together", self.lay.loaded()),
            };
            return Step {
                title,
                formula: "I² · r = G · (t − t_ambient); G = I_table² · r_class2(70 °C) / 40 K from the table",
                numbers: format!(
                    "{joule} W/m at {} A = {} W/(m·K) · ({hot} − {ambient}) K{}{shared}",
                    n(each_a),
                    n(conductance),
                    self.grouped()
                ),
                source,
            };
        };
        let gap = match balance.gap {
            Some([convection, radiation]) => format!(
                "{} W/m through the air inside by convection and {} W/m by radiation; ",
                n(convection.value),
                n(radiation.value)
            ),
            None => String::new(),
        };
        let conduit = match balance.conduit {
            Some([bore, outside]) => {
                format!("conduit {} °C inside, {} °C outside, ", n(in_celsius(bore)), n(in_celsius(outside)))
            }
            None => String::new(),
        };
        let shed = if matches!(balance.model, Model::HeatBalance | Model::Alone) {
            format!(
                "{} W/m by convection + {} W/m by radiation",
                n(balance.convection.value),
                n(balance.radiation.value)
            )
        } else {
            format!("{} W/m by the formula", n(balance.undivided.value))
        };
        Step {
            title,
            formula: "I² · r (+ neighbours) = convection + radiation; t = t_surface + I² · r · T1",
            numbers: format!(
                "{joule} W/m{of_others} = {shed} at {} A each, outside {} mm; {gap}{conduit}surface {} °C, conductor {hot} °C in \
                 {ambient} °C air",
                n(each_a),
                n(self.conductor.outer_diameter.get::<millimeter>()),
                n(in_celsius(surface)),
            ),
            source,
        }
    }
}
