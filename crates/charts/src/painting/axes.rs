//! Axes open to the right and above, with outward ticks, a light grid and captions set level.

use super::layout::{Layout, TICK_LENGTH};
use super::lettering::width_of;
use super::shape::{Anchor, Color, Sheet};
use crate::figure::Figure;
use crate::palette::Palette;

/// Measures in CSS pixels.
const GRID_WIDTH: f64 = 1.0;
const AXIS_WIDTH: f64 = 1.25;
const LABEL_GAP: f64 = 4.0;

/// Said where a figure has nothing to show.
const NO_DATA: &str = "no data yet";

pub(super) fn draw(sheet: &mut Sheet, figure: &Figure, layout: &Layout, palette: &Palette) {
    let plot = layout.map.plot_area();
    let line = Color::solid(palette.axis);
    across(sheet, layout, palette);
    upward(sheet, layout, palette);
    sheet.flat(plot.bottom, plot.left, plot.right, AXIS_WIDTH, line);
    if layout.row_names.is_empty() {
        sheet.upright(plot.left, plot.top, plot.bottom, AXIS_WIDTH, line);
    }
    for (caption, middle) in &layout.y_caption {
        let x = sheet.scale() * super::layout::EDGE;
        sheet.text(caption, (x, *middle), layout.caption_size, Anchor::Start, palette.text);
    }
    for (caption, middle) in &layout.x_caption {
        sheet.text(caption, (plot.right, *middle), layout.caption_size, Anchor::End, palette.text);
    }
    if !figure.has_data() {
        let center = (plot.left.midpoint(plot.right), plot.top.midpoint(plot.bottom));
        sheet.text(NO_DATA, center, layout.caption_size, Anchor::Middle, palette.faint_text);
    }
}

/// Grid, ticks and labels along x.
fn across(sheet: &mut Sheet, layout: &Layout, palette: &Palette) {
    let scale = sheet.scale();
    let plot = layout.map.plot_area();
    let tick_end = plot.bottom + TICK_LENGTH * scale;
    let middle = tick_end + LABEL_GAP * scale + layout.label_size / 2.0;
    // The last label may stand at the very end of the axis; it moves inward rather than off the paper.
    let paper_end = plot.right + super::layout::RIGHT_EDGE * scale;
    for tick in &layout.x_ticks {
        let x = layout.map.px_of_x(tick.at).clamp(plot.left, plot.right);
        sheet.upright(x, plot.top, plot.bottom, GRID_WIDTH, Color::solid(palette.grid));
        sheet.upright(x, plot.bottom, tick_end, AXIS_WIDTH, Color::solid(palette.axis));
        let half = width_of(&tick.label, layout.label_size) / 2.0;
        let label_x = x.min(paper_end - half).max(half);
        sheet.text(&tick.label, (label_x, middle), layout.label_size, Anchor::Middle, palette.faint_text);
    }
}

/// Grid, ticks and labels along y, or the names of rows.
fn upward(sheet: &mut Sheet, layout: &Layout, palette: &Palette) {
    let scale = sheet.scale();
    let plot = layout.map.plot_area();
    let tick_end = plot.left - TICK_LENGTH * scale;
    let label_x = tick_end - LABEL_GAP * scale;
    for tick in &layout.y_ticks {
        let y = layout.map.py_of_y(tick.at).clamp(plot.top, plot.bottom);
        sheet.flat(y, plot.left, plot.right, GRID_WIDTH, Color::solid(palette.grid));
        sheet.flat(y, tick_end, plot.left, AXIS_WIDTH, Color::solid(palette.axis));
        sheet.text(&tick.label, (label_x, y), layout.label_size, Anchor::End, palette.faint_text);
    }
    for (row, name) in layout.row_names.iter().enumerate() {
        let y = layout.map.py_of_y(-(row as f64));
        sheet.flat(y, plot.left, plot.right, GRID_WIDTH, Color::solid(palette.grid));
        let pitch = layout.label_size * super::layout::LINE;
        let first = y - pitch * (name.len() as f64 - 1.0) / 2.0;
        for (index, line) in name.iter().enumerate() {
            let at = (label_x, first + pitch * index as f64);
            sheet.text(line, at, layout.label_size, Anchor::End, palette.text);
        }
    }
}
