//! Rows: which chains stand side by side on one stretch of a bar.

use super::boxes::{Chain, Form, Row};
use super::layout::INDENT;

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
    let (mut leaves, trees): (Vec<Chain>, Vec<Chain>) = downs.into_iter().partition(|chain| chain.bar.is_none());
    let most = columns(&mut leaves, room - INDENT);
    let mut place = 0;
    for (chains, most) in [(leaves, most), (trees, usize::MAX)] {
        let (mut used, mut count) = (0.0, 0);
        for chain in chains {
            let full = rows.get(place).is_some_and(|row| !row.downs.is_empty());
            if full && (count == 0 || count >= most || used + chain.width > room - INDENT + 1e-6) {
                (place, used, count) = (place + 1, 0.0, 0);
            }
            if place >= rows.len() {
                rows.push(fresh());
            }
            (used, count) = (used + chain.width, count + 1);
            if let Some(row) = rows.get_mut(place) {
                row.downs.push(chain);
            }
        }
    }
    rows
}

/// How many chains stand in a row, so that rows come out about as long and what stands below each other is in line; where
/// that would take more rows than the room needs, each row is as it comes.
fn columns(chains: &mut [Chain], room: f64) -> usize {
    let (mut tight, mut used) = (1, 0.0);
    for chain in chains.iter() {
        if used > 0.0 && used + chain.width > room {
            (tight, used) = (tight + 1, 0.0);
        }
        used += chain.width;
    }
    let most = chains.len().div_ceil(tight).max(1);
    let mut widths = vec![0.0_f64; most];
    for (index, chain) in chains.iter().enumerate() {
        if let Some(width) = widths.get_mut(index % most) {
            *width = width.max(chain.width);
        }
    }
    if widths.iter().sum::<f64>() > room {
        return usize::MAX;
    }
    for (chain, width) in chains.iter_mut().zip(widths.iter().cycle()) {
        chain.width = *width;
    }
    most
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
