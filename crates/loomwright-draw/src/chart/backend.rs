//! What plotters draws axes on: markup with our classes instead of colours, in tenths of a pixel so that nothing is rounded
//! to whole ones.

use std::convert::Infallible;

use maud::html;
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind,
    text_anchor::{HPos, VPos},
};

use crate::text::{px, width};

/// Units of the backend in a pixel.
pub(super) const FINE: i32 = 10;

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

/// The ground that axes are drawn on.
pub(super) struct Ground<'a> {
    pub(super) out: &'a mut String,
    pub(super) size: (u32, u32),
}

fn pixels((x, y): BackendCoord) -> (f64, f64) {
    (f64::from(x) / f64::from(FINE), f64::from(y) / f64::from(FINE))
}

/// The class of a line: axes are drawn in black, grids in anything else.
fn class(colour: BackendColor) -> &'static str {
    if colour.rgb == (0, 0, 0) { "rule" } else { "grid" }
}

impl DrawingBackend for Ground<'_> {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, _: BackendCoord, _: BackendColor) -> Drawn {
        Ok(())
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.draw_path([from, to], style)
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Drawn {
        if style.color().alpha <= 0.0 {
            return Ok(());
        }
        let points: Vec<String> = path.into_iter().map(pixels).map(|(x, y)| format!("{} {}", px(x), px(y))).collect();
        let path = format!("M{}", points.join("L"));
        self.out.push_str(&html! { path class=(class(style.color())) d=(path) {} }.into_string());
        Ok(())
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, at: BackendCoord) -> Drawn {
        let (x, y) = pixels(at);
        let anchor = match style.anchor().h_pos {
            HPos::Left => None,
            HPos::Center => Some("middle"),
            HPos::Right => Some("end"),
        };
        let size = style.size() / f64::from(FINE);
        // From the edge that plotters gives to the line that letters stand on.
        let down = match style.anchor().v_pos {
            VPos::Top => 0.8,
            VPos::Center => 0.35,
            VPos::Bottom => -0.2,
        };
        let text = html! { text class="num quiet" x=(px(x)) y=(px(y + down * size)) text-anchor=[anchor] { (text) } };
        self.out.push_str(&text.into_string());
        Ok(())
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let whole = |value: f64| format!("{:.0}", value.clamp(0.0, 1e6)).parse().unwrap_or(0);
        Ok((whole(width(text, style.size())), whole(style.size() * 1.2)))
    }
}
