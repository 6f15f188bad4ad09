//! What a finished fit of edge times leaves over: asked whether the edges show anything else.
//!
//! The model is the fit's own, with its weights, made linear at its solution, and with drag as two more
//! unknowns, one that goes with v and one that goes with v², so that drag is taken for nothing else. An [`ExtraTest`] is the F test of
//! further columns (N. R. Draper, H. Smith, *Applied Regression Analysis*, Wiley 1998, 6.1).

use super::{EdgeFit, Edges, Motion, Problem};
use crate::fit::{Columns, dot};
use crate::quantity::Meters;

/// F test of columns beyond those of a fit.
#[derive(Clone, Debug, PartialEq)]
pub struct ExtraTest {
    /// Ratio of mean squares.
    pub f: f64,
    /// Columns that say something new.
    pub numerator: usize,
    /// Degrees of freedom left.
    pub denominator: usize,
    /// Coefficients of the columns.
    pub coefficients: Vec<f64>,
    /// Weighted sum of squares left.
    pub sum_of_squares: f64,
}

/// A fit's weighted residuals with the directions that are already explained.
#[derive(Clone, Debug)]
pub struct LeftOver {
    /// Position of each edge in m, from the first.
    pub positions: Vec<f64>,
    /// Fitted velocity at each edge in m/s.
    pub velocities: Vec<f64>,
    /// Time of each edge since the first on the fitted curve, in s.
    pub elapsed: Vec<f64>,
    /// Number of each edge, from 0.
    pub numbers: Vec<f64>,
    weights: Vec<f64>,
    /// ∂t/∂t₀, ∂t/∂v₀, ∂t/∂a, then the rest.
    columns: Columns,
    residuals: Vec<f64>,
    sum_of_squares: f64,
    v0: f64,
    a: f64,
}

impl LeftOver {
    /// Of a fit to edges at these times; `period` is that of the spoke offsets to allow for, or 0.
    ///
    /// `None` where the edges are too few to tell.
    pub fn new(fit: &EdgeFit, times: &[f64], period: usize) -> Option<Self> {
        let motion = Motion { t0: fit.first_time.0, v0: fit.first_velocity.0, a: fit.acceleration };
        let edges = Edges { times, numbers: &fit.numbers, pitch: fit.pitch.0, period, tolerance: 0.0 };
        let positions: Vec<f64> = fit.numbers.iter().map(|number| number * fit.pitch.0).collect();
        let problem = Problem { edges: &edges, positions, first: 0.0 };
        // With the fit's own offsets, or with weights as if there were none.
        let crossover = if period == fit.offsets.len() {
            fit.crossover.0
        } else {
            problem.crossover(&motion, period).ok()?
        };
        let weights = problem.weights(&motion, crossover);
        let mut columns = problem.columns(&motion, period, &weights);
        let elapsed: Vec<f64> =
            problem.positions.iter().map(|x| 2.0 * x / (motion.velocity(*x) + motion.v0)).collect();
        columns.insert(3, problem.slowed(&motion, &weights));
        columns.insert(4, air(&motion, &elapsed, &weights));
        let columns = Columns::new(columns).ok()?;
        let mut residuals = problem.misfit(&motion, &weights);
        columns.solve(&mut residuals);
        let sum_of_squares = dot(&residuals, &residuals);
        Some(Self {
            elapsed,
            positions: problem.positions,
            velocities: fit.velocities.clone(),
            numbers: fit.numbers.clone(),
            weights,
            columns,
            residuals,
            sum_of_squares,
            v0: motion.v0,
            a: motion.a,
        })
    }

    /// Weighted sum of squares that nothing explains yet.
    pub fn sum_of_squares(&self) -> f64 {
        self.sum_of_squares
    }

    /// Degrees of freedom of that sum.
    pub fn degrees_of_freedom(&self) -> usize {
        self.columns.degrees_of_freedom()
    }

    /// Whether columns of delays, in s per unit, explain more.
    pub fn test(&self, delays: Vec<Vec<f64>>) -> Option<ExtraTest> {
        let mut columns = Vec::with_capacity(delays.len());
        for mut column in delays {
            column.iter_mut().zip(&self.weights).for_each(|(value, weight)| *value *= weight);
            let size = dot(&column, &column);
            self.columns.solve(&mut column);
            if dot(&column, &column) <= SPENT * size {
                return None;
            }
            columns.push(column);
        }
        let numerator = columns.len();
        let extra = Columns::new(columns).ok()?;
        let mut left = self.residuals.clone();
        let coefficients = extra.solve(&mut left);
        self.judged(dot(&left, &left), numerator, coefficients)
    }

    fn judged(&self, left: f64, numerator: usize, coefficients: Vec<f64>) -> Option<ExtraTest> {
        let denominator = self.degrees_of_freedom().checked_sub(numerator).filter(|&freedom| freedom > 0)?;
        let f = (self.sum_of_squares - left) / numerator as f64 / (left / denominator as f64);
        f.is_finite().then_some(ExtraTest { f, numerator, denominator, coefficients, sum_of_squares: left })
    }

    /// Whether from edge `first` on it is another fall: a place, a velocity and an acceleration of its
    /// own. `tests` hears of every first edge from the last to the second.
    ///
    /// All at the price of one: what changes from one first edge to the next is one row.
    pub fn breaks(&self, tests: &mut dyn FnMut(usize, &ExtraTest)) {
        let directions = self.columns.directions();
        let Some((own, _)) = directions.split_first_chunk::<3>() else { return };
        let mut along: Vec<[f64; 3]> = vec![[0.0; 3]; directions.len()];
        let mut right = [0.0; 3];
        for row in (1..self.residuals.len()).rev() {
            let at = |column: &Vec<f64>| column.get(row).copied().unwrap_or(0.0);
            let entries = own.each_ref().map(at);
            for (sums, direction) in along.iter_mut().zip(directions) {
                let value = at(direction);
                sums.iter_mut().zip(entries).for_each(|(sum, entry)| *sum += entry * value);
            }
            let residual = at(&self.residuals);
            right.iter_mut().zip(entries).for_each(|(sum, entry)| *sum += entry * residual);
            let (gained, numerator) = explained(&along, right);
            let left = self.sum_of_squares - gained;
            if numerator > 0
                && let Some(test) = self.judged(left, numerator, Vec::new())
            {
                tests(row, &test);
            }
        }
    }

    /// Delays by a torque that goes with the table's turn, as its sine and as its cosine, per m/s² of
    /// acceleration they add: −∫ G/v³ ds with G = ∫ cos(s/Rₑ) ds and ∫ sin(s/Rₑ) ds.
    pub fn turning(&self, effective_radius: Meters) -> Vec<Vec<f64>> {
        let radius = effective_radius.0;
        let (mut sine, mut cosine) = (0.0, 0.0);
        let mut columns = vec![vec![0.0], vec![0.0]];
        // In time, ds/v³ = dt/v², which stays finite where the fall begins.
        for pair in self.elapsed.windows(2) {
            let [from, to] = *pair else { continue };
            for part in GAUSS {
                let elapsed = from + part * (to - from);
                let velocity = self.v0 + self.a * elapsed;
                let (sin, cos) = ((self.v0 + 0.5 * self.a * elapsed) * elapsed / radius).sin_cos();
                let step = -0.5 * (to - from) * radius / (velocity * velocity);
                cosine += step * sin;
                sine += step * (1.0 - cos);
            }
            for (column, sum) in columns.iter_mut().zip([sine, cosine]) {
                column.push(sum);
            }
        }
        columns
    }

    /// Sum of squares that is left when the `period` spokes sit anywhere; `None` where they are too many
    /// for the edges. For a fit without offsets.
    ///
    /// The spokes' columns stand on separate rows, so they are taken out of the others instead of the
    /// others out of them. One more place for all is a mix of t₀, v₀ and a; so t₀ is left out.
    pub fn with_spokes(&self, period: usize) -> Option<f64> {
        if period < 2 {
            return None;
        }
        let mut per_spoke = vec![0.0; period];
        let spoke = |row: usize| -> usize {
            let number = self.numbers.get(row).copied().unwrap_or(0.0);
            // A number of an edge: whole, not negative.
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "see above")]
            let number = number.round() as usize;
            number % period.max(1)
        };
        let places: Vec<f64> =
            self.weights.iter().zip(&self.velocities).map(|(weight, velocity)| weight / velocity).collect();
        for (row, place) in places.iter().enumerate() {
            if let Some(sum) = per_spoke.get_mut(spoke(row)) {
                *sum += place * place;
            }
        }
        let without = |values: &[f64]| -> Vec<f64> {
            let mut along = vec![0.0; period];
            for (row, (value, place)) in values.iter().zip(&places).enumerate() {
                if let Some(sum) = along.get_mut(spoke(row)) {
                    *sum += value * place;
                }
            }
            let rows = values.iter().zip(&places).enumerate();
            rows.map(|(row, (value, place))| {
                let at = |list: &[f64]| list.get(spoke(row)).copied().unwrap_or(0.0);
                value - place * at(&along) / at(&per_spoke)
            })
            .collect()
        };
        let directions = self.columns.directions();
        let kept: Vec<Vec<f64>> = directions.iter().skip(1).map(|direction| without(direction)).collect();
        let columns = Columns::new(kept).ok()?;
        let mut left = without(&self.residuals);
        columns.solve(&mut left);
        Some(dot(&left, &left))
    }

    /// How many edges there are.
    pub fn count(&self) -> usize {
        self.residuals.len()
    }
}

/// ∂t/∂c of every edge for v̇ = a − c v², times the weights: v²/2 is lower by c ∫v² ds = c ∫v³ dt, and an edge
/// later by the integral of that over dt/v².
fn air(motion: &Motion, elapsed: &[f64], weights: &[f64]) -> Vec<f64> {
    let Motion { v0, a, .. } = *motion;
    let lost = |t: f64| {
        let gained = a * t;
        let cubes = v0 * v0 * v0 + gained * (1.5 * v0 * v0 + gained * (v0 + 0.25 * gained));
        t * cubes / (v0 + gained).powi(2)
    };
    let mut sum = 0.0;
    let mut column = vec![0.0];
    for pair in elapsed.windows(2) {
        let [from, to] = *pair else { continue };
        sum += GAUSS.iter().map(|part| 0.5 * (to - from) * lost(from + part * (to - from))).sum::<f64>();
        column.push(sum);
    }
    column.iter_mut().zip(weights).for_each(|(value, weight)| *value *= weight);
    column
}

/// Where between the ends of a step an integrand is taken, twice with half the weight (Gauss): ½ ∓ 1/(2√3).
const GAUSS: [f64; 2] = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9];

/// How much of the sum of squares three more columns explain, and how many of them say something new.
///
/// `along` has their products with every orthonormal direction. The columns are the later rows of the
/// first three directions, so their products with each other are among them. Elimination without
/// exchange; a column that is as good as spent is left out.
fn explained(along: &[[f64; 3]], right: [f64; 3]) -> (f64, usize) {
    let Some(([first, second, third], _)) = along.split_first_chunk::<3>() else { return (0.0, 0) };
    let taken = |product: &dyn Fn(&[f64; 3]) -> f64| along.iter().map(product).sum::<f64>();
    let xx = first[0] - taken(&|sums| sums[0] * sums[0]);
    let xy = first[1] - taken(&|sums| sums[0] * sums[1]);
    let xz = first[2] - taken(&|sums| sums[0] * sums[2]);
    let mut yy = second[1] - taken(&|sums| sums[1] * sums[1]);
    let mut yz = second[2] - taken(&|sums| sums[1] * sums[2]);
    let mut zz = third[2] - taken(&|sums| sums[2] * sums[2]);
    let [rx, mut ry, mut rz] = right;
    let (mut gained, mut count) = (0.0, 0);
    if xx > SPENT * first[0] {
        (gained, count) = (rx * rx / xx, 1);
        (yy, yz, ry) = (yy - xy * xy / xx, yz - xy * xz / xx, ry - xy * rx / xx);
        (zz, rz) = (zz - xz * xz / xx, rz - xz * rx / xx);
    }
    if yy > SPENT * second[1] {
        (gained, count) = (gained + ry * ry / yy, count + 1);
        (zz, rz) = (zz - yz * yz / yy, rz - yz * ry / yy);
    }
    if zz > SPENT * third[2] {
        (gained, count) = (gained + rz * rz / zz, count + 1);
    }
    (gained, count)
}

/// The part of a column below which what is left of it is rounding.
const SPENT: f64 = 1e-10;

impl EdgeFit {
    /// The same motion with more edges than were fitted, beginning with those that were; `None` where it
    /// comes to rest before. Only what is asked of a [`LeftOver`] is carried on.
    pub(crate) fn carried_on(mut self, times: &[f64], numbers: &[f64]) -> Option<Self> {
        let first = numbers.first()?;
        self.numbers = numbers.iter().map(|number| number - first).collect();
        let motion = Motion { t0: self.first_time.0, v0: self.first_velocity.0, a: self.acceleration };
        self.velocities = self.numbers.iter().map(|number| motion.velocity(number * self.pitch.0)).collect();
        let late = |(time, number): (&f64, &f64)| time - self.time_at(number * self.pitch.0);
        self.residuals = times.iter().zip(&self.numbers).map(late).collect();
        let sound = self.velocities.iter().all(|velocity| *velocity > 0.0);
        sound.then_some(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acceleration::fit_edges;

    const PITCH: f64 = 0.015;

    /// Errors from −1 to 1 with no pattern worth the name.
    fn rough(k: usize) -> f64 {
        let x = (k as f64 * 12.9898).sin() * 43_758.547;
        2.0 * (x - x.floor()) - 1.0
    }

    /// Fits edges at these times without offsets, and asks what is left.
    fn left_over(times: &[f64]) -> LeftOver {
        let numbers: Vec<f64> = (0..times.len()).map(|k| k as f64).collect();
        let edges = Edges { times, numbers: &numbers, pitch: PITCH, period: 0, tolerance: 0.0 };
        LeftOver::new(&fit_edges(&edges).unwrap(), times, 0).unwrap()
    }

    /// 50 edges of a fall with 0.3 m/s² from 0.2 m/s, 50 µs rough; from edge `from` on later by `late`.
    fn fall(from: usize, late: f64) -> Vec<f64> {
        let time = |k: usize| {
            let x = PITCH * k as f64;
            2.0 * x / ((0.04 + 0.6 * x).sqrt() + 0.2) + 5e-5 * rough(k) + if k < from { 0.0 } else { late }
        };
        (0..50).map(time).collect()
    }

    #[test]
    fn a_scan_for_breaks_gives_what_one_test_gives() {
        let left = left_over(&fall(20, 4e-4));
        let mut heard = Vec::new();
        left.breaks(&mut |edge, test| heard.push((edge, test.clone())));
        assert_eq!(heard.len(), 49);
        for (edge, test) in heard.iter().filter(|heard| (3..47).contains(&heard.0)) {
            let only = |of: &dyn Fn(usize) -> f64| -> Vec<f64> {
                (0..50).map(|k| if k < *edge { 0.0 } else { of(k) }).collect()
            };
            let own = left.test(vec![
                only(&|_| 1.0),
                only(&|k| left.positions[k] / left.velocities[k] / (left.velocities[k] + left.v0)),
                only(&|k| (left.positions[k] / (left.velocities[k] + left.v0)).powi(2) / left.velocities[k]),
            ]);
            let own = own.unwrap();
            assert_eq!((test.numerator, test.denominator), (3, own.denominator), "{edge}");
            assert!((test.f / own.f - 1.0).abs() < 1e-6, "{edge}: {} {}", test.f, own.f);
        }
        let best = heard.iter().max_by(|one, other| one.1.f.total_cmp(&other.1.f)).unwrap();
        assert_eq!(best.0, 20);
    }

    #[test]
    fn spokes_at_any_places_are_as_many_columns() {
        let left = left_over(&fall(50, 0.0));
        for period in [3, 7, 10] {
            let place = |spoke: usize| -> Vec<f64> {
                (0..50).map(|k| if k % period == spoke { 1.0 / left.velocities[k] } else { 0.0 }).collect()
            };
            let own = left.test((1..period).map(place).collect()).unwrap();
            let found = left.with_spokes(period).unwrap();
            assert!((found / own.sum_of_squares - 1.0).abs() < 1e-9, "{period}");
        }
        assert_eq!(left.with_spokes(1), None);
    }

    #[test]
    fn a_torque_that_goes_with_the_turn_is_found_with_its_amplitude() {
        // v² = v₀² + 2 a s + 2 ε R sin(s/R), time by Simpson's rule in 20 steps from edge to edge.
        let (amplitude, radius) = (2e-3, 0.0255);
        let slowness = |s: f64| 1.0 / (0.04 + 0.6 * s + 2.0 * amplitude * radius * (s / radius).sin()).sqrt();
        let mut times = vec![0.0];
        for k in 0..49 {
            let step = PITCH / 20.0;
            let whole: f64 = (0..20)
                .map(|i| {
                    let s = PITCH * f64::from(k) + step * f64::from(i);
                    (slowness(s) + 4.0 * slowness(s + 0.5 * step) + slowness(s + step)) * step / 6.0
                })
                .sum();
            times.push(times[times.len() - 1] + whole);
        }
        let left = left_over(&times);
        let test = left.test(left.turning(Meters(radius))).unwrap();
        assert!((test.coefficients[1] / amplitude - 1.0).abs() < 1e-3, "{:?}", test.coefficients);
        assert!(test.coefficients[0].abs() < 1e-3 * amplitude, "{:?}", test.coefficients);
        assert!(test.f > 1e4);
    }

    #[test]
    fn drag_that_goes_with_the_square_is_no_news() {
        // v̇ = a − c v²: v² = a/c − (a/c − v₀²) e^(−2 c s).
        let (a, c) = (0.3, 0.02);
        let slowness = |s: f64| 1.0 / (a / c - (a / c - 0.04) * (-2.0 * c * s).exp()).sqrt();
        let mut times = vec![0.0];
        for k in 0..49 {
            let s = PITCH * f64::from(k);
            let whole = (slowness(s) + 4.0 * slowness(s + 0.5 * PITCH) + slowness(s + PITCH)) * PITCH / 6.0;
            times.push(times[times.len() - 1] + whole);
        }
        let left = left_over(&times);
        let rms = (left.sum_of_squares() / 50.0).sqrt();
        assert!(rms < 2e-6, "{rms}");
    }
}
