//! The five core operations, so many times, for counting instructions (`benches/instructions.sh`); and one kernel typed and bare.
//!
//!     core OPERATION TIMES

use std::hint::black_box;
use std::path::Path;

use loomwright::heat::Installation;
use loomwright::network::operating_point;
use loomwright::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Length, LineResistance, Power,
};
use loomwright::study::cable::{CableQuery, Load, size};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::judge;
use loomwright::text::read_plan;

#[path = "networks.rs"]
mod networks;
#[path = "site.rs"]
mod site;

fn circuit() -> CableQuery {
    CableQuery::new(
        Load::Current(ElectricCurrent::from_text("40 A").expect("a current")),
        Length::from_text("5.5 m").expect("a length"),
        ElectricPotential::from_text("12 V").expect("a voltage"),
    )
}

fn times<T>(count: usize, mut run: impl FnMut() -> T) {
    for _ in 0..count {
        black_box(run());
    }
}

/// Drop, load voltage and loss of a thousand circuits, with quantities.
fn typed(line: LineResistance, joints: ElectricalResistance, length: Length, supply: ElectricPotential) -> Power {
    let ampere = ElectricCurrent::new::<loomwright::quantity::uom::si::electric_current::ampere>(1.0);
    let mut sum = Power::default();
    for step in 1..=1000 {
        let current = black_box(ampere) * f64::from(step);
        let resistance = line * length * 2.0 + joints;
        let drop = current * resistance;
        let left = supply - drop;
        sum += current * drop + current * left * 0.5;
    }
    sum
}

/// The same with bare numbers.
fn bare(line: f64, joints: f64, length: f64, supply: f64) -> f64 {
    let ampere = 1.0;
    let mut sum = 0.0;
    for step in 1..=1000 {
        let current = black_box(ampere) * f64::from(step);
        let resistance = line * length * 2.0 + joints;
        let drop = current * resistance;
        let left = supply - drop;
        sum += current * drop + current * left * 0.5;
    }
    sum
}

fn main() {
    let mut arguments = std::env::args().skip(1).filter(|argument| !argument.starts_with("--"));
    // Without arguments it is being tested: every operation once.
    let asked = arguments.next();
    let count = arguments.next().map_or(1, |count| count.parse().expect("a number"));
    let wanted = |name: &str| asked.as_deref().is_none_or(|asked| asked == name);
    if wanted("sizing-enclosed") {
        let query = circuit();
        times(count, || size(black_box(&query)));
    }
    if wanted("sizing-free-air") {
        let query = CableQuery { installation: Some(Installation::FreeAir), ..circuit() };
        times(count, || size(black_box(&query)));
    }
    if wanted("operating-point") {
        let network = networks::sixty();
        times(count, || operating_point(black_box(&network)));
    }
    if wanted("judgement") {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/plans/river-launch.toml");
        let text = std::fs::read_to_string(path).expect("the example is there");
        let plan = read_plan(&text).expect("the example reads");
        let fixed = judge(&plan).expect("the example is judged").installation;
        times(count, || judge(black_box(&fixed)));
    }
    if wanted("forecast-year") {
        let site = site::site();
        let hourly = Options { steps_per_day: 24, ..Options::default() };
        times(count, || forecast(black_box(&site), &hourly));
    }
    let (line, joints) = (LineResistance::default(), ElectricalResistance::default());
    let (length, supply) = (Length::default(), ElectricPotential::default());
    if wanted("kernel-typed") {
        times(count, || typed(black_box(line), black_box(joints), black_box(length), black_box(supply)));
    }
    if wanted("kernel-bare") {
        times(count, || bare(black_box(0.0), black_box(0.0), black_box(0.0), black_box(0.0)));
    }
}
