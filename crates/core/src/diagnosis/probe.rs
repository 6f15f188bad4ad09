//! A run with a fit of edge times, ready to be asked.

use crate::acceleration::{AccelerationFit, Curve, EdgeFit, LeftOver};
use crate::analysis::Analysis;
use crate::lab::{Configuration, Lab, RunId};
use crate::measured::coverage::chi_square_tail;

/// A run of edges with what its fit leaves over.
pub struct Probe<'a> {
    /// Which run.
    pub run: RunId,
    /// What the table carried.
    pub configuration: Configuration,
    /// Its fit.
    pub fit: &'a EdgeFit,
    /// Times of the edges in s.
    pub times: Vec<f64>,
    /// What is left over, with the spokes' offsets of the fit and the curvature of drag taken out.
    pub left: LeftOver,
    /// Whether the run is plainly not one fall.
    pub spoiled: bool,
}

impl<'a> Probe<'a> {
    /// Of one run; `None` without edges, or where they are too few.
    pub fn new(run: RunId, configuration: Configuration, fit: &'a AccelerationFit) -> Option<Self> {
        let Curve::Edges(edges) = &fit.curve else { return None };
        let times: Vec<f64> = fit.residuals.iter().map(|residual| residual.0.0).collect();
        let left = LeftOver::new(edges, &times, edges.offsets.len())?;
        Some(Self { run, configuration, fit: edges, times, left, spoiled: false })
    }

    /// Of all runs of a lab.
    pub fn all(lab: &Lab, analysis: &'a Analysis) -> Vec<Self> {
        let mut probes = Vec::with_capacity(analysis.runs.len());
        for (entry, outcome) in lab.runs().iter().zip(&analysis.runs) {
            if let Ok(fit) = &outcome.fit {
                probes.extend(Self::new(entry.id, entry.configuration, fit));
            }
        }
        probes
    }
}

/// One p of independent ones: −2 Σ ln p is χ² with two degrees of freedom each.
///
/// Source: R. A. Fisher, *Statistical Methods for Research Workers*, 4th ed. (1932), 21.1.
pub(super) fn together(ps: &[f64]) -> f64 {
    let sum: f64 = ps.iter().map(|p| -2.0 * p.max(1e-300).ln()).sum();
    chi_square_tail(sum, 2.0 * ps.len() as f64).unwrap_or(1.0)
}
