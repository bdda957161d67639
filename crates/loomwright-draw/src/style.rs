//! How pictures and report look: one list of colours for light and dark, line styles that are told apart without
//! colour, and the typefaces.
//!
//! Series have the colours that Okabe and Ito chose so that colour-blind people tell them apart; of those the ones with
//! enough contrast on the ground. Signal words have the colours of ISO 3864 as near as a screen has
//! them (from memory). Every series also has a dash and a marker of its
//! own.

use std::fmt::Write;

/// Typefaces of labels and tables.
pub(crate) const SANS: &str =
    "\"Segoe UI\",\"Helvetica Neue\",Helvetica,Arial,\"Liberation Sans\",\"DejaVu Sans\",sans-serif";

/// Size of ordinary text in pictures.
pub(crate) const TEXT: f64 = 11.0;
/// Size of small text in pictures.
pub(crate) const SMALL: f64 = 10.0;

/// What is drawn: its selector and property, its colour on a light ground and on a dark one.
const COLOURS: &[(&str, &str, &str, &str)] = &[
    (".ground", "fill", "#fdfcf9", "#15181b"),
    (".ink,.pic text", "fill", "#1c2126", "#e9e7e1"),
    (".pic text.quiet", "fill", "#545c63", "#b3b5b2"),
    (".wire", "stroke", "#1c2126", "#e9e7e1"),
    (".body", "stroke", "#1c2126", "#e9e7e1"),
    (".body,.under", "fill", "#fdfcf9", "#15181b"),
    (".solid", "fill", "#1c2126", "#e9e7e1"),
    (".rule", "stroke", "#b9bdbb", "#565c60"),
    (".grid", "stroke", "#e2e2dc", "#2d3236"),
    (".limit", "stroke", "#1c2126", "#e9e7e1"),
    (".s1", "stroke", "#0072b2", "#56b4e9"),
    (".s2", "stroke", "#d55e00", "#e69f00"),
    (".s3", "stroke", "#009e73", "#2cc79c"),
    (".s4", "stroke", "#a8528a", "#cc79a7"),
    (".s5", "stroke", "#1c2126", "#f0e442"),
    (".f1", "fill", "#0072b2", "#56b4e9"),
    (".f2", "fill", "#d55e00", "#e69f00"),
    (".f3", "fill", "#009e73", "#2cc79c"),
    (".f4", "fill", "#a8528a", "#cc79a7"),
    (".f5", "fill", "#1c2126", "#f0e442"),
    (".pic text.halo", "stroke", "#fdfcf9", "#15181b"),
    (".tag-danger", "fill", "#9b2423", "#e5534b"),
    (".tag-warning", "fill", "#f08a00", "#f08a00"),
    (".tag-caution", "fill", "#f7d117", "#f7d117"),
    (".tag-notice", "fill", "#00538a", "#7cc0ee"),
    (".pic text.on-danger", "fill", "#ffffff", "#15181b"),
    (".pic text.on-warning", "fill", "#15181b", "#15181b"),
    (".pic text.on-caution", "fill", "#15181b", "#15181b"),
    (".pic text.on-notice", "fill", "#ffffff", "#15181b"),
];

/// What has no colour.
const FORMS: &str = "\
.pic text{font-family:FACE;font-size:11px}\
.pic text.small{font-size:10px}.pic text.strong{font-weight:600}.pic text.head{font-size:13px;font-weight:600}\
.pic text.num{font-variant-numeric:tabular-nums}\
.wire{fill:none;stroke-width:1.3}.body{stroke-width:1.3}.bar{stroke-width:4;stroke-linecap:square}\
.rule,.grid{fill:none;stroke-width:1}.limit{fill:none;stroke-width:1.5;stroke-dasharray:7 4}\
.thin{stroke-width:.8}.dash{stroke-dasharray:4 3}\
.s1,.s2,.s3,.s4,.s5{fill:none;stroke-width:1.8;stroke-linejoin:round}\
.s2{stroke-dasharray:8 3}.s3{stroke-dasharray:3 2}.s4{stroke-dasharray:10 3 2 3}.s5{stroke-dasharray:1.5 2.5}\
.pic text.halo{paint-order:stroke;stroke-width:3px;stroke-linejoin:round}\
.whole,.whole path{stroke-dasharray:none}.mark{stroke-width:1.5;stroke-dasharray:none}\
.veil{fill-opacity:.22;stroke:none}.f1,.f2,.f3,.f4,.f5{stroke:none}";

/// The style sheet of pictures: on a light ground, on a dark one where the reader prefers that, and on paper always light.
pub(crate) fn sheet() -> String {
    let mut out = FORMS.replace("FACE", SANS);
    let rules = |pick: fn(&(&str, &str, &'static str, &'static str)) -> &'static str| {
        let mut rules = String::new();
        for colour in COLOURS {
            let _ = write!(rules, "{}{{{}:{}}}", colour.0, colour.1, pick(colour));
        }
        rules
    };
    let (light, dark) = (rules(|colour| colour.2), rules(|colour| colour.3));
    out.push_str(&light);
    let _ = write!(out, "@media screen and (prefers-color-scheme:dark){{{dark}}}");
    // Paper is white by itself.
    out.push_str("@media print{.ground,.body,.under{fill:#fff}.pic text.halo{stroke:#fff}}");
    out
}
