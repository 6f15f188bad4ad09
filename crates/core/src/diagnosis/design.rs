//! Enough masses, wide enough, and what dominates the uncertainty.

use super::{Cause, Evidence, Finding, Look, Severity, number, percent};
use crate::apparatus::SharedInput;
use crate::inertia::{BudgetRow, Source};
use crate::lab::Configuration;
use crate::torque::TorquePoint;
use whorl_words as words;

/// Different masses a line should have.
const ENOUGH: usize = 4;

/// Masses nearer than this, relatively, are the same.
const SAME: f64 = 1e-3;

/// The largest angular acceleration should be this many times the smallest.
const WIDE: f64 = 2.0;

/// Finds lines through too few masses or too narrow a range.
pub(super) fn masses(look: &mut Look<'_>) {
    for outcome in &look.analysis.lines.configurations {
        let Ok(inertia) = &outcome.inertia else { continue };
        let points = &inertia.line.points;
        let (distinct, range) = (distinct(points), range(points));
        let name = look.lab.configuration_name(outcome.configuration);
        let mut finding = if distinct < ENOUGH {
            let words = words::diagnosis::too_few_masses(&name, &distinct);
            let remedy = words::diagnosis::add_masses();
            let mut finding = Finding::new(Cause::TooFewMasses, Severity::Look, words, remedy);
            finding.evidence.push(Evidence::plain(words::diagnosis::different_masses(), distinct as f64, ""));
            finding
        } else if let Some(range) = range.filter(|range| *range < WIDE) {
            let words = words::diagnosis::narrow_range(&name, &number(range, "", 0, 2));
            let remedy = words::diagnosis::widen_the_range();
            let mut finding = Finding::new(Cause::NarrowRange, Severity::Look, words, remedy);
            finding.evidence.push(Evidence::plain(words::diagnosis::largest_over_smallest(), range, ""));
            finding
        } else {
            continue;
        };
        finding.configuration = Some(outcome.configuration);
        look.found.push(finding);
    }
}

fn distinct(points: &[TorquePoint]) -> usize {
    let mut found: Vec<&TorquePoint> = Vec::with_capacity(points.len());
    for point in points {
        let same = |other: &&TorquePoint| {
            let (mass, other_mass) = (point.hanging_mass.0, other.hanging_mass.0);
            point.motion == other.motion && (mass - other_mass).abs() < SAME * mass
        };
        if !found.iter().any(same) {
            found.push(point);
        }
    }
    found.len()
}

/// Largest over smallest angular acceleration; `None` where they have both signs.
fn range(points: &[TorquePoint]) -> Option<f64> {
    let alphas = || points.iter().map(|point| point.angular_acceleration.value().0);
    let (low, high) = (alphas().fold(f64::INFINITY, f64::min), alphas().fold(f64::NEG_INFINITY, f64::max));
    (low * high > 0.0).then(|| if low > 0.0 { high / low } else { low / high })
}

/// Part of u² from which on one input dominates.
const DOMINATES: f64 = 0.6;

/// Relative standard uncertainty below which nobody need measure anything better.
const GOOD: f64 = 3e-3;

/// Says what would have to be measured better.
pub(super) fn budget(look: &mut Look<'_>) {
    let mut results: Vec<(Configuration, Option<f64>, Vec<BudgetRow>)> = Vec::new();
    for outcome in &look.analysis.objects {
        if let Ok(object) = &outcome.measured {
            let relative = object.moment_of_inertia.total.relative_uncertainty();
            results.push((Configuration::Loaded(outcome.id), relative, object.budget()));
        }
    }
    if results.is_empty()
        && let Some(table) = look.analysis.lines.inertia(Configuration::EmptyTable)
    {
        let relative = table.moment_of_inertia.total.relative_uncertainty();
        results.push((Configuration::EmptyTable, relative, table.budget()));
    }
    for (configuration, relative, rows) in results {
        let (Some(relative), Some(row)) = (relative, rows.first()) else { continue };
        if relative < GOOD || row.share < DOMINATES {
            continue;
        }
        let source = row.source;
        let cause = Cause::DominatingInput { source };
        // An outlying run, or too short a line, is why.
        if source == Source::Friction
            && look
                .has(|cause| matches!(cause, Cause::OutlyingRun | Cause::NarrowRange | Cause::TooFewMasses))
        {
            continue;
        }
        if look.found.iter().any(|finding| finding.cause == cause) {
            continue;
        }
        let name = look.lab.configuration_name(configuration);
        let words = words::diagnosis::dominating_input(
            &name,
            &percent(relative),
            &percent(row.share),
            &source.words(),
        );
        let mut finding = Finding::new(cause, Severity::Note, words, remedy(source));
        finding.evidence.push(Evidence::plain(words::diagnosis::part_of_variance(), 100.0 * row.share, "%"));
        finding.evidence.push(Evidence::plain("u", 100.0 * relative, "%"));
        finding.configuration = Some(configuration);
        look.found.push(finding);
    }
}

fn remedy(source: Source) -> &'static str {
    match source {
        Source::Friction => words::diagnosis::improve_friction(),
        Source::Accelerations => words::diagnosis::improve_accelerations(),
        Source::HangingMasses => words::diagnosis::improve_hanging_masses(),
        Source::Drag => words::diagnosis::improve_drag(),
        Source::Shared(SharedInput::DrumRadius) => words::diagnosis::improve_drum_radius(),
        Source::Shared(SharedInput::StringDiameter) => words::diagnosis::improve_string_diameter(),
        Source::Shared(SharedInput::TravelPerSpoke) => words::diagnosis::improve_travel_per_spoke(),
        Source::Shared(SharedInput::Gravity) => words::diagnosis::improve_gravity(),
        Source::Shared(SharedInput::MassScale) => words::diagnosis::improve_mass_scale(),
        Source::Shared(SharedInput::DropHeight) => words::diagnosis::improve_drop_height(),
        Source::Shared(SharedInput::PulleyInertia) => words::diagnosis::improve_pulley_inertia(),
    }
}
