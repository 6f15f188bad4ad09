//! Numbers as people read them: two digits in the uncertainty, the value rounded to match
//! (GUM 7.2.6), unit and power of ten beside them (SI Brochure 5.4), with the decimal mark in use. What programs
//! read is never written here.

use super::Measured;
use super::coverage::CoverageInterval;
use super::decimal::Decimal;
use crate::quantity::Quantity;
use whorl_words as words;

/// How a quantity is written: number × 10^`factor` `symbol`, where one `symbol` is 10^`prefix` SI units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DisplayUnit {
    /// What stands after the number, for example `mm`.
    pub symbol: &'static str,
    /// Power of ten the symbol's prefix stands for: −3 for mm.
    pub prefix: i32,
    /// Power of ten written out between number and symbol: −3 in `7.04 × 10⁻³ kg·m²`.
    pub factor: i32,
}

impl DisplayUnit {
    /// Millimeters.
    pub const MILLIMETERS: Self = Self::prefixed("mm", -3);
    /// Grams (the SI unit is the kilogram).
    pub const GRAMS: Self = Self::prefixed("g", -3);
    /// Millinewton meters.
    pub const MILLINEWTON_METERS: Self = Self::prefixed("mN·m", -3);

    /// A unit whose symbol carries its prefix.
    pub const fn prefixed(symbol: &'static str, prefix: i32) -> Self {
        Self { symbol, prefix, factor: 0 }
    }

    /// The SI unit itself.
    pub const fn si<Q: Quantity>() -> Self {
        Self::prefixed(Q::UNIT, 0)
    }

    /// The SI unit with the power of ten, a multiple of three, that puts 1 to 999 before it.
    pub fn engineering<Q: Quantity>(value: Q) -> Self {
        let magnitude = value.si().abs();
        let factor = if magnitude > 0.0 && magnitude.is_finite() {
            (Decimal::new(magnitude).map_or(0, |digits| digits.leading_place())).div_euclid(3) * 3
        } else {
            0
        };
        Self { symbol: Q::UNIT, prefix: 0, factor }
    }

    /// The number shown for a value in SI units, unrounded; what a chart's axis needs.
    pub fn number(self, si: f64) -> f64 {
        let power = self.prefix + self.factor;
        if power < 0 { si * 10f64.powi(-power) } else { si / 10f64.powi(power) }
    }

    /// Power of ten and symbol, as after a number or in an axis caption: `10⁻³ kg·m²`.
    pub fn caption(self) -> String {
        match (self.factor, self.symbol) {
            (0, symbol) => symbol.to_owned(),
            (factor, symbol) => format!("10{}\u{202f}{symbol}", superscript(factor)).trim_end().to_owned(),
        }
    }

    /// Digits with the decimal mark in use, unit and power of ten behind them.
    fn after(self, digits: &str) -> String {
        let digits = words::with_mark(digits);
        match (self.factor, self.symbol) {
            (0, "") => digits,
            (0, symbol) => format!("{digits}\u{202f}{symbol}"),
            _ => format!("{digits}\u{202f}×\u{202f}{}", self.caption()),
        }
    }

    fn digits(self, si: f64) -> Option<Decimal> {
        Decimal::new(si).map(|digits| digits.shifted(-(self.prefix + self.factor)))
    }
}

/// A measured value ready for the eye.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Value with unit: `7.043 × 10⁻³ kg·m²`.
    pub value: String,
    /// Standard uncertainty with unit; `None` where it is zero.
    pub uncertainty: Option<String>,
}

impl core::fmt::Display for Shown {
    /// `7.043 × 10⁻³ kg·m², u = 0.021 × 10⁻³ kg·m²`: u is named, since ± is kept for intervals
    /// (GUM 7.2.2, note).
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match &self.uncertainty {
            Some(uncertainty) => write!(f, "{}, u = {uncertainty}", self.value),
            None => f.write_str(&self.value),
        }
    }
}

/// Digits shown of a value that has no uncertainty to tell how many matter.
pub const PLAIN_DIGITS: i32 = 6;

/// Below this part of the value an uncertainty is one of the computer's arithmetic: numbers were made up, or typed,
/// that lie on a line to their last digit.
const ARITHMETIC: f64 = 1e-10;

/// Rounds a measured value for display.
pub fn show<Q: Quantity>(measured: &Measured<Q>, unit: DisplayUnit) -> Shown {
    let (value, u) = (measured.value().si(), measured.standard_uncertainty().si());
    if u > 0.0 && u < ARITHMETIC * value.abs() {
        // Rounding the value to match would show more digits than it has.
        let place = unit.digits(u).map_or(0, |digits| digits.leading_place());
        let own = DisplayUnit { factor: unit.factor + place.div_euclid(3) * 3, ..unit };
        let uncertainty = rounded_uncertainty(u, own).map(|u| own.after(&u.to_plain()));
        return Shown { value: show_number(value, unit, PLAIN_DIGITS), uncertainty };
    }
    match rounded_uncertainty(measured.standard_uncertainty().si(), unit) {
        Some(u) => Shown {
            value: unit.after(&to_place(value, unit, u.last_place())),
            uncertainty: Some(unit.after(&u.to_plain())),
        },
        None => Shown { value: show_number(value, unit, PLAIN_DIGITS), uncertainty: None },
    }
}

/// A bare number in at most `significant` digits, trailing zeros dropped, with unit.
pub fn show_number(si: f64, unit: DisplayUnit, significant: i32) -> String {
    let Some(digits) = unit.digits(si) else { return "—".to_owned() };
    if digits.is_zero() {
        return unit.after("0");
    }
    let plain = if digits.last_place() < digits.leading_place() - significant + 1 {
        digits.rounded_to_significant(significant).to_plain()
    } else {
        digits.to_plain()
    };
    let trimmed =
        if plain.contains('.') { plain.trim_end_matches('0').trim_end_matches('.') } else { &plain };
    unit.after(trimmed)
}

/// A bare standard uncertainty with unit, in two digits: a zero at the end is one of them, as in `0.010`
/// (GUM 7.2.6).
pub fn show_uncertainty(si: f64, unit: DisplayUnit) -> String {
    match rounded_uncertainty(si, unit) {
        Some(digits) => unit.after(&digits.to_plain()),
        None => show_number(si, unit, 2),
    }
}

/// The ends of a coverage interval, rounded to the place of its standard uncertainty:
/// `(7.001 to 7.085) × 10⁻³ kg·m²`, in brackets since the unit belongs to both ends (NIST SP 811, section 7.7, from
/// memory).
pub fn show_interval<Q: Quantity>(interval: &CoverageInterval<Q>, unit: DisplayUnit) -> String {
    let (low, high) = (interval.low.si(), interval.high.si());
    let u = interval.expanded_uncertainty.si() / interval.coverage_factor;
    match rounded_uncertainty(u, unit) {
        Some(u) => {
            let place = u.last_place();
            let ends = words::chain::interval(&to_place(low, unit, place), &to_place(high, unit, place));
            let brackets = unit.factor != 0 || !unit.symbol.is_empty();
            unit.after(&if brackets { format!("({ends})") } else { ends })
        }
        None => show_number(low, unit, PLAIN_DIGITS),
    }
}

/// Value and expanded uncertainty U: `(7.043 ± 0.042) × 10⁻³ kg·m²`, U in two digits and the value rounded to match. The
/// coverage factor must stand beside it (GUM 7.2.3).
pub fn show_expanded<Q: Quantity>(value: Q, interval: &CoverageInterval<Q>, unit: DisplayUnit) -> String {
    match rounded_uncertainty(interval.expanded_uncertainty.si(), unit) {
        Some(expanded) => {
            let value = to_place(value.si(), unit, expanded.last_place());
            let both = format!("{value}\u{202f}±\u{202f}{}", expanded.to_plain());
            let brackets = unit.factor != 0 || !unit.symbol.is_empty();
            unit.after(&if brackets { format!("({both})") } else { both })
        }
        None => show_number(value.si(), unit, PLAIN_DIGITS),
    }
}

fn rounded_uncertainty(u: f64, unit: DisplayUnit) -> Option<Decimal> {
    unit.digits(u).filter(|digits| !digits.is_zero()).map(|digits| digits.rounded_to_significant(2))
}

fn to_place(si: f64, unit: DisplayUnit, place: i32) -> String {
    unit.digits(si).map_or_else(|| "—".to_owned(), |digits| digits.rounded_to(place).to_plain())
}

/// An integer in raised digits: −3 becomes `⁻³`.
pub fn superscript(number: i32) -> String {
    number
        .to_string()
        .chars()
        .map(|character| match character {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            digit => char::from_u32(0x2070 + digit.to_digit(10).unwrap_or(0)).unwrap_or(digit),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measured::coverage::Probability;
    use crate::quantity::{KilogramMeters2, Kilograms, Meters};
    use whorl_words::DecimalMark;

    fn inertia(value: f64, u: f64) -> Measured<KilogramMeters2> {
        Measured::new(KilogramMeters2(value), KilogramMeters2(u)).unwrap()
    }

    fn plain(text: &str) -> String {
        text.replace('\u{202f}', " ")
    }

    #[test]
    fn the_uncertainty_has_two_digits_and_the_value_matches() {
        let measured = inertia(7.043_21e-3, 2.07e-5);
        let shown = show(&measured, DisplayUnit::engineering(measured.value()));
        assert_eq!(plain(&shown.to_string()), "7.043 × 10⁻³ kg·m², u = 0.021 × 10⁻³ kg·m²");
    }

    #[test]
    fn the_gum_s_own_example_is_rounded_as_printed() {
        // JCGM 100:2008 7.2.6: u = 27 mΩ, 10.057 62 Ω is rounded to 10.058 Ω; u 28.05 kHz is 28 kHz.
        let ohms = DisplayUnit::prefixed("Ω", 0);
        let resistance = Measured::new(Meters(10.057_62), Meters(0.027)).unwrap();
        assert_eq!(plain(&show(&resistance, ohms).value), "10.058 Ω");
        let frequency = Measured::new(Meters(0.0), Meters(28.05)).unwrap();
        assert_eq!(plain(&show(&frequency, DisplayUnit::prefixed("kHz", 0)).uncertainty.unwrap()), "28 kHz");
    }

    #[test]
    fn a_large_uncertainty_blanks_the_digits_it_covers() {
        let measured = inertia(0.123, 1.26);
        assert_eq!(
            plain(&show(&measured, DisplayUnit::si::<KilogramMeters2>()).to_string()),
            "0.1 kg·m², u = 1.3 kg·m²"
        );
    }

    #[test]
    fn the_digits_of_arithmetic_are_not_shown() {
        let speed = Measured::new(Meters(0.210_000_000_000_000_05), Meters(1.9e-15)).unwrap();
        assert_eq!(
            plain(&show(&speed, DisplayUnit::si::<Meters>()).to_string()),
            "0.21 m, u = 1.9 × 10⁻¹⁵ m"
        );
        assert_eq!(plain(&show(&speed, DisplayUnit::MILLIMETERS).to_string()), "210 mm, u = 1.9 × 10⁻¹² mm");
        let exact = Measured::new(Meters(0.0), Meters(1.9e-15)).unwrap();
        assert_eq!(plain(&show(&exact, DisplayUnit::si::<Meters>()).value), "0.0000000000000000 m");
    }

    #[test]
    fn prefixes_move_the_decimal_point_exactly() {
        let mass = Measured::new(Kilograms(0.0502), Kilograms(0.0001)).unwrap();
        assert_eq!(plain(&show(&mass, DisplayUnit::GRAMS).to_string()), "50.20 g, u = 0.10 g");
        assert_eq!(plain(&show_number(0.0255, DisplayUnit::MILLIMETERS, 6)), "25.5 mm");
        assert_eq!(plain(&show_number(0.0, DisplayUnit::MILLIMETERS, 6)), "0 mm");
        assert_eq!(plain(&show_number(1e-5, DisplayUnit::MILLIMETERS, 2)), "0.01 mm");
        // The zero of an uncertainty tells how well it is known.
        assert_eq!(plain(&show_uncertainty(1e-5, DisplayUnit::MILLIMETERS)), "0.010 mm");
        assert_eq!(plain(&show_uncertainty(1.64e-5, DisplayUnit::MILLIMETERS)), "0.016 mm");
        assert_eq!(plain(&show_uncertainty(0.0, DisplayUnit::MILLIMETERS)), "0 mm");
    }

    #[test]
    fn an_interval_is_rounded_like_its_uncertainty() {
        let interval = inertia(7.043e-3, 2.1e-5).coverage_interval(Probability::P95);
        assert_eq!(
            plain(&show_interval(&interval, DisplayUnit::engineering(KilogramMeters2(7e-3)))),
            "(7.002 to 7.084) × 10⁻³ kg·m²"
        );
    }

    #[test]
    fn an_expanded_uncertainty_stands_behind_its_value() {
        let measured = inertia(7.043_21e-3, 2.1e-5);
        let interval = measured.coverage_interval(Probability::P95);
        let shown = show_expanded(measured.value(), &interval, DisplayUnit::engineering(measured.value()));
        // U = 1.96 · 0.021 = 0.041 16.
        assert_eq!(plain(&shown), "(7.043 ± 0.041) × 10⁻³ kg·m²");
        let exact = inertia(7.0e-3, 0.0);
        let interval = exact.coverage_interval(Probability::P95);
        let shown = show_expanded(exact.value(), &interval, DisplayUnit::engineering(exact.value()));
        assert_eq!(plain(&shown), "7 × 10⁻³ kg·m²");
    }

    #[test]
    fn numbers_follow_the_decimal_mark() {
        let measured = inertia(7.043_21e-3, 2.1e-5);
        let unit = DisplayUnit::engineering(measured.value());
        words::use_decimal_mark(DecimalMark::Comma);
        let shown = show(&measured, unit).to_string();
        let interval = show_interval(&measured.coverage_interval(Probability::P95), unit);
        let number = show_number(-0.0255, DisplayUnit::MILLIMETERS, 6);
        words::use_decimal_mark(DecimalMark::Point);
        assert_eq!(plain(&shown), "7,043 × 10⁻³ kg·m², u = 0,021 × 10⁻³ kg·m²");
        assert_eq!(plain(&interval), "(7,002 to 7,084) × 10⁻³ kg·m²");
        assert_eq!(plain(&number), "−25,5 mm");
    }

    #[test]
    fn powers_of_ten_go_in_threes() {
        assert_eq!(DisplayUnit::engineering(KilogramMeters2(1.0e-3)).factor, -3);
        assert_eq!(DisplayUnit::engineering(KilogramMeters2(9.99e-4)).factor, -6);
        assert_eq!(DisplayUnit::engineering(KilogramMeters2(12.0)).factor, 0);
        assert_eq!(DisplayUnit::engineering(KilogramMeters2(0.0)).factor, 0);
        assert_eq!(superscript(-12), "⁻¹²");
    }
}
