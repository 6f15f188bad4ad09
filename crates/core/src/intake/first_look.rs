//! A first look at a run: its stretch, its acceleration, and how its speed goes.

use super::FirstLook;
use crate::analysis::{FittedStretch, fit_run};
use crate::lab::{Lab, RunEntry};
use crate::measured::shown::{DisplayUnit, show};
use crate::quantity::{Meters, MetersPerSecond2};
use crate::readings::{ReadingKind, Readings};
use whorl_words as words;

/// Points of a small chart.
const POINTS: usize = 120;

/// Looks at a run with the apparatus as it is.
pub(super) fn first_look(run: &RunEntry, lab: &Lab) -> FirstLook {
    let setup = lab.apparatus.setup();
    let FittedStretch { fit, stretch, found } = fit_run(run, &setup);
    let acceleration = match fit {
        Ok(fit) => {
            let shown = show(&fit.acceleration, DisplayUnit::si::<MetersPerSecond2>());
            Ok(format!("{shown}"))
        }
        Err(problem) => Err(problem.to_string()),
    };
    let doubts =
        found.map(|found| found.doubts.iter().map(|doubt| doubt.words()).collect()).unwrap_or_default();
    let (mut curve, curve_unit) =
        run.record.readings().map(|readings| speeds(readings, setup.travel_per_spoke)).unwrap_or_default();
    // Two times next to each other may be too near for a speed between them; such a point could not be drawn either.
    curve.retain(|point| point.0.is_finite() && point.1.is_finite());
    // A logger may count against the motion, as the height of a falling mass does.
    if curve.iter().map(|point| point.1).sum::<f64>() < 0.0 {
        curve.iter_mut().for_each(|point| point.1 = -point.1);
    }
    FirstLook { stretch, acceleration, doubts, curve, curve_unit: curve_unit.to_owned() }
}

/// Speed against time, at most [`POINTS`] points, with its unit.
fn speeds(readings: &Readings, travel_per_spoke: Option<Meters>) -> (Vec<(f64, f64)>, &'static str) {
    let kind = readings.kind();
    let mut pairs = readings.pairs();
    let mut unit = match kind {
        ReadingKind::Velocity | ReadingKind::Position => "m/s",
        ReadingKind::Acceleration => "m/s²",
        ReadingKind::Angle | ReadingKind::AngularVelocity => "rad/s",
        ReadingKind::GateTimes | ReadingKind::BothEdges => words::intake::spokes_per_second(),
    };
    if kind == ReadingKind::BothEdges {
        // Edges of one sort, so that wide spokes and narrow gaps do not show.
        pairs = pairs
            .into_iter()
            .step_by(2)
            .zip(0_u32..)
            .map(|((time, _), count)| (time, f64::from(count)))
            .collect();
    }
    if let Some(Meters(travel)) = travel_per_spoke.filter(|_| kind.is_times_alone()) {
        unit = "m/s";
        for pair in &mut pairs {
            pair.1 *= travel;
        }
    }
    let block = pairs.len().div_ceil(POINTS).max(1);
    let mean = |part: &[(f64, f64)]| {
        let count = part.len() as f64;
        let sum = part.iter().fold((0.0, 0.0), |sum, pair| (sum.0 + pair.0, sum.1 + pair.1));
        (sum.0 / count, sum.1 / count)
    };
    let means: Vec<(f64, f64)> = pairs.chunks(block).map(mean).collect();
    if kind.degree() < 2 && !kind.is_times_alone() {
        return (means, unit);
    }
    let slope = |pair: &[(f64, f64)]| match pair {
        [a, b] => Some((f64::midpoint(a.0, b.0), (b.1 - a.1) / (b.0 - a.0))),
        _ => None,
    };
    (means.windows(2).filter_map(slope).collect(), unit)
}

#[cfg(test)]
mod tests {
    use crate::intake::take_in;
    use crate::lab::Lab;
    use crate::readings::Choices;

    /// What the fuzzer found: a speed between times that are hardly two.
    #[test]
    fn times_nearer_than_a_speed_can_tell_are_not_drawn() {
        let file = b"time (s),position (m)\n0,0\n2e-317,0.3\n0.1,0.4\n0.2,0.5\n";
        let intake = take_in("empty-60g.csv", file, &Choices::default(), &Lab::default(), &mut |_| {});
        let curve = &intake.proposals.first().unwrap().first.curve;
        assert_eq!(curve.len(), 2);
        assert!(curve.iter().all(|point| point.0.is_finite() && point.1.is_finite()), "{curve:?}");
    }
}
