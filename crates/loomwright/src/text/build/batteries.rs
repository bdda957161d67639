//! Batteries: what they are, and how they store charge.

use super::devices::poles;
use super::{Ground, above_zero};
use crate::data::tables::{constants, sources};
use crate::installation::{Battery, Chemistry};
use crate::quantity::{ElectricCharge, Ratio, ToText};
use crate::source::Storage;
use crate::text::entry::Entry;
use crate::text::resolve::Names;
use uom::si::electrical_resistance::milliohm;
use uom::si::ratio::ratio;

pub(super) fn battery(entry: &Entry, names: &mut Names<'_>, ground: &mut Ground) -> Option<Battery> {
    let chemistry: Chemistry = entry.choice("chemistry")?;
    let capacity = entry.charge("capacity")?;
    let capacity_ah = (capacity / ElectricCharge::new::<uom::si::electric_charge::ampere_hour>(1.0)).value;
    above_zero(names, entry, "capacity", capacity_ah, 1e5, "Ah");
    let nominal = entry.voltage("nominal_voltage").unwrap_or(ground.system_voltage);
    above_zero(names, entry, "nominal_voltage", nominal.value, 60.0, "V");
    let series = chemistry.blocks(nominal);
    let [low, resting, full, charge] = chemistry.block_voltages().map(|voltage| voltage * series);
    let resistance = entry.resistance("resistance").unwrap_or_else(|| {
        let value = chemistry.block_resistance() * series * (100.0 / capacity_ah.max(0.1));
        ground.assume(
            format!("battery {}", entry.name),
            format!("internal resistance {}", value.to_text()),
            chemistry.source(),
        );
        value
    });
    above_zero(names, entry, "resistance", resistance.get::<milliohm>(), 1e4, "mohm");
    // A stated value is as a data sheet states it, at 1 kHz; of ours, which is that against a load, half (IEC 61660-1 and
    // practice: 1.5 to 3 times apart).
    let ohmic = entry.resistance("ohmic_resistance").unwrap_or_else(|| {
        let value = entry.resistance("resistance").unwrap_or(resistance * Ratio::new::<ratio>(constants::OHMIC_SHARE));
        ground.assume(
            format!("battery {}", entry.name),
            format!("a short circuit is limited by {} (ohmic, 1 kHz)", value.to_text()),
            &sources::BATTERY_FAULT_MEMORY,
        );
        value
    });
    above_zero(names, entry, "ohmic_resistance", ohmic.get::<milliohm>(), 1e4, "mohm");
    if entry.get("ohmic_resistance").is_some() && ohmic > resistance * (1.0 + 1e-9) {
        names.refuse(entry, "ohmic_resistance", "the ohmic part is not above the internal resistance");
    }
    let charge_voltage = entry.voltage("charge_voltage").unwrap_or_else(|| {
        ground.assume(
            format!("battery {}", entry.name),
            format!("highest charge voltage {}", charge.to_text()),
            chemistry.source(),
        );
        charge
    });
    above_zero(names, entry, "charge_voltage", charge_voltage.value, 80.0, "V");
    above_zero(
        names,
        entry,
        "current_limit",
        entry.current("current_limit").map_or(1.0, |value| value.value),
        5000.0,
        "A",
    );
    Some(Battery {
        name: entry.name.clone(),
        nodes: poles(entry, names, ground),
        chemistry,
        capacity,
        nominal,
        resistance,
        ohmic,
        at_rest: [low, resting, full],
        charge_voltage,
        current_limit: entry.current("current_limit"),
        storage: storage(entry, chemistry, capacity, names),
        charge_limit: entry.current("charge_current_limit"),
        stops_in_frost: entry.stated_flag("stops_in_frost"),
        installed: installed(entry, names),
    })
}

/// How it stores charge: as stated, else as is usual for its chemistry.
fn storage(entry: &Entry, chemistry: Chemistry, capacity: ElectricCharge, names: &mut Names<'_>) -> Storage {
    let mut storage = Storage::typical(chemistry, capacity);
    let mut stated = |key: &str, low: f64, high: f64, slot: &mut Ratio| {
        let Some(value) = entry.ratio(key) else { return };
        if !(low..=high).contains(&value.value) {
            names.refuse(entry, key, format!("{key} is {:.0} % to {:.0} %", 100.0 * low, 100.0 * high));
        }
        *slot = value;
    };
    stated("peukert", 1.0, 1.6, &mut storage.peukert);
    stated("floor", 0.0, 0.95, &mut storage.floor);
    stated("ceiling", 0.2, 1.0, &mut storage.ceiling);
    stated("charge_efficiency", 0.5, 1.0, &mut storage.charge_efficiency);
    stated("self_discharge", 0.0, 0.3, &mut storage.self_discharge);
    if storage.floor >= storage.ceiling {
        let key = if entry.get("floor").is_some() { "floor" } else { "ceiling" };
        let [floor, ceiling] = [storage.floor, storage.ceiling].map(|share| share.to_text());
        names.refuse(entry, key, format!("the floor {floor} is not below the ceiling {ceiling}"));
    }
    if let Some(time) = entry.time("hour_rate") {
        if !(1.0..=100.0).contains(&time.get::<uom::si::time::hour>()) {
            names.refuse(entry, "hour_rate", "an hour rate is 1 h to 100 h, for example \"20 h\"");
        }
        storage.hour_rate = time;
    } else if entry.get("peukert").is_some() {
        let message = "hour_rate is needed beside it, for example \"20 h\": t = R·(C/(I·R))ⁿ; the form t = C/Iⁿ holds only for \
                       a capacity measured at 1 A";
        names.refuse(entry, "peukert", message);
    }
    storage
}

/// A year between the first sealed batteries and the end of the century.
fn installed(entry: &Entry, names: &mut Names<'_>) -> Option<u16> {
    let stated = entry.text("installed")?;
    let year = stated.value.trim().parse::<u16>().ok().filter(|year| (1970..=2100).contains(year));
    if year.is_none() {
        names.refuse(entry, "installed", format!("{:?} is no year; write for example \"2024\"", stated.value));
    }
    year
}
