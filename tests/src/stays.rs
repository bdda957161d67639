//! What the checks of forecasts share: small plans with a place and stays, and what a forecast says of them.

use loomwright::quantity::uom::si::electric_charge::ampere_hour;
use loomwright::quantity::uom::si::energy::watt_hour;
use loomwright::quantity::{Energy, Ratio};
use loomwright::study::forecast::{BankOutcome, Forecast, Options, StayOutcome, forecast};

use crate::support::judged;

/// The forecast of a plan.
pub fn found(text: &str, options: &Options<'_>) -> Forecast {
    forecast(&judged(text), options).unwrap_or_else(|error| panic!("{error}"))
}

/// The only stay of a plan, with every step.
pub fn stay(text: &str, steps_per_day: u32) -> StayOutcome {
    let mut found = found(text, &Options { steps_per_day, series: true, ..Options::default() });
    assert_eq!(found.stays.len(), 1);
    found.stays.remove(0)
}

/// A bank by the name of its battery.
pub fn bank<'a>(stay: &'a StayOutcome, name: &str) -> &'a BankOutcome {
    stay.banks.iter().find(|bank| bank.name == name).unwrap_or_else(|| panic!("no bank {name}"))
}

pub fn wh(energy: Energy) -> f64 {
    energy.get::<watt_hour>()
}

pub fn ah(bank: &BankOutcome, share: Ratio) -> f64 {
    bank.capacity.get::<ampere_hour>() * share.value
}

/// A plan of these batteries and whatever else, all in one warm hut, at a lake by Zurich.
pub fn plan(more: &str) -> String {
    format!(
        r#"format = 1
[plan]
name = "Small (invented)"
place = "vehicle"
system_voltage = "12 V"
[defaults]
insulation = "90 °C"
[zones.here]
kind = "van-cabin"
[places.lake]
latitude = "47.4°"
longitude = "8.6°"
altitude = "430 m"
clock = "1 h"
climate = "zurich"
{more}"#
    )
}

/// A battery; `more` says what is not usual of it.
pub fn battery(name: &str, chemistry: &str, capacity: f64, more: &str) -> String {
    format!("[batteries.{name}]\nchemistry = \"{chemistry}\"\ncapacity = \"{capacity} Ah\"\n{more}\n")
}

/// A load straight on a battery.
pub fn load(name: &str, on: &str, says: &str) -> String {
    format!("[loads.{name}]\n{says}\n{}", circuit(name, on, name))
}

/// A circuit from a battery.
pub fn circuit(name: &str, from: &str, to: &str) -> String {
    format!("[circuits.{name}]\nfrom = \"{from}.+\"\nreturn = \"{from}.-\"\nto = \"{to}\"\nroute = [\"1 m in here\"]\n")
}

/// A shore charger on a battery.
pub fn shore(name: &str, on: &str, amperes: f64, volts: f64) -> String {
    format!(
        "[converters.{name}]\nkind = \"shore-charger\"\noutput_current = \"{amperes} A\"\noutput_voltage = \"{volts} V\"\n{}",
        circuit(name, on, &format!("{name}.out"))
    )
}

/// A flat panel on a controller on a battery.
pub fn solar(name: &str, on: &str, watts: f64, amperes: f64) -> String {
    let bars = format!("[busbars.{name}-plus]\n[busbars.{name}-minus]\n");
    let (short, most) = (watts / 20.0, amperes);
    format!(
        r#"[converters.{name}]
kind = "solar-controller"
output_current = "{most} A"
output_voltage = "14.4 V"
efficiency = "96 %"
array_limit = "75 V"
holds_alone = true
[arrays.{name}-roof]
controller = "{name}"
power = "{watts} W"
open_voltage = "26 V"
operating_voltage = "21 V"
short_circuit = "{short} A"
mount = "rack"
{bars}{}[circuits.{name}-array]
from = "{name}-plus"
return = "{name}-minus"
to = "{name}"
route = ["3 m in here"]
fuse = "none"
"#,
        circuit(&format!("{name}-output"), on, &format!("{name}.out"))
    )
}

/// A charger from one battery to another.
pub fn dc_dc(name: &str, from: &str, to: &str, says: &str) -> String {
    format!(
        "[converters.{name}]\nkind = \"dc-dc-charger\"\noutput_voltage = \"14.4 V\"\n{says}\n{}{}",
        circuit(&format!("{name}-feed"), from, name),
        circuit(&format!("{name}-output"), to, &format!("{name}.out"))
    )
}

/// An alternator of 90 A hot and 50 A at idle at a battery.
pub fn alternator(on: &str) -> String {
    format!(
        r#"[alternators.engine]
rating = "110 A"
hot_output = "90 A"
idle_output = "50 A"
voltage = "14.2 V"
[runs.engine-lead]
from = "{on}.+"
to = "engine.+"
route = ["1 m in here"]
conductor = "35 mm2"
fuse = "150 A class-t"
[runs.engine-back]
from = "{on}.-"
to = "engine.-"
route = ["1 m in here"]
conductor = "35 mm2"
"#
    )
}

/// A relay between two batteries, of 200 mΩ so that the rest of its way hardly counts.
pub fn relay(from: &str, to: &str, says: &str) -> String {
    format!(
        r#"[links.joins]
kind = "relay"
rating = "140 A"
resistance = "200 mohm"
{says}
[runs.relay-in]
from = "{from}.+"
to = "joins.in"
route = ["0.5 m in here"]
conductor = "95 mm2"
fuse = "150 A class-t"
[runs.relay-out]
from = "{to}.+"
to = "joins.out"
route = ["0.5 m in here"]
conductor = "95 mm2"
fuse = "150 A class-t"
[runs.relay-back]
from = "{from}.-"
to = "{to}.-"
route = ["0.5 m in here"]
conductor = "95 mm2"
"#
    )
}

/// A stay from one day of March 2026 to another; the second is a Monday.
pub fn march(from: u32, to: u32, says: &str) -> String {
    format!("[stays.spring]\nplace = \"lake\"\nfrom = \"2026-03-{from:02}\"\nto = \"2026-03-{to:02}\"\n{says}\n")
}

/// Starter and service battery, charged by an alternator, from one another, from shore and from the sun; an inverter with
/// a load that stands by.
pub fn van() -> String {
    let parts = [
        battery("starter", "agm", 80.0, ""),
        battery("service", "lithium-iron-phosphate", 150.0, ""),
        alternator("starter"),
        dc_dc("charger", "starter", "service", "output_current = \"30 A\"\nefficiency = \"91 %\"\nlock_out = \"11 V\"\nrunning_signal = true"),
        shore("shore", "service", 20.0, 14.4),
        solar("sun", "service", 200.0, 15.0),
        format!(
            "[converters.inverter]\nkind = \"inverter\"\noutput_power = \"1 kW\"\nefficiency = \"90 %\"\nno_load = \"9 W\"\n{}",
            circuit("inverter", "service", "inverter")
        ),
        "[loads.oven]\npower = \"600 W\"\ninverter = \"inverter\"\nhours = [\"18:00 to 20:00\"]\nduty = \"40 %\"\nstandby = \"3 W\"\n".to_owned(),
        load("refrigerator", "service", "power = \"45 W\"\nduty = \"35 %\""),
        load("heater", "service", "current = \"1.5 A\"\nhours = [\"20:00 to 07:00\"]"),
        load("clock", "starter", "current = \"30 mA\""),
        march(2, 8, "driving = [\"08:10 to 09:40 on tuesday, friday\"]\nshore = [\"22:00 to 02:00 on saturday\"]"),
    ];
    plan(&parts.concat())
}

/// Two lead-acid banks joined by a relay that senses, while driving and after.
pub fn joined() -> String {
    let parts = [
        battery("starter", "agm", 100.0, "floor = \"20 %\""),
        battery("service", "agm", 100.0, "floor = \"20 %\""),
        alternator("starter"),
        relay("starter", "service", "closes_at = \"13.3 V\"\nopens_at = \"12.4 V\""),
        load("radio", "service", "current = \"8 A\""),
        march(2, 2, "driving = [\"00:00 to 01:00\"]\nstart_charge = \"90 %\"\nbattery_temperature = \"26.7 °C\""),
    ];
    plan(&parts.concat())
}
