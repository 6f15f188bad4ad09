//! What an object's shape predicts: formula, dimensions, uncertainty.

mod body;
mod shape;

pub use body::{Body, BodyError, Prediction, predict};
pub use shape::{Dimension, Shape};
