//! A line or a parabola through neighbouring readings, allowed a little bend.
//!
//! The basis is built on the spot from polynomials orthogonal over the readings (Forsythe 1957,
//! *J. SIAM* 5:74): every coefficient stands alone, there is no system of equations to solve, and the
//! highest term can be held back by itself. Held back is the term one above the motion's own: drag
//! bends a free fall a little, a hand a lot.

/// One reading, with its weight: the variance of the value is noise² / weight.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    /// In s.
    pub(super) time: f64,
    /// In spokes, m, rad, m/s or rad/s.
    pub(super) value: f64,
    /// At most 1.
    pub(super) weight: f64,
}

/// Change of acceleration over a stretch, as a part of the acceleration, that drag makes plausible.
const BEND: f64 = 0.05;

/// Polynomial number j is p_j = (u − shift) p_{j−1} − drop p_{j−2}, with p_0 = 1.
#[derive(Clone, Copy, Debug, Default)]
struct Term {
    shift: f64,
    drop: f64,
    /// Σ w p², with what holds the term back added.
    norm: f64,
    coefficient: f64,
}

/// The fitted curve.
#[derive(Clone, Debug)]
pub(super) struct Curve {
    center: f64,
    half: f64,
    degree: usize,
    terms: [Term; 4],
    /// Σ w (observed − fitted)².
    pub(super) squares: f64,
    count: usize,
}

/// The curve at one moment.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot {
    pub(super) value: f64,
    /// Rate of change.
    pub(super) slope: f64,
    /// Variance of `value` per noise².
    pub(super) spread: f64,
}

impl Curve {
    /// Fits a polynomial of `degree` (0, 1 or 2) and one term more, which a penalty `hold` × coefficient²
    /// holds back: `INFINITY` leaves it out.
    pub(super) fn fit(points: &[Point], degree: usize, hold: f64) -> Self {
        let first = points.first().map_or(0.0, |point| point.time);
        let last = points.last().map_or(1.0, |point| point.time);
        let center = f64::midpoint(first, last);
        let half = if last > first { 0.5 * (last - first) } else { 1.0 };
        // u, p_{j−1}, p_j, what is left of the value.
        let mut rows: Vec<[f64; 4]> =
            points.iter().map(|point| [(point.time - center) / half, 0.0, 1.0, point.value]).collect();
        let mut terms = [Term::default(); 4];
        let (mut shift, mut drop, mut norm_before) = (0.0, 0.0, 0.0);
        for (power, term) in terms.iter_mut().enumerate().take(degree + 2) {
            let (mut norm, mut tilt, mut along) = (0.0, 0.0, 0.0);
            for (row, point) in rows.iter_mut().zip(points) {
                let [u, before, now, left] = *row;
                let next = if power == 0 { 1.0 } else { (u - shift) * now - drop * before };
                *row = [u, now, next, left];
                norm += point.weight * next * next;
                tilt += point.weight * next * next * u;
                along += point.weight * next * left;
            }
            let held = norm + if power > degree { hold } else { 0.0 };
            // Fewer different times than terms: what is left of the polynomial is rounding.
            let coefficient = if norm > 1e-20 * points.len() as f64 { along / held } else { 0.0 };
            *term = Term { shift, drop, norm: held, coefficient };
            for row in &mut rows {
                row[3] -= coefficient * row[2];
            }
            shift = if norm > 0.0 { tilt / norm } else { 0.0 };
            drop = if norm_before > 0.0 { norm / norm_before } else { 0.0 };
            norm_before = norm;
        }
        let squares = rows.iter().zip(points).map(|(row, point)| point.weight * row[3] * row[3]).sum();
        Self { center, half, degree, terms, squares, count: points.len() }
    }

    /// The penalty that suits this curve's acceleration and a noise.
    pub(super) fn hold(&self, noise: f64) -> f64 {
        // A jerk of BEND·a/(2h) adds jerk·h³/6 u³ to ½ a h² u², jerk·h²/2 u² to a h u, and jerk·h u to a.
        let part = 2.0 * (self.degree as f64 + 1.0);
        (part * noise / (BEND * self.leading())).powi(2)
    }

    fn leading(&self) -> f64 {
        self.terms.get(self.degree).map_or(0.0, |term| term.coefficient)
    }

    /// Acceleration, in units of the value per s² (of a position), per s (of a velocity) or as it is.
    pub(super) fn acceleration(&self) -> f64 {
        match self.degree {
            2 => 2.0 * self.leading() / (self.half * self.half),
            1 => self.leading() / self.half,
            _ => self.leading(),
        }
    }

    /// How many of its own standard errors the acceleration is away from none.
    pub(super) fn significance(&self, noise: f64) -> f64 {
        let norm = self.terms.get(self.degree).map_or(0.0, |term| term.norm);
        self.leading().abs() * norm.sqrt() / noise
    }

    /// The moment in its middle.
    pub(super) fn center(&self) -> f64 {
        self.center
    }

    /// Readings fitted beyond those that the polynomial of its degree takes up.
    pub(super) fn freedom(&self) -> f64 {
        self.count as f64 - self.degree as f64 - 1.0
    }

    /// The polynomials at each point, scaled so that what the curve would take out of a column of numbers y
    /// is, in Σ w y², the sum of (Σ w y b)² over them.
    pub(super) fn basis(&self, points: &[Point]) -> Vec<[f64; 4]> {
        let mut rows = Vec::with_capacity(points.len());
        for point in points {
            let u = (point.time - self.center) / self.half;
            let mut row = [0.0; 4];
            let (mut before, mut now) = (0.0, 0.0);
            for (power, (term, entry)) in self.terms.iter().zip(&mut row).enumerate().take(self.degree + 2) {
                let next = if power == 0 { 1.0 } else { (u - term.shift) * now - term.drop * before };
                (before, now) = (now, next);
                if term.norm > 0.0 {
                    *entry = now / term.norm.sqrt();
                }
            }
            rows.push(row);
        }
        rows
    }

    /// The curve at a moment.
    pub(super) fn at(&self, time: f64) -> Spot {
        let u = (time - self.center) / self.half;
        let mut spot = Spot { value: 0.0, slope: 0.0, spread: 0.0 };
        let (mut before, mut now, mut rate_before, mut rate) = (0.0, 0.0, 0.0, 0.0);
        for (power, term) in self.terms.iter().enumerate().take(self.degree + 2) {
            let next = if power == 0 { 1.0 } else { (u - term.shift) * now - term.drop * before };
            let next_rate =
                if power == 0 { 0.0 } else { now + (u - term.shift) * rate - term.drop * rate_before };
            (before, now, rate_before, rate) = (now, next, rate, next_rate);
            spot.value += term.coefficient * now;
            spot.slope += term.coefficient * rate / self.half;
            if term.norm > 0.0 {
                spot.spread += now * now / term.norm;
            }
        }
        spot
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(count: u32, value: impl Fn(f64) -> f64) -> Vec<Point> {
        let times = (0..count).map(|k| 1e6 + 0.03 * f64::from(k) + 0.005 * f64::from(k % 3));
        times.map(|time| Point { time, value: value(time - 1e6), weight: 1.0 / (1.0 + time - 1e6) }).collect()
    }

    #[test]
    fn an_exact_parabola_is_given_back_late_on_the_clock_too() {
        let all = points(20, |t| 3.0 - 2.0 * t + 0.7 * t * t);
        let curve = Curve::fit(&all, 2, f64::INFINITY);
        assert!((curve.acceleration() - 1.4).abs() < 1e-7, "{}", curve.acceleration());
        let spot = curve.at(1e6 + 1.0);
        assert!((spot.value - 1.7).abs() < 1e-8 && (spot.slope + 0.6).abs() < 1e-7, "{spot:?}");
        assert!(curve.squares < 1e-16);
    }

    #[test]
    fn a_line_has_its_slope_as_acceleration() {
        let curve = Curve::fit(&points(5, |t| 0.2 + 0.4 * t), 1, f64::INFINITY);
        assert!((curve.acceleration() - 0.4).abs() < 1e-8);
        assert!((curve.at(1e6 + 0.5).slope - 0.4).abs() < 1e-8);
    }

    #[test]
    fn the_term_held_back_follows_a_cubic_only_when_let_go() {
        let all = points(30, |t| t * t + t * t * t);
        assert!(Curve::fit(&all, 2, 0.0).squares < 1e-14);
        assert!(Curve::fit(&all, 2, f64::INFINITY).squares > 1e-4);
    }

    #[test]
    fn the_spread_inside_is_that_of_three_coefficients_in_all() {
        let all = points(12, |t| t);
        let curve = Curve::fit(&all, 2, f64::INFINITY);
        let trace: f64 = all.iter().map(|point| point.weight * curve.at(point.time).spread).sum();
        assert!((trace - 3.0).abs() < 1e-9, "{trace}");
    }

    #[test]
    fn one_point_or_none_makes_a_flat_curve() {
        for count in 0..2 {
            let curve = Curve::fit(&points(count, |_| 5.0), 2, f64::INFINITY);
            assert!(curve.acceleration().abs() < 1e-300);
            assert!(curve.at(1.0).value.is_finite());
        }
    }
}
