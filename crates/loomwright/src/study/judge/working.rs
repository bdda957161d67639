//! The calculation of a run as an engineer would write it.

use super::paths::{Protection, operating, ratings};
use super::rules::time;
use super::{CaseResult, Judgement, RunModel};
use crate::data::tables::constants;
use crate::installation::{Leg, Run};
use crate::practice::{TableCap, table_cap};
use crate::protection::OVERLOAD_FACTOR;
use crate::quantity::{ElectricCurrent, ElectricalResistance, ToText, in_celsius};
use crate::study::cable::{
    FUSE, Laid, RESISTANCE, Step, duty_step, fuse_numbers, n, resistance, resistance_source, table_step, withstand_step,
};
use uom::si::electric_current::ampere;

/// The case in which a run drops most.
pub(super) struct LargestDrop<'a> {
    case: &'a CaseResult,
    current: ElectricCurrent,
    /// V, with joints and fuse.
    pub(super) drop: f64,
}

fn milliohms(resistance: ElectricalResistance) -> String {
    n(1e3 * resistance.value)
}

impl Judgement {
    /// Where a run drops most of all cases that last; `None` where it never carries anything.
    pub(super) fn largest_drop(&self, run: usize) -> Option<LargestDrop<'_>> {
        let drops = self.lasting().filter_map(|case| {
            let current = case.run_currents.get(run)?.abs();
            let drop = case.run_losses.get(run)?.value / current.value;
            (current.value > 0.0).then_some(LargestDrop { case, current, drop })
        });
        drops.reduce(|most, next| if next.drop > most.drop { next } else { most })
    }

    /// The working of a run, by its index: every step with its formula, numbers and source. Empty where the plan has no
    /// such run.
    ///
    /// ```
    /// use loomwright::{study::judge::judge, text::read_plan};
    /// let plan = read_plan(include_str!("../../../examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
    /// let judgement = judge(&plan)?;
    /// assert!(judgement.working(0).iter().any(|step| step.title == "Cut length"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn working(&self, run: usize) -> Vec<Step> {
        self.steps(run).unwrap_or_default()
    }

    fn steps(&self, index: usize) -> Option<Vec<Step>> {
        let (run, model) = (self.installation.runs.get(index)?, self.models.get(index)?);
        let mut steps = vec![cut_step(run), self.current_step(index)?];
        steps.extend(self.drop_steps(index, run, model));
        steps.extend(self.heat_step(index, model));
        steps.extend(self.ampacity_steps(run, model));
        steps.extend(self.fuse_step(index, run, model));
        steps.extend(self.fault_steps(index));
        steps.extend(withstand_step(&model.conductor, run.insulation, model.limit));
        Some(steps)
    }

    fn current_step(&self, index: usize) -> Option<Step> {
        let design = self.design.get(index)?;
        let duty = design.duty.map_or_else(String::new, |duty| format!("; it flows for {}", duty.to_text()));
        let reason = if design.reason.is_empty() { "nothing flows in any case" } else { design.reason.as_str() };
        Some(Step {
            title: "Design current",
            formula: "Ib = the largest of all cases that last, and of what its devices may draw or give",
            numbers: format!("Ib = {} A: {reason}{duty}", n(design.current.value)),
            source: "the plan's cases and devices".into(),
        })
    }

    /// Resistance and drop in the case where it drops most.
    fn drop_steps(&self, index: usize, run: &Run, model: &RunModel) -> Vec<Step> {
        let most = self.largest_drop(index);
        let current = most.as_ref().map_or(ElectricCurrent::default(), |most| most.current);
        let zones = run.segments.iter().filter_map(|segment| self.installation.zones.get(segment.zone));
        let mut metal = ElectricalResistance::default();
        let stretches = zones.zip(model.stretches_at(current)).map(|(zone, (length, _, reached))| {
            let here = model.conductor.resistance_at(reached) * length;
            metal += here;
            let each = resistance(&model.conductor, reached);
            format!("{} m in {}: {each}, {} mΩ", n(length.value), zone.name, milliohms(here))
        });
        let stretches: Vec<String> = stretches.collect();
        let [joints, fixed] = model.joints();
        let fuse = fixed - joints;
        let mut steps = vec![
            Step {
                title: "Resistance of the conductor where it drops most, stretch by stretch",
                formula: RESISTANCE,
                numbers: format!(
                    "{}: {}; together {} mΩ",
                    model.conductor.label(),
                    stretches.join("; "),
                    milliohms(metal)
                ),
                source: resistance_source(&model.conductor),
            },
            Step {
                title: "Resistance with joints and fuse",
                formula: "R = conductor + joint at its start + joint at its end + fuse with holder",
                numbers: format!(
                    "{} + {} + {} + {} = {} mΩ",
                    milliohms(metal),
                    milliohms(model.joint(0)),
                    milliohms(model.joint(1)),
                    milliohms(fuse),
                    milliohms(metal + fixed)
                ),
                source:
                    "joints and fuse: common practice, no source; a typical drop or a maker's sheet where it is more"
                        .into(),
            },
        ];
        if let Some(most) = most {
            let case = self.installation.cases.get(most.case.case).map_or("", |case| case.name.as_str());
            steps.push(Step {
                title: "Largest drop",
                formula: "ΔU = I · R",
                numbers: format!(
                    "{case}: {} A · {} mΩ = {} V",
                    n(current.value),
                    milliohms(metal + fixed),
                    n(most.drop)
                ),
                source: "Ohm's law".into(),
            });
        }
        steps
    }

    /// Where the heat of its judged current goes in the stretch that governs; a run that rests is followed through its
    /// cycle instead.
    fn heat_step(&self, index: usize, model: &RunModel) -> Option<Step> {
        let design = self.design.get(index)?;
        let governing = model.governing().filter(|_| design.current.value > 0.0)?;
        if let Some(duty) = design.duty.filter(|_| model.rests(design)) {
            let dropping = self.largest_drop(index).and_then(|most| most.case.runs.get(index)?.hottest);
            let reached = model.duty_peak(&duty, design.current)?;
            let permitted = model.duty_ampacity(&duty)?;
            let temperatures = [reached, model.limit, dropping.unwrap_or(governing.ambient)];
            return Some(duty_step(&duty, [design.current, permitted], temperatures));
        }
        let balance = governing.path?.balance(design.current).ok()?;
        let laid = Laid { conductor: &model.conductor, lay: governing.lay, parallel: 1, ambient: governing.ambient };
        Some(laid.balance_step(design.current.get::<ampere>(), &balance))
    }

    /// What its governing stretch bears: by the models, and by the practice's table.
    fn ampacity_steps(&self, run: &Run, model: &RunModel) -> Vec<Step> {
        let Some((governing, ampacity)) = model.governing().zip(model.ampacity) else { return Vec::new() };
        let insulation = n(in_celsius(run.insulation));
        let within = if model.limit < run.insulation {
            let limit = n(in_celsius(model.limit));
            format!("lower of insulation {insulation} °C and terminals {limit} °C = {limit} °C")
        } else {
            format!("that of the insulation, {insulation} °C")
        };
        let models = governing.path.and_then(|path| Some(path.candidates(model.limit).ok()?.collect::<Vec<_>>()));
        let laid = Laid { conductor: &model.conductor, lay: governing.lay, parallel: 1, ambient: governing.ambient };
        let by_model = laid.ampacity_step(&within, model.limit, &models.unwrap_or_default());
        let practice = self.installation.practice;
        let by_table = match table_cap(practice, &model.conductor, governing.lay, run.insulation, governing.ambient) {
            TableCap::Capped(cap) => Some(table_step(&cap, ampacity)),
            TableCap::NoTable => None,
        };
        by_model.into_iter().chain(by_table).collect()
    }

    /// What protects it on overload.
    fn fuse_step(&self, index: usize, run: &Run, model: &RunModel) -> Option<Step> {
        let plan = &self.installation;
        let bears = model.ampacity?.value;
        let protection = self.protections.get(index)?;
        match protection {
            Protection::Fuses(feeding) if feeding.as_slice() == [index] => {
                let ib = self.design.get(index)?.current.value;
                let numbers = fuse_numbers(&plan.device(index)?, model.fuse_ambient, bears)?;
                let source = "IEC 60364-4-43, 433.1; family data in data/fuse_families.csv".into();
                Some(Step { title: "Fuse", formula: FUSE, numbers: format!("Ib = {} A; {numbers}", n(ib)), source })
            }
            Protection::Fuses(feeding) => {
                let operating = operating(plan, feeding).map_or_else(String::new, |operating| {
                    format!("; I2 = {} A against 1.45 Iz = {} A", n(operating.value), n(bears * OVERLOAD_FACTOR))
                });
                Some(Step {
                    title: "What protects it on overload",
                    formula: "In ≤ Iz; I2 ≤ 1.45 Iz",
                    numbers: format!(
                        "{}: In = {} A against Iz = {} A{operating}",
                        self.called(index, feeding),
                        n(ratings(plan, feeding).value),
                        n(bears)
                    ),
                    source: "IEC 60364-4-43, 433.1".into(),
                })
            }
            Protection::SelfLimiting if run.leg == Leg::Positive => {
                let reaching = self.ways.self_limiting(plan, run.from);
                let most: f64 = reaching.iter().map(|(current, _)| current.value).sum();
                let names: Vec<&str> = reaching.iter().map(|(_, name)| *name).collect();
                (most > 0.0).then(|| Step {
                    title: "What its sources can give",
                    formula: "1.25 · what they limit themselves to ≤ Iz",
                    numbers: format!(
                        "{}: {} · {} A = {} A against Iz = {} A",
                        names.join(" and "),
                        constants::SELF_LIMITING,
                        n(most),
                        n(constants::SELF_LIMITING * most),
                        n(bears)
                    ),
                    source: "common practice, no source".into(),
                })
            }
            Protection::SelfLimiting | Protection::None | Protection::WrongEnd => None,
        }
    }

    /// Faults through its own fuse, and overcurrents up to the highest against what it bears.
    fn fault_steps(&self, index: usize) -> Vec<Step> {
        let steps = [self.highest_step(index), self.lowest_step(index), self.time_step(index)];
        steps.into_iter().flatten().collect()
    }

    fn highest_step(&self, index: usize) -> Option<Step> {
        let plan = &self.installation;
        let (device, fault) = (plan.device(index)?, self.faults.get(index)?.as_ref()?);
        let highest = self.ways.highest_voltage(plan, plan.runs.get(index)?.from);
        let breaks = device.breaks(highest).map_or_else(
            || format!("what {} breaks at {} V is not at hand", device.called(), n(highest.value)),
            |(breaks, _)| format!("{} breaks {} A at {} V", device.called(), n(breaks.value), n(highest.value)),
        );
        let reserve = constants::FAULT_RESERVE;
        Some(Step {
            title: "Highest fault",
            formula: "what all sources drive together, cold, with nothing lost in joints, times a reserve ≤ what the fuse breaks",
            numbers: format!(
                "{} A · {reserve} = {} A; {breaks}",
                n(fault.highest.value / reserve),
                n(fault.highest.value)
            ),
            source: "IEC 60364-4-43, 434.5.1".into(),
        })
    }

    fn lowest_step(&self, index: usize) -> Option<Step> {
        let plan = &self.installation;
        let lowest = self.faults.get(index)?.as_ref()?.lowest.as_ref()?;
        let band = plan.device(index)?.band()?;
        let far = plan.runs.get(lowest.run)?.name.as_str();
        let battery = plan.batteries.get(lowest.battery)?.name.as_str();
        let opens = band.slowest(lowest.current).map_or_else(
            || "its fuse may never open on that".to_owned(),
            |latest| format!("its fuse opens within {}", time(latest.value)),
        );
        Some(Step {
            title: "Lowest fault",
            formula: "from one cold battery, everything hot, all joints in, at the far end of what the fuse protects; the slowest link",
            numbers: format!("{} A at the far end of {far}, from {battery}; {opens}", n(lowest.current.value)),
            source: "IEC 60364-4-43, 434".into(),
        })
    }

    fn time_step(&self, index: usize) -> Option<Step> {
        let through = self.overcurrents.get(index)?.as_ref()?;
        let least = through.least?;
        let (takes, times) = (least.takes.value, least.ratio.value);
        Some(Step {
            title: "Overcurrents through time",
            formula: "what the conductor bears / the latest opening, the least up to the highest fault; sought until above 1.1 everywhere",
            numbers: format!(
                "at {} A: {} may take {}, the conductor bears {}{}: {} times",
                n(least.current.value),
                self.called(index, &through.feeding),
                time(takes),
                if times < constants::THIN_MARGIN { "" } else { "at least " },
                time(takes * times),
                n(times)
            ),
            source: "IEC 60364-4-43, 433 and 434".into(),
        })
    }
}

fn cut_step(run: &Run) -> Step {
    let stretches: Vec<String> = run.segments.iter().map(|segment| n(segment.length.value)).collect();
    let route = if stretches.len() > 1 { format!("({})", stretches.join(" + ")) } else { stretches.join("") };
    Step {
        title: "Cut length",
        formula: "L = route · (1 + allowance) + ends; it is the electrical length too",
        numbers: format!(
            "{route} m · {} + {} m = {} m",
            n(1.0 + run.cut.share),
            n(run.cut.ends.value),
            n(run.cut_length().value)
        ),
        source: "route as stated; allowance: common practice, no source, where the plan does not state it".into(),
    }
}
