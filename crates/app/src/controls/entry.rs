//! One typed number.

use crate::dom::{El, el};
use leptos::prelude::*;
use std::cell::Cell;
use whorl_core::entry::{self as typed, EntryUnit};
use whorl_words as words;

thread_local! {
    static LAST_ID: Cell<u32> = const { Cell::new(0) };
}

/// An element id that no other element has.
pub(crate) fn unique_id(prefix: &str) -> String {
    let number = LAST_ID.with(|last| {
        last.set(last.get() + 1);
        last.get()
    });
    format!("{prefix}-{number}")
}

/// What an entry is called, takes and belongs to.
pub(crate) struct Entry<'a> {
    /// The element's id, for its label.
    pub(crate) id: &'a str,
    /// The input's accessible name; empty when a `<label>` names it.
    pub(crate) name: &'a str,
    /// The field's unit.
    pub(crate) unit: EntryUnit,
    /// Smallest number taken, in SI units.
    pub(crate) least: f64,
    /// Where what is wrong goes; empty when nothing is.
    pub(crate) problem: RwSignal<String>,
    /// Id of the element that shows the problem.
    pub(crate) described_by: &'a str,
}

/// A text input for a number in SI units. What is typed stays as typed; `on_change` hears the
/// number, or `None` while the text is not one, and then the problem says why.
pub(crate) fn entry(
    entry: &Entry<'_>,
    value: impl Fn() -> Option<f64> + 'static,
    on_change: impl Fn(Option<f64>) + 'static,
) -> El {
    build(entry, Box::new(value), Box::new(on_change))
}

fn build(entry: &Entry<'_>, value: Box<dyn Fn() -> Option<f64>>, on_change: Box<dyn Fn(Option<f64>)>) -> El {
    let &Entry { id, name, unit, least, problem, described_by } = entry;
    let text = RwSignal::new(String::new());
    // The lab's number may change from elsewhere (a calculator, a dragged end). Text that already
    // means that number stays as it was typed.
    crate::dom::watch(move || {
        let value = value();
        let same = text.with_untracked(|text| {
            let means = typed::parse(text, unit).ok().flatten();
            means == value || (text.trim().is_empty() && value == Some(0.0))
        });
        if let Some(value) = value
            && !same
        {
            text.set(typed::write(value, unit));
            problem.set(String::new());
        }
    });
    let hear = move |entered: String| {
        let parsed =
            typed::parse(&entered, unit).map_err(|error| error.to_string()).and_then(|number| match number {
                Some(number) if number < least => Err(words::controls::at_least(&typed::write(least, unit))),
                other => Ok(other),
            });
        text.set(entered);
        problem.set(parsed.as_ref().err().cloned().unwrap_or_default());
        on_change(parsed.ok().flatten());
    };
    let input = el("input.number")
        .attr("id", id)
        .attr("type", "text")
        .attr("inputmode", "decimal")
        .attr("autocomplete", "off")
        .attr("spellcheck", "false")
        .attr("aria-describedby", described_by)
        .live_attr("aria-invalid", move || (!problem.with(String::is_empty)).then(|| "true".to_owned()))
        .live_value(move || text.get())
        .on_text("input", hear);
    if name.is_empty() { input } else { input.attr("aria-label", name) }
}
