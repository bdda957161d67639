//! Converters: what they give, lose, and at which voltage they stop.

use super::bonding::{case_bond, mains_side};
use super::devices::negative;
use super::{Ground, above_zero};
use crate::converter::{Derating, Losses, Residual};
use crate::data::tables::{constants, sources};
use crate::installation::{Array, Converter, ConverterKind, NodeId};
use crate::quantity::{ElectricPotential, Power, Ratio, ToText, celsius};
use crate::source::as_lead;
use crate::text::entry::Entry;
use crate::text::resolve::Names;
use uom::si::ratio::ratio;

pub(super) fn converter(
    entry: &Entry,
    arrays: &[&Array],
    names: &mut Names<'_>,
    ground: &mut Ground,
) -> Option<Converter> {
    let kind: ConverterKind = entry.choice("kind")?;
    let subject = format!("converter {}", entry.name);
    let (input, output) = ports(kind, entry, names, ground);
    let need = |names: &mut Names<'_>, key: &str, example: &str| {
        if entry.get(key).is_none() {
            let message = format!("{key} is needed for a {kind}, for example {example}");
            names.error(entry.span.clone(), entry.key(key), message);
        }
    };
    if kind == ConverterKind::Inverter {
        need(names, "output_power", "\"2 kW\"");
    } else {
        need(names, "output_current", "\"50 A\"");
    }
    if kind == ConverterKind::SolarController && arrays.is_empty() {
        need(names, "array_current", "\"9.5 A\"");
        need(names, "array_voltage", "\"36 V\"");
    }
    let lock_out = entry.voltage("lock_out").or_else(|| {
        let takes_battery = matches!(kind, ConverterKind::DcDcCharger | ConverterKind::Inverter | ConverterKind::Buck);
        takes_battery.then(|| {
            let usual = as_lead(ground.system_voltage) * constants::LOCK_OUT_OVER_NOMINAL;
            ground.assume_custom(&subject, format!("stops at {} input (0.875 of nominal)", usual.to_text()));
            usual
        })
    });
    let restart = lock_out.map(|lock_out| {
        entry.voltage("restart").unwrap_or_else(|| {
            let usual = lock_out * constants::RESTART_OVER_LOCK_OUT;
            ground.assume(
                &subject,
                format!("starts again at {} input (1.06 of lock-out)", usual.to_text()),
                &sources::APPLIANCE_GUARDS,
            );
            usual
        })
    });
    if let Some((restart, lock_out)) = entry.voltage("restart").zip(lock_out)
        && !(restart >= lock_out && restart.value <= 80.0)
    {
        names.refuse(
            entry,
            "restart",
            format!("it starts again at {} or above, where it stops, and at 80 V at most", lock_out.to_text()),
        );
    }
    let output_voltage = entry.voltage("output_voltage").unwrap_or_else(|| {
        let usual = as_lead(ground.system_voltage) * constants::DC_DC_CHARGE_OVER_NOMINAL;
        if kind != ConverterKind::Inverter {
            ground.assume_custom(&subject, format!("output voltage {}", usual.to_text()));
        }
        usual
    });
    let losses = losses(entry, names, ground, output_voltage);
    if kind == ConverterKind::Inverter {
        let ripple = format!("its ripple heats as {} times the mean current", constants::RIPPLE);
        ground.assume_custom(&subject, ripple);
    }
    if let Some(operating) = entry.voltage("array_voltage").filter(|_| arrays.is_empty()) {
        let open = (operating * constants::ARRAY_OPEN_CIRCUIT).to_text();
        ground.assume_custom(&subject, format!("array up to {open}, cold and unloaded (1.4 times operating voltage)"));
    }
    let rated = |value: Option<f64>| value.unwrap_or(1.0);
    above_zero(
        names,
        entry,
        "output_current",
        rated(entry.current("output_current").map(|value| value.value)),
        1000.0,
        "A",
    );
    above_zero(names, entry, "input_limit", rated(entry.current("input_limit").map(|value| value.value)), 2000.0, "A");
    above_zero(
        names,
        entry,
        "output_power",
        rated(entry.power("output_power").map(|value| value.value)),
        30_000.0,
        "W",
    );
    above_zero(names, entry, "output_voltage", output_voltage.value, 80.0, "V");
    let capacitance = entry.capacitance("input_capacitance");
    let [rcd, neutral_bond] = mains_side(kind, entry, names);
    above_zero(names, entry, "input_capacitance", rated(capacitance.map(|value| value.value)), 1.0, "F");
    above_zero(names, entry, "lock_out", lock_out.map_or(1.0, |value| value.value), 60.0, "V");
    above_zero(
        names,
        entry,
        "array_current",
        rated(entry.current("array_current").map(|value| value.value)),
        200.0,
        "A",
    );
    above_zero(
        names,
        entry,
        "array_voltage",
        rated(entry.voltage("array_voltage").map(|value| value.value)),
        250.0,
        "V",
    );
    Some(Converter {
        name: entry.name.clone(),
        kind,
        input,
        output,
        output_current: entry.current("output_current"),
        output_voltage,
        output_power: entry.power("output_power"),
        input_limit: entry.current("input_limit"),
        losses,
        lock_out,
        restart,
        array: array(entry, arrays, names),
        array_limit: entry.voltage("array_limit"),
        tracks: entry.stated_flag("tracks").unwrap_or(true),
        float_voltage: entry.voltage("float_voltage"),
        equalise_voltage: entry.voltage("equalise_voltage"),
        voltage_per_kelvin: entry.voltage("voltage_per_kelvin"),
        running_signal: entry.flag("running_signal"),
        pre_charge: entry.flag("pre_charge"),
        input_capacitance: capacitance,
        derating: derating(entry, names),
        holds_alone: entry.flag("holds_alone"),
        isolated: entry.flag("isolated"),
        case_bond: case_bond(entry, names, ground),
        rcd,
        neutral_bond,
    })
}

/// Short-circuit current and operating voltage of the array: of the modules where they are stated.
fn array(
    entry: &Entry,
    arrays: &[&Array],
    names: &mut Names<'_>,
) -> Option<(crate::quantity::ElectricCurrent, ElectricPotential)> {
    let Some(first) = arrays.first() else {
        return entry.current("array_current").zip(entry.voltage("array_voltage"));
    };
    if let Some(key) = ["array_current", "array_voltage"].into_iter().find(|key| entry.get(key).is_some()) {
        names.refuse(entry, key, format!("the modules of the array {} say this: leave it out", first.name));
    }
    let rated = |one: &Array| one.strings.operating_voltage(celsius(25.0));
    if let Some(other) = arrays.iter().find(|one| (rated(one) / rated(first)).value.ln().abs() > 0.1) {
        let message = format!("the arrays {} and {} on it work at unlike voltages", first.name, other.name);
        names.error(entry.span.clone(), entry.key(""), message);
    }
    let current = arrays.iter().map(|one| one.strings.short_circuit()).reduce(|sum, one| sum + one)?;
    Some((current, rated(first)))
}

/// Both temperatures or neither, the second above the first.
fn derating(entry: &Entry, names: &mut Names<'_>) -> Option<Derating> {
    let keys = ["full_up_to", "nothing_at"];
    let given = keys.into_iter().find(|key| entry.get(key).is_some())?;
    if let Some(missing) = keys.into_iter().find(|key| entry.get(key).is_none()) {
        let message =
            format!("{missing} is needed beside it, for example full_up_to = \"40 °C\", nothing_at = \"70 °C\"");
        names.refuse(entry, given, message);
        return None;
    }
    let [full_up_to, nothing_at] = keys.map(|key| entry.temperature(key));
    let derating = Derating::new(full_up_to?, nothing_at?, Ratio::default());
    derating.map_err(|error| names.refuse(entry, "nothing_at", error.to_string())).ok()
}

/// Most that a fitted curve may miss a stated efficiency by.
const MOST_MISS: f64 = 0.03;

/// From efficiency points, from one efficiency with the usual shape, or from the default.
fn losses(entry: &Entry, names: &mut Names<'_>, ground: &mut Ground, output_voltage: ElectricPotential) -> Losses {
    let no_load = entry.power("no_load");
    let usual = Ratio::new::<ratio>(constants::EFFICIENCY);
    let delivered = entry.current("output_current").map(|current| current * output_voltage);
    let rated = entry.power("output_power").or(delivered).unwrap_or_default();
    if let Some(points) = entry.efficiencies("efficiency_points") {
        if entry.get("efficiency").is_some() {
            names.refuse(entry, "efficiency", "efficiency and efficiency_points say the same: write one of them");
        }
        return through(&points, rated, no_load.unwrap_or_default()).unwrap_or_else(|error| {
            // A rated output that is missing or zero is told by its own key.
            if rated.value > 0.0 {
                names.refuse(entry, "efficiency_points", error);
            }
            Losses::flat(usual, no_load.unwrap_or_default())
        });
    }
    let subject = format!("converter {}", entry.name);
    let efficiency = entry.ratio("efficiency").unwrap_or_else(|| {
        ground.assume_custom(&subject, "efficiency 90 % at rated output");
        usual
    });
    if !(0.3..1.0).contains(&efficiency.value) {
        names.refuse(
            entry,
            "efficiency",
            "efficiency is 30 % or more and below 100 %: every converter loses something",
        );
    }
    let shape = if no_load.is_some() {
        "its loss over no_load grows 19 : 64 with the output and its square, as is typical"
    } else {
        "17 % of its loss at rated output is its own, 19 % grows with the output, 64 % with its square, as is typical"
    };
    ground.assume(&subject, shape, &sources::CONVERTER_LOSS_LIBRARY);
    Losses::typical(efficiency, rated, no_load).unwrap_or_else(|error| {
        // A rated output or an efficiency that is missing or out of range is told by its own key.
        if rated.value > 0.0 && (0.3..1.0).contains(&efficiency.value) {
            let key = if no_load.is_some() { "no_load" } else { "efficiency" };
            names.refuse(entry, key, error.to_string());
        }
        Losses::flat(usual, no_load.unwrap_or_default())
    })
}

/// Three points exactly, more by least squares.
fn through(points: &[(Ratio, Ratio)], rated: Power, no_load: Power) -> Result<Losses, String> {
    if let [one, two, three] = points {
        return Losses::through([*one, *two, *three], rated, no_load).map_err(|error| error.to_string());
    }
    let fitted = Losses::fit(points, rated, no_load).map_err(|error| error.to_string())?;
    let miss = |one: &Residual| one.efficiency.value.abs();
    let worst = fitted.residuals.iter().max_by(|one, other| miss(one).total_cmp(&miss(other)));
    match worst.filter(|worst| miss(worst) > MOST_MISS) {
        Some(worst) => {
            let (miss, share) = (100.0 * miss(worst), 100.0 * worst.share.value);
            Err(format!(
                "the curve of a converter misses the point at {share:.0} % by {miss:.1} %: one of the points is wrong"
            ))
        }
        None => Ok(fitted.losses),
    }
}

type Port = Option<[NodeId; 2]>;

/// Input and output terminals; one common negative unless isolated.
fn ports(kind: ConverterKind, entry: &Entry, names: &mut Names<'_>, ground: &Ground) -> (Port, Port) {
    let terminal = names.terminal(entry, ground.terminal);
    let name = &entry.name;
    let has_input = kind != ConverterKind::ShoreCharger;
    let has_output = kind != ConverterKind::Inverter;
    let common = (!entry.flag("isolated")).then(|| negative(entry, format!("{name}.-"), terminal, names));
    let mut port = |side: &str| {
        let positive = names.add(entry, format!("{name}.{side}+"), terminal);
        let negative_name = format!("{name}.{side}-");
        let negative = match common {
            Some(common) => {
                names.alias(entry, negative_name, common);
                common
            }
            None => negative(entry, negative_name, terminal, names),
        };
        [positive, negative]
    };
    (has_input.then(|| port("in")), has_output.then(|| port("out")))
}
