//! The apparatus as a trial draws it.

use super::Random;
use super::model::Known;
use super::random::Error;

/// A value with what is known of its error.
#[derive(Clone, Copy)]
pub(super) struct Input {
    pub(super) value: f64,
    pub(super) error: Error,
}

impl Input {
    pub(super) fn new([value, u]: Known) -> Self {
        Self { value, error: Error::new(u, f64::INFINITY) }
    }

    pub(super) fn draw(&self, random: &mut Random) -> f64 {
        self.value + self.error.draw(random)
    }
}

/// The apparatus of one trial.
#[derive(Clone, Copy)]
pub(super) struct Rig {
    /// Rₑ.
    pub(super) radius: f64,
    pub(super) gravity: f64,
    pub(super) travel: f64,
    pub(super) height: f64,
    pub(super) balance: f64,
    /// Rₑ over what it was when angles were turned into lengths.
    pub(super) angle: f64,
    /// I_p/r_p².
    pub(super) pulley: f64,
}
