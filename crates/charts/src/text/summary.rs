//! A figure in sentences.

use crate::figure::{Axis, Figure, Interval, Layer, Point};
use crate::number;

/// A change smaller than this share of the whole height is no rise or fall worth telling.
const TREND_SHARE: f64 = 0.5;

/// What `figure` shows, in plain sentences: the axes, then each layer with its range and course.
pub fn summary(figure: &Figure) -> String {
    let mut sentences = vec![opening(figure)];
    if !figure.has_data() {
        sentences.push("There are no data yet.".to_owned());
    }
    for layer in &figure.layers {
        sentences.extend(about(layer, figure));
    }
    sentences.join(" ")
}

fn opening(figure: &Figure) -> String {
    let axes = if figure.row_names().is_empty() {
        format!("{} against {}", with_unit(&figure.y), with_unit(&figure.x))
    } else {
        format!("intervals of {}", with_unit(&figure.x))
    };
    if figure.name.is_empty() { format!("Figure: {axes}.") } else { format!("{}: {axes}.", figure.name) }
}

fn with_unit(axis: &Axis) -> String {
    if axis.unit.is_empty() { axis.quantity.clone() } else { format!("{} in {}", axis.quantity, axis.unit) }
}

/// A number with its unit, kept together.
fn value(number: f64, axis: &Axis) -> String {
    span_end(&number::short(number), axis)
}

fn span_end(number: &str, axis: &Axis) -> String {
    if axis.unit.is_empty() { number.to_owned() } else { format!("{number}\u{a0}{}", axis.unit) }
}

fn about(layer: &Layer, figure: &Figure) -> Vec<String> {
    match layer {
        Layer::Points { label, points, .. } => scattered(&named("Points", label), points, figure),
        Layer::Line { label, points, .. } => curve(&named("Line", label), points, figure),
        Layer::Band { label, points, .. } => band(&named("Band", label), points, figure),
        Layer::Stretch { label, from_x, to_x, .. } => {
            let from = number::short(from_x.min(*to_x));
            vec![format!(
                "{} from {from} to {}.",
                named("Marked stretch", label),
                value(from_x.max(*to_x), &figure.x),
            )]
        }
        Layer::Level { label, y, .. } => {
            vec![format!("{} at {}.", named("Level line", label), value(*y, &figure.y))]
        }
        Layer::Intervals { label, rows, .. } => {
            let kind = named("Interval", label);
            rows.iter().map(|row| interval(&kind, row, &figure.x)).collect()
        }
    }
}

fn named(kind: &str, label: &str) -> String {
    if label.is_empty() { kind.to_owned() } else { format!("{kind} “{label}”") }
}

fn scattered(name: &str, points: &[Point], figure: &Figure) -> Vec<String> {
    let corners: Vec<(f64, f64)> = points.iter().map(|point| (point.x, point.y)).collect();
    let Some(course) = Course::of(&corners) else {
        return vec![format!("{name}: none.")];
    };
    let count = if course.count == 1 { "1 point".to_owned() } else { format!("{} points", course.count) };
    let bars = if points.iter().any(|point| point.ux.is_some() || point.uy.is_some()) {
        " with error bars of one standard uncertainty"
    } else {
        ""
    };
    let lost = points.len() - course.count;
    let mut sentences = vec![format!("{name}: {count}{bars}, {}.", course.told(figure))];
    if lost > 0 {
        sentences.push(format!("{lost} more could not be drawn: not a number."));
    }
    sentences
}

fn curve(name: &str, points: &[(f64, f64)], figure: &Figure) -> Vec<String> {
    let told = Course::of(points).map_or_else(|| "empty".to_owned(), |course| course.told(figure));
    vec![format!("{name}: {told}.")]
}

fn band(name: &str, points: &[(f64, f64, f64)], figure: &Figure) -> Vec<String> {
    let widest = points
        .iter()
        .map(|(_, low, high)| (high - low).abs())
        .filter(|width| width.is_finite())
        .reduce(f64::max);
    let told = widest.map_or_else(
        || "empty".to_owned(),
        |width| format!("at its widest {} from edge to edge", value(width, &figure.y)),
    );
    vec![format!("{name}: {told}.")]
}

fn interval(kind: &str, row: &Interval, axis: &Axis) -> String {
    format!(
        "{kind}, {}: {}, from {} to {}.",
        row.name,
        value(row.mark, axis),
        number::short(row.low),
        value(row.high, axis),
    )
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
            return format!("at {} and {}", value(self.first.0, x), value(self.first.1, y));
        }
        let across =
            format!("{} from {} to {}", x.quantity, number::short(self.first.0), value(self.last.0, x));
        let change = self.last.1 - self.first.1;
        let height = self.high - self.low;
        let course = if height <= 0.0 {
            format!("stays at {}", value(self.low, y))
        } else if change.abs() < TREND_SHARE * height {
            let low = number::short(self.low);
            format!("lies between {low} and {} without a clear rise or fall", value(self.high, y))
        } else {
            let verb = if change > 0.0 { "rises" } else { "falls" };
            let ends = format!("{verb} from {} to {}", number::short(self.first.1), value(self.last.1, y));
            format!("{ends}{}", self.excursion(y))
        };
        format!("{across}; {} {course}", y.quantity)
    }

    /// What lies clearly outside the ends of a rise or fall.
    fn excursion(&self, y: &Axis) -> String {
        let margin = 0.1 * (self.high - self.low);
        let (lower, upper) = (self.first.1.min(self.last.1), self.first.1.max(self.last.1));
        let dips = lower - self.low > margin;
        let peaks = self.high - upper > margin;
        match (dips, peaks) {
            (true, true) => format!(
                ", with a lowest value of {} and a highest of {}",
                number::short(self.low),
                value(self.high, y)
            ),
            (true, false) => format!(", with a lowest value of {}", value(self.low, y)),
            (false, true) => format!(", with a highest value of {}", value(self.high, y)),
            (false, false) => String::new(),
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
