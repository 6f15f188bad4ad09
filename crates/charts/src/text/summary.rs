//! A figure in sentences.

use crate::figure::{Axis, Figure, Interval, Layer, Point};
use crate::number;
use whorl_words as words;

/// A change smaller than this share of the whole height is no rise or fall worth telling.
const TREND_SHARE: f64 = 0.5;

/// What `figure` shows, in plain sentences: the axes, then each layer with its range and course.
pub fn summary(figure: &Figure) -> String {
    let mut sentences = vec![opening(figure)];
    if !figure.has_data() {
        sentences.push(words::charts::no_data().to_owned());
    }
    for layer in &figure.layers {
        sentences.extend(about(layer, figure));
    }
    sentences.join(" ")
}

fn opening(figure: &Figure) -> String {
    let axes = if figure.row_names().is_empty() {
        words::charts::against(&with_unit(&figure.y), &with_unit(&figure.x))
    } else {
        words::charts::intervals_of(&with_unit(&figure.x))
    };
    if figure.name.is_empty() {
        words::charts::figure(&axes)
    } else {
        words::charts::figure_named(&figure.name, &axes)
    }
}

fn with_unit(axis: &Axis) -> String {
    if axis.unit.is_empty() {
        axis.quantity.clone()
    } else {
        words::charts::axis_in_unit(&axis.quantity, &axis.unit)
    }
}

/// A number with its unit, kept together.
fn value(number: f64, axis: &Axis) -> String {
    let number = number::short(number);
    match axis.unit.as_str() {
        "" => number,
        // A power of ten is a factor, not a unit.
        unit if unit.starts_with("10") => format!("{number}\u{a0}×\u{a0}{unit}"),
        unit => format!("{number}\u{a0}{unit}"),
    }
}

fn about(layer: &Layer, figure: &Figure) -> Vec<String> {
    let name = called(layer);
    match layer {
        Layer::Points { points, .. } => scattered(&name, points, figure),
        Layer::Line { points, .. } => vec![curve(&name, points, figure)],
        Layer::Band { points, .. } => vec![band(&name, points, figure)],
        Layer::Stretch { from_x, to_x, .. } => {
            let from = number::short(from_x.min(*to_x));
            vec![words::charts::from_to(&name, &from, &value(from_x.max(*to_x), &figure.x))]
        }
        Layer::Level { y, .. } => vec![words::charts::at_height(&name, &value(*y, &figure.y))],
        Layer::Intervals { rows, .. } => rows.iter().map(|row| interval(&name, row, &figure.x)).collect(),
    }
}

/// The kind of a layer and its label.
fn called(layer: &Layer) -> String {
    type Named = fn(&dyn core::fmt::Display) -> String;
    let (kind, named): (_, Named) = match layer {
        Layer::Points { .. } => (words::charts::points(), words::charts::points_named),
        Layer::Line { .. } => (words::charts::line(), words::charts::line_named),
        Layer::Band { .. } => (words::charts::band(), words::charts::band_named),
        Layer::Stretch { .. } => (words::charts::stretch(), words::charts::stretch_named),
        Layer::Level { .. } => (words::charts::level(), words::charts::level_named),
        Layer::Intervals { .. } => (words::charts::interval(), words::charts::interval_named),
    };
    if layer.label().is_empty() { kind.to_owned() } else { named(&layer.label()) }
}

fn scattered(name: &str, points: &[Point], figure: &Figure) -> Vec<String> {
    let corners: Vec<(f64, f64)> = points.iter().map(|point| (point.x, point.y)).collect();
    let Some(course) = Course::of(&corners) else {
        return vec![words::charts::none(&name)];
    };
    let has_bars = points.iter().any(|point| point.ux.is_some() || point.uy.is_some());
    let sentence = if has_bars { words::charts::scatter_with_bars } else { words::charts::scatter };
    let mut sentences = vec![sentence(&name, &course.count, &course.told(figure))];
    let lost = points.len() - course.count;
    if lost > 0 {
        sentences.push(words::charts::could_not_be_drawn(&lost));
    }
    sentences
}

fn curve(name: &str, points: &[(f64, f64)], figure: &Figure) -> String {
    Course::of(points).map_or_else(
        || words::charts::empty(&name),
        |course| words::charts::course(&name, &course.told(figure)),
    )
}

fn band(name: &str, points: &[(f64, f64, f64)], figure: &Figure) -> String {
    let widest = points
        .iter()
        .map(|(_, low, high)| (high - low).abs())
        .filter(|width| width.is_finite())
        .reduce(f64::max);
    widest.map_or_else(
        || words::charts::empty(&name),
        |width| words::charts::widest(&name, &value(width, &figure.y)),
    )
}

fn interval(name: &str, row: &Interval, axis: &Axis) -> String {
    let (mark, low, high) = (value(row.mark, axis), number::short(row.low), value(row.high, axis));
    words::charts::interval_from_to(&name, &row.name, &mark, &low, &high)
}

/// How a layer runs from its leftmost to its rightmost point.
struct Course {
    count: usize,
    first: (f64, f64),
    last: (f64, f64),
    low: f64,
    high: f64,
}

impl Course {
    /// Nothing for a layer without a finite point.
    fn of(points: &[(f64, f64)]) -> Option<Self> {
        let mut finite = points.iter().filter(|(x, y)| x.is_finite() && y.is_finite());
        let start = *finite.next()?;
        let mut course = Self { count: 1, first: start, last: start, low: start.1, high: start.1 };
        for (x, y) in finite {
            course.count += 1;
            if *x < course.first.0 {
                course.first = (*x, *y);
            }
            if *x >= course.last.0 {
                course.last = (*x, *y);
            }
            course.low = course.low.min(*y);
            course.high = course.high.max(*y);
        }
        Some(course)
    }

    /// The course in words, without a full stop.
    fn told(&self, figure: &Figure) -> String {
        let (x, y) = (&figure.x, &figure.y);
        if self.count == 1 {
            return words::charts::at_place(&value(self.first.0, x), &value(self.first.1, y));
        }
        let change = self.last.1 - self.first.1;
        let height = self.high - self.low;
        let course = if height <= 0.0 {
            words::charts::stays(&value(self.low, y))
        } else if change.abs() < TREND_SHARE * height {
            words::charts::no_trend(&number::short(self.low), &value(self.high, y))
        } else {
            let trend = if change > 0.0 { words::charts::rises } else { words::charts::falls };
            self.with_excursion(trend(&number::short(self.first.1), &value(self.last.1, y)), y)
        };
        let (from, to) = (number::short(self.first.0), value(self.last.0, x));
        words::charts::across(&x.quantity, &from, &to, &y.quantity, &course)
    }

    /// A rise or fall with what lies clearly outside its ends.
    fn with_excursion(&self, course: String, y: &Axis) -> String {
        let margin = 0.1 * (self.high - self.low);
        let (lower, upper) = (self.first.1.min(self.last.1), self.first.1.max(self.last.1));
        let dips = lower - self.low > margin;
        let peaks = self.high - upper > margin;
        match (dips, peaks) {
            (true, true) => words::charts::with_both(&course, &number::short(self.low), &value(self.high, y)),
            (true, false) => words::charts::with_lowest(&course, &value(self.low, y)),
            (false, true) => words::charts::with_highest(&course, &value(self.high, y)),
            (false, false) => course,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Dash, Ink, Marker};

    fn figure(layers: Vec<Layer>) -> Figure {
        Figure {
            name: "Inertia line".into(),
            x: Axis::new("angular acceleration α", "rad/s²"),
            y: Axis::new("string torque τ", "mN·m"),
            layers,
        }
    }

    fn points(points: Vec<Point>) -> Layer {
        Layer::Points { label: "disk".into(), ink: Ink::First, marker: Marker::Dot, points }
    }

    #[test]
    fn a_line_with_error_bars_is_told_with_its_units() {
        let bar = |x, y| Point { uy: Some(0.2), ..Point::new(x, y) };
        let told = summary(&figure(vec![
            points(vec![bar(4.0, 9.25), bar(1.5, 3.0), Point::new(f64::NAN, 1.0)]),
            Layer::Line {
                label: String::new(),
                ink: Ink::Accent,
                dash: Dash::Solid,
                points: vec![(0.0, -0.5), (5.0, 11.0)],
            },
            Layer::Stretch { label: "chosen".into(), ink: Ink::Accent, from_x: 4.0, to_x: 1.5 },
        ]));
        assert_eq!(
            told,
            "Inertia line: string torque τ in mN·m against angular acceleration α in rad/s². \
             Points “disk”: 2 points with error bars of one standard uncertainty, \
             angular acceleration α from 1.5 to 4\u{a0}rad/s²; \
             string torque τ rises from 3 to 9.25\u{a0}mN·m. \
             1 more could not be drawn: not a number. \
             Line: angular acceleration α from 0 to 5\u{a0}rad/s²; string torque τ rises from −0.5 to 11\u{a0}mN·m. \
             Marked stretch “chosen” from 1.5 to 4\u{a0}rad/s²."
        );
    }

    #[test]
    fn courses_are_named_by_what_the_eye_would_see() {
        for (ys, expected) in [
            (
                vec![0.1, -0.2, 0.15, -0.1, 0.05],
                "lies between −0.2 and 0.15\u{a0}mN·m without a clear rise or fall",
            ),
            (vec![3.0, 3.0, 3.0], "stays at 3\u{a0}mN·m"),
            (vec![9.0, 5.0, 1.0], "falls from 9 to 1\u{a0}mN·m"),
            (vec![0.0, 9.0, 6.0], "rises from 0 to 6\u{a0}mN·m, with a highest value of 9\u{a0}mN·m"),
        ] {
            let run = ys.iter().enumerate().map(|(k, y)| Point::new(k as f64, *y)).collect();
            let told = summary(&figure(vec![points(run)]));
            assert!(told.contains(expected), "{told}");
        }
    }

    #[test]
    fn an_empty_figure_says_so() {
        assert!(summary(&figure(Vec::new())).ends_with("There are no data yet."));
    }

    #[test]
    fn intervals_are_told_row_by_row() {
        let told = summary(&figure(vec![Layer::Intervals {
            label: "measured".into(),
            ink: Ink::First,
            marker: Marker::Dot,
            rows: vec![Interval { name: "ring".into(), low: 4.5, mark: 4.75, high: 5.0 }],
        }]));
        assert!(
            told.ends_with("Interval “measured”, ring: 4.75\u{a0}rad/s², from 4.5 to 5\u{a0}rad/s²."),
            "{told}"
        );
    }
}
