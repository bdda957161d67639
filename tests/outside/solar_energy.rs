//! The chain from the sun to energy, days and months, against pvlib's chain (see the heads of the files).

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
use loomwright::quantity::uom::si::heat_flux_density::watt_per_square_meter;
use loomwright::quantity::uom::si::power::watt;
use loomwright::quantity::uom::si::velocity::meter_per_second;
use loomwright::quantity::{HeatFluxDensity, Power, Ratio, Velocity, celsius, degrees};
use loomwright::source::solar::{Module, Mount, Plane, Site, Sky, extraterrestrial};
use loomwright_tests::{Row, Worst, amperes, metres, read, volts};

/// The two chains differ in the sun (Grena, SPA) and in its height for the diffuse share (ours with refraction, theirs without),
/// which tells in hours near the horizon: 1 % of a day or a month.
const SHARE: f64 = 0.01;

fn light(value: f64) -> HeatFluxDensity {
    HeatFluxDensity::new::<watt_per_square_meter>(value)
}

fn site(row: &Row) -> Site {
    let at = |column: &str| degrees(row.number(column));
    Site::new(at("lat"), at("lon"), metres(row.number("alt_m"))).expect("a place on earth")
}

/// 100 W at −0.4 %/K.
fn module() -> Module {
    Module {
        power: Power::new::<watt>(100.0),
        open_voltage: volts(22.0),
        operating_voltage: volts(18.0),
        short_circuit: amperes(6.0),
        power_per_kelvin: Ratio::from(-0.004),
        voltage_per_kelvin: Ratio::from(-0.003),
        series_fuse: None,
    }
}

fn start(row: &Row) -> Timestamp {
    row.text("start_utc").parse().expect("a time")
}

/// What the module delivers in such light and the row's air and wind, W.
fn hour(row: &Row, fallen: HeatFluxDensity, mount: Mount) -> f64 {
    let wind = Velocity::new::<meter_per_second>(row.number("wind"));
    module().delivers(fallen, mount.cell(fallen, celsius(row.number("temp_air")), wind)).get::<watt>()
}

fn hold_days(rows: &[Row]) {
    let (mut fallen, mut delivered) = (Worst::of("light of a day"), Worst::of("energy of a day"));
    for row in rows {
        let (place, brightness) = (site(row), row.number("brightness"));
        let plane = Plane::new(degrees(row.number("tilt")), degrees(row.number("surf_azimuth"))).expect("a plane");
        let (mut on_plane, mut energy) = (0.0, 0.0);
        for half_hour in 0..24 {
            let at = start(row) + SignedDuration::from_mins(60 * half_hour + 30);
            let sun = place.sun(at).expect("a year in range");
            let mut sky = place.clear_sky(&sun, at);
            if brightness < 1.0 {
                sky = Sky::of_global(sky.global * brightness, sky.outside, &sun);
            }
            let total = plane.receives(&sun, &sky).total();
            on_plane += total.get::<watt_per_square_meter>() / 1e3;
            energy += hour(row, total, Mount::Rack);
        }
        fallen.share(on_plane, row.number("poa_kwh_m2"), row);
        delivered.share(energy, row.number("dc_wh"), row);
    }
    // Four places, four seasons, three brightnesses, two tilts.
    fallen.hold(96, SHARE);
    delivered.hold(96, SHARE);
}

#[test]
fn days_are_those_of_pvlib() {
    hold_days(&read("solar_days.csv"));
}

#[cfg(feature = "live")]
#[test]
fn days_are_those_of_pvlib_now() {
    let columns = ["poa_kwh_m2", "dc_wh"];
    hold_days(&loomwright_tests::live::fresh_as_stored("solar_days.py", "solar_days.csv", &columns));
}

/// Sums of a month, kWh/m² and Wh.
#[derive(Default)]
struct Month {
    level: f64,
    tilted: f64,
    rack: f64,
    roof: f64,
    tilted_rack: f64,
}

/// Months of hours, tilted as far as the place lies from the equator and facing it.
fn months(hours: &[Row]) -> BTreeMap<(String, String), Month> {
    let mut months: BTreeMap<(String, String), Month> = BTreeMap::new();
    for row in hours {
        let at = start(row) + SignedDuration::from_mins(30);
        let sun = site(row).sun(at).expect("a year in range");
        let of = |column: &str| light(row.number(column));
        let sky = Sky { global: of("ghi"), beam: of("dni"), diffuse: of("dhi"), outside: extraterrestrial(at) };
        let plane = Plane::new(degrees(row.number("lat").round()), degrees(180.0)).expect("a plane");
        let tilted = plane.receives(&sun, &sky).total();
        let month = months.entry((row.text("dataset").to_owned(), row.text("month").to_owned())).or_default();
        month.level += row.number("ghi") / 1e3;
        month.tilted += tilted.get::<watt_per_square_meter>() / 1e3;
        month.rack += hour(row, sky.global, Mount::Rack);
        month.roof += hour(row, sky.global, Mount::Roof);
        month.tilted_rack += hour(row, tilted, Mount::Rack);
    }
    months
}

/// So many months of each station. The level's light is a sum of the file's own hours: it shows that they are the same.
fn hold_months(hours: &[Row], each: usize) {
    let months = months(hours);
    let [mut level, mut flat, mut tilted] =
        ["light of a month", "energy of a month, flat", "a month, tilted"].map(Worst::of);
    let mut days = BTreeMap::new();
    for row in read("pvlib_monthly_100W_flat_panel.csv") {
        let key = (row.text("dataset").to_owned(), row.text("month").to_owned());
        days.insert(key.clone(), row.number("days"));
        if let Some(month) = months.get(&key) {
            level.share(month.level / days[&key], row.number("ghi_kWh_m2_day"), &row);
            flat.share(month.rack / days[&key], row.number("flat100W_faiman_Wh_day"), &row);
            flat.share(month.roof / days[&key], row.number("flat100W_insulated_Wh_day"), &row);
        }
    }
    for row in read("pvlib_monthly_100W_tilted_panel.csv") {
        let key = (row.text("dataset").to_owned(), row.text("month").to_owned());
        if let Some(month) = months.get(&key) {
            assert_eq!(row.number("tilt"), row.number("lat").round());
            tilted.share(month.tilted / days[&key], row.number("poa_haydavies_kWh_m2_day"), &row);
            tilted.share(month.tilted_rack / days[&key], row.number("tilt100W_faiman_Wh_day"), &row);
        }
    }
    level.hold(3 * each, 1e-4);
    // Flat, the sun plays no part, and the same hours give the same energy.
    flat.hold(6 * each, 1e-4);
    // Two stations have a tilted table.
    tilted.hold(4 * each, SHARE);
}

#[test]
fn months_of_typical_years_are_those_of_pvlib() {
    hold_months(&read("typical_year.csv"), 2);
}

#[cfg(feature = "live")]
#[test]
fn all_months_of_typical_years_are_those_of_pvlib_now() {
    use loomwright_tests::live::{fresh_as_stored, printed};
    hold_months(&fresh_as_stored("typical_year.py", "typical_year.csv", &["ghi", "dni", "dhi", "temp_air", "wind"]), 2);
    hold_months(&loomwright_tests::parse(&printed("typical_year.py", &["all"])), 12);
}
