//! Plans that are nearly right, wrong in odd ways, or made of words that plans are made of.

use loomwright::text::annotated_plan;

/// A small generator (splitmix64): the same plans on every machine.
pub struct Random(pub u64);

impl Random {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(most.max(1)).unwrap()).unwrap()
    }

    pub fn one_in(&mut self, many: usize) -> bool {
        self.below(many) == 0
    }

    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }

    pub fn word(&mut self, from: &[&'static str]) -> &'static str {
        from[self.below(from.len())]
    }
}

/// Numbers that stand at the edge of what floats, units and physics allow.
const EXTREME: [&str; 22] = [
    "0",
    "-0",
    "-1",
    "1e308",
    "-1e308",
    "1e-308",
    "5e-324",
    "1e999",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "1e-9",
    "1e9",
    "60",
    "1000",
    "0.0001",
    "99999999999999999999",
    "4,2",
    "٣",
    "0x10",
    "1_000",
];
/// Numbers that may well be read.
const VALUES: [&str; 12] = ["1e-6", "0.01", "0.5", "3", "12", "17", "24", "48", "60", "200", "999", "5000"];
/// Things that belong elsewhere, or nowhere.
const ODD: [&str; 24] = [
    "\"auto\"",
    "\"none\"",
    "\"chassis\"",
    "\"\"",
    "true",
    "[]",
    "{}",
    "1",
    "-1.5",
    "\"1 A\"",
    "\"12 V\"",
    "\"0 V\"",
    "\"1e308 W\"",
    "\"NaN A\"",
    "[\"1 m in room\"]",
    "[\"1000 m in room\", \"1000 m in room\"]",
    "1979-05-27",
    "'''",
    "\u{202e}",
    "💥",
    "\u{feff}",
    "é",
    "\u{0}",
    "\"\\u0000\"",
];

/// Spans of the numbers in a line.
fn numbers(line: &str) -> Vec<std::ops::Range<usize>> {
    let mut found = Vec::new();
    let mut start = None;
    for (at, letter) in line.char_indices().chain([(line.len(), ' ')]) {
        match (letter.is_ascii_digit() || letter == '.', start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                found.push(from..at);
                start = None;
            }
            _ => {}
        }
    }
    found
}

/// One slip of the hand, or one act of malice.
pub fn mutate(random: &mut Random, lines: &mut Vec<String>) {
    if lines.is_empty() {
        return;
    }
    let at = random.below(lines.len());
    match random.below(13) {
        0 => drop(lines.remove(at)),
        1 => {
            // A whole neighbourhood goes, as when someone cuts too much.
            let end = (at + 1 + random.below(6)).min(lines.len());
            lines.drain(at..end);
        }
        2 => {
            let line = lines[at].clone();
            lines.insert(random.below(lines.len()), line);
        }
        3 => {
            let other = random.below(lines.len());
            lines.swap(at, other);
        }
        4..=8 => {
            // An extreme number in place of one that is there: the likeliest to be read and to hurt later.
            let numbered: Vec<usize> = (0..lines.len()).filter(|line| !numbers(&lines[*line]).is_empty()).collect();
            if !numbered.is_empty() {
                let line = &mut lines[*random.pick(&numbered)];
                let span = random.pick(&numbers(line)).clone();
                let number = if random.one_in(3) { random.word(&EXTREME) } else { random.word(&VALUES) };
                line.replace_range(span, number);
            }
        }
        9 => {
            if let Some((key, _)) = lines[at].clone().split_once('=') {
                lines[at] = format!("{key}= {}", random.word(&ODD));
            }
        }
        10 => {
            // The value of another line.
            let other = lines[random.below(lines.len())].clone();
            if let (Some((key, _)), Some((_, value))) = (lines[at].clone().split_once('='), other.split_once('=')) {
                lines[at] = format!("{key}={value}");
            }
        }
        11 => {
            let letters: Vec<usize> = lines[at].char_indices().map(|(place, _)| place).collect();
            if !letters.is_empty() {
                let place = *random.pick(&letters);
                if random.one_in(2) {
                    lines[at].remove(place);
                } else {
                    lines[at].insert_str(place, random.word(&ODD));
                }
            }
        }
        _ => {
            if random.one_in(4) {
                lines.truncate(at);
            } else {
                let cut = lines[at].char_indices().map(|(place, _)| place).nth(random.below(20)).unwrap_or(0);
                lines[at].truncate(cut);
            }
        }
    }
}

/// A section with its keys: name, example, and whether it is needed.
type Section = (String, Vec<(String, String, bool)>);

/// Every section with its keys and examples, from the annotated plan, which is made from the key table.
pub struct Vocabulary {
    pub sections: Vec<Section>,
}

impl Vocabulary {
    pub fn new() -> Self {
        let mut sections: Vec<Section> = Vec::new();
        for line in annotated_plan().lines().filter_map(|line| line.strip_prefix("# ")) {
            if let Some(head) = line.strip_prefix('[') {
                sections.push((head.trim_end_matches(".NAME]").trim_end_matches(']').to_owned(), Vec::new()));
            } else if let (Some((key, rest)), Some((_, keys))) = (line.split_once(" = "), sections.last_mut())
                && let Some((example, about)) = rest.split_once("  # ")
            {
                keys.push((key.to_owned(), example.to_owned(), about.starts_with("needed")));
            }
        }
        Self { sections }
    }

    /// A sound small plan with random sections behind it: usually with what is needed, and names that resolve.
    pub fn plan(&self, random: &mut Random) -> String {
        const NODES: [&str; 9] = [
            "service.+",
            "service.-",
            "board",
            "negative bar",
            "winch.+",
            "winch.-",
            "isolator.in",
            "isolator.out",
            "chassis",
        ];
        const DEVICES: [&str; 4] = ["lights", "winch", "inverter", "winch"];
        let mut text = START.to_owned();
        for number in 0..1 + random.below(5) {
            let (section, keys) = random.pick(&self.sections);
            if section == "plan" {
                continue;
            }
            let name = if section == "defaults" { String::new() } else { format!(".x{number}") };
            text.push_str(&format!("[{section}{name}]\n"));
            let draws = ["current", "power", "resistance"];
            let drawn = random.word(&draws);
            for (key, example, needed) in keys {
                let wanted = match (section.as_str(), key.as_str()) {
                    ("loads", key) if draws.contains(&key) => key == drawn,
                    ("converters", "output_current" | "output_power" | "array_current" | "array_voltage") => true,
                    _ => *needed || random.one_in(4),
                };
                if !wanted || random.one_in(80) {
                    continue;
                }
                let node = format!("\"{}\"", random.word(&NODES));
                let value = match (key.as_str(), section.as_str()) {
                    _ if random.one_in(80) => random.word(&ODD).to_owned(),
                    ("to", "circuits") => format!("\"{}\"", random.word(&DEVICES)),
                    ("from" | "to" | "return", _) => node,
                    ("route", _) => "[\"2 m in cabin\"]".to_owned(),
                    _ if random.one_in(8) => match numbers(example).first() {
                        Some(span) => [&example[..span.start], random.word(&VALUES), &example[span.end..]].concat(),
                        None => example.clone(),
                    },
                    _ => example.clone(),
                };
                text.push_str(&format!("{key} = {value}\n"));
            }
        }
        text
    }
}

/// What random sections hang on.
const START: &str = r#"format = 1
[plan]
name = "random"
place = "vehicle"
system_voltage = "12 V"
[zones.cabin]
kind = "van-cabin"
[zones.engine-bay]
kind = "engine-bay"
[batteries.service]
chemistry = "agm"
capacity = "90 Ah"
[converters.inverter]
kind = "inverter"
output_power = "300 W"
[links.isolator]
kind = "isolator"
[busbars.board]
[busbars."negative bar"]
[loads.lights]
power = "10 W"
[loads.winch]
current = "40 A"
"#;
