//! Enough masses, wide enough, and what dominates the uncertainty.

use super::{Cause, Evidence, Finding, Look, Severity, number, percent};
use crate::apparatus::SharedInput;
use crate::inertia::{BudgetRow, Source};
use crate::lab::Configuration;
use crate::torque::TorquePoint;

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
            let words = [
                "The line of “",
                &name,
                "” has only ",
                &distinct.to_string(),
                " different masses. With so few, one bad run moves the line and nothing shows it.",
            ]
            .concat();
            let remedy = "Add runs, so that there are at least four masses, better six.";
            let mut finding = Finding::new(Cause::TooFewMasses, Severity::Look, words, remedy);
            finding.evidence.push(Evidence::plain("different masses", distinct as f64, ""));
            finding
        } else if let Some(range) = range.filter(|range| *range < WIDE) {
            let words = [
                "The accelerations of “",
                &name,
                "” are much alike: the largest is only ",
                &number(range, "", 0, 2),
                " times the smallest. The slope of so short a line is uncertain.",
            ]
            .concat();
            let remedy = "Use lighter and heavier masses: the largest acceleration at least twice the smallest, better five times.";
            let mut finding = Finding::new(Cause::NarrowRange, Severity::Look, words, remedy);
            finding.evidence.push(Evidence::plain("largest/smallest acceleration", range, ""));
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
        let words = [
            "The moment of inertia of “",
            &name,
            "” is uncertain by ",
            &percent(relative),
            ", and most of that is one thing: ",
            &percent(row.share),
            " of u² comes from “",
            source.words(),
            "”.",
        ]
        .concat();
        let mut finding = Finding::new(cause, Severity::Note, words, remedy(source));
        finding.evidence.push(Evidence::plain("part of u²", 100.0 * row.share, "%"));
        finding.evidence.push(Evidence::plain("u", 100.0 * relative, "%"));
        finding.configuration = Some(configuration);
        look.found.push(finding);
    }
}

fn remedy(source: Source) -> &'static str {
    match source {
        Source::Friction => {
            "Friction differs from run to run. Repeat runs: with four times as many, that part halves. Clean the bearing and start every run alike."
        }
        Source::Accelerations => {
            "Make the stretches longer or the readings finer, and repeat runs: with four times as many, that part halves."
        }
        Source::HangingMasses => "Weigh each hanging mass on a better balance.",
        Source::Drag => {
            "Longer falls show the drag better; lighter masses and a freer bearing make it smaller."
        }
        Source::Shared(SharedInput::DrumRadius) => {
            "Measure the drum’s radius better: calipers across it in several directions. Nothing else you could measure better would help much."
        }
        Source::Shared(SharedInput::StringDiameter) => {
            "Measure the string’s diameter better: ten turns side by side, divided by ten."
        }
        Source::Shared(SharedInput::TravelPerSpoke) => {
            "Measure the travel per spoke better: let ten turns of the pulley pass along a ruler and divide."
        }
        Source::Shared(SharedInput::Gravity) => {
            "Look up the local gravity: the page finds it from latitude and height."
        }
        Source::Shared(SharedInput::MassScale) => "Check the balance with a mass that is known.",
        Source::Shared(SharedInput::DropHeight) => "Measure the drop height better, and make it larger.",
        Source::Shared(SharedInput::PulleyInertia) => {
            "Weigh and measure the pulley better, or use a lighter one."
        }
    }
}
