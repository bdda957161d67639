//! Rows: which chains stand side by side on one stretch of a bar.

use super::layout::{Chain, Form, INDENT, Row};

/// Chains in as many stretches as they need; the first one above a stretch leaves room for its name.
pub(super) fn pack(ups: Vec<Chain>, downs: Vec<Chain>, entry: Option<f64>, name: f64, room: f64) -> Vec<Row> {
    let sum = |chains: &[Chain]| chains.iter().map(|chain| chain.width).sum::<f64>();
    let single = entry.unwrap_or(0.0) + sum(&ups) <= room && sum(&downs) <= room;
    if single {
        return vec![Row { ups, downs, up_start: entry.unwrap_or(0.0), ..Row::default() }];
    }
    let first = entry.unwrap_or(INDENT);
    let mut rows = vec![Row { up_start: first, down_start: INDENT, ..Row::default() }];
    let fresh = || Row { up_start: INDENT, down_start: INDENT, ..Row::default() };
    let (mut place, mut used) = (0, first);
    for mut chain in ups {
        if used + chain.width > room && used > INDENT {
            (place, used) = (place + 1, INDENT);
            rows.push(fresh());
        }
        if let Some(row) = rows.get_mut(place) {
            if row.ups.is_empty() && (place > 0 || entry.is_none()) {
                chain.width = chain.width.max(name);
            }
            used += chain.width;
            row.ups.push(chain);
        }
    }
    let (leaves, trees): (Vec<Chain>, Vec<Chain>) = downs.into_iter().partition(|chain| chain.bar.is_none());
    let widest = balanced(&leaves, room - INDENT);
    let mut place = 0;
    for (chains, room) in [(leaves, widest), (trees, room - INDENT)] {
        let mut used = 0.0;
        for chain in chains {
            let full = rows.get(place).is_some_and(|row| !row.downs.is_empty());
            if full && (used == 0.0 || used + chain.width > room + 1e-6) {
                (place, used) = (place + 1, 0.0);
            }
            if place >= rows.len() {
                rows.push(fresh());
            }
            used += chain.width;
            if let Some(row) = rows.get_mut(place) {
                row.downs.push(chain);
            }
        }
    }
    rows
}

/// The least width in which chains take no more rows than in the whole of it, so that rows come out about as long.
fn balanced(chains: &[Chain], room: f64) -> f64 {
    let rows = |room: f64| {
        let (mut rows, mut used) = (1, 0.0);
        for chain in chains {
            if used > 0.0 && used + chain.width > room {
                (rows, used) = (rows + 1, 0.0);
            }
            used += chain.width;
        }
        rows
    };
    let least = rows(room);
    let (mut low, mut high) = (chains.iter().map(|chain| chain.width).fold(0.0, f64::max), room);
    if rows(low) == least {
        return low;
    }
    for _ in 0..16 {
        let middle = f64::midpoint(low, high);
        if rows(middle) == least { high = middle } else { low = middle }
    }
    high
}

/// Gives sections side by side one height, so that what ends them stands in one line.
pub(super) fn align(chains: &mut [Chain]) {
    let longest = chains.iter().map(|chain| chain.sections.len()).max().unwrap_or(0);
    let mut heights = vec![0.0_f64; longest];
    for chain in chains.iter().filter(|chain| chain.bar.is_none()) {
        let inner = chain.sections.len().saturating_sub(1);
        for (section, height) in chain.sections.iter().take(inner).zip(&mut heights) {
            *height = height.max(section.height);
        }
    }
    for chain in chains.iter_mut().filter(|chain| chain.bar.is_none()) {
        let inner = chain.sections.len().saturating_sub(1);
        for (section, height) in chain.sections.iter_mut().take(inner).zip(&heights) {
            if section.form != Form::Text {
                section.height = section.height.max(*height);
            }
        }
        chain.height = chain.sections.iter().map(|section| section.height).sum();
        chain.length = chain.height;
    }
}
