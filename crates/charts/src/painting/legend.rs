//! Which line is which: a sample and a name per labeled layer, above the plot.

use super::lettering::{shorten, width_of};
use super::marks;
use super::shape::{Anchor, Sheet};
use crate::figure::{Dash, Figure, Ink, Layer, Marker};
use crate::palette::Palette;

/// Measures in CSS pixels.
const SAMPLE: f64 = 24.0;
/// A mark without a line needs less room.
const MARK_SAMPLE: f64 = 12.0;
const SAMPLE_GAP: f64 = 5.0;
const BETWEEN: f64 = 14.0;

/// A name and how its layers look.
pub(super) struct Entry {
    label: String,
    ink: Ink,
    marker: Option<Marker>,
    line: Option<Dash>,
    shaded: bool,
    width: f64,
}

/// Entries with their places.
pub(super) struct Legend {
    placed: Vec<(Entry, f64, f64)>,
    size: f64,
    /// Lower edge, in backend pixels.
    pub(super) bottom: f64,
}

impl Legend {
    pub(super) fn is_empty(&self) -> bool {
        self.placed.is_empty()
    }
}

/// One entry per name. A single name needs no legend: the captions say what is drawn.
///
/// Layers with the same name and ink share an entry, so points and the line through them are listed once.
pub(super) fn entries(figure: &Figure, size: f64, scale: f64, most_width: f64) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    for layer in figure.layers.iter().filter(|layer| !layer.label().is_empty()) {
        let known = entries.iter().position(|entry| entry.label == layer.label() && entry.ink == layer.ink());
        let place = known.unwrap_or_else(|| {
            entries.push(Entry {
                label: layer.label().to_owned(),
                ink: layer.ink(),
                marker: None,
                line: None,
                shaded: false,
                width: 0.0,
            });
            entries.len() - 1
        });
        if let Some(entry) = entries.get_mut(place) {
            entry.add(layer);
        }
    }
    if entries.len() < 2 {
        return Vec::new();
    }
    for entry in &mut entries {
        let sample = (entry.sample() + SAMPLE_GAP) * scale;
        entry.label = shorten(&entry.label, (most_width - sample).max(0.0), size);
        entry.width = sample + width_of(&entry.label, size);
    }
    entries
}

impl Entry {
    /// Width of the sample, in CSS pixels.
    fn sample(&self) -> f64 {
        if self.line.is_none() && !self.shaded { MARK_SAMPLE } else { SAMPLE }
    }

    fn add(&mut self, layer: &Layer) {
        match layer {
            Layer::Points { marker, .. } => self.marker = Some(*marker),
            Layer::Intervals { marker, .. } => {
                self.marker = Some(*marker);
                self.line = Some(Dash::Solid);
            }
            Layer::Line { dash, .. } | Layer::Level { dash, .. } => self.line = Some(*dash),
            Layer::Band { .. } | Layer::Stretch { .. } => self.shaded = true,
        }
    }
}

pub(super) fn width_in_one_row(entries: &[Entry], scale: f64) -> f64 {
    let between = BETWEEN * scale * entries.len().saturating_sub(1) as f64;
    entries.iter().map(|entry| entry.width).sum::<f64>() + between
}

/// A single row that ends at `right`.
pub(super) fn flush_right(entries: Vec<Entry>, right: f64, middle: f64, size: f64, scale: f64) -> Legend {
    let mut x = right - width_in_one_row(&entries, scale);
    let mut placed = Vec::with_capacity(entries.len());
    for entry in entries {
        let next = x + entry.width + BETWEEN * scale;
        placed.push((entry, x, middle));
        x = next;
    }
    Legend { placed, size, bottom: middle }
}

/// Rows from `left` that wrap at `width`, the first one at `top`.
pub(super) fn in_rows(entries: Vec<Entry>, left: f64, width: f64, top: f64, size: f64, scale: f64) -> Legend {
    let pitch = size * 1.5;
    let mut bottom = top;
    let mut x = left;
    let mut placed = Vec::with_capacity(entries.len());
    for entry in entries {
        if bottom <= top || x + entry.width > left + width {
            x = left;
            bottom += pitch;
        }
        let next = x + entry.width + BETWEEN * scale;
        placed.push((entry, x, bottom - pitch / 2.0));
        x = next;
    }
    if bottom > top {
        bottom += size * 0.25;
    }
    Legend { placed, size, bottom }
}

pub(super) fn draw(sheet: &mut Sheet, legend: &Legend, palette: &Palette) {
    let scale = sheet.scale();
    for (entry, x, middle) in &legend.placed {
        let end = x + entry.sample() * scale;
        if entry.shaded {
            marks::swatch(sheet, *x, end, *middle, palette.ink(entry.ink));
        }
        if let Some(dash) = entry.line {
            marks::stroke(sheet, &[(*x, *middle), (end, *middle)], dash, palette.ink(entry.ink));
        }
        if let Some(marker) = entry.marker {
            let center = (x.midpoint(end), *middle);
            marks::marker(sheet, center, marker, marks::MARKER, palette, entry.ink);
        }
        let text_x = end + SAMPLE_GAP * scale;
        sheet.text(&entry.label, (text_x, *middle), legend.size, Anchor::Start, palette.text);
    }
}
