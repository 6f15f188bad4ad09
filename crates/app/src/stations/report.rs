//! Station 8: what the students add, and the report they hand in. All but its head is a part loaded later.

mod desk;
mod paper;

pub(crate) use desk::{changed_outside, opened, state, with_fingerprint};

use super::{StationState, frame};
use crate::controls::disclosure;
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use whorl_words as words;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    frame(lab, 7, words::report_view::purpose()).with(disclosure(
        "details.writing",
        el("summary").with(words::report_view::write()),
        move || vec![parts::place(Part::Report, move || Some((parts::report()?.open)(lab)))],
    ))
}

/// How far it is; what exactly is open is known once its part is there.
pub(super) fn state_in_path(lab: LabState) -> StationState {
    let begun = lab.read(|lab| lab.hand_in.is_some());
    match parts::report().filter(|_| begun) {
        Some(part) => (part.state)(lab),
        None if begun => StationState { done: false, words: words::report_view::begun().to_owned() },
        None => StationState { done: false, words: words::path::not_begun().to_owned() },
    }
}
