//! Parts of the program that are loaded when they are wanted, and what stands in their place until then.
//!
//! A function marked `#[wasm_split(NAME, fallible)]` gives the table of what its part offers. The build cuts the
//! program there (`crates/xtask/src/split.rs`): what only such tables lead to is in a file of its own, so nothing
//! here may be called but through a table.

#![expect(
    clippy::unnecessary_wraps,
    reason = "the loading of a part may fail, not the function that is in it"
)]

mod tables;

use crate::browser::{framed, later, sheet};
use crate::dom::{El, el};
use crate::focus::{focus, is_in_window, keep_in_window};
use crate::state::LabState;
use crate::{assigning, controls, header, kept, library, own_words, stations};
use leptos::prelude::*;
use std::rc::Rc;
use std::sync::OnceLock;
pub(crate) use tables::{
    Assigning, Bench, Details, Findings, Kept, Library, Plan, Prelab, Replay, Report, Tray,
};
use wasm_split_helpers::{SplitLoaderError, wasm_split};
use whorl_words as words;

/// A part of the program.
#[derive(Clone, Copy)]
pub(crate) enum Part {
    Prelab,
    Tray,
    Plan,
    Findings,
    Details,
    Replay,
    Library,
    Bench,
    Kept,
    Report,
    Assigning,
}

impl Part {
    /// The style sheet that it alone needs.
    fn sheet(self) -> Option<&'static str> {
        match self {
            Self::Prelab => Some("later/prelab.css"),
            Self::Tray => Some("later/tray.css"),
            // A run on the bench is watched.
            Self::Replay | Self::Bench => Some("later/replay.css"),
            Self::Library => Some("later/library.css"),
            Self::Report => Some("later/report.css"),
            Self::Assigning => Some("later/assigning.css"),
            Self::Kept => Some("later/kept.css"),
            Self::Plan | Self::Findings | Self::Details => None,
        }
    }
}

#[wasm_split(prelab, fallible)]
fn prelab_part() -> Result<&'static Prelab, SplitLoaderError> {
    Ok(&Prelab {
        open: stations::prelab::open,
        begun: stations::prelab::begun,
        in_own: own_words::of_prelab,
        own_line: own_words::line_of_prelab,
    })
}

#[wasm_split(tray, fallible)]
fn tray_part() -> Result<&'static Tray, SplitLoaderError> {
    Ok(&Tray { open: stations::tray_opened })
}

#[wasm_split(plan, fallible)]
fn plan_part() -> Result<&'static Plan, SplitLoaderError> {
    Ok(&Plan { open: stations::plan_opened })
}

#[wasm_split(findings, fallible)]
fn findings_part() -> Result<&'static Findings, SplitLoaderError> {
    Ok(&Findings { look_over: stations::looked_over, view: stations::findings_view })
}

#[wasm_split(details, fallible)]
fn details_part() -> Result<&'static Details, SplitLoaderError> {
    Ok(&Details {
        working: stations::working_opened,
        budget: stations::budget_opened,
        gravity: stations::gravity_finder,
        chart_numbers: controls::chart_numbers,
        chart_tools: controls::chart_tools,
        friction: stations::friction_found,
        simulate: stations::simulate,
        open_files: header::open_files,
        tables: header::tables,
    })
}

#[wasm_split(replay, fallible)]
fn replay_part() -> Result<&'static Replay, SplitLoaderError> {
    Ok(&Replay { open: stations::replay_opened, forecasts: stations::forecasts_opened })
}

#[wasm_split(library, fallible)]
fn library_part() -> Result<&'static Library, SplitLoaderError> {
    Ok(&Library {
        open: library::opened,
        open_text: library::open_text,
        card: stations::recorded::card,
        runs: stations::recorded::runs,
        lock: stations::recorded::lock,
        open_kept: library::open_kept,
        offer_rest: library::offer_rest,
    })
}

#[wasm_split(bench, fallible)]
fn bench_part() -> Result<&'static Bench, SplitLoaderError> {
    Ok(&Bench { open: stations::bench_opened })
}

#[wasm_split(kept, fallible)]
fn kept_part() -> Result<&'static Kept, SplitLoaderError> {
    Ok(&Kept { begin: kept::begin, view: kept::view, document: LabState::document, shelf: kept::shelf })
}

#[wasm_split(report, fallible)]
fn report_part() -> Result<&'static Report, SplitLoaderError> {
    Ok(&Report {
        open: stations::report::opened,
        state: stations::report::state,
        document: stations::report::with_fingerprint,
        changed_outside: stations::report::changed_outside,
    })
}

#[wasm_split(assigning, fallible)]
fn assigning_part() -> Result<&'static Assigning, SplitLoaderError> {
    Ok(&Assigning {
        open: assigning::open,
        open_text: assigning::open_text,
        card: assigning::card,
        lock: assigning::lock,
        verdict: assigning::verdict,
        tell_height: framed::tell_height,
    })
}

static PRELAB: OnceLock<&'static Prelab> = OnceLock::new();
static TRAY: OnceLock<&'static Tray> = OnceLock::new();
static PLAN: OnceLock<&'static Plan> = OnceLock::new();
static FINDINGS: OnceLock<&'static Findings> = OnceLock::new();
static DETAILS: OnceLock<&'static Details> = OnceLock::new();
static REPLAY: OnceLock<&'static Replay> = OnceLock::new();
static LIBRARY: OnceLock<&'static Library> = OnceLock::new();
static BENCH: OnceLock<&'static Bench> = OnceLock::new();
static KEPT: OnceLock<&'static Kept> = OnceLock::new();
static REPORT: OnceLock<&'static Report> = OnceLock::new();
static ASSIGNING: OnceLock<&'static Assigning> = OnceLock::new();

/// The pre-lab's part; `None` while it is not loaded.
pub(crate) fn prelab() -> Option<&'static Prelab> {
    PRELAB.get().copied()
}

/// The tray's part.
pub(crate) fn tray() -> Option<&'static Tray> {
    TRAY.get().copied()
}

/// The plan's part.
pub(crate) fn plan() -> Option<&'static Plan> {
    PLAN.get().copied()
}

/// The findings' part.
pub(crate) fn findings() -> Option<&'static Findings> {
    FINDINGS.get().copied()
}

/// The details' part.
pub(crate) fn details() -> Option<&'static Details> {
    DETAILS.get().copied()
}

/// The part for watching runs.
pub(crate) fn replay() -> Option<&'static Replay> {
    REPLAY.get().copied()
}

/// The recorded labs' part.
pub(crate) fn library() -> Option<&'static Library> {
    LIBRARY.get().copied()
}

/// The same where the lab that is open is a recorded one or of a newer program; then it is loaded, since it alone opens such labs.
pub(crate) fn of_recorded(lab: LabState) -> Option<&'static Library> {
    library().filter(|_| lab.is_locked())
}

/// The part for work that was set.
pub(crate) fn assigning() -> Option<&'static Assigning> {
    ASSIGNING.get().copied()
}

/// The same where the lab that is open is such work; then it is loaded, since it alone opens such labs.
pub(crate) fn of_assigned(lab: LabState) -> Option<&'static Assigning> {
    assigning().filter(|_| lab.read_once(|lab| lab.assignment().is_some()))
}

/// Entries of the apparatus, locked where what they hold was recorded or given.
pub(crate) fn as_recorded(lab: LabState, fields: El) -> El {
    if let Some(part) = of_recorded(lab) {
        (part.lock)(lab, &fields);
    } else if let Some(part) = of_assigned(lab) {
        (part.lock)(lab, &fields);
    }
    fields
}

/// Fields, locked where the lab is of a newer program.
pub(crate) fn as_newer(lab: LabState, fields: El) -> El {
    if lab.is_newer() { as_recorded(lab, fields) } else { fields }
}

/// The practice bench's part.
pub(crate) fn bench() -> Option<&'static Bench> {
    BENCH.get().copied()
}

/// The part that keeps the lab.
pub(crate) fn kept() -> Option<&'static Kept> {
    KEPT.get().copied()
}

/// The report's part.
pub(crate) fn report() -> Option<&'static Report> {
    REPORT.get().copied()
}

/// Loads a part unless it is there; whether it then is.
pub(crate) async fn load(part: Part) -> bool {
    // Without its style sheet a part is not of use.
    if let Some(sheet) = part.sheet()
        && !sheet::load(sheet).await
    {
        return false;
    }
    // Each is the same one every time.
    match part {
        Part::Prelab => prelab_part().await.map(|part| PRELAB.get_or_init(|| part)).is_ok(),
        Part::Tray => tray_part().await.map(|part| TRAY.get_or_init(|| part)).is_ok(),
        Part::Plan => plan_part().await.map(|part| PLAN.get_or_init(|| part)).is_ok(),
        Part::Findings => findings_part().await.map(|part| FINDINGS.get_or_init(|| part)).is_ok(),
        Part::Details => details_part().await.map(|part| DETAILS.get_or_init(|| part)).is_ok(),
        Part::Kept => kept_part().await.map(|part| KEPT.get_or_init(|| part)).is_ok(),
        Part::Bench => bench_part().await.map(|part| BENCH.get_or_init(|| part)).is_ok(),
        Part::Replay => replay_part().await.map(|part| REPLAY.get_or_init(|| part)).is_ok(),
        Part::Report => report_part().await.map(|part| REPORT.get_or_init(|| part)).is_ok(),
        Part::Assigning => assigning_part().await.map(|part| ASSIGNING.get_or_init(|| part)).is_ok(),
        Part::Library => library_part().await.map(|part| LIBRARY.get_or_init(|| part)).is_ok(),
    }
}

/// A place for what a part builds: a few words while it is loaded, and a button where it cannot be.
pub(crate) fn place(part: Part, content: impl Fn() -> Option<Vec<El>> + 'static) -> El {
    let place = el("div").attr("tabindex", "-1");
    fill(&place, part, Rc::new(content));
    place
}

/// The same for a place that stands already.
pub(crate) fn fill(place: &El, part: Part, content: Rc<dyn Fn() -> Option<Vec<El>>>) {
    let owner = Owner::current().unwrap_or_default();
    let place = place.clone();
    place.node().set_text_content(None);
    let place = place.with(el("p.hint.loading").attr("role", "status").with(words::parts::loading()));
    later(async move {
        let loaded = load(part).await;
        // What was wanted may be gone meanwhile, and what it was about with it.
        if !place.node().is_connected() {
            return;
        }
        let focus_in_window = is_in_window();
        place.node().set_text_content(None);
        if loaded {
            let built = owner.with(|| untrack(|| content()));
            let _ = place.with(built);
            if focus_in_window {
                keep_in_window();
            }
        } else {
            let again = {
                let place = place.clone();
                move || {
                    focus(place.node());
                    owner.with(|| fill(&place, part, Rc::clone(&content)));
                }
            };
            let button = el("button").attr("type", "button").with(words::parts::try_again()).on_click(again);
            let trouble = el("div").attr("role", "alert").with(controls::problem(words::parts::not_loaded()));
            let _ = place.with(trouble).with(button);
        }
    });
}
