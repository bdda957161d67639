//! A year of an off-grid site hour by hour: bar 20 ms, and 20 times as fast as the same model written with pandas and pvlib in
//! the same run; a thousand sampled years: bar 20 s on two threads.

use std::process::Command;
use std::time::Instant;

use criterion::{Criterion, criterion_group, criterion_main};
use loomwright::study::forecast::{Options, forecast};
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;

/// Load of each hour of the day, W, as in `pvlib_year.py`.
const LOAD: [f64; 24] = [
    9.5, 9.5, 9.5, 9.5, 9.5, 9.5, 18.0, 23.0, 16.0, 14.0, 14.0, 16.0, 21.0, 16.0, 14.0, 14.0, 16.0, 23.0, 36.0, 41.0,
    39.0, 32.0, 21.0, 12.0,
];

/// The site of `pvlib_year.py` as a plan.
fn site() -> Judgement {
    let mut text = String::from(
        r#"format = 1
[plan]
name = "Gauge station (invented)"
place = "cabin"
system_voltage = "12 V"
[zones.hut]
kind = "hut"
[batteries.house]
chemistry = "lithium-iron-phosphate"
capacity = "200 Ah"
resistance = "1 mohm"
charge_current_limit = "30 A"
[converters.controller]
kind = "solar-controller"
output_current = "30 A"
output_voltage = "14.4 V"
[arrays.roof]
controller = "controller"
power = "200 W"
open_voltage = "24.3 V"
short_circuit = "10.4 A"
strings = 2
tilt = "30°"
azimuth = "180°"
[busbars.array-plus]
[busbars.array-minus]
[circuits.controller]
from = "house.+"
return = "house.-"
to = "controller.out"
route = ["0.5 m in hut"]
[circuits.array]
from = "array-plus"
return = "array-minus"
to = "controller"
route = ["3 m in hut"]
fuse = "none"
[places.site]
latitude = "45°"
longitude = "8°"
altitude = "100 m"
clock = "0 h"
climate = "north-west-italy"
[stays.year]
place = "site"
from = "2026-01-01"
to = "2026-12-31"
start_charge = "50 %"
"#,
    );
    for (hour, power) in LOAD.iter().enumerate() {
        let next = hour + 1;
        text.push_str(&format!(
            "[loads.hour-{hour}]\npower = \"{power} W\"\nhours = [\"{hour:02}:00 to {next:02}:00\"]\n\
             [circuits.hour-{hour}]\nfrom = \"house.+\"\nreturn = \"house.-\"\nto = \"hour-{hour}\"\nroute = [\"1 m in hut\"]\n"
        ));
    }
    let plan = read_plan(&text).unwrap_or_else(|errors| panic!("{errors:#?}"));
    judge(&plan).expect("the site can be judged")
}

fn years(criterion: &mut Criterion) {
    let judgement = site();
    let hourly = Options { steps_per_day: 24, ..Options::default() };
    let mut group = criterion.benchmark_group("forecast");
    group.bench_function("a year, hour by hour", |bench| {
        bench.iter(|| forecast(&judgement, &hourly).expect("it can be forecast"));
    });
    group.bench_function("a year, every 15 min", |bench| {
        bench.iter(|| forecast(&judgement, &Options::default()).expect("it can be forecast"));
    });
    group.sample_size(10);
    for threads in [1, 2] {
        let sampled = Options { samples: 1000, threads, ..hourly.clone() };
        group.bench_function(format!("1 000 sampled years, {threads} threads"), |bench| {
            bench.iter(|| forecast(&judgement, &sampled).expect("it can be forecast"));
        });
    }
    group.finish();
    peer(&judgement, &hourly);
}

/// The same model written with pandas and pvlib, in the same run.
fn peer(judgement: &Judgement, options: &Options<'_>) {
    let ours = (0..20)
        .map(|_| {
            let begun = Instant::now();
            let _ = forecast(judgement, options);
            begun.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    let python = std::env::var("LOOMWRIGHT_PYTHON").unwrap_or_else(|_| "../target/venv/bin/python".to_owned());
    let Ok(run) = Command::new(&python).arg("pvlib_year.py").output() else {
        println!("no {python}: the peer was not run");
        return;
    };
    let told = String::from_utf8_lossy(&run.stdout).into_owned();
    let seconds = told.split("\"seconds\": ").nth(1).and_then(|rest| rest.split(',').next());
    match seconds.and_then(|seconds| seconds.parse::<f64>().ok()) {
        Some(theirs) => {
            println!("pandas and pvlib {:.1} ms, ours {:.2} ms: {:.0} times", 1e3 * theirs, 1e3 * ours, theirs / ours);
        }
        None => println!("the peer failed: {}", String::from_utf8_lossy(&run.stderr)),
    }
}

criterion_group!(benches, years);
criterion_main!(benches);
