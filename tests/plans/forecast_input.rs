//! Bad input to places, stays, spells, arrays and weather: each mistake is told with its place, its value and a form that is
//! taken.

use crate::stays::{battery, load, march, plan, shore, solar};
use crate::support::{finding, judged};
use loomwright::finding::Signal;
use loomwright::study::forecast::{ForecastError, Options, forecast};
use loomwright::text::{PlanError, read_plan, read_weather};

/// A plan with a lamp and shore power, over which a stay is written.
fn with_stay(stay: &str) -> String {
    let parts = [
        battery("house", "agm", 100.0, ""),
        shore("shore", "house", 10.0, 14.4),
        load("lamp", "house", "current = \"2 A\""),
        stay.to_owned(),
    ];
    plan(&parts.concat())
}

fn with_load(says: &str) -> String {
    plan(&[battery("house", "agm", 100.0, ""), load("lamp", "house", says), march(2, 3, "")].concat())
}

fn with_place(latitude: &str, longitude: &str, climate: &str) -> String {
    let text = with_stay(&march(2, 3, ""));
    text.replace("latitude = \"47.4°\"", &format!("latitude = \"{latitude}\""))
        .replace("longitude = \"8.6°\"", &format!("longitude = \"{longitude}\""))
        .replace("climate = \"zurich\"", climate)
}

/// The one mistake of a plan: its key, and that it stands on the line of that key and says all of these.
#[track_caller]
fn refused(text: &str, key: &str, said: &[&str]) -> PlanError {
    let errors = read_plan(text).expect_err("it is refused");
    let error = errors.iter().find(|error| error.key == key).unwrap_or_else(|| panic!("no {key} in {errors:#?}"));
    let line = text.lines().nth(error.line - 1).unwrap_or_default();
    let last = key.rsplit('.').next().unwrap_or_default();
    assert!(line.trim_start().starts_with(last) || line.starts_with('['), "{line:?} is not of {key}");
    for part in said {
        assert!(error.message.contains(part), "{:?} does not say {part:?}", error.message);
    }
    error.clone()
}

#[test]
fn spells_that_overlap() {
    let of = |says: &str| with_stay(&march(2, 8, says));
    refused(
        &of("driving = [\"08:00 to 10:00\", \"09:30 to 11:00 on friday\"]"),
        "stays.spring.driving",
        &["two drives overlap", "2026-03-06 at 09:30"],
    );
    refused(
        &of("shore = [\"22:00 to 06:00\", \"05:00 to 07:00 on 2026-03-04\"]"),
        "stays.spring.shore",
        &["two spells of shore power overlap", "2026-03-04 at 05:00"],
    );
    refused(
        &of("driving = [\"08:00 to 10:00\"]\nshore = [\"20:00 to 08:30 on tuesday\"]"),
        "stays.spring.shore",
        &["driven with shore power connected", "2026-03-04 at 08:00"],
    );
    // Dates that are named are looked at however late they are.
    let late = "driving = [\"08:00 to 10:00 on 2026-03-25\", \"09:00 to 11:00 on 2026-03-25\"]";
    refused(&with_stay(&march(2, 30, late)), "stays.spring.driving", &["two drives overlap", "2026-03-25 at 09:00"]);
    // Where one ends and the other begins nothing overlaps.
    assert!(read_plan(&of("driving = [\"08:00 to 10:00\", \"10:00 to 11:00\"]\nshore = [\"11:00 to 08:00\"]")).is_ok());
}

/// What a hostile plan could ask for ends in a sentence, not in hours of work.
#[test]
fn more_than_is_worked_out() {
    let many: Vec<String> = (0..41).map(|minute| format!("\"08:{minute:02} to 08:{:02}\"", minute + 1)).collect();
    let says = format!("driving = [{}]", many.join(", "));
    refused(&with_stay(&march(2, 8, &says)), "stays.spring.driving", &["at most 40 entries"]);
    let year = march(2, 3, "").replace("2026-03-03", "2027-03-02");
    let years = (0..7).map(|turn| {
        let [from, to] =
            [2026, 2027].map(|first| format!("{}-03-{}", first + 2 * turn, if first == 2026 { "02" } else { "01" }));
        year.replace("spring", &format!("year-{turn}")).replace("2026-03-02", &from).replace("2027-03-02", &to)
    });
    let judgement = judged(&with_stay(&years.collect::<String>()));
    let options = Options { steps_per_day: 1440, series: true, ..Options::default() };
    let told = forecast(&judgement, &options).expect_err("it is too much");
    assert!(matches!(told, ForecastError::TooMuch(3_679_200.., 2_000_000)), "{told}");
    assert!(told.to_string().contains("at most 2000000"), "{told}");
}

#[test]
fn stays_that_cannot_be() {
    let two = |from: u32, to: u32| format!("{}{}", march(2, 8, ""), march(from, to, "").replace("spring", "second"));
    refused(&with_stay(&two(6, 10)), "stays.second.from", &["overlaps the stay spring", "2026-03-08"]);
    refused(&with_stay(&two(8, 10)), "stays.second.from", &["overlaps the stay spring", "2026-03-08"]);
    assert!(read_plan(&with_stay(&two(9, 10))).is_ok());
    refused(&with_stay(&march(8, 2, "")), "stays.spring.to", &["on the day it begins or later", "2026-03-08"]);
    let long = march(2, 3, "").replace("2026-03-03", "2027-03-03");
    refused(&with_stay(&long), "stays.spring.to", &["366 days at most", "367"]);
    let nowhere = march(2, 3, "").replace("\"lake\"", "\"lakes\"");
    refused(&with_stay(&nowhere), "stays.spring.place", &["lakes", "lake"]);
    let unreal = march(2, 3, "").replace("2026-03-03", "2026-02-30");
    refused(&with_stay(&unreal), "stays.spring.to", &["2026-02-30", "for example \"2026-11-02\""]);
    let early = march(2, 3, "").replace("2026-03-02", "1999-03-02");
    refused(&with_stay(&early), "stays.spring.from", &["1999-03-02", "2011 to 2099"]);
    for (says, key, said) in [
        ("start_charge = \"101 %\"", "start_charge", "0 % to 100 %"),
        ("idle_share = \"-5 %\"", "idle_share", "0 % to 100 %"),
        ("battery_temperature = \"70 °C\"", "battery_temperature", "-40 °C to 60 °C"),
        ("driving = [\"08:00 to 09:00 on mondey\"]", "driving", "did you mean \"monday\""),
        ("driving = [\"8 o'clock to 09:00\"]", "driving", "for example \"07:30\""),
        ("shore = [\"25:00 to 26:00\"]", "shore", "25:00"),
        ("shore = [\"07:00 to 07:00\"]", "shore", "lasts no time"),
    ] {
        let said = said.replace("-40", "−40");
        refused(&with_stay(&march(2, 3, says)), &format!("stays.spring.{key}"), &[&said]);
    }
}

#[test]
fn places_off_the_globe() {
    refused(&with_place("91°", "8.6°", ""), "places.lake.latitude", &["91", "90"]);
    refused(&with_place("47°", "181°", ""), "places.lake.longitude", &["181", "180"]);
    let late = with_place("47°", "8°", "").replace("clock = \"1 h\"", "clock = \"15 h\"");
    refused(&late, "places.lake.clock", &["14 h", "for example"]);
    refused(&with_place("47°", "8°", "climate = \"zürich\""), "places.lake.climate", &["zürich", "zurich"]);
    let days = |count: usize| format!("irradiation = [{}]", vec!["\"2 kWh/m2\""; count].join(", "));
    let air = |count: usize| format!("air = [{}]", vec!["\"9 °C\""; count].join(", "));
    assert!(read_plan(&with_place("47°", "8°", &format!("{}\n{}", days(12), air(12)))).is_ok());
    let of = |count: usize| with_place("47°", "8°", &format!("{}\n{}", days(count), air(12)));
    refused(&of(13), "places.lake.irradiation", &["13", "twelve"]);
    refused(&of(11), "places.lake.irradiation", &["11", "twelve"]);
    refused(&with_place("47°", "8°", &days(12)), "places.lake.irradiation", &["air is needed"]);
    refused(&with_place("47°", "8°", &air(12)), "places.lake.air", &["irradiation is needed"]);
    let both = format!("climate = \"zurich\"\n{}\n{}", days(12), air(12));
    refused(&with_place("47°", "8°", &both), "places.lake.climate", &["write one of them"]);
    // More in a day than reaches the top of the air.
    let bright = format!("{}\n{}", days(12).replace("2 kWh", "20 kWh"), air(12));
    refused(&with_place("47°", "8°", &bright), "places.lake.irradiation", &["20"]);
}

#[test]
fn loads_with_impossible_hours() {
    let of = |says: &str| with_load(&format!("current = \"2 A\"\n{says}"));
    refused(&of("hours = [\"07:00 till 09:00\"]"), "loads.lamp.hours", &["07:00 till 09:00", "\"07:00 to 09:30\""]);
    refused(&of("hours = [\"07:00 to 24:30\"]"), "loads.lamp.hours", &["24:30", "for example \"07:30\""]);
    refused(&of("hours = [\"07:00 to 20:00\", \"18:00 to 07:30\"]"), "loads.lamp.hours", &["overlap", "26.5 h"]);
    refused(&of("hours = [\"07:00 to 09:00\"]\nper_day = \"3 h\""), "loads.lamp.per_day", &["at most the 2 h"]);
    refused(&of("per_day = \"1 h\"\nduty = \"20 %\""), "loads.lamp.per_day", &["write one of them"]);
    refused(&of("months = [\"octobre\"]"), "loads.lamp.months", &["octobre", "did you mean \"october\""]);
    refused(&of("standby = \"-1 W\""), "loads.lamp.standby", &["above 0 W", "1000 W"]);
}

/// Two parts that overlap although they last less than a day together: the lamp would run once and be counted once.
#[test]
fn hours_that_overlap_count_once() {
    let told =
        crate::stays::stay(&with_load("current = \"2 A\"\nhours = [\"07:00 to 09:00\", \"08:00 to 10:00\"]"), 96);
    let hours = told.banks[0].days[0].energies.used.value / 3600.0 / (2.0 * 12.85);
    assert!((hours - 3.0).abs() < 0.05, "{hours} h");
}

#[test]
fn batteries_that_cannot_be() {
    let of = |says: &str| plan(&[battery("house", "agm", 100.0, says), march(2, 3, "")].concat());
    let key = |key: &str| format!("batteries.house.{key}");
    refused(&of("floor = \"80 %\"\nceiling = \"70 %\""), &key("floor"), &["80 %", "70 %", "not below the ceiling"]);
    refused(&of("ceiling = \"40 %\""), &key("ceiling"), &["50 %", "40 %"]);
    refused(&of("floor = \"97 %\""), &key("floor"), &["0 % to 95 %"]);
    refused(&of("hour_rate = \"0.5 h\""), &key("hour_rate"), &["1 h to 100 h", "\"20 h\""]);
    refused(&of("peukert = \"300 %\"\nhour_rate = \"20 h\""), &key("peukert"), &["100 % to 160 %"]);
    refused(&of("charge_efficiency = \"20 %\""), &key("charge_efficiency"), &["50 % to 100 %"]);
    refused(&of("self_discharge = \"50 %\""), &key("self_discharge"), &["0 % to 30 %"]);
}

/// 20 A into a lithium battery that bears 10 A is a warning of the check, with both numbers; 9 A is none.
#[test]
fn more_charge_than_a_battery_bears() {
    let of = |amperes: f64| {
        let house = battery("house", "lithium-iron-phosphate", 100.0, "charge_current_limit = \"10 A\"");
        judged(&plan(&[house, shore("shore", "house", amperes, 14.4)].concat()))
    };
    let found = |amperes: f64| finding(&of(amperes), "charge-current-suits-battery", "house").cloned();
    let told = found(20.0).expect("it is told");
    assert_eq!((told.signal, told.measured, told.limit), (Signal::Warning, Some(20.0), Some(10.0)));
    assert!(found(9.0).is_none_or(|told| told.signal < Signal::Warning));
}

#[track_caller]
fn not_forecast(text: &str, options: &Options<'_>) -> ForecastError {
    forecast(&judged(text), options).expect_err("there is no forecast")
}

#[test]
fn forecasts_that_cannot_be() {
    let sunny = |climate: &str| {
        let parts = [battery("house", "agm", 100.0, ""), solar("sun", "house", 100.0, 10.0), march(2, 3, "")];
        plan(&parts.concat()).replace("climate = \"zurich\"", climate)
    };
    let none = not_forecast(&sunny(""), &Options::default());
    assert_eq!(none, ForecastError::NoClimate { place: "lake".to_owned() });
    assert!(none.to_string().contains("add climate = "), "{none}");
    let plain = sunny("climate = \"zurich\"");
    let unknown = not_forecast(&plain, &Options { stay: Some("winter"), ..Options::default() });
    assert!(matches!(&unknown, ForecastError::UnknownStay { given, known } if given == "winter" && known == "spring"));
    assert!(unknown.to_string().contains("\"winter\"") && unknown.to_string().contains("spring"));
    let bare = plain.replace(&march(2, 3, ""), "");
    assert_eq!(not_forecast(&bare, &Options::default()), ForecastError::NoStay);
    let of = |options: Options<'_>| not_forecast(&plain, &options).to_string();
    let usual = Options::default();
    assert!(of(Options { steps_per_day: 100, ..usual.clone() }).contains("100 steps a day; 24, 48, 96"));
    assert!(of(Options { samples: 100_001, ..usual.clone() }).contains("at most 100000"));
    assert!(of(Options { threads: 0, ..usual.clone() }).contains("1 to 256"));
    assert!(of(Options { level: f64::NAN.into(), ..usual.clone() }).contains("1 % to 100 %"));
    let charger = Options { size: Some(loomwright::study::forecast::Size::Charger), ..usual };
    assert!(of(charger).contains("nothing to size"));
}

const HEAD: &str = "time,global_w_per_m2,air_c\n";

fn hours(from: usize, to: usize) -> String {
    (from..to).map(|hour| format!("2026-03-{:02}T{:02}:00Z,100,5\n", 2 + hour / 24, hour % 24)).collect()
}

#[track_caller]
fn weather_refused(text: &str, line: usize, said: &[&str]) {
    let errors = read_weather(text).expect_err("it is refused");
    assert_eq!(errors[0].line, line, "{errors:?}");
    for part in said {
        assert!(errors[0].message.contains(part), "{:?} does not say {part:?}", errors[0].message);
    }
}

#[test]
fn weather_with_mistakes() {
    assert!(read_weather(&format!("{HEAD}{}", hours(0, 48))).is_ok());
    weather_refused(&format!("{HEAD}{}{}", hours(0, 5), hours(6, 48)), 7, &["one hour after"]);
    weather_refused(
        &format!("{HEAD}{}", hours(0, 3).replace("01:00Z,100,5", "01:00Z,\"100,5\",5")),
        3,
        &["100,5", "point"],
    );
    weather_refused(&format!("{HEAD}2026-03-02T00:00Z,100,5,2\n"), 2, &["4 fields", "3", "point"]);
    weather_refused(
        &format!("{HEAD}{}", hours(0, 3).replace("02:00Z,100", "02:00Z,3000")),
        4,
        &["3000", "-20 to 2000"],
    );
    weather_refused(&format!("{HEAD}02.03.2026 00:00,100,5\n"), 2, &["02.03.2026", "2026-01-01T00:00Z"]);
    weather_refused("time,global,air_c\n", 1, &["\"global\" is no column", "global_w_per_m2"]);
    weather_refused(HEAD, 1, &["no hour"]);
}

/// Two days and an hour at UTC cover a day of a place an hour ahead, and not the last of three.
#[test]
fn weather_that_does_not_cover_the_stay() {
    let of = |from: u32, to: u32| {
        let parts = [battery("house", "agm", 100.0, ""), solar("sun", "house", 100.0, 10.0), march(from, to, "")];
        plan(&parts.concat())
    };
    let weather = read_weather(&format!("{HEAD}{}", hours(0, 49))).unwrap();
    let options = Options { weather: Some(&weather), ..Options::default() };
    assert!(forecast(&judged(&of(3, 3)), &options).is_ok());
    for (from, to) in [(2, 3), (3, 4)] {
        let told = not_forecast(&of(from, to), &options);
        assert!(matches!(told, ForecastError::Weather { .. }));
        let text = told.to_string();
        assert!(text.contains("spring") && text.contains(&format!("2026-03-{to:02}")), "{text}");
    }
}
