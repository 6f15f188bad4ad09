//! Hands the shapes of a sheet to a plotters backend: the only generic code of the crate.

use std::convert::Infallible;
use std::iter::{Once, once};

use plotters::coord::Shift;
use plotters::drawing::{DrawingArea, DrawingAreaErrorKind};
use plotters::element::{Drawable, PointCollection};
use plotters_backend::text_anchor::{HPos, Pos, VPos};
use plotters_backend::{
    BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind, FontFamily,
};

use super::shape::{Anchor, Color, Pixel, Shape, Sheet};
use crate::style::Style;

pub(super) fn paint<DB: DrawingBackend>(
    area: &DrawingArea<DB, Shift>,
    sheet: &Sheet,
    style: &Style,
) -> Result<(), DrawingAreaErrorKind<DB::ErrorType>> {
    area.draw(&Painting { sheet, style })
}

/// A whole sheet as one plotters element anchored at the upper left corner.
struct Painting<'a> {
    sheet: &'a Sheet,
    style: &'a Style,
}

impl<'a> PointCollection<'a, BackendCoord> for &'a Painting<'a> {
    type Point = BackendCoord;
    type IntoIter = Once<BackendCoord>;

    fn point_iter(self) -> Self::IntoIter {
        once((0, 0))
    }
}

impl<DB: DrawingBackend> Drawable<DB> for Painting<'_> {
    fn draw<I: Iterator<Item = BackendCoord>>(
        &self,
        mut pos: I,
        backend: &mut DB,
        _parent_dim: (u32, u32),
    ) -> Result<(), DrawingErrorKind<DB::ErrorType>> {
        let base = pos.next().unwrap_or((0, 0));
        for shape in self.sheet.shapes() {
            one_shape(backend, shape, base, self.style)?;
        }
        Ok(())
    }
}

fn one_shape<DB: DrawingBackend>(
    backend: &mut DB,
    shape: &Shape,
    base: Pixel,
    style: &Style,
) -> Result<(), DrawingErrorKind<DB::ErrorType>> {
    let at = |corner: Pixel| (corner.0.saturating_add(base.0), corner.1.saturating_add(base.1));
    match shape {
        Shape::Rect { from, to, color } => {
            backend.draw_rect(at(*from), at(*to), &Stroke::new(*color, 1), true)
        }
        Shape::Path { corners, width, color } => {
            backend.draw_path(corners.iter().copied().map(at), &Stroke::new(*color, *width))
        }
        Shape::Polygon { corners, color } => {
            backend.fill_polygon(corners.iter().copied().map(at), &Stroke::new(*color, 1))
        }
        Shape::Circle { center, radius, stroke, color } => {
            let line = Stroke::new(*color, stroke.unwrap_or(1));
            backend.draw_circle(at(*center), *radius, &line, stroke.is_none())
        }
        Shape::Text { text, at: position, size, anchor, color } => {
            let lettering = Lettering {
                size: size * style.text_factor,
                anchor: *anchor,
                color: *color,
                font: &style.font,
            };
            backend.draw_text(text, &lettering, at(*position))
        }
    }
}

fn backend_color(color: Color) -> BackendColor {
    BackendColor { alpha: color.alpha, rgb: (color.rgb.0, color.rgb.1, color.rgb.2) }
}

struct Stroke {
    color: BackendColor,
    width: u32,
}

impl Stroke {
    fn new(color: Color, width: u32) -> Self {
        Self { color: backend_color(color), width }
    }
}

impl BackendStyle for Stroke {
    fn color(&self) -> BackendColor {
        self.color
    }

    fn stroke_width(&self) -> u32 {
        self.width
    }
}

/// A text style that measures nothing: backends that write text themselves never ask for its box.
struct Lettering<'a> {
    size: f64,
    anchor: Anchor,
    color: Color,
    font: &'a str,
}

impl BackendTextStyle for Lettering<'_> {
    type FontError = Infallible;

    fn color(&self) -> BackendColor {
        backend_color(self.color)
    }

    fn size(&self) -> f64 {
        self.size
    }

    fn anchor(&self) -> Pos {
        let across = match self.anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        Pos::new(across, VPos::Center)
    }

    fn family(&self) -> FontFamily<'_> {
        FontFamily::Name(self.font)
    }

    fn layout_box(&self, _text: &str) -> Result<(BackendCoord, BackendCoord), Infallible> {
        Ok(((0, 0), (0, 0)))
    }

    fn draw<E, DrawFunc: FnMut(i32, i32, BackendColor) -> Result<(), E>>(
        &self,
        _text: &str,
        _pos: BackendCoord,
        _draw: DrawFunc,
    ) -> Result<Result<(), E>, Infallible> {
        Ok(Ok(()))
    }
}
