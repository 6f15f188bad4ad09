//! The shapes and their moments of inertia about the axis each is named with.
//!
//! Source of every formula: OpenStax *University Physics* vol. 1, 10.5, figure 10.20 (and *College
//! Physics 2e*, figure 10.12); the rectangular plate: the same about the axis through its center,
//! perpendicular to it. To add a shape: one variant, one arm in each match below, one row in the
//! outside checks.

use crate::formula::{Formula, Symbol, symbol};
use whorl_words as words;

/// A shape, with the axis it turns about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Solid disc or cylinder about its own axis: ½ M r².
    Disc,
    /// Ring or hollow cylinder about its own axis: ½ M (r₁² + r₂²).
    Ring,
    /// Thin hoop about its own axis: M r².
    Hoop,
    /// Slender rod about its middle, across it: M l²/12.
    RodMiddle,
    /// Slender rod about one end, across it: M l²/3.
    RodEnd,
    /// Rectangular plate or block about the axis through its center, across length and width:
    /// M (l² + w²)/12.
    Plate,
    /// Solid sphere about a diameter: ⅖ M r².
    Sphere,
    /// Thin spherical shell about a diameter: ⅔ M r².
    SphericalShell,
    /// Small mass at a distance from the axis: M D².
    PointMass,
}

/// One length to be measured.
#[derive(Clone, Copy, Debug)]
pub struct Dimension {
    /// What to measure, in words.
    pub words: fn() -> &'static str,
    /// Its symbol in the formula.
    pub symbol: Symbol,
}

/// The object's mass.
pub(super) const MASS: Symbol = symbol("M");
/// Distance of the object's center from the axis of the table.
pub(super) const OFFSET: Symbol = symbol("D");

const RADIUS: Dimension = Dimension { words: words::bodies::radius, symbol: symbol("r") };
/// The radius of a ring's hole.
pub(super) const INNER: Dimension =
    Dimension { words: words::bodies::inner_radius, symbol: crate::formula::symbol_of("r", "1") };
const OUTER: Dimension =
    Dimension { words: words::bodies::outer_radius, symbol: crate::formula::symbol_of("r", "2") };
const LENGTH: Dimension = Dimension { words: words::bodies::length, symbol: symbol("l") };
const WIDTH: Dimension = Dimension { words: words::bodies::width, symbol: symbol("w") };
const DISTANCE: Dimension = Dimension { words: words::bodies::distance, symbol: OFFSET };

impl Shape {
    /// All shapes, in the order a menu shows them.
    pub const ALL: [Self; 9] = [
        Self::Disc,
        Self::Ring,
        Self::Hoop,
        Self::RodMiddle,
        Self::RodEnd,
        Self::Plate,
        Self::Sphere,
        Self::SphericalShell,
        Self::PointMass,
    ];

    /// Plain words for a menu.
    pub fn words(self) -> &'static str {
        match self {
            Self::Disc => words::bodies::disc(),
            Self::Ring => words::bodies::ring(),
            Self::Hoop => words::bodies::hoop(),
            Self::RodMiddle => words::bodies::rod_middle(),
            Self::RodEnd => words::bodies::rod_end(),
            Self::Plate => words::bodies::plate(),
            Self::Sphere => words::bodies::sphere(),
            Self::SphericalShell => words::bodies::spherical_shell(),
            Self::PointMass => words::bodies::point_mass(),
        }
    }

    /// Name in a lab file.
    pub fn key(self) -> &'static str {
        match self {
            Self::Disc => "disc",
            Self::Ring => "ring",
            Self::Hoop => "hoop",
            Self::RodMiddle => "rod-middle",
            Self::RodEnd => "rod-end",
            Self::Plate => "plate",
            Self::Sphere => "sphere",
            Self::SphericalShell => "spherical-shell",
            Self::PointMass => "point-mass",
        }
    }

    /// The shape of that name in a lab file.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.key() == key)
    }

    /// What to measure, in the order a [`super::Body`] takes it.
    pub fn dimensions(self) -> &'static [Dimension] {
        match self {
            Self::Disc | Self::Hoop | Self::Sphere | Self::SphericalShell => &[RADIUS],
            Self::Ring => &[INNER, OUTER],
            Self::RodMiddle | Self::RodEnd => &[LENGTH],
            Self::Plate => &[LENGTH, WIDTH],
            Self::PointMass => &[DISTANCE],
        }
    }

    /// Whether the shape may sit off axis by the parallel-axis theorem. A rod about its end is a rod
    /// about its middle moved by half its length, and a small mass has its distance already.
    pub fn may_sit_off_axis(self) -> bool {
        !matches!(self, Self::RodEnd | Self::PointMass)
    }

    /// The moment of inertia as a formula in the mass M and the dimensions' symbols.
    pub fn formula(self) -> Formula {
        let (r, l) = (RADIUS.symbol, LENGTH.symbol);
        match self {
            Self::Disc => MASS * r.squared() / 2,
            Self::Ring => MASS * (INNER.symbol.squared() + OUTER.symbol.squared()) / 2,
            Self::Hoop => MASS * r.squared(),
            Self::RodMiddle => MASS * l.squared() / 12,
            Self::RodEnd => MASS * l.squared() / 3,
            Self::Plate => MASS * (l.squared() + WIDTH.symbol.squared()) / 12,
            Self::Sphere => Formula::from(2) * MASS * r.squared() / 5,
            Self::SphericalShell => Formula::from(2) * MASS * r.squared() / 3,
            Self::PointMass => MASS * OFFSET.squared(),
        }
    }
}
