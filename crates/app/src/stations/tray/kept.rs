//! The tray outlives the page around it: in another language everything is built anew, and nothing that arrived may
//! be lost.

use super::state::TrayState;
use crate::state::LabState;
use leptos::prelude::*;

/// The tray of the lab that is open. Provided to the whole page.
#[derive(Clone, Copy)]
pub(crate) struct KeptTray(StoredValue<Kept, LocalStorage>);

struct Kept {
    /// Outlives every station.
    page: Owner,
    /// The tray, what its signals belong to, and of which lab it is.
    tray: Option<(u32, Owner, TrayState)>,
}

impl KeptTray {
    /// No tray yet. What owns the page now will own the trays.
    pub(crate) fn new() -> Self {
        Self(StoredValue::new_local(Kept { page: Owner::current().unwrap_or_default(), tray: None }))
    }

    /// Whether something may have arrived for this lab.
    pub(super) fn has(self, lab: LabState) -> bool {
        self.0.with_value(|kept| kept.tray.as_ref().is_some_and(|(opened, ..)| *opened == lab.opened_once()))
    }

    /// The tray of the lab that is open; that of another lab goes.
    pub(super) fn of(self, lab: LabState) -> TrayState {
        let opened = lab.opened_once();
        let known = self.0.with_value(|kept| {
            kept.tray.as_ref().filter(|(own, ..)| *own == opened).map(|(.., state)| *state)
        });
        if let Some(state) = known {
            state.speak_anew();
            return state;
        }
        let owner = self.0.with_value(|kept| kept.page.child());
        let state = owner.with(|| TrayState::new(lab));
        let before = self.0.try_update_value(|kept| kept.tray.replace((opened, owner, state)));
        if let Some(Some((_, owner, _))) = before {
            owner.cleanup();
        }
        state
    }
}
