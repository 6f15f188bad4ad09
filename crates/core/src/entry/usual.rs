//! What apparatus of a school usually measures: outside of it a number is asked about, never refused.
//!
//! The limits are wide: common practice, no source.

use super::{EntryUnit, uncertain};
use crate::measured::shown::show_number;
use whorl_words as words;

/// A kind of entry that is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usual {
    /// Radius of the drum.
    DrumRadius,
    /// Diameter of the string.
    StringDiameter,
    /// Travel of the string from spoke to spoke.
    TravelPerSpoke,
    /// Local gravity.
    Gravity,
    /// Height a mass falls.
    DropHeight,
    /// Moment of inertia of the pulley.
    PulleyInertia,
    /// Mass hung on the string.
    HangingMass,
    /// Mass of a body on the table.
    BodyMass,
    /// A length of a body on the table, or its distance from the axis.
    BodyLength,
}

/// Why a number is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doubt {
    /// The value is larger than usual. With a number where a prefix of the unit left out or put in by mistake would
    /// explain it: this value, in SI units, would be usual.
    Large(Option<f64>),
    /// The value is smaller than usual; likewise.
    Small(Option<f64>),
    /// The uncertainty is a large part of the value.
    UncertaintyLarge,
    /// No instrument measures exactly.
    UncertaintyZero,
}

/// Above this part of the value an uncertainty is asked about: a ruler or a kitchen balance does better.
const LARGE_PART: f64 = 0.25;

impl Usual {
    /// Least and largest usual value, in SI units.
    pub const fn limits(self) -> (f64, f64) {
        match self {
            Self::DrumRadius => (0.003, 0.3),
            Self::StringDiameter => (1e-4, 6e-3),
            Self::TravelPerSpoke => (0.002, 0.2),
            // On the ground from the equator's mountains to the poles (WGS 84, rounded outward).
            Self::Gravity => (9.76, 9.84),
            Self::DropHeight => (0.1, 5.0),
            Self::PulleyInertia => (1e-8, 1e-3),
            Self::HangingMass => (5e-4, 3.0),
            Self::BodyMass => (2e-3, 30.0),
            Self::BodyLength => (5e-4, 1.5),
        }
    }

    /// What to ask about a value in SI units; `None` where it is usual, or 0.
    pub fn doubt(self, value: f64) -> Option<Doubt> {
        let (least, most) = self.limits();
        let is_usual = |value: f64| (least..=most).contains(&value);
        let meant =
            |factors: [f64; 3]| factors.into_iter().map(|factor| value * factor).find(|v| is_usual(*v));
        if value > most {
            Some(Doubt::Large(meant([1e-3, 1e-2, 1e-1])))
        } else if value > 0.0 && value < least {
            Some(Doubt::Small(meant([1e3, 1e2, 1e1])))
        } else {
            None
        }
    }

    /// The question in words, about what was typed into a field of this unit.
    pub fn question(self, doubt: Doubt, typed: &str, unit: EntryUnit) -> String {
        let typed = typed.trim();
        let has_unit = !uncertain::unit_of(typed).is_empty();
        let typed = if has_unit { typed.to_owned() } else { format!("{typed}\u{202f}{}", unit.own.symbol) };
        let shown = |si: f64| show_number(si, unit.own, 6);
        match doubt {
            Doubt::Large(None) => words::asking::large(&typed, &self.noun()),
            Doubt::Large(Some(meant)) => words::asking::large_meant(&typed, &self.noun(), &shown(meant)),
            Doubt::Small(None) => words::asking::small(&typed, &self.noun()),
            Doubt::Small(Some(meant)) => words::asking::small_meant(&typed, &self.noun(), &shown(meant)),
            Doubt::UncertaintyLarge => words::asking::u_large().to_owned(),
            Doubt::UncertaintyZero => words::asking::u_zero().to_owned(),
        }
    }

    fn noun(self) -> &'static str {
        match self {
            Self::DrumRadius => words::asking::drum_radius(),
            Self::StringDiameter => words::asking::string_diameter(),
            Self::TravelPerSpoke => words::asking::travel_per_spoke(),
            Self::Gravity => words::asking::gravity(),
            Self::DropHeight => words::asking::drop_height(),
            Self::PulleyInertia => words::asking::pulley_inertia(),
            Self::HangingMass => words::asking::hanging_mass(),
            Self::BodyMass => words::asking::body_mass(),
            Self::BodyLength => words::asking::body_length(),
        }
    }

    /// What to ask about a value and its standard uncertainty, in SI units: about the value first.
    pub fn doubt_of_measured(self, value: f64, u: f64) -> Option<Doubt> {
        let of_u = || {
            if u > LARGE_PART * value.abs() && value != 0.0 {
                Some(Doubt::UncertaintyLarge)
            } else {
                (u == 0.0).then_some(Doubt::UncertaintyZero)
            }
        };
        self.doubt(value).or_else(of_u)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gravity;

    #[test]
    fn a_unit_missed_by_a_prefix_is_guessed() {
        assert_eq!(Usual::HangingMass.doubt(150.0), Some(Doubt::Large(Some(0.15))), "150 kg for 150 g");
        assert_eq!(Usual::HangingMass.doubt(0.15), None);
        assert_eq!(Usual::HangingMass.doubt(1.5e-4), Some(Doubt::Small(Some(0.15))));
        assert_eq!(Usual::DrumRadius.doubt(25.0), Some(Doubt::Large(Some(0.025))));
        assert_eq!(Usual::Gravity.doubt(98.1), Some(Doubt::Large(Some(9.81))));
        assert_eq!(Usual::Gravity.doubt(1.62), Some(Doubt::Small(None)), "on the Moon");
        assert_eq!(Usual::HangingMass.doubt(0.0), None, "nothing hung yet");
    }

    #[test]
    fn questions_name_what_was_typed_and_what_may_be_meant() {
        let ask = |typed: &str, value: f64| {
            let doubt = Usual::HangingMass.doubt(value).unwrap();
            Usual::HangingMass.question(doubt, typed, EntryUnit::GRAMS)
        };
        assert_eq!(
            ask("150 kg", 150.0),
            "150 kg is a lot for a hanging mass. Did you mean 150\u{202f}g? If it is right, go on."
        );
        assert!(
            ask("0.15", 0.00015).starts_with("0.15\u{202f}g is little for a hanging mass. Did you mean 150")
        );
        assert!(ask("9000 kg", 9e6).ends_with("Check the number and its unit; if it is right, go on."));
    }

    #[test]
    fn uncertainties_are_asked_about_too() {
        let doubt = |value, u| Usual::DrumRadius.doubt_of_measured(value, u);
        assert_eq!(doubt(0.025, 3e-5), None);
        assert_eq!(doubt(0.025, 0.03), Some(Doubt::UncertaintyLarge));
        assert_eq!(doubt(0.025, 0.0), Some(Doubt::UncertaintyZero));
        assert_eq!(doubt(25.0, 0.0), Some(Doubt::Large(Some(0.025))), "the value first");
    }

    #[test]
    fn gravity_anywhere_on_the_ground_is_usual() {
        for latitude in [0.0, 30.0, 60.0, 90.0] {
            for height in [0.0, 2000.0, 5000.0] {
                let g = gravity::at(latitude, height).unwrap().0;
                assert_eq!(Usual::Gravity.doubt(g), None, "{latitude}°, {height} m: {g}");
            }
        }
    }
}
