//! Coordinates to markup.

use std::fmt::Write;

use maud::{Markup, html};

use super::place::{Placed, Scene, Symbol, Text};
use crate::Picture;
use crate::picture::Link;
use crate::text::px;

/// The scene as a picture: lines, symbols over them, texts; tags as what leads to their findings.
pub(super) fn picture(scene: &Scene, title: String, description: String) -> Picture {
    let links = scene.tags.iter().map(link).collect();
    Picture::new(title, description, (scene.width, scene.height), markup(scene)).with_links(links)
}

fn markup(scene: &Scene) -> Markup {
    html! {
        @if !scene.wires.is_empty() { path class="wire" d=(lines(&scene.wires)) {} }
        @if !scene.bars.is_empty() { path class="wire bar" d=(lines(&scene.bars)) {} }
        @for symbol in &scene.symbols { (self::symbol(symbol)) }
        @for text in &scene.texts { (self::text(text)) }
    }
}

fn lines(lines: &[[f64; 4]]) -> String {
    let mut path = String::new();
    for [x, y, to_x, to_y] in lines {
        let _ = if x == to_x {
            write!(path, "M{} {}V{}", px(*x), px(*y), px(*to_y))
        } else {
            write!(path, "M{} {}H{}", px(*x), px(*y), px(*to_x))
        };
    }
    path
}

fn symbol(symbol: &Symbol) -> Markup {
    let [x, y] = symbol.at;
    let turned = if symbol.sign.turns(symbol.upright) { " rotate(180)" } else { "" };
    html! { g transform=(format!("translate({} {}){turned}", px(x), px(y))) { (symbol.sign.draw(symbol.upright)) } }
}

fn text(text: &Text) -> Markup {
    let (line, [x, y]) = (&text.line, text.at);
    let class = (!line.class.is_empty()).then_some(line.class);
    html! {
        text class=[class] x=(px(x)) y=(px(y)) {
            (line.text)
            @if let Some(full) = &line.full { title { (full) } }
        }
    }
}

fn link(placed: &Placed) -> Link {
    let (tag, [x, y]) = (&placed.tag, placed.at);
    let (ground, letters) = (format!("tag-{}", tag.word), format!("small strong on-{}", tag.word));
    let sign = html! {
        rect class=(ground) x=(px(x)) y=(px(y)) width=(px(tag.width())) height="12.5" rx="3" {}
        text class=(letters) x=(px(x + tag.width() / 2.0)) y=(px(y + 9.8)) text-anchor="middle" { (tag.text) }
    };
    Link { target: format!("finding-{}", tag.target), name: tag.name.clone(), title: tag.title.clone(), sign }
}
