//! The layout on the page: every text, line and symbol with its coordinates.

use super::boxes::{BETWEEN, Bar, Chain, Form, Row, Section};
use super::graph::Part;
use super::labels::{Label, Line, PITCH, Tag};
use super::layout::{BESIDE, INDENT, LEFT};
use super::symbols::Sign;

/// A text on the page.
#[derive(Clone, Debug)]
pub(super) struct Text {
    pub(super) line: Line,
    /// Its left end and its baseline.
    pub(super) at: [f64; 2],
    /// What it is the name of; only tests ask.
    #[cfg_attr(not(test), expect(dead_code, reason = "tests find by it what is named how often"))]
    pub(super) names: Option<Part>,
}

impl Text {
    /// Left, top, right and bottom of it at its widest.
    #[cfg(test)]
    pub(super) fn frame(&self) -> [f64; 4] {
        let [x, y] = self.at;
        [x, y - 9.0, x + self.line.width(), y + 2.5]
    }
}

/// The tag of a finding on the page.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub(super) tag: Tag,
    /// Its upper left corner.
    pub(super) at: [f64; 2],
}

/// A symbol on the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Symbol {
    pub(super) sign: Sign,
    /// Its middle.
    pub(super) at: [f64; 2],
    /// Whether its first terminal is at its top.
    pub(super) upright: bool,
}

/// Everything that is drawn, with its coordinates.
#[derive(Clone, Debug, Default)]
pub(super) struct Scene {
    pub(super) texts: Vec<Text>,
    pub(super) tags: Vec<Placed>,
    /// Thin lines, from and to.
    pub(super) wires: Vec<[f64; 4]>,
    /// Thick ones.
    pub(super) bars: Vec<[f64; 4]>,
    pub(super) symbols: Vec<Symbol>,
    /// Bounds of what is drawn.
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Scene {
    /// A text at its left end and baseline.
    pub(super) fn text(&mut self, line: Line, at: [f64; 2], names: Option<Part>) {
        if !line.text.is_empty() {
            self.width = self.width.max(at[0] + line.width());
            self.texts.push(Text { line, at, names });
        }
    }

    fn label(&mut self, label: &Label, part: Option<Part>, [x, top]: [f64; 2]) {
        let mut y = top;
        for (index, line) in label.lines.iter().enumerate() {
            let mut end = x + line.width();
            self.text(line.clone(), [x, y + 10.0], part.filter(|_| index == 0));
            for tag in label.tags.iter().filter(|_| index == 0) {
                self.tags.push(Placed { tag: tag.clone(), at: [end + 3.0, y] });
                end += tag.width() + 3.0;
            }
            self.width = self.width.max(end);
            y += PITCH;
        }
    }

    fn wire(&mut self, x: f64, from: f64, to: f64) {
        if (from - to).abs() > 1e-9 {
            self.wires.push([x, from.min(to), x, from.max(to)]);
        }
    }

    /// A bar and all beyond it, the left edge of its box and its own height given.
    pub(super) fn bar(&mut self, bar: &Bar, [x, y]: [f64; 2], up: bool) {
        let way = if up { -1.0 } else { 1.0 };
        let (mut at, trunk) = (y, x + LEFT);
        let folded = bar.rows.len() > 1;
        let mut before = 0.0;
        for (index, row) in bar.rows.iter().enumerate() {
            if index > 0 {
                at += way * (before + BETWEEN + row.above);
            }
            before = row.below;
            let tied = folded || bar.entered;
            let ends = ends(row, trunk, tied, folded);
            if bar.drawn {
                self.bars.push([ends[0], at, ends[1], at]);
                self.width = self.width.max(ends[1] + 3.0);
            }
            if index > 0 {
                self.bars.push([trunk, y.min(at), trunk, y.max(at)]);
            }
            let first = row.ups.first().filter(|_| row.lift > 0.0).map(|_| x + row.up_start + LEFT + BESIDE);
            let left = first.unwrap_or(if index > 0 || bar.entered { trunk + BESIDE } else { ends[0] });
            let top = if up { at + 4.0 } else { at - 4.0 - PITCH };
            self.label(&row.label, Some(Part::Node(bar.vertex)).filter(|_| index == 0 && bar.first == 1), [left, top]);
            let mut place = x + row.up_start;
            for chain in &row.ups {
                self.wire(place + LEFT, at, at - row.lift);
                self.chain(chain, [place, at - row.lift], true);
                place += chain.width;
            }
            let mut place = x + row.down_start;
            for chain in &row.downs {
                self.chain(chain, [place, at], up);
                place += chain.width;
            }
        }
    }

    fn chain(&mut self, chain: &Chain, [x, y]: [f64; 2], up: bool) {
        let way = if up { -1.0 } else { 1.0 };
        let mut at = y;
        for section in &chain.sections {
            self.section(section, [x, at], up);
            at += way * section.height;
        }
        if let Some(bar) = &chain.bar {
            let end = y + way * chain.length;
            self.wire(x + LEFT, at, end);
            self.bar(bar, [x, end], up);
        }
    }

    fn section(&mut self, section: &Section, [left, start]: [f64; 2], up: bool) {
        let way = if up { -1.0 } else { 1.0 };
        let (x, height, reach) = (left + LEFT, section.height, section.sign.reach());
        let (end, label) = (start + way * height, section.label.height());
        let (top, bottom) = (start.min(end), start.max(end));
        let along = |distance: f64| start + way * distance;
        let sign = section.sign;
        // Where the first terminal is at the top.
        let upright = section.forward != up;
        let (beside, name) = (x + BESIDE, section.part);
        match section.form {
            Form::Run => {
                let protected = sign != Sign::Wire;
                let high = if protected { upright } else { !up };
                if protected {
                    let middle = if upright { top + 18.0 } else { bottom - 18.0 };
                    self.wire(x, top, middle - reach);
                    self.wire(x, middle + reach, bottom);
                    self.symbols.push(Symbol { sign, at: [x, middle], upright });
                } else {
                    self.wire(x, top, bottom);
                }
                let text = if high { top + 5.0 } else { bottom - 5.0 - label };
                self.label(&section.label, name, [beside, text]);
            }
            Form::Inline => {
                let middle = f64::midpoint(top, bottom);
                self.wire(x, top, middle - reach);
                self.wire(x, middle + reach, bottom);
                self.symbols.push(Symbol { sign, at: [x, middle], upright });
                self.label(&section.label, name, [beside, middle - label / 2.0]);
            }
            Form::End | Form::Dot => {
                let middle = if section.form == Form::Dot { along(height / 2.0) } else { along(height / 2.0 + 2.0) };
                self.wire(x, start, middle - way * reach);
                if section.form == Form::Dot {
                    self.wire(x, middle + way * reach, end);
                }
                if sign == Sign::Bar {
                    self.bars.push([x - 9.0, middle, x + 9.0, middle]);
                } else {
                    // Batteries and what brings current from outside hang on their second terminal.
                    let upright = if matches!(sign, Sign::Battery | Sign::Shore) { up } else { !up };
                    self.symbols.push(Symbol { sign, at: [x, middle], upright });
                }
                self.label(&section.label, name, [beside, middle - label / 2.0]);
            }
            Form::Mark(from) => {
                let middle = along(height / 2.0 + 1.0);
                self.wire(x, start, middle);
                let sign = Sign::Arrow;
                self.symbols.push(Symbol { sign, at: [x, middle], upright: from == up });
                self.label(&section.label, name, [beside, middle - label / 2.0]);
            }
            Form::Text => self.label(&section.label, name, [left + 5.0, top + 6.0]),
        }
    }

    /// Blocks side by side and below each other; where the last one ends.
    pub(super) fn shelves(&mut self, blocks: &[Bar], [left, top]: [f64; 2], page: f64) -> f64 {
        let mut y = top;
        let mut rest = blocks;
        while !rest.is_empty() {
            let (mut count, mut used) = (0, 0.0);
            for block in rest {
                if count > 0 && used + block.width > page {
                    break;
                }
                count += 1;
                used += block.width + INDENT;
            }
            let (shelf, after) = rest.split_at(count);
            y = self.shelf(shelf, [left, y]) + 2.0 * BETWEEN;
            rest = after;
        }
        y - 2.0 * BETWEEN
    }

    /// Blocks side by side, their first stretches in line; where they end.
    pub(super) fn shelf(&mut self, shelf: &[Bar], [left, top]: [f64; 2]) -> f64 {
        let line = top + shelf.iter().map(Bar::above).fold(0.0, f64::max);
        let mut x = left;
        for block in shelf {
            self.bar(block, [x, line], false);
            x += block.width + INDENT;
        }
        line + shelf.iter().map(Bar::height).fold(0.0, f64::max)
    }
}

/// Where a stretch of a bar begins and ends.
fn ends(row: &Row, trunk: f64, tied: bool, folded: bool) -> [f64; 2] {
    let left = trunk - LEFT;
    let lines = |chains: &[Chain], start: f64| {
        let mut at = left + start + LEFT;
        let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
        for chain in chains {
            ends = [ends[0].min(at), ends[1].max(at)];
            at += chain.width;
        }
        ends
    };
    let (ups, downs) = (lines(&row.ups, row.up_start), lines(&row.downs, row.down_start));
    let first = ups[0].min(downs[0]).min(if tied { trunk } else { f64::INFINITY });
    let first = if first.is_finite() { first } else { trunk };
    let last = ups[1].max(downs[1]).max(first + 30.0);
    let start = if tied { trunk } else { first };
    // Where it goes on further down, its corner is plain.
    [start - if folded { 0.0 } else { 9.0 }, last + 9.0]
}
