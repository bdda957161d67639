//! Rules on converters: what they are asked for, what they draw, and how they are switched on.

use super::{Measure, n, plain};
use crate::converter::Binding;
use crate::data::{Confidence, tables::constants};
use crate::finding::{Finding, Signal};
use crate::installation::{Case, Converter, ConverterKind, Installation};
use crate::network::{Part, load_power, lock_out_current};
use crate::quantity::{
    ElectricCurrent, ElectricalResistance, JouleIntegral, ThermodynamicTemperature, celsius, in_celsius,
};
use crate::study::judge::faults::coldest;
use crate::study::judge::{CaseResult, Judgement};

pub(super) fn findings(judgement: &Judgement) -> Vec<Finding> {
    let mut found = overloads(judgement);
    found.extend(lock_out_currents(judgement));
    found.extend(held_down(judgement));
    found.extend(pre_charge(judgement));
    found
}

/// What a converter draws at its lock-out voltage against the conductor that feeds it.
fn lock_out_currents(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, converter) in installation.converters.iter().enumerate() {
        let (Some(current), Some(input)) = (lock_out_current(installation, index), converter.input) else { continue };
        let feeding = installation.runs.iter().zip(&judgement.models).filter(|(run, _)| run.to == input[0]);
        let Some(bears) =
            feeding.filter_map(|(_, model)| model.ampacity).map(|ampacity| ampacity.value).reduce(f64::min)
        else {
            continue;
        };
        let lock_out = converter.lock_out.map_or(0.0, |voltage| voltage.value);
        let measure = Measure {
            rule: "converter-input-current",
            subject: &converter.name,
            measured: current.value,
            limit: bears,
            unit: "A",
            // The margin itself is told by the run's ampacity; here only failure.
            margin: if current.value <= bears { f64::INFINITY } else { bears / current.value },
            failing: Signal::Danger,
            citation: "input power over lock-out voltage; IEC 60364-4-43, 433.1",
            confidence: Confidence::Published,
            case: None,
        };
        found.extend(measure.finding(|_| {
            format!(
                "draws {} A just above its lock-out at {} V, its conductor bears {} A",
                n(current.value),
                n(lock_out),
                n(bears)
            )
        }));
    }
    found
}

/// Chargers and buck converters that their input limit or the heat keeps below what is set or asked for.
fn held_down(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, converter) in installation.converters.iter().enumerate() {
        let lasting =
            judgement.cases.iter().filter(|case| installation.cases.get(case.case).is_some_and(Case::is_usual));
        let held = lasting
            .filter_map(|case| Some((case.case, judgement.operation(case, index)?)))
            .filter(|(_, done)| matches!(done.binding, Binding::InputCurrent | Binding::Ambient));
        let Some((case, least)) = held.min_by(|one, other| one.1.output.value.total_cmp(&other.1.output.value)) else {
            continue;
        };
        let because = match least.binding {
            Binding::InputCurrent => format!("its input limit of {} A", n(least.input_current.value)),
            _ => format!("air of {} °C", n(in_celsius(air_at(installation, converter)))),
        };
        let set = converter.output_current.map_or_else(String::new, |set| format!(" of {} A set", n(set.value)));
        let message = format!("{because} holds it down to {} A{set}", n(least.output_current.value));
        let citation = "the converter's limits; the tightest decides";
        let mut finding = plain("converter-limited", &converter.name, Signal::Notice, message, citation);
        finding.case = installation.cases.get(case).map(|of| of.name.clone());
        found.push(finding);
    }
    found
}

/// Converters that are asked for more than they can give.
fn overloads(judgement: &Judgement) -> Vec<Finding> {
    let installation = &judgement.installation;
    let mut found = Vec::new();
    for (index, converter) in installation.converters.iter().enumerate() {
        let (limit, unit) = match converter.kind {
            ConverterKind::Buck => (converter.output_current.map(|current| current.value), "A"),
            ConverterKind::Inverter => (converter.output_power.map(|power| power.value), "W"),
            _ => (None, ""),
        };
        let Some(limit) = limit else { continue };
        let warm = converter.derating.map_or(1.0, |derating| derating.share(air_at(installation, converter)).value);
        let limit = limit * warm;
        let asked = |case: &CaseResult, of: &Case| match converter.kind {
            ConverterKind::Inverter => load_power(installation, of, index).value,
            _ => case.sources.iter().filter(|(part, _)| *part == Part::Output(index)).map(|(_, one)| one.value).sum(),
        };
        let settled = judgement.cases.iter().filter(|case| case.point.is_some());
        let cases = settled.filter_map(|case| {
            let of = installation.cases.get(case.case).filter(|of| of.lasts())?;
            Some((asked(case, of), of.name.clone()))
        });
        let Some((asked, case)) = cases.max_by(|one, other| one.0.total_cmp(&other.0)) else { continue };
        let measure = Measure {
            rule: "converter-output",
            subject: &converter.name,
            measured: asked,
            limit,
            unit,
            margin: if asked <= limit * (1.0 + 1e-9) { f64::INFINITY } else { limit / asked },
            failing: Signal::Warning,
            citation: "the converter's rated output",
            confidence: Confidence::Published,
            case: Some(case),
        };
        found.extend(measure.finding(|_| {
            let hot = n(in_celsius(air_at(installation, converter)));
            let because = if warm < 1.0 { format!(" in air of {hot} °C") } else { String::new() };
            format!("asked for {} {unit}, it gives {} {unit}{because}", n(asked), n(limit))
        }));
    }
    found
}

/// The hottest air around a converter: of its zone, or 40 °C when that is not said.
pub(in crate::study::judge) fn air_at(installation: &Installation, converter: &Converter) -> ThermodynamicTemperature {
    let node = converter.input.or(converter.output).and_then(|nodes| installation.nodes.get(nodes[0].0));
    let zone = node.and_then(|node| node.zone).and_then(|zone| installation.zones.get(zone));
    zone.map_or_else(|| celsius(constants::AMBIENT_C), |zone| zone.hottest)
}

/// Inverters switched onto empty input capacitors: the peak is the voltage over all resistance up to them, and the I²t
/// that passes every fuse is C·V²/(2R). With the least resistance: cold conductors, and nothing lost in joints.
fn pre_charge(judgement: &Judgement) -> Vec<Finding> {
    let plan = &judgement.installation;
    let mut found = Vec::new();
    let bare = |one: &&Converter| one.kind == ConverterKind::Inverter && !one.pre_charge;
    for converter in plan.converters.iter().filter(bare) {
        let Some(input) = converter.input else { continue };
        let near = plan.batteries.iter().find(|battery| judgement.ways.reaches(battery.nodes[0], input[0]));
        let Some(battery) = near else { continue };
        let out = judgement.ways.between(battery.nodes[0], input[0]);
        let back = judgement.ways.between(battery.nodes[1], input[1]);
        let cold = |run: &usize| judgement.models.get(*run).map(|model| model.cold(coldest(plan, *run)));
        let cables =
            out.iter().chain(&back).filter_map(cold).fold(ElectricalResistance::default(), |sum, one| sum + one);
        let resistance = battery.ohmic + cables;
        let peak = battery.charge_voltage / resistance;
        let passed = converter
            .input_capacitance
            .map(|capacitance| capacitance * battery.charge_voltage * battery.charge_voltage / resistance / 2.0);
        let subject = (converter.name.as_str(), peak);
        match passed {
            Some(passed) => found.extend(capacitors(judgement, subject, passed, &out)),
            None => found.push(unknown_capacitors(plan, subject)),
        }
    }
    found
}

const CHARGE_FIRST: &str = "charge them through a resistor first and state pre_charge = true";

/// Whether contacts of a system of this voltage weld for certain.
fn is_high(plan: &Installation) -> bool {
    plan.system_voltage.value > 36.0
}

fn unknown_capacitors(plan: &Installation, (name, peak): (&str, ElectricCurrent)) -> Finding {
    let message = format!(
        "switched on, its empty input capacitors draw up to {} A for a moment: contacts weld and fuses age; state \
         input_capacitance to have the fuses judged, or {CHARGE_FIRST}",
        n(peak.value)
    );
    let signal = if is_high(plan) { Signal::Warning } else { Signal::Caution };
    plain("pre-charge", name, signal, message, "voltage over resistance; common practice, no source")
}

/// The fuse on the way that is nearest to melting when the capacitors charge, over the years.
fn capacitors(
    judgement: &Judgement,
    (name, peak): (&str, ElectricCurrent),
    passed: JouleIntegral,
    out: &[usize],
) -> Option<Finding> {
    let plan = &judgement.installation;
    let links = out.iter().filter_map(|run| Some((*run, plan.device(*run)?)));
    let links: Vec<_> = links.filter(|(_, device)| device.reset().is_none()).collect();
    let run_name = |run: usize| plan.runs.get(run).map_or("", |run| run.name.as_str());
    let unknown = links.iter().find(|(_, device)| device.melting().is_none());
    let borne =
        links.iter().filter_map(|(run, device)| Some((*run, device, device.melting()? * constants::PULSE_SHARE)));
    let least = borne.min_by(|one, other| one.2.value.total_cmp(&other.2.value));
    let citation = "C·V²/(2R) against the share of its melting I²t that a link bears 10 000 times (from memory)";
    if let Some((run, device, bears)) = least.filter(|(_, _, bears)| passed > *bears) {
        let measure = Measure {
            rule: "pre-charge",
            subject: name,
            measured: passed.value,
            limit: bears.value,
            unit: "A²s",
            margin: (bears / passed).value,
            failing: Signal::Warning,
            citation,
            confidence: Confidence::Memory,
            case: None,
        };
        return measure.finding(|_| {
            format!(
                "charging its capacitors, up to {} A, passes {} A²s through {} of {}, which bears {} A²s again and again: {CHARGE_FIRST}",
                n(peak.value),
                n(passed.value),
                device.called(),
                run_name(run),
                n(bears.value)
            )
        });
    }
    if let Some((run, device)) = unknown {
        let message = format!(
            "cannot be judged: what melts {} of {} is not at hand; charging its capacitors, up to {} A, passes {} A²s: \
             give its sheet in [fuses] with melting, or {CHARGE_FIRST}",
            device.called(),
            run_name(*run),
            n(peak.value),
            n(passed.value)
        );
        return Some(plain("pre-charge", name, Signal::Caution, message, citation));
    }
    let message = format!(
        "switched on, its capacitors draw up to {} A for a moment: contacts weld; {CHARGE_FIRST}",
        n(peak.value)
    );
    is_high(plan).then(|| {
        plain("pre-charge", name, Signal::Caution, message, "voltage over resistance; common practice, no source")
    })
}
