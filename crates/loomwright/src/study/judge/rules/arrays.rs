//! Rules on solar arrays: too much voltage for the controller, too little to charge, and what strings drive into each other.

use super::{Measure, n, plain};
use crate::data::{
    Confidence,
    tables::{constants, sources},
};
use crate::finding::{Finding, Signal};
use crate::installation::{Array, Converter, Installation};
use crate::quantity::{ElectricCurrent, ElectricPotential, celsius, in_celsius};

pub(super) fn findings(plan: &Installation) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, converter) in plan.converters.iter().enumerate().filter(|(_, converter)| converter.array.is_some()) {
        let of = Of { plan, index, converter, arrays: arrays_of(plan, index) };
        found.extend(of.open_circuit());
        found.extend(of.start_up());
        found.extend(of.wasted());
        found.extend(of.touch());
        found.extend(of.strings());
    }
    found
}

fn arrays_of(plan: &Installation, controller: usize) -> Vec<&Array> {
    plan.arrays.iter().filter(|array| array.controller == controller).collect()
}

const ASSUMED: &str = "1.4 times operating voltage, common practice, no source";
const PLATE: &str = "the modules' plate; open-circuit voltage in the coldest air";

/// A solar controller with its arrays.
struct Of<'a> {
    plan: &'a Installation,
    index: usize,
    converter: &'a Converter,
    arrays: Vec<&'a Array>,
}

impl Of<'_> {
    /// Its highest voltage, with what is cited for it.
    fn open(&self) -> (ElectricPotential, &'static str, Confidence) {
        let open = self.plan.array_open_voltage(self.index).unwrap_or_default();
        // Where a plate does not say how its voltage rises in the cold, what is usual counts.
        let usual = |array: &&Array| array.strings.module.voltage_per_kelvin.value == constants::VOLTAGE_PER_K;
        if self.arrays.is_empty() {
            (open, ASSUMED, Confidence::CommonPractice)
        } else if self.arrays.iter().any(usual) {
            (open, PLATE, Confidence::CommonPractice)
        } else {
            (open, PLATE, Confidence::Published)
        }
    }

    /// Cold and unloaded against what the controller's input bears.
    fn open_circuit(&self) -> Option<Finding> {
        let (open, citation, confidence) = self.open();
        let coldest = n(in_celsius(self.plan.array_coldest(self.index)));
        let Some(limit) = self.converter.array_limit else {
            if self.arrays.is_empty() {
                return None;
            }
            let message = format!(
                "cannot be judged: its array reaches {} V unloaded in air of {coldest} °C, what its input bears is not known; \
                 state array_limit",
                n(open.value)
            );
            let mut finding =
                plain("array-open-circuit-voltage", &self.converter.name, Signal::Caution, message, citation);
            finding.confidence = confidence;
            (finding.measured, finding.unit) = (Some(open.value), "V");
            return Some(finding);
        };
        let measure = Measure {
            rule: "array-open-circuit-voltage",
            subject: &self.converter.name,
            measured: open.value,
            limit: limit.value,
            unit: "V",
            margin: (limit / open).value,
            failing: Signal::Danger,
            citation,
            confidence,
            case: None,
        };
        measure.finding(|fails| {
            let harm = if fails { ": it is destroyed and may burn; fewer modules in series" } else { "" };
            format!(
                "its array reaches {} V unloaded in air of {coldest} °C, its input bears {} V{harm}",
                n(open.value),
                n(limit.value)
            )
        })
    }

    /// Hot and loaded against its battery.
    fn start_up(&self) -> Option<Finding> {
        let output = self.converter.output_voltage;
        if self.arrays.is_empty() {
            let operating = self.converter.array.map(|(_, operating)| operating).filter(|one| *one < output)?;
            let message =
                format!("its array works at {} V and cannot charge to {} V", n(operating.value), n(output.value));
            let citation = "common practice, no source";
            return Some(plain("array-voltage", &self.converter.name, Signal::Warning, message, citation));
        }
        let weakest = self.plan.array_when_hot(self.index);
        let (operating, cell) = weakest?;
        let above = ElectricPotential::new::<uom::si::electric_potential::volt>(constants::ABOVE_BATTERY_V);
        let limit = output + above;
        let measure = Measure {
            rule: "array-start-up-voltage",
            subject: &self.converter.name,
            measured: operating.value,
            limit: limit.value,
            unit: "V",
            margin: (operating / limit).value,
            failing: Signal::Warning,
            citation: "1 V above its charge voltage with the hottest cells, common practice, no source",
            confidence: Confidence::CommonPractice,
            case: None,
        };
        measure.finding(|fails| {
            let what = if fails { ": it charges least when the sun is strongest; more modules in series" } else { "" };
            format!(
                "its array works at {} V with cells of {} °C, to charge to {} V it needs {} V{what}",
                n(operating.value),
                n(in_celsius(cell)),
                n(output.value),
                n(limit.value)
            )
        })
    }

    /// A controller that does not track pulls its array down to the battery's voltage.
    fn wasted(&self) -> Option<Finding> {
        if self.converter.tracks {
            return None;
        }
        let stated = self.arrays.iter().map(|array| array.strings.operating_voltage(celsius(25.0)));
        let operating =
            stated.reduce(ElectricPotential::max).or(self.converter.array.map(|(_, operating)| operating))?;
        let limit = self.converter.output_voltage * constants::DIRECT_ARRAY;
        if operating <= limit * (1.0 + 1e-9) {
            return None;
        }
        let measure = Measure {
            rule: "array-suits-controller",
            subject: &self.converter.name,
            measured: operating.value,
            limit: limit.value,
            unit: "V",
            margin: (limit / operating).value,
            failing: Signal::Caution,
            citation: "1.6 times its charge voltage, common practice, no source",
            confidence: Confidence::CommonPractice,
            case: None,
        };
        measure.finding(|_| {
            format!(
                "its array works at {} V and it does not track: all above its battery's {} V is lost; take one that tracks, \
                 or fewer modules in series",
                n(operating.value),
                n(self.converter.output_voltage.value)
            )
        })
    }

    /// Poles that are dangerous to touch.
    fn touch(&self) -> Option<Finding> {
        let (open, citation, _) = self.open();
        if open.value <= constants::ARRAY_SHOCK_V {
            return None;
        }
        let about = if self.arrays.is_empty() { "about " } else { "" };
        let message = format!(
            "its array reaches {about}{} V when cold and unloaded: above 60 V direct current its poles are dangerous to touch; work for a licensed person",
            n(open.value)
        );
        Some(plain("array-voltage", &self.converter.name, Signal::Caution, message, citation))
    }

    /// Fuses in strings: all the others feed one that is faulty.
    fn strings(&self) -> Vec<Finding> {
        let all: u32 = self.arrays.iter().map(|array| u32::from(array.strings.parallel)).sum();
        let none = ElectricCurrent::default();
        let together = self.arrays.iter().fold(none, |sum, array| sum + array.strings.short_circuit());
        let judged = self.arrays.iter().flat_map(|array| match array.string_fuse {
            Some(fuse) => fused(array, fuse),
            None if f64::from(all) >= constants::STRINGS_TO_FUSE => bare(array, together, all).into_iter().collect(),
            None => Vec::new(),
        });
        judged.collect()
    }
}

/// A number of amperes against another, by the rule of string fuses.
fn amperes<'a>(array: &'a Array, [measured, limit]: [ElectricCurrent; 2], margin: f64) -> Measure<'a> {
    Measure {
        rule: "string-fuses",
        subject: &array.name,
        measured: measured.value,
        limit: limit.value,
        unit: "A",
        margin,
        failing: Signal::Warning,
        citation: "",
        confidence: Confidence::Memory,
        case: None,
    }
}

fn told(measure: Measure<'_>, message: String) -> Option<Finding> {
    let citation = sources::STRING_FUSE_IEC_MEMORY.to_string();
    Measure { citation: &citation, ..measure }.finding(|_| message)
}

/// A string without a fuse, beside others.
fn bare(array: &Array, together: ElectricCurrent, all: u32) -> Option<Finding> {
    let strings = &array.strings;
    let reverse = together - strings.module.short_circuit;
    let bears = strings.module.series_fuse.unwrap_or_else(|| strings.least_fuse());
    if reverse <= bears * (1.0 + 1e-9) {
        return None;
    }
    let least = n(strings.least_fuse().value);
    let fuse = match strings.module.series_fuse {
        Some(most) => format!("{least} A to {} A", n(most.value)),
        None => format!("{least} A or more, as its plate permits"),
    };
    let known =
        if strings.module.series_fuse.is_some() { "" } else { " (1.4 times its short circuit; state largest_fuse)" };
    let message = format!(
        "{all} strings in parallel: the others drive {} A back into a faulty one, a module bears {} A{known}; put a fuse of \
         type gPV in each string, {fuse}",
        n(reverse.value),
        n(bears.value)
    );
    told(amperes(array, [reverse, bears], (bears / reverse).value), message)
}

/// The fuse of each string.
fn fused(array: &Array, fuse: ElectricCurrent) -> Vec<Finding> {
    let mut found = Vec::new();
    let least = array.strings.least_fuse();
    if fuse < least * (1.0 - 1e-9) {
        let message = format!(
            "its string fuses of {} A are below 1.4 times the short circuit of a string, {} A: they open in the sun; take \
             larger ones of type gPV",
            n(fuse.value),
            n(least.value)
        );
        found.extend(told(amperes(array, [fuse, least], (fuse / least).value), message));
    }
    match array.strings.module.series_fuse {
        Some(most) if fuse > most * (1.0 + 1e-9) => {
            let message = format!(
                "its string fuses of {} A are above the {} A that its modules permit: they do not protect them; take smaller \
                 ones of type gPV",
                n(fuse.value),
                n(most.value)
            );
            found.extend(told(amperes(array, [fuse, most], (most / fuse).value), message));
        }
        Some(_) => {}
        None => {
            let message = format!(
                "cannot be judged: the largest fuse that its modules permit is not known, its string fuses have {} A; state \
                 largest_fuse, and take type gPV",
                n(fuse.value)
            );
            let citation = sources::STRING_FUSE_IEC_MEMORY.to_string();
            let mut finding = plain("string-fuses", &array.name, Signal::Caution, message, &citation);
            finding.confidence = Confidence::Memory;
            (finding.measured, finding.unit) = (Some(fuse.value), "A");
            found.push(finding);
        }
    }
    found
}
