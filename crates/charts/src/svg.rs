//! A figure as SVG text.

use plotters::drawing::IntoDrawingArea;
use plotters_svg::SVGBackend;

use crate::figure::Figure;
use crate::painting::draw;
use crate::palette::Palette;
use crate::style::Style;
use crate::text::summary;
use crate::window::Window;

/// Units of the view box per CSS pixel: the backend writes whole numbers, which would make curves wobble.
const DETAIL: u32 = 4;

/// Larger figures are cut to this many CSS pixels a side.
const MOST_SIDE: u32 = 10_000;

/// `figure` as an SVG document of the given size in CSS pixels.
///
/// The figure's name is its `title`, its summary in words the `desc`, so that the file can be read without
/// being seen.
pub fn svg(figure: &Figure, window: Option<Window>, width: u32, height: u32, palette: Palette) -> String {
    let (width, height) = (width.min(MOST_SIDE), height.min(MOST_SIDE));
    let style = Style::svg(f64::from(DETAIL), palette);
    let mut drawn = String::new();
    {
        let size = (width * DETAIL, height * DETAIL);
        let area = SVGBackend::with_string(&mut drawn, size).into_drawing_area();
        // Writing to a string has nothing that could fail; a shape lost would still leave a document.
        let _ = draw(&area, figure, window, &style);
        let _ = area.present();
    }
    // The backend's opening tag gives the view box as the size. Ours says how large a unit is.
    let body = drawn.split_once('>').map_or("", |(_, body)| body);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {} {}\">\n<title>{}</title>\n<desc>{}</desc>{body}",
        width * DETAIL,
        height * DETAIL,
        escaped(&figure.name),
        escaped(&summary(figure)),
    )
}

/// Text that cannot end the element it stands in.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '&' => safe.push_str("&amp;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&apos;"),
            // XML has no way to write these at all.
            control if control.is_control() && !matches!(control, '\n' | '\t') => safe.push(' '),
            '\u{fffe}' | '\u{ffff}' => safe.push(' '),
            other => safe.push(other),
        }
    }
    safe
}

#[cfg(test)]
mod tests;
