//! Where everything goes: margins, captions, ticks and the plot area, from the paper's size.

use super::legend::{self, Legend};
use super::lettering::{width_of, wrap};
use crate::figure::{Axis, Figure, Reach};
use crate::pixel_map::{PixelMap, PixelRect};
use crate::ranges::Range;
use crate::ticks::{Tick, common_power, ticks};
use crate::window::Window;

/// Below this width in CSS pixels type is at its smallest.
const NARROW: f64 = 480.0;

/// A plot area smaller than this, in CSS pixels, shows nothing anyone could read.
const LEAST_PLOT: f64 = 24.0;

/// Measures in CSS pixels.
pub(super) const TICK_LENGTH: f64 = 5.0;
pub(super) const LABEL_GAP: f64 = 4.0;
pub(super) const EDGE: f64 = 6.0;
pub(super) const RIGHT_EDGE: f64 = 16.0;
/// Least distance between neighboring labels of the x axis.
const BETWEEN_LABELS: f64 = 14.0;
/// Least distance between neighboring ticks of the y axis, in type sizes.
const TICK_PITCH: f64 = 2.1;

/// Height of a line of type, in type sizes.
pub(super) const LINE: f64 = 1.35;

/// Everything that is decided before the first stroke. Lengths are backend pixels.
pub(super) struct Layout {
    pub(super) map: PixelMap,
    pub(super) legend: Legend,
    /// Type size of tick labels and row names.
    pub(super) label_size: f64,
    /// Type size of captions.
    pub(super) caption_size: f64,
    pub(super) x_ticks: Vec<Tick>,
    /// Empty in a figure of intervals.
    pub(super) y_ticks: Vec<Tick>,
    /// Row names in lines, top row first; empty unless the figure has intervals.
    pub(super) row_names: Vec<Vec<String>>,
    /// Lines of the y caption and the middle height of each.
    pub(super) y_caption: Vec<(String, f64)>,
    /// Lines of the x caption and the middle height of each.
    pub(super) x_caption: Vec<(String, f64)>,
    has_room: bool,
}

impl Layout {
    pub(super) fn new(figure: &Figure, window: Window, scale: f64, width: f64, height: f64) -> Self {
        let is_narrow = width < NARROW * scale;
        let label_size = scale * if is_narrow { 12.0 } else { 13.0 };
        let caption_size = scale * if is_narrow { 13.0 } else { 14.0 };
        let inner = (width - (EDGE + RIGHT_EDGE) * scale).max(0.0);
        let (x_range, y_range) = (window.x(), window.y());
        let rows = figure.row_names();
        let has_data = figure.has_data();

        let y_text = if rows.is_empty() {
            figure.y.caption_in_powers(common_power(y_range))
        } else {
            figure.y.quantity.clone()
        };
        let y_lines = wrap(&y_text, inner, caption_size, 2);

        let entries = legend::entries(figure, label_size, scale, inner);
        let caption_width = y_lines.first().map_or(0.0, |line| width_of(line, caption_size));
        let beside = y_lines.len() <= 1
            && caption_width + legend::width_in_one_row(&entries, scale) + 24.0 * scale <= inner;
        let mut top = EDGE * scale;
        let legend = if beside {
            let middle = top + caption_size * LINE / 2.0;
            legend::flush_right(entries, EDGE * scale + inner, middle, label_size, scale)
        } else {
            let placed = legend::in_rows(entries, EDGE * scale, inner, top, label_size, scale);
            top = placed.bottom;
            placed
        };
        let y_caption = stack(y_lines, &mut top, caption_size);
        if beside && y_caption.is_empty() && !legend.is_empty() {
            top += caption_size * LINE;
        }
        top += label_size * 0.75;

        let x_text = figure.x.caption_in_powers(common_power(x_range));
        let x_lines = wrap(&x_text, inner, caption_size, 2);
        let below = (TICK_LENGTH + LABEL_GAP) * scale + label_size * LINE;
        let bottom = (height - EDGE * scale - below - x_lines.len() as f64 * caption_size * LINE).max(top);
        let mut caption_top = bottom + below;
        let x_caption = stack(x_lines, &mut caption_top, caption_size);

        let y_ticks = if rows.is_empty() && is_known(&figure.y, has_data) {
            ticks_of_y(y_range, bottom - top, label_size)
        } else {
            Vec::new()
        };
        let row_names: Vec<Vec<String>> =
            rows.iter().map(|name| wrap(name, inner * 0.42, label_size, 2)).collect();
        let widest = y_ticks
            .iter()
            .map(|tick| tick.label.as_str())
            .chain(row_names.iter().flatten().map(String::as_str))
            .map(|label| width_of(label, label_size))
            .fold(0.0, f64::max);
        let left = ((EDGE + LABEL_GAP + TICK_LENGTH) * scale + widest).min(width);
        let plot = PixelRect {
            left,
            top: top.min(height),
            right: (width - RIGHT_EDGE * scale).max(left),
            bottom: bottom.min(height).max(top.min(height)),
        };
        let x_ticks = if is_known(&figure.x, has_data) {
            ticks_of_x(x_range, plot.width(), label_size, scale)
        } else {
            Vec::new()
        };
        Self {
            map: PixelMap::new(plot, x_range, y_range),
            legend,
            label_size,
            caption_size,
            x_ticks,
            y_ticks,
            row_names,
            y_caption,
            x_caption,
            has_room: plot.width() >= LEAST_PLOT * scale && plot.height() >= LEAST_PLOT * scale,
        }
    }

    /// Whether there is a plot area worth drawing in.
    pub(super) fn has_room(&self) -> bool {
        self.has_room
    }
}

/// Whether the ends of an axis mean anything: numbers on an axis without data would be made up.
fn is_known(axis: &Axis, has_data: bool) -> bool {
    has_data || matches!(axis.reach, Reach::Fixed { .. })
}

/// The middle heights of lines of captions set from `top` downward; moves `top` below them.
fn stack(lines: Vec<String>, top: &mut f64, size: f64) -> Vec<(String, f64)> {
    lines
        .into_iter()
        .map(|line| {
            let middle = *top + size * LINE / 2.0;
            *top += size * LINE;
            (line, middle)
        })
        .collect()
}

fn ticks_of_y(range: Range, height: f64, label_size: f64) -> Vec<Tick> {
    let room = (height / (label_size * TICK_PITCH)).clamp(2.0, 8.0);
    let most = (3..=8_u8).take_while(|count| f64::from(*count) <= room).count() + 2;
    ticks(range, most).marks
}

/// As many ticks as have room for their labels side by side.
fn ticks_of_x(range: Range, width: f64, label_size: f64, scale: f64) -> Vec<Tick> {
    let fits = |marks: &[Tick]| {
        let room = width / range.span();
        marks.windows(2).all(|pair| match pair {
            [one, next] => {
                let labels = width_of(&one.label, label_size) + width_of(&next.label, label_size);
                (next.at - one.at) * room >= labels / 2.0 + BETWEEN_LABELS * scale
            }
            _ => true,
        })
    };
    (2..=10)
        .rev()
        .map(|most| ticks(range, most).marks)
        .find(|marks| fits(marks))
        .unwrap_or_else(|| ticks(range, 2).marks)
}
