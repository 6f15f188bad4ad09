//! What a run holds → linear acceleration a of the string, with its standard uncertainty.
//!
//! [`estimate`] is the seam: everything after it sees only an [`AccelerationFit`].
//!
//! | the run holds | fit |
//! |---|---|
//! | gate times, one or both edges | edge times with free spoke offsets and a variance function (`edges`) |
//! | velocities or positions spoke by spoke | the edges behind them, then the same (`rebuilt`) |
//! | positions, velocities, accelerations, angles, angular velocities at any times | parabola, line or level with correlated neighbors (`sampled`) |
//! | stopwatch times | a = 2 h/t̄² (`by_hand`) |
//! | an acceleration, an angular acceleration | as entered |
//!
//! Beside it stands, where there are velocities, [`AccelerationFit::drawn`]: the line you would draw.
//! Values are turned so that the motion is positive; a is negative where it slows down.
//!
//! What the acceleration is proportional to ([`Scale`]) is not in u(a): it is shared by all runs and
//! enters later, once.

mod by_hand;
mod drawn;
mod edges;
mod rebuilt;
mod sampled;
mod slowing;
mod spread;

pub use by_hand::{ByHandFit, FEWEST_TIMES};
pub use edges::{
    EDGES_BEYOND_OFFSETS, EdgeFit, EdgeNoise, Edges, ExpectedFit, ExtraTest, LeftOver, OffsetTest,
    PlannedEdges, SPOKE_TOLERANCE, fit_edges,
};
pub use sampled::{Sampled, SampledFit};
pub use slowing::Slowing;

use crate::fit::{FitError, LineFit};
use crate::measured::{DegreesOfFreedom, Measured, MeasuredError};
use crate::quantity::{Meters, MetersPerSecond, MetersPerSecond2, RadiansPerSecond2, Seconds};
use crate::readings::{ReadingKind, Readings};
use crate::runs::Run;
use by_hand::by_hand;
use core::num::NonZeroU32;
use drawn::{differences, drawn_line};
use rebuilt::{Rebuilt, from_positions, from_velocities};
use sampled::fit_sampled;
use whorl_words as words;

/// What an acceleration is proportional to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// The travel per spoke.
    Travel,
    /// The effective radius: an angle was measured.
    Radius,
    /// The drop height.
    Height,
    /// Nothing at the apparatus.
    Itself,
}

impl Scale {
    /// Name in results; `None` for nothing at the apparatus.
    pub fn key(self) -> Option<&'static str> {
        match self {
            Self::Travel => Some("travel-per-spoke"),
            Self::Radius => Some("effective-radius"),
            Self::Height => Some("drop-height"),
            Self::Itself => None,
        }
    }
}

/// The curve that was fitted, for charts and for showing the working.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// Times of a gate's edges.
    Edges(EdgeFit),
    /// Position, velocity or acceleration against time.
    Sampled(SampledFit),
    /// Mean of stopwatch times.
    ByHand(ByHandFit),
    /// Nothing was fitted: the value came from elsewhere.
    Entered,
}

/// The acceleration of one run.
#[derive(Clone, Debug, PartialEq)]
pub struct AccelerationFit {
    /// The result; its uncertainty comes from the scatter about the curve.
    pub acceleration: Measured<MetersPerSecond2>,
    /// What it is proportional to.
    pub scale: Scale,
    /// What was fitted.
    pub curve: Curve,
    /// Time and observed − fitted of each reading used, in m, m/s or m/s².
    pub residuals: Vec<(Seconds, f64)>,
    /// The line you would draw: ordinary least squares on v(t).
    pub drawn: Option<LineFit>,
}

/// What of the apparatus the readings need.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Setup {
    /// s.
    pub travel_per_spoke: Option<Meters>,
    /// N.
    pub spokes: Option<NonZeroU32>,
    /// Rₑ.
    pub effective_radius: Option<Meters>,
    /// h.
    pub drop_height: Option<Meters>,
}

/// Why a run has no acceleration.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AccelerationError {
    /// Gate times without the spoke pitch.
    #[error("{}", words::chain::travel_missing())]
    TravelMissing,
    /// Angles without a radius.
    #[error("{}", words::chain::radius_missing())]
    RadiusMissing,
    /// Stopwatch times without a height.
    #[error("{}", words::chain::height_missing())]
    HeightMissing,
    /// Fewer than two times, or one that is not above zero.
    #[error("{}", words::chain::times_missing())]
    TimesMissing,
    /// Nothing entered yet.
    #[error("{}", words::chain::acceleration_missing())]
    ValueMissing,
    /// The readings do not fix the curve.
    #[error(transparent)]
    Fit(#[from] FitError),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}

impl AccelerationFit {
    /// Velocity of the fitted curve at a moment; `None` where no curve was fitted.
    pub fn velocity_at(&self, time: Seconds) -> Option<MetersPerSecond> {
        match &self.curve {
            Curve::Edges(fit) => {
                Some(MetersPerSecond(fit.first_velocity.0 + fit.acceleration * (time.0 - fit.first_time.0)))
            }
            Curve::Sampled(fit) => Some(MetersPerSecond(fit.velocity_at(time.0))),
            Curve::ByHand(_) | Curve::Entered => None,
        }
    }

    /// What the curvature says of drag, where a curve was fitted.
    pub fn slowing(&self) -> Option<&Slowing> {
        match &self.curve {
            Curve::Edges(fit) => fit.slowing.as_ref(),
            Curve::Sampled(fit) => fit.slowing.as_ref(),
            Curve::ByHand(_) | Curve::Entered => None,
        }
    }
}

/// Estimates the acceleration of a run's readings.
///
/// # Errors
/// When something of the apparatus is missing or the readings do not fix the curve.
///
/// ```
/// use whorl_core::acceleration::{Setup, estimate};
/// use whorl_core::quantity::{MetersPerSecond, Seconds};
/// use whorl_core::readings::{Readings, Series};
/// use whorl_core::runs::Run;
///
/// let rows = [(0.0, 0.10), (0.5, 0.31), (1.0, 0.50), (1.5, 0.69)];
/// let series = Series::new(rows.map(|(t, v)| (Seconds(t), MetersPerSecond(v))).to_vec())?;
/// let readings = Readings::Velocity(series);
/// let fit = estimate(&Run::new(&readings, None)?, &Setup::default())?;
/// assert!((fit.acceleration.value().0 - 0.392).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn estimate(run: &Run, setup: &Setup) -> Result<AccelerationFit, AccelerationError> {
    let kind = run.kind();
    let mut pairs = run.fitted_pairs();
    let factor = if kind.is_angular() {
        setup.effective_radius.ok_or(AccelerationError::RadiusMissing)?.0
    } else {
        1.0
    };
    let scale = if kind.is_angular() { Scale::Radius } else { Scale::Itself };
    let turn = factor * direction(&pairs, Sampled::of(kind));
    pairs.iter_mut().for_each(|pair| pair.1 *= turn);
    let period = setup.spokes.map_or(0, |spokes| spokes.get() as usize);
    match kind {
        ReadingKind::GateTimes | ReadingKind::BothEdges => {
            let travel = setup.travel_per_spoke.ok_or(AccelerationError::TravelMissing)?.0;
            let edges_per_spoke = if kind == ReadingKind::BothEdges { 2 } else { 1 };
            let pitch = travel / edges_per_spoke as f64;
            let (times, numbers): (Vec<f64>, Vec<f64>) = pairs.into_iter().unzip();
            let edges = Edges {
                times: &times,
                numbers: &numbers,
                pitch,
                period: period * edges_per_spoke,
                tolerance: SPOKE_TOLERANCE * travel,
            };
            let fit = fit_edges(&edges)?;
            finished_edges(fit, &edges, Scale::Travel)
        }
        ReadingKind::Velocity | ReadingKind::Position => {
            let rebuilt = match kind {
                ReadingKind::Velocity => from_velocities(&pairs),
                _ => from_positions(&pairs),
            };
            match rebuilt.filter(|rebuilt| rebuilt.times.len() > FEWEST_EDGES) {
                Some(rebuilt) => fit_rebuilt(&rebuilt, setup, period),
                None => finished_samples(&pairs, Sampled::of(kind), scale),
            }
        }
        ReadingKind::Acceleration | ReadingKind::Angle | ReadingKind::AngularVelocity => {
            finished_samples(&pairs, Sampled::of(kind), scale)
        }
    }
}

/// Edges that tell more than a line through as many velocities.
const FEWEST_EDGES: usize = 6;

/// How far a file's own travel per spoke may be from the apparatus' to be the same: 5 %.
const SAME_TRAVEL: f64 = 0.05;

fn fit_rebuilt(
    rebuilt: &Rebuilt,
    setup: &Setup,
    period: usize,
) -> Result<AccelerationFit, AccelerationError> {
    // What the logger was told is one thing, what was measured at the apparatus another.
    let travel = setup.travel_per_spoke.map(|travel| travel.0);
    let same = travel.filter(|travel| (rebuilt.pitch / travel - 1.0).abs() < SAME_TRAVEL);
    let pitch = same.unwrap_or(rebuilt.pitch);
    let edges = Edges {
        times: &rebuilt.times,
        numbers: &rebuilt.numbers,
        pitch,
        period: if same.is_some() { period } else { 0 },
        tolerance: SPOKE_TOLERANCE * pitch,
    };
    let scale = if same.is_some() { Scale::Travel } else { Scale::Itself };
    finished_edges(fit_edges(&edges)?, &edges, scale)
}

fn finished_edges(
    fit: EdgeFit,
    edges: &Edges<'_>,
    scale: Scale,
) -> Result<AccelerationFit, AccelerationError> {
    let positions: Vec<(f64, f64)> =
        edges.times.iter().zip(edges.numbers).map(|(&time, number)| (time, number * edges.pitch)).collect();
    // An edge that comes early is a string that was ahead.
    let ahead = fit.residuals.iter().zip(&fit.velocities).map(|(late, velocity)| -late * velocity);
    let residuals = edges.times.iter().map(|&time| Seconds(time)).zip(ahead).collect();
    let acceleration = scattered(fit.acceleration, fit.acceleration_uncertainty, fit.degrees_of_freedom)?;
    let drawn = drawn_line(&differences(&positions));
    Ok(AccelerationFit { acceleration, scale, curve: Curve::Edges(fit), residuals, drawn })
}

fn finished_samples(
    pairs: &[(f64, f64)],
    quantity: Sampled,
    scale: Scale,
) -> Result<AccelerationFit, AccelerationError> {
    let fit = fit_sampled(pairs, quantity)?;
    let drawn = match quantity {
        Sampled::Velocity => {
            let velocities: Vec<_> = pairs.iter().map(|&(t, v)| (Seconds(t), MetersPerSecond(v))).collect();
            drawn_line(&velocities)
        }
        Sampled::Position => drawn_line(&differences(pairs)),
        Sampled::Acceleration => None,
    };
    let residuals = pairs.iter().map(|pair| Seconds(pair.0)).zip(fit.residuals.iter().copied()).collect();
    let acceleration = scattered(fit.acceleration, fit.acceleration_uncertainty, fit.degrees_of_freedom)?;
    Ok(AccelerationFit { acceleration, scale, curve: Curve::Sampled(fit), residuals, drawn })
}

fn scattered(a: f64, u: f64, degrees_of_freedom: usize) -> Result<Measured<MetersPerSecond2>, MeasuredError> {
    Measured::with_degrees_of_freedom(
        MetersPerSecond2(a),
        MetersPerSecond2(u),
        DegreesOfFreedom::from_count(degrees_of_freedom),
    )
}

/// 1 where the readings move upwards, −1 where downwards; accelerations do not say.
fn direction(pairs: &[(f64, f64)], quantity: Sampled) -> f64 {
    let way = match quantity {
        Sampled::Velocity => pairs.iter().map(|pair| pair.1).sum(),
        Sampled::Position => {
            pairs.last().map_or(0.0, |last| last.1) - pairs.first().map_or(0.0, |first| first.1)
        }
        Sampled::Acceleration => 0.0,
    };
    if way < 0.0 { -1.0 } else { 1.0 }
}

/// The acceleration of a fall timed by hand.
///
/// # Errors
/// When the height or the times are missing.
pub fn estimate_by_hand(times: &[Seconds], setup: &Setup) -> Result<AccelerationFit, AccelerationError> {
    let height = setup.drop_height.ok_or(AccelerationError::HeightMissing)?;
    let fit = by_hand(height, times).ok_or(AccelerationError::TimesMissing)?;
    let freedom = times.len() - 1;
    let acceleration = scattered(fit.acceleration, fit.acceleration_uncertainty, freedom)?;
    let curve = Curve::ByHand(fit);
    Ok(AccelerationFit { acceleration, scale: Scale::Height, curve, residuals: Vec::new(), drawn: None })
}

/// An acceleration that came from elsewhere.
pub fn entered(acceleration: Measured<MetersPerSecond2>) -> AccelerationFit {
    let scale = Scale::Itself;
    AccelerationFit { acceleration, scale, curve: Curve::Entered, residuals: Vec::new(), drawn: None }
}

/// An angular acceleration that came from elsewhere: a = α Rₑ.
///
/// # Errors
/// When there is no radius, or the product is not finite.
pub fn entered_angular(
    alpha: Measured<RadiansPerSecond2>,
    setup: &Setup,
) -> Result<AccelerationFit, AccelerationError> {
    let radius = setup.effective_radius.ok_or(AccelerationError::RadiusMissing)?.0;
    let linear = |angular: RadiansPerSecond2| MetersPerSecond2(angular.0 * radius);
    let acceleration = Measured::with_degrees_of_freedom(
        linear(alpha.value()),
        linear(alpha.standard_uncertainty()),
        alpha.degrees_of_freedom(),
    )?;
    Ok(AccelerationFit { scale: Scale::Radius, ..entered(acceleration) })
}

/// Velocities of the string to draw: as measured, or from each pair of neighbors, at mid-time.
///
/// Empty where accelerations were read, and where the apparatus lacks what turns the readings into lengths.
pub fn velocities(readings: &Readings, setup: &Setup) -> Vec<(Seconds, MetersPerSecond)> {
    let kind = readings.kind();
    let factor = match kind {
        ReadingKind::GateTimes => setup.travel_per_spoke,
        ReadingKind::BothEdges => setup.travel_per_spoke.map(|travel| travel * 0.5),
        ReadingKind::Angle | ReadingKind::AngularVelocity => setup.effective_radius,
        ReadingKind::Velocity | ReadingKind::Position => Some(Meters(1.0)),
        ReadingKind::Acceleration => None,
    };
    let Some(Meters(factor)) = factor else { return Vec::new() };
    let mut pairs = readings.pairs();
    pairs.iter_mut().for_each(|pair| pair.1 *= factor);
    if Sampled::of(kind) == Sampled::Velocity {
        pairs.into_iter().map(|(t, v)| (Seconds(t), MetersPerSecond(v))).collect()
    } else {
        differences(&pairs)
    }
}

#[cfg(test)]
mod tests;
