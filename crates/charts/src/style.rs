//! How a figure is drawn: scale, colors, type.

use crate::palette::Palette;

/// Everything that differs between a canvas and print, or a light and a dark page.
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    /// Backend pixels per CSS pixel. Type, strokes and margins all grow by it.
    pub scale: f64,
    /// The colors.
    pub palette: Palette,
    /// Whether the paper is painted or left to show through.
    pub background: Background,
    /// CSS font family list.
    pub font: String,
    /// Factor on every type size. The SVG backend writes `size / 1.24`, a canvas takes the size as it is.
    pub text_factor: f64,
    /// How far text is moved down, in em, so that digits center on their tick: backends disagree on "middle".
    pub text_drop: f64,
}

/// What lies under a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Background {
    /// The palette's paper.
    #[default]
    Paper,
    /// Nothing: what is behind the figure shows.
    Clear,
}

impl Style {
    /// The factor by which the SVG backend makes text smaller than asked for.
    pub const SVG_TEXT_FACTOR: f64 = 1.24;

    /// For a canvas with `scale` device pixels per CSS pixel.
    pub fn canvas(scale: f64, palette: Palette) -> Self {
        Self {
            scale,
            palette,
            background: Background::Clear,
            font: "system-ui, sans-serif".to_owned(),
            text_factor: 1.0,
            text_drop: 0.04,
        }
    }

    /// For the SVG backend with `scale` units per CSS pixel.
    pub fn svg(scale: f64, palette: Palette) -> Self {
        Self {
            background: Background::Paper,
            text_factor: Self::SVG_TEXT_FACTOR,
            text_drop: 0.09,
            ..Self::canvas(scale, palette)
        }
    }

    /// The scale, brought into the range in which a figure can be drawn.
    pub(crate) fn safe_scale(&self) -> f64 {
        if self.scale.is_finite() { self.scale.clamp(0.25, 16.0) } else { 1.0 }
    }
}
