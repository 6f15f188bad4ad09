//! What each run gives.

use super::names;
use super::rows::{Cell, Rows, measured};
use crate::analysis::{Analysis, RunOutcome};
use crate::lab::{Lab, RunEntry};

const HEADINGS: [&str; 22] = [
    "run",
    "table carries",
    "hanging mass (kg)",
    "motion",
    "known by",
    "acceleration a (m/s²)",
    "u(a) of this run (m/s²)",
    "degrees of freedom of u(a)",
    "u(a) shared by all runs (m/s²)",
    "angular acceleration α (rad/s²)",
    "u(α) of this run (rad/s²)",
    "degrees of freedom of u(α)",
    "u(α) shared by all runs (rad/s²)",
    "stretch from (s)",
    "stretch to (s)",
    "readings used",
    "source file",
    "run in the source file",
    "source bytes",
    "source SHA-256",
    "readings are",
    "problem",
];

/// The acceleration of every run, with where it came from. Degrees of freedom are empty where they are
/// infinite, the stretch where all readings were used.
pub fn accelerations(lab: &Lab, analysis: &Analysis) -> String {
    let mut rows = Rows::new(&HEADINGS);
    let configurations = names::configurations(lab);
    let names = names::runs(lab);
    for ((run, outcome), name) in lab.runs().iter().zip(&analysis.runs).zip(&names) {
        let carries = names::carried(lab, &configurations, run);
        push_run(&mut rows, run, outcome, [Cell::Text(name), Cell::Text(carries), Cell::provenance(lab)]);
    }
    rows.text()
}

fn push_run(
    rows: &mut Rows,
    run: &RunEntry,
    outcome: &RunOutcome,
    [name, carries, provenance]: [Cell<'_>; 3],
) {
    let (fit, placed) = (outcome.fit.as_ref().ok(), outcome.point.as_ref().ok());
    let [a, u_a, freedom_a] = fit.map_or([f64::NAN; 3], |fit| measured(&fit.acceleration));
    let [alpha, u_alpha, freedom_alpha] =
        placed.map_or([f64::NAN; 3], |placed| measured(&placed.point.angular_acceleration));
    let stretch = fit.and(outcome.stretch);
    let problem = outcome.point.as_ref().err().map(ToString::to_string);
    let source = run.source.as_ref();
    rows.push(&[
        name,
        carries,
        Cell::maybe(run.hanging_mass.map(|mass| mass.0)),
        Cell::Text(run.motion.key()),
        Cell::Text(run.record.key()),
        Cell::Number(a),
        Cell::Number(u_a),
        Cell::Number(freedom_a),
        Cell::maybe(placed.map(|placed| placed.acceleration.shared.0)),
        Cell::Number(alpha),
        Cell::Number(u_alpha),
        Cell::Number(freedom_alpha),
        Cell::maybe(placed.map(|placed| placed.angular_acceleration.shared.0)),
        Cell::maybe(stretch.map(|stretch| stretch.from().0)),
        Cell::maybe(stretch.map(|stretch| stretch.to().0)),
        Cell::maybe(fit.map(|fit| fit.residuals.len() as f64)),
        Cell::Text(source.map_or("", |source| &source.file)),
        Cell::Text(source.map_or("", |source| &source.run)),
        Cell::maybe(source.and_then(|source| source.bytes).map(|bytes| bytes as f64)),
        Cell::Text(source.and_then(|source| source.sha256.as_deref()).unwrap_or_default()),
        provenance,
        Cell::Text(problem.as_deref().unwrap_or_default()),
    ]);
}
