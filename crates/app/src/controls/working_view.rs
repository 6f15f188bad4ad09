//! “Show the working”: opens equation → values put in → result.

use super::formula_view::working_element;
use super::symbol;
use crate::dom::{El, el};
use leptos::prelude::*;
use whorl_core::formula::Binding;
use whorl_core::working::Working;
use whorl_words as words;

/// The steps behind a result.
pub(crate) fn steps_view(steps: &[Working]) -> El {
    el("ol.steps").with(steps.iter().map(step).collect::<Vec<_>>())
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
            .with(symbol(binding.symbol.letter, binding.symbol.shown_subscript()))
            .with(format!(" {}: {}", binding.meaning, binding.text))
    };
    let math = el("div.math")
        .attr("tabindex", "0")
        .attr("role", "group")
        .attr("aria-label", words::controls::equation())
        .with(working_element(step));
    el("li")
        .with(el("p").with(step.words))
        .with(math)
        .with(el("ul.meanings").with(step.bindings.iter().map(meaning).collect::<Vec<_>>()))
}
