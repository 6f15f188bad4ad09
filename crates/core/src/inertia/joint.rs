//! One fit over all configurations.
//!
//! Unknowns: I and τ_f of every configuration. What they share:
//!
//! - *friction scatter*: by how much friction differs from run to run, as a part of the configuration's
//!   own friction torque, s_f = ρ τ_f: a bearing with more to carry varies by more. ρ is so large that
//!   χ² equals its degrees of freedom, Σ (runs − 2) over all configurations (the moment estimator of
//!   R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377). Leaving it out, or giving each
//!   configuration its own from a few runs, ruins the coverage of the intervals;
//! - *drag* b, from the curvature of all runs ([`super::drag`]);
//! - R, d, s, g, the balance, h and the pulley. No line can tell that these are off. The sensitivity to each
//!   is evaluated by sending the whole chain through twice, with the input raised and lowered by its
//!   standard uncertainty; half the difference is that input's contribution uᵢ(y) (JCGM 100:2008
//!   5.1.3, note 2). The same shift acts on every configuration at once, which is how the correlation
//!   between the empty and the loaded table is kept (5.2.2).
//!
//! Student's t with the pooled degrees of freedom.

use super::Source;
use super::drag::{DragFound, mean_drag};
use super::found::{Contribution, Inertia, InertiaError, Joint};
use super::line::{InertiaLine, draw, mass_variance, own_variance, uncertain};
use super::scatter::{friction_variance, frictions};
use crate::apparatus::{Apparatus, Rig, SharedInput};
use crate::fit::{LineFit, UncertainPoint, YorkFit, fit_york};
use crate::measured::{Combined, DegreesOfFreedom, Measured, MeasuredError, quadrature};
use crate::quantity::{KilogramMeters2, NewtonMeterSeconds, NewtonMeters, Quantity, Ratio};
use crate::torque::{Drag, FittedRun, TorquePoint, torque_point};

/// Moments of inertia and friction torques from the runs of each configuration.
///
/// A configuration that gives no line carries the reason and leaves the others as they are.
pub fn joint(groups: &[Vec<FittedRun>], apparatus: &Apparatus) -> Joint {
    together(groups, apparatus, None)
}

/// What [`joint`] would report on average of runs that are planned: exact accelerations with their expected
/// uncertainties, friction that differs from run to run by `friction_scatter` of itself.
///
/// The scatter is given because points that lie on their line show none.
pub fn expected(groups: &[Vec<FittedRun>], apparatus: &Apparatus, friction_scatter: Ratio) -> Joint {
    together(groups, apparatus, Some(friction_scatter.0 * friction_scatter.0))
}

/// `scatter` is ρ² where it is known beforehand.
fn together(groups: &[Vec<FittedRun>], apparatus: &Apparatus, scatter: Option<f64>) -> Joint {
    let rig = apparatus.rig();
    let plain: Vec<Result<(Vec<TorquePoint>, LineFit), InertiaError>> =
        groups.iter().map(|runs| drawn(runs, &rig)).collect();
    // Only configurations with a line take part; `places` leads back to the others.
    let places: Vec<usize> =
        (0..groups.len()).filter(|&at| plain.get(at).is_some_and(Result::is_ok)).collect();
    let usable: Vec<&[FittedRun]> =
        places.iter().filter_map(|&at| groups.get(at)).map(Vec::as_slice).collect();
    let start: Vec<&LineFit> = plain.iter().flatten().map(|(_, line)| line).collect();
    let chain = Chain { groups: &usable, apparatus, start: &start, frictions: frictions(&start), scatter };
    let solution = chain.solve();

    let mut inertias: Vec<Result<Inertia, InertiaError>> = plain
        .iter()
        .map(|outcome| Err(outcome.as_ref().err().cloned().unwrap_or(MeasuredError::NotFinite.into())))
        .collect();
    let degrees_of_freedom = usable.iter().map(|runs| runs.len().saturating_sub(2)).sum();
    let Some(solution) = solution else {
        let friction_scatter = Ratio(0.0);
        return Joint { inertias, friction_scatter, degrees_of_freedom, chi_square: None, drag: None };
    };
    let shifted: Vec<(SharedInput, Option<[Solution; 2]>)> = SharedInput::ALL
        .into_iter()
        .map(|input| {
            let moved = |steps| chain.again(&solution, &apparatus.rig_shifted(input, steps), 0.0);
            (input, moved(1.0).zip(moved(-1.0)).map(|(up, down)| [up, down]))
        })
        .collect();
    let u_drag = solution.drag.filter(|drag| drag.corrected).map(|drag| drag.uncertainty.0);
    let dragged = u_drag.and_then(|u| {
        let moved = |steps| chain.again(&solution, &rig, steps * u);
        moved(1.0).zip(moved(-1.0)).map(|(up, down)| [up, down])
    });
    for (index, &place) in places.iter().enumerate() {
        let finished = solution.finish(index, &chain, degrees_of_freedom, &shifted, dragged.as_ref(), &start);
        if let Some(slot) = inertias.get_mut(place) {
            *slot = finished;
        }
    }
    let chi_square = inertias.iter().flatten().map(|inertia| inertia.line.chi_square).sum();
    let friction_scatter = Ratio(solution.friction_variance.sqrt());
    Joint { inertias, friction_scatter, degrees_of_freedom, chi_square, drag: solution.drag }
}

fn drawn(runs: &[FittedRun], rig: &Rig) -> Result<(Vec<TorquePoint>, LineFit), InertiaError> {
    let points = points_of(runs, rig, &Drag::default())?;
    let line = draw(&points)?;
    Ok((points, line))
}

fn points_of(runs: &[FittedRun], rig: &Rig, drag: &Drag) -> Result<Vec<TorquePoint>, InertiaError> {
    let mut points = Vec::with_capacity(runs.len());
    for (index, run) in runs.iter().enumerate() {
        match torque_point(run, rig, drag) {
            Ok(point) => points.push(point),
            Err(problem) => return Err(InertiaError::Torque { number: index + 1, problem }),
        }
    }
    Ok(points)
}

/// The estimator with all it is given.
struct Chain<'a> {
    groups: &'a [&'a [FittedRun]],
    apparatus: &'a Apparatus,
    start: &'a [&'a LineFit],
    /// Friction torque of each configuration, in N·m, by which its scatter is scaled.
    frictions: Vec<f64>,
    /// ρ² where it is known beforehand.
    scatter: Option<f64>,
}

/// One pass through the estimator.
#[derive(Clone)]
struct Solution {
    points: Vec<Vec<TorquePoint>>,
    lines: Vec<YorkFit>,
    /// ρ².
    friction_variance: f64,
    drag: Option<DragFound>,
}

/// Rounds of drag and lines at most: b shifts I by a few percent, and I shifts b by as much again, so that
/// each round gains a digit or two.
const DRAG_ROUNDS: usize = 40;

/// What of a round's change of b is rounding, in parts of b and u(b).
const DRAG_SETTLED: f64 = 1e-13;

impl Chain<'_> {
    /// The best estimates; `None` when nothing can be fitted.
    fn solve(&self) -> Option<Solution> {
        let rig = self.apparatus.rig();
        let mut solution = self.lines(&rig, 0.0, None, None)?;
        let found = self.drag(&solution, &rig);
        let Some(found) = found else { return Some(solution) };
        solution.drag = Some(found);
        // A correction that would add more uncertainty than the runs have by themselves is made only when
        // drag is plain to see. That the rule goes by u(b) and not by b keeps b unbiased.
        let worse = self.lines(&rig, found.uncertainty.0, Some(&solution), Some(solution.friction_variance));
        let bearable = worse.is_some_and(|worse| {
            worse
                .lines
                .iter()
                .zip(&solution.lines)
                .all(|(moved, line)| (moved.slope - line.slope).abs() <= line.slope_uncertainty)
        });
        if !(bearable || found.t().abs() > PLAIN_TO_SEE) {
            return Some(solution);
        }
        self.settle(solution, &rig, 0.0, None)
    }

    /// Drag from the lines and lines from the drag, in turn, until neither changes; b is moved by
    /// `drag_moved`, `friction` is s_f² where it is known.
    fn settle(
        &self,
        mut solution: Solution,
        rig: &Rig,
        drag_moved: f64,
        friction: Option<f64>,
    ) -> Option<Solution> {
        let mut before = f64::NAN;
        for _ in 0..DRAG_ROUNDS {
            let drag = self.drag(&solution, rig)?;
            let b = drag.coefficient.0;
            solution = self.lines(rig, b + drag_moved, Some(&solution), friction)?;
            solution.drag = Some(DragFound { corrected: true, ..drag });
            if (b - before).abs() <= DRAG_SETTLED * (b.abs() + drag.uncertainty.0) {
                break;
            }
            before = b;
        }
        Some(solution)
    }

    /// The same with other shared inputs, or with the drag moved; s_f stays as it is.
    fn again(&self, best: &Solution, rig: &Rig, drag_moved: f64) -> Option<Solution> {
        let variance = Some(best.friction_variance);
        match best.drag.filter(|drag| drag.corrected) {
            // With other radii the same curvatures mean another b.
            Some(_) => self.settle(best.clone(), rig, drag_moved, variance),
            None => self.lines(rig, 0.0, None, variance),
        }
    }

    fn drag(&self, solution: &Solution, rig: &Rig) -> Option<DragFound> {
        let runs = self.groups.iter().zip(&solution.lines);
        let runs = runs.flat_map(|(runs, line)| runs.iter().map(|run| (run, line.slope)));
        mean_drag(runs, rig)
    }

    /// Friction torque of the configuration at `index`, squared.
    fn friction_square(&self, index: usize) -> f64 {
        self.frictions.get(index).map_or(1.0, |friction| friction * friction)
    }

    /// All lines at one b; `friction` is ρ² where it is known.
    fn lines(&self, rig: &Rig, b: f64, near: Option<&Solution>, friction: Option<f64>) -> Option<Solution> {
        let mut all = Vec::with_capacity(self.groups.len());
        let mut masses: Vec<Vec<f64>> = Vec::with_capacity(self.groups.len());
        for (index, runs) in self.groups.iter().enumerate() {
            let inertia = near.and_then(|near| near.lines.get(index)).map_or(0.0, |line| line.slope);
            let drag =
                Drag { coefficient: NewtonMeterSeconds(b), moment_of_inertia: KilogramMeters2(inertia) };
            let points = points_of(runs, rig, &drag).ok()?;
            masses.push(points.iter().map(|point| mass_variance(point, self.apparatus, rig)).collect());
            all.push(points);
        }
        let at = |variance: f64| -> Option<Vec<YorkFit>> {
            let mut lines = Vec::with_capacity(all.len());
            for (index, (points, masses)) in all.iter().zip(&masses).enumerate() {
                let friction = variance * self.friction_square(index);
                let uncertain: Vec<UncertainPoint> = points
                    .iter()
                    .zip(masses)
                    .map(|(point, mass)| uncertain(point, *mass, friction))
                    .collect();
                let slope = self.start.get(index).map_or(0.0, |line| line.slope);
                lines.push(fit_york(&uncertain, slope).ok()?);
            }
            Some(lines)
        };
        let variance = match friction.or(self.scatter) {
            Some(variance) => variance,
            None => friction_variance(&all, &at),
        };
        let lines = at(variance)?;
        Some(Solution { points: all, lines, friction_variance: variance, drag: None })
    }
}

/// b in standard uncertainties, from which on drag is plain to see.
const PLAIN_TO_SEE: f64 = 4.0;

/// Which input was moved, and what came of moving it up and down.
type Shifted = (SharedInput, Option<[Solution; 2]>);

impl Solution {
    /// Slope and intercept of a line.
    fn line(&self, index: usize) -> (f64, f64) {
        self.lines.get(index).map_or((f64::NAN, f64::NAN), |line| (line.slope, line.intercept))
    }

    fn finish(
        &self,
        index: usize,
        chain: &Chain<'_>,
        degrees_of_freedom: usize,
        shifted: &[Shifted],
        dragged: Option<&[Solution; 2]>,
        start: &[&LineFit],
    ) -> Result<Inertia, InertiaError> {
        let missing = || InertiaError::from(MeasuredError::NotFinite);
        let (fit, points) =
            self.lines.get(index).cloned().zip(self.points.get(index).cloned()).ok_or_else(missing)?;
        let half = |[up, down]: &[Solution; 2]| {
            let (up, down) = (up.line(index), down.line(index));
            (KilogramMeters2(0.5 * (up.0 - down.0)), NewtonMeters(0.5 * (up.1 - down.1)))
        };
        let mut contributions = Vec::with_capacity(shifted.len());
        for (input, pair) in shifted {
            let (moment_of_inertia, friction_torque) =
                half(pair.as_ref().ok_or(InertiaError::UncertaintyTooLarge(*input))?);
            contributions.push(Contribution { input: *input, moment_of_inertia, friction_torque });
        }
        let drag = dragged.map_or((KilogramMeters2(0.0), NewtonMeters(0.0)), half);

        // Each run's variance, part by part, with its leverage.
        let rig = chain.apparatus.rig();
        let friction_variance = self.friction_variance * chain.friction_square(index);
        let mut parts = [(0.0, 0.0); 3];
        let mut same_friction = Some(0.0);
        let rows = fit.leverages.iter().zip(&fit.residual_variances).zip(&fit.residuals);
        for (point, ((leverage, variance), residual)) in points.iter().zip(rows) {
            let mass = mass_variance(point, chain.apparatus, &rig);
            let own = own_variance(point, fit.slope);
            same_friction = match same_friction {
                // So much better than friction scatters that nothing can be said of it.
                Some(sum) if own + mass > 1e-9 * variance => Some(sum + residual * residual / (own + mass)),
                _ => None,
            };
            for (sum, variance) in parts.iter_mut().zip([friction_variance, own, mass]) {
                sum.0 += leverage.0 * leverage.0 * variance;
                sum.1 += leverage.1 * leverage.1 * variance;
            }
        }
        let [friction, own, masses] =
            parts.map(|(slope, intercept): (f64, f64)| (slope.sqrt(), intercept.sqrt()));
        let scatter = [
            (Source::Friction, friction.0, friction.1),
            (Source::Accelerations, own.0, own.1),
            (Source::HangingMasses, masses.0, masses.1),
        ];
        let freedom = DegreesOfFreedom::from_count(degrees_of_freedom);
        let moment_of_inertia = Measured::with_degrees_of_freedom(
            KilogramMeters2(fit.slope),
            KilogramMeters2(fit.slope_uncertainty),
            freedom,
        )?;
        let friction_torque = Measured::with_degrees_of_freedom(
            NewtonMeters(fit.intercept),
            NewtonMeters(fit.intercept_uncertainty),
            freedom,
        )?;
        let drawn = start.get(index).map(|&line| line.clone()).ok_or_else(missing)?;
        let line = InertiaLine {
            chi_square: same_friction.filter(|sum: &f64| sum.is_finite()),
            covariance: fit.covariance,
            moment_of_inertia,
            friction_torque,
            points,
            fit,
            drawn,
        };
        let contributed = |part: fn(&Contribution) -> f64| contributions.iter().map(part).collect::<Vec<_>>();
        Ok(Inertia {
            moment_of_inertia: Combined::new(
                with_drag(&moment_of_inertia, drag.0)?,
                contributed(|part| part.moment_of_inertia.0),
            )?,
            friction_torque: Combined::new(
                with_drag(&friction_torque, drag.1)?,
                contributed(|part| part.friction_torque.0),
            )?,
            line,
            friction_scatter: NewtonMeters(friction_variance.sqrt()),
            scatter,
            drag,
            contributions,
        })
    }
}

/// What scatters, with the drag's own uncertainty added.
fn with_drag<Q: Quantity>(scatter: &Measured<Q>, drag: Q) -> Result<Measured<Q>, MeasuredError> {
    let (u, freedom) = (scatter.standard_uncertainty().si(), scatter.degrees_of_freedom());
    let effective =
        DegreesOfFreedom::welch_satterthwaite(&[(u, freedom), (drag.si(), DegreesOfFreedom::INFINITE)]);
    // Without drag the degrees of freedom stay the whole number they are.
    let freedom = if drag.si() == 0.0 { freedom } else { effective };
    Measured::with_degrees_of_freedom(scatter.value(), Q::from_si(quadrature([u, drag.si()])), freedom)
}

#[cfg(test)]
mod tests;
