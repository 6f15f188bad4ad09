//! How far an axis runs: one guard that every range passes.
//!
//! Tick searches loop for ever, overflow or draw nothing on ends that are not finite, equal, or far too
//! near or too far from each other. [`Range::guard`] takes any two numbers and returns ends that
//! are finite and in order, with
//!
//! ```text
//! 1e-9 · (largest end)  ≤  span  ≤  1e12        and   span ≥ 1e-12
//! ```
//!
//! A narrower span would show rounding noise, not data; a wider one is a wrong unit.

use crate::figure::{Axis, Figure, Layer, Reach};

/// The largest distance between the ends of an axis, in display units.
pub const MOST_SPAN: f64 = 1e12;

/// The smallest distance between the ends of an axis, in display units.
pub const LEAST_SPAN: f64 = 1e-12;

/// The smallest span as a share of the larger end.
pub const LEAST_SHARE: f64 = 1e-9;

/// Ends stay a little inside half the largest span, which leaves room for padding.
const FARTHEST_END: f64 = 0.44 * MOST_SPAN;

/// Room between the outermost data and the ends, as a share of the span.
const PAD_X: f64 = 0.03;
const PAD_Y: f64 = 0.06;

/// Ends of an axis. Invariant: finite, `low < high`, and a span that can be drawn (see the module head).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    low: f64,
    high: f64,
}

impl Range {
    /// The nearest range to `low..high` that can be drawn.
    ///
    /// An end that is not finite is taken to equal the other one, reversed ends are swapped, far ends
    /// are brought nearer, and ends too near each other are moved apart.
    pub fn guard(low: f64, high: f64) -> Self {
        let (low, high) = match (low.is_finite(), high.is_finite()) {
            (true, true) => (low.min(high), low.max(high)),
            (true, false) => (low, low),
            (false, true) => (high, high),
            (false, false) => (0.0, 1.0),
        };
        let low = low.clamp(-FARTHEST_END, FARTHEST_END);
        let high = high.clamp(-FARTHEST_END, FARTHEST_END);
        let scale = low.abs().max(high.abs());
        let span = high - low;
        let least = (scale * LEAST_SHARE).max(LEAST_SPAN);
        let middle = low + span / 2.0;
        if span <= 0.0 && scale < LEAST_SPAN {
            return Self { low: -1.0, high: 1.0 };
        }
        if span <= 0.0 {
            // A single value: five percent to each side gives ticks a reader can place it by.
            let half = (scale * 0.05).max(least / 2.0);
            return Self { low: middle - half, high: middle + half };
        }
        if span < least {
            return Self { low: middle - least / 2.0, high: middle + least / 2.0 };
        }
        Self { low, high }
    }

    /// Left or lower end.
    pub fn low(self) -> f64 {
        self.low
    }

    /// Right or upper end.
    pub fn high(self) -> f64 {
        self.high
    }

    /// Distance between the ends; always above zero.
    pub fn span(self) -> f64 {
        self.high - self.low
    }

    /// Whether `value` lies between the ends, ends included; false for NaN.
    pub fn contains(self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// The range made longer by a share of its span below and above.
    fn padded(self, below: f64, above: f64) -> Self {
        let span = self.span();
        Self { low: self.low - below * span, high: self.high + above * span }
    }
}

/// The smallest and largest finite value met so far.
#[derive(Clone, Copy, Debug)]
struct Extent {
    low: f64,
    high: f64,
}

impl Extent {
    const EMPTY: Self = Self { low: f64::INFINITY, high: f64::NEG_INFINITY };

    fn include(&mut self, value: f64) {
        if value.is_finite() {
            self.low = self.low.min(value);
            self.high = self.high.max(value);
        }
    }

    /// A value with its error bar.
    fn include_around(&mut self, value: f64, half_length: Option<f64>) {
        self.include(value);
        if let Some(half) = half_length {
            self.include(value - half.abs());
            self.include(value + half.abs());
        }
    }
}

/// The ranges of both axes of `figure`, x first.
pub fn ranges(figure: &Figure) -> (Range, Range) {
    let mut x = Extent::EMPTY;
    let mut y = Extent::EMPTY;
    for layer in &figure.layers {
        include_layer(layer, &mut x, &mut y);
    }
    if x.low > x.high {
        // Nothing else to go by: an axis that shows the chosen stretch is better than none.
        for layer in &figure.layers {
            if let Layer::Stretch { from_x, to_x, .. } = layer {
                x.include(*from_x);
                x.include(*to_x);
            }
        }
    }
    let rows = figure.row_names().len();
    let y_range =
        if rows > 0 { Range::guard(0.5 - rows as f64, 0.5) } else { axis_range(&figure.y, y, PAD_Y) };
    (axis_range(&figure.x, x, PAD_X), y_range)
}

fn include_layer(layer: &Layer, x: &mut Extent, y: &mut Extent) {
    match layer {
        Layer::Points { points, .. } => {
            for point in points.iter().filter(|point| point.is_finite()) {
                x.include_around(point.x, point.ux);
                y.include_around(point.y, point.uy);
            }
        }
        Layer::Line { points, .. } => {
            for (px, py) in points {
                if px.is_finite() && py.is_finite() {
                    x.include(*px);
                    y.include(*py);
                }
            }
        }
        Layer::Band { points, .. } => {
            for (px, low, high) in points {
                if px.is_finite() && low.is_finite() && high.is_finite() {
                    x.include(*px);
                    y.include(*low);
                    y.include(*high);
                }
            }
        }
        Layer::Level { y: level, .. } => y.include(*level),
        Layer::Intervals { rows, .. } => {
            for row in rows {
                x.include(row.low);
                x.include(row.mark);
                x.include(row.high);
            }
        }
        Layer::Stretch { .. } => {}
    }
}

fn axis_range(axis: &Axis, data: Extent, pad: f64) -> Range {
    if let Reach::Fixed { low, high } = axis.reach {
        return Range::guard(low, high);
    }
    if axis.reach == Reach::Data {
        return Range::guard(data.low, data.high).padded(pad, pad);
    }
    let mut data = data;
    data.include(0.0);
    let range = if data.low < data.high { Range::guard(data.low, data.high) } else { Range::guard(0.0, 1.0) };
    // An axis that was asked to start at zero starts there, not a little before.
    let below = if range.low() < 0.0 { pad } else { 0.0 };
    let above = if range.high() > 0.0 { pad } else { 0.0 };
    range.padded(below, above)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::figure::{Dash, Ink, Marker, Point};

    #[track_caller]
    fn check_drawable(low: f64, high: f64) -> Range {
        let range = Range::guard(low, high);
        let scale = range.low().abs().max(range.high().abs());
        // A rounding error of the ends is not a defect of the span.
        let slack = 1.0 - 1e-6;
        assert!(range.low().is_finite() && range.high().is_finite());
        assert!(range.span() >= LEAST_SPAN * slack, "{low}..{high}: {range:?}");
        assert!(range.span() >= scale * LEAST_SHARE * slack, "{low}..{high}: {range:?}");
        assert!(range.span() <= MOST_SPAN, "{low}..{high}: {range:?}");
        range
    }

    #[test]
    fn ends_known_to_hang_or_kill_a_tick_search_become_harmless() {
        for (low, high) in [
            (f64::NAN, 1.0),
            (0.0, f64::NAN),
            (f64::NAN, f64::NAN),
            (0.0, f64::INFINITY),
            (f64::NEG_INFINITY, f64::INFINITY),
            (-1e308, 1e308),
            (1e9, 1e9 + 1e-7),
            (1.0, 1.0 + 2e-16),
            (0.0, 1e-17),
            (f64::NAN, -6.6e-12),
            (0.0, 0.0),
            (5.0, 5.0),
            (3.0, -3.0),
            (1e300, 1e300),
            (f64::MIN_POSITIVE, 2.0 * f64::MIN_POSITIVE),
        ] {
            check_drawable(low, high);
        }
    }

    #[test]
    fn an_ordinary_range_is_left_alone_and_a_reversed_one_is_turned() {
        assert_eq!((Range::guard(-2.0, 7.5).low(), Range::guard(-2.0, 7.5).high()), (-2.0, 7.5));
        assert_eq!(Range::guard(7.5, -2.0), Range::guard(-2.0, 7.5));
    }

    #[test]
    fn a_single_value_sits_in_the_middle() {
        let range = Range::guard(40.0, 40.0);
        assert!((range.low() - 38.0).abs() < 1e-12 && (range.high() - 42.0).abs() < 1e-12);
    }

    fn figure(points: Vec<Point>, reach: Reach) -> Figure {
        Figure {
            name: "line".into(),
            x: Axis::new("angular acceleration α", "rad/s²"),
            y: Axis::new("string torque τ", "mN·m").reaching(reach),
            layers: vec![
                Layer::Points { label: String::new(), ink: Ink::First, marker: Marker::Dot, points },
                Layer::Level { label: String::new(), ink: Ink::Muted, dash: Dash::Solid, y: 4.0 },
            ],
        }
    }

    #[test]
    fn error_bars_levels_and_zero_find_room() {
        let bars = Point { ux: Some(0.5), uy: Some(3.0), ..Point::new(2.0, 10.0) };
        let broken = Point { uy: Some(f64::INFINITY), ..Point::new(2.5, 11.0) };
        let (x, y) = ranges(&figure(vec![bars, broken, Point::new(f64::NAN, 900.0)], Reach::Data));
        assert!(x.contains(1.5) && x.contains(2.5) && !x.contains(1.3));
        assert!(y.contains(13.0) && y.contains(4.0) && !y.contains(0.0) && !y.contains(900.0));

        let (_, y) = ranges(&figure(vec![bars], Reach::WithZero));
        assert!(y.low().abs() < 1e-12, "starts at zero, not before: {y:?}");
    }

    #[test]
    fn a_fixed_reach_is_not_padded() {
        let reach = Reach::Fixed { low: -1.0, high: 20.0 };
        let (_, y) = ranges(&figure(vec![Point::new(0.0, 500.0)], reach));
        assert_eq!((y.low(), y.high()), (-1.0, 20.0));
    }

    proptest! {
        #[test]
        fn any_two_numbers_give_a_range_that_can_be_drawn(low in prop::num::f64::ANY, high in prop::num::f64::ANY) {
            check_drawable(low, high);
        }

        #[test]
        fn padding_and_near_ends_stay_drawable(low in -1e13..1e13_f64, exponent in -30..3_i32) {
            let range = check_drawable(low, low + 10.0_f64.powi(exponent));
            let padded = range.padded(PAD_X, PAD_Y);
            prop_assert!(padded.low() <= range.low() && padded.high() >= range.high());
            check_drawable(padded.low(), padded.high());
        }
    }
}
