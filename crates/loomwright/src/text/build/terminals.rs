//! Kinds of terminals by their makers' manuals.

use crate::fitting::{Form, Terminal, TerminalKind};
use crate::text::entry::{Entry, File};
use crate::text::resolve::{Names, area_of};
use uom::si::length::millimeter;

pub(super) fn terminals(file: &File<'_>, names: &mut Names<'_>) {
    for entry in file.of("terminals") {
        let source = entry.text("source").map(|source| source.value.to_owned());
        names.terminal_kinds.push(TerminalKind { name: entry.name.clone(), source });
        let read = terminal(entry, names);
        names.terminals.insert(entry.name.clone(), read);
    }
}

fn terminal(entry: &Entry, names: &mut Names<'_>) -> Option<Terminal> {
    let form: Form = entry.choice("form")?;
    let size = |key: &str| entry.size(key).map(area_of);
    let read = Terminal {
        form: Some(form),
        thread: entry.choice("thread"),
        largest: size("largest"),
        largest_stiff: size("largest_stiff"),
        smallest: size("smallest"),
        strip: entry.length("strip"),
        torque: entry.torque("torque"),
        takes: entry.count("takes"),
        kind: names.terminal_kinds.len().checked_sub(1),
        temperature: None,
    };
    if form == Form::Stud && entry.get("thread").is_none() {
        names.refuse(entry, "form", "a stud has a thread: add for example thread = \"M8\"");
    }
    if form != Form::Stud && entry.get("thread").is_some() {
        names.refuse(entry, "thread", "a thread goes with form = \"stud\"");
    }
    if form != Form::Stud && entry.get("largest").is_none() {
        names.refuse(entry, "form", "say the largest conductor that enters it: add for example largest = \"16 mm2\"");
    }
    if form == Form::Spring && read.torque.is_some() {
        names.refuse(entry, "torque", "a spring is not tightened");
    }
    if read.smallest.zip(read.largest).is_some_and(|(smallest, largest)| smallest > largest) {
        names.refuse(entry, "smallest", "the smallest conductor is not above the largest");
    }
    if read.largest_stiff.zip(read.largest).is_some_and(|(stiff, largest)| stiff < largest) {
        names.refuse(entry, "largest_stiff", "a terminal takes a stiff conductor at least as large as a flexible one");
    }
    if read.strip.is_some_and(|strip| !(3.0..=60.0).contains(&strip.get::<millimeter>())) {
        names.refuse(entry, "strip", "the length to strip is 3 mm to 60 mm, for example \"15 mm\"");
    }
    if read.torque.is_some_and(|torque| !(0.1..=100.0).contains(&torque.value)) {
        names.refuse(entry, "torque", "a tightening torque is 0.1 N m to 100 N m, for example \"6 N m\"");
    }
    Some(read)
}
