//! Small pictures on a screen: no line is wider than one, and none of it goes into a pipe.

use std::path::Path;

use loomwright_cli::{Exit, Screen};

const PLANS: [&str; 7] = [
    "crates/loomwright/examples/cabin.toml",
    "crates/loomwright/examples/lamp.toml",
    "examples/plans/failing.toml",
    "examples/plans/mountain-hut-before.toml",
    "examples/plans/mountain-hut.toml",
    "examples/plans/river-launch.toml",
    "examples/plans/veterinary-van.toml",
];

/// What a verb prints of a plan; nothing where it refuses, such as a forecast without stays.
fn printed(verb: &str, plan: &str, screen: Screen) -> Option<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(plan);
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let arguments = ["loomwright".into(), verb.into(), path.into_os_string()];
    let exit = loomwright_cli::run(arguments, screen, &mut out, &mut errors);
    (exit != Exit::Unusable).then(|| String::from_utf8(out).expect("it is text"))
}

/// Without what sets colours and weights: from ESC [ to m.
fn without_colours(text: &str) -> String {
    let mut out = String::new();
    let mut pieces = text.split('\u{1b}');
    out.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        let (code, rest) = piece.split_once('m').expect("a colour ends with m");
        assert!(
            code.starts_with('[') && code[1..].chars().all(|letter| letter.is_ascii_digit() || letter == ';'),
            "{code}"
        );
        out.push_str(rest);
    }
    out
}

/// U+2580 to U+259F, what bars and strips are made of.
fn is_block(letter: char) -> bool {
    ('\u{2580}'..='\u{259f}').contains(&letter)
}

#[test]
fn pictures_fit_on_a_screen_of_eighty_columns() {
    let (mut barred, mut wide) = (0, Vec::new());
    for plan in PLANS {
        for verb in ["check", "forecast"] {
            let (Some(text), Some(plain)) = (printed(verb, plan, Screen::Pictures), printed(verb, plan, Screen::Plain))
            else {
                continue;
            };
            barred += usize::from(text.contains(is_block));
            let (text, plain) = (without_colours(&text), without_colours(&plain));
            assert!(!text.contains("NaN"), "{verb} {plan}");
            // Tables are as wide as the plan's longest names, with pictures or without.
            let told: Vec<&str> = plain.lines().collect();
            let pictured = text.lines().filter(|line| line.contains(is_block) || !told.contains(line));
            wide.extend(pictured.filter(|line| line.chars().count() > 80).map(|line| format!("{verb} {plan}: {line}")));
        }
    }
    assert!(wide.is_empty(), "wider than 80 columns:\n{}", wide.join("\n"));
    assert!(barred >= 10, "pictures in {barred} texts only");
}

#[test]
fn nothing_of_them_goes_into_a_pipe() {
    for plan in PLANS {
        for verb in ["check", "forecast"] {
            let (Some(plain), Some(pictured)) =
                (printed(verb, plan, Screen::Plain), printed(verb, plan, Screen::Pictures))
            else {
                continue;
            };
            let found = plain.chars().find(|letter| is_block(*letter));
            assert_eq!(found, None, "{verb} {plan}");
            assert!(!plain.contains("Margins, least first") && !plain.contains("│ 1 just passes"), "{verb} {plan}");
            // The pictures come on top of what is told in words: every line of those is still there.
            let pictured = without_colours(&pictured);
            let mut lines = pictured.lines();
            for line in without_colours(&plain).lines() {
                assert!(lines.any(|one| one == line), "{verb} {plan}: {line:?} is missing beside pictures");
            }
        }
    }
}
