//! A result: value, standard uncertainty, unit.

use leptos::prelude::*;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, Shown, show};
use whorl_core::quantity::Quantity;

/// Rounds and shows a result.
pub(crate) fn measured_text<Q: Quantity>(measured: &Measured<Q>, unit: DisplayUnit) -> AnyView {
    shown_text(show(measured, unit))
}

/// One body for all quantities.
fn shown_text(shown: Shown) -> AnyView {
    let uncertainty = shown.uncertainty.map(|uncertainty| {
        view! { <span class="u" title="standard uncertainty"><i>"u"</i> " = " {uncertainty}</span> }
    });
    view! {
        <span class="result">
            <span class="value">{shown.value}</span>
            " "
            {uncertainty}
        </span>
    }
    .into_any()
}
