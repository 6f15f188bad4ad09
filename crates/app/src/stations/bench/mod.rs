//! The practice bench: an apparatus of one's own from a code, runs on it, and its sealed answers.

mod composing;
mod sealed;
mod setting_up;
mod taking;

pub(crate) use composing::form as composing;
pub(crate) use setting_up::any_seed;

use crate::controls::problem;
use crate::dom::{El, el};
use crate::focus::focus;
use crate::state::LabState;
use leptos::prelude::*;
use std::cell::Cell;
use whorl_core::bench::Session;

thread_local! {
    /// Whether a bench has just been set up: the stations are built anew then, and the work goes on at it.
    static BEGUN: Cell<bool> = const { Cell::new(false) };
}

/// The bench of the lab that is open, or the way to one.
pub(crate) fn opened(lab: LabState) -> Vec<El> {
    // Built anew with another bench, not with every run: what was chosen stays chosen.
    let whose = Memo::new(move |_| lab.read(|lab| lab.bench.as_deref().map(code_of)));
    vec![el("div.bench").live(move || match whose.get() {
        None => untrack(|| setting_up::form(lab)),
        Some(Err(why)) => vec![problem(&why)],
        Some(Ok(_)) => untrack(|| at_work(lab)),
    })]
}

/// The code of a session's bench; its bench does not change while it lasts.
fn code_of(text: &str) -> Result<String, String> {
    Session::from_text(text).map(|session| session.bench().seed().code()).map_err(|why| why.to_string())
}

/// The session of the lab that is open, as it stands.
fn session(lab: LabState) -> Option<Session> {
    lab.read_once(|lab| Session::from_text(lab.bench.as_deref()?).ok())
}

fn at_work(lab: LabState) -> Vec<El> {
    let Some(session) = session(lab) else { return Vec::new() };
    let mut content = taking::form(lab, &session);
    if let Some(heading) = content.first().filter(|_| BEGUN.get()).cloned() {
        let heading = heading.attr("tabindex", "-1");
        request_animation_frame(move || {
            // The panel in which it was set up is built once more before it goes.
            if heading.node().is_connected() && BEGUN.replace(false) {
                heading.node().scroll_into_view();
                focus(heading.node());
            }
        });
    }
    content.push(sealed::answers(lab));
    content
}
