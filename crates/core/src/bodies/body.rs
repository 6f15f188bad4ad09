//! One part of an object, measured; and the sum of several.
//!
//! ```text
//! I = Σ nᵢ (I_c,ᵢ + Mᵢ Dᵢ²)          parallel-axis theorem, moments about one axis add
//! ```
//!
//! Source: OpenStax *University Physics* vol. 1, 10.5, equations 10.20 and following. The
//! uncertainty of each measured length and mass is propagated by moving it up and down by its
//! standard uncertainty (JCGM 100:2008 5.1.3, note 2); parts measured separately are independent.

use super::shape::{INNER, MASS, OFFSET, Shape};
use crate::formula::{Binding, Formula, Symbol};
use crate::measured::shown::{DisplayUnit, show_number};
use crate::measured::{Measured, MeasuredError, quadrature};
use crate::quantity::{KilogramMeters2, Kilograms, Meters};
use core::num::NonZeroU32;
use whorl_words as words;

/// One measured part, or several alike at the same distance from the axis.
///
/// Invariant: mass and dimensions are positive (inner radius and distances may be zero), the
/// inner radius is not above the outer one.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    shape: Shape,
    count: NonZeroU32,
    mass: Measured<Kilograms>,
    dimensions: Vec<Measured<Meters>>,
    offset: Option<Measured<Meters>>,
}

/// What is wrong with a body.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BodyError {
    /// Not entered, zero or negative.
    #[error("{}", words::bodies::enter_mass(&.0.words()))]
    Mass(Shape),
    /// Not entered, zero or negative.
    #[error("{}", words::bodies::enter_dimension(.dimension, &.shape.words()))]
    Dimension {
        /// Which length.
        dimension: &'static str,
        /// Of which shape.
        shape: Shape,
    },
    /// The ring is inside out.
    #[error("{}", words::bodies::ring_inside_out())]
    RingInsideOut,
    /// Off axis, but the shape has no center to move.
    #[error("{}", words::bodies::not_off_axis(&.0.words()))]
    OffAxis(Shape),
    /// Negative.
    #[error("{}", words::bodies::distance_not_negative(&.0.words()))]
    Offset(Shape),
}

impl Body {
    /// Checks a measured body; `dimensions` in the order of [`Shape::dimensions`], `None` where one
    /// was not entered.
    ///
    /// # Errors
    /// Names the first entry that is missing or impossible.
    pub fn new(
        shape: Shape,
        count: NonZeroU32,
        mass: Option<Measured<Kilograms>>,
        dimensions: &[Option<Measured<Meters>>],
        offset: Option<Measured<Meters>>,
    ) -> Result<Self, BodyError> {
        let mass = mass.filter(|mass| mass.value().0 > 0.0).ok_or(BodyError::Mass(shape))?;
        let may_be_zero = |symbol: Symbol| symbol == INNER.symbol || symbol == OFFSET;
        let dimensions = shape
            .dimensions()
            .iter()
            .enumerate()
            .map(|(index, dimension)| {
                let least_allowed = |length: &Measured<Meters>| {
                    length.value().0 > 0.0 || (may_be_zero(dimension.symbol) && length.value().0 >= 0.0)
                };
                dimensions
                    .get(index)
                    .copied()
                    .flatten()
                    .filter(least_allowed)
                    .ok_or(BodyError::Dimension { dimension: (dimension.words)(), shape })
            })
            .collect::<Result<Vec<_>, _>>()?;
        if let (Shape::Ring, [inner, outer]) = (shape, dimensions.as_slice())
            && inner.value() > outer.value()
        {
            return Err(BodyError::RingInsideOut);
        }
        if let Some(offset) = &offset {
            if !shape.may_sit_off_axis() {
                return Err(BodyError::OffAxis(shape));
            }
            if offset.value().0 < 0.0 {
                return Err(BodyError::Offset(shape));
            }
        }
        Ok(Self { shape, count, mass, dimensions, offset })
    }

    /// The shape.
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// How many alike, at the same distance.
    pub fn count(&self) -> NonZeroU32 {
        self.count
    }

    /// The moment of inertia about the table's axis as a formula.
    pub fn formula(&self) -> Formula {
        let centered = self.shape.formula();
        let one = if self.offset.is_some() { centered + MASS * OFFSET.squared() } else { centered };
        if self.count.get() > 1 { Formula::from(self.count.get()) * one } else { one }
    }

    /// What the formula's symbols stand for.
    pub fn bindings(&self) -> Vec<Binding> {
        let length = |meters: f64| show_number(meters, DisplayUnit::si::<Meters>(), 6);
        let mut bindings = vec![Binding {
            symbol: MASS,
            meaning: words::bodies::mass(),
            value: self.mass.value().0,
            text: show_number(self.mass.value().0, DisplayUnit::si::<Kilograms>(), 6),
        }];
        for (dimension, measured) in self.shape.dimensions().iter().zip(&self.dimensions) {
            bindings.push(Binding {
                symbol: dimension.symbol,
                meaning: (dimension.words)(),
                value: measured.value().0,
                text: length(measured.value().0),
            });
        }
        if let Some(offset) = &self.offset {
            bindings.push(Binding {
                symbol: OFFSET,
                meaning: words::bodies::distance_of_center(),
                value: offset.value().0,
                text: length(offset.value().0),
            });
        }
        bindings
    }

    /// The moment of inertia about the table's axis, with the uncertainty of the dimensions.
    ///
    /// # Errors
    /// When a result is not finite.
    pub fn moment_of_inertia(&self) -> Result<Measured<KilogramMeters2>, MeasuredError> {
        let formula = self.formula();
        let bindings = self.bindings();
        let value = |bindings: &[Binding]| formula.evaluate(bindings).unwrap_or(f64::NAN);
        let uncertainties = [self.mass.standard_uncertainty().0]
            .into_iter()
            .chain(self.dimensions.iter().chain(&self.offset).map(|length| length.standard_uncertainty().0));
        let contributions = uncertainties.enumerate().map(|(index, u)| {
            let moved = |step: f64| {
                let mut bindings = bindings.clone();
                if let Some(binding) = bindings.get_mut(index) {
                    binding.value += step;
                }
                value(&bindings)
            };
            0.5 * (moved(u) - moved(-u))
        });
        Measured::new(KilogramMeters2(value(&bindings)), KilogramMeters2(quadrature(contributions)))
    }
}

/// What the shapes of an object predict, part by part.
#[derive(Clone, Debug, PartialEq)]
pub struct Prediction {
    /// Each part with its moment of inertia.
    pub parts: Vec<(Body, Measured<KilogramMeters2>)>,
    /// The sum.
    pub moment_of_inertia: Measured<KilogramMeters2>,
}

/// Adds up the parts of an object; at least one is needed for anything to be predicted.
///
/// # Errors
/// When a result is not finite.
pub fn predict(parts: &[Body]) -> Result<Prediction, MeasuredError> {
    let parts = parts
        .iter()
        .map(|body| Ok((body.clone(), body.moment_of_inertia()?)))
        .collect::<Result<Vec<_>, MeasuredError>>()?;
    let sum: f64 = parts.iter().map(|part| part.1.value().0).sum();
    let u = quadrature(parts.iter().map(|part| part.1.standard_uncertainty().0));
    let moment_of_inertia = Measured::new(KilogramMeters2(sum), KilogramMeters2(u))?;
    Ok(Prediction { parts, moment_of_inertia })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const ONE: NonZeroU32 = NonZeroU32::MIN;

    fn grams(value: f64, u: f64) -> Option<Measured<Kilograms>> {
        Measured::new(Kilograms(value / 1e3), Kilograms(u / 1e3)).ok()
    }

    fn millimeters(value: f64, u: f64) -> Option<Measured<Meters>> {
        Measured::new(Meters(value / 1e3), Meters(u / 1e3)).ok()
    }

    #[test]
    fn a_disc_s_radius_counts_twice_in_its_uncertainty() {
        // ½ · 1.2 kg · (0.1 m)² = 6 g·m²; u/I = √((0.1 %)² + (2 · 0.2 %)²).
        let disc = Body::new(Shape::Disc, ONE, grams(1200.0, 1.2), &[millimeters(100.0, 0.2)], None).unwrap();
        let found = disc.moment_of_inertia().unwrap();
        assert!((found.value().0 - 6e-3).abs() < 1e-15);
        let relative = found.relative_uncertainty().unwrap();
        assert!((relative - 1e-3 * 17.0_f64.sqrt()).abs() < 1e-9, "{relative}");
    }

    #[test]
    fn a_rod_about_its_end_is_a_rod_about_its_middle_moved_by_half_its_length() {
        let length = millimeters(300.0, 0.0);
        let end = Body::new(Shape::RodEnd, ONE, grams(250.0, 0.0), &[length], None).unwrap();
        let moved =
            Body::new(Shape::RodMiddle, ONE, grams(250.0, 0.0), &[length], millimeters(150.0, 0.0)).unwrap();
        let difference =
            end.moment_of_inertia().unwrap().value().0 - moved.moment_of_inertia().unwrap().value().0;
        assert!(difference.abs() < 1e-16);
    }

    #[test]
    fn two_clay_cylinders_off_axis_count_twice_and_err_together() {
        let two = NonZeroU32::new(2).unwrap();
        let cylinder = |count| {
            Body::new(
                Shape::Disc,
                count,
                grams(400.0, 0.0),
                &[millimeters(30.0, 0.0)],
                millimeters(80.0, 0.5),
            )
            .unwrap()
        };
        let one = cylinder(ONE).moment_of_inertia().unwrap();
        let pair = cylinder(two).moment_of_inertia().unwrap();
        assert!((pair.value().0 / one.value().0 - 2.0).abs() < 1e-12);
        assert!((pair.standard_uncertainty().0 / one.standard_uncertainty().0 - 2.0).abs() < 1e-9);
        assert_eq!(cylinder(two).formula().to_string(), "2·(M·r²/2 + M·D²)");
    }

    #[test]
    fn what_is_missing_or_impossible_is_named() {
        let check = |shape, mass, dimensions: &[_], offset| {
            Body::new(shape, ONE, mass, dimensions, offset).unwrap_err().to_string()
        };
        let (mass, length) = (grams(100.0, 0.0), millimeters(50.0, 0.0));
        assert_eq!(
            check(Shape::Disc, None, &[length], None),
            "enter the mass of the solid disc or cylinder; it must be above zero"
        );
        assert_eq!(
            check(Shape::Ring, mass, &[length], None),
            "enter the outer radius of the ring or hollow cylinder; it must be above zero"
        );
        assert_eq!(
            check(Shape::Ring, mass, &[length, millimeters(40.0, 0.0)], None),
            "the ring’s inner radius is larger than its outer radius; exchange them"
        );
        assert!(
            check(Shape::RodEnd, mass, &[length], length)
                .starts_with("a rod about its end cannot sit off axis")
        );
        assert!(check(Shape::Disc, mass, &[length], millimeters(-1.0, 0.0)).contains("must be 0 or more"));
    }

    proptest! {
        #[test]
        fn moving_off_axis_never_lowers_the_moment(
            mass in 1.0..5000.0_f64, size in 1.0..500.0_f64, offset in 0.0..500.0_f64, index in 0..9_usize
        ) {
            let shape = Shape::ALL[index];
            prop_assume!(shape.may_sit_off_axis());
            let dimensions = [millimeters(size, 0.1), millimeters(size * 1.5, 0.1)];
            let moment = |offset| Body::new(shape, ONE, grams(mass, 0.1), &dimensions, offset)
                .unwrap().moment_of_inertia().unwrap().value().0;
            prop_assert!(moment(millimeters(offset, 0.1)) >= moment(None));
        }
    }
}
