//! Where things go: chains of symbols, bars with chains on them, all in boxes that never overlap.
//!
//! A box has its line at a fixed distance from its left edge and all text right of it. Lengths count from the bar that a
//! chain hangs on; a chain of sources counts upwards. Trees are laid out by recursion whose depth is bounded by the width of
//! the page: what would be nested deeper goes on elsewhere, behind a pair of marks.

use std::collections::{BTreeSet, VecDeque};

use super::boxes::{Bar, Chain, Form, NAME, Row, Section};
use super::graph::{Graph, Part};
use super::labels::{Book, Label, Line, PITCH};
use super::rows::{align, pack};
use super::symbols::Sign;
use super::tree::{Item, Tree};

/// From the left edge of a box to its line.
pub(super) const LEFT: f64 = 14.0;
/// From a line to the text beside it.
pub(super) const BESIDE: f64 = 19.0;
/// From the text of a box to the next box.
const GAP: f64 = 12.0;
/// What a bar that goes on further down takes at its left.
pub(super) const INDENT: f64 = 26.0;
/// The least width in which a bar is nested; any one column fits it.
const LEAST: f64 = 520.0;
/// A width in which most bars need no second stretch.
const AMPLE: f64 = 600.0;
/// Most symbols in line before a chain goes on elsewhere.
const LONGEST: usize = 16;
/// The same on a sheet, which every chain has to fit.
const LONGEST_ON_SHEET: usize = 12;

/// Where a block of the page begins.
#[derive(Clone)]
pub(super) struct Start {
    pub(super) vertex: usize,
    /// The vertex and the number of the mark that it goes on from, and whether it holds sources only.
    pub(super) mark: Option<(usize, usize, bool)>,
    /// What is left of a bar that has begun elsewhere, and the number of its next stretch.
    pub(super) rest: Option<(Vec<Item>, usize)>,
}

/// Which way a bar lies.
#[derive(Clone, Copy)]
pub(super) struct Way {
    /// Whether it is part of a chain that leads up.
    up: bool,
    /// Whether what it goes on from stands above it.
    mark_up: Option<bool>,
    /// The number of its first stretch.
    first: usize,
}

/// Lays out one side of a plan.
pub(super) struct Layout<'a> {
    pub(super) book: &'a Book<'a>,
    pub(super) graph: &'a Graph,
    pub(super) tree: &'a Tree,
    /// The last number of a mark.
    pub(super) number: usize,
    /// What is still to be laid out.
    pub(super) queue: VecDeque<Start>,
    /// Bars that go on in a block of their own.
    pub(super) cuts: BTreeSet<usize>,
    /// Most symbols in line, and the room that each mark leaves for the sheet that it leads to.
    longest: usize,
    reserve: f64,
}

impl<'a> Layout<'a> {
    pub(super) fn new(book: &'a Book<'a>, graph: &'a Graph, tree: &'a Tree, number: usize) -> Self {
        let queue = tree.roots.iter().map(|root| Start { vertex: *root, mark: None, rest: None }).collect();
        Self { book, graph, tree, number, queue, cuts: BTreeSet::new(), longest: LONGEST, reserve: 0.0 }
    }

    /// The same for sheets of paper.
    ///
    /// `digits` is how long their numbers may be.
    pub(super) fn on_sheets(self, digits: usize) -> Self {
        let reserve = crate::text::width(&format!(", sheet {}", "8".repeat(digits)), crate::style::TEXT);
        Self { longest: LONGEST_ON_SHEET, reserve, ..self }
    }

    /// Every block, each no wider than the page.
    pub(super) fn blocks(&mut self, page: f64) -> Vec<Bar> {
        let mut blocks = Vec::new();
        while let Some(start) = self.queue.pop_front() {
            let items = self.items(&start);
            blocks.push(self.block(&start, items, page));
        }
        blocks
    }

    /// What hangs on the bar that a block begins with.
    pub(super) fn items(&self, start: &Start) -> Vec<Item> {
        let mut items = match &start.rest {
            Some((rest, _)) => rest.clone(),
            None => self.tree.items.get(start.vertex).cloned().unwrap_or_default(),
        };
        if let Some((vertex, number, _)) = start.mark {
            items.insert(0, Item::From { vertex, number });
        }
        items
    }

    /// One block with some of its items.
    pub(super) fn block(&mut self, start: &Start, items: Vec<Item>, page: f64) -> Bar {
        let mark_up = start.mark.map(|(_, _, sources)| !sources);
        let first = start.rest.as_ref().map_or(1, |(_, first)| *first);
        self.bar(start.vertex, items, Way { up: false, mark_up, first }, page, None)
    }

    pub(super) fn is_up(&self, item: &Item) -> bool {
        self.tree.is_up(item, self.book.plan)
    }

    fn named(&self, vertex: usize) -> bool {
        self.graph.named.get(vertex).copied().unwrap_or(false)
    }

    /// Whether an item leads to another bar.
    pub(super) fn holds_bar(&self, item: &Item) -> bool {
        let mut item = *item;
        for _ in 0..2 * LONGEST {
            let Item::Edge { to, .. } = item else { return false };
            if self.cuts.contains(&to) {
                return false;
            }
            match self.tree.items.get(to).map(Vec::as_slice) {
                Some([Item::Hang(Part::Returns(_))]) => return true,
                Some([only]) => item = *only,
                Some([]) | None => return false,
                Some(_) => return true,
            }
        }
        false
    }

    /// A bar with everything on it; `entry` is the width of the chain by which it is reached.
    fn bar(
        &mut self,
        vertex: usize,
        items: Vec<Item>,
        Way { up, mark_up, first }: Way,
        room: f64,
        entry: Option<f64>,
    ) -> Bar {
        let returns = items.iter().any(|item| matches!(item, Item::Hang(Part::Returns(_))));
        let parted = first > 1 || items.iter().any(|item| matches!(item, Item::On { .. }));
        let drawn = returns || parted || self.named(vertex) || items.len() + usize::from(entry.is_some()) > 2;
        let marked = |item: &Item| matches!(item, Item::From { .. }) && mark_up == Some(true);
        let (rising, falling): (Vec<Item>, Vec<Item>) =
            items.into_iter().partition(|item| !up && (marked(item) || self.is_up(item)));
        let (trees, leaves): (Vec<Item>, Vec<Item>) = falling.into_iter().partition(|item| self.holds_bar(item));
        let inner = room - INDENT;
        let mut ups: Vec<Chain> = rising.into_iter().map(|item| self.chain(vertex, item, true, inner)).collect();
        let mut downs: Vec<Chain> = leaves.into_iter().map(|item| self.chain(vertex, item, up, inner)).collect();
        // Beside few leaves stands a single tree, as long as it is not squeezed.
        let taken: f64 = downs.iter().map(|chain| chain.width).sum();
        let beside = trees.len() == 1 && taken <= room / 4.0 && room - taken >= AMPLE;
        let inner = if beside { inner.min(room - taken) } else { inner };
        downs.extend(trees.into_iter().map(|item| self.chain(vertex, item, up, inner)).collect::<Vec<_>>());
        // What is short first, long chains after it, whatever holds bars of its own last.
        for chains in [&mut ups, &mut downs] {
            chains.sort_by_key(|chain| if chain.bar.is_some() { 2 } else { usize::from(chain.sections.len() > 2) });
        }
        let label = if drawn { self.book.bar(vertex, first) } else { Label::default() };
        let name = if drawn { LEFT + BESIDE + label.width() + GAP } else { 0.0 };
        let entry = entry.map(|entry| entry.max(name));
        if let Some(first) = ups.first_mut().filter(|_| entry.is_none()) {
            first.width = first.width.max(name);
        }
        let sum = |chains: &[Chain]| chains.iter().map(|chain| chain.width).sum::<f64>();
        let mut rows = pack(ups, downs, entry, name + 40.0, room);
        for (index, row) in rows.iter_mut().enumerate() {
            if drawn {
                row.label = if index == 0 { label.clone() } else { self.book.bar(vertex, first + index) };
            }
            let own_line = index == 0 && entry.is_some();
            align(&mut row.ups);
            align(&mut row.downs);
            row.lift = if drawn && !own_line { NAME } else { 0.0 };
            let tallest = |chains: &[Chain]| chains.iter().map(|chain| chain.height).fold(0.0, f64::max);
            row.above = tallest(&row.ups) + row.lift;
            row.below = tallest(&row.downs);
        }
        let reach = |row: &Row| {
            let start = if row.lift > 0.0 && !row.ups.is_empty() { row.up_start } else { 0.0 };
            let first = start + LEFT + BESIDE + row.label.width() + GAP;
            first.max(row.up_start + sum(&row.ups)).max(row.down_start + sum(&row.downs))
        };
        let width = rows.iter().map(reach).fold(60.0, f64::max).max(entry.unwrap_or(0.0));
        Bar { vertex, drawn, entered: entry.is_some(), rows, width, first }
    }

    /// A chain from a vertex to its end or the next bar.
    fn chain(&mut self, from: usize, item: Item, up: bool, room: f64) -> Chain {
        let mut sections: Vec<Section> = Vec::new();
        let (mut at, mut item) = (from, item);
        let bar = loop {
            let Some(next) = self.step(&mut sections, at, item, up, room) else { break None };
            let items = self.tree.items.get(next).cloned().unwrap_or_default();
            let returns = items.iter().any(|item| matches!(item, Item::Hang(Part::Returns(_))));
            if items.is_empty() {
                let (part, label) = (Some(self.book.vertex(next)), self.book.bar(next, 1));
                let sign = if self.named(next) { Sign::Bar } else { Sign::Pole };
                sections.push(Section { part, form: Form::End, sign, forward: true, label, height: 26.0 });
                break None;
            }
            let bar = items.len() > 1 || returns;
            let cut = self.cuts.contains(&next) || room - INDENT < LEAST;
            if (bar && cut) || (!bar && sections.len() >= self.longest) {
                self.number += 1;
                let number = self.number;
                self.queue.push_back(Start { vertex: next, mark: Some((at, number, up)), rest: None });
                sections.push(self.mark(next, number, up, None));
                break None;
            }
            if bar {
                break Some((next, items));
            }
            if self.named(next) {
                let (part, label) = (Some(self.book.vertex(next)), self.book.bar(next, 1));
                sections.push(Section { part, form: Form::Dot, sign: Sign::Bar, forward: true, label, height: 24.0 });
            }
            let Some(only) = items.first() else { break None };
            (at, item) = (next, *only);
        };
        let texts = sections.iter().map(|section| match section.form {
            Form::Text => section.label.width() + GAP + 4.0,
            _ => LEFT + BESIDE + section.label.width() + GAP,
        });
        let mut width = texts.fold(2.0 * LEFT + GAP, f64::max);
        let mut length: f64 = sections.iter().map(|section| section.height).sum();
        let mut height = length;
        let bar =
            bar.map(|(vertex, items)| self.bar(vertex, items, Way { up, mark_up: None, first: 1 }, room, Some(width)));
        if let Some(bar) = &bar {
            width = width.max(bar.width);
            let above = bar.rows.first().map_or(0.0, |row| row.above);
            let needed = if bar.drawn { NAME } else { 0.0 };
            // What stands beside this chain may be taller; a fuse at the far end stays there.
            let slack = (above + 12.0 - length - needed).max(0.0);
            if let Some(last) = sections.last_mut() {
                last.height += slack;
            }
            length += slack + needed;
            height = length + bar.height();
        }
        Chain { sections, bar, width, length, height }
    }

    /// Adds what an item is to a chain; the vertex that it leads to, if any.
    fn step(&mut self, sections: &mut Vec<Section>, at: usize, item: Item, up: bool, room: f64) -> Option<usize> {
        match item {
            Item::Hang(part) => {
                sections.push(self.hang(part, room));
                None
            }
            Item::Edge { edge, to } => {
                sections.push(self.edge(edge, at, up)?);
                Some(to)
            }
            Item::Out { edge, number } => {
                sections.push(self.edge(edge, at, up)?);
                let [_, to] = self.graph.edges.get(edge)?.ends;
                sections.push(self.mark(to, number, false, None));
                None
            }
            Item::In { edge, number } => {
                let of = self.graph.edges.get(edge)?;
                sections.push(self.mark(of.ends[0], number, true, Some(of.part)));
                None
            }
            Item::From { vertex, number } => {
                sections.push(self.mark(vertex, number, up, None));
                None
            }
            Item::On { vertex, number } => {
                sections.push(self.mark(vertex, number, false, None));
                None
            }
        }
    }

    fn edge(&self, edge: usize, at: usize, up: bool) -> Option<Section> {
        let of = self.graph.edges.get(edge)?;
        let forward = of.ends[0] == at;
        let sign = Sign::of(of.part, self.book.plan);
        let label = self.book.label(of.part, forward == up);
        let (form, height) = match of.part {
            Part::Run(_) => (Form::Run, (label.height() + 11.0).max(if sign == Sign::Wire { 24.0 } else { 42.0 })),
            _ => (Form::Inline, (label.height() + 10.0).max(2.0 * sign.reach() + 12.0)),
        };
        Some(Section { part: Some(of.part), form, sign, forward, label, height })
    }

    fn hang(&self, part: Part, room: f64) -> Section {
        let sign = Sign::of(part, self.book.plan);
        if let Part::Returns(node) = part {
            let label = Label { lines: returns(self.book.returns(node), room), tags: Vec::new() };
            let height = label.height() + 10.0;
            return Section { part: None, form: Form::Text, sign, forward: true, label, height };
        }
        let label = if part == Part::Chassis { Label::default() } else { self.book.label(part, false) };
        let height = (label.height() + 12.0).max(2.0 * sign.reach() + 11.0);
        Section { part: Some(part), form: Form::End, sign, forward: true, label, height }
    }

    /// The mark of what goes on at a vertex, or comes from there.
    fn mark(&self, vertex: usize, number: usize, from: bool, part: Option<Part>) -> Section {
        let way = if from { "from" } else { "to" };
        let place = self.book.name(self.book.vertex(vertex));
        let place = crate::text::fitted(&place, crate::style::TEXT, 120.0);
        let mut lines: Vec<Line> = part.map(|part| Line::new("strong", &self.book.name(part))).into_iter().collect();
        let line = Line::within("quiet", &format!("{way} {place} ▸ {number}"), 260.0);
        lines.push(Line { mark: Some((number, self.reserve)), ..line });
        let height = 26.0_f64.max(10.0 + PITCH * if part.is_some() { 2.0 } else { 1.0 });
        let label = Label { lines, tags: Vec::new() };
        Section { part, form: Form::Mark(from), sign: Sign::Wire, forward: true, label, height }
    }
}

/// The circuits that return to a bar, in lines of equal width.
fn returns(names: &[&str], room: f64) -> Vec<Line> {
    let whole: f64 = names.iter().map(|name| Line::new("quiet", name).width() + 8.0).sum();
    let most = (whole * PITCH * 6.0).sqrt().clamp(220.0, (room - 40.0).max(220.0));
    let mut lines: Vec<Line> = Vec::new();
    let mut text = "returns:".to_owned();
    for (index, name) in names.iter().enumerate() {
        let comma = if index + 1 < names.len() { "," } else { "" };
        let more = format!(" {}{comma}", Line::new("quiet", name).text);
        if Line::within("quiet", &format!("{text}{more}"), most).full.is_some() && !text.is_empty() {
            lines.push(Line::within("quiet", &text, most));
            text.clear();
        }
        text.push_str(if text.is_empty() { more.trim_start() } else { &more });
    }
    lines.push(Line::within("quiet", &text, most));
    lines
}
