//! The lab as a whole, as it goes into a file or a report.

use super::LabState;
use leptos::prelude::*;
use whorl_core::lab::Lab;
use whorl_core::lab_file;
use whorl_core::prelab::Prelab;

impl LabState {
    /// The whole lab as a file.
    pub(crate) fn document(self) -> String {
        self.whole(lab_file::save)
    }

    /// Reads the lab once, its pre-lab with it.
    pub(crate) fn whole<T>(self, reader: impl FnOnce(&Lab) -> T) -> T {
        // The pre-lab lives in a signal of its own, so that typing in it sends no run through its fit.
        self.lab.update_untracked(|lab| lab.prelab = self.prelab.read_once(Clone::clone));
        let read = self.read_once(reader);
        self.lab.update_untracked(|lab| lab.prelab = Prelab::default());
        read
    }

    /// What the students add before handing in, as text.
    pub(crate) fn set_hand_in(self, added: Option<String>) {
        self.change(|lab| lab.hand_in = added);
    }
}
