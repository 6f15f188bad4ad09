//! Gate edges behind files of velocities or positions.
//!
//! A logger that prints the velocity between neighboring spokes at the middle of the interval,
//! v = s/Δt, has thrown nothing away: the interval's ends are middle ± s/2v, and neighbors share one.
//! Positions that climb by one and the same step are edges too. Readings taken at regular times are
//! neither, and stay as they are.

/// Edges found behind readings.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Rebuilt {
    /// Times in s.
    pub(super) times: Vec<f64>,
    /// Numbers, from 0.
    pub(super) numbers: Vec<f64>,
    /// Travel from edge to edge as the file has it, in the readings' own unit.
    pub(super) pitch: f64,
}

/// How far intervals may be off and still be one step: rounding in the file.
const ONE_STEP: f64 = 0.03;

/// Readings it takes to see that steps are alike.
const FEWEST: usize = 6;

/// From positions that climb (or fall) in equal steps.
pub(super) fn from_positions(pairs: &[(f64, f64)]) -> Option<Rebuilt> {
    let steps: Vec<f64> =
        pairs.windows(2).filter_map(|pair| Some(pair.last()?.1 - pair.first()?.1)).collect();
    let step = alike(&steps)?;
    let numbers = (0..pairs.len()).map(|index| index as f64).collect();
    Some(Rebuilt { times: pairs.iter().map(|pair| pair.0).collect(), numbers, pitch: step })
}

/// From velocities at the middle of intervals.
pub(super) fn from_velocities(pairs: &[(f64, f64)]) -> Option<Rebuilt> {
    if pairs.iter().any(|pair| pair.1 == 0.0) {
        return None;
    }
    let step = |pair: &[(f64, f64)]| match *pair {
        [(t0, v0), (t1, v1)] => Some(2.0 * (t1 - t0) / (1.0 / v0 + 1.0 / v1)),
        _ => None,
    };
    let steps: Vec<f64> = pairs.windows(2).filter_map(step).collect();
    let pitch = alike(&steps)?;
    let mut times = Vec::with_capacity(pairs.len() + 1);
    let mut end_before: Option<f64> = None;
    for &(middle, velocity) in pairs {
        let half = 0.5 * pitch / velocity;
        let start = middle - half;
        times.push(end_before.map_or(start, |end| f64::midpoint(end, start)));
        end_before = Some(middle + half);
    }
    times.extend(end_before);
    let forward = times.windows(2).all(|pair| pair.first() < pair.last());
    let numbers = (0..times.len()).map(|index| index as f64).collect();
    forward.then_some(Rebuilt { times, numbers, pitch })
}

/// The median of steps that are all alike and of one sign.
fn alike(steps: &[f64]) -> Option<f64> {
    if steps.len() + 1 < FEWEST {
        return None;
    }
    let mut sorted = steps.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let median = sorted.get(sorted.len() / 2).copied().filter(|&step| step != 0.0)?;
    steps.iter().all(|step| (step / median - 1.0).abs() < ONE_STEP).then_some(median)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A fall from 0.2 m/s with 0.4 m/s²: time of the k-th edge, 15 mm apart.
    fn edge(k: u32) -> f64 {
        let x = 0.015 * f64::from(k);
        2.0 * x / ((0.04 + 0.8 * x).sqrt() + 0.2)
    }

    #[test]
    fn velocities_between_spokes_give_back_the_edges() {
        let pairs: Vec<_> = (0..30)
            .map(|k| (f64::midpoint(edge(k), edge(k + 1)), 0.015 / (edge(k + 1) - edge(k))))
            .map(|(t, v)| ((t * 1e5).round() / 1e5, (v * 1e5).round() / 1e5))
            .collect();
        let found = from_velocities(&pairs).unwrap();
        assert!((found.pitch / 0.015 - 1.0).abs() < 1e-3, "{}", found.pitch);
        assert_eq!(found.times.len(), 31);
        for (k, time) in (0..31).zip(found.times) {
            assert!((time - edge(k)).abs() < 3e-5, "{k}");
        }
    }

    #[test]
    fn readings_at_regular_times_are_no_edges() {
        let sampled: Vec<_> = (0..30).map(|k| (0.05 * f64::from(k), 0.2 + 0.02 * f64::from(k))).collect();
        assert_eq!(from_velocities(&sampled), None);
        assert_eq!(from_positions(&sampled.iter().map(|&(t, v)| (t, v * t)).collect::<Vec<_>>()), None);
        assert_eq!(from_velocities(&[(0.0, 0.0); 20]), None);
    }

    #[test]
    fn equal_steps_of_position_are_edges() {
        let found =
            from_positions(&(0..12).map(|k| (edge(k), 1.0 + 0.015 * f64::from(k))).collect::<Vec<_>>());
        assert!((found.unwrap().pitch - 0.015).abs() < 1e-9);
    }
}
