//! The published numbers of `examples/published.csv` through the Rust library, to the last bit: what every other caller has
//! to give too.
//!
//!     cargo run --bin published examples/published.csv

use loomwright::conductor::{Conductor, Kind, Material, find};
use loomwright::fitting::torque;
use loomwright::heat::{contact_voltage, spot_temperature};
use loomwright::protection::{Band, Family};
use loomwright::quantity::uom::si::area::square_millimeter;
use loomwright::quantity::uom::si::electric_charge::ampere_hour;
use loomwright::quantity::uom::si::electric_current::ampere;
use loomwright::quantity::uom::si::electric_potential::millivolt;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::uom::si::ratio::percent;
use loomwright::quantity::uom::si::time::hour;
use loomwright::quantity::{
    CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, Gauge, Length, Ratio, Time, celsius, in_celsius,
    in_ohm_per_km, mm2,
};
use loomwright::source::{Chemistry, Storage};

type Failure = Box<dyn std::error::Error>;

fn conductor(a: &[f64]) -> Result<Conductor, Failure> {
    let kind = if a[0] == 2.0 { Kind::Iec2 } else { Kind::Iec5 };
    let material = if a[1] == 1.0 { Material::TinnedCopper } else { Material::Copper };
    Ok(find(kind, material, CrossSection::Area(mm2(a[2])))?)
}

/// The number that a function of the C header gives for these arguments.
fn number(function: &str, text: &str, a: &[f64]) -> Result<f64, Failure> {
    let band = |a: &[f64]| -> Result<Band, Failure> {
        let fuse = Family::named(text)?.fuse(ElectricCurrent::new::<ampere>(a[1]))?;
        Band::of(&fuse).ok_or_else(|| "no times".into())
    };
    let gauges = || (-3..=40).rev().filter_map(Gauge::new);
    let area = |gauge: Gauge| gauge.awg_area().get::<square_millimeter>();
    Ok(match function {
        "lw_resistance" => in_ohm_per_km(conductor(a)?.resistance_at(celsius(a[4]))) * 1e-3 * a[3],
        "lw_drop" => {
            let (current, length) = (ElectricCurrent::new::<ampere>(a[3]), Length::new::<meter>(a[4]));
            (conductor(a)?.resistance_at(celsius(a[5])) * length * 2.0 * current).value
        }
        "lw_gauge_area" => gauges().find(|gauge| f64::from(gauge.number()) == a[0]).map(area).ok_or("no gauge")?,
        "lw_gauge_for_area" => gauges()
            .find(|gauge| area(*gauge) >= a[0] * (1.0 - 1e-9))
            .map(|gauge| f64::from(gauge.number()))
            .ok_or("no gauge")?,
        "lw_converter_input_current" => a[0] / (a[2] * 1e-2 * a[1]),
        "lw_opening_latest" => band(a)?.slowest(ElectricCurrent::new::<ampere>(a[2])).ok_or("it may never open")?.value,
        "lw_opening_earliest" => band(a)?.fastest(ElectricCurrent::new::<ampere>(a[2])).ok_or("it holds")?.value,
        "lw_torque_least" | "lw_torque_most" => {
            let thread = format!("M{}", a[1]).parse()?;
            let range = torque(text.parse()?, thread).ok_or("no torque")?;
            if function == "lw_torque_least" { range.least.value } else { range.most.value }
        }
        "lw_peukert_time" => {
            let usual = Storage::typical(Chemistry::Flooded, ElectricCharge::new::<ampere_hour>(a[0]));
            let storage = Storage { hour_rate: Time::new::<hour>(a[1]), peukert: Ratio::from(a[2]), ..usual };
            storage.discharge_time(ElectricCurrent::new::<ampere>(a[3])).get::<hour>()
        }
        "lw_battery_needed" => {
            let chemistry = if a[0] == 1.0 { Chemistry::Agm } else { Chemistry::Flooded };
            let wanted = ElectricCharge::new::<ampere_hour>(a[1]);
            let [floor, ceiling] = [a[2], a[3]].map(Ratio::new::<percent>);
            let storage = Storage { floor, ceiling, ..Storage::typical(chemistry, wanted) };
            storage.capacity_for(wanted, celsius(a[4])).get::<ampere_hour>()
        }
        "lw_spot_temperature" => {
            in_celsius(spot_temperature(ElectricPotential::new::<millivolt>(a[0]), celsius(a[1]))?)
        }
        "lw_contact_voltage" => contact_voltage(celsius(a[0]), celsius(a[1])).get::<millivolt>(),
        other => return Err(format!("{other} is not known").into()),
    })
}

fn main() -> Result<(), Failure> {
    let path = std::env::args().nth(1).ok_or("which list?")?;
    for line in std::fs::read_to_string(path)?.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let mut cells = line.split(',');
        let mut cell = || cells.next().ok_or("a short line");
        let (id, function, given) = (cell()?, cell()?, cell()?);
        let text = given.split(' ').next().unwrap_or_default();
        let numbers: Vec<f64> = given.split(' ').map(|part| part.parse().unwrap_or(0.0)).collect();
        println!("{id} {:016x}", number(function, text, &numbers)?.to_bits());
    }
    Ok(())
}
