//! Two runs over each other, and what was said of the second before it was taken.

use super::velocity;
use crate::figure::{Axis, Dash, Figure, Ink, Layer, Marker, Point};
use whorl_core::acceleration::Setup;
use whorl_core::analysis::RunOutcome;
use whorl_core::lab::RunEntry;
use whorl_core::readings::ReadingKind;
use whorl_words as words;

/// v(t) of two runs, each from the start of its good stretch, and a line as steep as the second was said to be where
/// `factor` says how many times as steep as the first. `None` where there is no v(t) to draw.
pub fn compared(
    first: (&RunEntry, &RunOutcome),
    second: (&RunEntry, &RunOutcome),
    factor: Option<f64>,
    setup: &Setup,
) -> Option<Figure> {
    let mut layers = Vec::new();
    for ((run, outcome), (ink, marker)) in
        [(first, (Ink::First, Marker::Ring)), (second, (Ink::Second, Marker::Square))]
    {
        layers.push(Layer::Points {
            label: run.name.clone(),
            ink,
            marker,
            points: from_start(run, outcome, setup)?,
        });
    }
    let slope = |outcome: &RunOutcome| Some(outcome.fit.as_ref().ok()?.acceleration.value().0);
    let lines =
        [(slope(first.1)?, 0, Ink::First, Dash::Solid), (slope(second.1)?, 1, Ink::Second, Dash::Solid)];
    let said = factor.map(|factor| (factor * lines[0].0, 1, Ink::Accent, Dash::Dashed));
    for (slope, through, ink, dash) in lines.into_iter().chain(said) {
        let label =
            if dash == Dash::Dashed { words::forecast::said_line().to_owned() } else { String::new() };
        let points = line(layers.get(through)?, slope, dash)?;
        layers.push(Layer::Line { label, ink, dash, points });
    }
    Some(Figure {
        name: words::forecast::chart(&second.0.name, &first.0.name),
        x: Axis::new(words::charts::time(), "s"),
        y: Axis::new(words::charts::velocity(), "m/s"),
        layers,
    })
}

/// The velocities in the good stretch, counted from its start.
fn from_start(run: &RunEntry, outcome: &RunOutcome, setup: &Setup) -> Option<Vec<Point>> {
    run.record.kind().filter(|kind| *kind != ReadingKind::Acceleration)?;
    let start = outcome.stretch?.from().0;
    // The points are those of the run's own figure: the last of its layers of points are the ones in use.
    let used = velocity(run, setup, outcome).layers.into_iter().rev().find_map(|layer| match layer {
        Layer::Points { points, .. } => Some(points),
        _ => None,
    })?;
    Some(used.into_iter().map(|point| Point { x: point.x - start, ..point }).collect())
}

/// A line of a slope over all points of a layer: through their middle, or from where they begin where it was only said.
fn line(points: &Layer, slope: f64, dash: Dash) -> Option<Vec<(f64, f64)>> {
    let Layer::Points { points, .. } = points else { return None };
    let (first, last) = (points.first()?, points.last()?);
    let count = points.len() as f64;
    let (x, y) =
        points.iter().fold((0.0, 0.0), |sum, point| (sum.0 + point.x / count, sum.1 + point.y / count));
    let (x, y) = match dash {
        Dash::Solid => (x, y),
        _ => (first.x, first.y),
    };
    Some([first.x, last.x].map(|at| (at, y + slope * (at - x))).to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;
    use whorl_core::analysis::{PointProblem, fit_run};
    use whorl_core::lab::{Configuration, Record, RunId};
    use whorl_core::quantity::{Meters, Seconds};
    use whorl_core::readings::Readings;
    use whorl_core::runs::Motion;

    const SETUP: Setup = Setup {
        travel_per_spoke: Some(Meters(0.015)),
        spokes: None,
        effective_radius: None,
        drop_height: None,
    };

    /// A fall of constant acceleration, m/s², that begins at `start`, s.
    fn run(name: &str, kind: ReadingKind, acceleration: f64, start: f64) -> (RunEntry, RunOutcome) {
        let rows = (0..60).map(|k| match kind {
            ReadingKind::GateTimes => (start + (0.03 * f64::from(k + 1) / acceleration).sqrt(), f64::from(k)),
            _ => (start + 0.02 * f64::from(k), acceleration),
        });
        let (times, values): (Vec<_>, Vec<_>) = rows.map(|(time, value)| (Seconds(time), value)).unzip();
        let entry = RunEntry {
            id: RunId(1),
            name: name.to_owned(),
            configuration: Configuration::EmptyTable,
            hanging_mass: None,
            motion: Motion::Falling,
            stretch: None,
            record: Record::Readings(Readings::from_columns(kind, &times, &values).unwrap()),
            source: None,
        };
        let fitted = fit_run(&entry, &SETUP);
        let outcome = RunOutcome {
            id: entry.id,
            point: Err(PointProblem::MassMissing),
            fit: fitted.fit,
            stretch: fitted.stretch,
            found: fitted.found,
        };
        (entry, outcome)
    }

    fn slope(layer: &Layer) -> f64 {
        let Layer::Line { points, .. } = layer else { panic!("{layer:?} is no line") };
        (points[1].1 - points[0].1) / (points[1].0 - points[0].0)
    }

    #[test]
    fn both_runs_begin_together_and_the_line_that_was_said_is_as_steep_as_was_said() {
        let first = run("20 g", ReadingKind::GateTimes, 0.2, 1.0);
        let second = run("50 g", ReadingKind::GateTimes, 0.5, 7.0);
        let figure = compared((&first.0, &first.1), (&second.0, &second.1), Some(3.0), &SETUP).unwrap();
        let [one, two, lines @ ..] = figure.layers.as_slice() else { panic!("{figure:?}") };
        for layer in [one, two] {
            let Layer::Points { points, .. } = layer else { panic!("{layer:?}") };
            assert!(points.len() > 20);
            assert!(points.iter().all(|point| (0.0..5.0).contains(&point.x)), "{points:?}");
        }
        for (line, expected) in lines.iter().zip([0.2, 0.5, 0.6]) {
            assert!((slope(line) / expected - 1.0).abs() < 1e-3, "{} {expected}", slope(line));
        }
        assert_eq!(lines.len(), 3);
        assert_eq!(lines[2].label(), words::forecast::said_line());
        let plain = compared((&first.0, &first.1), (&second.0, &second.1), None, &SETUP).unwrap();
        assert_eq!(plain.layers.len(), 4);
    }

    #[test]
    fn where_accelerations_were_read_there_is_no_velocity_to_compare() {
        let first = run("20 g", ReadingKind::GateTimes, 0.2, 1.0);
        let second = run("50 g", ReadingKind::Acceleration, 0.5, 7.0);
        assert_eq!(compared((&first.0, &first.1), (&second.0, &second.1), None, &SETUP), None);
    }
}
