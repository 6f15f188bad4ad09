//! A run with a fit of edge times, ready to be asked.

use crate::acceleration::{
    AccelerationFit, Curve, EdgeFit, Edges, LeftOver, SPOKE_TOLERANCE, Setup, fit_edges,
};
use crate::analysis::Analysis;
use crate::lab::{Configuration, Lab, Record, RunEntry, RunId};
use crate::measured::coverage::chi_square_tail;
use crate::readings::ReadingKind;
use crate::runs::{Run, Stretch};

/// A run of edges with what its fit leaves over.
pub struct Probe {
    /// Which run.
    pub run: RunId,
    /// What the table carried.
    pub configuration: Configuration,
    /// Its fit.
    pub fit: EdgeFit,
    /// Times of the edges in s.
    pub times: Vec<f64>,
    /// What is left over, with the spokes' offsets of the fit and the curvature of drag taken out.
    pub left: LeftOver,
    /// The same as if all spokes were in their places.
    pub equal: LeftOver,
    /// Whether the run is plainly not one fall.
    pub spoiled: bool,
}

impl Probe {
    /// Of one run; `None` without edges, or where they are too few.
    pub fn new(run: RunId, configuration: Configuration, fit: &AccelerationFit) -> Option<Self> {
        let Curve::Edges(edges) = &fit.curve else { return None };
        let times: Vec<f64> = fit.residuals.iter().map(|residual| residual.0.0).collect();
        Self::of_edges(run, configuration, edges.clone(), times)
    }

    fn of_edges(run: RunId, configuration: Configuration, fit: EdgeFit, times: Vec<f64>) -> Option<Self> {
        let left = LeftOver::new(&fit, &times, fit.offsets.len())?;
        let equal = LeftOver::new(&fit, &times, 0)?;
        Some(Self { run, configuration, fit, times, left, equal, spoiled: false })
    }

    /// Of a gate's run that has no fit: the fit of its beginning, carried on. Spoiled, whatever is found.
    fn without_fit(entry: &RunEntry, stretch: Option<Stretch>, setup: &Setup) -> Option<Self> {
        let Record::Readings(readings) = &entry.record else { return None };
        let edges_per_spoke = match readings.kind() {
            ReadingKind::GateTimes => 1,
            ReadingKind::BothEdges => 2,
            _ => return None,
        };
        let travel = setup.travel_per_spoke?.0;
        let pairs = Run::new(readings, stretch).ok()?.fitted_pairs();
        let (times, numbers): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
        let fit = [2, 3, 4].into_iter().find_map(|part| {
            let edges = Edges {
                times: times.get(..times.len() / part)?,
                numbers: numbers.get(..numbers.len() / part)?,
                pitch: travel / f64::from(edges_per_spoke),
                period: setup.spokes.map_or(0, |spokes| spokes.get() * edges_per_spoke) as usize,
                tolerance: SPOKE_TOLERANCE * travel,
            };
            fit_edges(&edges).ok()
        })?;
        let fit = fit.carried_on(&times, &numbers)?;
        let probe = Self::of_edges(entry.id, entry.configuration, fit, times)?;
        Some(Self { spoiled: true, ..probe })
    }

    /// Of all runs of a lab.
    pub fn all(lab: &Lab, analysis: &Analysis) -> Vec<Self> {
        let mut probes = Vec::with_capacity(analysis.runs.len());
        let setup = lab.apparatus.setup();
        for (entry, outcome) in lab.runs().iter().zip(&analysis.runs) {
            probes.extend(match &outcome.fit {
                Ok(fit) => Self::new(entry.id, entry.configuration, fit),
                Err(_) => Self::without_fit(entry, outcome.stretch, &setup),
            });
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
