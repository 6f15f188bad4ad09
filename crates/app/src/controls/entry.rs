//! One typed number.

use leptos::prelude::*;
use std::cell::Cell;
use whorl_core::entry::{self, EntryUnit};

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

/// A text input for a number in SI units. What is typed stays as typed; the lab hears of the
/// number, or of `None` while the text is not one, and then `problem` says why.
#[component]
pub(crate) fn Entry(
    /// The element's id, for its label.
    #[prop(into)]
    id: String,
    /// The input's accessible name; empty when a `<label>` names it.
    #[prop(into, optional)]
    name: String,
    /// The field's unit.
    unit: EntryUnit,
    /// The number in the lab.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// Hears of every change.
    #[prop(into)]
    on_change: Callback<Option<f64>>,
    /// Smallest number taken, in SI units.
    #[prop(default = f64::NEG_INFINITY)]
    least: f64,
    /// Where what is wrong goes.
    problem: RwSignal<Option<String>>,
    /// Id of the element that shows `problem`.
    #[prop(into)]
    described_by: String,
) -> impl IntoView {
    let written = move |value: Option<f64>| value.map_or_else(String::new, |value| entry::write(value, unit));
    let text = RwSignal::new(written(value.get_untracked()));
    // The lab's number may change from elsewhere (a calculator, a dragged edge). Text that already
    // means that number stays as it was typed.
    Effect::new(move |_| {
        let value = value.get();
        let means = text.with_untracked(|text| entry::parse(text, unit).ok().flatten());
        let blank = text.with_untracked(|text| text.trim().is_empty());
        let same = means == value || (blank && value == Some(0.0));
        if value.is_some() && !same {
            text.set(written(value));
            problem.set(None);
        }
    });
    let typed = move |typed: String| {
        let parsed = entry::parse(&typed, unit).map_err(|error| error.to_string()).and_then(|number| match number {
            Some(number) if number < least => Err(format!("enter {} or more", entry::write(least, unit))),
            other => Ok(other),
        });
        text.set(typed);
        problem.set(parsed.as_ref().err().cloned());
        on_change.run(parsed.ok().flatten());
    };
    view! {
        <input
            id=id
            class="number"
            type="text"
            inputmode="decimal"
            autocomplete="off"
            spellcheck="false"
            aria-label=(!name.is_empty()).then_some(name)
            aria-invalid=move || problem.with(Option::is_some).then_some("true")
            aria-describedby=described_by
            prop:value=text
            on:input:target=move |event| typed(event.target().value())
        />
    }
}
