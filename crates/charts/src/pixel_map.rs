//! From data to pixels and back, for drawing, pointer readings and dragging.

use crate::ranges::Range;

/// A rectangle in backend pixels, y downward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PixelRect {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge, never left of the left one.
    pub right: f64,
    /// Bottom edge, never above the top one.
    pub bottom: f64,
}

impl PixelRect {
    /// Distance from left to right.
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// Distance from top to bottom.
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Whether the pixel lies inside or on the edge.
    pub fn contains(&self, px: f64, py: f64) -> bool {
        (self.left..=self.right).contains(&px) && (self.top..=self.bottom).contains(&py)
    }

    /// The same rectangle moved by whole pixels.
    fn moved(self, (dx, dy): (i32, i32)) -> Self {
        let (dx, dy) = (f64::from(dx), f64::from(dy));
        Self { left: self.left + dx, top: self.top + dy, right: self.right + dx, bottom: self.bottom + dy }
    }
}

/// Where a drawn figure put its data, in pixels of the backend (device pixels on a canvas).
///
/// In a figure of intervals, row number `n` counted from zero lies at `y = −n`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PixelMap {
    plot: PixelRect,
    x: Range,
    y: Range,
}

impl PixelMap {
    pub(crate) fn new(plot: PixelRect, x: Range, y: Range) -> Self {
        Self { plot, x, y }
    }

    /// The same map for an area whose upper left corner lies at `base` in the backend.
    pub(crate) fn moved(self, base: (i32, i32)) -> Self {
        Self { plot: self.plot.moved(base), ..self }
    }

    /// The rectangle between the axes.
    pub fn plot_area(&self) -> PixelRect {
        self.plot
    }

    /// The ends of the x axis.
    pub fn x_range(&self) -> Range {
        self.x
    }

    /// The ends of the y axis.
    pub fn y_range(&self) -> Range {
        self.y
    }

    /// Horizontal pixel of a value; outside the plot area when the value is outside the axis.
    pub fn px_of_x(&self, x: f64) -> f64 {
        self.plot.left + (x - self.x.low()) / self.x.span() * self.plot.width()
    }

    /// Vertical pixel of a value.
    pub fn py_of_y(&self, y: f64) -> f64 {
        self.plot.bottom - (y - self.y.low()) / self.y.span() * self.plot.height()
    }

    /// Value under a horizontal pixel; the low end when the plot has no width.
    pub fn x_at(&self, px: f64) -> f64 {
        self.x.low() + share(px - self.plot.left, self.plot.width()) * self.x.span()
    }

    /// Value under a vertical pixel; the low end when the plot has no height.
    pub fn y_at(&self, py: f64) -> f64 {
        self.y.low() + share(self.plot.bottom - py, self.plot.height()) * self.y.span()
    }
}

fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 { part / whole } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn map(low: f64, high: f64) -> PixelMap {
        let plot = PixelRect { left: 40.0, top: 12.0, right: 640.0, bottom: 312.0 };
        PixelMap::new(plot, Range::guard(low, high), Range::guard(0.0, 3.0)).moved((5, 7))
    }

    #[test]
    fn y_runs_upward_and_the_base_is_added() {
        let map = map(0.0, 6.0);
        for (value, pixel) in [(0.0, 319.0), (1.0, 219.0), (3.0, 19.0)] {
            assert!((map.py_of_y(value) - pixel).abs() < 1e-9, "{value}");
        }
        assert!((map.px_of_x(1.0) - 145.0).abs() < 1e-9);
        assert!(map.plot_area().contains(45.0, 19.0) && !map.plot_area().contains(44.0, 19.0));
    }

    #[test]
    fn a_plot_without_width_reads_its_low_end() {
        let empty = PixelRect { left: 3.0, top: 3.0, right: 3.0, bottom: 3.0 };
        let map = PixelMap::new(empty, Range::guard(2.0, 4.0), Range::guard(5.0, 6.0));
        assert!((map.x_at(100.0) - 2.0).abs() < 1e-12 && (map.y_at(-100.0) - 5.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn a_pixel_and_its_value_lead_back_to_each_other(low in -1e6..1e6_f64, span in 1e-2..1e6_f64, px in 45.0..645.0_f64) {
            let map = map(low, low + span);
            prop_assert!((map.px_of_x(map.x_at(px)) - px).abs() < 1e-4);
            prop_assert!((map.py_of_y(map.y_at(px)) - px).abs() < 1e-9);
        }
    }
}
