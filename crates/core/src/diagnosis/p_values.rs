//! The p of every test by itself, for studies of how often each is wrong and how often it sees.

use super::labels::{best_exchange, furthest};
use super::probe::{Probe, together};
use super::spokes::{SpokeCount, spoke_count};
use super::{Look, falls, spokes, turns};
use crate::analysis::Analysis;
use crate::lab::{Configuration, Lab, RunId};
use crate::measured::coverage::{f_tail, student_t_tail};
use core::num::NonZeroU32;

/// The p of the tests that look at one run; 1 where a test could not be made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunPs {
    /// Which run.
    pub run: RunId,
    /// What it was made with.
    pub configuration: Configuration,
    /// Curvature (cubic term), t.
    pub drag: f64,
    /// Spoke offsets, F.
    pub spokes: f64,
    /// Sine and cosine of the table's turn, F.
    pub turns: f64,
    /// A second fall from some edge on, F, times the edges.
    pub fall: f64,
}

/// The p of all tests of a lab, none corrected for the number of runs unless said; 1 where a test could not be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Ps {
    /// Run by run.
    pub runs: Vec<RunPs>,
    /// Curvature of all runs, t.
    pub drag: f64,
    /// Spoke offsets of all runs.
    pub spokes: f64,
    /// The table's turn, configuration by configuration.
    pub turns: Vec<f64>,
    /// The best exchange, times the pairs.
    pub exchanged: f64,
    /// The run furthest off its line, times the runs.
    pub outlying: f64,
    /// The number of spokes.
    pub spoke_count: Option<SpokeCount>,
}

/// Makes every test, whatever the others say.
pub fn p_values(lab: &Lab, analysis: &Analysis) -> Ps {
    let look = Look { lab, analysis, probes: Probe::all(lab, analysis), found: Vec::new() };
    let radius = lab.apparatus.setup().effective_radius;
    let of_run = |probe: &Probe| RunPs {
        run: probe.run,
        configuration: probe.configuration,
        drag: probe
            .fit
            .slowing
            .map_or(1.0, |slowing| student_t_tail(slowing.t(), slowing.degrees_of_freedom as f64)),
        spokes: spokes::test(probe, 1).unwrap_or(1.0),
        turns: radius
            .and_then(|radius| turns::test(probe, radius))
            .map_or(1.0, |(test, _)| f_tail(test.f, test.numerator, test.denominator)),
        fall: falls::best_break(&probe.left).map_or(1.0, |found| found.p),
    };
    let runs: Vec<RunPs> = look.probes.iter().map(of_run).collect();
    let drag = analysis.lines.together.and_then(|together| together.drag);
    let of_turns = |configuration: Configuration| {
        let alike = runs.iter().filter(|run| run.configuration == configuration);
        together(&alike.map(|run| run.turns).collect::<Vec<_>>())
    };
    let probes: Vec<&Probe> = look.probes.iter().collect();
    Ps {
        drag: drag.map_or(1.0, |drag| student_t_tail(drag.t(), drag.degrees_of_freedom_of_t())),
        spokes: together(&runs.iter().map(|run| run.spokes).collect::<Vec<_>>()),
        turns: lab.configurations().into_iter().map(of_turns).collect(),
        exchanged: best_exchange(&look).map_or(1.0, |found| found.p),
        outlying: furthest(&look).map_or(1.0, |found| found.p),
        spoke_count: spoke_count(&probes, lab.apparatus.spokes.map(NonZeroU32::get), 1),
        runs,
    }
}
