//! A file with ten different mistakes reports all ten, each at its line and column; places are counted here, in the
//! text, and compared with numbers written down by hand.

use crate::support::text_of;
use loomwright::text::{PlanError, read_plan};

/// A mistake: where it is, the key that is told, and words that the message must have.
struct Mistake {
    /// Line and column from 1, counted by hand.
    place: (usize, usize),
    /// What stands there.
    at: &'static str,
    key: &'static str,
    says: &'static [&'static str],
}

const fn mistake(place: (usize, usize), at: &'static str, key: &'static str, says: &'static [&'static str]) -> Mistake {
    Mistake { place, at, key, says }
}

/// In order of place. Where a near name exists, it is suggested.
const TEN: [Mistake; 10] = [
    mistake((14, 2), "bateries.spare", "bateries", &["did you mean \"batteries\"?"]),
    mistake((20, 1), "charge_voltag ", "batteries.house.charge_voltag", &["did you mean \"charge_voltage\"?"]),
    mistake((22, 12), "service]", "batteries.service.capacity", &["capacity is needed", "for example \"200 Ah\""]),
    mistake((26, 10), "\"60 V\"", "alternators.generator.rating", &["is a voltage", "a current is needed"]),
    mistake((33, 6), "\"bord\"", "runs.lead.to", &["no node", "did you mean \"board\"?"]),
    mistake((35, 8), "\"17 A blade-c\"", "runs.lead.fuse", &["17 A is not a rating of blade-c", "15, 20"]),
    mistake((43, 11), "\"4\"", "loads.lamp.current", &["has no unit", "for example \"40 A\""]),
    mistake((44, 12), "\"navigatoin\"", "loads.lamp.function", &["did you mean \"navigation\"?"]),
    mistake((49, 26), "\"1 m in rom\"", "circuits.lamp.route", &["no zone", "did you mean \"room\"?"]),
    mistake((52, 9), "60 ", "loads.pump.power", &["written as text", "for example \"60 W\""]),
];

fn text() -> String {
    text_of("tests/plans/ten_mistakes.toml")
}

/// The byte at a line and column in characters, counted here.
fn byte_at(text: &str, (line, column): (usize, usize)) -> usize {
    let start: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
    start + text[start..].chars().take(column - 1).map(char::len_utf8).sum::<usize>()
}

fn errors(text: &str) -> Vec<PlanError> {
    read_plan(text).expect_err("the file has mistakes")
}

#[test]
fn all_ten_are_told_at_their_place() {
    let text = text();
    let errors = errors(&text);
    for mistake in &TEN {
        let byte = byte_at(&text, mistake.place);
        assert!(text[byte..].starts_with(mistake.at), "{:?} does not stand at {:?}", mistake.at, mistake.place);
        let told = errors.iter().find(|error| (error.line, error.column) == mistake.place);
        let told = told.unwrap_or_else(|| panic!("nothing is told at {:?}: {errors:#?}", mistake.place));
        assert_eq!((told.span.start, told.key.as_str()), (byte, mistake.key), "{}", mistake.at);
        for words in mistake.says {
            assert!(told.message.contains(words), "{:?}: {} lacks {words:?}", mistake.place, told.message);
        }
    }
    assert!(errors.is_sorted_by_key(|error| error.span.start), "in order of place");
}

/// A device that could not be read is told once, not again by every run that ends at it.
#[test]
fn consequences_are_not_told() {
    let errors = errors(&text());
    let strange: Vec<_> =
        errors.iter().filter(|error| !TEN.iter().any(|one| one.place == (error.line, error.column))).collect();
    assert!(strange.is_empty(), "{strange:#?}");
    assert_eq!(errors.len(), TEN.len());
}

/// The same table twice is a mistake of TOML itself; the ten others are still told beside it.
#[test]
fn a_repeated_table_hides_nothing() {
    let text = text();
    let lines = text.matches('\n').count();
    let repeated = format!("{text}[loads.lamp]\ncurrent = \"3 A\"\n");
    let errors = errors(&repeated);
    let here = errors.iter().find(|error| error.line == lines + 1).expect("the repeated table is told");
    assert!((1..=8).contains(&here.column), "at its head: {here:?}");
    for mistake in &TEN {
        let told = errors.iter().any(|error| (error.line, error.column) == mistake.place);
        assert!(told, "{:?} at {:?} is hidden by the repeated table", mistake.at, mistake.place);
    }
}

/// Mistakes that only show when names meet, each alone in a plan that is else sound.
#[test]
fn names_that_meet() {
    let lamp = text_of("crates/loomwright/examples/lamp.toml");
    let lines = lamp.matches('\n').count();
    let add = |more: &str| read_plan(&format!("{lamp}{more}"));
    // A load of the battery's name: both would own house.+ and house.-.
    let twice = add("[loads.house]\npower = \"5 W\"\n").expect_err("the name is taken");
    assert!(twice.iter().all(|error| (error.line, error.column) == (lines + 1, 8)), "{twice:?}");
    assert!(twice[0].message.contains("is taken"), "{twice:?}");
    let to_itself = add("[runs.loop]\nfrom = \"board\"\nto = \"board\"\nroute = [\"1 m in room\"]\n");
    let to_itself = to_itself.expect_err("a run ends elsewhere");
    assert_eq!((to_itself[0].line, to_itself[0].column, to_itself.len()), (lines + 3, 6, 1), "{to_itself:?}");
    let both = add("[loads.fan]\npower = \"5 W\"\ncurrent = \"1 A\"\n").expect_err("power or current");
    assert!(both.len() == 1 && both[0].line == lines + 1 && both[0].message.contains("only one of"), "{both:?}");
    let flag = add("[alternators.engine]\nrating = \"40 A\"\ngrounded = \"true\"\n").expect_err("text for a flag");
    assert_eq!((flag[0].line, flag[0].column, flag.len()), (lines + 3, 12, 1), "{flag:?}");
    let section = read_plan(&lamp.replace("[plan]", "plans = 3\n[plan]")).expect_err("no such section");
    assert!(section[0].message.contains("did you mean \"plan\"?"), "{section:?}");
}
