//! No argument list and no quantity text panics, and every run ends in one of the three ways, with something to read.

use std::cell::Cell;
use std::ffi::OsString;

use loomwright::installation::Installation;
use loomwright::quantity::{
    Area, CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Energy, FromText,
    Length, LineResistance, Mass, Power, Ratio, ThermodynamicTemperature, Time,
};
use loomwright::study::cable::DropLimit;
use loomwright::study::judge::judge;
use loomwright::text::{
    PlanError, ReadReadings, TemplateForm, read_plan, read_readings, read_weather, readings_template,
};
use loomwright_cli::{Exit, Screen, run};
use loomwright_tests::sampling;
use loomwright_tests::support::text_of;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use proptest::test_runner::TestRunner;

/// Ten thousand cases at least: texts are cheap, and few of them get far.
fn runner() -> TestRunner {
    let asked = sampling(0x100a);
    TestRunner::new(ProptestConfig { cases: asked.cases.max(10_000), ..asked })
}

/// Options that may follow the essential ones, with values that are good more often than not.
const GOOD: [(&str, &[&str]); 13] = [
    ("--format", &["json", "text"]),
    ("--drop", &["3%", "0.15V", "10 %"]),
    ("--ambient", &["40C", "104F", "-20 °C", "70 °C", "300 K"]),
    ("--insulation", &["70C", "105 °C", "90C"]),
    ("--kind", &["iec-2", "iec-5", "iec-6", "iso-6722", "awg", "sae", "iec-1"]),
    ("--material", &["copper", "tinned-copper", "aluminium", "copper-clad-aluminium", "mild-steel"]),
    ("--install", &["free-air", "enclosed"]),
    ("--return", &["conductor", "chassis"]),
    ("--lugs", &["0", "4", "100"]),
    ("--screw-cages", &["2"]),
    ("--terminal", &["16mm2", "6AWG", "35 mm²", "2/0 SAE"]),
    ("--terminal-temperature", &["75C", "90 °C"]),
    ("--practice", &["general", "iec-caravan", "iso-small-craft", "us-small-craft", "na-recreational-vehicle"]),
];

/// What people, scripts and malice may write in place of any word.
const ODD: [&str; 35] = [
    "",
    " ",
    "-",
    "--",
    "=",
    "--duty",
    "--working",
    "--help",
    "--version",
    "-h",
    "-V",
    "help",
    "cable",
    "completions",
    "bash",
    "40",
    "4,2 A",
    "-40 A",
    "0 A",
    "nan A",
    "inf V",
    "1e308 m",
    "1e-320 m",
    "1e999 V",
    "41 AWG",
    "5 Mohm",
    "٣ A",
    "４０Ａ",
    "5\u{200b}m",
    "\u{202e}V21",
    "💥",
    "--current=40A",
    "--power=60W",
    "--chassis-resistance=3mohm",
    "--lowest-voltage=10.5V",
];

/// Bytes that are no Unicode, where the system lets arguments be any bytes.
fn bytes(raw: &[u8]) -> OsString {
    #[cfg(unix)]
    return std::os::unix::ffi::OsStringExt::from_vec(raw.iter().copied().filter(|byte| *byte != 0).collect());
    #[cfg(not(unix))]
    return String::from_utf8_lossy(raw).into_owned().into();
}

/// Some of the options, each at most once, with one of its values.
fn options() -> impl Strategy<Value = Vec<OsString>> {
    let chosen = subsequence(GOOD.to_vec(), 0..7).prop_shuffle();
    (chosen, any::<usize>()).prop_map(|(chosen, pick)| {
        let words = chosen.iter().flat_map(|(name, values)| [*name, values[pick % values.len()]]);
        words.map(OsString::from).collect()
    })
}

fn odd() -> impl Strategy<Value = Vec<OsString>> {
    let garbage = vec(any::<u8>(), 0..12).prop_map(|raw| bytes(&raw));
    prop_oneof![
        6 => select(&ODD[..]).prop_map(OsString::from),
        2 => "\\PC{0,20}".prop_map(OsString::from),
        1 => garbage,
    ]
    .prop_map(|word| vec![word])
}

/// A command line that could work, and half of the time odd words strewn over it.
fn arguments() -> impl Strategy<Value = Vec<OsString>> {
    let essentials = ["cable", "--length=5.5m", "--voltage=12V", "--current=40A"].map(OsString::from).to_vec();
    let begun = prop_oneof![8 => Just(essentials), 1 => Just(vec!["cable".into()]), 1 => Just(Vec::new())];
    let strewn = prop_oneof![1 => vec((any::<usize>(), odd()), 1..4), 1 => Just(Vec::new())];
    (begun, options(), strewn).prop_map(|(begun, options, strewn)| {
        let mut list: Vec<OsString> = begun.into_iter().chain(options).collect();
        for (at, words) in strewn {
            let at = at % (list.len() + 1);
            list.splice(at..at, words);
        }
        list.insert(0, "loomwright".into());
        list
    })
}

/// Whether the list may ask for help, a version or a completion script, none of which is JSON.
fn may_be_help(list: &[OsString]) -> bool {
    let text = |word: &OsString| word.to_string_lossy().into_owned();
    let short = |word: &str| word.starts_with('-') && !word.starts_with("--") && word.contains(['h', 'V']);
    list.iter().map(text).any(|word| ["--help", "--version", "help", "completions"].contains(&&*word) || short(&word))
}

#[test]
fn no_argument_list_panics() {
    // A counter per end, so that a vocabulary that no longer reaches all three is seen.
    let (ends, json) = ([const { Cell::new(0_usize) }; 3], Cell::new(0_usize));
    let check = |list: Vec<OsString>| {
        let (mut out, mut errors) = (Vec::new(), Vec::new());
        let asks_json = list.windows(2).any(|pair| pair[0] == "--format" && pair[1] == "json");
        let (help, shown) = (may_be_help(&list), format!("{list:?}"));
        let exit = run(list, Screen::Plain, &mut out, &mut errors);
        let end = match exit {
            Exit::Holds => &ends[0],
            Exit::Findings => &ends[1],
            Exit::Unusable => &ends[2],
        };
        end.update(|count| count + 1);
        if exit == Exit::Unusable {
            prop_assert!(String::from_utf8_lossy(&errors).trim().len() > 10, "no reason given for {}", shown);
            prop_assert!(out.is_empty(), "output beside an error for {}", shown);
        } else {
            prop_assert!(!out.is_empty() && errors.is_empty(), "{}", shown);
            if !asks_json && !help {
                let text = String::from_utf8_lossy(&out);
                let wide = text.lines().find(|line| uncoloured(line).chars().count() > 80);
                prop_assert!(wide.is_none(), "{:?} is wider than 80 columns, for {}", wide, shown);
            }
            if asks_json && !help {
                let read: Result<serde_json::Value, _> = serde_json::from_slice(&out);
                let value = read.map_err(|error| TestCaseError::fail(format!("{error} for {shown}")))?;
                let verdict = if exit == Exit::Holds { "holds" } else { "does-not-hold" };
                prop_assert_eq!(&value["verdict"], verdict, "{}", shown);
                json.update(|count| count + 1);
            }
        }
        Ok(())
    };
    runner().run(&arguments(), check).unwrap();
    assert!(ends.iter().chain([&json]).all(|count| count.get() >= 300), "{ends:?}, {json:?} of JSON");
}

/// A number, a unit, and what does not belong: near enough to right to get past the first check.
fn quantity_text() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        any::<f64>().prop_map(|value| value.to_string()),
        any::<f64>().prop_map(|value| format!("{value:e}")),
        (-1000_i32..1000).prop_map(|value| value.to_string()),
        select(vec![
            "", "+", "-", ".", "1.", ".5", "1e", "1e+", "1e9999", "nan", "infinity", "0x10", "1_000", "−3", "½"
        ])
        .prop_map(str::to_owned),
    ];
    let unit = prop_oneof![
        4 => select(vec![
            "A", "mA", "V", "mΩ", "ohm", "Ω/km", "m", "ft", "in", "mm²", "mm^2", "kcmil", "AWG", "awg", "SAE", "/0 AWG", "W", "kWh",
            "Ah", "°C", "F", "K", "s", "d", "%", "percent", "kg", "lb", "M", "deg", "e5", ",5 A",
        ])
        .prop_map(str::to_owned),
        1 => "\\PC{0,8}",
    ];
    let whole = (number, select(vec!["", " ", "\u{a0}", "\t", "  "]), unit)
        .prop_map(|(number, gap, unit)| format!("{number}{gap}{unit}"));
    prop_oneof![5 => whole, 1 => "\\PC{0,60}", 1 => "[0-9.eE+-]{0,400}"]
}

#[test]
fn no_quantity_text_panics() {
    macro_rules! each { ($text:expr, $($quantity:ident),+) => {$(
        match $quantity::from_text($text) {
            Ok(quantity) => prop_assert!(quantity.value.is_finite(), "{:?} is not finite", $text),
            Err(error) => prop_assert!(error.to_string().len() > 10),
        }
    )+}; }
    let read = |text: String| {
        each!(
            &text,
            ElectricCurrent,
            ElectricPotential,
            ElectricalResistance,
            Length,
            LineResistance,
            Area,
            Power,
            Energy
        );
        each!(&text, ElectricCharge, ThermodynamicTemperature, Time, Ratio, Mass);
        let _ = CrossSection::from_text(&text);
        let _ = DropLimit::from_text(&text);
        Ok(())
    };
    runner().run(&quantity_text(), read).unwrap();
}

/// Heads and lines that are nearly weather.
fn weather_text() -> impl Strategy<Value = String> {
    let cell = prop_oneof![
        4 => select(vec![
            "time", "global_w_per_m2", "air_c", "diffuse_w_per_m2", "wind_m_per_s", "2026-01-01T00:00Z", "2026-01-01T01:00Z",
            "2026-13-01T00:00Z", "0", "-5", "1e999", "nan", "\"", "#", "\u{feff}time", "",
        ])
        .prop_map(str::to_owned),
        1 => "\\PC{0,12}",
        1 => any::<f64>().prop_map(|value| value.to_string()),
    ];
    let line = vec(cell, 0..7).prop_map(|cells| cells.join(","));
    let head = prop_oneof![3 => Just("time,global_w_per_m2,air_c".to_owned()), 1 => "\\PC{0,60}"];
    (head, vec(line, 0..8)).prop_map(|(head, lines)| format!("{head}\n{}", lines.join("\n")))
}

#[test]
fn no_weather_text_panics() {
    let read = |text: String| {
        if let Err(errors) = read_weather(&text) {
            prop_assert!(!errors.is_empty());
            for error in errors {
                let lines = text.matches('\n').count() + 1;
                prop_assert!(error.line >= 1 && error.line <= lines && error.message.len() > 5, "{error}");
            }
        }
        Ok(())
    };
    runner().run(&weather_text(), read).unwrap();
}

/// Every mistake stands in the file and says something.
fn told(text: &str, errors: &[PlanError]) -> Result<(), TestCaseError> {
    for error in errors {
        let lines = text.matches('\n').count() + 1;
        prop_assert!(error.line >= 1 && error.line <= lines && error.message.len() > 5, "{error}");
        prop_assert!(error.message.chars().count() < 2000, "{error}");
    }
    Ok(())
}

/// Readings that a computation can use: finite, with an error above zero.
fn usable(text: &str, read: &ReadReadings) -> Result<(), TestCaseError> {
    use loomwright::study::reconcile::Measured;
    told(text, &read.refused)?;
    for reading in &read.readings {
        let (value, within) = match reading.measured {
            Measured::Voltage { value, within, .. } => (value.value, within.value),
            Measured::Current { value, within, .. } => (value.value, within.value),
            Measured::Temperature { value, within, .. } => (value.value, within.value),
            Measured::Power { value, within, .. } => (value.value, within.value),
        };
        prop_assert!(value.is_finite() && within.is_finite() && within > 0.0, "{reading:?}");
    }
    Ok(())
}

fn hut() -> Installation {
    read_plan(&text_of("examples/plans/mountain-hut.toml")).unwrap()
}

/// Heads and lines that are nearly readings, of both forms.
fn readings_text() -> impl Strategy<Value = String> {
    let cell = || {
        prop_oneof![
            6 => select(vec![
                "parked-night", "voltage", "current", "temperature", "power", "lamps", "lamps +", "lamps -", "lamps +@fuse", "board",
                "lamps.+", "inverter", "12.6 V", "12,6 V", "\"12,6 V\"", "3 A", "38 °C", "1e-320 V", "-5 W", "multimeter", "infrared",
                "0.5 % + 2 digits", "±2 mV", "class 1.5 of 100 A", "class of", "+", "%", "digits", "2026-11-27", "emissivity 0.9",
                "tape", "@", "@fuse", "1e999 V", "nan", "\"", "#", "'", "'=", "",
            ])
            .prop_map(str::to_owned),
            1 => "\\PC{0,12}",
            1 => any::<f64>().prop_map(|value| format!("{value} V")),
        ]
    };
    let good = select(vec![
        "parked-night,voltage,lamps.+,lamps.-,12.6 V,0.5 % + 2 digits,21 °C,2026-11-27,,",
        "full-load-low-battery,current,lamps +,,3.1 A,clamp-meter,,,,",
        "parked-night,temperature,board,,38 °C,infrared,,,tape,",
        "parked-night,voltage,board,lamps +@fuse,21 mV,±2 mV,,,,",
    ]);
    // One or two cells of a good line replaced, or nothing but odd ones.
    let near = (good, vec((0_usize..10, cell()), 0..3)).prop_map(|(good, edits)| {
        let mut cells: Vec<String> = good.split(',').map(str::to_owned).collect();
        for (at, text) in edits {
            cells[at] = text;
        }
        cells.join(",")
    });
    let line = prop_oneof![2 => near, 1 => vec(cell(), 0..11).prop_map(|cells| cells.join(","))];
    let known = Just("case,quantity,at,against,value,accuracy,ambient,date,surface,note".to_owned());
    let head = prop_oneof![4 => known, 1 => "\\PC{0,60}", 1 => vec(cell(), 0..6).prop_map(|cells| cells.join(";"))];
    let separated = (head, vec(line, 0..8)).prop_map(|(head, lines)| format!("{head}\n{}", lines.join("\n")));
    let key = select(vec!["case", "quantity", "at", "against", "value", "accuracy", "date", "surface", "colour"]);
    let pair = (key, cell()).prop_map(|(key, text)| format!("{key} = '{text}'"));
    let table = vec(pair, 0..8).prop_map(|pairs| format!("[[readings]]\n{}", pairs.join("\n")));
    let tables = vec(table, 0..5).prop_map(|tables| format!("format = 1\n{}", tables.join("\n")));
    let bytes = vec(any::<u8>(), 0..200).prop_map(|raw| String::from_utf8_lossy(&raw).into_owned());
    prop_oneof![6 => separated, 3 => tables, 1 => bytes]
}

#[test]
fn no_readings_text_panics() {
    let plan = hut();
    let used = Cell::new(0_usize);
    let read = |text: String| {
        let read = read_readings(&text, &plan);
        used.update(|count| count + read.readings.len());
        usable(&text, &read)
    };
    runner().run(&readings_text(), read).unwrap();
    assert!(used.get() > 1000, "too little was ever read: {}", used.get());
}

/// Templates with what is expected as what was measured, and pieces of them struck, doubled or replaced.
#[test]
fn no_mutated_template_panics() {
    let plan = hut();
    let judgement = judge(&plan).unwrap();
    let csv = readings_template(&judgement, TemplateForm::Csv).replace(",value,expected", ",expected,value");
    let toml = readings_template(&judgement, TemplateForm::Toml);
    let toml: String = toml.lines().filter(|line| !line.starts_with("value")).map(|line| format!("{line}\n")).collect();
    let whole = [csv, toml.replace("expected = ", "value = ")];
    for text in &whole {
        let read = read_readings(text, &plan);
        assert!(read.refused.is_empty() && read.readings.len() > 20, "{:?}", read.refused);
    }
    let edit = (
        any::<usize>(),
        0_usize..30,
        select(vec!["", "\"", ",", ";", "\n", "=", "#", "'", "9", "-", "V", "%", "\u{feff}", "é", "[["]),
    );
    let edits = (0_usize..2, vec(edit, 1..6));
    let read = |(which, edits): (usize, Vec<(usize, usize, &str)>)| {
        let mut letters: Vec<char> = whole[which].chars().collect();
        for (at, length, text) in edits {
            let at = at % letters.len();
            let end = (at + length).min(letters.len());
            letters.splice(at..end, text.chars());
        }
        let text: String = letters.into_iter().collect();
        usable(&text, &read_readings(&text, &plan))
    };
    // Each is a readings file of the whole hut.
    TestRunner::new(sampling(0x100b)).run(&edits, read).unwrap();
}

/// A line without its colour codes.
fn uncoloured(line: &str) -> String {
    let mut plain = String::new();
    let mut letters = line.chars();
    while let Some(letter) = letters.next() {
        if letter == '\u{1b}' {
            letters.by_ref().find(|end| *end == 'm');
        } else {
            plain.push(letter);
        }
    }
    plain
}
