//! A figure as rows and columns.

use crate::figure::{Axis, Figure, Layer, Point};
use crate::number;
use whorl_words as words;

/// Significant digits of the largest number in a column; the others get as many decimals.
const DIGITS: i32 = 6;

/// The numbers of a figure, ready to be set as a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// The name of the figure.
    pub caption: String,
    /// Head of each column, such as `time t / s`.
    pub columns: Vec<String>,
    /// The cells, each row as long as `columns`.
    pub rows: Vec<Vec<String>>,
    /// How many rows are not listed.
    pub left_out: usize,
}

impl Table {
    /// A sentence about the rows that are missing, if any are.
    pub fn note(&self) -> Option<String> {
        let all = self.rows.len() + self.left_out;
        let listed = self.rows.len();
        (self.left_out > 0).then(|| words::charts::rows_left_out(&listed, &all, &self.left_out))
    }
}

/// The numbers drawn in `figure`, in at most `most_rows` rows.
///
/// Intervals and points are listed if there are any; lines and bands, which usually follow from the
/// points, only in a figure without points. A longer table keeps rows at even distances, first and last
/// included.
pub fn table(figure: &Figure, most_rows: usize) -> Table {
    let content = [interval_columns, point_columns, line_columns, band_columns]
        .into_iter()
        .map(|columns| columns(figure))
        .find(|columns| columns.iter().any(|column| !column.is_empty()))
        .unwrap_or_else(|| point_columns(figure));
    let all = content.iter().map(Column::len).max().unwrap_or(0);
    let kept = evenly_chosen(all, most_rows);
    let cells: Vec<Vec<String>> = content.iter().map(|column| column.cells(&kept)).collect();
    Table {
        caption: figure.name.clone(),
        rows: (0..kept.len())
            .map(|row| cells.iter().map(|column| column.get(row).cloned().unwrap_or_default()).collect())
            .collect(),
        columns: content.into_iter().map(|column| column.head).collect(),
        left_out: all - kept.len(),
    }
}

/// Indices of `most` of `all` rows, first and last among them.
fn evenly_chosen(all: usize, most: usize) -> Vec<usize> {
    if all <= most {
        return (0..all).collect();
    }
    match most {
        0 => Vec::new(),
        1 => vec![0],
        _ => (0..most).map(|place| place * (all - 1) / (most - 1)).collect(),
    }
}

struct Column {
    head: String,
    content: Content,
}

enum Content {
    Names(Vec<String>),
    /// `None` for a cell that has no number.
    Numbers(Vec<Option<f64>>),
}

impl Column {
    fn names(head: &str, names: Vec<String>) -> Self {
        Self { head: head.to_owned(), content: Content::Names(names) }
    }

    fn numbers(head: String, numbers: impl Iterator<Item = Option<f64>>) -> Self {
        Self { head, content: Content::Numbers(numbers.collect()) }
    }

    fn len(&self) -> usize {
        match &self.content {
            Content::Names(names) => names.len(),
            Content::Numbers(numbers) => numbers.len(),
        }
    }

    fn is_empty(&self) -> bool {
        self.len() == 0
    }

    fn cells(&self, kept: &[usize]) -> Vec<String> {
        match &self.content {
            Content::Names(names) => kept.iter().filter_map(|row| names.get(*row)).cloned().collect(),
            Content::Numbers(numbers) => {
                let format = Format::of(numbers);
                kept.iter().filter_map(|row| numbers.get(*row)).map(|cell| format.write(*cell)).collect()
            }
        }
    }
}

/// How the numbers of a column are written: all with the same decimals, so that they line up.
enum Format {
    Fixed(usize),
    Short,
}

impl Format {
    fn of(numbers: &[Option<f64>]) -> Self {
        let finite = || numbers.iter().flatten().filter(|number| number.is_finite());
        let largest = finite().fold(0.0_f64, |largest, number| largest.max(number.abs()));
        let order = number::order_of(largest);
        if !(-6..9).contains(&order) {
            return Self::Short;
        }
        let most = number::decimals_for(DIGITS - 1 - order);
        let written = |decimals| finite().map(move |number| number::fixed(*number, decimals));
        // As few decimals as lose nothing: 0.02 and 0.04, not 0.020000 and 0.040000.
        let spare =
            written(most).map(|cell| cell.len() - cell.trim_end_matches('0').len()).min().unwrap_or(0);
        Self::Fixed(most - spare.min(most))
    }

    fn write(&self, cell: Option<f64>) -> String {
        match (cell, self) {
            (None, _) => String::new(),
            (Some(number), Self::Fixed(decimals)) if number.is_finite() => number::fixed(number, *decimals),
            (Some(number), _) => number::short(number),
        }
    }
}

fn uncertainty_head(axis: &Axis) -> String {
    Axis::new(format!("u({})", axis.quantity), axis.unit.clone()).caption()
}

/// A column of layer names, if there are several layers to tell apart.
fn with_names(names: Vec<&str>, rest: Vec<Column>) -> Vec<Column> {
    let differ = names.windows(2).any(|pair| pair.first() != pair.last());
    let names = names.into_iter().map(str::to_owned).collect();
    let first = differ.then(|| Column::names(words::charts::series(), names));
    first.into_iter().chain(rest).collect()
}

fn point_columns(figure: &Figure) -> Vec<Column> {
    let rows: Vec<(&str, &Point)> = figure
        .layers
        .iter()
        .filter_map(|layer| match layer {
            Layer::Points { label, points, .. } => {
                Some(points.iter().map(move |point| (label.as_str(), point)))
            }
            _ => None,
        })
        .flatten()
        .collect();
    let column = |head, pick: fn(&Point) -> Option<f64>| {
        Column::numbers(head, rows.iter().map(|(_, point)| pick(point)))
    };
    let mut columns = vec![column(figure.x.caption(), |point| Some(point.x))];
    if rows.iter().any(|(_, point)| point.ux.is_some()) {
        columns.push(column(uncertainty_head(&figure.x), |point| point.ux));
    }
    columns.push(column(figure.y.caption(), |point| Some(point.y)));
    if rows.iter().any(|(_, point)| point.uy.is_some()) {
        columns.push(column(uncertainty_head(&figure.y), |point| point.uy));
    }
    with_names(rows.iter().map(|(label, _)| *label).collect(), columns)
}

fn line_columns(figure: &Figure) -> Vec<Column> {
    let rows: Vec<(&str, &(f64, f64))> = figure
        .layers
        .iter()
        .filter_map(|layer| match layer {
            Layer::Line { label, points, .. } => {
                Some(points.iter().map(move |point| (label.as_str(), point)))
            }
            _ => None,
        })
        .flatten()
        .collect();
    let columns = vec![
        Column::numbers(figure.x.caption(), rows.iter().map(|(_, point)| Some(point.0))),
        Column::numbers(figure.y.caption(), rows.iter().map(|(_, point)| Some(point.1))),
    ];
    with_names(rows.iter().map(|(label, _)| *label).collect(), columns)
}

fn band_columns(figure: &Figure) -> Vec<Column> {
    let rows: Vec<(&str, &(f64, f64, f64))> = figure
        .layers
        .iter()
        .filter_map(|layer| match layer {
            Layer::Band { label, points, .. } => {
                Some(points.iter().map(move |point| (label.as_str(), point)))
            }
            _ => None,
        })
        .flatten()
        .collect();
    let caption = figure.y.caption();
    let columns = vec![
        Column::numbers(figure.x.caption(), rows.iter().map(|(_, point)| Some(point.0))),
        Column::numbers(words::charts::low(&caption), rows.iter().map(|(_, point)| Some(point.1))),
        Column::numbers(words::charts::high(&caption), rows.iter().map(|(_, point)| Some(point.2))),
    ];
    with_names(rows.iter().map(|(label, _)| *label).collect(), columns)
}

fn interval_columns(figure: &Figure) -> Vec<Column> {
    let rows: Vec<_> = figure
        .layers
        .iter()
        .filter_map(|layer| match layer {
            Layer::Intervals { label, rows, .. } => Some(rows.iter().map(move |row| (label.as_str(), row))),
            _ => None,
        })
        .flatten()
        .collect();
    let caption = figure.x.caption();
    let columns = vec![
        Column::names(words::charts::name(), rows.iter().map(|(_, row)| row.name.clone()).collect()),
        Column::numbers(caption.clone(), rows.iter().map(|(_, row)| Some(row.mark))),
        Column::numbers(words::charts::low(&caption), rows.iter().map(|(_, row)| Some(row.low))),
        Column::numbers(words::charts::high(&caption), rows.iter().map(|(_, row)| Some(row.high))),
    ];
    with_names(rows.iter().map(|(label, _)| *label).collect(), columns)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Dash, Ink, Interval, Marker};

    fn figure(layers: Vec<Layer>) -> Figure {
        Figure {
            name: "Run 3".into(),
            x: Axis::new("time t", "s"),
            y: Axis::new("angular velocity ω", "rad/s"),
            layers,
        }
    }

    fn points(label: &str, points: Vec<Point>) -> Layer {
        Layer::Points { label: label.into(), ink: Ink::First, marker: Marker::Dot, points }
    }

    fn line() -> Layer {
        Layer::Line {
            label: "fit".into(),
            ink: Ink::Accent,
            dash: Dash::Solid,
            points: vec![(0.0, 0.0), (1.0, 2.0)],
        }
    }

    #[test]
    fn points_are_listed_with_their_uncertainties_and_the_fit_is_not() {
        let bar = Point { uy: Some(0.015), ..Point::new(0.02, -1.5) };
        let found = table(&figure(vec![points("a", vec![bar, Point::new(0.04, 12.25)]), line()]), 50);
        assert_eq!(found.caption, "Run 3");
        assert_eq!(
            found.columns,
            ["time t / s", "angular velocity ω / (rad/s)", "u(angular velocity ω) / (rad/s)"]
        );
        assert_eq!(found.rows, [["0.02", "−1.50", "0.015"], ["0.04", "12.25", ""]]);
        assert_eq!(found.note(), None);
    }

    #[test]
    fn several_series_are_told_apart_by_name() {
        let found = table(
            &figure(vec![
                points("disk", vec![Point::new(1.0, 2.0)]),
                points("ring", vec![Point::new(1.0, 3.0)]),
            ]),
            50,
        );
        assert_eq!(found.rows, [["disk", "1", "2"], ["ring", "1", "3"]]);
    }

    #[test]
    fn a_curve_alone_is_listed() {
        assert_eq!(table(&figure(vec![line()]), 50).rows, [["0", "0"], ["1", "2"]]);
    }

    #[test]
    fn intervals_are_listed_by_row() {
        let rows = vec![Interval { name: "ring".into(), low: 4.5, mark: 4.75, high: 5.0 }];
        let layer = Layer::Intervals { label: "measured".into(), ink: Ink::First, marker: Marker::Dot, rows };
        let found = table(&figure(vec![layer]), 50);
        assert_eq!(found.columns, ["name", "time t / s", "low time t / s", "high time t / s"]);
        assert_eq!(found.rows, [["ring", "4.75", "4.5", "5"]]);
    }

    #[test]
    fn a_long_table_keeps_first_and_last_and_tells_what_is_missing() {
        let run = (0..101).map(|k| Point::new(f64::from(k), 2.0)).collect();
        let found = table(&figure(vec![points("", run)]), 5);
        let times: Vec<&str> = found.rows.iter().map(|row| row[0].as_str()).collect();
        assert_eq!(times, ["0", "25", "50", "75", "100"]);
        assert_eq!(found.note().as_deref(), Some("5 of 101 rows, evenly chosen; 96 left out."));
    }

    #[test]
    fn an_empty_figure_has_columns_and_no_rows() {
        let found = table(&figure(Vec::new()), 50);
        assert_eq!((found.columns.len(), found.rows.len(), found.left_out), (2, 0, 0));
    }

    #[test]
    fn a_missing_number_changes_no_other_cell() {
        let run = vec![Point::new(0.02, 1.5), Point::new(f64::INFINITY, f64::NAN)];
        let found = table(&figure(vec![points("", run)]), 50);
        assert_eq!(found.rows, [["0.02", "1.5"], ["not a number", "not a number"]]);
    }

    #[test]
    fn float_noise_does_not_show() {
        let found = table(&figure(vec![points("", vec![Point::new(0.1 + 0.2, 1e300)])]), 50);
        assert_eq!(found.rows, [["0.3", "1×10³⁰⁰"]]);
    }
}
