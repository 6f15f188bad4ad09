//! Newton's equations of motion, step by step.
//!
//! Dormand and Prince's pair of orders 5 and 4 (*A family of embedded Runge–Kutta formulae*, J. Comput.
//! Appl. Math. 6 (1980) 19) with the usual control of the step (Hairer, Nørsett and Wanner, *Solving
//! Ordinary Differential Equations I*, 2nd ed., II.4). Between the ends of a step the motion is the quintic
//! with their places, speeds and accelerations: better than the pair's own interpolant, which has order 4.

use super::path::{Knot, Polynomial};

/// Places and speeds of N coordinates at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct State<const N: usize> {
    pub(super) time_s: f64,
    pub(super) place: [f64; N],
    pub(super) rate: [f64; N],
}

/// One step that was accepted.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step<const N: usize> {
    pub(super) from: State<N>,
    pub(super) to: State<N>,
    pub(super) curves: [Polynomial; N],
    /// At the step's start and end.
    pub(super) accelerations: ([f64; N], [f64; N]),
}

/// First step, s. Later ones follow from the error.
const FIRST_STEP_S: f64 = 1e-2;
/// No step of a motion worth simulating is shorter: a guard against endless loops.
const SHORTEST_STEP_S: f64 = 1e-5;

/// Integrates from `start` until `end_s`, or until `left` is no longer above 0; hands over every step.
///
/// A step may err by `tolerance` as a share of each place and speed, and by a tenth of it in their units.
pub(super) fn integrate<const N: usize>(
    start: State<N>,
    end_s: f64,
    tolerance: f64,
    acceleration: impl Fn(&State<N>) -> [f64; N],
    left: impl Fn(&State<N>) -> f64,
    mut each: impl FnMut(&Step<N>),
) -> State<N> {
    let mut state = start;
    let mut slope = acceleration(&state);
    let mut length_s = FIRST_STEP_S;
    while state.time_s < end_s {
        let last = state.time_s + length_s >= end_s;
        let tried_s = if last { end_s - state.time_s } else { length_s };
        let trial = try_step(&state, &slope, tried_s, &acceleration);
        let error = trial.error / tolerance;
        // The fifth root of the error, as order 5 wants; never more than fivefold nor less than a fifth.
        let factor = (0.9 * fifth_root(1.0 / error.max(1e-10))).clamp(0.2, 5.0);
        if error > 1.0 && tried_s > SHORTEST_STEP_S {
            length_s = tried_s * factor;
            continue;
        }
        let mut accepted = trial.step(&state, &slope, tried_s);
        if left(&accepted.to) <= 0.0 {
            let share = share_until(&accepted, &left);
            let shorter = try_step(&state, &slope, tried_s * share, &acceleration);
            accepted = shorter.step(&state, &slope, tried_s * share);
            each(&accepted);
            return accepted.to;
        }
        if last {
            accepted.to.time_s = end_s;
        }
        each(&accepted);
        (state, slope) = (accepted.to, trial.slope);
        length_s = tried_s * factor;
    }
    state
}

/// The share of a step at which `left` comes to 0: bisection, since it may have corners.
fn share_until<const N: usize>(step: &Step<N>, left: &impl Fn(&State<N>) -> f64) -> f64 {
    let duration_s = step.to.time_s - step.from.time_s;
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..54 {
        let x = f64::midpoint(low, high);
        let state = State {
            time_s: step.from.time_s + x * duration_s,
            place: step.curves.map(|curve| curve.at(x)),
            rate: step.curves.map(|curve| curve.slope_at(x) / duration_s),
        };
        if left(&state) > 0.0 {
            low = x;
        } else {
            high = x;
        }
    }
    high
}

struct Trial<const N: usize> {
    to: State<N>,
    slope: [f64; N],
    error: f64,
}

impl<const N: usize> Trial<N> {
    fn step(&self, from: &State<N>, slope: &[f64; N], duration_s: f64) -> Step<N> {
        let knots = |state: &State<N>, slope: &[f64; N]| {
            let mut knots = [Knot { place: 0.0, rate: 0.0, acceleration: 0.0 }; N];
            let parts = state.place.iter().zip(&state.rate).zip(slope);
            for (knot, ((place, rate), acceleration)) in knots.iter_mut().zip(parts) {
                *knot = Knot { place: *place, rate: *rate, acceleration: *acceleration };
            }
            knots
        };
        let mut curves = [Polynomial::rest(0.0); N];
        let ends = knots(from, slope).into_iter().zip(knots(&self.to, &self.slope));
        for (curve, (start, end)) in curves.iter_mut().zip(ends) {
            *curve = Polynomial::through(start, end, duration_s);
        }
        Step { from: *from, to: self.to, curves, accelerations: (*slope, self.slope) }
    }
}

/// base + h Σ weight · slope.
fn advance<const N: usize, const K: usize>(
    base: &[f64; N],
    h: f64,
    weights: [f64; K],
    slopes: [&[f64; N]; K],
) -> [f64; N] {
    let mut sum = [0.0; N];
    for (weight, slope) in weights.iter().zip(slopes) {
        for (sum, slope) in sum.iter_mut().zip(slope) {
            *sum += weight * slope;
        }
    }
    for (sum, base) in sum.iter_mut().zip(base) {
        *sum = base + h * *sum;
    }
    sum
}

/// One step, whose error is given as a share of each value and a tenth. `a1` is the acceleration at its start.
fn try_step<const N: usize>(
    from: &State<N>,
    a1: &[f64; N],
    h: f64,
    acceleration: &impl Fn(&State<N>) -> [f64; N],
) -> Trial<N> {
    const W2: [f64; 1] = [1.0 / 5.0];
    const W3: [f64; 2] = [3.0 / 40.0, 9.0 / 40.0];
    const W4: [f64; 3] = [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0];
    const W5: [f64; 4] = [19372.0 / 6561.0, -25360.0 / 2187.0, 64448.0 / 6561.0, -212.0 / 729.0];
    const W6: [f64; 5] = [9017.0 / 3168.0, -355.0 / 33.0, 46732.0 / 5247.0, 49.0 / 176.0, -5103.0 / 18656.0];
    // The second stage has no weight in what follows.
    const FIFTH: [f64; 5] = [35.0 / 384.0, 500.0 / 1113.0, 125.0 / 192.0, -2187.0 / 6784.0, 11.0 / 84.0];
    const ERROR: [f64; 6] =
        [71.0 / 57600.0, -71.0 / 16695.0, 71.0 / 1920.0, -17253.0 / 339_200.0, 22.0 / 525.0, -1.0 / 40.0];
    let at = |share: f64, place: [f64; N], rate: [f64; N]| {
        let state = State { time_s: from.time_s + share * h, place, rate };
        (rate, acceleration(&state), state)
    };
    let (x, v) = (&from.place, &from.rate);
    let v1 = v;
    let (v2, a2, _) = at(1.0 / 5.0, advance(x, h, W2, [v1]), advance(v, h, W2, [a1]));
    let (v3, a3, _) = at(3.0 / 10.0, advance(x, h, W3, [v1, &v2]), advance(v, h, W3, [a1, &a2]));
    let (v4, a4, _) = at(4.0 / 5.0, advance(x, h, W4, [v1, &v2, &v3]), advance(v, h, W4, [a1, &a2, &a3]));
    let (v5, a5, _) =
        at(8.0 / 9.0, advance(x, h, W5, [v1, &v2, &v3, &v4]), advance(v, h, W5, [a1, &a2, &a3, &a4]));
    let (v6, a6, _) =
        at(1.0, advance(x, h, W6, [v1, &v2, &v3, &v4, &v5]), advance(v, h, W6, [a1, &a2, &a3, &a4, &a5]));
    let (v7, a7, to) = at(
        1.0,
        advance(x, h, FIFTH, [v1, &v3, &v4, &v5, &v6]),
        advance(v, h, FIFTH, [a1, &a3, &a4, &a5, &a6]),
    );
    let nothing = [0.0; N];
    let place_errors = advance(&nothing, h, ERROR, [v1, &v3, &v4, &v5, &v6, &v7]);
    let rate_errors = advance(&nothing, h, ERROR, [a1, &a3, &a4, &a5, &a6, &a7]);
    let worst = |errors: &[f64; N], values: &[f64; N]| {
        errors.iter().zip(values).map(|(error, value)| error.abs() / (0.1 + value.abs())).fold(0.0, f64::max)
    };
    let error = worst(&place_errors, &to.place).max(worst(&rate_errors, &to.rate));
    Trial { to, slope: a7, error }
}

/// Fifth root of a number from 1e-4 to 1e10, to 1 % or better: a step's length needs no more, and shrinks or
/// grows fivefold at most.
fn fifth_root(value: f64) -> f64 {
    // Five steps of Newton's method from above; no library function enters a motion.
    let mut root = if value > 1.0 { value.sqrt().sqrt() } else { 1.0 };
    for _ in 0..12 {
        root = 0.8 * root + 0.2 * value / (root * root * root * root);
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fifth_root_is_near_enough() {
        for exponent in -4..=10 {
            let value = 10.0_f64.powi(exponent);
            let root = fifth_root(value);
            assert!((root.powi(5) / value - 1.0).abs() < 0.05, "{value}: {root}");
        }
    }

    #[test]
    fn an_oscillation_keeps_its_time_and_its_quintic() {
        // x'' = −x and y'' = −4y from 1 at rest: cos t and cos 2t.
        let start = State { time_s: 0.0, place: [1.0, 1.0], rate: [0.0, 0.0] };
        let mut worst: f64 = 0.0;
        let mut steps = 0;
        let end = integrate(
            start,
            20.0,
            1e-11,
            |state| [-state.place[0], -4.0 * state.place[1]],
            |_| 1.0,
            |step| {
                steps += 1;
                let half = f64::midpoint(step.from.time_s, step.to.time_s);
                worst = worst.max((step.curves[0].at(0.5) - half.cos()).abs());
                worst = worst.max((step.curves[1].at(0.5) - (2.0 * half).cos()).abs());
            },
        );
        assert!((end.time_s - 20.0).abs() < 1e-15);
        assert!((end.place[0] - 20.0_f64.cos()).abs() < 1e-9, "{:e}", end.place[0] - 20.0_f64.cos());
        assert!(worst < 1e-8, "{worst:e}");
        assert!((100..3000).contains(&steps), "{steps}");
    }

    #[test]
    fn it_stops_where_it_is_told() {
        let start = State { time_s: 1.0, place: [1.0], rate: [0.0] };
        let mut ends = Vec::new();
        let end = integrate(
            start,
            20.0,
            1e-11,
            |state| [-state.place[0]],
            |state| state.place[0],
            |step| ends.push(step.to.time_s),
        );
        assert!((end.time_s - 1.0 - core::f64::consts::FRAC_PI_2).abs() < 1e-11);
        assert!(end.place[0].abs() < 1e-11);
        assert_eq!(ends.last(), Some(&end.time_s));
    }
}
