//! Grams for kilograms, a diameter for a radius, a string without thickness.
//!
//! No line can tell that R is wrong, since I goes as Rₑ²: only an object whose moment of inertia is
//! known otherwise can. Measured/predicted near 4 means R twice too large, near ¼ half of R, or an
//! object whose own diameters were entered as radii.

use super::{Cause, Evidence, Finding, Fix, Look, Severity, millimeters, number};
use crate::analysis::ObjectOutcome;
use crate::lab::RunId;
use whorl_words as words;

/// A hanging mass beyond which nobody does this experiment, in kg.
const HEAVY: f64 = 5.0;

/// How many times the others' middle a mass must be, or the other way round, to be in another unit.
const ANOTHER_UNIT: f64 = 100.0;

/// A mass below which no table turns, in kg.
const LIGHT: f64 = 5e-4;

/// Finds masses in another unit.
pub(super) fn masses(look: &mut Look<'_>) {
    let mut all: Vec<(RunId, f64)> = Vec::with_capacity(look.lab.runs().len());
    for run in look.lab.runs() {
        all.extend(run.hanging_mass.filter(|mass| mass.0 > 0.0).map(|mass| (run.id, mass.0)));
    }
    let mut sorted: Vec<f64> = all.iter().map(|entry| entry.1).collect();
    sorted.sort_unstable_by(f64::total_cmp);
    let median = sorted.get(sorted.len() / 2).copied().filter(|_| sorted.len() > 2);
    let heavy = |mass: f64| mass > HEAVY || median.is_some_and(|median| mass > ANOTHER_UNIT * median);
    let light = |mass: f64| mass < LIGHT || median.is_some_and(|median| ANOTHER_UNIT * mass < median);
    let pick = |wrong: &dyn Fn(f64) -> bool| -> Vec<(RunId, f64)> {
        all.iter().copied().filter(|entry| wrong(entry.1)).collect()
    };
    // Where most are light and one is not, that one is heavy, and it is the one to be mended.
    let (too_heavy, too_light) = (pick(&heavy), pick(&light));
    if !too_heavy.is_empty() {
        say_unit(look, &too_heavy, Cause::GramsAsKilograms);
    } else if !too_light.is_empty() {
        say_unit(look, &too_light, Cause::KilogramsAsGrams);
    }
}

fn say_unit(look: &mut Look<'_>, wrong: &[(RunId, f64)], cause: Cause) {
    let Some(&(_, mass)) = wrong.first() else { return };
    let runs: Vec<RunId> = wrong.iter().map(|entry| entry.0).collect();
    let grams = matches!(cause, Cause::GramsAsKilograms);
    let factor = if grams { 1e-3 } else { 1e3 };
    let shown = |mass: f64| if mass < 1.0 { number(mass, "g", -3, 6) } else { number(mass, "kg", 0, 6) };
    let (names, likely) = (look.names(&runs), shown(mass * factor));
    let (words, remedy) = if grams {
        let words = words::diagnosis::grams_as_kilograms(&names, &shown(mass), &likely);
        (words, words::diagnosis::divide_the_mass())
    } else {
        let words = words::diagnosis::kilograms_as_grams(&names, &shown(mass), &likely);
        (words, words::diagnosis::multiply_the_mass())
    };
    let mut finding = Finding::new(cause, Severity::Spoils, words, remedy);
    finding.evidence.push(Evidence::plain(words::diagnosis::hanging_mass(), mass, "kg"));
    finding.runs.clone_from(&runs);
    finding.fix = Some(Fix::ScaleMasses { runs, factor });
    look.found.push(finding);
}

/// How near measured/predicted must be to what a factor of two in a radius makes, at best.
const NEAR: f64 = 0.05;

/// And at worst, where the uncertainties would allow more.
const NEAR_ENOUGH: f64 = 0.2;

/// Measured/predicted with its relative standard uncertainty.
fn ratio(outcome: &ObjectOutcome) -> Option<(f64, f64)> {
    let (measured, predicted) = (outcome.measured.as_ref().ok()?, outcome.predicted.as_ref().ok()?);
    let (measured, predicted) = (&measured.moment_of_inertia.total, &predicted.moment_of_inertia);
    let ratio = measured.value().0 / predicted.value().0;
    let u = measured.relative_uncertainty()?.hypot(predicted.relative_uncertainty()?);
    (ratio > 0.0 && ratio.is_finite()).then_some((ratio, u))
}

fn is_near(found: (f64, f64), expected: f64) -> bool {
    (found.0 / expected - 1.0).abs() < (4.0 * found.1).clamp(NEAR, NEAR_ENOUGH)
}

/// Finds radii that are off by a factor of two.
pub(super) fn radius(look: &mut Look<'_>) {
    if look.found.iter().any(|finding| finding.severity == Severity::Spoils) {
        return;
    }
    let Some((drum, string)) = look.lab.apparatus.drum_radius.zip(look.lab.apparatus.string_diameter) else {
        return;
    };
    let (drum, half) = (drum.value().0, 0.5 * string.value().0);
    // I ∝ (R + d/2)², and d is as entered either way.
    let square = |factor: f64| ((drum + half) / (factor * drum + half)).powi(2);
    let ratios: Vec<_> =
        look.analysis.objects.iter().filter_map(|outcome| Some((outcome.id, ratio(outcome)?))).collect();
    let all_near =
        |expected: f64| !ratios.is_empty() && ratios.iter().all(|entry| is_near(entry.1, expected));
    let (doubled, halved) = (square(0.5), square(2.0));
    let alone = ratios.len() == 1;
    let times = |expected: f64| -> String {
        let first = ratios.first().map_or(expected, |entry| entry.1.0);
        number(first, "", 0, 3)
    };
    if all_near(doubled) {
        let (times, diameter) = (times(doubled), millimeters(drum));
        let words = if alone {
            words::diagnosis::one_object_says_diameter(&times, &diameter)
        } else {
            words::diagnosis::objects_say_diameter(&times, &diameter)
        };
        let remedy = words::diagnosis::measure_across_drum();
        let fix = Fix::ScaleRadius(0.5);
        say_radius(look, Cause::DiameterAsRadius, words, remedy, &ratios_of(&ratios), doubled, fix);
    } else if !alone && all_near(halved) {
        let words = words::diagnosis::radius_halved(&times(halved));
        let remedy = words::diagnosis::radius_or_diameter();
        let fix = Fix::ScaleRadius(2.0);
        say_radius(look, Cause::RadiusHalved, words, remedy, &ratios_of(&ratios), halved, fix);
    } else {
        for (id, found) in ratios {
            let expected = 0.25;
            if !is_near(found, expected) {
                continue;
            }
            let name = look.lab.object(id).map_or("", |object| &object.name);
            let words = words::diagnosis::object_diameter_as_radius(&name, &number(found.0, "", 0, 3));
            let remedy = words::diagnosis::measure_across_object();
            let fix = Fix::ScaleDimensions(id, 0.5);
            say_radius(look, Cause::ObjectDiameterAsRadius, words, remedy, &[found.0], expected, fix);
        }
    }
}

fn ratios_of<Id>(ratios: &[(Id, (f64, f64))]) -> Vec<f64> {
    ratios.iter().map(|entry| entry.1.0).collect()
}

fn say_radius(
    look: &mut Look<'_>,
    cause: Cause,
    words: String,
    remedy: &str,
    ratios: &[f64],
    expected: f64,
    fix: Fix,
) {
    let mut finding = Finding::new(cause, Severity::Spoils, words, remedy);
    for ratio in ratios {
        finding.evidence.push(Evidence::plain(words::diagnosis::measured_over_predicted(), *ratio, ""));
    }
    finding.evidence.push(Evidence::plain(words::diagnosis::expected_for_factor_two(), expected, ""));
    finding.fix = Some(fix);
    look.found.push(finding);
}

/// Finds a string without thickness.
pub(super) fn string(look: &mut Look<'_>) {
    let Some((drum, string)) = look.lab.apparatus.drum_radius.zip(look.lab.apparatus.string_diameter) else {
        return;
    };
    let (drum, string) = (drum.value().0, string.value().0);
    if string != 0.0 || drum <= 0.0 {
        return;
    }
    // Half a string of 1 mm further out: I ∝ R².
    let change = ((drum + 5e-4) / drum).powi(2) - 1.0;
    let words = words::diagnosis::string_forgotten(&super::percent(change));
    let remedy = words::diagnosis::measure_the_string();
    let mut finding = Finding::new(Cause::StringForgotten, Severity::Look, words, remedy);
    finding.evidence.push(Evidence::plain(words::diagnosis::change_with_string(), 100.0 * change, "%"));
    look.found.push(finding);
}
