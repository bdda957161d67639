//! A picture: markup with its size, a title and a description for whoever does not see it.

use maud::{Markup, PreEscaped, html};

use crate::style;
use crate::text::px;

/// A picture as Scalable Vector Graphics.
///
/// The same results give the same bytes. Text stays text, colours follow the reader's light or dark ground, and every series
/// is told apart without colour too.
#[derive(Clone, Debug)]
pub struct Picture {
    /// What it shows, in a few words.
    pub title: String,
    /// What there is to see, in sentences.
    pub description: String,
    /// Its width, in CSS pixels.
    pub width: f64,
    /// Its height, in CSS pixels.
    pub height: f64,
    body: String,
}

impl Picture {
    pub(crate) fn new(title: String, description: String, (width, height): (f64, f64), body: Markup) -> Self {
        Self { title, description, width: width.ceil(), height: height.ceil(), body: body.into_string() }
    }

    /// As a file of its own, with its style sheet.
    pub fn svg(&self) -> String {
        let style = html! { style { (PreEscaped(style::sheet())) } };
        let ground = html! { rect class="ground" width="100%" height="100%" {} };
        let mark = self.element("picture", true, &html! { (style) (ground) });
        legible("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned() + &mark.into_string() + "\n")
    }

    /// As an element of a page that holds the style sheet; `id` is its name there.
    pub(crate) fn inline(&self, id: &str) -> Markup {
        self.element(id, false, &html! {})
    }

    fn element(&self, id: &str, alone: bool, before: &Markup) -> Markup {
        let size = format!("0 0 {} {}", px(self.width), px(self.height));
        let (title, description) = (format!("{id}-title"), format!("{id}-text"));
        html! {
            svg class="pic" xmlns="http://www.w3.org/2000/svg" viewBox=(size) role="img"
                width=[alone.then(|| px(self.width))] height=[alone.then(|| px(self.height))]
                style=[(!alone).then(|| format!("max-width:{}px", px(self.width)))]
                aria-labelledby=(title) aria-describedby=(description) {
                title id=(title) { (self.title) }
                desc id=(description) { (self.description) }
                (before)
                (PreEscaped(&self.body))
            }
        }
    }
}

/// Text without the letters that XML 1.0 does not know: a name may hold any.
pub(crate) fn legible(text: String) -> String {
    let known = |letter: char| matches!(letter, '\t' | '\n' | '\r' | '\u{20}'..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..='\u{10ffff}');
    if text.chars().all(known) {
        return text;
    }
    text.chars().map(|letter| if known(letter) { letter } else { '\u{fffd}' }).collect()
}
