//! A picture: markup with its size, a title and a description for whoever does not see it.

use maud::{Markup, PreEscaped, html};

use crate::style;
use crate::text::{fitted, px, width};

/// Room for the title above a picture that stands alone.
pub(crate) const HEAD: f64 = 28.0;
/// From the left edge to that title.
const BESIDE: f64 = 20.0;
/// The size of its letters, where it fits.
const LARGEST: f64 = 13.0;
/// How much wider they are than those of ordinary weight.
const BOLD: f64 = 1.1;

/// Something in a picture that leads to another place of the page.
#[derive(Clone, Debug)]
pub(crate) struct Link {
    /// The identifier of that place.
    pub(crate) target: String,
    /// What it is called there.
    pub(crate) name: String,
    /// What is told of it where there is no such place.
    pub(crate) title: String,
    /// How it is drawn.
    pub(crate) sign: Markup,
}

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
    links: Vec<Link>,
}

impl Picture {
    pub(crate) fn new(title: String, description: String, (width, height): (f64, f64), body: Markup) -> Self {
        Self {
            title,
            description,
            width: width.ceil(),
            height: height.ceil(),
            body: body.into_string(),
            links: Vec::new(),
        }
    }

    /// The same with what leads elsewhere, drawn over all the rest.
    pub(crate) fn with_links(self, links: Vec<Link>) -> Self {
        Self { links, ..self }
    }

    /// As a file of its own, with its style sheet and its title above it.
    pub fn svg(&self) -> String {
        let view = format!("0 {} {} {}", px(-HEAD), px(self.width), px(self.height + HEAD));
        let room = self.width - 2.0 * BESIDE;
        // Smaller where it would not fit, as small as ordinary text; cut only then.
        let least = (room / width(&self.title, BOLD) * 10.0).floor() / 10.0;
        let size = least.clamp(style::TEXT, LARGEST);
        let mark = html! {
            svg class="pic" xmlns="http://www.w3.org/2000/svg" viewBox=(view) role="img"
                width=(px(self.width)) height=(px(self.height + HEAD))
                aria-labelledby="picture-title" aria-describedby="picture-text" {
                (self.says("picture"))
                style { (PreEscaped(style::sheet())) }
                rect class="ground" y=(px(-HEAD)) width="100%" height="100%" {}
                text class="head" x=(px(BESIDE)) y="-6" style=(format!("font-size:{}px", px(size))) {
                    (fitted(&self.title, size * BOLD, room))
                }
                (PreEscaped(&self.body))
                @for link in &self.links { g { title { (link.title) } (link.sign) } }
            }
        };
        legible("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned() + &mark.into_string() + "\n")
    }

    /// As an element of a page that holds the style sheet and shows the title; `id` is its name there.
    ///
    /// What is in an image is hidden from whoever hears the page, so links stand beside the image and not in it.
    pub(crate) fn inline(&self, id: &str) -> Markup {
        let size = format!("0 0 {} {}", px(self.width), px(self.height));
        let style = format!("max-width:{}px", px(self.width));
        let (title, description) = (format!("{id}-title"), format!("{id}-text"));
        html! {
            @if self.links.is_empty() {
                svg class="pic" xmlns="http://www.w3.org/2000/svg" viewBox=(size) role="img" style=(style)
                    aria-labelledby=(title) aria-describedby=(description) { (self.says(id)) (PreEscaped(&self.body)) }
            } @else {
                svg class="pic" xmlns="http://www.w3.org/2000/svg" viewBox=(size) role="group" style=(style) {
                    g role="img" aria-labelledby=(title) aria-describedby=(description) {
                        (self.says(id))
                        (PreEscaped(&self.body))
                    }
                    @for link in &self.links {
                        a href=(format!("#{}", link.target)) { title { (link.name) } (link.sign) }
                    }
                }
            }
        }
    }

    /// Its title and description.
    fn says(&self, id: &str) -> Markup {
        html! {
            title id=(format!("{id}-title")) { (self.title) }
            desc id=(format!("{id}-text")) { (self.description) }
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
