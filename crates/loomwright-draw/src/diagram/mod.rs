//! The single-line diagram of a judged plan: supplies at the top, loads below, bars level.
//!
//! One line stands for both conductors of a circuit. Nothing crosses: what a tree of lines cannot show, pairs of numbered
//! marks do.

mod boxes;
mod cuts;
mod describe;
mod draw;
#[cfg(test)]
mod fuzz;
mod graph;
mod labels;
mod layout;
mod place;
mod rows;
mod sheets;
mod symbols;
#[cfg(test)]
mod tests;
mod tree;

use loomwright::study::judge::Judgement;

use crate::Picture;
pub use sheets::diagram_sheets;

use labels::{Book, Line};
use layout::Layout;
use place::Scene;
use tree::Tree;

/// The width that a page aims at, without its margins.
const PAGE: f64 = 830.0;
/// What stays free around everything.
const MARGIN: f64 = 20.0;

/// The single-line diagram of a judged plan.
///
/// ```
/// use loomwright::{study::judge::judge, text::read_plan};
/// let text = include_str!("../../../loomwright/examples/lamp.toml");
/// let plan = read_plan(text).map_err(|errors| format!("{errors:?}"))?;
/// let picture = loomwright_draw::diagram(&judge(&plan)?);
/// assert!(picture.svg().contains("negative bar"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn diagram(judgement: &Judgement) -> Picture {
    let book = Book::of(judgement);
    let (scene, description) = scene(&book);
    let title = format!("Single-line diagram of {}", judgement.installation.name);
    draw::picture(&scene, title, description)
}

/// The diagram as coordinates, and what it shows in words.
fn scene(book: &Book<'_>) -> (Scene, String) {
    let mut scene = Scene::default();
    let [positive, negative] = graph::sides(book.plan);
    let mut number = 0;
    let tree = Tree::of(&positive, book.plan, &mut number);
    let mut above = Layout::new(book, &positive, &tree, number);
    let blocks = above.blocks(PAGE);
    number = above.number;
    let mut y = scene.shelves(&blocks, [MARGIN, MARGIN], PAGE);
    let mut description = describe::sentences(book, &blocks.iter().collect::<Vec<_>>());
    if negative.here.contains(&true) {
        let tree = Tree::of(&negative, book.plan, &mut number);
        let blocks = Layout::new(book, &negative, &tree, number).blocks(PAGE);
        scene.text(Line::new("head", "Negative side"), [MARGIN, y + 34.0], None);
        y = scene.shelves(&blocks, [MARGIN, y + 52.0], PAGE);
        description.push_str(" Below it, what joins the negatives.");
    }
    foot(&mut scene, book, y);
    (scene, description)
}

/// From what is drawn to the line below it.
const ABOVE_FOOT: f64 = 32.0;

/// What stands below everything, and with it the size of the scene.
fn foot(scene: &mut Scene, book: &Book<'_>, end: f64) {
    let text = "One line stands for both conductors; lengths are one way. IEC 61082 manner.";
    let text = if book.has_choices() { format!("{text} * chosen here") } else { text.to_owned() };
    scene.text(Line::within("quiet", &text, PAGE), [MARGIN, end + ABOVE_FOOT], None);
    scene.width += MARGIN;
    scene.height = end + ABOVE_FOOT + MARGIN;
}
