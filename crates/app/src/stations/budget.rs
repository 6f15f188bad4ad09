//! Where a result's uncertainty comes from, behind a disclosure.

use crate::controls::{budget_view, disclosure};
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::lab::Configuration;
use whorl_core::measured::shown::DisplayUnit;
use whorl_core::working::Subject;
use whorl_words as words;

/// The disclosure, for a line or an object.
pub(super) fn budget(lab: LabState, subject: impl Fn() -> Option<Subject> + Copy + 'static) -> El {
    disclosure("details.numbers", el("summary").with(words::controls::where_from()), move || {
        vec![parts::place(Part::Details, move || {
            let part = parts::details()?;
            let shown = move || subject().map(|subject| (part.budget)(lab, subject)).unwrap_or_default();
            Some(vec![el("div").live(shown)])
        })]
    })
}

/// The budget itself.
pub(crate) fn opened(lab: LabState, subject: Subject) -> Vec<El> {
    let name = |configuration| lab.read_listed(|lab| lab.configuration_name(configuration));
    let view = match subject {
        Subject::Line(configuration) => lab.lines.with(|lines| {
            let inertia = lines.inertia(configuration)?;
            let unit = DisplayUnit::engineering(inertia.moment_of_inertia.total.value());
            Some(budget_view(&name(configuration), &inertia.budget(), unit))
        }),
        Subject::Object(id) => lab
            .object_outcome(id, |object| {
                let found = object.measured.as_ref().ok()?;
                let unit = DisplayUnit::engineering(found.moment_of_inertia.total.value());
                let name = words::line::alone(&name(Configuration::Loaded(id)));
                Some(budget_view(&name, &found.budget(), unit))
            })
            .flatten(),
        _ => None,
    };
    view.into_iter().collect()
}
