//! The stations of the notebook, in the order of the work. To add one: a file here, an entry in
//! [`STATIONS`], and its call in `page.rs`.

pub(crate) mod acceleration;
pub(crate) mod apparatus;
mod bench;
mod budget;
mod by_hand;
pub(crate) mod comparison;
mod findings;
mod forecast;
mod friction;
pub(crate) mod line;
pub(crate) mod object;
mod plan;
pub(crate) mod prelab;
pub(crate) mod recorded;
mod replay;
pub(crate) mod report;
pub(crate) mod runs;
mod simulation;
mod tray;
mod working;

pub(crate) use apparatus::gravity_finder;
pub(crate) use bench::{any_seed, composing as bench_composing, opened as bench_opened};
pub(crate) use budget::opened as budget_opened;
pub(crate) use findings::{looked_over, view as findings_view};
pub(crate) use forecast::opened as forecasts_opened;
pub(crate) use friction::found as friction_found;
pub(crate) use plan::opened as plan_opened;
pub(crate) use replay::opened as replay_opened;
pub(crate) use simulation::{Seen, start as simulate};
pub(crate) use tray::{KeptTray, TrayOpened, opened as tray_opened};
pub(crate) use working::opened as working_opened;

use crate::controls::Words;
use crate::dom::{Content, El, el};
use crate::state::LabState;
use core::fmt::Display;
use leptos::prelude::*;
use whorl_core::prelab::StepRecord;
use whorl_words as words;

/// Where a station stands and what it is called.
#[derive(Clone, Copy)]
pub(crate) struct Station {
    /// The section's id, for links.
    pub(crate) id: &'static str,
    /// Its name.
    pub(crate) name: Words,
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
pub(crate) static STATIONS: [Station; 8] = [
    Station { id: "prelab", name: words::path::station_prelab, state: prelab_state },
    Station { id: "apparatus", name: words::path::station_apparatus, state: apparatus_state },
    Station { id: "runs", name: words::path::station_runs, state: runs_state },
    Station { id: "acceleration", name: words::path::station_acceleration, state: acceleration_state },
    Station { id: "line", name: words::path::station_line, state: line_state },
    Station { id: "object", name: words::path::station_object, state: object_state },
    Station { id: "comparison", name: words::path::station_comparison, state: comparison_state },
    Station { id: "report", name: words::path::station_report, state: report::state_in_path },
];

/// So many of all; `words_of` says it.
fn of(done: usize, all: usize, words_of: fn(&dyn Display, &dyn Display) -> String) -> StationState {
    let words = if all == 0 { words::path::none_yet().to_owned() } else { words_of(&done, &all) };
    StationState { done: all > 0 && done == all, words }
}

fn prelab_state(lab: LabState) -> StationState {
    if let Some((done, all)) = lab.prelab.progress() {
        return of(done, all, words::path::steps);
    }
    // The steps come with their part; how many were done stands in the lab.
    let done = |record: &StepRecord| record.accepted.is_some();
    let done = lab.prelab.read(|record| {
        record.derivation.as_ref().map(|_| record.steps.iter().filter(|step| done(step)).count())
    });
    let words =
        done.map_or_else(|| words::path::not_begun().to_owned(), |done| words::path::steps_done(&done));
    StationState { done: false, words }
}

fn apparatus_state(lab: LabState) -> StationState {
    lab.apparatus.with(|apparatus| StationState {
        done: apparatus.is_ok(),
        words: if apparatus.is_ok() { words::path::measured() } else { words::path::to_be_measured() }
            .to_owned(),
    })
}

fn runs_state(lab: LabState) -> StationState {
    let count = lab.read_listed(|lab| lab.runs().len());
    let words = if count == 0 { words::path::none_yet().to_owned() } else { words::path::runs(&count) };
    StationState { done: count > 0, words }
}

fn acceleration_state(lab: LabState) -> StationState {
    lab.runs
        .with(|runs| of(runs.iter().filter(|run| run.fit.is_ok()).count(), runs.len(), words::path::fitted))
}

fn line_state(lab: LabState) -> StationState {
    lab.lines.with(|lines| {
        of(
            lines.configurations.iter().filter(|line| line.inertia.is_ok()).count(),
            // Without a run there is no line to be drawn yet, not even of the empty table.
            if lab.run_keys.with(Vec::is_empty) { 0 } else { lines.configurations.len() },
            words::path::drawn,
        )
    })
}

fn object_state(lab: LabState) -> StationState {
    lab.objects.with(|objects| {
        of(objects.iter().filter(|object| object.measured.is_ok()).count(), objects.len(), words::path::found)
    })
}

fn comparison_state(lab: LabState) -> StationState {
    let compared = |objects: &Vec<whorl_core::analysis::ObjectOutcome>| {
        objects.iter().filter(|object| matches!(object.comparison, Some(Ok(_)))).count()
    };
    lab.objects.with(|objects| of(compared(objects), objects.len(), words::path::compared))
}

/// Heading and purpose of a station; `index` counts from 0 in [`STATIONS`].
fn frame(lab: LabState, index: usize, purpose: impl Content) -> El {
    let station = STATIONS.get(index);
    let (id, name) = station.map_or(("", ""), |station| (station.id, (station.name)()));
    let done = move || station.is_some_and(|station| station.state(lab).done);
    let heading = format!("{id}-heading");
    let number = el("span.number").attr("aria-hidden", "true").with((index + 1).to_string());
    el("section.station")
        .attr("id", id)
        .attr("aria-labelledby", &heading)
        .live_class("done", done)
        .with(el("h2").attr("id", &heading).with(number).with(" ").with(name))
        .with(el("p.purpose").with(purpose))
}
