//! All configurations together: torque against angular acceleration, and the lines' residuals.

use crate::figure::{Axis, Dash, Figure, Ink, Layer, Marker, Point, Reach};
use whorl_core::analysis::{LineOutcome, LineOutcomes, RunOutcome};
use whorl_core::inertia::{Inertia, InertiaLine};
use whorl_core::lab::Lab;
use whorl_core::measured::coverage::Probability;
use whorl_core::quantity::RadiansPerSecond2;
use whorl_core::torque::TorquePoint;
use whorl_words as words;

/// How the configuration at `index` is told apart: color, mark and dash together.
pub(super) fn look(index: usize) -> (Ink, Marker, Dash) {
    let inks = [Ink::First, Ink::Second, Ink::Third, Ink::Fourth];
    let markers =
        [Marker::Dot, Marker::Square, Marker::Triangle, Marker::Diamond, Marker::Ring, Marker::Cross];
    let dashes = [Dash::Solid, Dash::Dashed, Dash::Dotted];
    let pick = |count: usize| index % count;
    (
        inks.get(pick(inks.len())).copied().unwrap_or_default(),
        markers.get(pick(markers.len())).copied().unwrap_or_default(),
        dashes.get(pick(dashes.len())).copied().unwrap_or_default(),
    )
}

pub(super) const MILLI: f64 = 1e3;

/// A run's place, with what scatters inside it.
pub(super) fn mark(point: &TorquePoint) -> Point {
    Point {
        x: point.angular_acceleration.value().0,
        y: MILLI * point.torque.value().0,
        ux: Some(point.angular_acceleration.standard_uncertainty().0),
        uy: Some(MILLI * point.torque.standard_uncertainty().0),
    }
}

/// τ against α with the line of each configuration; the lines run to α = 0, where the intercept
/// is read off.
pub fn torque_lines(lab: &Lab, runs: &[RunOutcome], lines: &LineOutcomes) -> Figure {
    let mut layers = Vec::new();
    for (index, line) in lines.configurations.iter().enumerate() {
        let (ink, marker, dash) = look(index);
        let label = lab.configuration_name(line.configuration);
        // The line's own points have drag taken out; without a line the runs' points stand as they are.
        let points: Vec<Point> = match &line.inertia {
            Ok(inertia) => inertia.line.points.iter().map(mark).collect(),
            Err(_) => lab
                .runs()
                .iter()
                .zip(runs)
                .filter(|(run, _)| run.configuration == line.configuration)
                .filter_map(|(_, outcome)| outcome.point.as_ref().ok())
                .map(|placed| mark(&placed.point))
                .collect(),
        };
        if points.is_empty() {
            continue;
        }
        if let Ok(inertia) = &line.inertia {
            let last = points.iter().fold(0.0_f64, |last, point| last.max(point.x));
            let fit = &inertia.line.fit;
            layers.push(Layer::Band { label: String::new(), ink, points: band(&inertia.line, 1.03 * last) });
            layers.push(Layer::Line {
                label: label.clone(),
                ink,
                dash,
                points: [0.0, 1.03 * last].map(|x| (x, MILLI * (fit.intercept + fit.slope * x))).to_vec(),
            });
        }
        layers.push(Layer::Points { label, ink, marker, points });
    }
    Figure {
        name: words::charts::torque_lines().to_owned(),
        x: Axis::new(words::charts::angular_acceleration(), "rad/s²").reaching(Reach::WithZero),
        y: Axis::new(words::charts::string_torque(), "mN·m").reaching(Reach::WithZero),
        layers,
    }
}

/// Strips of a band: enough for its edges to look curved.
const STRIPS: u32 = 24;

/// 95 % coverage intervals of the torque on a line, from α = 0 on, for what scatters from run to run.
fn band(line: &InertiaLine, last: f64) -> Vec<(f64, f64, f64)> {
    let at = |alpha: f64| {
        let interval = line.torque_at(RadiansPerSecond2(alpha)).ok()?.coverage_interval(Probability::P95);
        Some((alpha, MILLI * interval.low.0, MILLI * interval.high.0))
    };
    (0..=STRIPS).filter_map(|strip| at(last * f64::from(strip) / f64::from(STRIPS))).collect()
}

/// Residuals of every line against α, each with the standard uncertainty it should have.
pub fn line_residuals(lab: &Lab, lines: &LineOutcomes) -> Figure {
    let found: Vec<(usize, &LineOutcome, &Inertia)> = lines
        .configurations
        .iter()
        .enumerate()
        .filter_map(|(index, line)| line.inertia.as_ref().ok().map(|inertia| (index, line, inertia)))
        .collect();
    let residuals = found.iter().flat_map(|(.., inertia)| &inertia.line.fit.residuals);
    let largest = residuals.fold(0.0_f64, |largest, residual| largest.max(residual.abs()));
    let (factor, unit) = if largest < 1e-4 { (1e6, "µN·m") } else { (1e3, "mN·m") };
    let mut layers = vec![Layer::Level { label: String::new(), ink: Ink::Muted, dash: Dash::Solid, y: 0.0 }];
    for (index, line, inertia) in found {
        let (ink, marker, _) = look(index);
        let fit = &inertia.line.fit;
        let residuals = fit.residuals.iter().zip(&fit.residual_variances);
        let points = inertia.line.points.iter().zip(residuals);
        layers.push(Layer::Points {
            label: lab.configuration_name(line.configuration),
            ink,
            marker,
            points: points
                .map(|(point, (residual, variance))| Point {
                    uy: Some(factor * variance.sqrt()),
                    ..Point::new(point.angular_acceleration.value().0, factor * residual)
                })
                .collect(),
        });
    }
    Figure {
        name: words::charts::line_residuals().to_owned(),
        x: Axis::new(words::charts::angular_acceleration(), "rad/s²").reaching(Reach::WithZero),
        y: Axis::new(words::charts::residual_of(&"τ"), unit),
        layers,
    }
}
