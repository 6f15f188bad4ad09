//! What one click can put right.

use crate::lab::{Lab, ObjectId, RunId};
use crate::measured::Measured;
use crate::quantity::Quantity;
use crate::runs::Stretch;
use core::num::NonZeroU32;
use whorl_words as words;

/// A change of the lab. Whoever applies it keeps a copy of the lab to go back to.
#[derive(Clone, Debug, PartialEq)]
pub enum Fix {
    /// Two runs exchange masses and, where they differ, configurations.
    ExchangeLabels(RunId, RunId),
    /// Hanging masses are multiplied.
    ScaleMasses {
        /// Of these runs.
        runs: Vec<RunId>,
        /// By this.
        factor: f64,
    },
    /// The drum's radius, with its uncertainty, is multiplied.
    ScaleRadius(f64),
    /// An object's lengths but for its distance from the axis are multiplied.
    ScaleDimensions(ObjectId, f64),
    /// The pulley has so many spokes.
    SetSpokes(NonZeroU32),
    /// A run is fitted over this stretch.
    SetStretch(RunId, Stretch),
}

impl Fix {
    /// What a button says.
    pub fn words(&self) -> &'static str {
        match self {
            Self::ExchangeLabels(..) => words::diagnosis::exchange_the_two(),
            Self::ScaleMasses { factor, .. } if *factor < 1.0 => words::diagnosis::divide_by_1000(),
            Self::ScaleMasses { .. } => words::diagnosis::multiply_by_1000(),
            Self::ScaleRadius(factor) | Self::ScaleDimensions(_, factor) if *factor < 1.0 => {
                words::diagnosis::halve_it()
            }
            Self::ScaleRadius(_) | Self::ScaleDimensions(..) => words::diagnosis::double_it(),
            Self::SetSpokes(_) => words::diagnosis::use_this_number_of_spokes(),
            Self::SetStretch(..) => words::diagnosis::use_this_stretch(),
        }
    }

    /// Whether it can be made: what is locked stays as it is.
    pub fn may_change(&self, lab: &Lab) -> bool {
        match self {
            Self::SetStretch(..) => lab.newer().is_none(),
            Self::ScaleDimensions(object, _) => lab.may_describe(*object),
            _ => !lab.is_locked(),
        }
    }
}

/// Makes a change; runs or objects that are gone are left alone.
pub fn apply(fix: &Fix, lab: &mut Lab) {
    match fix {
        Fix::ExchangeLabels(one, other) => {
            let label = |lab: &Lab, run: RunId| {
                lab.run(run).map(|run| (run.hanging_mass, run.configuration, run.motion))
            };
            if let (Some(first), Some(second)) = (label(lab, *one), label(lab, *other)) {
                for (run, label) in [(*one, second), (*other, first)] {
                    if let Some(run) = lab.run_mut(run) {
                        (run.hanging_mass, run.configuration, run.motion) = label;
                    }
                }
            }
        }
        Fix::ScaleMasses { runs, factor } => {
            for run in runs {
                if let Some(run) = lab.run_mut(*run) {
                    run.hanging_mass = run.hanging_mass.map(|mass| mass * *factor);
                }
            }
        }
        Fix::ScaleRadius(factor) => {
            lab.change_apparatus(|apparatus| scale(&mut apparatus.drum_radius, *factor));
        }
        Fix::ScaleDimensions(object, factor) => {
            for part in lab.parts_mut(*object).into_iter().flatten() {
                part.dimensions.iter_mut().for_each(|length| scale(length, *factor));
            }
        }
        Fix::SetSpokes(spokes) => {
            lab.change_apparatus(|apparatus| apparatus.spokes = Some(*spokes));
        }
        Fix::SetStretch(run, stretch) => lab.set_stretch(*run, Some(*stretch)),
    }
}

fn scale<Q: Quantity>(entry: &mut Option<Measured<Q>>, factor: f64) {
    let scaled = |number: Q| Q::from_si(number.si() * factor);
    if let Some(measured) = entry {
        let (value, u) = (scaled(measured.value()), scaled(measured.standard_uncertainty()));
        *measured =
            Measured::with_degrees_of_freedom(value, u, measured.degrees_of_freedom()).unwrap_or(*measured);
    }
}
