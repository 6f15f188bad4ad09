//! Does something go with the table's turns?
//!
//! A table that is not level, loaded off its axis, is pulled to and fro once a turn. The F test of that
//! torque's sine and cosine is made in every run, the phase free; the runs of one configuration are
//! put together (Fisher), and p is multiplied by the number of configurations.

use super::probe::together;
use super::{ALARM, Cause, Evidence, Finding, Look, Probe, Severity, percent};
use crate::acceleration::ExtraTest;
use crate::lab::Configuration;
use crate::measured::coverage::f_tail;
use crate::quantity::Meters;
use whorl_words as words;

/// Amplitude as a part of the acceleration, in the middle run, below which nobody need care.
const SMALL: f64 = 2e-3;

/// The F test of one run, with the amplitude of the acceleration in m/s².
pub fn test(probe: &Probe, effective_radius: Meters) -> Option<(ExtraTest, f64)> {
    let test = probe.left.test(probe.left.turning(effective_radius))?;
    let amplitude = test.coefficients.iter().fold(0.0_f64, |sum, part| sum.hypot(*part));
    Some((test, amplitude))
}

/// Whether a run's configuration is already known for it.
pub(super) fn known(look: &Look<'_>, probe: &Probe) -> bool {
    look.found.iter().any(|finding| {
        matches!(finding.cause, Cause::NotLevel) && finding.configuration == Some(probe.configuration)
    })
}

/// Finds configurations whose runs are pulled to and fro.
pub(super) fn check(look: &mut Look<'_>) {
    // With another number of spokes than the fit's, what repeats may be the pulley.
    if look.has(|cause| matches!(cause, Cause::SpokeCount { .. })) {
        return;
    }
    let Some(radius) = look.lab.apparatus.setup().effective_radius else { return };
    let configurations = look.lab.configurations();
    let count = configurations.len() as f64;
    for configuration in configurations {
        let finding = of_one(look, configuration, radius, count);
        look.found.extend(finding);
    }
}

fn of_one(look: &Look<'_>, configuration: Configuration, radius: Meters, count: f64) -> Option<Finding> {
    let (mut ps, mut runs, mut relative) = (Vec::new(), Vec::new(), Vec::new());
    for probe in &look.probes {
        if probe.configuration != configuration || probe.spoiled {
            continue;
        }
        if let Some((test, amplitude)) = test(probe, radius) {
            ps.push(f_tail(test.f, test.numerator, test.denominator));
            runs.push(probe.run);
            relative.push(amplitude / probe.fit.acceleration.abs());
        }
    }
    let p = together(&ps) * count;
    relative.sort_unstable_by(f64::total_cmp);
    let largest = relative.last().copied()?;
    if p >= ALARM || relative.get(relative.len() / 2).is_none_or(|middle| *middle < SMALL) {
        return None;
    }
    let name = look.lab.configuration_name(configuration);
    let words = words::diagnosis::not_level(&name, &percent(largest));
    let remedy = words::diagnosis::level_the_table();
    let mut finding = Finding::new(Cause::NotLevel, Severity::Look, words, remedy);
    let statistic = words::diagnosis::sine_and_cosine();
    let sum = -2.0 * ps.iter().map(|p| p.max(1e-300).ln()).sum::<f64>();
    finding.evidence.push(Evidence::test(statistic, sum, vec![2.0 * ps.len() as f64], p));
    finding.evidence.push(Evidence::plain(words::diagnosis::largest_amplitude(), 100.0 * largest, "%"));
    finding.runs = runs;
    finding.configuration = Some(configuration);
    Some(finding)
}
