//! Devices and their terminals.

use super::batteries::battery;
use super::converters::converter;
use super::diary::usage;
use super::{Ground, above_zero};
use crate::data::tables::{constants, sources};
use crate::fitting::contact_resistance;
use crate::installation::{
    Alternator, Array, Battery, Converter, ConverterKind, Function, Link, LinkKind, Load, LoadKind, NodeId, Regulation,
    Terminal, TypicalLoad,
};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio, Time, ToText, round_significant,
};
use crate::source::{AlternatorCurve, OneWay, SensingRelay, as_lead, per_minute};
use crate::text::entry::{Entry, File};
use crate::text::resolve::{Names, unknown};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;
use uom::si::time::second;

/// Every device.
pub(in crate::text) struct Devices {
    pub(in crate::text) batteries: Vec<Battery>,
    pub(in crate::text) alternators: Vec<Alternator>,
    pub(in crate::text) converters: Vec<Converter>,
    pub(in crate::text) loads: Vec<Load>,
    pub(in crate::text) links: Vec<Link>,
}

pub(super) fn devices(file: &File<'_>, arrays: &[Array], names: &mut Names<'_>, ground: &mut Ground) -> Devices {
    for entry in file.of("busbars") {
        let terminal = names.terminal(entry, ground.terminal);
        let beside = names.second_terminal(entry, terminal);
        let node = names.add(entry, entry.name.clone(), terminal);
        let rating = entry.current("rating");
        above_zero(names, entry, "rating", rating.map_or(1.0, |value| value.value), 5000.0, "A");
        if let Some(node) = names.nodes.get_mut(node.0) {
            node.rating = rating;
            node.second_terminal = beside;
        }
    }
    let devices = Devices {
        batteries: file.of("batteries").filter_map(|entry| battery(entry, names, ground)).collect(),
        alternators: file.of("alternators").filter_map(|entry| alternator(file, entry, names, ground)).collect(),
        converters: file
            .of("converters")
            .filter(|entry| entry.choice::<ConverterKind>("kind").is_some())
            .enumerate()
            .filter_map(|(place, entry)| {
                let of: Vec<&Array> = arrays.iter().filter(|array| array.controller == place).collect();
                converter(entry, &of, names, ground)
            })
            .collect(),
        loads: file.of("loads").filter_map(|entry| load(file, entry, names, ground)).collect(),
        links: file.of("links").filter_map(|entry| link(entry, names, ground)).collect(),
    };
    // Only where something is wrong already are stand-ins needed, so they never reach a plan.
    if !names.errors.is_empty() {
        let made = |section: &str| matches!(section, "batteries" | "alternators" | "converters" | "loads" | "links");
        for entry in file.entries.iter().filter(|entry| made(entry.section) && entry.get("inverter").is_none()) {
            names.stand_in(entry);
        }
    }
    devices
}

/// The two terminals of a device; the negative is the chassis when the device is grounded.
pub(super) fn poles(entry: &Entry, names: &mut Names<'_>, ground: &Ground) -> [NodeId; 2] {
    let terminal = names.terminal(entry, ground.terminal);
    let positive = names.add(entry, format!("{}.+", entry.name), terminal);
    [positive, negative(entry, format!("{}.-", entry.name), terminal, names)]
}

pub(super) fn negative(entry: &Entry, name: String, terminal: Terminal, names: &mut Names<'_>) -> NodeId {
    if entry.flag("grounded") {
        let chassis = names.the_chassis();
        names.alias(entry, name, chassis);
        chassis
    } else {
        names.add(entry, name, terminal)
    }
}

fn alternator(file: &File<'_>, entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<Alternator> {
    let rating = entry.current("rating")?;
    above_zero(names, entry, "rating", rating.value, 2000.0, "A");
    let subject = format!("alternator {}", entry.name);
    let hot_output = entry.current("hot_output").unwrap_or_else(|| {
        ground.assume_custom(
            &subject,
            format!("hot output {} (0.8 of its rating)", (rating * constants::HOT_OUTPUT_SHARE).to_text()),
        );
        rating * constants::HOT_OUTPUT_SHARE
    });
    let idle_output = entry.current("idle_output").unwrap_or_else(|| {
        ground.assume_custom(
            &subject,
            format!("output at idle {} (0.4 of its rating)", (rating * constants::IDLE_OUTPUT_SHARE).to_text()),
        );
        rating * constants::IDLE_OUTPUT_SHARE
    });
    for (key, value) in [("hot_output", hot_output), ("idle_output", idle_output)] {
        above_zero(names, entry, key, value.value, rating.value * 1.1, "A");
    }
    let curve = curve(file, entry, ground, &subject, [idle_output, hot_output]);
    let voltage = entry.voltage("voltage").unwrap_or_else(|| {
        let usual = ElectricPotential::new::<volt>(14.2) * (as_lead(ground.system_voltage).get::<volt>() / 12.0);
        ground.assume_custom(&subject, format!("regulated to {}", usual.to_text()));
        usual
    });
    above_zero(names, entry, "voltage", voltage.value, 80.0, "V");
    let regulation = entry.choice("regulation").unwrap_or(Regulation::Fixed);
    Some(Alternator {
        name: entry.name.clone(),
        nodes: poles(entry, names, ground),
        rating,
        hot_output,
        idle_output,
        curve,
        voltage,
        regulation,
        suppressed: entry.flag("suppressed"),
    })
}

/// Output against speed through idle and rated speed; what is taken for granted counts where a case states a speed.
fn curve(
    file: &File<'_>,
    entry: &Entry,
    ground: &mut Ground,
    subject: &str,
    outputs: [ElectricCurrent; 2],
) -> Option<AlternatorCurve> {
    let asked = file.of("cases").any(|case| case.get("alternator_speed").is_some());
    let keys = [("idle_speed", constants::IDLE_PER_MIN), ("rated_speed", constants::RATED_PER_MIN)];
    let [idle, rated] = keys.map(|(key, usual)| {
        entry.speed(key).unwrap_or_else(|| {
            let usual = per_minute(usual);
            if asked {
                let text = format!("{} {}", key.replace('_', " "), usual.to_text());
                ground.assume(subject, text, &sources::ALTERNATOR_SPEEDS);
            }
            usual
        })
    });
    AlternatorCurve::through((idle, outputs[0]), (rated, outputs[1])).ok()
}

fn load(file: &File<'_>, entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<Load> {
    let typical = typical(entry, names, ground);
    let stated = [
        entry.current("current").map(LoadKind::Current),
        entry.power("power").map(LoadKind::Power),
        entry.resistance("resistance").map(LoadKind::Resistance),
        typical.map(|typical| LoadKind::Power(typical.power()[1])),
    ];
    let given = ["current", "power", "resistance", "typical"].iter().filter(|key| entry.get(key).is_some()).count();
    if given != 1 {
        let tried = file.of("loads").any(|other| other.name == entry.name && given > 1);
        let message = if tried {
            "only one of current, power, resistance and typical is stated"
        } else {
            "one of current, power, resistance and typical is needed, for example current = \"4 A\""
        };
        // A value that was given but could not be read has been told already.
        let told = names.errors.iter().any(|error| error.key.starts_with(&format!("loads.{}.", entry.name)));
        if !told {
            names.error(entry.span.clone(), entry.key("current"), message);
        }
    }
    let kind = stated.into_iter().flatten().next()?;
    above_zero(names, entry, "current", entry.current("current").map_or(1.0, |value| value.value), 5000.0, "A");
    above_zero(names, entry, "power", entry.power("power").map_or(1.0, |value| value.value), 1e5, "W");
    above_zero(
        names,
        entry,
        "resistance",
        entry.resistance("resistance").map_or(1.0, |value| value.get::<milliohm>()),
        1e9,
        "mohm",
    );
    above_zero(names, entry, "inrush", entry.current("inrush").map_or(1.0, |value| value.value), 5000.0, "A");
    let usual = typical.filter(|_| entry.get("per_day").is_none()).map_or(1.0, |typical| typical.duty().value);
    let (duty, cycle) = entry.duty("duty").unwrap_or_else(|| (Ratio::new::<ratio>(usual), None));
    let start_time = entry.time("start_time").unwrap_or_else(|| {
        let usual = Time::new::<second>(constants::START_S);
        if entry.get("inrush").is_some() {
            ground.assume_custom(format!("load {}", entry.name), format!("starts for {}", usual.to_text()));
        }
        usual
    });
    above_zero(names, entry, "start_time", start_time.value, 600.0, "s");
    if entry.get("start_time").is_some() && entry.get("inrush").is_none() {
        names.refuse(entry, "start_time", "start_time goes with inrush, the current that flows so long");
    }
    if let Some(on) = cycle.map(|cycle| cycle.on()).filter(|on| entry.get("inrush").is_some() && start_time > *on) {
        let message =
            format!("it starts for {}, longer than the {} that it runs at a time", start_time.to_text(), on.to_text());
        names.refuse(entry, if entry.get("start_time").is_some() { "start_time" } else { "duty" }, message);
    }
    if let (Some(inrush), LoadKind::Current(running)) = (entry.current("inrush"), kind)
        && inrush < running
    {
        let message = format!("the inrush is not below the {} that it draws running", running.to_text());
        names.refuse(entry, "inrush", message);
    }
    if !(duty.value > 0.0 && duty.value <= 1.0) {
        names.refuse(entry, "duty", "duty is above 0 % and at most 100 %");
    }
    let nominal = entry.voltage("nominal_voltage").unwrap_or(ground.system_voltage);
    above_zero(names, entry, "nominal_voltage", nominal.value, 60.0, "V");
    let lowest_voltage = entry.voltage("lowest_voltage").or_else(|| {
        entry.current("inrush")?;
        let usual = nominal * constants::LOWEST_AT_START;
        ground.assume_custom(
            format!("load {}", entry.name),
            format!("works down to {} (0.75 of nominal)", usual.to_text()),
        );
        Some(usual)
    });
    if let Some(lowest) = lowest_voltage
        && !(lowest.value > 0.0 && lowest < nominal * 1.3)
    {
        names.refuse(entry, "lowest_voltage", "the lowest voltage is above 0 V and below 1.3 times nominal");
    }
    let inverter = entry.text("inverter").and_then(|at| {
        let inverters: Vec<String> = file
            .of("converters")
            .filter(|converter| converter.choice("kind") == Some(ConverterKind::Inverter))
            .map(|converter| converter.name.clone())
            .collect();
        let place = file.of("converters").filter(|entry| entry.choice::<ConverterKind>("kind").is_some());
        let found =
            place.into_iter().position(|converter| converter.name == at.value && inverters.contains(&converter.name));
        if found.is_none() {
            names.refuse(entry, "inverter", unknown("inverter", at.value, &inverters));
        }
        found
    });
    let nodes = entry.get("inverter").is_none().then(|| poles(entry, names, ground));
    Some(Load {
        name: entry.name.clone(),
        nodes,
        inverter,
        kind,
        inrush: entry.current("inrush"),
        start_time,
        lowest_voltage,
        function: entry.choice("function").unwrap_or(Function::General),
        nominal,
        runs_when: when(entry, "when"),
        duty,
        cycle,
        usage: usage(entry, duty, names),
        keep_powered: entry.flag("keep_powered"),
    })
}

/// A load of the catalogue, told as what it is.
fn typical(entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<TypicalLoad> {
    let typical: TypicalLoad = entry.choice("typical")?;
    if typical.needs_mains() && entry.get("inverter").is_none() {
        names.refuse(entry, "typical", format!("a {} needs mains: state the inverter that feeds it", typical.name()));
    }
    let [low, high] = typical.power().map(|power| power.to_text());
    let range = if low == high { high } else { format!("{high}, of {low} to {high}") };
    let duty =
        if typical.duty().value < 1.0 { format!(", {} of the time", typical.duty().to_text()) } else { String::new() };
    let text = format!("typical {}: takes {range}{duty}; read its plate", typical.name());
    ground.assume(format!("load {}", entry.name), text, typical.source());
    Some(typical)
}

/// Engine off, driving, shore; always when not said.
fn when(entry: &Entry, key: &str) -> [bool; 3] {
    entry.texts(key).map_or([true; 3], |texts| {
        ["parked", "driving", "shore"].map(|situation| texts.iter().any(|text| text.value == situation))
    })
}

fn link(entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<Link> {
    let kind: LinkKind = entry.choice("kind")?;
    let terminal = names.terminal(entry, ground.terminal);
    let rating = entry.current("rating");
    above_zero(names, entry, "rating", rating.map_or(1.0, |value| value.value), 5000.0, "A");
    let subject = format!("{kind} {}", entry.name);
    let resistance = entry.resistance("resistance").unwrap_or_else(|| {
        let value = match (kind, rating) {
            // 50 mV at rating (common practice).
            (LinkKind::Shunt, Some(rating)) => ElectricPotential::new::<volt>(constants::SHUNT_DROP_V) / rating,
            (LinkKind::Isolator | LinkKind::Relay, _) => contact_resistance("isolator"),
            _ => contact_resistance("lug-on-stud"),
        };
        let told = ElectricalResistance::new::<milliohm>(round_significant(value.get::<milliohm>(), 3));
        ground.assume(&subject, format!("resistance {}", told.to_text()), &sources::CONTACT_COMMON_PRACTICE);
        value
    });
    above_zero(names, entry, "resistance", resistance.get::<milliohm>(), 1e6, "mohm");
    let drop = match (kind, entry.voltage("drop")) {
        (_, Some(stated)) => stated,
        (LinkKind::Diode, None) => entry
            .choice::<OneWay>("diode")
            .unwrap_or_else(|| {
                ground.assume_custom(&subject, "drop 0.8 V (silicon)");
                OneWay::Silicon
            })
            .drop(),
        (_, None) => ElectricPotential::default(),
    };
    if !(0.0..=5.0).contains(&drop.value) {
        names.refuse(entry, "drop", "the drop of a diode is 0 V to 5 V");
    }
    let nodes = ["in", "out"].map(|side| names.add(entry, format!("{}.{side}", entry.name), terminal));
    let senses = senses(entry, names, kind);
    let closed_when = when(entry, "closed");
    Some(Link { name: entry.name.clone(), kind, nodes, resistance, drop, rating, closed_when, senses })
}

/// The voltages of a relay that senses them: both or neither, and opening below closing.
fn senses(entry: &Entry, names: &mut Names<'_>, kind: LinkKind) -> Option<SensingRelay> {
    let keys = ["closes_at", "opens_at"];
    let stated = keys.map(|key| entry.voltage(key));
    let given = keys.into_iter().find(|key| entry.get(key).is_some())?;
    if kind != LinkKind::Relay {
        names.refuse(entry, given, format!("only a relay senses a voltage, not a {kind}"));
        return None;
    }
    if let Some(missing) = keys.into_iter().find(|key| entry.get(key).is_none()) {
        let message =
            format!("{missing} is needed beside it, for example closes_at = \"13.3 V\", opens_at = \"12.8 V\"");
        names.refuse(entry, given, message);
        return None;
    }
    let [Some(closes), Some(opens)] = stated else { return None };
    if !(opens.value > 0.0 && opens < closes && closes.value <= 80.0) {
        names.refuse(
            entry,
            "opens_at",
            "a relay opens above 0 V and below the voltage at which it closes, 80 V at most",
        );
        return None;
    }
    Some(SensingRelay { closes, opens })
}
