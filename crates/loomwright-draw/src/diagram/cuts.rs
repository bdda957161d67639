//! Blocks that fit a sheet: what makes one too tall goes on in a block of its own, a whole bar with its drops at a time.

use super::boxes::{BETWEEN, Bar, Chain, Row};
use super::layout::{Layout, Start};
use super::tree::Item;

/// Height of a mark.
const MARK: f64 = 26.0;
/// How much of a sheet a single cut should leave full.
const FULL: f64 = 0.5;

/// A block for a sheet.
pub(super) struct Block {
    pub(super) bar: Bar,
    /// The block that it was too much for: it belongs on a later sheet.
    pub(super) after: Option<usize>,
}

impl Layout<'_> {
    /// Every block, each no wider than the page and, where it can be cut so far, no higher than the sheet.
    pub(super) fn fitting(&mut self, page: f64, high: f64) -> Vec<Block> {
        let mut blocks = Vec::new();
        // By block, the last number of a mark in it.
        let mut numbers: Vec<usize> = Vec::new();
        while let Some(start) = self.queue.pop_front() {
            let cut = start.rest.is_some() || self.cuts.contains(&start.vertex);
            let mark = start.mark.filter(|_| cut);
            let after = mark.map(|(_, number, _)| numbers.partition_point(|last| *last < number));
            blocks.push(Block { bar: self.fit(&start, page, high), after });
            numbers.push(self.number);
        }
        blocks
    }

    fn fit(&mut self, start: &Start, page: f64, high: f64) -> Bar {
        loop {
            let before = (self.number, self.queue.len());
            let items = self.items(start);
            let block = self.block(start, items, page);
            if block.above() + block.height() <= high {
                return block;
            }
            let Some(cut) = choose(&block, high) else { return self.part(start, block, before, (page, high)) };
            self.undo(before);
            self.cuts.insert(cut);
        }
    }

    /// Forgets what a layout that is not kept has left behind.
    fn undo(&mut self, (number, queued): (usize, usize)) {
        self.number = number;
        self.queue.truncate(queued);
    }

    /// As many items of a bar as fit; the rest is the next to be laid out.
    fn part(&mut self, start: &Start, whole: Bar, before: (usize, usize), (page, high): (f64, f64)) -> Bar {
        let marks = usize::from(start.mark.is_some());
        let mut items = self.items(start);
        if items.len() < marks + 2 {
            return whole;
        }
        let own = items.split_off(marks);
        let rank = |item: &Item| if self.is_up(item) { 0 } else { 1 + u8::from(self.holds_bar(item)) };
        let mut ranked: Vec<(u8, Item)> = own.into_iter().map(|item| (rank(&item), item)).collect();
        ranked.sort_by_key(|ranked| ranked.0);
        let own: Vec<Item> = ranked.into_iter().map(|(_, item)| item).collect();
        self.undo(before);
        let number = self.number + 1;
        let some = |layout: &mut Self, count: usize| {
            layout.number = number;
            let on = Item::On { vertex: start.vertex, number };
            let some = items.iter().chain(own.iter().take(count)).copied().chain([on]).collect();
            layout.block(start, some, page)
        };
        // Halves first, then one by one: rows come out a little uneven.
        let (mut least, mut most) = (1, own.len() - 1);
        while least < most {
            let middle = (least + most).div_ceil(2);
            let block = some(self, middle);
            self.undo(before);
            if block.above() + block.height() <= high { least = middle } else { most = middle - 1 }
        }
        let block = loop {
            let block = some(self, least);
            if least == 1 || block.above() + block.height() <= high {
                break block;
            }
            self.undo(before);
            least -= 1;
        };
        let next = start.rest.as_ref().map_or(1, |(_, first)| *first) + block.rows.len();
        let rest = own.into_iter().skip(least).collect();
        self.queue.push_front(Start {
            vertex: start.vertex,
            mark: Some((start.vertex, number, false)),
            rest: Some((rest, next)),
        });
        block
    }
}

/// Which bar of a block should go on elsewhere; none where it holds no other bar.
///
/// The one that leaves most, where the rest then fits and fills the sheet about half; else the one that takes most away and fits
/// a sheet itself; else the one that leaves most of what fits.
fn choose(block: &Bar, high: f64) -> Option<usize> {
    let mut inner = Vec::new();
    collect(block, &mut inner);
    let whole = block.above() + height(block, None);
    let left = |bar: &Bar| above(block, bar.vertex) + height(block, Some(bar.vertex));
    let found: Vec<(usize, f64, f64)> =
        inner.into_iter().map(|bar| (bar.vertex, left(bar), bar.above() + bar.height() + MARK)).collect();
    let best = |fits: &dyn Fn(f64, f64) -> bool, value: &dyn Fn(f64, f64) -> f64| {
        let able = found.iter().filter(|(_, left, own)| fits(*left, *own));
        let better = |one: Option<(usize, f64)>, next: &(usize, f64, f64)| {
            let value = value(next.1, next.2);
            if one.is_some_and(|(_, most)| most >= value) { one } else { Some((next.0, value)) }
        };
        able.fold(None, better).map(|(vertex, _)| vertex)
    };
    best(&|left, _| left <= high && left >= FULL * high, &|left, _| left)
        // Where several stand side by side, no single one shortens the block: then the tallest.
        .or_else(|| best(&|left, own| left > high && own <= high, &|left, own| whole - left + own / 1e3))
        .or_else(|| best(&|left, _| left <= high, &|left, _| left))
        .or_else(|| best(&|_, _| true, &|left, own| whole - left + own / 1e3))
}

/// All bars within a bar.
fn collect<'a>(bar: &'a Bar, into: &mut Vec<&'a Bar>) {
    let chains = bar.rows.iter().flat_map(|row| row.ups.iter().chain(&row.downs));
    for inner in chains.filter_map(|chain| chain.bar.as_ref()) {
        into.push(inner);
        collect(inner, into);
    }
}

/// How high chains are beside each other without what is beyond one bar.
fn tallest(chains: &[Chain], cut: Option<usize>) -> f64 {
    let own = |chain: &Chain| match &chain.bar {
        Some(bar) if Some(bar.vertex) == cut => chain.sections.iter().map(|one| one.height).sum::<f64>() + MARK,
        Some(bar) => chain.length + height(bar, cut),
        None => chain.height,
    };
    chains.iter().map(own).fold(0.0, f64::max)
}

/// What stands above a bar's first stretch then.
fn above(bar: &Bar, cut: usize) -> f64 {
    bar.rows.first().map_or(0.0, |row| tallest(&row.ups, Some(cut)) + row.lift)
}

/// How high a bar is from its first stretch down, then.
fn height(bar: &Bar, cut: Option<usize>) -> f64 {
    // What hangs alone on a stretch moves up beside its neighbours once it is short.
    let gone = |row: &Row| match row.downs.as_slice() {
        [only] => row.ups.is_empty() && cut.is_some() && only.bar.as_ref().map(|bar| bar.vertex) == cut,
        _ => false,
    };
    let rows = bar.rows.iter().enumerate().filter(|(index, row)| *index == 0 || !gone(row));
    rows.map(|(index, row)| {
        let between = if index > 0 { BETWEEN + tallest(&row.ups, cut) + row.lift } else { 0.0 };
        between + tallest(&row.downs, cut)
    })
    .sum()
}
