//! The stations of the notebook, in the order of the work. To add one: a file here, an entry in
//! [`STATIONS`], and its call in `page.rs`.

pub(crate) mod acceleration;
pub(crate) mod apparatus;
mod by_hand;
pub(crate) mod comparison;
mod findings;
mod friction;
pub(crate) mod line;
pub(crate) mod object;
mod plan;
pub(crate) mod prelab;
pub(crate) mod runs;
mod simulation;
mod tray;

pub(crate) use findings::{looked_over, view as findings_view};
pub(crate) use friction::found as friction_found;
pub(crate) use plan::opened as plan_opened;
pub(crate) use simulation::{Seen, start as simulate};
pub(crate) use tray::{TrayOpened, opened as tray_opened};

use crate::dom::{Content, El, el};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::prelab::StepRecord;

/// Where a station stands and what it is called.
#[derive(Clone, Copy)]
pub(crate) struct Station {
    /// The section's id, for links.
    pub(crate) id: &'static str,
    /// Its name.
    pub(crate) name: &'static str,
    state: fn(LabState) -> StationState,
}

/// How far a station is.
#[derive(Clone, PartialEq)]
pub(crate) struct StationState {
    /// Whether nothing is missing.
    pub(crate) done: bool,
    /// A few words.
    pub(crate) words: String,
}

impl Station {
    pub(crate) fn state(self, lab: LabState) -> StationState {
        (self.state)(lab)
    }
}

/// All stations.
pub(crate) const STATIONS: [Station; 7] = [
    Station { id: "prelab", name: "Pre-lab", state: prelab_state },
    Station { id: "apparatus", name: "Apparatus", state: apparatus_state },
    Station { id: "runs", name: "Runs", state: runs_state },
    Station { id: "acceleration", name: "Acceleration", state: acceleration_state },
    Station { id: "line", name: "Inertia line", state: line_state },
    Station { id: "object", name: "Object alone", state: object_state },
    Station { id: "comparison", name: "Comparison", state: comparison_state },
];

fn of(done: usize, all: usize, verb: &str) -> StationState {
    StationState { done: all > 0 && done == all, words: format!("{done} of {all} {verb}") }
}

fn prelab_state(lab: LabState) -> StationState {
    match lab.prelab.progress() {
        Some((done, all)) => of(done, all, "steps"),
        // The steps come with their part; how many were done stands in the lab.
        None => {
            let done = |record: &StepRecord| record.accepted.is_some();
            let done = lab.prelab.read(|record| {
                record.derivation.as_ref().map(|_| record.steps.iter().filter(|step| done(step)).count())
            });
            let words = done.map_or_else(|| "not begun".to_owned(), |done| format!("{done} steps done"));
            StationState { done: false, words }
        }
    }
}

fn apparatus_state(lab: LabState) -> StationState {
    lab.apparatus.with(|apparatus| StationState {
        done: apparatus.is_ok(),
        words: if apparatus.is_ok() { "measured" } else { "to be measured" }.to_owned(),
    })
}

fn runs_state(lab: LabState) -> StationState {
    let count = lab.read(|lab| lab.runs().len());
    let words = match count {
        0 => "none yet".to_owned(),
        1 => "1 run".to_owned(),
        count => format!("{count} runs"),
    };
    StationState { done: count > 0, words }
}

fn acceleration_state(lab: LabState) -> StationState {
    lab.runs.with(|runs| of(runs.iter().filter(|run| run.fit.is_ok()).count(), runs.len(), "fitted"))
}

fn line_state(lab: LabState) -> StationState {
    lab.lines.with(|lines| {
        of(
            lines.configurations.iter().filter(|line| line.inertia.is_ok()).count(),
            lines.configurations.len(),
            "drawn",
        )
    })
}

fn object_state(lab: LabState) -> StationState {
    lab.objects.with(|objects| {
        of(objects.iter().filter(|object| object.measured.is_ok()).count(), objects.len(), "found")
    })
}

fn comparison_state(lab: LabState) -> StationState {
    let compared = |objects: &Vec<whorl_core::analysis::ObjectOutcome>| {
        objects.iter().filter(|object| matches!(object.comparison, Some(Ok(_)))).count()
    };
    lab.objects.with(|objects| of(compared(objects), objects.len(), "compared"))
}

/// Heading and purpose of a station; `index` counts from 0 in [`STATIONS`].
fn frame(index: usize, purpose: impl Content) -> El {
    let (id, name) = STATIONS.get(index).map_or(("", ""), |station| (station.id, station.name));
    let heading = format!("{id}-heading");
    let number = el("span.number").attr("aria-hidden", "true").with((index + 1).to_string());
    el("section.station")
        .attr("id", id)
        .attr("aria-labelledby", &heading)
        .with(el("h2").attr("id", &heading).with(number).with(" ").with(name))
        .with(el("p.purpose").with(purpose))
}
