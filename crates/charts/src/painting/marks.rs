//! The layers themselves: shades below, then lines, then points.

use super::clipping;
use super::dashes;
use super::shape::{Color, Sheet};
use super::thinning::{Corner, column_of, thin_line, thin_points};
use crate::figure::{Dash, Figure, Ink, Interval, Layer, Marker, Point};
use crate::palette::{Palette, Rgb};
use crate::pixel_map::{PixelMap, PixelRect};

/// Measures in CSS pixels.
pub(super) const MARKER: f64 = 3.6;
const SMALL_MARKER: f64 = 2.4;
/// Points nearer than this on average get the small marker.
const CROWDED: f64 = 9.0;
/// Points nearer than this on average lie on each other: each is a fleck, whose shape could not be seen, and which
/// draws several times faster.
const DENSE: f64 = 0.5;
/// Width of a fleck.
const FLECK: f64 = 2.0;
const LINE_WIDTH: f64 = 2.0;
const LEVEL_WIDTH: f64 = 1.5;
const BAR_WIDTH: f64 = 1.25;
const CAP: f64 = 3.5;
/// Room a cap needs beside its mark: nearer, the two would melt into another shape.
const CLEAR: f64 = 2.5;

/// Opacity of shades.
const BAND_TINT: f64 = 0.18;
const STRETCH_TINT: f64 = 0.11;

/// Distance between layers that share a row, in rows.
const ROW_OFFSET: f64 = 0.3;

/// Corners farther out than this, in pixels, are pulled in: their segments look the same.
const FAR: f64 = 1e9;

/// The tints of bands and stretches, which lie under the grid.
pub(super) fn tints(sheet: &mut Sheet, figure: &Figure, map: &PixelMap, palette: &Palette) {
    for layer in &figure.layers {
        let rgb = palette.ink(layer.ink());
        match layer {
            Layer::Band { points, .. } => band(sheet, points, map, rgb),
            Layer::Stretch { from_x, to_x, .. } => {
                if let Some((left, right)) = stretch_in_plot(*from_x, *to_x, map) {
                    let plot = map.plot_area();
                    let rect = PixelRect { left, right, ..plot };
                    sheet.rect(rect, Color::tint(rgb, STRETCH_TINT));
                }
            }
            _ => {}
        }
    }
}

/// Everything above the grid, in the order of the layers.
pub(super) fn layers(sheet: &mut Sheet, figure: &Figure, map: &PixelMap, palette: &Palette) {
    let names = figure.row_names();
    let is_intervals = |layer: &&Layer| matches!(layer, Layer::Intervals { .. });
    let slots = figure.layers.iter().filter(is_intervals).count() as f64;
    let mut slot = 0.0;
    for layer in &figure.layers {
        let rgb = palette.ink(layer.ink());
        match layer {
            Layer::Band { .. } => {}
            Layer::Stretch { from_x, to_x, .. } => stretch_edges(sheet, *from_x, *to_x, map, rgb),
            Layer::Level { y, dash, .. } => level(sheet, *y, *dash, map, rgb),
            Layer::Line { points, dash, .. } => line(sheet, points, *dash, map, rgb),
            Layer::Points { points, marker, ink, .. } => {
                scatter(sheet, points, (*marker, *ink), map, palette);
            }
            Layer::Intervals { rows, marker, ink, .. } => {
                let offset = (slot - (slots - 1.0) / 2.0) * ROW_OFFSET.min(0.8 / slots);
                slot += 1.0;
                for row in rows {
                    if let Some(place) = names.iter().position(|name| *name == row.name) {
                        let y = map.py_of_y(-(place as f64) - offset);
                        interval(sheet, row, y, (*marker, *ink), map, palette);
                    }
                }
            }
        }
    }
}

/// A corner in pixels, or nothing for a value that is not finite.
fn place(map: &PixelMap, x: f64, y: f64) -> Option<(f64, f64)> {
    let (px, py) = (map.px_of_x(x), map.py_of_y(y));
    (x.is_finite() && y.is_finite() && !px.is_nan() && !py.is_nan())
        .then(|| (px.clamp(-FAR, FAR), py.clamp(-FAR, FAR)))
}

fn line(sheet: &mut Sheet, points: &[(f64, f64)], dash: Dash, map: &PixelMap, rgb: Rgb) {
    let corners: Vec<Option<Corner>> = points
        .iter()
        .enumerate()
        .map(|(index, (x, y))| place(map, *x, *y).map(|(x, y)| Corner { x, y, index }))
        .collect();
    for unbroken in corners.split(Option::is_none) {
        let unbroken: Vec<Corner> = unbroken.iter().flatten().copied().collect();
        for piece in visible(&thin_line(&unbroken, sheet.scale()), map.plot_area()) {
            stroke(sheet, &piece, dash, rgb);
        }
    }
}

/// The pieces of a line that lie in the plot area.
fn visible(corners: &[Corner], plot: PixelRect) -> Vec<Vec<(f64, f64)>> {
    let mut pieces: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut goes_on = false;
    for pair in corners.windows(2) {
        let &[from, to] = pair else { continue };
        let Some((start, end)) = clipping::segment((from.x, from.y), (to.x, to.y), plot) else {
            goes_on = false;
            continue;
        };
        match pieces.last_mut() {
            Some(piece) if goes_on => piece.push(end),
            _ => pieces.push(vec![start, end]),
        }
        goes_on = plot.contains(to.x, to.y);
    }
    pieces
}

/// A line of the usual width, broken as `dash` says.
pub(super) fn stroke(sheet: &mut Sheet, line: &[(f64, f64)], dash: Dash, rgb: Rgb) {
    for piece in dashes::strokes(line, dash, sheet.scale()) {
        sheet.path(&piece, LINE_WIDTH, Color::solid(rgb));
    }
}

fn band(sheet: &mut Sheet, points: &[(f64, f64, f64)], map: &PixelMap, rgb: Rgb) {
    let edges: Vec<_> =
        points.iter().map(|(x, low, high)| place(map, *x, *low).zip(place(map, *x, *high))).collect();
    for unbroken in edges.split(Option::is_none) {
        let lower = unbroken.iter().flatten().map(|(low, _)| *low);
        let upper = unbroken.iter().flatten().rev().map(|(_, high)| *high);
        let outline: Vec<(f64, f64)> = lower.chain(upper).collect();
        let inside = clipping::polygon(&outline, map.plot_area());
        sheet.polygon(&inside, Color::tint(rgb, BAND_TINT));
    }
}

/// The horizontal pixels of a stretch, cut at the plot area.
fn stretch_in_plot(from_x: f64, to_x: f64, map: &PixelMap) -> Option<(f64, f64)> {
    let plot = map.plot_area();
    let inside = |x: f64| map.px_of_x(x).clamp(plot.left, plot.right);
    (!from_x.is_nan() && !to_x.is_nan()).then(|| (inside(from_x.min(to_x)), inside(from_x.max(to_x))))
}

fn stretch_edges(sheet: &mut Sheet, from_x: f64, to_x: f64, map: &PixelMap, rgb: Rgb) {
    let plot = map.plot_area();
    for edge in [from_x, to_x] {
        if map.x_range().contains(edge) {
            let x = map.px_of_x(edge);
            sheet.upright(x, plot.top, plot.bottom, BAR_WIDTH, Color::solid(rgb));
        }
    }
}

fn level(sheet: &mut Sheet, y: f64, dash: Dash, map: &PixelMap, rgb: Rgb) {
    if !map.y_range().contains(y) {
        return;
    }
    let plot = map.plot_area();
    let height = map.py_of_y(y);
    let whole = [(plot.left, height), (plot.right, height)];
    for piece in dashes::strokes(&whole, dash, sheet.scale()) {
        if let [from, to] = piece.as_slice() {
            sheet.flat(height, from.0, to.0, LEVEL_WIDTH, Color::solid(rgb));
        }
    }
}

/// The sample of a shaded layer in the legend.
pub(super) fn swatch(sheet: &mut Sheet, left: f64, right: f64, middle: f64, rgb: Rgb) {
    let half = 6.0 * sheet.scale();
    let rect = PixelRect { left, right, top: middle - half, bottom: middle + half };
    sheet.rect(rect, Color::tint(rgb, BAND_TINT));
}

fn scatter(sheet: &mut Sheet, points: &[Point], look: (Marker, Ink), map: &PixelMap, palette: &Palette) {
    let plot = map.plot_area();
    let corners: Vec<Corner> = points
        .iter()
        .enumerate()
        .filter(|(_, point)| map.x_range().contains(point.x) && map.y_range().contains(point.y))
        .filter_map(|(index, point)| place(map, point.x, point.y).map(|(x, y)| Corner { x, y, index }))
        .collect();
    let pitch = plot.width() / (corners.len().max(1) as f64 * sheet.scale());
    let radius = if pitch < CROWDED { SMALL_MARKER } else { MARKER };
    let kept = thin_points(corners, sheet.scale());
    let color = Color::solid(palette.ink(look.1));
    for corner in &kept {
        if let Some(point) = points.get(corner.index) {
            error_bars(sheet, point, (corner.x, corner.y), radius, map, color);
        }
    }
    if pitch < DENSE {
        flecks(sheet, &kept, color);
        return;
    }
    for corner in &kept {
        marker(sheet, (corner.x, corner.y), look.0, radius, palette, look.1);
    }
}

/// Points that lie on each other; those that touch within a pixel column are one fleck.
fn flecks(sheet: &mut Sheet, kept: &[Corner], color: Color) {
    let half = FLECK / 2.0 * sheet.scale();
    let around = |corner: &Corner| PixelRect {
        left: corner.x - half,
        right: corner.x + half,
        top: corner.y - half,
        bottom: corner.y + half,
    };
    let column = sheet.scale();
    for together in kept.chunk_by(|a, b| column_of(a.x, column) == column_of(b.x, column)) {
        let mut flecks: Vec<PixelRect> = together.iter().map(around).collect();
        flecks.sort_by(|a, b| a.top.total_cmp(&b.top));
        let mut flecks = flecks.into_iter();
        let Some(mut grown) = flecks.next() else { continue };
        for fleck in flecks {
            if fleck.top <= grown.bottom {
                grown.left = grown.left.min(fleck.left);
                grown.right = grown.right.max(fleck.right);
                grown.bottom = fleck.bottom;
            } else {
                sheet.rect(std::mem::replace(&mut grown, fleck), color);
            }
        }
        sheet.rect(grown, color);
    }
}

fn error_bars(
    sheet: &mut Sheet,
    point: &Point,
    center: (f64, f64),
    radius: f64,
    map: &PixelMap,
    color: Color,
) {
    let plot = map.plot_area();
    let cap = CAP.min(radius + 0.5) * sheet.scale();
    let clear = (radius + CLEAR) * sheet.scale();
    if let Some(half) = drawn_half_length(point.uy) {
        let (top, bottom) = (map.py_of_y(point.y + half), map.py_of_y(point.y - half));
        sheet.upright(center.0, top.max(plot.top), bottom.min(plot.bottom), BAR_WIDTH, color);
        for end in [top, bottom] {
            if (plot.top..=plot.bottom).contains(&end) && bottom - top > 2.0 * clear {
                sheet.flat(end, center.0 - cap, center.0 + cap, BAR_WIDTH, color);
            }
        }
    }
    if let Some(half) = drawn_half_length(point.ux) {
        let (left, right) = (map.px_of_x(point.x - half), map.px_of_x(point.x + half));
        sheet.flat(center.1, left.max(plot.left), right.min(plot.right), BAR_WIDTH, color);
        for end in [left, right] {
            if (plot.left..=plot.right).contains(&end) && right - left > 2.0 * clear {
                sheet.upright(end, center.1 - cap, center.1 + cap, BAR_WIDTH, color);
            }
        }
    }
}

/// The half-length of an error bar that can be drawn at all.
fn drawn_half_length(uncertainty: Option<f64>) -> Option<f64> {
    uncertainty.map(f64::abs).filter(|half| half.is_finite() && *half > 0.0)
}

fn interval(
    sheet: &mut Sheet,
    row: &Interval,
    y: f64,
    look: (Marker, Ink),
    map: &PixelMap,
    palette: &Palette,
) {
    let plot = map.plot_area();
    let color = Color::solid(palette.ink(look.1));
    let cap = 5.0 * sheet.scale();
    if row.low.is_finite() && row.high.is_finite() {
        let inside = |x: f64| map.px_of_x(x).clamp(plot.left, plot.right);
        let (left, right) = (inside(row.low), inside(row.high));
        sheet.flat(y, left, right, LINE_WIDTH, color);
        let clear = (MARKER + CLEAR) * sheet.scale();
        for end in [row.low, row.high] {
            if map.x_range().contains(end) && right - left > 2.0 * clear {
                sheet.upright(inside(end), y - cap, y + cap, LINE_WIDTH, color);
            }
        }
    }
    if map.x_range().contains(row.mark) {
        marker(sheet, (map.px_of_x(row.mark), y), look.0, MARKER, palette, look.1);
    }
}

/// A mark of about `radius` CSS pixels; the shapes are sized to weigh about the same.
pub(super) fn marker(
    sheet: &mut Sheet,
    (x, y): (f64, f64),
    marker: Marker,
    radius: f64,
    palette: &Palette,
    ink: Ink,
) {
    let r = radius * sheet.scale();
    let color = Color::solid(palette.ink(ink));
    let corners = |shape: &[(f64, f64)]| -> Vec<(f64, f64)> {
        shape.iter().map(|(dx, dy)| (x + r * dx, y + r * dy)).collect()
    };
    match marker {
        Marker::Dot => sheet.disk((x, y), r, color),
        Marker::Ring => {
            sheet.disk((x, y), r, Color::solid(palette.paper));
            sheet.circle((x, y), r, LINE_WIDTH, color);
        }
        Marker::Square => {
            sheet.polygon(&corners(&[(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)]), color);
        }
        Marker::Triangle => sheet.polygon(&corners(&[(0.0, -1.3), (1.2, 0.85), (-1.2, 0.85)]), color),
        Marker::Diamond => {
            sheet.polygon(&corners(&[(0.0, -1.35), (1.35, 0.0), (0.0, 1.35), (-1.35, 0.0)]), color);
        }
        // One stroke that returns through the middle, so that a cross is one shape.
        Marker::Cross => {
            let arms = [(-1.0, -1.0), (1.0, 1.0), (0.0, 0.0), (1.0, -1.0), (-1.0, 1.0)];
            sheet.path(&corners(&arms), LINE_WIDTH, color);
        }
    }
}
