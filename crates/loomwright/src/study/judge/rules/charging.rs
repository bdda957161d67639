//! Rules on how batteries are charged: float, equalisation, absorption, compensation, current, frost.

use super::{Measure, n, plain};
use crate::data::{
    Confidence, Source,
    tables::{constants, sources},
};
use crate::finding::{Finding, Signal};
use crate::installation::{Battery, Chemistry, Converter, Installation};
use crate::quantity::{ElectricPotential, in_celsius, significant};
use crate::source::ChargeWindow;
use crate::study::judge::Judgement;
use crate::study::judge::charge::{
    Charged, Inflow, charged_by, inflows, is_charger, reached, suffers_in_frost, usual_current, zone_of,
};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let plan = &judgement.installation;
    let mut found = Vec::new();
    for charger in plan.converters.iter().filter(|one| is_charger(one)) {
        let Some(output) = charger.output else { continue };
        for charged in reached(plan, &judgement.ways, output) {
            let Some(window) = charged.window else { continue };
            let of = Of { charger, charged: &charged, window };
            found.extend(of.highest());
            found.extend(of.absorption());
            found.extend(of.float());
            found.extend(of.equalisation());
            found.extend(of.compensation(judgement));
        }
    }
    let charged_by = charged_by(plan, &judgement.ways);
    for ((battery, inflow), by) in plan.batteries.iter().zip(inflows(plan, &judgement.ways)).zip(charged_by) {
        found.extend(current(battery, inflow));
        found.extend(by.and_then(|name| frost(plan, battery, name)));
    }
    found
}

/// Volts for people: settings are read to 0.01 V.
fn volts(voltage: ElectricPotential) -> String {
    significant(voltage.value, 4)
}

/// A charger, what it charges, and the window of that.
struct Of<'a> {
    charger: &'a Converter,
    charged: &'a Charged<'a>,
    window: ChargeWindow,
}

impl<'a> Of<'a> {
    fn chemistry(&self) -> Chemistry {
        self.charged.first.chemistry
    }

    /// A voltage that is above what it may be, or below what it should be.
    fn measure(&self, rule: &'static str, signal: Signal, [measured, limit]: [ElectricPotential; 2]) -> Measure<'a> {
        let (over, under) = (measured.value / limit.value, limit.value / measured.value);
        Measure {
            rule,
            subject: &self.charger.name,
            measured: measured.value,
            limit: limit.value,
            unit: "V",
            margin: over.min(under),
            failing: signal,
            citation: "",
            confidence: self.window.source.confidence,
            case: None,
        }
    }

    /// The finding, as the window's source has it.
    fn told(&self, measure: Measure<'_>, message: String) -> Option<Finding> {
        let citation = self.window.source.to_string();
        Measure { citation: &citation, ..measure }.finding(|_| message)
    }

    /// Above the battery's highest charge voltage.
    fn highest(&self) -> Option<Finding> {
        let (measured, limit) = (self.charger.output_voltage, self.charged.charge_voltage);
        if measured <= limit * (1.0 + 1e-9) {
            return None;
        }
        let measure = Measure {
            citation: "the battery's highest charge voltage",
            confidence: Confidence::Published,
            ..self.measure("charge-voltage-suits-battery", Signal::Danger, [measured, limit])
        };
        measure.finding(|_| {
            format!(
                "charges to {} V, {} ({}) allows {} V",
                n(measured.value),
                self.charged.called(),
                self.chemistry(),
                n(limit.value)
            )
        })
    }

    /// An absorption that never fills the battery.
    fn absorption(&self) -> Option<Finding> {
        let measured = self.charger.output_voltage;
        let [low, _] = self.charged.absorption()?;
        let slack = ElectricPotential::new::<uom::si::electric_potential::volt>(constants::ABSORPTION_SLACK_V);
        if measured >= low - slack * self.charged.blocks - low * 1e-9 {
            return None;
        }
        let message = format!(
            "charges to {} V, {} ({}) wants {} V or more: it never gets full",
            volts(measured),
            self.charged.called(),
            self.chemistry(),
            volts(low)
        );
        self.told(self.measure("absorption-fills-battery", Signal::Caution, [measured, low]), message)
    }

    fn float(&self) -> Option<Finding> {
        let stated = self.charger.float_voltage?;
        let [low, high] = self.window.float;
        let (signal, limit, what) = if stated > high * (1.0 + 1e-9) {
            let signal = if self.chemistry() == Chemistry::Flooded { Signal::Caution } else { Signal::Warning };
            (signal, high, "or less: held above it for days it ages early")
        } else if stated < low * (1.0 - 1e-9) {
            (Signal::Caution, low, "or more: below it it does not stay full")
        } else {
            return None;
        };
        let message = format!(
            "floats at {} V, {} ({}) wants {} V {what}",
            volts(stated),
            self.charged.called(),
            self.chemistry(),
            volts(limit)
        );
        self.told(self.measure("float-voltage-suits-battery", signal, [stated, limit]), message)
    }

    fn equalisation(&self) -> Option<Finding> {
        let stated = self.charger.equalise_voltage?;
        let rule = "equalisation-suits-battery";
        if let Some(highest) = self.window.equalise {
            if stated <= highest * (1.0 + 1e-9) {
                return None;
            }
            let message = format!(
                "equalises at {} V, {} ({}) takes {} V for 2 h at most",
                volts(stated),
                self.charged.called(),
                self.chemistry(),
                volts(highest)
            );
            return self.told(self.measure(rule, Signal::Warning, [stated, highest]), message);
        }
        let highest = self.charged.charge_voltage;
        let lead = self.chemistry().is_lead();
        let (signal, harm) = if lead {
            (Signal::Warning, "a sealed battery loses its water and does not get it back")
        } else if stated > highest * (1.0 + 1e-9) {
            (Signal::Danger, "its cells are overcharged and may burn")
        } else {
            (Signal::Warning, "its cells are held full for nothing")
        };
        let message = format!(
            "equalises at {} V, {} ({}) must never be equalised: {harm}; switch it off",
            volts(stated),
            self.charged.called(),
            self.chemistry()
        );
        let mut finding = plain(rule, &self.charger.name, signal, message, &self.window.source.to_string());
        finding.confidence = self.window.source.confidence;
        finding.unit = "V";
        (finding.measured, finding.limit) = (Some(stated.value), Some(highest.value));
        Some(finding)
    }

    /// What is stated of its change with temperature.
    fn compensation(&self, judgement: &Judgement) -> Option<Finding> {
        let stated = self.charger.voltage_per_kelvin?;
        let wanted = self.window.per_kelvin;
        if self.chemistry().is_lead() {
            if (stated - wanted).abs() <= wanted.abs() * (constants::COMPENSATION_SLACK + 1e-9) {
                return None;
            }
            let message = format!(
                "changes its voltage by {} mV/K, {} ({}) wants {} mV/K: it is overcharged in heat or stays empty in the \
                 cold",
                n(1e3 * stated.value),
                self.charged.called(),
                self.chemistry(),
                n(1e3 * wanted.value)
            );
            return Some(self.per_kelvin(Signal::Caution, message));
        }
        if stated.value == 0.0 {
            return None;
        }
        let absorption = self.charger.output_voltage;
        let away = "lithium wants no compensation: switch it off";
        let zone = zone_of(&judgement.installation, self.charged.first);
        let lifted = zone.and_then(|zone| {
            let ends = [zone.coldest, zone.hottest].map(in_celsius);
            let reached = ends.map(|degrees| (absorption + stated * (degrees - 25.0), degrees));
            reached.into_iter().max_by(|one, other| one.0.value.total_cmp(&other.0.value))
        });
        match lifted.filter(|(voltage, _)| *voltage > self.charged.charge_voltage) {
            Some((voltage, degrees)) => {
                let limit = self.charged.charge_voltage;
                let message = format!(
                    "its compensation lifts {} V to {} V in air of {} °C, {} ({}) allows {} V: {away}",
                    volts(absorption),
                    volts(voltage),
                    n(degrees),
                    self.charged.called(),
                    self.chemistry(),
                    volts(limit)
                );
                self.told(self.measure("temperature-compensation", Signal::Warning, [voltage, limit]), message)
            }
            None => {
                let message = format!(
                    "changes its voltage by {} mV/K, {} ({}) is charged with the same in heat and cold: {away}",
                    n(1e3 * stated.value),
                    self.charged.called(),
                    self.chemistry()
                );
                Some(self.per_kelvin(Signal::Caution, message))
            }
        }
    }

    /// A finding with millivolts per kelvin.
    fn per_kelvin(&self, signal: Signal, message: String) -> Finding {
        let stated = self.charger.voltage_per_kelvin.map_or(0.0, |stated| 1e3 * stated.value);
        let citation = self.window.source.to_string();
        let mut finding = plain("temperature-compensation", &self.charger.name, signal, message, &citation);
        finding.confidence = self.window.source.confidence;
        finding.unit = "mV/K";
        (finding.measured, finding.limit) = (Some(stated), Some(1e3 * self.window.per_kelvin.value));
        finding
    }
}

/// What all chargers put into a battery at once against its limit, else against what its chemistry usually takes.
fn current(battery: &Battery, (sum, names): Inflow<'_>) -> Option<Finding> {
    let takes: &Source =
        if battery.chemistry.is_lead() { &sources::SEALED_BATTERY_SHEET } else { &sources::LITHIUM_CELL_SHEET };
    let usual = usual_current(battery);
    let (limit, failing, citation, confidence) = match (battery.charge_limit, battery.current_limit) {
        (Some(stated), _) => (stated, Signal::Warning, "the battery's own limit".to_owned(), Confidence::Published),
        // What flows is held against that limit case by case.
        (None, Some(_)) => return None,
        (None, None) => (usual, Signal::Caution, takes.to_string(), takes.confidence),
    };
    let over = sum > limit * (1.0 + 1e-9);
    let measure = Measure {
        rule: "charge-current-suits-battery",
        subject: &battery.name,
        measured: sum.value,
        limit: limit.value,
        unit: "A",
        margin: if over { (limit / sum).value } else { f64::INFINITY },
        failing,
        citation: &citation,
        confidence,
        case: None,
    };
    measure.finding(|_| {
        let by = names.join(" and ");
        if battery.charge_limit.is_some() {
            format!("{by} charge it with up to {} A, its limit is {} A", n(sum.value), n(limit.value))
        } else {
            format!(
                "{by} charge it with up to {} A, {} Ah of {} usually take {} A: read its sheet and state \
                 charge_current_limit",
                n(sum.value),
                n(battery.capacity.value / 3600.0),
                battery.chemistry,
                n(limit.value)
            )
        }
    })
}

/// Lithium that is charged in frost: metal plates out inside, for good, and may join the electrodes.
fn frost(plan: &Installation, battery: &Battery, name: &str) -> Option<Finding> {
    let zone = zone_of(plan, battery).filter(|_| suffers_in_frost(battery.chemistry))?;
    let coldest = in_celsius(zone.coldest);
    if coldest >= constants::FROST_C || battery.stops_in_frost == Some(true) {
        return None;
    }
    let place = format!("{} is as cold as {} °C", zone.name, n(coldest));
    let (signal, message) = match battery.stops_in_frost {
        Some(_) => (
            Signal::Warning,
            format!(
                "{place} and {name} charges it there: below 0 °C lithium plates out in its cells, which ruins them and may \
                 short them inside; stop its charge in frost, or warm it"
            ),
        ),
        None => (
            Signal::Caution,
            format!(
                "{place} and nothing is said to stop its charge by {name} below 0 °C, which ruins its cells: read its \
                 manual and state stops_in_frost"
            ),
        ),
    };
    let source = &sources::LITHIUM_CELL_SHEET;
    let mut finding = plain("charging-in-frost", &battery.name, signal, message, &source.to_string());
    finding.confidence = source.confidence;
    finding.unit = "°C";
    (finding.measured, finding.limit) = (Some(coldest), Some(constants::FROST_C));
    Some(finding)
}
