//! Objects and their parts, as entered.

use super::ObjectId;
use crate::bodies::{Body, BodyError, Shape};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters};
use core::num::NonZeroU32;

/// A part of an object as entered.
#[derive(Clone, Debug, PartialEq)]
pub struct PartEntry {
    /// Its shape.
    pub shape: Shape,
    /// How many alike, at the same distance.
    pub count: NonZeroU32,
    /// Mass of one.
    pub mass: Option<Measured<Kilograms>>,
    /// Lengths, in the order of [`Shape::dimensions`].
    pub dimensions: Vec<Option<Measured<Meters>>>,
    /// Distance of its center from the axis; `None` when on axis.
    pub offset: Option<Measured<Meters>>,
}

impl PartEntry {
    /// A part of which nothing is measured yet.
    pub fn new(shape: Shape) -> Self {
        let dimensions = vec![None; shape.dimensions().len()];
        Self { shape, count: NonZeroU32::MIN, mass: None, dimensions, offset: None }
    }

    /// The body, once all it needs is there.
    ///
    /// # Errors
    /// Names the first entry that is missing or impossible.
    pub fn check(&self) -> Result<Body, BodyError> {
        Body::new(self.shape, self.count, self.mass, &self.dimensions, self.offset)
    }
}

/// An object as entered.
#[derive(Clone, Debug, PartialEq)]
pub struct ObjectEntry {
    /// Its name inside this lab.
    pub id: ObjectId,
    /// Its name for people.
    pub name: String,
    /// Its parts; may be empty when nothing is to be predicted.
    pub parts: Vec<PartEntry>,
}
