//! The local acceleration of free fall.

use crate::quantity::MetersPerSecond2;

/// Standard acceleration of free fall, exact by definition: 3rd CGPM (1901), SI Brochure 2.3.
pub const STANDARD: MetersPerSecond2 = MetersPerSecond2(9.806_65);

/// Normal gravity on the GRS80 ellipsoid, less the free-air decrease with height.
///
/// ```text
/// γ(φ) = γ_e (1 + k sin²φ) / √(1 − e² sin²φ)       Somigliana's closed formula
/// g    ≈ γ − 3.086 × 10⁻⁶ s⁻² · h
/// ```
///
/// γ_e = 9.780 326 771 5 m/s², k = 0.001 931 851 353, e² = 0.006 694 380 022 90: H. Moritz, *Geodetic
/// Reference System 1980*, Bulletin Géodésique 54 (1980) 395. Latitude in degrees, height in meters
/// above sea level. Rocks below change g by up to about 0.0005 m/s² (common practice, no source).
pub fn at(latitude_degrees: f64, height_meters: f64) -> Option<MetersPerSecond2> {
    if latitude_degrees.is_nan() || latitude_degrees.abs() > 90.0 {
        return None;
    }
    if !(-500.0..=9000.0).contains(&height_meters) {
        return None;
    }
    let sine_squared = sine(latitude_degrees.to_radians()).powi(2);
    let normal = 9.780_326_771_5 * (1.0 + 0.001_931_851_353 * sine_squared)
        / (1.0 - 0.006_694_380_022_90 * sine_squared).sqrt();
    Some(MetersPerSecond2(normal - 3.086e-6 * height_meters))
}

/// Sine of an angle between −π/2 and π/2 by its power series, to the last digit or two.
///
/// The library's own carries 8 kB for angles of any size into the page, which has no other use for it.
fn sine(angle: f64) -> f64 {
    let square = angle * angle;
    let (mut sum, mut term, mut k) = (0.0, angle, 1.0);
    while k < 30.0 {
        sum += term;
        term *= -square / ((k + 1.0) * (k + 2.0));
        k += 2.0;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sine_is_the_library_s() {
        for degrees in -90..=90 {
            let angle = f64::from(degrees).to_radians();
            assert!((sine(angle) - angle.sin()).abs() < 4e-16, "{degrees}");
        }
    }

    #[test]
    fn places_that_are_not_on_earth_have_no_answer() {
        assert_eq!(at(91.0, 0.0), None);
        assert_eq!(at(f64::NAN, 0.0), None);
        assert_eq!(at(45.0, 1e6), None);
        assert_eq!(at(45.0, f64::NAN), None);
    }
}
