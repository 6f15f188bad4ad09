//! A measured quantity: its value and its standard uncertainty.

use super::{Entry, unique_id};
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::measured::Measured;
use whorl_core::quantity::Quantity;

/// Value and standard uncertainty in SI units.
type Pair = (f64, f64);

/// A labelled pair of inputs, value and u, with their unit.
#[component]
pub(crate) fn MeasuredField(
    /// What is measured.
    #[prop(into)]
    label: String,
    /// Its symbol.
    symbol: &'static str,
    /// One line of advice.
    #[prop(into, optional)]
    hint: String,
    /// Unit of both inputs.
    unit: EntryUnit,
    /// What stands in the lab.
    #[prop(into)]
    value: Signal<Option<Pair>>,
    /// Hears of every change.
    #[prop(into)]
    on_change: Callback<Option<Pair>>,
) -> impl IntoView {
    let id = unique_id("entry");
    let note = unique_id("note");
    let start = value.get_untracked();
    let number = RwSignal::new(start.map(|pair| pair.0));
    let uncertainty = RwSignal::new(start.map(|pair| pair.1));
    let (number_problem, uncertainty_problem) = (RwSignal::new(None), RwSignal::new(None));
    let tell = move || {
        let pair = number.get_untracked().map(|number| (number, uncertainty.get_untracked().unwrap_or(0.0)));
        // An uncertainty that cannot be read is not taken as zero.
        on_change.run(pair.filter(|_| uncertainty_problem.with_untracked(Option::is_none)));
    };
    let set_number = move |entered| {
        number.set(entered);
        tell();
    };
    let set_uncertainty = move |entered| {
        uncertainty.set(entered);
        tell();
    };
    let problems = move || {
        [number_problem.get(), uncertainty_problem.get().map(|problem: String| format!("u: {problem}"))]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join("; ")
    };
    let symbol_u = format!("u({symbol})");
    view! {
        <div class="field">
            <label for=id.clone()>
                {label.clone()} " " <i>{symbol}</i>
            </label>
            <span class="pair">
                <Entry
                    id=id
                    unit=unit
                    value=Signal::derive(move || value.get().map(|pair| pair.0))
                    on_change=set_number
                    problem=number_problem
                    described_by=note.clone()
                />
                <span class="u-mark" aria-hidden="true">{symbol_u.clone()} " ="</span>
                <Entry
                    id=unique_id("entry")
                    name=format!("standard uncertainty {symbol_u} of the {label}")
                    unit=unit
                    value=Signal::derive(move || value.get().map(|pair| pair.1))
                    on_change=set_uncertainty
                    least=0.0
                    problem=uncertainty_problem
                    described_by=note.clone()
                />
                <span class="unit">{unit.own.symbol}</span>
            </span>
            <span class="note" id=note>
                <span class="problem" role="status">{problems}</span>
                <span class="hint">{hint}</span>
            </span>
        </div>
    }
}

/// A lab's entry as the field wants it.
pub(crate) fn pair<Q: Quantity>(measured: Option<&Measured<Q>>) -> Option<Pair> {
    measured.map(|measured| (measured.value().si(), measured.standard_uncertainty().si()))
}

/// A field's entry as the lab wants it; numbers that cannot be measured count as not entered.
pub(crate) fn measured<Q: Quantity>(pair: Option<Pair>) -> Option<Measured<Q>> {
    pair.and_then(|(value, u)| Measured::new(Q::from_si(value), Q::from_si(u)).ok())
}
