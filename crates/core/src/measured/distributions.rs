//! Student's t and chi-square for whole degrees of freedom, in closed form.
//!
//! For whole degrees of freedom both are finite sums, exact but for rounding: Abramowitz & Stegun,
//! *Handbook of Mathematical Functions* (1964), 26.7.3 and 26.7.4 (t), 26.4.4 and 26.4.5
//! (chi-square). A library's general ones were used first: its inverse of t lost digits from 10⁴
//! degrees of freedom on and did not return from 10⁷ on, and the gamma functions behind it cost the
//! page 8 kB. Checked against NIST/SEMATECH e-Handbook 1.3.6.7.2 and 1.3.6.7.4 in the outside checks.

use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

/// Quantile of Student's t distribution: the t with P(T ≤ t) = `p`.
///
/// `p` strictly between 0 and 1; degrees of freedom are truncated to a whole number of 1 or more, or
/// infinite.
pub fn student_t_quantile(p: f64, degrees_of_freedom: f64) -> f64 {
    let freedom = degrees_of_freedom.floor().max(1.0);
    if p.is_nan() || p <= 0.0 || p >= 1.0 || freedom.is_nan() {
        return f64::NAN;
    }
    if p < 0.5 {
        return -student_t_quantile(1.0 - p, freedom);
    }
    if freedom >= 1000.0 {
        let normal = Normal::new(0.0, 1.0).map_or(f64::NAN, |normal| normal.inverse_cdf(p));
        return normal + beyond_normal(normal, freedom);
    }
    let inside = 2.0 * p - 1.0;
    let (mut low, mut high) = (0.0, 2.0);
    while student_t_between(high, freedom) < inside && high < 1e300 {
        (low, high) = (high, 2.0 * high);
    }
    // Halving until the two ends are neighbors: some sixty sums, each over in a microsecond.
    loop {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            return high;
        }
        if student_t_between(middle, freedom) < inside { low = middle } else { high = middle }
    }
}

/// Probability that Student's t lies between −t and t, for whole degrees of freedom.
fn student_t_between(t: f64, freedom: f64) -> f64 {
    // sin θ and cos² θ of tan θ = t/√ν.
    let sine = t / (freedom + t * t).sqrt();
    let cosine_squared = freedom / (freedom + t * t);
    let odd = freedom % 2.0 > 0.5;
    let terms = if odd { (freedom - 3.0) / 2.0 } else { (freedom - 2.0) / 2.0 };
    let (mut sum, mut term, mut k) = (0.0, 1.0, 1.0);
    while k <= terms + 1.0 {
        sum += term;
        let ratio = if odd { 2.0 * k / (2.0 * k + 1.0) } else { (2.0 * k - 1.0) / (2.0 * k) };
        term *= ratio * cosine_squared;
        k += 1.0;
    }
    if odd {
        let angle = (t / freedom.sqrt()).atan();
        core::f64::consts::FRAC_2_PI * (angle + sine * cosine_squared.sqrt() * sum)
    } else {
        sine * sum
    }
}

/// What a t quantile has beyond the normal one: expansion in 1/ν, Abramowitz & Stegun 26.7.5. From
/// 1000 degrees of freedom on good to 1e-12.
fn beyond_normal(normal: f64, degrees_of_freedom: f64) -> f64 {
    let square = normal * normal;
    // Coefficients of x, x³, x⁵ …, each row with its divisor.
    let in_powers = |coefficients: &[f64], divisor: f64| {
        normal * coefficients.iter().rev().fold(0.0, |sum, coefficient| sum * square + coefficient) / divisor
    };
    let terms = [
        in_powers(&[1.0, 1.0], 4.0),
        in_powers(&[3.0, 16.0, 5.0], 96.0),
        in_powers(&[-15.0, 17.0, 19.0, 3.0], 384.0),
        in_powers(&[-945.0, -1920.0, 1482.0, 776.0, 79.0], 92_160.0),
    ];
    terms.iter().rev().fold(0.0, |sum, term| (sum + term) / degrees_of_freedom)
}

/// Probability that chi-square with these degrees of freedom (truncated to a whole number) is at
/// least `chi_square`; `None` below one degree of freedom or for a negative chi-square.
pub fn chi_square_tail(chi_square: f64, degrees_of_freedom: f64) -> Option<f64> {
    let freedom = degrees_of_freedom.floor();
    if freedom.is_nan() || freedom < 1.0 || chi_square.is_nan() || chi_square < 0.0 {
        return None;
    }
    let half = 0.5 * chi_square;
    let odd = freedom % 2.0 > 0.5;
    // e^(−x/2) times the first term of the sum, taken together: apart, one underflows.
    let (mut term, mut k, from_normal) = if odd {
        let first = (-half).exp() * (2.0 * chi_square / core::f64::consts::PI).sqrt();
        (first, 3.0, erfc(half.sqrt()))
    } else {
        ((-half).exp(), 2.0, 0.0)
    };
    let mut sum = 0.0;
    while k <= freedom {
        sum += term;
        term *= chi_square / k;
        k += 2.0;
    }
    Some((from_normal + sum).min(1.0))
}

/// Complementary error function of a number that is not negative, to 14 digits: power series near
/// zero, continued fraction beyond (Abramowitz & Stegun 7.1.6, 7.1.14). The library's has 11.
fn erfc(z: f64) -> f64 {
    let square = z * z;
    let scale = (-square).exp() / core::f64::consts::PI.sqrt();
    if z < 2.0 {
        let (mut sum, mut term, mut k) = (0.0, z, 1.0);
        while k < 120.0 {
            sum += term;
            k += 2.0;
            term *= 2.0 * square / k;
        }
        return 1.0 - 2.0 * scale * sum;
    }
    // From the inside out: z + (k/2)/(z + …).
    let fraction = (1..=80).rev().fold(z, |inner, k| z + 0.5 * f64::from(k) / inner);
    scale / fraction
}

/// Quantile of the chi-square distribution; `None` for degrees of freedom that are not positive.
///
/// `p` in 0.01 … 0.999 999 5: further down the library's absolute tolerance is too coarse.
pub fn chi_square_quantile(p: f64, degrees_of_freedom: f64) -> Option<f64> {
    ChiSquared::new(degrees_of_freedom).ok().map(|distribution| distribution.inverse_cdf(p))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_sums_small_enough_to_check_by_hand() {
        // ν = 1 is the Cauchy distribution: P(|T| ≤ 1) = 1/2. ν = 2: P(|T| ≤ t) = t/√(2 + t²).
        assert!((student_t_between(1.0, 1.0) - 0.5).abs() < 1e-15);
        assert!((student_t_between(1.5, 2.0) - 1.5 / 4.25_f64.sqrt()).abs() < 1e-15);
        // ν = 3: (2/π)(θ + sin θ cos θ) at tan θ = 1, θ = π/4.
        let expected = 0.5 + core::f64::consts::FRAC_1_PI;
        assert!((student_t_between(3.0_f64.sqrt(), 3.0) - expected).abs() < 1e-15);
        // χ² with 2 degrees of freedom: e^(−x/2); with 4: (1 + x/2) e^(−x/2).
        assert!((chi_square_tail(3.0, 2.0).unwrap() - (-1.5_f64).exp()).abs() < 1e-15);
        assert!((chi_square_tail(3.0, 4.0).unwrap() - 2.5 * (-1.5_f64).exp()).abs() < 1e-15);
    }

    #[test]
    fn quantile_and_expansion_meet_at_a_thousand_degrees_of_freedom() {
        for p in [0.6, 0.975, 0.9995] {
            let (below, above) = (student_t_quantile(p, 999.0), student_t_quantile(p, 1000.0));
            assert!(below > above && below - above < 1e-5, "{below} {above}");
        }
    }

    #[test]
    fn what_has_no_answer_has_none() {
        assert!(student_t_quantile(1.0, 5.0).is_nan());
        assert!(student_t_quantile(f64::NAN, 5.0).is_nan());
        assert_eq!(chi_square_tail(1.0, 0.5), None);
        assert_eq!(chi_square_tail(-1.0, 3.0), None);
        assert_eq!(chi_square_tail(1e6, 3.0), Some(0.0));
    }
}
