//! How well two numbers agree.

/// Digits to which `found` agrees with `expected`: −log₁₀ of the relative difference, as the NIST
/// reference sets are scored ("log relative error"), 15 at most because a certified value has no
/// more digits than that.
pub(crate) fn digits(found: f64, expected: f64) -> f64 {
    let relative = ((found - expected) / expected).abs();
    if relative.is_finite() { (-relative.log10()).min(15.0) } else { 0.0 }
}

/// Asserts that `found` agrees with `expected` to at least `least` digits.
#[track_caller]
pub(crate) fn assert_digits(what: &str, found: f64, expected: f64, least: f64) {
    let reached = digits(found, expected);
    assert!(
        reached >= least,
        "{what}: {found:e}, expected {expected:e}: {reached:.1} digits of at least {least}"
    );
}

/// Numbers separated by blanks, as the reference files hold them: text, so that not a digit is lost.
#[track_caller]
pub(crate) fn numbers(text: &str) -> Vec<f64> {
    text.split_whitespace().map(|number| number.parse().unwrap()).collect()
}

/// A file of the reference folder.
#[track_caller]
pub(crate) fn reference(json: &str) -> serde_json::Value {
    serde_json::from_str(json).unwrap()
}

/// The text under `key`.
#[track_caller]
pub(crate) fn text<'a>(value: &'a serde_json::Value, key: &str) -> &'a str {
    value.get(key).and_then(serde_json::Value::as_str).unwrap()
}

#[test]
fn digits_count_what_agrees() {
    assert!((digits(1.001, 1.0) - 3.0).abs() < 1e-9);
    assert!((digits(-2e-7, -2.000_02e-7) - 5.0).abs() < 1e-3);
    assert!((digits(3.0, 3.0) - 15.0).abs() < 1e-12);
    assert!(digits(f64::NAN, 3.0) < 1.0);
    assert!(digits(0.0, 3.0) < 1.0);
}
