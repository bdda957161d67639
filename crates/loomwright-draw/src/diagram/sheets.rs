//! The diagram cut into sheets of paper: blocks on shelves, shelves on sheets, marks that tell on which sheet it goes on.

use std::collections::BTreeMap;

use loomwright::study::judge::Judgement;

use super::boxes::{BETWEEN, Bar, Chain, Form};
use super::cuts::Block;
use super::labels::{Book, Line};
use super::layout::{INDENT, Layout};
use super::place::Scene;
use super::tree::Tree;
use super::{ABOVE_FOOT, MARGIN, describe, draw, foot, graph};
use crate::Picture;
use crate::style::TEXT;
use crate::text::fitted;

/// The width of what stands on a sheet: with its margins 844, of which 11 are 2.3 mm where they take 180 mm.
const WIDE: f64 = 804.0;
/// The height of a sheet with its margins; with the title of a file of its own it is 1060.
pub(super) const HIGH: f64 = 1032.0;
/// From the last block to the lower edge.
const FOOT: f64 = ABOVE_FOOT + MARGIN;
/// The height of a heading.
const HEAD: f64 = 22.0;
/// The widest that the name of a plan may be before the number of a sheet.
const NAME: f64 = 400.0;

/// One below the other on a sheet.
enum Entry {
    Head(&'static str),
    Shelf(Vec<Bar>),
}

/// A sheet as it fills.
#[derive(Default)]
struct Sheet {
    entries: Vec<Entry>,
    /// Where the last entry begins.
    top: f64,
}

/// The single-line diagram of a judged plan in sheets that each fit a page of paper, upright, at its full width.
///
/// What [`diagram`](crate::diagram) shows in one picture, each thing once over all sheets. A bar keeps what hangs on it; where
/// a plan does not fit, whole bars go on elsewhere behind numbered marks that name the sheet.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let plan = read_plan(include_str!("../../../loomwright/examples/lamp.toml")).map_err(|errors| format!("{errors:?}"))?;
/// let judgement = judge(&plan)?;
/// assert_eq!(loomwright_draw::diagram_sheets(&judgement).len(), 1); // so little fits one page
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn diagram_sheets(judgement: &Judgement) -> Vec<Picture> {
    let book = Book::of(judgement);
    let pages = pages(&book);
    let count = pages.len();
    let name = &judgement.installation.name;
    // However long it is, the number of the sheet stands behind it.
    let of = if count > 1 { fitted(name, TEXT, NAME) } else { name.clone() };
    let picture = |(index, (scene, description)): (usize, (Scene, String))| {
        let sheet = if count > 1 { format!(", sheet {} of {count}", index + 1) } else { String::new() };
        draw::picture(&scene, format!("Single-line diagram of {of}{sheet}"), description)
    };
    pages.into_iter().enumerate().map(picture).collect()
}

/// Every sheet as coordinates, and what it shows in words.
pub(super) fn pages(book: &Book<'_>) -> Vec<(Scene, String)> {
    let mut digits = 1;
    loop {
        let mut sheets = sheets(book, digits);
        if sheets.len().to_string().len() <= digits {
            name_sheets(&mut sheets);
            return drawn(book, &sheets);
        }
        digits += 1;
    }
}

/// All blocks on sheets, with so much room for a sheet's number.
fn sheets(book: &Book<'_>, digits: usize) -> Vec<Sheet> {
    let [positive, negative] = graph::sides(book.plan);
    let room = HIGH - MARGIN - FOOT;
    let mut number = 0;
    let tree = Tree::of(&positive, book.plan, &mut number);
    let mut above = Layout::new(book, &positive, &tree, number).on_sheets(digits);
    let blocks = above.fitting(WIDE, room);
    number = above.number;
    let mut sheets: Vec<Sheet> = Vec::new();
    fill(&mut sheets, blocks, room, ["", ""]);
    if negative.here.contains(&true) {
        let tree = Tree::of(&negative, book.plan, &mut number);
        let blocks = Layout::new(book, &negative, &tree, number).on_sheets(digits).fitting(WIDE, room - HEAD);
        below(&mut sheets, blocks, room);
    }
    sheets
}

/// Their coordinates, and what they show in words.
fn drawn(book: &Book<'_>, sheets: &[Sheet]) -> Vec<(Scene, String)> {
    let mut pages: Vec<(Scene, String)> = sheets.iter().map(|sheet| sheet.draw(book)).collect();
    // All of one width, so that their letters have one size on paper.
    let wide = pages.iter().map(|(scene, _)| scene.width).fold(0.0, f64::max);
    for (scene, _) in &mut pages {
        scene.width = wide;
    }
    pages
}

/// Puts every block on the first sheet that has room for it; the first sheet and later ones begin with a heading.
fn fill(sheets: &mut Vec<Sheet>, blocks: Vec<Block>, room: f64, heads: [&'static str; 2]) {
    // By block, the sheet that it is on.
    let mut places: Vec<usize> = Vec::new();
    for Block { bar, after } in blocks {
        let from = after.and_then(|block| places.get(block)).map_or(0, |place| place + 1);
        let found = sheets.iter_mut().enumerate().skip(from).find(|(_, sheet)| sheet.fits(&bar, room));
        if let Some((place, sheet)) = found {
            places.push(place);
            sheet.put(bar, room);
            continue;
        }
        let [first, later] = heads;
        let head = if sheets.is_empty() { first } else { later };
        let mut sheet = Sheet::default();
        if !head.is_empty() {
            sheet.entries.push(Entry::Head(head));
        }
        places.push(sheets.len());
        sheet.put(bar, room);
        sheets.push(sheet);
    }
}

/// The negative side: where all of it fits, below what the last sheet has already.
fn below(sheets: &mut Vec<Sheet>, blocks: Vec<Block>, room: f64) {
    let mut trial = Sheet { entries: Vec::new(), top: sheets.last().map_or(0.0, Sheet::next) };
    trial.entries.push(Entry::Head("Negative side"));
    let mut fits = !sheets.is_empty();
    for block in &blocks {
        fits = fits && block.after.is_none() && trial.fits(&block.bar, room);
        if !fits {
            break;
        }
        trial.put(block.bar.clone(), room);
    }
    if let Some(last) = sheets.last_mut().filter(|_| fits) {
        last.entries.append(&mut trial.entries);
        last.top = trial.top;
        return;
    }
    let mut own = Vec::new();
    fill(&mut own, blocks, room, ["Negative side", "Negative side, continued"]);
    sheets.append(&mut own);
}

/// How high blocks side by side are.
fn height<'a>(shelf: impl Iterator<Item = &'a Bar> + Clone) -> f64 {
    shelf.clone().map(Bar::above).fold(0.0, f64::max) + shelf.map(Bar::height).fold(0.0, f64::max)
}

impl Sheet {
    /// Where the next entry would begin.
    fn next(&self) -> f64 {
        match self.entries.last() {
            None => self.top,
            Some(Entry::Head(_)) => self.top + HEAD,
            Some(Entry::Shelf(shelf)) => self.top + height(shelf.iter()) + 2.0 * BETWEEN,
        }
    }

    /// Whether a block fits beside the last ones.
    fn beside(&self, block: &Bar, room: f64) -> bool {
        let Some(Entry::Shelf(shelf)) = self.entries.last() else { return false };
        let used: f64 = shelf.iter().map(|block| block.width + INDENT).sum();
        used + block.width <= WIDE && self.top + height(shelf.iter().chain([block])) <= room
    }

    fn fits(&self, block: &Bar, room: f64) -> bool {
        self.beside(block, room) || self.next() + height([block].into_iter()) <= room
    }

    /// Puts a block beside the last ones, or else below them.
    fn put(&mut self, block: Bar, room: f64) {
        let beside = self.beside(&block, room);
        match self.entries.last_mut() {
            Some(Entry::Shelf(shelf)) if beside => shelf.push(block),
            _ => {
                self.top = self.next();
                self.entries.push(Entry::Shelf(vec![block]));
            }
        }
    }

    fn blocks(&mut self) -> impl Iterator<Item = &mut Bar> {
        self.entries.iter_mut().flat_map(|entry| match entry {
            Entry::Shelf(shelf) => shelf.as_mut_slice(),
            Entry::Head(_) => &mut [],
        })
    }

    /// Its coordinates and its words.
    fn draw(&self, book: &Book<'_>) -> (Scene, String) {
        let mut scene = Scene::default();
        let mut description = String::new();
        let mut y = MARGIN;
        let mut blocks: Vec<&Bar> = Vec::new();
        let mut negative = None;
        for entry in &self.entries {
            match entry {
                Entry::Head(head) => {
                    negative = Some(*head);
                    scene.text(Line::new("head", head), [MARGIN, y + 12.0], None);
                    y += HEAD;
                }
                Entry::Shelf(shelf) => {
                    y = scene.shelf(shelf, [MARGIN, y]) + 2.0 * BETWEEN;
                    if negative.is_none() {
                        blocks.extend(shelf);
                    }
                }
            }
        }
        description.push_str(&describe::sentences(book, &blocks));
        if negative.is_some() {
            description.push_str(if blocks.is_empty() {
                "What joins the negatives."
            } else {
                " Below it, what joins the negatives."
            });
        }
        foot(&mut scene, book, y - 2.0 * BETWEEN);
        (scene, description)
    }
}

/// Gives every mark the sheet on which its partner is, where that is another one.
fn name_sheets(sheets: &mut [Sheet]) {
    let mut places: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (index, sheet) in sheets.iter_mut().enumerate() {
        let mut note = |line: &mut Line, number| {
            let _ = line;
            places.entry(number).or_default().push(index);
        };
        sheet.blocks().for_each(|block| marks(block, &mut note));
    }
    for (index, sheet) in sheets.iter_mut().enumerate() {
        let mut name = |line: &mut Line, number| {
            let other = places.get(&number).into_iter().flatten().find(|place| **place != index);
            if let Some(other) = other {
                line.text.push_str(&format!(", sheet {}", other + 1));
            }
            line.mark = Some((number, 0.0));
        };
        sheet.blocks().for_each(|block| marks(block, &mut name));
    }
}

/// Does something with the text of every mark of a block.
fn marks(bar: &mut Bar, what: &mut dyn FnMut(&mut Line, usize)) {
    let chains = bar.rows.iter_mut().flat_map(|row| row.ups.iter_mut().chain(&mut row.downs));
    for chain in chains {
        in_chain(chain, what);
    }
}

fn in_chain(chain: &mut Chain, what: &mut dyn FnMut(&mut Line, usize)) {
    let lines = chain.sections.iter_mut().filter(|section| matches!(section.form, Form::Mark(_)));
    for line in lines.flat_map(|section| &mut section.label.lines) {
        if let Some((number, _)) = line.mark {
            what(line, number);
        }
    }
    if let Some(bar) = &mut chain.bar {
        marks(bar, what);
    }
}
