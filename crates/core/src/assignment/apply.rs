//! An assignment → the lab it begins with.

use super::{Assignment, Source, save};
use crate::bench::{BenchSettings, Seed, Session, SettingsProblem};
use crate::bodies::Shape;
use crate::lab::{Lab, PartEntry};
use crate::prelab::DerivationSource;
use crate::quantity::Kilograms;
use whorl_words as words;

impl Assignment {
    /// The lab that a group begins with. `seed` draws its apparatus at a practice bench, unless the assignment says
    /// which. A recorded lab has to be fetched first: see [`Assignment::onto`].
    ///
    /// # Errors
    /// When the settings of the bench make no apparatus.
    pub fn begin(&self, seed: Seed) -> Result<Lab, SettingsProblem> {
        match &self.readings {
            Source::Bench { settings, code } => self.begin_at(settings, code.unwrap_or(seed)),
            Source::Own { objects } => {
                let mut lab = Lab::default();
                for name in objects {
                    lab.add_object(name.clone(), vec![PartEntry::new(Shape::Disc)]);
                }
                Ok(self.onto(lab))
            }
            Source::Recorded { .. } => Ok(self.onto(Lab::default())),
        }
    }

    /// The same at a bench of these settings, whatever the assignment says.
    fn begin_at(&self, settings: &BenchSettings, seed: Seed) -> Result<Lab, SettingsProblem> {
        let session = Session::begin(settings, seed)?;
        let mut lab = self.onto(session.bench().lab());
        lab.title = words::bench::lab_title(&self.title, &seed.code());
        lab.bench = Some(session.to_text());
        Ok(lab)
    }

    /// Sets the work on a lab: its title, the pre-lab, the masses and what is given become those of the assignment.
    #[must_use]
    pub fn onto(&self, mut lab: Lab) -> Lab {
        lab.title.clone_from(&self.title);
        if let Some(id) = &self.derivation {
            lab.prelab.derivation = Some(DerivationSource::Shipped(id.clone()));
        }
        if !self.pieces_kg.is_empty() {
            lab.plan.pieces = self.pieces_kg.iter().copied().map(Kilograms).collect();
        }
        lab.assign(save(self), self.given.clone(), self.agreement)
    }
}
