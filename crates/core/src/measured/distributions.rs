//! Student's t, chi-square and F for whole degrees of freedom, in closed form.
//!
//! For whole degrees of freedom all are finite sums, exact but for rounding: Abramowitz & Stegun,
//! *Handbook of Mathematical Functions* (1964), 26.7.3 and 26.7.4 (t), 26.4.4 and 26.4.5
//! (chi-square), 26.5.16 and 26.6.2 (F). A library's general ones were used first: its inverse of t lost digits from 10⁴
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

/// Probability that Student's t lies beyond ±t. Degrees of freedom are truncated to a whole number;
/// below one, nothing is unlikely.
pub fn student_t_tail(t: f64, degrees_of_freedom: f64) -> f64 {
    let freedom = degrees_of_freedom.floor().min(MANY);
    if t.is_nan() || freedom.is_nan() || freedom < 1.0 {
        return 1.0;
    }
    if t.is_infinite() { 0.0 } else { (1.0 - student_t_between(t.abs(), freedom)).clamp(0.0, 1.0) }
}

/// Degrees of freedom that are as good as infinitely many.
const MANY: f64 = 1e5;

/// Probability that F with these degrees of freedom is at least `f`.
///
/// P = I_x(ν₂/2, ν₁/2) with x = ν₂/(ν₂ + ν₁ f) (A&S 26.6.2), from I_x(a, 1) = xᵃ or, for odd ν₁,
/// I_x(a, ½) = P(|t| ≥ √(ν₁ f)), up by the recurrence I_x(a, b + 1) = I_x(a, b) + xᵃ(1 − x)ᵇ/(b B(a, b))
/// (26.5.16). Without degrees of freedom nothing is unlikely.
pub fn f_tail(f: f64, numerator: usize, denominator: usize) -> f64 {
    let (many, few) = (numerator as f64, (denominator as f64).min(MANY));
    if numerator == 0 || denominator == 0 || f.is_nan() || f <= 0.0 {
        return 1.0;
    }
    let (a, x) = (0.5 * few, few / (few + many * f));
    let power = x.powf(a);
    let (mut b, mut sum, mut term) = if numerator.is_multiple_of(2) {
        (1.0, power, power * (1.0 - x) * a)
    } else {
        // Γ(a + ½)/Γ(a), two degrees of freedom at a time; Γ(3/2) = √π/2.
        let root = core::f64::consts::PI.sqrt();
        let (mut gammas, mut freedom) =
            if denominator.is_multiple_of(2) { (0.5 * root, 2.0) } else { (1.0 / root, 1.0) };
        while freedom < few {
            gammas *= (freedom + 1.0) / freedom;
            freedom += 2.0;
        }
        let first = power * (1.0 - x).sqrt() * gammas * 2.0 / root;
        (0.5, student_t_tail((many * f).sqrt(), few), first)
    };
    while b < 0.5 * many {
        sum += term;
        term *= (1.0 - x) * (a + b) / (b + 1.0);
        b += 1.0;
    }
    sum.clamp(0.0, 1.0)
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
    fn tails_are_those_of_the_tables() {
        // NIST/SEMATECH e-Handbook 1.3.6.7.3, upper critical values of F: 1 % at (3, 12), (2, 10), (9, 20),
        // 5 % at (4, 7), (1, 5), (10, 15).
        let table: [(f64, usize, usize, f64); 6] = [
            (5.953, 3, 12, 0.01),
            (7.559, 2, 10, 0.01),
            (3.457, 9, 20, 0.01),
            (4.120, 4, 7, 0.05),
            (6.608, 1, 5, 0.05),
            (2.544, 10, 15, 0.05),
        ];
        for (f, numerator, denominator, p) in table {
            let found = f_tail(f, numerator, denominator);
            assert!((found / p - 1.0).abs() < 2e-3, "F({numerator}, {denominator}) = {f}: {found}");
        }
        // 1.3.6.7.2: t = 3.169 at 10 degrees of freedom, 0.5 % on each side.
        assert!((student_t_tail(-3.169, 10.0) / 0.01 - 1.0).abs() < 1e-3);
        // One degree of freedom above is t².
        assert!((f_tail(2.25, 1, 7) - student_t_tail(1.5, 7.0)).abs() < 1e-14);
        // Two above are a power: (1 + 2 f/ν)^(−ν/2).
        assert!((f_tail(30.0, 2, 40) / 2.5_f64.powi(-20) - 1.0).abs() < 1e-12);
        assert!((f_tail(1.3, 4, 60_000) - chi_square_tail(5.2, 4.0).unwrap()).abs() < 1e-4);
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
        assert!((f_tail(f64::NAN, 1, 2) - 1.0).abs() < 1e-15);
        assert!((student_t_tail(5.0, 0.0) - 1.0).abs() < 1e-15);
        assert!(f_tail(1e300, 3, 41) < 1e-300);
    }
}
