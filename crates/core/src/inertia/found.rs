//! What one fit over all configurations gives, or why not.

use super::Source;
use super::drag::DragFound;
use super::line::{InertiaLine, LineError};
use crate::apparatus::SharedInput;
use crate::measured::{Combined, MeasuredError};
use crate::quantity::{KilogramMeters2, NewtonMeters, Ratio};
use crate::torque::TorqueError;
use whorl_words as words;

/// What one shared input contributes, with its sign: positive when a larger input raises the result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contribution {
    /// Which input.
    pub input: SharedInput,
    /// Change of the moment of inertia per standard uncertainty of the input.
    pub moment_of_inertia: KilogramMeters2,
    /// Change of the friction torque per standard uncertainty of the input.
    pub friction_torque: NewtonMeters,
}

/// Everything the runs of one configuration tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Inertia {
    /// The line through the best estimates.
    pub line: InertiaLine,
    /// s_f: by how much this configuration's friction differs from run to run.
    pub friction_scatter: NewtonMeters,
    /// What each thing that scatters contributes to u(I) and u(τ_f).
    pub scatter: [(Source, f64, f64); 3],
    /// What the drag's uncertainty contributes to I and τ_f, with sign.
    pub drag: (KilogramMeters2, NewtonMeters),
    /// What each shared input contributes, in the order of [`SharedInput::ALL`].
    pub contributions: Vec<Contribution>,
    /// I with both kinds of uncertainty.
    pub moment_of_inertia: Combined<KilogramMeters2>,
    /// τ_f with both kinds of uncertainty.
    pub friction_torque: Combined<NewtonMeters>,
}

/// All configurations together.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// One per configuration, in the order given.
    pub inertias: Vec<Result<Inertia, InertiaError>>,
    /// ρ = s_f/τ_f.
    pub friction_scatter: Ratio,
    /// Σ (runs − 2).
    pub degrees_of_freedom: usize,
    /// χ² of all lines with friction taken as the same in all runs of a configuration.
    pub chi_square: Option<f64>,
    /// The drag found; `None` where no run tells of it.
    pub drag: Option<DragFound>,
}

/// Why there is no moment of inertia.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum InertiaError {
    /// A run gives no torque point.
    #[error("{}", words::chain::run(.number, .problem))]
    Torque {
        /// Which of the runs given, from 1.
        number: usize,
        /// Why.
        problem: TorqueError,
    },
    /// The points give no line.
    #[error(transparent)]
    Line(#[from] LineError),
    /// An uncertainty so large that moving the input by it makes no sense any more.
    #[error("{}", words::chain::uncertainty_too_large(&.0.words()))]
    UncertaintyTooLarge(SharedInput),
    /// Numbers so extreme that the result is none.
    #[error(transparent)]
    Measured(#[from] MeasuredError),
}
