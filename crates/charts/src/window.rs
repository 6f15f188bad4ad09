//! The part of a figure that is looked at: moved and enlarged, but never beyond the figure.

use crate::figure::Figure;
use crate::ranges::{Range, ranges};

/// The most that an axis is enlarged: beyond it neighboring readings of any logger lie far apart.
const MOST_ENLARGED: f64 = 1e5;

/// The ranges of both axes that are drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    x: Range,
    y: Range,
    /// The rows of a figure of intervals are always all in view.
    shows_all_rows: bool,
}

impl Window {
    /// All of a figure: looks at each of its points, so it is found once and then kept.
    pub fn whole(figure: &Figure) -> Self {
        let (x, y) = ranges(figure);
        Self { x, y, shows_all_rows: !figure.row_names().is_empty() }
    }

    /// The ends of the x axis.
    pub fn x(self) -> Range {
        self.x
    }

    /// The ends of the y axis.
    pub fn y(self) -> Range {
        self.y
    }

    /// The same window moved by shares of its own size, as far as the whole figure goes.
    #[must_use]
    pub fn moved(self, right: f64, up: f64, whole: Self) -> Self {
        let shifted = |range: Range, all: Range, share: f64| {
            let low = range.low() + share * range.span();
            placed(if low.is_nan() { range.low() } else { low }, range.span(), all)
        };
        Self { x: shifted(self.x, whole.x, right), y: shifted(self.y, whole.y, up), ..whole }
    }

    /// Enlarged so many times about a place, in values of the axes; below 1 it shows more. Rows stay as they
    /// are.
    #[must_use]
    pub fn enlarged(self, times: f64, about: (f64, f64), whole: Self) -> Self {
        if !(times.is_finite() && times > 0.0 && about.0.is_finite() && about.1.is_finite()) {
            return self;
        }
        let scaled = |range: Range, all: Range, about: f64| {
            let about = about.clamp(range.low(), range.high());
            let least = all.span() / MOST_ENLARGED;
            let share = (1.0 / times).max(least / range.span());
            placed(about - (about - range.low()) * share, share * range.span(), all)
        };
        let y = if whole.shows_all_rows { whole.y } else { scaled(self.y, whole.y, about.1) };
        Self { x: scaled(self.x, whole.x, about.0), y, ..whole }
    }

    /// Moved as little as brings a place into view.
    #[must_use]
    pub fn showing(self, place: (f64, f64), whole: Self) -> Self {
        let beyond = |range: Range, value: f64| {
            if value < range.low() {
                value - range.low()
            } else if value > range.high() {
                value - range.high()
            } else {
                0.0
            }
        };
        // A little further, so that the place does not lie on the edge.
        let share = |range: Range, value: f64| {
            let by = beyond(range, value) / range.span();
            if by.abs() > 0.0 { by + 0.1 * by.signum() } else { 0.0 }
        };
        self.moved(share(self.x, place.0), share(self.y, place.1), whole)
    }

    /// The same part of a figure that has changed.
    #[must_use]
    pub fn within(self, whole: Self) -> Self {
        self.moved(0.0, 0.0, whole)
    }

    /// Whether nothing of the figure is outside.
    pub fn is_whole(self, whole: Self) -> bool {
        let all = |part: Range, whole: Range| part.span() >= whole.span() * (1.0 - 1e-9);
        all(self.x, whole.x) && all(self.y, whole.y)
    }
}

/// A range that begins at `low` or, so as to lie inside the whole, near it.
fn placed(low: f64, span: f64, whole: Range) -> Range {
    if span.is_nan() || span >= whole.span() {
        return whole;
    }
    let low = low.clamp(whole.low(), whole.high() - span);
    Range::guard(low, low + span)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Axis, Ink, Layer, Marker, Point, Reach};
    use proptest::prelude::*;

    fn figure() -> Figure {
        let reach = |low, high| Reach::Fixed { low, high };
        Figure {
            name: String::new(),
            x: Axis::new("t", "s").reaching(reach(0.0, 10.0)),
            y: Axis::new("v", "m/s").reaching(reach(-1.0, 1.0)),
            layers: vec![Layer::Points {
                label: String::new(),
                ink: Ink::First,
                marker: Marker::Dot,
                points: vec![Point::new(0.0, 0.0), Point::new(10.0, 1.0)],
            }],
        }
    }

    #[track_caller]
    fn check(window: Window, x: (f64, f64), y: (f64, f64)) {
        let ends = [window.x.low(), window.x.high(), window.y.low(), window.y.high()];
        for (found, expected) in ends.into_iter().zip([x.0, x.1, y.0, y.1]) {
            assert!((found - expected).abs() < 1e-9, "{window:?}: {x:?} {y:?} expected");
        }
    }

    #[test]
    fn what_it_is_enlarged_about_stays_where_it_is() {
        let whole = Window::whole(&figure());
        let window = whole.enlarged(4.0, (2.0, 0.5), whole);
        check(window, (1.5, 4.0), (0.125, 0.625));
        check(window.enlarged(0.25, (2.0, 0.5), whole), (0.0, 10.0), (-1.0, 1.0));
    }

    #[test]
    fn it_stops_at_the_ends_of_the_figure() {
        let whole = Window::whole(&figure());
        let window = whole.enlarged(2.0, (0.0, 0.0), whole);
        check(window.moved(0.5, 0.0, whole), (2.5, 7.5), (-0.5, 0.5));
        check(window.moved(9.0, -9.0, whole), (5.0, 10.0), (-1.0, 0.0));
        assert!(window.enlarged(1e-6, (3.0, 0.0), whole).is_whole(whole));
        assert!(!window.is_whole(whole));
    }

    #[test]
    fn a_place_outside_is_brought_in_and_one_inside_moves_nothing() {
        let whole = Window::whole(&figure());
        let window = whole.enlarged(5.0, (0.0, 0.0), whole);
        check(window.showing((1.0, 0.1), whole), (0.0, 2.0), (-0.2, 0.2));
        let shown = window.showing((7.0, 0.9), whole);
        assert!(shown.x.contains(7.0) && shown.y.contains(0.9), "{shown:?}");
        assert!((shown.x.span() - 2.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn any_sequence_of_moves_stays_inside_and_can_be_drawn(
            steps in prop::collection::vec((any::<bool>(), prop::num::f64::ANY, prop::num::f64::ANY, prop::num::f64::ANY), 0..40),
        ) {
            let whole = Window::whole(&figure());
            let mut window = whole;
            for (is_move, a, b, c) in steps {
                window = if is_move { window.moved(a, b, whole) } else { window.enlarged(a, (b, c), whole) };
                for (part, all) in [(window.x, whole.x), (window.y, whole.y)] {
                    prop_assert!(part.low() >= all.low() - 1e-9 && part.high() <= all.high() + 1e-9, "{:?}", window);
                    prop_assert!(part.span() > 0.0 && part.span().is_finite());
                }
            }
        }
    }
}
