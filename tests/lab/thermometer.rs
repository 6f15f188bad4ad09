//! A calibration line with all its uncertainties: JCGM 100:2008 (GUM), H.3, Table H.6.
//!
//! Readings t of a thermometer and observed corrections b; the line b = y₁ + y₂ (t − 20 °C).
//! Data as given alike in two public copies of the table; results as printed in H.3.3 to H.3.5.

use whorl_core::fit::{Points, UncertainPoint, fit_line, fit_york};
use whorl_core::inertia::InertiaLine;
use whorl_core::measured::{DegreesOfFreedom, Measured};
use whorl_core::quantity::{KilogramMeters2, NewtonMeters, RadiansPerSecond2};

use crate::digits::assert_digits;

const READINGS: [(f64, f64); 11] = [
    (21.521, -0.171),
    (22.012, -0.169),
    (22.512, -0.166),
    (23.003, -0.159),
    (23.507, -0.164),
    (23.999, -0.165),
    (24.513, -0.156),
    (25.002, -0.157),
    (25.503, -0.159),
    (26.010, -0.161),
    (26.511, -0.160),
];

/// Asserts that `found` is `printed` when rounded as the GUM prints it.
#[track_caller]
fn prints_as(found: f64, digits: usize, printed: &str) {
    assert_eq!(format!("{found:.digits$}"), printed);
}

#[test]
fn the_thermometer_s_line_is_the_one_printed_in_the_gum() {
    let fit = fit_line(&Points::new(READINGS.map(|(t, b)| (t - 20.0, b)).to_vec()).unwrap());
    prints_as(fit.intercept, 4, "-0.1712");
    prints_as(fit.intercept_uncertainty, 4, "0.0029");
    prints_as(fit.slope, 5, "0.00218");
    prints_as(fit.slope_uncertainty, 5, "0.00067");
    let correlation = fit.covariance / (fit.intercept_uncertainty * fit.slope_uncertainty);
    prints_as(correlation, 3, "-0.930");
    prints_as(fit.residual_standard_deviation, 4, "0.0035"); // value from memory, and recomputed below
    assert_eq!(fit.degrees_of_freedom, 9);
}

#[test]
fn the_correction_at_30_degrees_carries_the_covariance() {
    let fit = fit_line(&Points::new(READINGS.map(|(t, b)| (t - 20.0, b)).to_vec()).unwrap());
    let correction = fit.intercept + fit.slope * 10.0;
    // (H.15): u² = u²(y₁) + (t − t₀)² u²(y₂) + 2 (t − t₀) u(y₁, y₂).
    let variance = fit.intercept_uncertainty.powi(2)
        + (10.0 * fit.slope_uncertainty).powi(2)
        + 2.0 * 10.0 * fit.covariance;
    prints_as(correction, 4, "-0.1494");
    prints_as(variance.sqrt(), 4, "0.0041");
    // Without the covariance it would be 0.0073.
    assert!(variance.sqrt() < 0.6 * fit.intercept_uncertainty.hypot(10.0 * fit.slope_uncertainty));
}

#[test]
fn the_band_beside_an_inertia_line_is_as_wide_as_the_gum_s_correction_is_uncertain() {
    let points = READINGS.map(|(t, b)| (t - 20.0, b));
    let drawn = fit_line(&Points::new(points.to_vec()).unwrap());
    let s2 = drawn.residual_standard_deviation.powi(2);
    let weighted: Vec<UncertainPoint> = points
        .iter()
        .map(|&(x, y)| UncertainPoint { x, y, variance_x: 0.0, variance_y: s2, covariance: 0.0 })
        .collect();
    let fit = fit_york(&weighted, drawn.slope).unwrap();
    let freedom = DegreesOfFreedom::from_count(drawn.degrees_of_freedom);
    let line = InertiaLine {
        points: Vec::new(),
        moment_of_inertia: Measured::with_degrees_of_freedom(
            KilogramMeters2(fit.slope),
            KilogramMeters2(fit.slope_uncertainty),
            freedom,
        )
        .unwrap(),
        friction_torque: Measured::with_degrees_of_freedom(
            NewtonMeters(fit.intercept),
            NewtonMeters(fit.intercept_uncertainty),
            freedom,
        )
        .unwrap(),
        covariance: fit.covariance,
        chi_square: None,
        fit,
        drawn,
    };
    let at_30 = line.torque_at(RadiansPerSecond2(10.0)).unwrap();
    prints_as(at_30.value().0, 4, "-0.1494");
    prints_as(at_30.standard_uncertainty().0, 4, "0.0041");
    // Narrowest at the mean reading, where it is s/√n.
    let at_mean = line.torque_at(RadiansPerSecond2(4.008_454_545_454_55)).unwrap();
    assert!((at_mean.standard_uncertainty().0 - (s2 / 11.0).sqrt()).abs() < 1e-9);
}

#[test]
fn the_thermometer_s_line_has_the_exact_solution_of_its_data() {
    // The same least squares in exact fractions, rounded to 16 digits. Corrections of three digits
    // whose mean is taken out leave about 13 digits.
    const LEAST: f64 = 12.0;
    let fit = fit_line(&Points::new(READINGS.map(|(t, b)| (t - 20.0, b)).to_vec()).unwrap());
    assert_digits("y1", fit.intercept, -0.171_203_790_131_35, LEAST);
    assert_digits("u(y1)", fit.intercept_uncertainty, 0.002_877_597_835_159_954, LEAST);
    assert_digits("y2", fit.slope, 0.002_182_697_739_887_278, LEAST);
    assert_digits("u(y2)", fit.slope_uncertainty, 0.000_667_938_773_227_831_7, LEAST);
    assert_digits("u(y1, y2)", fit.covariance, -1.788_340_748_673_916e-6, LEAST);
    assert_digits("s", fit.residual_standard_deviation, 0.003_497_563_963_505_284, LEAST);
    assert_digits("residual 1", fit.residuals[0], -0.003_116_093_131_018_573, LEAST);
    assert_digits("residual 11", fit.residuals[10], -0.003_007_754_853_056_09, LEAST);
}

#[test]
fn about_the_mean_reading_slope_and_intercept_are_uncorrelated() {
    // GUM H.3.5.
    let mean = READINGS.iter().map(|reading| reading.0).sum::<f64>() / 11.0;
    assert!((mean - 24.008_454_545_454_55).abs() < 1e-12);
    let fit = fit_line(&Points::new(READINGS.map(|(t, b)| (t - mean, b)).to_vec()).unwrap());
    let correlation = fit.covariance / (fit.intercept_uncertainty * fit.slope_uncertainty);
    assert!(correlation.abs() < 1e-12, "{correlation}");
}
