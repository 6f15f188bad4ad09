//! Torque against angular acceleration, line by line.

use super::names;
use super::rows::{Cell, Rows, measured};
use crate::analysis::{Analysis, LineOutcome};
use crate::lab::{Lab, RunId};
use crate::torque::PlacedPoint;

const HEADINGS: [&str; 14] = [
    "table carries",
    "run",
    "hanging mass (kg)",
    "motion",
    "angular acceleration α (rad/s²)",
    "u(α) of this run (rad/s²)",
    "u(α) shared by all runs (rad/s²)",
    "torque τ (N·m)",
    "u(τ) of this run (N·m)",
    "u(τ) shared by all runs (N·m)",
    "degrees of freedom",
    "residual of τ (N·m)",
    "u expected of the residual (N·m)",
    "readings are",
];

/// The points of all lines, with drag taken out where it was found; a configuration without a line has
/// points without residuals. Degrees of freedom are empty where they are infinite.
pub fn line_points(lab: &Lab, analysis: &Analysis) -> String {
    let mut rows = Rows::new(&HEADINGS);
    let (configurations, names) = (names::configurations(lab), names::runs(lab));
    for (outcome, carries) in analysis.lines.configurations.iter().zip(&configurations) {
        for (place, id) in outcome.used.iter().enumerate() {
            let placed =
                analysis.runs.iter().find(|run| run.id == *id).and_then(|run| run.point.as_ref().ok());
            if let Some(placed) = placed {
                push_point(&mut rows, lab, &names, carries, (outcome, place), (*id, placed));
            }
        }
    }
    rows.text()
}

fn push_point(
    rows: &mut Rows,
    lab: &Lab,
    names: &[String],
    carries: &str,
    (outcome, place): (&LineOutcome, usize),
    (id, placed): (RunId, &PlacedPoint),
) {
    let line = outcome.inertia.as_ref().ok().map(|inertia| &inertia.line);
    let point = line.and_then(|line| line.points.get(place)).unwrap_or(&placed.point);
    let residual = line.and_then(|line| line.fit.residuals.get(place)).copied();
    let variance = line.and_then(|line| line.fit.residual_variances.get(place)).copied();
    let [alpha, u_alpha, freedom] = measured(&point.angular_acceleration);
    let [tau, u_tau, _] = measured(&point.torque);
    let run = lab.runs().iter().position(|run| run.id == id);
    rows.push(&[
        Cell::Text(carries),
        Cell::Text(run.and_then(|run| names.get(run)).map_or("", String::as_str)),
        Cell::Number(point.hanging_mass.0),
        Cell::Text(point.motion.key()),
        Cell::Number(alpha),
        Cell::Number(u_alpha),
        Cell::Number(placed.angular_acceleration.shared.0),
        Cell::Number(tau),
        Cell::Number(u_tau),
        Cell::Number(placed.torque.shared.0),
        Cell::Number(freedom),
        Cell::maybe(residual),
        Cell::maybe(variance.map(f64::sqrt)),
        Cell::provenance(lab),
    ]);
}
