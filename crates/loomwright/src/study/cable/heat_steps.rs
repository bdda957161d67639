//! The working of heat: the balance with every term, the duty cycle, the adiabatic withstand.

use super::working::n;
use super::{Candidate, OperatingPoint, Sizing, Step};
use crate::heat::{Balance, Duty, Model, OverloadLimits, Withstand, group_factor, withstand};
use crate::quantity::{JouleIntegral, ToText, in_celsius, in_mm2};
use uom::si::electric_current::ampere;
use uom::si::length::millimeter;

impl Sizing {
    /// What the conductors that lie together change, where a table's grouping factor counts it.
    pub(super) fn grouped(&self, parallel: u8) -> String {
        let lay = self.circuit.lay(parallel);
        let free = lay.installation == crate::heat::Installation::FreeAir;
        let circuits = if free { lay.loaded() } else { lay.loaded().div_ceil(2) };
        let enclosed = lay.installation == crate::heat::Installation::Enclosed;
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
    pub(super) fn opinions(&self, candidate: &Candidate) -> String {
        let governing = candidate.governing_model();
        let others = candidate.models.iter().flatten().filter(|(model, _)| *model != governing);
        others
            .map(|(model, current)| {
                format!("; {} would give {} A", model.title(self.circuit.installation), n(current.get::<ampere>()))
            })
            .collect()
    }

    /// The heat balance of one metre, term by term.
    pub(super) fn balance_step(&self, candidate: &Candidate, each_a: f64, balance: &Balance) -> Step {
        let ambient = n(in_celsius(self.circuit.ambient));
        let (joule, hot) = (n(balance.joule.value), n(in_celsius(balance.conductor)));
        let neighbours = balance.neighbours.value;
        let of_others =
            if neighbours > 0.0 { format!(" and {} W/m of its neighbours", n(neighbours)) } else { String::new() };
        let title = "Heat balance of one metre of conductor";
        let source = match balance.model {
            Model::HeatBalance => {
                "Churchill and Chu 1975; Stefan–Boltzmann, emissivity 0.9; IEC 60287-2-1 for T1".to_owned()
            }
            model => model.source(self.circuit.installation).to_string(),
        };
        let Some(surface) = balance.surface else {
            let rise = in_celsius(balance.conductor) - in_celsius(self.circuit.ambient);
            let conductance = if rise > 0.0 { balance.joule.value / rise } else { 0.0 };
            return Step {
                title,
                formula: "I² · r = G · (t − t_ambient); G = I_table² · r_class2(70 °C) / 40 K from the table",
                numbers: format!(
                    "{joule} W/m at {} A = {} W/(m·K) · ({hot} − {ambient}) K{}",
                    n(each_a),
                    n(conductance),
                    self.grouped(candidate.parallel)
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
        let shed = if balance.model == Model::HeatBalance {
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
                n(candidate.conductor.outer_diameter.get::<millimeter>()),
                n(in_celsius(surface)),
            ),
            source,
        }
    }

    /// The duty cycle.
    pub(super) fn duty_step(&self, candidate: &Candidate, point: &OperatingPoint, duty: &Duty) -> Step {
        Step {
            title: "Duty cycle, repeated until it settles",
            formula: "C · dT/dt = I² · r(T) − heat into 12 shells of insulation and on to the air; the highest temperature of a cycle",
            numbers: format!(
                "{}: {} A reaches {} °C, {} A would reach {} °C; the drop is computed at {} °C",
                duty.to_text(),
                n(self.circuit.current.get::<ampere>()),
                n(in_celsius(point.temperature)),
                n(candidate.duty_ampacity.map_or(0.0, |current| current.get::<ampere>())),
                n(in_celsius(candidate.conductor_limit)),
                n(in_celsius(point.resistance_at)),
            ),
            source: "radial heat conduction (Fourier); IEC 60853-2 for the heat capacity of insulation".into(),
        }
    }

    /// The adiabatic withstand from the conductor's limit to its short-time temperature.
    pub(super) fn withstand(&self, candidate: &Candidate) -> Option<Withstand> {
        let limits = OverloadLimits::of(self.circuit.insulation, candidate.conductor_limit);
        withstand(&candidate.conductor, candidate.conductor_limit, limits.moments).ok()
    }

    /// The same for people: k from first constants and rounded, both shown.
    pub(super) fn withstand_step(&self, candidate: &Candidate) -> Option<Step> {
        let found = self.withstand(candidate)?;
        let area = in_mm2(candidate.conductor.area);
        let k = |integral: JouleIntegral| n(integral.value.sqrt() / area);
        let limits = OverloadLimits::of(self.circuit.insulation, candidate.conductor_limit);
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
                n(in_celsius(candidate.conductor_limit)),
                n(in_celsius(limits.moments)),
                k(found.from_constants),
                n(found.from_constants.value * 1e-3),
                n(found.own_resistance.value * 1e-3),
            ),
            source: format!("IEC 60949{source}"),
        })
    }
}
