//! Dimensions: what an expression is a quantity of.
//!
//! Powers of kilogram, meter and second, which is all that mechanics needs (SI Brochure, 9th
//! edition, 2.3.3). The radian is the number 1 there (2.3.4, note b), so an angular acceleration
//! in rad/s² has the dimension s⁻².

use core::fmt;
use core::ops::{Div, Mul};

/// kgᵃ·mᵇ·sᶜ.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Dimension {
    /// Power of the kilogram.
    pub kilogram: i32,
    /// Power of the meter.
    pub meter: i32,
    /// Power of the second.
    pub second: i32,
}

const fn dimension(kilogram: i32, meter: i32, second: i32) -> Dimension {
    Dimension { kilogram, meter, second }
}

/// Unit symbols that a derivation file may use. Joule is left out on purpose: a torque is no energy.
const UNITS: [(&str, Dimension); 9] = [
    ("1", Dimension::ONE),
    ("rad", Dimension::ONE),
    ("kg", dimension(1, 0, 0)),
    ("m", dimension(0, 1, 0)),
    ("s", dimension(0, 0, 1)),
    ("N", dimension(1, 1, -2)),
    ("Hz", dimension(0, 0, -1)),
    ("Pa", dimension(1, -1, -2)),
    ("W", dimension(1, 2, -3)),
];

impl Dimension {
    /// The dimension of a plain number.
    pub const ONE: Self = dimension(0, 0, 0);

    /// The dimension raised to a whole power.
    #[must_use]
    pub fn power(self, power: i32) -> Self {
        let raised = |base: i32| base.saturating_mul(power);
        dimension(raised(self.kilogram), raised(self.meter), raised(self.second))
    }

    /// Reads a unit such as `kg*m^2`, `N·m` or `rad/s²`; `None` when it is none.
    pub fn of_unit(unit: &str) -> Option<Self> {
        if unit.trim().is_empty() {
            return None;
        }
        let mut all = Self::ONE;
        let mut divides = false;
        for part in unit.split_inclusive(['*', '·', '/']) {
            let (factor, next_divides) = match part.strip_suffix('/') {
                Some(factor) => (factor, true),
                None => (part.trim_end_matches(['*', '·']), divides),
            };
            let factor = unit_factor(factor.trim())?;
            all = if divides { all / factor } else { all * factor };
            // One solidus only: everything after it divides (SI Brochure, 5.2).
            divides = next_divides;
        }
        Some(all)
    }
}

fn unit_factor(factor: &str) -> Option<Dimension> {
    let (name, power) = match factor.split_once('^') {
        Some((name, power)) => (name, power.parse().ok().filter(|power: &i32| power.abs() <= 12)?),
        None => match factor.strip_suffix('²') {
            Some(name) => (name, 2),
            None => (factor, 1),
        },
    };
    UNITS.iter().find(|(unit, _)| *unit == name).map(|(_, dimension)| dimension.power(power))
}

impl Mul for Dimension {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        let add = |left: i32, right: i32| left.saturating_add(right);
        dimension(
            add(self.kilogram, other.kilogram),
            add(self.meter, other.meter),
            add(self.second, other.second),
        )
    }
}

impl Div for Dimension {
    type Output = Self;

    fn div(self, other: Self) -> Self {
        self * other.power(-1)
    }
}

impl fmt::Display for Dimension {
    /// In base units: `kg·m²/s²`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let units = [("kg", self.kilogram), ("m", self.meter), ("s", self.second)];
        let side = |negative: bool| -> Vec<String> {
            let on_side = units.iter().filter(|(_, power)| *power != 0 && (*power < 0) == negative);
            on_side.map(|(unit, power)| format!("{unit}{}", superscript(power.abs()))).collect()
        };
        let (above, below) = (side(false), side(true));
        let numerator = if above.is_empty() { "1".to_owned() } else { above.join("·") };
        match below.as_slice() {
            [] => f.write_str(&numerator),
            [one] => write!(f, "{numerator}/{one}"),
            several => write!(f, "{numerator}/({})", several.join("·")),
        }
    }
}

/// A power as it is written above the line; 1 is not written.
fn superscript(power: i32) -> String {
    if power == 1 { String::new() } else { raised(power) }
}

/// Digits in superscript.
pub(crate) fn raised(number: i32) -> String {
    let raise = |c: char| match c {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        other => other.to_digit(10).and_then(|digit| char::from_u32(0x2070 + digit)).unwrap_or(other),
    };
    number.to_string().chars().map(raise).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_and_written_in_base_units() {
        for (unit, written) in [
            ("N", "kg·m/s²"),
            ("N*m", "kg·m²/s²"),
            ("N·m", "kg·m²/s²"),
            ("kg*m^2", "kg·m²"),
            ("rad/s^2", "1/s²"),
            ("rad/s²", "1/s²"),
            ("1", "1"),
            ("kg/m*s", "kg/(m·s)"),
        ] {
            assert_eq!(Dimension::of_unit(unit).map(|d| d.to_string()).as_deref(), Some(written), "{unit}");
        }
        for wrong in ["", "kgm", "m^x", "N m", "m^99"] {
            assert_eq!(Dimension::of_unit(wrong), None, "{wrong}");
        }
    }
}
