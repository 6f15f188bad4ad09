//! From a figure to strokes on a backend.
//!
//! The figure is first turned into a list of [`shape::Shape`]s in whole pixels, by code that knows no
//! backend; one small generic function then hands the list over. Own ticks and layout replace plotters'
//! chart builder, whose tick search does not end on some ranges and whose text measuring lays the
//! page out again for every label.

mod axes;
mod clipping;
mod dashes;
mod layout;
mod legend;
mod lettering;
mod marks;
mod paint;
mod shape;
#[cfg(test)]
mod tests;
mod thinning;

use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind};
use plotters_backend::DrawingBackend;

use crate::figure::Figure;
use crate::pixel_map::{PixelMap, PixelRect};
use crate::style::{Background, Style};
use crate::window::Window;
use layout::Layout;
use shape::{Color, Sheet};
pub use thinning::MOST_PER_COLUMN;

/// Draws the part of `figure` that lies in `window`, all of it without one, over the whole of `area`.
///
/// Returns where the data went, in pixels of the backend. An area too small for axes gets its paper
/// and nothing else.
///
/// # Errors
/// Passes on what the backend reports.
pub fn draw<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    figure: &Figure,
    window: Option<Window>,
    style: &Style,
) -> Result<PixelMap, DrawingAreaErrorKind<DB::ErrorType>> {
    let (across, down) = area.get_pixel_range();
    let width = f64::from(across.end.saturating_sub(across.start).max(0));
    let height = f64::from(down.end.saturating_sub(down.start).max(0));
    let (sheet, map) = compose(figure, window, style, width, height);
    paint::paint(area, &sheet, style)?;
    Ok(map.moved(area.get_base_pixel()))
}

/// All shapes of a figure on paper of the given size, and where its data lies.
fn compose(
    figure: &Figure,
    window: Option<Window>,
    style: &Style,
    width: f64,
    height: f64,
) -> (Sheet, PixelMap) {
    let mut sheet = Sheet::new(style.safe_scale(), style.text_drop);
    if style.background == Background::Paper {
        let paper = PixelRect { left: 0.0, top: 0.0, right: width, bottom: height };
        sheet.rect(paper, Color::solid(style.palette.paper));
    }
    let layout =
        Layout::new(figure, window.unwrap_or_else(|| Window::whole(figure)), sheet.scale(), width, height);
    if layout.has_room() {
        marks::tints(&mut sheet, figure, &layout.map, &style.palette);
        axes::draw(&mut sheet, figure, &layout, &style.palette);
        marks::layers(&mut sheet, figure, &layout.map, &style.palette);
        legend::draw(&mut sheet, &layout.legend, &style.palette);
    }
    (sheet, layout.map)
}
