//! What is handed to a backend: a short list of plain shapes in whole pixels.

use crate::palette::Rgb;
use crate::pixel_map::PixelRect;

/// A corner in whole pixels, from the upper left of the area.
pub(super) type Pixel = (i32, i32);

/// A color with its opacity, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Color {
    pub(super) rgb: Rgb,
    pub(super) alpha: f64,
}

impl Color {
    pub(super) fn solid(rgb: Rgb) -> Self {
        Self { rgb, alpha: 1.0 }
    }

    pub(super) fn tint(rgb: Rgb, alpha: f64) -> Self {
        Self { rgb, alpha }
    }
}

/// Which end of a text its position is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// One thing to draw.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Shape {
    /// A filled rectangle; also every upright or flat line, which is then sharp at any width.
    Rect { from: Pixel, to: Pixel, color: Color },
    /// An open line through its corners.
    Path { corners: Vec<Pixel>, width: u32, color: Color },
    /// A filled polygon.
    Polygon { corners: Vec<Pixel>, color: Color },
    /// A disk, or a circle when it has a stroke width.
    Circle { center: Pixel, radius: u32, stroke: Option<u32>, color: Color },
    /// A line of text whose middle height is at `at`.
    Text { text: String, at: Pixel, size: f64, anchor: Anchor, color: Color },
}

/// The shapes drawn so far, first at the bottom.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sheet {
    shapes: Vec<Shape>,
    scale: f64,
    text_drop: f64,
}

impl Sheet {
    pub(super) fn new(scale: f64, text_drop: f64) -> Self {
        Self { shapes: Vec::new(), scale, text_drop }
    }

    /// Backend pixels per CSS pixel.
    pub(super) fn scale(&self) -> f64 {
        self.scale
    }

    pub(super) fn shapes(&self) -> &[Shape] {
        &self.shapes
    }

    pub(super) fn rect(&mut self, rect: PixelRect, color: Color) {
        self.shapes.push(Shape::Rect {
            from: (pixel(rect.left), pixel(rect.top)),
            to: (pixel(rect.right), pixel(rect.bottom)),
            color,
        });
    }

    /// An upright line of the given width in CSS pixels.
    pub(super) fn upright(&mut self, x: f64, top: f64, bottom: f64, width: f64, color: Color) {
        let width = self.stroke(width);
        let left = pixel(x - f64::from(width) / 2.0);
        self.shapes.push(Shape::Rect {
            from: (left, pixel(top)),
            to: (left.saturating_add(width), pixel(bottom)),
            color,
        });
    }

    /// A flat line of the given width in CSS pixels.
    pub(super) fn flat(&mut self, y: f64, left: f64, right: f64, width: f64, color: Color) {
        let width = self.stroke(width);
        let top = pixel(y - f64::from(width) / 2.0);
        self.shapes.push(Shape::Rect {
            from: (pixel(left), top),
            to: (pixel(right), top.saturating_add(width)),
            color,
        });
    }

    /// A line through corners, of the given width in CSS pixels.
    pub(super) fn path(&mut self, corners: &[(f64, f64)], width: f64, color: Color) {
        let mut corners = pixels(corners);
        corners.dedup();
        if corners.len() > 1 {
            let width = self.stroke(width).unsigned_abs();
            self.shapes.push(Shape::Path { corners, width, color });
        }
    }

    pub(super) fn polygon(&mut self, corners: &[(f64, f64)], color: Color) {
        if corners.len() > 2 {
            let corners = pixels(corners);
            self.shapes.push(Shape::Polygon { corners, color });
        }
    }

    /// A disk; radius in backend pixels.
    pub(super) fn disk(&mut self, center: (f64, f64), radius: f64, color: Color) {
        self.shapes.push(Shape::Circle {
            center: (pixel(center.0), pixel(center.1)),
            radius: pixel(radius).max(1).unsigned_abs(),
            stroke: None,
            color,
        });
    }

    /// A circle; radius in backend pixels, stroke width in CSS pixels.
    pub(super) fn circle(&mut self, center: (f64, f64), radius: f64, width: f64, color: Color) {
        self.shapes.push(Shape::Circle {
            center: (pixel(center.0), pixel(center.1)),
            radius: pixel(radius).max(1).unsigned_abs(),
            stroke: Some(self.stroke(width).unsigned_abs()),
            color,
        });
    }

    /// A line of text; `at` is its anchor at middle height, `size` in backend pixels.
    pub(super) fn text(&mut self, text: &str, at: (f64, f64), size: f64, anchor: Anchor, color: Rgb) {
        self.shapes.push(Shape::Text {
            // A control character is invisible on a canvas and makes an SVG file unreadable.
            text: text.replace(
                |letter: char| letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}'),
                " ",
            ),
            at: (pixel(at.0), pixel(at.1 + size * self.text_drop)),
            size,
            anchor,
            color: Color::solid(color),
        });
    }

    /// Whole backend pixels for a width in CSS pixels, at least one.
    fn stroke(&self, width: f64) -> i32 {
        pixel(width * self.scale).max(1)
    }
}

fn pixels(corners: &[(f64, f64)]) -> Vec<Pixel> {
    corners.iter().map(|(x, y)| (pixel(*x), pixel(*y))).collect()
}

/// The nearest whole pixel.
#[expect(clippy::cast_possible_truncation, reason = "the cast saturates, and NaN becomes 0")]
fn pixel(value: f64) -> i32 {
    value.round() as i32
}
