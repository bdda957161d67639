//! The site of `pvlib_year.py` as a plan, for the benches.

use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;

/// Load of each hour of the day, W, as in `pvlib_year.py`.
const LOAD: [f64; 24] = [
    9.5, 9.5, 9.5, 9.5, 9.5, 9.5, 18.0, 23.0, 16.0, 14.0, 14.0, 16.0, 21.0, 16.0, 14.0, 14.0, 16.0, 23.0, 36.0, 41.0,
    39.0, 32.0, 21.0, 12.0,
];

/// The site of `pvlib_year.py` as a plan.
pub fn site() -> Judgement {
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
