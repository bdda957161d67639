//! Forecasts, batteries and sun, against the engine and against hostile callers.

use std::ffi::c_char;
use std::ptr::{null, null_mut};

use loomwright::quantity::uom::si::heat_flux_density::watt_per_square_meter;
use loomwright::quantity::uom::si::length::meter;
use loomwright::quantity::{Length, Ratio, degrees, in_degrees};
use loomwright::source::solar::Site;
use loomwright::study::forecast::{Options, Size, forecast};
use loomwright::study::judge::judge;
use loomwright::text::{read_plan, read_weather};

use super::{message, number, read, text};
use crate::*;

const CABIN: &str = include_str!("../../../loomwright/examples/cabin.toml");

/// What a test asks; `None` is a null pointer.
#[derive(Clone)]
struct Asked<'a> {
    stay: Option<&'a str>,
    weather: Option<&'a str>,
    steps_per_day: i32,
    level_percent: f64,
    size: i32,
    series: i32,
    samples: i32,
    threads: i32,
}

impl Default for Asked<'_> {
    fn default() -> Self {
        Self {
            stay: None,
            weather: None,
            steps_per_day: 24,
            level_percent: 80.0,
            size: 0,
            series: 0,
            samples: 0,
            threads: 1,
        }
    }
}

/// Status and report as JSON; empty where there is none.
fn asked(plan: *const lw_plan, of: &Asked<'_>) -> (i32, String) {
    let counted = |text: Option<&str>| text.map_or((null(), 0), |text| (text.as_ptr().cast::<c_char>(), text.len()));
    let ((stay, stay_length), (weather, weather_length)) = (counted(of.stay), counted(of.weather));
    let mut report = null_mut();
    // SAFETY: the plan lives, the texts are as long as said, and the report is a local pointer.
    unsafe {
        let status = lw_plan_forecast(
            plan,
            stay,
            stay_length,
            weather,
            weather_length,
            of.steps_per_day,
            of.level_percent,
            of.size,
            of.series,
            of.samples,
            5,
            of.threads,
            &raw mut report,
        );
        assert_eq!(report.is_null(), status != 0, "a report with success, and only then");
        if status != 0 {
            return (status, String::new());
        }
        let json = text(|buffer, capacity, length| lw_report_json(report, buffer, capacity, length));
        lw_report_free(report);
        (status, json)
    }
}

/// Nine dull days, an hour a line.
fn weather() -> String {
    let mut text = "time,global_w_per_m2,air_c\n".to_owned();
    for day in 1..=9 {
        for hour in 0..24 {
            let sun = if (8..16).contains(&hour) { 90 } else { 0 };
            text.push_str(&format!("2026-03-{day:02}T{hour:02}:00Z,{sun},2\n"));
        }
    }
    text
}

#[test]
fn a_forecast_is_the_engine_s_own() {
    let (_, plan) = read(CABIN);
    let judgement = judge(&read_plan(CABIN).unwrap()).unwrap();
    let measured = weather();
    let read_of_it = read_weather(&measured).unwrap();
    let own = |options: &Options<'_>| {
        serde_json::to_string_pretty(&forecast(&judgement, options).unwrap().record(options)).unwrap()
    };
    let hourly = Options { steps_per_day: 24, seed: 5, ..Options::default() };
    assert_eq!(asked(plan, &Asked::default()), (0, own(&hourly)));
    let everything = Asked {
        stay: Some("spring"),
        weather: Some(&measured),
        steps_per_day: 48,
        level_percent: 90.0,
        size: 1,
        series: 1,
        samples: 20,
        threads: 2,
    };
    let options = Options {
        stay: Some("spring"),
        weather: Some(&read_of_it),
        steps_per_day: 48,
        level: Ratio::from(0.9),
        size: Some(Size::Battery),
        series: true,
        samples: 20,
        ..hourly.clone()
    };
    assert_eq!(asked(plan, &everything), (0, own(&options)));
    for (code, size) in [(2, Size::Charger), (3, Size::Panels), (4, Size::Split)] {
        let options = Options { size: Some(size), ..hourly.clone() };
        let (status, json) = asked(plan, &Asked { size: code, ..Asked::default() });
        // What there is none of is a status with the engine's words.
        match forecast(&judgement, &options) {
            Ok(found) => {
                assert_eq!((status, json), (0, serde_json::to_string_pretty(&found.record(&options)).unwrap()));
            }
            Err(error) => assert_eq!((status, message()), (7, error.to_string())),
        }
    }
    // SAFETY: it is ours.
    unsafe { lw_plan_free(plan) };
}

#[test]
fn a_forecast_that_cannot_be_is_a_status() {
    let (_, plan) = read(CABIN);
    let (_, without) = read(include_str!("../../../loomwright/examples/lamp.toml"));
    let (_, refused) = read("format = 1\n[plan]\n");
    let status = |of: Asked<'_>| asked(plan, &of).0;
    for steps_per_day in [0, -96, 23, 25, 97, 1441, i32::MIN, i32::MAX] {
        assert_eq!(status(Asked { steps_per_day, ..Asked::default() }), 2, "{steps_per_day}");
    }
    for level_percent in [f64::NAN, f64::INFINITY, 0.5, 100.5, -1.0] {
        assert_eq!(status(Asked { level_percent, ..Asked::default() }), 2, "{level_percent}");
        assert!(message().contains("level_percent"), "{}", message());
    }
    for size in [-1, 5, i32::MAX] {
        assert_eq!(status(Asked { size, ..Asked::default() }), 3, "{size}");
    }
    for series in [-1, 2] {
        assert_eq!(status(Asked { series, ..Asked::default() }), 2, "{series}");
    }
    for samples in [-1, 100_001, i32::MAX] {
        assert_eq!(status(Asked { samples, ..Asked::default() }), 2, "{samples}");
    }
    for threads in [0, -1, 257] {
        assert_eq!(status(Asked { threads, ..Asked::default() }), 2, "{threads}");
    }
    for stay in ["sprung", ""] {
        assert_eq!(status(Asked { stay: Some(stay), ..Asked::default() }), 3, "{stay}");
        assert!(message().contains("known: spring"), "{}", message());
    }
    // Weather with mistakes, none at all, and of another year.
    let measured = weather();
    let wrong = measured.replacen(",90,2", ",90,warm", 2);
    assert_eq!(status(Asked { weather: Some(&wrong), ..Asked::default() }), 8);
    assert!(message().starts_with("the weather has 2 mistakes:\n10:1: air_c: "), "{}", message());
    assert_eq!(status(Asked { weather: Some(""), ..Asked::default() }), 8);
    assert_eq!(status(Asked { weather: Some(&measured.replace("2026-", "2025-")), ..Asked::default() }), 7);
    assert!(message().contains("does not cover the stay spring"), "{}", message());
    assert_eq!((asked(without, &Asked::default()).0, message().contains("no stay")), (7, true));
    assert_eq!(asked(refused, &Asked::default()).0, 8);
    assert_eq!(asked(null(), &Asked::default()).0, 1);
    let mut report = null_mut();
    let broken = [0xC3_u8, 0x28];
    let broken = broken.as_ptr().cast::<c_char>();
    // SAFETY: null, or as long as said, or so long that it is refused unread.
    unsafe {
        for (stay, stay_length, weather, weather_length, expected) in [
            (null(), 3, null(), 0, 1),
            (null(), 0, null(), 3, 1),
            (broken, 2, null(), 0, 5),
            (null(), 0, broken, 2, 5),
            (broken, usize::MAX, null(), 0, 2),
            (null(), 0, broken, usize::MAX, 2),
        ] {
            let given = lw_plan_forecast(
                plan,
                stay,
                stay_length,
                weather,
                weather_length,
                24,
                80.0,
                0,
                0,
                0,
                1,
                1,
                &raw mut report,
            );
            assert_eq!((given, report.is_null()), (expected, true), "{}", message());
        }
        assert_eq!(lw_plan_forecast(plan, null(), 0, null(), 0, 24, 80.0, 0, 0, 0, 1, 1, null_mut()), 1);
        [plan, without, refused].into_iter().for_each(|plan| lw_plan_free(plan));
    }
}

#[test]
fn batteries_in_numbers_out() {
    // SAFETY: local numbers and null.
    unsafe {
        let hours = |peukert, current_a| number(|out| lw_peukert_time(100.0, 20.0, peukert, current_a, out));
        // The rating itself, without a loss, and ten amperes by hand: 20·(100/(10·20))^1.3.
        assert_eq!(hours(1.3, 5.0), (0, 20.0));
        assert!((hours(1.0, 25.0).1 - 4.0).abs() < 1e-12);
        assert!((hours(1.3, 10.0).1 - 20.0 * 0.5_f64.powf(1.3)).abs() < 1e-12);
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0, 1e9] {
            assert_eq!(number(|out| lw_peukert_time(bad, 20.0, 1.3, 5.0, out)), (2, 7.5), "{bad}");
            assert_eq!(number(|out| lw_peukert_time(100.0, bad, 1.3, 5.0, out)), (2, 7.5), "{bad}");
            assert_eq!(hours(bad, 5.0), (2, 7.5), "{bad}");
            assert!(message().contains("peukert"), "{}", message());
            assert_eq!(hours(1.3, bad), (2, 7.5), "{bad}");
        }
        assert_eq!((hours(0.99, 5.0).0, hours(1.61, 5.0).0, hours(1.6, 5.0).0), (2, 2, 0));
        assert_eq!(lw_peukert_time(100.0, 20.0, 1.3, 5.0, null_mut()), 1);

        let usable = |code, low, high, at| number(|out| lw_battery_usable(code, 200.0, low, high, at, out));
        assert_eq!(usable(1, 50.0, 100.0, 30.0), (0, 100.0));
        // 0.8403 of a lead battery at 10 °C, by the worksheets' multiplier of 1.19.
        for lead in 0..3 {
            assert!((usable(lead, 50.0, 100.0, 10.0).1 - 84.03).abs() < 1e-9);
        }
        assert!((usable(3, 20.0, 90.0, 25.0).1 - 140.0).abs() < 1e-9);
        assert_eq!((usable(4, 50.0, 100.0, 20.0).0, usable(-1, 50.0, 100.0, 20.0).0), (3, 3));
        assert_eq!((usable(0, 50.0, 50.0, 20.0).0, usable(0, 60.0, 50.0, 20.0).0), (2, 2));
        for bad in [f64::NAN, f64::INFINITY, -41.0, 101.0] {
            assert_eq!(usable(0, bad, 100.0, 20.0).0, 2, "{bad}");
            assert_eq!(usable(0, 0.0, bad, 20.0).0, 2, "{bad}");
            assert_eq!(usable(0, 0.0, 100.0, bad).0, 2, "{bad}");
            assert_eq!(number(|out| lw_battery_usable(0, bad - 101.0, 0.0, 100.0, 20.0, out)).0, 2, "{bad}");
        }
        // And back.
        let (_, given) = usable(2, 40.0, 95.0, -12.5);
        let (status, needed) = number(|out| lw_battery_needed(2, given, 40.0, 95.0, -12.5, out));
        assert!(status == 0 && (needed - 200.0).abs() < 1e-9, "{needed}");
        assert_eq!(number(|out| lw_battery_needed(2, f64::NAN, 40.0, 95.0, 0.0, out)).0, 2);
        assert!(message().contains("charge_ah"), "{}", message());
        assert_eq!(lw_battery_needed(2, 10.0, 40.0, 95.0, 0.0, null_mut()), 1);
        assert_eq!(lw_battery_usable(2, 10.0, 40.0, 95.0, 0.0, null_mut()), 1);
    }
}

#[test]
fn the_sun_is_the_engine_s_own() {
    type Function = unsafe extern "C" fn(f64, f64, f64, f64, *mut f64) -> i32;
    const ALL: [Function; 5] =
        [lw_sun_elevation, lw_sun_azimuth, lw_clear_sky_global, lw_clear_sky_beam, lw_clear_sky_diffuse];
    let ask = |function: Function, [north, east, height, at]: [f64; 4]| {
        // SAFETY: a local number.
        number(|out| unsafe { function(north, east, height, at, out) })
    };
    // 2021-06-21 12:00 UTC at 51.5° north, and midnight there.
    for at in [1_624_276_800, 1_624_233_600] {
        let place = [51.5, -0.12, 250.0, f64::from(at)];
        let site = Site::new(degrees(51.5), degrees(-0.12), Length::new::<meter>(250.0)).unwrap();
        let time = jiff::Timestamp::from_second(i64::from(at)).unwrap();
        let sun = site.sun(time).unwrap();
        let sky = site.clear_sky(&sun, time);
        let watts = [sky.global, sky.beam, sky.diffuse].map(|light| light.get::<watt_per_square_meter>());
        let own = [in_degrees(sun.elevation()), in_degrees(sun.azimuth()), watts[0], watts[1], watts[2]];
        for (function, own) in ALL.into_iter().zip(own) {
            assert_eq!(ask(function, place), (0, own));
        }
    }
    let noon = ask(lw_sun_elevation, [51.5, -0.12, 0.0, 1_624_276_800.0]).1;
    assert!((noon - 61.9).abs() < 0.1, "{noon}");
    for function in ALL {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e9, -1e9] {
            for place in 0..4 {
                let mut given = [51.5, -0.12, 0.0, 1_624_276_800.0];
                given[place] = bad;
                assert_eq!(ask(function, given), (2, 7.5), "{given:?}");
            }
        }
        // The ends of its years, and the poles.
        for at in [1_262_304_000.0, 4_417_977_599.0] {
            assert_eq!(ask(function, [90.0, 180.0, 6000.0, at]).0, 0);
            assert_eq!(ask(function, [-90.0, -180.0, -500.0, at]).0, 0);
        }
        assert_eq!((ask(function, [0.0, 0.0, 0.0, 1_262_303_999.0]).0, ask(function, [0.0; 4]).0), (2, 2));
        // SAFETY: null is told.
        assert_eq!(unsafe { function(0.0, 0.0, 0.0, 1_624_276_800.0, null_mut()) }, 1);
    }
}
