//! “Show the working”: opens equation → values put in → result.

use super::formula_view::working_element;
use super::symbol;
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use crate::stations;
use leptos::prelude::*;
use whorl_core::formula::Binding;
use whorl_core::lab::{ObjectId, RunId};
use whorl_core::working::Working;

/// A result with steps behind it.
#[derive(Clone, Copy)]
pub(crate) enum WorkedOut {
    EffectiveRadius,
    Run(RunId),
    /// The line at a place in the list of lines.
    Line(usize),
    Object(ObjectId),
    Comparison(ObjectId),
}

/// A disclosure with the steps behind a result; nothing is built before it is opened.
pub(crate) fn working_view(lab: LabState, of: &str, what: WorkedOut) -> El {
    let summary = el("summary").with("Show the working").with(el("span.of").with(format!(" of {of}")));
    disclosure("details.working", summary, move || {
        vec![parts::place(Part::Details, move || {
            let part = parts::details()?;
            Some(vec![el("div").live(move || (part.working)(lab, what))])
        })]
    })
}

/// The steps behind a result.
pub(crate) fn steps_of(lab: LabState, what: WorkedOut) -> Vec<El> {
    let steps = match what {
        WorkedOut::EffectiveRadius => stations::apparatus::steps(lab),
        WorkedOut::Run(id) => stations::acceleration::steps(lab, id),
        WorkedOut::Line(index) => stations::line::steps(lab, index),
        WorkedOut::Object(id) => stations::object::steps(lab, id),
        WorkedOut::Comparison(id) => stations::comparison::steps(lab, id),
    };
    vec![el("ol.steps").with(steps.iter().map(step).collect::<Vec<_>>())]
}

/// A `<details>` whose content is built when it is opened and follows signals while it is open.
pub(crate) fn disclosure(tag: &'static str, summary: El, content: impl Fn() -> Vec<El> + 'static) -> El {
    build(tag, summary, Box::new(content))
}

fn build(tag: &'static str, summary: El, content: Box<dyn Fn() -> Vec<El>>) -> El {
    let open = RwSignal::new(false);
    let details = el(tag).with(summary);
    let node = details.node().clone();
    details
        .on("toggle", move |_| open.set(node.has_attribute("open")))
        .with(el("div").live(move || if open.get() { content() } else { Vec::new() }))
}

fn step(step: &Working) -> El {
    let meaning = |binding: &Binding| {
        el("li")
            .with(symbol(binding.symbol.letter, binding.symbol.subscript))
            .with(format!(" {}: {}", binding.meaning, binding.text))
    };
    let math = el("div.math")
        .attr("tabindex", "0")
        .attr("role", "group")
        .attr("aria-label", "equation, values put in, result")
        .with(working_element(step));
    el("li")
        .with(el("p").with(step.words))
        .with(math)
        .with(el("ul.meanings").with(step.bindings.iter().map(meaning).collect::<Vec<_>>()))
}
