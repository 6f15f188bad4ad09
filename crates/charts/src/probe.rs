//! Readings of a figure one by one: what a crosshair points at and says.
//!
//! A pointer asks for the [`nearest`] mark, keys go from one to the [`next`]; [`told`] puts it into words, with
//! what lines and bands say at the same place.

use crate::figure::{Axis, Figure, Ink, Layer, Point};
use crate::number;
use crate::pixel_map::PixelMap;
use whorl_words as words;

/// One mark of a figure: the `index`-th of its `layer`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    layer: usize,
    index: usize,
    /// Its place on the axes; in a figure of intervals `y` is minus the number of its row.
    pub at: (f64, f64),
}

/// Which mark is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// So many further to the right; to the left when negative.
    Along(i32),
    /// The leftmost.
    First,
    /// The rightmost.
    Last,
    /// The one nearest in x of the next layer that has marks; `false` of the one before.
    Layer(bool),
}

/// The mark nearest to a pixel of the drawing; `None` in a figure without marks.
pub fn nearest(figure: &Figure, map: &PixelMap, px: f64, py: f64) -> Option<Mark> {
    let distance = |mark: &Mark| (map.px_of_x(mark.at.0) - px).hypot(map.py_of_y(mark.at.1) - py);
    let mut best: Option<(f64, Mark)> = None;
    for mark in (0..figure.layers.len()).flat_map(|layer| marks(figure, layer)) {
        let apart = distance(&mark);
        if apart.is_finite() && best.is_none_or(|(least, _)| apart < least) {
            best = Some((apart, mark));
        }
    }
    best.map(|(_, mark)| mark)
}

/// The mark that a key leads to; with no mark yet the leftmost of the first layer that has marks.
pub fn next(figure: &Figure, from: Option<Mark>, step: Step) -> Option<Mark> {
    let Some(from) = from.and_then(|from| still_there(figure, from)) else {
        let first = (0..figure.layers.len()).find(|layer| marks(figure, *layer).next().is_some())?;
        return in_order(figure, first).first().copied();
    };
    match step {
        Step::Along(count) => {
            let row = in_order(figure, from.layer);
            let here = row.iter().position(|mark| mark.index == from.index)?;
            let there = here.saturating_add_signed(count as isize).min(row.len().saturating_sub(1));
            row.get(there).copied()
        }
        Step::First => in_order(figure, from.layer).first().copied(),
        Step::Last => in_order(figure, from.layer).last().copied(),
        Step::Layer(forward) => {
            let count = figure.layers.len();
            let places = (1..count).map(|by| if forward { from.layer + by } else { from.layer + count - by });
            let found =
                places.map(|place| place % count).find(|layer| marks(figure, *layer).next().is_some())?;
            let apart = |mark: &Mark| (mark.at.0 - from.at.0).abs();
            marks(figure, found).min_by(|a, b| apart(a).total_cmp(&apart(b)))
        }
    }
}

/// The same mark in a figure that may have changed.
fn still_there(figure: &Figure, mark: Mark) -> Option<Mark> {
    marks(figure, mark.layer).find(|found| found.index == mark.index)
}

/// The marks of a layer that have a place, in its own order.
fn marks(figure: &Figure, layer: usize) -> impl Iterator<Item = Mark> {
    let held = figure.layers.get(layer);
    let points = held.and_then(|held| match held {
        Layer::Points { points, .. } => Some(points.iter()),
        _ => None,
    });
    let rows = held.and_then(|held| match held {
        Layer::Intervals { rows, .. } => Some((figure.row_names(), rows.iter())),
        _ => None,
    });
    let of_points = points.into_iter().flatten().map(|point| (point.x, point.y)).enumerate();
    let of_rows = rows.into_iter().flat_map(|(names, rows)| {
        rows.map(move |row| {
            let place = names.iter().position(|name| *name == row.name).unwrap_or(0);
            (row.mark, -(place as f64))
        })
        .enumerate()
    });
    of_points
        .chain(of_rows)
        .filter(|(_, (x, y))| x.is_finite() && y.is_finite())
        .map(move |(index, at)| Mark { layer, index, at })
}

/// The marks of a layer from left to right; rows from top to bottom.
fn in_order(figure: &Figure, layer: usize) -> Vec<Mark> {
    let mut row: Vec<Mark> = marks(figure, layer).collect();
    if !matches!(figure.layers.get(layer), Some(Layer::Intervals { .. })) {
        row.sort_by(|a, b| a.at.0.total_cmp(&b.at.0));
    }
    row
}

/// What stands at a mark, in words; empty when it is gone.
pub fn told(figure: &Figure, mark: Mark) -> String {
    let Some(layer) = figure.layers.get(mark.layer) else { return String::new() };
    match layer {
        Layer::Points { label, points, .. } => points.get(mark.index).map_or_else(String::new, |point| {
            let count = marks(figure, mark.layer).count();
            let place = 1 + in_order(figure, mark.layer)
                .iter()
                .position(|other| other.index == mark.index)
                .unwrap_or(0);
            let mut parts = vec![
                with_uncertainty(&figure.x, point.x, point.ux),
                with_uncertainty(&figure.y, point.y, point.uy),
            ];
            parts.extend(curves_at(figure, label, point));
            let parts = parts.join("; ");
            if label.is_empty() {
                words::charts::point_told(&place, &count, &parts)
            } else {
                words::charts::point_of_told(label, &place, &count, &parts)
            }
        }),
        Layer::Intervals { label, rows, .. } => rows.get(mark.index).map_or_else(String::new, |row| {
            let ends = (number::short(row.low), in_unit(&figure.x, row.high));
            words::charts::interval_told(&row.name, label, &in_unit(&figure.x, row.mark), &ends.0, &ends.1)
        }),
        _ => String::new(),
    }
}

fn in_unit(axis: &Axis, value: f64) -> String {
    with_unit(axis, number::short(value))
}

fn with_unit(axis: &Axis, digits: String) -> String {
    if axis.unit.is_empty() { digits } else { format!("{digits}\u{202f}{}", axis.unit) }
}

/// A value, rounded to the second digit of its uncertainty where it has one (GUM 7.2.6).
fn with_uncertainty(axis: &Axis, value: f64, uncertainty: Option<f64>) -> String {
    let Some(u) = uncertainty.filter(|u| u.is_finite() && *u > 0.0) else {
        return words::charts::quantity(&axis.quantity, &in_unit(axis, value));
    };
    let decimals = 1 - number::order_of(u);
    let shown = |number: f64| {
        if (0..10).contains(&decimals) {
            with_unit(axis, number::fixed(number, number::decimals_for(decimals)))
        } else {
            in_unit(axis, number)
        }
    };
    words::charts::quantity_with_u(&axis.quantity, &shown(value), &shown(u))
}

/// What the layer's own line says where the point is; where it has none, the lines that the reader should look at.
fn curves_at(figure: &Figure, own: &str, point: &Point) -> Vec<String> {
    let there = |points: &[(f64, f64)]| Some(in_unit(&figure.y, between(points, point.x)?));
    let lines = figure.layers.iter().filter_map(|layer| match layer {
        Layer::Line { label, ink, points, .. } if !label.is_empty() => Some((label, *ink, points)),
        _ => None,
    });
    let of_layer: Vec<String> = lines
        .clone()
        .filter(|(label, ..)| *label == own)
        .filter_map(|(.., points)| Some(words::charts::on_its_line(&there(points)?)))
        .collect();
    if !of_layer.is_empty() {
        return of_layer;
    }
    lines
        .filter(|(_, ink, _)| *ink == Ink::Accent)
        .filter_map(|(label, _, points)| Some(words::charts::line_there(label, &there(points)?)))
        .collect()
}

/// Height of a line at x, between two of its corners.
fn between(corners: &[(f64, f64)], x: f64) -> Option<f64> {
    corners.windows(2).find_map(|pair| match pair {
        [(x0, y0), (x1, y1)] if x0.min(*x1) <= x && x <= x0.max(*x1) && x1 - x0 != 0.0 => {
            Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0)).filter(|y| y.is_finite())
        }
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Dash, Ink, Interval, Marker};
    use crate::pixel_map::PixelRect;
    use crate::ranges::Range;

    fn points(label: &str, points: Vec<Point>) -> Layer {
        Layer::Points { label: label.into(), ink: Ink::First, marker: Marker::Dot, points }
    }

    fn figure() -> Figure {
        let bar = Point { uy: Some(0.02), ..Point::new(2.0, 0.4) };
        Figure {
            name: String::new(),
            x: Axis::new("time t", "s"),
            y: Axis::new("velocity v", "m/s"),
            layers: vec![
                Layer::Stretch { label: "stretch".into(), ink: Ink::Accent, from_x: 1.0, to_x: 3.0 },
                points(
                    "not used",
                    vec![Point::new(4.0, 0.1), Point::new(f64::NAN, 1.0), Point::new(0.0, 0.0)],
                ),
                points("readings", vec![Point::new(3.0, 0.6), Point::new(1.0, 0.2), bar]),
                Layer::Line {
                    label: "fit".into(),
                    ink: Ink::Accent,
                    dash: Dash::Solid,
                    points: vec![(1.0, 0.2), (3.0, 0.64)],
                },
            ],
        }
    }

    #[test]
    fn keys_go_from_left_to_right_and_from_layer_to_layer() {
        let figure = figure();
        let first = next(&figure, None, Step::Along(1)).unwrap();
        assert_eq!(first.at, (0.0, 0.0));
        let last = next(&figure, Some(first), Step::Along(1)).unwrap();
        assert_eq!(last.at, (4.0, 0.1));
        assert_eq!(next(&figure, Some(last), Step::Along(10)), Some(last));
        assert_eq!(next(&figure, Some(last), Step::Along(-10)), Some(first));
        let other = next(&figure, Some(last), Step::Layer(true)).unwrap();
        assert_eq!(other.at, (3.0, 0.6), "the nearest in x");
        assert_eq!(next(&figure, Some(other), Step::First).unwrap().at, (1.0, 0.2));
        assert_eq!(next(&figure, Some(other), Step::Layer(false)).unwrap().at, (4.0, 0.1));
        assert_eq!(next(&Figure { layers: Vec::new(), ..figure }, Some(other), Step::Last), None);
    }

    #[test]
    fn the_nearest_mark_is_the_nearest_on_the_paper() {
        let plot = PixelRect { left: 0.0, top: 0.0, right: 400.0, bottom: 100.0 };
        let map = PixelMap::new(plot, Range::guard(0.0, 4.0), Range::guard(0.0, 1.0));
        let mark = nearest(&figure(), &map, 190.0, 70.0).unwrap();
        assert_eq!(mark.at, (2.0, 0.4));
    }

    #[test]
    fn a_mark_is_told_with_its_uncertainty_and_the_line_beside_it() {
        let figure = figure();
        let mark = marks(&figure, 2).nth(2).unwrap();
        assert_eq!(
            told(&figure, mark),
            "readings, 2 of 3: time t 2\u{202f}s; velocity v 0.400\u{202f}m/s, u = 0.020\u{202f}m/s; fit: 0.42\u{202f}m/s"
        );
    }

    #[test]
    fn intervals_are_told_with_both_ends() {
        let row = |name: &str, mark| Interval { name: name.into(), low: mark - 1.0, mark, high: mark + 1.0 };
        let figure = Figure {
            name: String::new(),
            x: Axis::new("moment of inertia I", "g·m²"),
            y: Axis::new("", ""),
            layers: vec![Layer::Intervals {
                label: "measured".into(),
                ink: Ink::First,
                marker: Marker::Dot,
                rows: vec![row("disc", 5.0), row("ring", 3.0)],
            }],
        };
        let second = next(&figure, next(&figure, None, Step::First), Step::Along(1)).unwrap();
        assert_eq!(second.at, (3.0, -1.0));
        assert_eq!(told(&figure, second), "ring, measured: 3\u{202f}g·m², from 2 to 4\u{202f}g·m²");
    }
}
