//! What anybody may have written: texts of any size and depth end in a sentence within bounds, names stay names in every form
//! that is written, and no file is overwritten or left in part.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use loomwright::study::judge::judge;
use loomwright::text::{LARGEST_PLAN, PlanError, deceptive, read_plan, read_readings, read_weather};
use loomwright_cli::{Exit, Screen, run};
use loomwright_tests::support::text_of;

/// Far more than any of these takes, on a slow machine and not optimised.
const LONGEST: Duration = Duration::from_secs(60);

fn within_bounds<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let found = work();
    assert!(start.elapsed() < LONGEST, "{what} took {:?}", start.elapsed());
    // The most that this process has ever held, texts of 100 MB among it.
    if let Ok(status) = std::fs::read_to_string("/proc/self/status") {
        let most =
            status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.parse().ok());
        assert!(most.is_none_or(|kib: u64| kib < 1 << 20), "{what}: {most:?} KiB");
    }
    found
}

/// Some mistakes, not too many, and each can be read.
fn refused(what: &str, text: &str) -> Vec<PlanError> {
    let errors = within_bounds(what, || read_plan(text)).expect_err(what);
    assert!((1..=101).contains(&errors.len()), "{what}: {} mistakes", errors.len());
    assert!(errors.iter().all(|error| error.message.len() < 5000 && error.message.len() > 5), "{what}");
    errors
}

/// A folder of its own for each test, gone at its end.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("loomwright-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
        let path = self.0.join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(&self.0).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// How a command ends, what it prints, and what it complains of.
fn command(words: &[&str], paths: &[&Path]) -> (Exit, String, String) {
    let mut left = paths.iter();
    let word = |word: &&str| if *word == "FILE" { left.next().unwrap().into() } else { OsString::from(*word) };
    let list: Vec<OsString> = std::iter::once("loomwright".into()).chain(words.iter().map(word)).collect();
    let (mut out, mut errors) = (Vec::new(), Vec::new());
    let exit = run(list, Screen::Plain, &mut out, &mut errors);
    (exit, String::from_utf8(out).unwrap(), String::from_utf8(errors).unwrap())
}

#[test]
fn a_hundred_megabytes_are_refused_unread() {
    let text = "x = 'é'\n".repeat(100_000_000 / 9);
    for errors in [refused("a plan", &text), within_bounds("weather", || read_weather(&text)).expect_err("too long")] {
        assert_eq!(errors.len(), 1);
        assert!(errors[0].message.contains("bytes; at most"), "{}", errors[0]);
    }
    let hut = read_plan(&hut()).unwrap();
    let read = within_bounds("readings", || read_readings(&text, &hut));
    assert!(read.readings.is_empty() && read.refused.len() == 1, "{:?}", read.refused);
    let folder = Folder::new("large");
    let large = folder.file("large.toml", &text);
    drop(text);
    let mut endless = vec![large];
    endless.extend(cfg!(unix).then(|| PathBuf::from("/dev/zero")));
    let good = folder.file("hut.toml", self::hut());
    for path in &endless {
        let said = |words: &[&str], paths: &[&Path]| {
            let (exit, out, errors) = within_bounds("a file", || command(words, paths));
            assert!(exit == Exit::Unusable && out.is_empty(), "{words:?}");
            let errors = errors.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(errors.contains("bytes, which is the most"), "{errors}");
        };
        said(&["check", "FILE"], &[path]);
        said(&["reconcile", "FILE", "FILE"], &[&good, path]);
        said(&["forecast", "FILE", "--weather", "FILE"], &[&good, path]);
    }
}

/// Made to hurt, and a quarter as large as is read at all: these tests are not optimised.
#[test]
fn pathological_toml_is_refused_within_bounds() {
    let most = LARGEST_PLAN / 4;
    let headers = |line: &dyn Fn(usize) -> String| (0..most / line(100_000).len()).map(line).collect::<String>();
    let deep = "a.".repeat(70);
    for (what, text) in [
        ("arrays", "a = ".to_owned() + &"[".repeat(10_000)),
        ("arrays, closed", "a = ".to_owned() + &"[".repeat(most / 2 - 10) + &"]".repeat(most / 2 - 10)),
        ("inline tables", "a = ".to_owned() + &"{a=".repeat(most / 3 - 10)),
        ("a dotted key", "a.".repeat(most / 2 - 10) + "a = 1"),
        ("a dotted header", "[".to_owned() + &"a.".repeat(most / 2 - 10) + "a]"),
        ("a dotted header of a list", "[[".to_owned() + &"a.".repeat(10_000) + "a]]"),
        ("a dotted key within", "x = {".to_owned() + &"a.".repeat(10_000) + "a = 1}"),
        ("nothing but signs", "=\n".repeat(most / 2)),
        ("control characters", "\u{1}".repeat(most)),
        ("quotes", "\"".repeat(most)),
        ("one key again and again", "a=1\n".repeat(most / 4)),
        ("headers", headers(&|number| format!("[a{number}]\n"))),
        ("headers below one another", headers(&|number| format!("[{deep}a{number}]\n"))),
        ("keys", headers(&|number| format!("k{number}=1\n"))),
        ("entries", headers(&|number| format!("[loads.a{number}]\n"))),
        ("unknown keys", "[plan]\n".to_owned() + &headers(&|number| format!("k{number}=1\n"))[8..]),
        ("a name", format!("[loads.\"{}\"]", "n".repeat(most - 20))),
        ("a key", "k".repeat(most - 20)),
        ("a text", format!("[plan]\nname = \"{}\"", "n".repeat(most - 20))),
        ("a number", format!("format = {}", "9".repeat(most - 20))),
        ("a choice", format!("[plan]\nplace = \"{}\"", "n".repeat(most - 20))),
        ("a quantity", format!("[plan]\nsystem_voltage = \"{}\"", "9".repeat(most - 40))),
        ("a list", format!("[runs.a]\nroute = [{}]", "\"1 m in a\",".repeat(most / 11 - 10))),
        ("a reference", format!("format = 1\n[runs.a]\nfrom = \"{}\"", "n".repeat(most - 60))),
    ] {
        assert!(text.len() <= most, "{what}");
        refused(what, &text);
    }
}

fn hut() -> String {
    text_of("examples/plans/mountain-hut.toml")
}

/// What a page, a picture or a spreadsheet would take for its own.
const NAMES: [&str; 8] =
    ["=1+1", "-1+1", "@SUM(A1)", "<script>alert(1)", "\"><img src=x>", "'&amp;]]>", "+cmd", "=cmd|' /C calc'!A0"];

/// The hut with such names: of a load and its circuit, the board, a run, a stay, a battery, and the plan.
fn hostile() -> String {
    // No name has a plus in it.
    let name = |at: usize| NAMES[at].replace('+', "/").replace('\\', "").replace('"', "\\\"");
    let mut text = hut().replace("Mountain hut, upgraded (invented)", &name(7));
    for (at, given) in ["lamps", "radio", "board", "lithium-lead", "christmas", "room"].into_iter().enumerate() {
        let new = name(at);
        for section in ["loads", "circuits", "busbars", "runs", "stays", "zones"] {
            text = text.replace(&format!("[{section}.{given}]"), &format!("[{section}.\"{new}\"]"));
        }
        text = text
            .replace(&format!("\"{given}\""), &format!("\"{new}\""))
            .replace(&format!("in {given}\""), &format!("in {new}\""));
    }
    text
}

/// A sheet has numbers and texts, and no text that is computed.
fn no_formula(csv: &str) {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(csv.as_bytes());
    for record in reader.records() {
        for cell in &record.unwrap() {
            let begins = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
            assert!(!begins || cell.parse::<f64>().is_ok(), "{cell:?}");
        }
    }
}

#[test]
fn names_stay_names_in_every_form() {
    let folder = Folder::new("names");
    let text = hostile();
    read_plan(&text).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let plan = folder.file("plan.toml", &text);
    let printed = |words: &[&str]| {
        let (exit, out, errors) = command(words, &[&plan]);
        assert!(exit != Exit::Unusable && errors.is_empty(), "{words:?}: {errors}");
        out
    };
    for sheet in ["cables", "fuses", "terminals", "materials", "labels", "settings", "loads"] {
        let csv = printed(&["schedule", "FILE", "--sheet", sheet, "--format", "csv"]);
        no_formula(&csv);
    }
    let loads = printed(&["schedule", "FILE", "--sheet", "loads", "--format", "csv"]);
    assert!(loads.contains("'=1/1") && loads.contains("'-1/1"), "{loads}");
    no_formula(&printed(&["forecast", "FILE", "--format", "csv", "--step", "60min"]));
    no_formula(&printed(&["inspect", "FILE", "--format", "csv"]));
    no_formula(&printed(&["inspect", "FILE", "--before-energising", "--format", "csv"]));
    let template = printed(&["reconcile", "FILE", "--template"]);
    no_formula(
        &template.lines().filter(|line| !line.starts_with('#')).map(|line| format!("{line}\n")).collect::<String>(),
    );

    let page = printed(&["report", "FILE", "--samples", "0"]);
    let lower = page.to_lowercase();
    assert!(!lower.contains("<script>alert") && !lower.contains("<img"), "markup of a name");
    assert!(page.contains("&lt;script&gt;alert(1)") && page.contains("&lt;img src=x&gt;"), "the names are told");
    for picture in ["diagram", "voltage", "fuses", "charge", "margins", "temperatures"] {
        let svg = printed(&["draw", "FILE", picture]);
        let read = roxmltree::Document::parse(&svg).unwrap_or_else(|error| panic!("{picture}: {error}"));
        let strange = |node: roxmltree::Node<'_, '_>| ["script", "img"].contains(&node.tag_name().name());
        assert!(!read.descendants().any(strange), "{picture}");
    }
    let json: serde_json::Value = serde_json::from_str(&printed(&["check", "FILE", "--format", "json"])).unwrap();
    let named = |name: &str| json["devices"].as_array().unwrap().iter().any(|device| device["name"] == name);
    assert!(named("=1/1") && named("-1/1"), "JSON has the names as they are");
}

/// What is neither text nor a colour of ours, which a terminal would obey or show otherwise than it is.
fn obeyed(text: &str) -> Option<char> {
    let mut letters = text.chars();
    while let Some(letter) = letters.next() {
        if letter == '\u{1b}' {
            let colour = letters.by_ref().take_while(|end| *end != 'm').collect::<String>();
            let ours = colour
                .strip_prefix('[')
                .is_some_and(|codes| codes.chars().all(|code| code.is_ascii_digit() || code == ';'));
            if !ours {
                return Some(letter);
            }
        } else if letter != '\n' && deceptive(letter) {
            return Some(letter);
        }
    }
    None
}

#[test]
fn no_terminal_obeys_a_name() {
    let folder = Folder::new("terminal");
    let odd = ['\u{1b}', '\u{9b}', '\u{7}', '\r', '\u{8}', '\u{202e}', '\u{2066}', '\u{2028}'];
    let code = |letter: char| format!("\\u{:04X}", u32::from(letter));
    for letter in odd {
        // As TOML writes it, and as it is.
        for written in [code(letter), letter.to_string()] {
            for (place, text) in [
                hut().replace("[loads.lamps]", &format!("[loads.\"lam{written}[2Jps\"]")),
                hut().replace("upgraded", &format!("up{written}graded")),
                hut().replace("\"agm\"", &format!("\"a{written}gm\"")),
                hut().replace("\"13.5 V\"", &format!("\"13.5{written} V\"")),
                hut().replace("\"main\"", &format!("\"ma{written}in\"")),
                hut() + &format!("\n[un{written}known]\n\"a{written}\" = 1"),
            ]
            .into_iter()
            .enumerate()
            {
                let plan = folder.file("plan.toml", &text);
                let (exit, _, errors) = command(&["check", "FILE"], &[&plan]);
                // Around a quantity it may be a space like others; in a name it is none.
                assert!(exit == Exit::Unusable || place > 1, "{letter:?} was read");
                assert_eq!(obeyed(&errors), None, "{letter:?}: {errors:?}");
            }
        }
    }
    let plan = folder.file("hut.toml", hut());
    for letter in odd {
        let head = "case,quantity,at,against,value,accuracy,ambient,date,surface,note";
        let good = format!("parked-night,voltage,lamps.+,lamps.-,12.6 V,,,2026-11-27,,loo{letter}se");
        let bad = format!(
            "parked-night,volt{letter}age,la{letter}mps,,1{letter}2.6 V,mult{letter}i,,2026-{letter}11-27,t{letter}ape,"
        );
        let readings = folder.file("readings.csv", format!("{head}\n{good}\n{bad}\n"));
        for words in [&["reconcile", "FILE", "FILE"][..], &["reconcile", "--record", "FILE", "FILE"]] {
            let (_, out, errors) = command(words, &[&plan, &readings]);
            assert_eq!(obeyed(&(out + &errors)), None, "{letter:?}");
        }
    }
    #[cfg(unix)]
    {
        let odd = folder.0.join("a\u{1b}[2J\u{202e}.toml");
        std::fs::write(&odd, "format = 2").unwrap();
        for words in [["check", "FILE"], ["new", "FILE"]] {
            for path in [&odd, &folder.0.join("none\u{1b}[2J").join("x")] {
                let (exit, _, errors) = command(&words, &[path]);
                assert!(exit == Exit::Unusable);
                assert_eq!(obeyed(&errors), None, "{errors:?}");
            }
        }
    }
}

/// Every verb that writes a file: a new one only, whole or not at all.
#[test]
fn nothing_is_overwritten_or_left_in_part() {
    let folder = Folder::new("writes");
    let plan = folder.file("plan.toml", hut());
    let taken = folder.file("taken", "mine");
    let mut before = vec!["plan.toml".to_owned(), "taken".to_owned()];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink(folder.0.join("nowhere"), folder.0.join("link")).unwrap();
        before.insert(0, "link".to_owned());
    }
    for words in [
        &["new", "FILE"][..],
        &["schedule", "--workbook", "FILE", "FILE"],
        &["draw", "--output", "FILE", "FILE", "diagram"],
        &["report", "--samples", "0", "--output", "FILE", "FILE"],
    ] {
        let write = |to: &Path| command(words, &[to, &plan]);
        for there in [&taken, &folder.0.join("link")] {
            if there.symlink_metadata().is_ok() {
                let (exit, out, errors) = write(there);
                let errors = errors.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(exit == Exit::Unusable && out.is_empty() && errors.contains("exists and is left"), "{errors}");
            }
        }
        let (exit, _, errors) = write(&folder.0.join("no such folder/new"));
        assert!(exit == Exit::Unusable && errors.contains("could not be written"), "{errors}");
        let (exit, _, errors) = write(&folder.0);
        assert!(exit == Exit::Unusable && !errors.is_empty(), "{errors}");
        #[cfg(target_os = "linux")]
        {
            // A folder in which nobody writes, not even root.
            let (exit, _, errors) = write(Path::new("/proc/loomwright"));
            assert!(exit == Exit::Unusable && errors.contains("could not be written"), "{errors}");
        }
        assert_eq!(folder.names(), before, "{words:?}");
        assert_eq!(std::fs::read_to_string(&taken).unwrap(), "mine");
        let new = folder.0.join("new");
        let (exit, out, errors) = write(&new);
        assert!(exit != Exit::Unusable && out.contains("wrote "), "{errors}");
        assert!(std::fs::metadata(&new).unwrap().len() > 500, "{words:?}");
        std::fs::remove_file(&new).unwrap();
        assert_eq!(folder.names(), before, "{words:?}");
    }
}

/// A result that cannot be printed whole is no success.
#[test]
fn a_full_disk_behind_standard_output_is_told() {
    struct Full;
    impl std::io::Write for Full {
        fn write(&mut self, _: &[u8]) -> std::io::Result<usize> {
            Err(std::io::ErrorKind::StorageFull.into())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut errors = Vec::new();
    let exit = run(["loomwright", "schema"].map(OsString::from), Screen::Plain, &mut Full, &mut errors);
    assert!(exit == Exit::Unusable && String::from_utf8_lossy(&errors).contains("could not be written"));
}

/// Bars joined to rings in which each is joined to some others, with batteries in parallel and a lamp on every bar.
fn mesh(bars: usize, batteries: usize) -> String {
    let mut text = "format = 1\n[plan]\nname = \"mesh\"\nplace = \"vehicle\"\nsystem_voltage = \"12 V\"\n\
                    [zones.z]\nkind = \"van-cabin\"\n[busbars.m]\n"
        .to_owned();
    let run = |name: String, from: String, to: String, fuse: &str| {
        let lay = "route = [\"1 m in z\"]\nconductor = \"16 mm2\"";
        format!("[runs.{name}]\nfrom = \"{from}\"\nto = \"{to}\"\n{lay}\nfuse = \"{fuse}\"\n")
    };
    for bar in 0..bars {
        text += &format!("[busbars.q{bar}]\n[loads.l{bar}]\npower = \"5 W\"\n");
        text += &format!("[circuits.l{bar}]\nfrom = \"q{bar}\"\nreturn = \"m\"\nto = \"l{bar}\"\n");
        text += "route = [\"1 m in z\"]\nconductor = \"2.5 mm2\"\nfuse = \"10 A blade-c\"\n";
    }
    for number in 0..270 {
        let [one, other] = [number % bars, (number * 37 + number / bars * 11 + 1) % bars];
        if one != other {
            text += &run(format!("r{number}"), format!("q{one}"), format!("q{other}"), "60 A blade-e");
        }
    }
    // Behind a diode every fault is solved by itself.
    text += "[busbars.q]\n[links.d]\nkind = \"diode\"\n";
    text += &run("d".to_owned(), "q0".to_owned(), "d.in".to_owned(), "60 A blade-e");
    text += &run("dd".to_owned(), "d.out".to_owned(), "q".to_owned(), "none");
    for battery in 0..batteries {
        text += &format!("[batteries.b{battery}]\nchemistry = \"agm\"\ncapacity = \"100 Ah\"\n");
        text += &run(format!("lead{battery}"), format!("b{battery}.+"), "q0".to_owned(), "100 A class-t");
        text += &run(format!("ret{battery}"), "m".to_owned(), format!("b{battery}.-"), "none");
    }
    text
}

#[test]
fn what_is_too_much_work_is_refused_in_a_sentence() {
    let large = read_plan(&mesh(150, 14)).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let error = within_bounds("a mesh", || judge(&large)).expect_err("too much work").to_string();
    assert!(error.contains("loops: ") && error.contains("batteries: 14"), "{error}");
    assert!(error.contains("batteries in parallel as one"), "{error}");
    // The same with few loops and one battery is judged.
    judge(&read_plan(&mesh(8, 1)).unwrap()).unwrap();
}
