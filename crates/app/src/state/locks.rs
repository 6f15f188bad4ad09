//! What may not be changed in the lab that is open.

use super::LabState;
use leptos::prelude::*;
use whorl_core::lab::Lab;

impl LabState {
    /// Whether what was measured is locked; it stays so until another lab is opened.
    pub(crate) fn is_locked(self) -> bool {
        self.read_once(Lab::is_locked)
    }

    /// Whether it is from a newer program's file, so that nothing in it may be changed.
    pub(crate) fn is_newer(self) -> bool {
        self.read_once(|lab| lab.newer().is_some())
    }

    /// Whether a change is refused; what was typed then makes room for what stands in the file.
    pub(super) fn refuses_change(self) -> bool {
        let refuses = self.is_newer();
        if refuses {
            self.lab.notify();
        }
        refuses
    }
}
