//! The newcomer's guide, walked as its reader would: an empty folder, its files put in place where the text says so, its
//! commands in order, each with the exit status and the text that is shown. What is shown of a file is in it, and
//! what is new in a step of the plan is shown.
//!
//! `TRYCMD=overwrite` rewrites the shown text, as it does for `printed`: read every line before you keep it.

#![allow(clippy::expect_used, clippy::panic, reason = "a test stops where something is not as it should be")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use snapbox::filter::NormalizeToExpected;
use snapbox::{Data, Redactions};

/// What a line of the guide puts in place: `→ shed.toml is now [2-loads.toml](2-loads.toml)`.
fn put_in_place(line: &str) -> Option<(&str, &str)> {
    let (name, rest) = line.strip_prefix("→ `")?.split_once("` is now [`")?;
    let (source, link) = rest.strip_suffix(')')?.split_once("`](")?;
    assert_eq!(source, link, "a link that says otherwise than it leads");
    Some((name, source))
}

/// A command with the status that is shown for it, zero where none is, and the lines shown below.
struct Step {
    command: String,
    status: i32,
    shown: String,
}

fn steps(block: &[&str]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for line in block {
        if let Some(command) = line.strip_prefix("$ ") {
            steps.push(Step { command: command.to_owned(), status: 0, shown: String::new() });
        } else {
            let step = steps.last_mut().expect("a console block that begins with a command");
            match line.strip_prefix("? ") {
                Some(status) if step.shown.is_empty() => step.status = status.parse().expect("an exit status"),
                _ => step.shown.extend([line, "\n"]),
            }
        }
    }
    steps
}

/// Both streams in the order in which they were written, and the exit status.
fn run(command: &str, folder: &Path) -> (String, i32) {
    let program = Path::new(env!("CARGO_BIN_EXE_loomwright")).parent().expect("a folder of the program");
    let path = std::env::join_paths(
        [program.to_path_buf()].into_iter().chain(std::env::split_paths(&std::env::var_os("PATH").expect("PATH"))),
    )
    .expect("a path");
    let output = Command::new("sh")
        .args(["-c", &format!("{{ {command}\n}} 2>&1")])
        .current_dir(folder)
        .env("PATH", path)
        .env("LC_ALL", "C")
        .output()
        .unwrap_or_else(|error| panic!("{command}: {error}"));
    // Comma-separated values end their lines as RFC 4180 has it.
    let printed = String::from_utf8(output.stdout).expect("text").replace("\r\n", "\n");
    (printed, output.status.code().expect("an exit status"))
}

/// Whether the lines stand in the text in this order and without a gap.
fn stands_in(lines: &[&str], text: &str) -> bool {
    let all: Vec<&str> = text.lines().collect();
    !lines.is_empty() && all.windows(lines.len()).any(|window| window == lines)
}

/// Lines of the second text that the first one has not, each as often as it is new.
fn new_lines<'a>(before: &str, after: &'a str) -> Vec<&'a str> {
    let mut known: Vec<&str> = before.lines().collect();
    let mut new = Vec::new();
    for line in after.lines().filter(|line| !line.is_empty()) {
        match known.iter().position(|other| *other == line) {
            Some(place) => drop(known.remove(place)),
            None => new.push(line),
        }
    }
    new
}

/// What a form of readings asks for, row by row: step, case, quantity and the two points.
fn places(form: &str) -> Vec<Vec<&str>> {
    form.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(',').take(5).collect()).collect()
}

/// A folder of its own under the build's, empty at the start.
fn empty_folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tool-shed");
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("the folder of the last run goes");
    }
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn the_guide_is_true_from_its_first_command_to_its_last() {
    let guide = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/guide");
    let text = fs::read_to_string(guide.join("README.md")).expect("the guide");
    let folder = empty_folder();
    let overwrite = std::env::var("TRYCMD").is_ok_and(|mode| mode == "overwrite");

    let mut rewritten = String::new();
    let mut wrong = Vec::new();
    let mut ran = 0;
    let mut used = vec!["README.md".to_owned()];
    // What was shown of files since the last one was put in place.
    let mut shown: Vec<Vec<&str>> = Vec::new();
    let mut ever: Vec<&str> = Vec::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        rewritten.extend([line, "\n"]);
        if let Some((name, source)) = put_in_place(line) {
            let file = fs::read_to_string(guide.join(source)).unwrap_or_else(|error| panic!("{source}: {error}"));
            for block in &shown {
                if !stands_in(block, &file) {
                    wrong.push(format!("shown before {source}, but not in it:\n{}", block.join("\n")));
                }
            }
            if name.ends_with(".toml") {
                let before = fs::read_to_string(folder.join(name)).unwrap_or_default();
                for new in new_lines(&before, &file) {
                    if !ever.contains(&new) {
                        wrong.push(format!("new in {source}, but not shown: {new}"));
                    }
                }
            }
            if name.ends_with(".csv") && folder.join(name).exists() {
                let form = fs::read_to_string(folder.join(name)).expect("the form that was printed");
                assert_eq!(places(&file), places(&form), "{source} is filled into another form than the one printed");
            }
            shown.clear();
            fs::write(folder.join(name), file).expect("a file of the guide");
            used.push(source.to_owned());
        }
        let Some(language) = line.strip_prefix("```") else { continue };
        let block: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        if language == "console" {
            for step in steps(&block) {
                let (printed, status) = run(&step.command, &folder);
                ran += 1;
                let redactions = Redactions::new();
                let printed = NormalizeToExpected::new()
                    .redact_with(&redactions)
                    .normalize(Data::text(printed), &Data::text(step.shown.clone()))
                    .to_string();
                if printed != step.shown || status != step.status {
                    wrong.push(format!(
                        "$ {}\nstatus {status}, shown {}\n--- printed\n{printed}--- shown\n{}",
                        step.command, step.status, step.shown
                    ));
                }
                rewritten.extend(["$ ", &step.command, "\n"]);
                if status != 0 {
                    rewritten.push_str(&format!("? {status}\n"));
                }
                rewritten.push_str(&printed);
            }
        } else {
            rewritten.extend(block.iter().flat_map(|line| [line, "\n"]));
            if language == "toml" || language == "csv" {
                ever.extend(&block);
                shown.push(block);
            }
        }
        rewritten.push_str("```\n");
    }

    assert!(shown.is_empty(), "shown, but put in place nowhere: {shown:?}");
    assert!(ran >= 15, "only {ran} commands were found in the guide");
    for entry in fs::read_dir(&guide).expect("the folder of the guide") {
        let name = entry.expect("an entry").file_name().into_string().expect("a name");
        assert!(used.contains(&name), "{name} stands beside the guide, which does not use it");
    }
    if overwrite && rewritten != text {
        fs::write(guide.join("README.md"), &rewritten).expect("the guide");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
