//! Sine of any angle met here, the same to the last bit on every machine.

use core::f64::consts::{FRAC_PI_2, PI, TAU};

/// Sine by its power series on −π/2 … π/2, within 1e-15 + 3e-16 · |angle|.
///
/// The library's own is not the same everywhere, and carries kilobytes for huge angles.
pub(crate) fn sine(angle: f64) -> f64 {
    let turns = (angle / TAU).round();
    let angle = angle - turns * TAU;
    // sin(π − x) = sin x folds the outer quarters inwards.
    let angle = if angle > FRAC_PI_2 {
        PI - angle
    } else if angle < -FRAC_PI_2 {
        -PI - angle
    } else {
        angle
    };
    // −x² / (k (k − 1)) turns one term into the next; the term after k = 23 is below 2e-19.
    let square = angle * angle;
    let (mut sum, mut k) = (1.0, 23.0);
    while k > 1.0 {
        sum = 1.0 - sum * square / (k * (k - 1.0));
        k -= 2.0;
    }
    angle * sum
}

/// Cosine, as the sine a quarter turn on.
pub(crate) fn cosine(angle: f64) -> f64 {
    sine(angle + FRAC_PI_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_the_library_s_to_fifteen_decimals() {
        for k in -4000..4000 {
            let angle = f64::from(k) * 0.013;
            let allowed = 1e-15 + 3e-16 * angle.abs();
            assert!((sine(angle) - angle.sin()).abs() < allowed, "sin {angle}");
            assert!((cosine(angle) - angle.cos()).abs() < allowed + 1e-15, "cos {angle}");
        }
    }
}
