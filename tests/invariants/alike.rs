//! Metamorphic relations: the same thing said otherwise, cut in two, or scaled, is the same.

use crate::draft::{draft, read};
use loomwright::conductor::{Kind, Material, series};
use loomwright::heat::{HeatPath, Installation, Lay};
use loomwright::network::{Branch, Demand, Network, OperatingPoint, Outcome, Source, solve};
use loomwright::quantity::uom::si::{electrical_resistance::ohm, power::watt};
use loomwright::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Length, Power,
    ThermodynamicTemperature, celsius,
};
use loomwright::study::cable::{CableQuery, Candidate, Load, size};
use loomwright::study::judge::judge;
use loomwright_tests::{amperes, sampling, volts};
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// A number with a unit, as it is read.
fn said<T: FromText>(number: f64, unit: &str) -> T {
    T::from_text(&format!("{number} {unit}")).unwrap_or_else(|error| panic!("{error}"))
}

proptest! {
    #![proptest_config(sampling(0xa1_1e))]

    /// A circuit in metres, °C and amperes, or in feet, °F and milliamperes: the same size, fuse and numbers within 1e-9, to
    /// which a record is told.
    #[test]
    fn units_of_a_circuit_do_not_matter(
        current in 0.5..300.0_f64, length in 0.3..30.0_f64, ambient in -20.0..60.0_f64, insulation in 65.0..120.0_f64,
        kind in select(vec![Kind::Iec5, Kind::Awg, Kind::Sae, Kind::Iso6722]), lay in select(Installation::ALL),
    ) {
        let metric: (ElectricCurrent, Length, ElectricPotential, ThermodynamicTemperature, ThermodynamicTemperature) =
            (said(current, "A"), said(length, "m"), said(12.0, "V"), said(ambient, "°C"), said(insulation, "°C"));
        let other = (
            said(current * 1e3, "mA"), said(length / 0.3048, "ft"), said(12_000.0, "mV"),
            said(ambient * 1.8 + 32.0, "°F"), said(insulation * 1.8 + 32.0, "°F"),
        );
        let [one, other] = [metric, other].map(|(current, length, voltage, ambient, insulation)| {
            let query = CableQuery {
                ambient: Some(ambient),
                insulation: Some(insulation),
                kind: Some(kind),
                installation: Some(lay),
                ..CableQuery::new(Load::Current(current), length, voltage)
            };
            size(&query).map(|sizing| sizing.chosen)
        });
        let (Ok(one), Ok(other)) = (one, other) else { return Ok(()) };
        prop_assert_eq!(one.is_some(), other.is_some());
        if let (Some(one), Some(other)) = (one, other) {
            // 4 × 300 and 3 × 400 mm² are as much metal, and which is taken is decided by the last bit of the length.
            let metal = |chosen: &Candidate| chosen.conductor.area.value * f64::from(chosen.parallel);
            prop_assert!((metal(&one) / metal(&other) - 1.0).abs() < 1e-9, "{one:?} and {other:?}");
            if one.parallel != other.parallel {
                return Ok(());
            }
            prop_assert_eq!((one.conductor, one.fuse), (other.conductor, other.fuse));
            for (ours, theirs) in [
                (one.ampacity.value, other.ampacity.value),
                (one.longest_run.value, other.longest_run.value),
                (one.largest_current.value, other.largest_current.value),
            ] {
                prop_assert!((ours / theirs - 1.0).abs() < 1e-9, "{ours} and {theirs}");
            }
        }
    }

    /// What a conductor is called does not matter to the heat balance: a gauge, and metal of the same area, resistance and
    /// diameter under its metric name, bear the same and drop the same, to the last bit.
    #[test]
    fn a_gauge_is_its_metal(
        index in any::<Index>(), kind in select(vec![Kind::Awg, Kind::Sae]), lay in select(Installation::ALL),
        ambient in -20.0..60.0_f64, share in 0.1..1.2_f64,
    ) {
        let sizes: Vec<_> = series(kind, Material::Copper).collect();
        let gauge = sizes[index.index(sizes.len())];
        let mut metric = gauge;
        metric.size = CrossSection::Area(gauge.area);
        let lay = if lay == Installation::FreeAir { Lay::alone(lay) } else { Lay::pair(lay) };
        let of = |conductor| {
            let path = HeatPath::new(conductor, &lay, celsius(ambient)).ok()?;
            let bears = path.ampacity(celsius(75.0)).ok()?;
            Some((bears, path.temperature(bears * share).ok()?))
        };
        prop_assert_eq!(of(&gauge), of(&metric));
    }

    /// Kilowatts at a sagging voltage ask for what the current that they draw there asks for.
    #[test]
    fn a_power_is_its_current(current in 0.5..200.0_f64, length in 0.3..20.0_f64, sag in 0.75..1.0_f64) {
        let lowest = volts(12.0 * sag);
        let by_power = Load::Power { power: Power::new::<watt>(current * lowest.value), lowest_voltage: lowest };
        let [one, other] = [by_power, Load::Current(amperes(current))].map(|load| {
            let query = CableQuery::new(load, loomwright_tests::metres(length), volts(12.0));
            size(&query).ok().and_then(|sizing| sizing.chosen)
        });
        // A power draws what it does at the voltage that the drop leaves, so it may ask for more than the current, never less.
        if let (Some(one), Some(other)) = (one, other) {
            let metal = |chosen: &loomwright::study::cable::Candidate| chosen.conductor.area.value * f64::from(chosen.parallel);
            prop_assert!(metal(&one) >= metal(&other) * (1.0 - 1e-9), "{:?} for {:?}", one.conductor.label(), other.conductor.label());
        }
    }
}

/// A tree of cables from a stiff source, with powers, currents, and one loop.
fn network(parents: &[Index], watts: &[f64], scale: [f64; 3]) -> Network {
    let [voltage, current, resistance] = scale;
    let of = |ohms: f64| ElectricalResistance::new::<ohm>(ohms * resistance);
    let mut network = Network { nodes: parents.len() + 2, ..Network::default() };
    network.sources.push(Source::new([1, 0], volts(24.0 * voltage), of(0.01)));
    for (index, (parent, watts)) in parents.iter().zip(watts).enumerate() {
        let node = index + 2;
        network.branches.push(Branch::new([parent.index(node - 1) + 1, node], of(0.002 + 0.001 * (index % 7) as f64)));
        let demand = if index % 2 == 0 {
            Demand::power([node, 0], Power::new::<watt>(watts * voltage * current))
        } else {
            Demand::current([node, 0], amperes(watts / 24.0 * current))
        };
        network.demands.push(demand);
    }
    network.branches.push(Branch::new([1, parents.len() + 1], of(0.02)));
    network
}

fn settled(network: &Network) -> Option<OperatingPoint> {
    match solve(network).expect("resistances are above zero") {
        Outcome::Point(point) => Some(*point),
        Outcome::None(_) => None,
    }
}

proptest! {
    #![proptest_config(sampling(0xa1_1f))]

    /// Twice the voltage and half the current over four times the resistance, or k times both over the same: every voltage is
    /// scaled alike, the margin to collapse is the same. 1e-9 of the voltage, 1e-3 of the margin, to which it is sought.
    #[test]
    fn networks_scale(
        parents in prop::collection::vec(any::<Index>(), 3..20), watts in prop::collection::vec(1.0..200.0_f64, 20),
        k in 0.2..5.0_f64, same_power in any::<bool>(),
    ) {
        let scale = if same_power { [k, 1.0 / k, k * k] } else { [k, k, 1.0] };
        let plain = settled(&network(&parents, &watts, [1.0; 3]));
        let scaled = settled(&network(&parents, &watts, scale));
        prop_assert_eq!(plain.is_some(), scaled.is_some());
        let (Some(plain), Some(scaled)) = (plain, scaled) else { return Ok(()) };
        for node in 1..parents.len() + 2 {
            let [ours, theirs] = [&plain, &scaled].map(|point| point.between([node, 0]).value);
            prop_assert!((ours * k - theirs).abs() <= 1e-9 * 24.0 * k, "{ours} V, scaled {theirs} V");
        }
        let margins = [&plain, &scaled].map(|point| point.stability_margin.map(|margin| margin.value));
        if let [Some(ours), Some(theirs)] = margins {
            prop_assert!((ours / theirs - 1.0).abs() < 2e-3, "{ours} and {theirs}");
        }
    }

    /// A branch cut in two at a node without demand: the same voltages at all other nodes within 1e-9 of 24 V.
    #[test]
    fn a_branch_may_be_cut_in_two(
        parents in prop::collection::vec(any::<Index>(), 3..20), watts in prop::collection::vec(1.0..200.0_f64, 20),
        which in any::<Index>(), share in 0.05..0.95_f64,
    ) {
        let whole = network(&parents, &watts, [1.0; 3]);
        let mut cut = whole.clone();
        let at = which.index(cut.branches.len());
        let [from, to] = cut.branches[at].nodes;
        let ohms = cut.branches[at].resistance;
        let between = cut.nodes;
        cut.nodes += 1;
        cut.branches[at] = Branch::new([from, between], ohms * share);
        cut.branches.push(Branch::new([between, to], ohms * (1.0 - share)));
        let (whole, cut) = (settled(&whole), settled(&cut));
        prop_assert_eq!(whole.is_some(), cut.is_some());
        if let (Some(whole), Some(cut)) = (whole, cut) {
            for node in 1..parents.len() + 2 {
                let [ours, theirs] = [&whole, &cut].map(|point| point.between([node, 0]).value);
                prop_assert!((ours - theirs).abs() <= 1e-9 * 24.0, "{ours} V, cut {theirs} V");
            }
        }
    }
}

/// The same plan with one run cut in two at a bar of its own, typed, for a plan file would add what is cut off at its ends.
fn cut_in_two(
    plan: &loomwright::installation::Installation,
    at: usize,
    share: f64,
) -> loomwright::installation::Installation {
    use loomwright::installation::{FuseChoice, NodeId};
    let mut cut = plan.clone();
    let between = NodeId(cut.nodes.len());
    let mut bar = cut.nodes[cut.runs[at].to.0].clone();
    bar.name = "between".to_owned();
    cut.nodes.push(bar);
    let mut rest = cut.runs[at].clone();
    rest.name = "rest".to_owned();
    rest.from = between;
    rest.fuse = FuseChoice::None;
    cut.runs[at].to = between;
    cut.runs[at].segments.iter_mut().for_each(|segment| segment.length *= share);
    rest.segments.iter_mut().for_each(|segment| segment.length *= 1.0 - share);
    cut.runs.push(rest);
    cut
}

proptest! {
    #![proptest_config(sampling(0xa1_20))]

    /// A run cut in two at a bar, the same cable on both sides: both halves bear what the whole did, are as warm, and the drop
    /// is larger by that of the two joints, 0.1 mΩ each, and nothing else. 1e-6, to which temperatures settle. (What is told of
    /// fuses and their distances, of terminals and of faults may differ: there is a bar more.)
    #[test]
    fn a_run_may_be_cut_in_two(draft in draft(), share in 0.1..0.9_f64) {
        let mut plan = draft.plan();
        // What a battery is charged with depends on every milliohm.
        if !plan.alternators.is_empty() {
            return Ok(());
        }
        for load in &mut plan.loads {
            // Constant currents, so that the two joints change nothing but the drop.
            load.kind = loomwright::installation::LoadKind::Current(amperes(3.0));
            load.inrush = None;
        }
        for run in &mut plan.runs {
            run.cut = loomwright::installation::Cut { share: 0.0, ends: Length::default() };
        }
        let lead = plan.runs.iter().position(|run| run.name == "lead").expect("it has one");
        let (Ok(whole), Ok(cut)) = (judge(&plan), judge(&cut_in_two(&plan, lead, share))) else { return Ok(()) };
        let row = |checks: &[loomwright::study::judge::CheckRecord], rule: &str, subject: &str| {
            let found = checks.iter().find(|check| check.rule == rule && check.subject == subject);
            found.and_then(|check| check.measured)
        };
        let (before, after) = (whole.checks(), cut.checks());
        for rule in ["ampacity", "conductor-temperature"] {
            let was = row(&before, rule, "lead");
            for half in ["lead", "rest"] {
                let now = row(&after, rule, half);
                prop_assert_eq!(was.is_some(), now.is_some(), "{} of {}", rule, half);
                if let (Some(was), Some(now)) = (was, now) {
                    prop_assert!((was - now).abs() <= 1e-5 * was.abs().max(1.0), "{rule} of {half}: {was}, cut {now}");
                }
            }
        }
        let (ours, theirs) = (&whole.models[lead], &cut.models[lead]);
        prop_assert_eq!((ours.ampacity, ours.limit), (theirs.ampacity, theirs.limit));
        for (one, other) in whole.cases.iter().zip(&cut.cases) {
            prop_assert_eq!(one.point.is_some(), other.point.is_some());
            if one.point.is_none() {
                continue;
            }
            let flows = one.run_currents[lead].value;
            for load in &plan.loads {
                let nodes = load.nodes.expect("it has a circuit");
                let lost = one.between(nodes).value - other.between(nodes).value;
                prop_assert!((lost - 0.2e-3 * flows).abs() < 1e-6 * 12.0, "{lost} V lost in two joints at {flows} A");
            }
        }
    }

    /// Stretches of one zone and one way of lying are one stretch: the same plan to 1e-6. Times to 5 %: they are told for currents
    /// rounded up to two digits, and a current that stands next to such a step may fall to either side of it.
    #[test]
    fn a_stretch_may_be_written_in_pieces(draft in draft()) {
        let (plain, whole) = (draft.judged(), judge(&read(&draft.whole().text())).ok());
        prop_assert_eq!(plain.is_some(), whole.is_some());
        let (Some(plain), Some(whole)) = (plain, whole) else { return Ok(()) };
        for (ours, theirs) in plain.checks().iter().zip(&whole.checks()) {
            prop_assert_eq!((ours.rule, &ours.subject), (theirs.rule, &theirs.subject));
            let near = if ours.unit == "s" { 0.05 } else { 1e-6 };
            prop_assert!((ours.margin / theirs.margin - 1.0).abs() < near, "{ours:?} {theirs:?}");
        }
    }
}
