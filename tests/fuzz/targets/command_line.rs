//! The command line: lines as arguments. It ends in one of three ways with something to read, and writes no file.
#![no_main]

use std::ffi::OsString;
use std::os::unix::ffi::OsStringExt;
use std::sync::LazyLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright_cli::{Exit, Screen, run};
use loomwright_fuzz::change_pieces;

/// What may stand for a file: shipped plans and readings.
const FILES: [(&str, &str); 4] = [
    ("HUT", concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/plans/mountain-hut.toml")),
    ("VAN", concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/plans/veterinary-van.toml")),
    ("LAMP", concat!(env!("CARGO_MANIFEST_DIR"), "/../../crates/loomwright/examples/lamp.toml")),
    ("READINGS", concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/readings/veterinary-van.csv")),
];

/// Every verb, option and value that the command knows, and some values of its quantities.
static WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    fn gather(command: &clap::Command, words: &mut Vec<String>) {
        words.push(command.get_name().to_owned());
        for argument in command.get_arguments() {
            words.extend(argument.get_long().map(|long| format!("--{long}")));
            words.extend(argument.get_possible_values().iter().map(|value| value.get_name().to_owned()));
        }
        command.get_subcommands().for_each(|one| gather(one, words));
    }
    let mut words = Vec::new();
    gather(&loomwright_cli::command(), &mut words);
    let values = "40A|5.5m|12V|60W|3%|40C|105 °C|16mm2|6AWG|2/0 SAE|30 s in 10 min|200A class-t|60A blade-e|3mohm|10.5V|20mm|\
        iec-5|awg|copper|free-air|enclosed|iso-small-craft|cables|winter|christmas|battery|15min|80%|2|HUT|VAN|LAMP|READINGS";
    words.extend(values.split('|').map(str::to_owned));
    words
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    change_pieces(data, size, max_size, seed, '\n', &WORDS)
});

fuzz_target!(|data: &[u8]| {
    let mut words: Vec<OsString> = vec!["loomwright".into()];
    for word in data.split(|byte| *byte == b'\n') {
        let text = String::from_utf8_lossy(word);
        let long_number = text.split(|letter: char| !letter.is_ascii_digit()).any(|digits| digits.len() > 2);
        // Nothing that writes a file or reads one that is not ours, and no number of samples or threads that takes long.
        if text.starts_with("--output") || text.starts_with("--workbook") || text == "new" || text.contains(['/', '\0'])
        {
            return;
        }
        if long_number && words.get(1).is_none_or(|verb| verb != "cable" && verb != "curve") {
            return;
        }
        let file = FILES.iter().find(|(name, _)| *name == text);
        words.push(file.map_or_else(|| OsString::from_vec(word.to_vec()), |(_, path)| (*path).into()));
    }
    let given = |option: &str| words.iter().any(|word| word.to_string_lossy().starts_with(option));
    let sampled = words.get(1).is_some_and(|verb| ["tolerance", "draw", "report"].iter().any(|one| verb == one));
    if sampled && !given("--samples") {
        words.insert(2, "--samples=2".into());
    }
    let as_json = words.windows(2).any(|pair| pair[0] == "--format" && pair[1] == "json");
    let helps = words.iter().any(|word| {
        let word = word.to_string_lossy();
        ["--help", "--version", "help", "completions"].contains(&&*word)
            || word.starts_with('-') && !word.starts_with("--") && word.contains(['h', 'V'])
    });
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let exit = run(words.clone(), Screen::Plain, &mut out, &mut errors);
    if exit == Exit::Unusable {
        assert!(String::from_utf8_lossy(&errors).trim().len() > 10, "no reason given for {words:?}");
        assert!(out.is_empty(), "output beside an error for {words:?}");
    } else {
        assert!(!out.is_empty(), "nothing to read for {words:?}");
        if as_json && !helps {
            let read: Result<serde_json::Value, _> = serde_json::from_slice(&out);
            assert!(read.is_ok_and(|value| value.is_object()), "no JSON for {words:?}");
        }
    }
});
