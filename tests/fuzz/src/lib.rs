//! What the targets share: how inputs are changed, and what must hold of results.

use std::fmt::Debug;

use loomwright::study::judge::{Judgement, judge};
use loomwright::text::{PlanError, read_plan};

/// Plans that are shipped, as text.
pub const PLANS: [&str; 6] = [
    include_str!("../../../examples/plans/veterinary-van.toml"),
    include_str!("../../../examples/plans/river-launch.toml"),
    include_str!("../../../examples/plans/mountain-hut.toml"),
    include_str!("../../../examples/plans/mountain-hut-before.toml"),
    include_str!("../../../examples/plans/failing.toml"),
    include_str!("../../../crates/loomwright/examples/lamp.toml"),
];

/// The plan that readings are read for.
pub fn van() -> Judgement {
    let plan = read_plan(PLANS[0]).expect("a shipped plan is read");
    judge(&plan).expect("a shipped plan is judged")
}

/// xorshift64*: the same changes for the same seed.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u32) -> Self {
        Self((u64::from(seed) << 1 | 1).wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    pub fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        ((self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 32) % bound.max(1) as u64) as usize
    }
}

/// Changes pieces between separators (lines, words, arguments): strikes, doubles, moves, replaces them by donors, or changes
/// a number in one. Random bytes hardly ever make another plan of a plan; this does. Half of the time it leaves the work to
/// libFuzzer.
pub fn change_pieces(
    data: &mut [u8],
    size: usize,
    most: usize,
    seed: u32,
    separator: char,
    donors: &[String],
) -> usize {
    let mut dice = Dice::new(seed);
    let Ok(text) = std::str::from_utf8(&data[..size]) else { return libfuzzer_sys::fuzzer_mutate(data, size, most) };
    if dice.below(2) == 0 {
        return libfuzzer_sys::fuzzer_mutate(data, size, most);
    }
    let mut pieces: Vec<String> = text.split(separator).map(str::to_owned).collect();
    for _ in 0..=dice.below(3) {
        let at = dice.below(pieces.len());
        match dice.below(7) {
            0 if pieces.len() > 1 => drop(pieces.remove(at)),
            1 => pieces.insert(dice.below(pieces.len() + 1), pieces[at].clone()),
            2 => {
                let other = dice.below(pieces.len());
                pieces.swap(at, other);
            }
            3 => pieces.insert(at, donors[dice.below(donors.len())].clone()),
            // Another value of the same key, where there is one.
            4 | 5 => {
                let key = pieces[at].split_once('=').map(|(key, _)| format!("{key}="));
                let alike: Vec<&String> =
                    donors.iter().filter(|donor| key.as_ref().is_some_and(|key| donor.starts_with(key))).collect();
                pieces[at] =
                    if alike.is_empty() { &donors[dice.below(donors.len())] } else { alike[dice.below(alike.len())] }
                        .clone();
            }
            _ => pieces[at] = renumbered(&pieces[at], &mut dice),
        }
    }
    let mut changed = pieces.join(&separator.to_string());
    let mut end = changed.len().min(most).min(data.len());
    while !changed.is_char_boundary(end) {
        end -= 1;
    }
    changed.truncate(end);
    data[..end].copy_from_slice(changed.as_bytes());
    end
}

/// One number of a text replaced by another.
fn renumbered(text: &str, dice: &mut Dice) -> String {
    const NUMBERS: [&str; 16] =
        ["0", "1", "2", "12", "24", "48", "0.001", "1e-9", "1000", "5000", "1e9", "1e308", "-1", "-40", "99.99", "300"];
    let mut starts = Vec::new();
    let mut before = ' ';
    for (at, letter) in text.char_indices() {
        if letter.is_ascii_digit() && !before.is_ascii_digit() && before != '.' {
            starts.push(at);
        }
        before = letter;
    }
    let Some(start) = (!starts.is_empty()).then(|| starts[dice.below(starts.len())]) else { return text.to_owned() };
    let rest = &text[start..];
    let length = rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(rest.len());
    let number = match dice.below(3) {
        0 => NUMBERS[dice.below(NUMBERS.len())].to_owned(),
        1 => dice.below(100).to_string(),
        _ => format!("{}", dice.below(100_000) as f64 / 100.0),
    };
    format!("{}{number}{}", &text[..start], &rest[length..])
}

/// Lines of all that is shipped and of the annotated plan, which has every key.
pub fn plan_lines() -> Vec<String> {
    let annotated = loomwright::text::annotated_plan();
    let uncommented = annotated.lines().map(|line| line.trim_start_matches(['#', ' ']).to_owned());
    let shipped = PLANS.iter().flat_map(|plan| plan.lines()).map(str::to_owned);
    let mut lines: Vec<String> = uncommented.chain(shipped).filter(|line| !line.trim().is_empty()).collect();
    lines.sort();
    lines.dedup();
    lines
}

/// Every mistake stands in the text, on borders of characters, says something, and there are not too many.
pub fn mistakes_stand_in(text: &str, mistakes: &[PlanError]) {
    assert!(mistakes.len() <= 101, "{} mistakes", mistakes.len());
    for one in mistakes {
        assert!(one.span.start <= one.span.end && text.get(one.span.clone()).is_some(), "{:?}: {one}", one.span);
        assert!(one.line >= 1 && one.line <= text.matches('\n').count() + 1, "{one}");
        assert!(one.message.len() > 5 && one.message.len() < 10_000, "{one}");
    }
}

/// No number of a record is NaN or infinite.
///
/// JSON writes such a number as null, which is also what stands for a value that may lack; its debug form tells them apart.
pub fn all_finite(record: &impl Debug) {
    let told = format!("{record:?}");
    let (mut quoted, mut escaped, mut word) = (false, false, String::new());
    for letter in told.chars() {
        if quoted {
            (quoted, escaped) = (escaped || letter != '"', !escaped && letter == '\\');
        } else if letter.is_alphanumeric() || letter == '_' {
            word.push(letter);
        } else {
            assert!(word != "NaN" && word != "inf", "{told}");
            word.clear();
            quoted = letter == '"';
        }
    }
}
