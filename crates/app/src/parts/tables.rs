//! What each part offers: a table of its functions, by which alone they are called.

use crate::controls::Chart;
use crate::dom::El;
use crate::header::News;
use crate::prelab::PrelabState;
use crate::state::LabState;
use crate::stations::{Seen, StationState, TrayOpened};
use leptos::prelude::RwSignal;
use std::sync::Arc;
use whorl_charts::Figure;
use whorl_core::comparison::Comparison;
use whorl_core::diagnosis::Finding;
use whorl_core::lab::{Lab, RunId};
use whorl_core::working::{Subject, Working};
use whorl_derivation::derivation::Derivation;

/// The pre-lab's steps with the algebra.
pub(crate) struct Prelab {
    /// Reads a derivation; the error says what is wrong with the text.
    pub(crate) open: fn(&str) -> Result<Derivation, String>,
    /// The steps of a derivation.
    pub(crate) begun: fn(PrelabState, &Arc<Derivation>) -> Vec<El>,
    /// The student's own expressions in a working.
    pub(crate) in_own: fn(LabState, Vec<Working>) -> Vec<Working>,
    /// The line as the student wrote it.
    pub(crate) own_line: fn(LabState) -> Option<El>,
}

/// Files dropped, chosen or pasted.
pub(crate) struct Tray {
    pub(crate) open: fn(LabState) -> TrayOpened,
}

/// The plan.
pub(crate) struct Plan {
    pub(crate) open: fn(LabState, RwSignal<u32>) -> El,
}

/// What the runs tell about themselves.
pub(crate) struct Findings {
    /// What is found in the lab as it stands.
    pub(crate) look_over: fn(LabState) -> Vec<Finding>,
    /// The list of it.
    pub(crate) view: fn(LabState, &[Finding]) -> Vec<El>,
}

/// What stands behind buttons and in disclosures.
pub(crate) struct Details {
    /// The steps behind a result.
    pub(crate) working: fn(LabState, Subject) -> Vec<El>,
    /// Where the uncertainty of a result comes from.
    pub(crate) budget: fn(LabState, Subject) -> Vec<El>,
    /// Finds g from the place.
    pub(crate) gravity: fn(LabState) -> Vec<El>,
    /// A chart in words and numbers.
    pub(crate) chart_numbers: fn(&Figure) -> Vec<El>,
    /// What else can be done with a chart of so many CSS pixels height.
    pub(crate) chart_tools: fn(Chart, u32) -> Vec<El>,
    /// The friction torque by other routes, of the line at a place.
    pub(crate) friction: fn(LabState, usize) -> Vec<El>,
    /// Begins a simulation.
    pub(crate) simulate: fn(LabState, Seen),
    /// Opens a lab from files.
    pub(crate) open_files: fn(LabState, News, Vec<web_sys::File>),
    /// Tables to take away.
    pub(crate) tables: fn(LabState, News) -> Vec<El>,
}

/// Runs to be watched, and to be spoken of before that.
pub(crate) struct Replay {
    pub(crate) open: fn(LabState, RunId) -> Vec<El>,
    pub(crate) forecasts: fn(LabState) -> Vec<El>,
}

/// Recorded labs.
pub(crate) struct Library {
    /// Where they are to be had from.
    pub(crate) open: fn(LabState, News) -> Vec<El>,
    /// Opens a lab of this name and text, recorded or not; whether it is one.
    pub(crate) open_text: fn(LabState, News, &str, &str) -> bool,
    /// What the one that is open says about itself.
    pub(crate) card: fn(LabState) -> El,
    /// Its objects and runs.
    pub(crate) runs: fn(LabState) -> Vec<El>,
    /// Locks the fields in an element.
    pub(crate) lock: fn(LabState, &El),
    /// Opens a lab that the browser kept.
    pub(crate) open_kept: fn(LabState, &str) -> Result<(), String>,
    /// Offers what can be saved of the bytes of a file that did not open, beside the message about it.
    pub(crate) offer_rest: fn(LabState, News, &[u8], &str),
}

/// The practice bench.
pub(crate) struct Bench {
    pub(crate) open: fn(LabState) -> Vec<El>,
}

/// The keeping of the lab in the browser, undo and redo.
pub(crate) struct Kept {
    /// Begins it, with the lab as it stood before its first change.
    pub(crate) begin: fn(LabState, Lab),
    /// What stands in the page's head.
    pub(crate) view: fn() -> Vec<El>,
    /// The lab as a file.
    pub(crate) document: fn(LabState) -> String,
    /// The labs that are kept.
    pub(crate) shelf: fn() -> Vec<El>,
}

/// The report that is handed in.
pub(crate) struct Report {
    /// The station's fields and ways to hand in.
    pub(crate) open: fn(LabState) -> Vec<El>,
    /// How far it is.
    pub(crate) state: fn(LabState) -> StationState,
    /// The lab as a file that carries the fingerprint of its readings.
    pub(crate) document: fn(LabState) -> String,
    /// Whether the lab that is open has other readings than the file of this text was saved with.
    pub(crate) changed_outside: fn(LabState, &str) -> bool,
}

/// Work that an instructor sets.
pub(crate) struct Assigning {
    /// What this page's address asks for.
    pub(crate) open: fn(LabState) -> Vec<El>,
    /// Opens an assignment of this name and text.
    pub(crate) open_text: fn(LabState, News, &str, &str),
    /// What it says above the stations.
    pub(crate) card: fn(LabState) -> El,
    /// Locks the entries of the apparatus that are given.
    pub(crate) lock: fn(LabState, &El),
    /// What may be claimed, by what counts as agreement.
    pub(crate) verdict: fn(LabState, &Comparison) -> El,
    /// Tells a course page around this one how high it is.
    pub(crate) tell_height: fn(),
}
