//! The fits of all runs, kept while what they follow from stays.

use whorl_core::acceleration::Setup;
use whorl_core::analysis::{FittedStretch, fit_run};
use whorl_core::lab::{Lab, Record, RunEntry};
use whorl_core::runs::Stretch;
use whorl_core::torque::Motion;

/// A run's fit with all it follows from, so that a change elsewhere does not fit it again.
pub(super) struct Fitted {
    record: Record,
    stretch: Option<Stretch>,
    motion: Motion,
    setup: Setup,
    /// The fit.
    pub(super) fit: FittedStretch,
}

impl Fitted {
    /// The fits of all runs, and whether they are others than before.
    pub(super) fn of_all(lab: &Lab, before: Option<Vec<Self>>) -> (Vec<Self>, bool) {
        let setup = lab.apparatus.setup();
        let mut known = before.unwrap_or_default();
        let mut changed = false;
        let mut fits = Vec::with_capacity(lab.runs().len());
        for run in lab.runs() {
            let setup = run.record.needed_of(setup);
            if let Some(place) = known.iter().position(|fitted| fitted.is_of(run, setup)) {
                // One further back: what stood before it is gone, or their order is another.
                changed |= place > 0;
                fits.push(known.remove(place));
            } else {
                changed = true;
                fits.push(Self::new(run, setup));
            }
        }
        (fits, changed || !known.is_empty())
    }

    fn is_of(&self, run: &RunEntry, setup: Setup) -> bool {
        self.setup == setup
            && self.stretch == run.stretch
            && self.motion == run.motion
            && self.record == run.record
    }

    fn new(run: &RunEntry, setup: Setup) -> Self {
        let fit = fit_run(run, &setup);
        Self { record: run.record.clone(), stretch: run.stretch, motion: run.motion, setup, fit }
    }
}
