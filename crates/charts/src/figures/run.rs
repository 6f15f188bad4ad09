//! One run: velocity (or acceleration, where that was read) against time, and the residuals of its fit.

use crate::figure::{Axis, Dash, Figure, Ink, Layer, Marker, Point};
use whorl_core::acceleration::{AccelerationFit, Curve, Sampled, Setup, velocities};
use whorl_core::analysis::RunOutcome;
use whorl_core::lab::RunEntry;
use whorl_core::quantity::Seconds;
use whorl_core::readings::ReadingKind;

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
            label: if run.stretch.is_some() { "good stretch" } else { "good stretch, found" }.to_owned(),
            ink: Ink::Accent,
            from_x: stretch.from().0,
            to_x: stretch.to().0,
        });
    }
    let (what, outside) = match run.record.kind() {
        Some(ReadingKind::Velocity | ReadingKind::Acceleration | ReadingKind::AngularVelocity) => {
            ("readings", "not used")
        }
        _ => ("from neighboring readings", "not used"),
    };
    if !unused.is_empty() {
        layers.push(marks(outside, Ink::Muted, Marker::Ring, unused));
    }
    layers.push(marks(what, Ink::First, Marker::Dot, used));
    if let Some(fit) = fit
        && let (Some(first), Some(last)) = (fit.residuals.first(), fit.residuals.last())
    {
        layers.push(Layer::Line {
            label: "fit".to_owned(),
            ink: Ink::Accent,
            dash: Dash::Solid,
            points: [first.0, last.0]
                .into_iter()
                .filter_map(|time| Some((time.0, fitted(time.0)?)))
                .collect(),
        });
    }
    let (what, y) = match run.record.kind() {
        Some(ReadingKind::Acceleration) => ("Acceleration", Axis::new("acceleration a", "m/s²")),
        _ => ("Velocity", Axis::new("velocity v", "m/s")),
    };
    Figure { name: format!("{what} of the string, {}", run.name), x: Axis::new("time t", "s"), y, layers }
}

/// Residuals of a run's fit against time.
pub fn run_residuals(name: &str, fit: &AccelerationFit) -> Figure {
    let largest = fit.residuals.iter().fold(0.0_f64, |largest, residual| largest.max(residual.1.abs()));
    // Micrometers when millimeters would all start with 0.0.
    let (factor, prefix) = if largest < 1e-4 { (1e6, "µm") } else { (1e3, "mm") };
    let (quantity, unit) = match &fit.curve {
        Curve::Sampled(sampled) => match sampled.quantity {
            Sampled::Acceleration => ("residual of a", format!("{prefix}/s²")),
            Sampled::Velocity => ("residual of v", format!("{prefix}/s")),
            Sampled::Position => ("residual of x", prefix.to_owned()),
        },
        _ => ("residual of x", prefix.to_owned()),
    };
    let points =
        fit.residuals.iter().map(|&(time, residual)| Point::new(time.0, factor * residual)).collect();
    Figure {
        name: format!("Residuals, {name}"),
        x: Axis::new("time t", "s"),
        y: Axis::new(quantity, unit),
        layers: vec![
            Layer::Level { label: String::new(), ink: Ink::Muted, dash: Dash::Solid, y: 0.0 },
            Layer::Points {
                label: "observed − fitted".to_owned(),
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
