//! The diagram in words, for whoever does not see it: what feeds each bar and what it feeds.

use super::boxes::{Bar, Chain, Form};
use super::graph::Part;
use super::labels::Book;

/// The longest description, in bytes.
const LONGEST: usize = 1900;

/// Most names in one list.
const MOST: usize = 24;

/// One sentence for every bar, as many as there is room for.
pub(super) fn sentences(book: &Book<'_>, blocks: &[&Bar]) -> String {
    let mut said = Vec::new();
    // Nested no deeper than the page is wide.
    for block in blocks {
        bar(book, block, None, &mut said);
    }
    if said.is_empty() {
        return "Nothing is wired in this plan.".to_owned();
    }
    let mut text = String::new();
    let whole = said.len();
    for (index, sentence) in said.into_iter().enumerate() {
        if text.len() + sentence.len() > LONGEST {
            text.push_str(&format!(" And {} more bars.", whole - index));
            break;
        }
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&sentence);
    }
    text
}

fn bar(book: &Book<'_>, of: &Bar, from: Option<&str>, said: &mut Vec<String>) {
    let name = book.name(book.vertex(of.vertex));
    let mut sources: Vec<String> = from.map(str::to_owned).into_iter().collect();
    let mut feeds = Vec::new();
    for row in &of.rows {
        sources.extend(row.ups.iter().map(|chain| plain(end(book, chain), "from ")));
        feeds.extend(row.downs.iter().map(|chain| plain(end(book, chain), "to ")));
    }
    let mut sentence = name.clone();
    if !sources.is_empty() {
        sentence.push_str(": from ");
        sentence.push_str(&listed(&sources));
    }
    if !feeds.is_empty() {
        sentence.push_str(if sources.is_empty() { ": feeds " } else { "; feeds " });
        sentence.push_str(&listed(&feeds));
    }
    sentence.push('.');
    said.push(sentence);
    for row in &of.rows {
        for chain in row.ups.iter().chain(&row.downs) {
            if let Some(next) = &chain.bar {
                bar(book, next, Some(&name), said);
            }
        }
    }
}

/// A mark without the word that the sentence has already.
fn plain(end: String, word: &str) -> String {
    end.strip_prefix(word).map(str::to_owned).unwrap_or(end)
}

/// So many names as one can listen to, and how many more there are.
fn listed(names: &[String]) -> String {
    let said = names.iter().take(MOST).cloned().collect::<Vec<_>>().join(", ");
    if names.len() > MOST { format!("{said} and {} more", names.len() - MOST) } else { said }
}

/// What a chain ends at, and what it leads through.
fn end(book: &Book<'_>, chain: &Chain) -> String {
    let mut parts: Vec<String> = Vec::new();
    for section in &chain.sections {
        match section.form {
            Form::Run | Form::Text => {}
            Form::Mark(_) => parts.extend(section.label.lines.last().map(|line| line.text.clone())),
            _ if section.part == Some(Part::Chassis) => parts.push("chassis".to_owned()),
            _ => parts.extend(section.part.map(|part| book.name(part))),
        }
    }
    if let Some(bar) = &chain.bar {
        parts.push(book.name(book.vertex(bar.vertex)));
    }
    let last = parts.pop().unwrap_or_else(|| "returns".to_owned());
    if parts.is_empty() { last } else { format!("{last} through {}", parts.join(" and ")) }
}
