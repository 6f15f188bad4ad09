//! One run: velocity (or acceleration, where that was read) against time, and the residuals of its fit.

use crate::figure::{Axis, Dash, Figure, Ink, Layer, Marker, Point};
use whorl_core::acceleration::{AccelerationFit, Curve, Sampled, Setup, velocities};
use whorl_core::analysis::RunOutcome;
use whorl_core::lab::RunEntry;
use whorl_core::quantity::Seconds;
use whorl_core::readings::ReadingKind;
use whorl_words as words;

/// v(t) of a run with its stretch and the fitted velocity, a(t) of accelerations; both along the motion.
pub fn velocity(run: &RunEntry, setup: &Setup, outcome: &RunOutcome) -> Figure {
    let fit = outcome.fit.as_ref().ok();
    let inside =
        |time: Seconds| outcome.stretch.is_none_or(|stretch| stretch.from() <= time && time <= stretch.to());
    let level = fit.filter(|_| run.record.kind() == Some(ReadingKind::Acceleration));
    let points = match (run.record.readings(), run.record.kind()) {
        (Some(readings), Some(ReadingKind::Acceleration)) => {
            let mut points = Vec::with_capacity(readings.count());
            points.extend(readings.pairs().into_iter().map(|(time, value)| Point::new(time, value)));
            points
        }
        (Some(readings), _) => {
            let found = velocities(readings, setup);
            found.into_iter().map(|(time, velocity)| Point::new(time.0, velocity.0)).collect()
        }
        (None, _) => Vec::new(),
    };
    let (mut used, mut unused): (Vec<_>, Vec<_>) =
        points.into_iter().partition(|point| inside(Seconds(point.x)));
    let fitted = |time: f64| match level {
        Some(fit) => Some(fit.acceleration.value().0),
        None => Some(fit?.velocity_at(Seconds(time))?.0),
    };
    // The fit goes along the motion; a logger may count the other way, as the height of a falling mass does.
    let along = used.iter().filter_map(|point| Some(point.y * fitted(point.x)?)).sum::<f64>();
    for point in used.iter_mut().chain(&mut unused).filter(|_| along < 0.0) {
        point.y = -point.y;
    }
    let marks = |label: &str, ink, marker, points: Vec<Point>| Layer::Points {
        label: label.to_owned(),
        ink,
        marker,
        points,
    };
    let mut layers = Vec::new();
    if let Some(stretch) = outcome.stretch {
        layers.push(Layer::Stretch {
            label: if run.stretch.is_some() {
                words::charts::stretch_chosen()
            } else {
                words::charts::stretch_found()
            }
            .to_owned(),
            ink: Ink::Accent,
            from_x: stretch.from().0,
            to_x: stretch.to().0,
        });
    }
    let what = match run.record.kind() {
        Some(ReadingKind::Velocity | ReadingKind::Acceleration | ReadingKind::AngularVelocity) => {
            words::charts::readings()
        }
        _ => words::charts::from_neighbors(),
    };
    if !unused.is_empty() {
        layers.push(marks(words::charts::not_used(), Ink::Muted, Marker::Ring, unused));
    }
    layers.push(marks(what, Ink::First, Marker::Dot, used));
    if let Some(fit) = fit
        && let (Some(first), Some(last)) = (fit.residuals.first(), fit.residuals.last())
    {
        layers.push(Layer::Line {
            label: words::charts::fit().to_owned(),
            ink: Ink::Accent,
            dash: Dash::Solid,
            points: [first.0, last.0]
                .into_iter()
                .filter_map(|time| Some((time.0, fitted(time.0)?)))
                .collect(),
        });
    }
    let (name, y) = match run.record.kind() {
        Some(ReadingKind::Acceleration) => (
            words::charts::acceleration_of_string(&run.name),
            Axis::new(words::charts::acceleration(), "m/s²"),
        ),
        _ => (words::charts::velocity_of_string(&run.name), Axis::new(words::charts::velocity(), "m/s")),
    };
    Figure { name, x: Axis::new(words::charts::time(), "s"), y, layers }
}

/// At most so many strips of the band behind the residuals: its edges are smooth curves.
const STRIPS: usize = 60;

/// Residuals of a run's fit against time, over the band in which 19 of 20 should lie.
pub fn run_residuals(name: &str, fit: &AccelerationFit) -> Figure {
    let largest = fit.residuals.iter().fold(0.0_f64, |largest, residual| largest.max(residual.1.abs()));
    // Micrometers when millimeters would all start with 0.0.
    let (factor, prefix) = if largest < 1e-4 { (1e6, "µm") } else { (1e3, "mm") };
    let (symbol, unit) = match &fit.curve {
        Curve::Sampled(sampled) => match sampled.quantity {
            Sampled::Acceleration => ("a", format!("{prefix}/s²")),
            Sampled::Velocity => ("v", format!("{prefix}/s")),
            Sampled::Position => ("x", prefix.to_owned()),
        },
        _ => ("x", prefix.to_owned()),
    };
    let points =
        fit.residuals.iter().map(|&(time, residual)| Point::new(time.0, factor * residual)).collect();
    let spread = |&(time, _): &(Seconds, f64)| {
        let twice = 2.0 * factor * fit.residual_standard_deviation(time)?;
        Some((time.0, -twice, twice))
    };
    let every = fit.residuals.len().div_ceil(STRIPS).max(1);
    let mut band: Vec<_> = fit.residuals.iter().step_by(every).filter_map(spread).collect();
    band.extend(fit.residuals.last().and_then(spread));
    Figure {
        name: words::charts::residuals_of_run(&name),
        x: Axis::new(words::charts::time(), "s"),
        y: Axis::new(words::charts::residual_of(&symbol), unit),
        layers: vec![
            Layer::Band {
                label: words::charts::expected_scatter().to_owned(),
                ink: Ink::Muted,
                points: band,
            },
            Layer::Level { label: String::new(), ink: Ink::Muted, dash: Dash::Solid, y: 0.0 },
            Layer::Points {
                label: words::charts::observed_minus_fitted().to_owned(),
                ink: Ink::First,
                marker: Marker::Dot,
                points,
            },
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use whorl_core::analysis::{Analysis, analyze};
    use whorl_core::lab::{Configuration, Lab, Record, RunId};
    use whorl_core::quantity::Kilograms;
    use whorl_core::readings::Readings;
    use whorl_core::torque::Motion;

    #[test]
    fn points_go_along_the_motion_also_where_a_logger_counts_the_height() {
        let times: Vec<Seconds> = (0..60).map(|k| Seconds(0.02 * f64::from(k))).collect();
        let heights: Vec<f64> = times.iter().map(|time| 1.0 - 0.4 * time.0 * time.0).collect();
        let mut lab = Lab::default();
        lab.add_run(RunEntry {
            id: RunId(0),
            name: "height".to_owned(),
            configuration: Configuration::EmptyTable,
            hanging_mass: Some(Kilograms(0.05)),
            motion: Motion::Falling,
            stretch: None,
            record: Record::Readings(
                Readings::from_columns(ReadingKind::Position, &times, &heights).unwrap(),
            ),
            source: None,
        });
        let Analysis { runs, .. } = analyze(&lab);
        let figure = velocity(&lab.runs()[0], &lab.apparatus.setup(), &runs[0]);
        let lowest = |layer: &Layer| match layer {
            Layer::Points { points, .. } => points.iter().map(|point| point.y).fold(0.0, f64::min),
            Layer::Line { points, .. } => points.iter().map(|point| point.1).fold(0.0, f64::min),
            _ => 0.0,
        };
        assert!(figure.layers.iter().map(lowest).all(|least| least > -1e-9));
        assert!(figure.layers.iter().any(|layer| matches!(layer, Layer::Line { .. })));
    }
}
