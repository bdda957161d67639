//! Pictures as somebody has looked at them: what the command draws today, byte for byte.
//!
//! With `LOOMWRIGHT_BLESS=1` they are rewritten instead. Then look at each again before it is committed: a changed byte is a
//! changed picture.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use loomwright_cli::{Exit, Screen};

/// A picture and the command line that draws it; files are those of the repository.
const PICTURES: &[(&str, &[&str])] = &[
    ("cabin-diagram", &["draw", "crates/loomwright/examples/cabin.toml", "diagram"]),
    ("cabin-margins", &["draw", "crates/loomwright/examples/cabin.toml", "margins"]),
    ("cabin-temperatures", &["draw", "crates/loomwright/examples/cabin.toml", "temperatures"]),
    ("cabin-voltage", &["draw", "crates/loomwright/examples/cabin.toml", "voltage"]),
    ("cabin-fuses", &["draw", "crates/loomwright/examples/cabin.toml", "fuses"]),
    ("cabin-charge", &["draw", "crates/loomwright/examples/cabin.toml", "charge"]),
    ("veterinary-van-diagram", &["draw", "examples/plans/veterinary-van.toml", "diagram"]),
    ("river-launch-diagram", &["draw", "examples/plans/river-launch.toml", "diagram"]),
    ("sizes", &["cable", "--current", "40A", "--length", "5.5m", "--voltage", "12V", "--format", "svg"]),
    (
        "curve",
        &[
            "curve",
            "--fuse",
            "50A blade-e",
            "--fuse",
            "15A blade-c",
            "--conductor",
            "2.5mm2",
            "--insulation",
            "90C",
            "--load",
            "10A",
            "--fault",
            "900A",
            "--format",
            "svg",
        ],
    ),
];

fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// What the command prints.
fn drawn(arguments: &[&str]) -> Vec<u8> {
    let at_place = |argument: &&str| -> OsString {
        if argument.ends_with(".toml") { top().join(argument).into() } else { (*argument).into() }
    };
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let arguments = std::iter::once("loomwright".into()).chain(arguments.iter().map(at_place));
    let exit = loomwright_cli::run(arguments, Screen::Plain, &mut out, &mut errors);
    assert!(exit != Exit::Unusable && errors.is_empty(), "{}", String::from_utf8_lossy(&errors));
    out
}

#[test]
fn pictures_are_as_they_were_looked_at() {
    let folder = top().join("tests/reference/pictures");
    let bless = std::env::var_os("LOOMWRIGHT_BLESS").is_some_and(|value| value == "1");
    let mut changed = Vec::new();
    for (name, arguments) in PICTURES {
        let path = folder.join(format!("{name}.svg"));
        let now = drawn(arguments);
        let stored = std::fs::read(&path).unwrap_or_default();
        if bless && stored != now {
            std::fs::create_dir_all(&folder).expect("the folder can be made");
            std::fs::write(&path, &now).expect("the picture can be written");
        } else if stored != now {
            let same = stored.iter().zip(&now).take_while(|(one, other)| one == other).count();
            let around = |bytes: &[u8]| {
                let bytes = &bytes[same.saturating_sub(60).min(bytes.len())..(same + 60).min(bytes.len())];
                String::from_utf8_lossy(bytes).into_owned()
            };
            let (was, is) = (around(&stored), around(&now));
            changed.push(format!("tests/reference/pictures/{name}.svg, byte {same}:\n  was …{was}…\n  is  …{is}…"));
        }
    }
    assert!(
        changed.is_empty(),
        "other pictures than those that were looked at; rewrite them with LOOMWRIGHT_BLESS=1, see git diff, and look at \
         each:\n{}",
        changed.join("\n")
    );
    // Nothing lies there that no test draws.
    for entry in std::fs::read_dir(&folder).expect("the pictures are there") {
        let path = entry.expect("it can be listed").path();
        let name = path.file_stem().and_then(|name| name.to_str()).unwrap_or_default().to_owned();
        assert!(PICTURES.iter().any(|(known, _)| *known == name), "{} is drawn by no test", path.display());
    }
}
