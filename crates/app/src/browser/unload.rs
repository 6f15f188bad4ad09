//! Asking before unsaved work is left behind.

use crate::state::LabState;
use leptos::prelude::*;

/// Lets the browser ask whenever the page is left while something is neither saved nor kept.
pub(crate) fn guard(lab: LabState) {
    let _ = window_event_listener(leptos::ev::beforeunload, move |event| {
        if untrack(|| lab.would_be_lost()) {
            event.prevent_default();
        }
    });
}
