//! “Show the working”: opens equation → values put in → result.

use super::formula_view::{place, working_element};
use leptos::html::Div;
use leptos::prelude::*;
use whorl_core::working::Working;

/// A disclosure with the steps behind a result; nothing is built before it is opened.
#[component]
pub(crate) fn WorkingView(
    /// What is explained, as in “of the slope”.
    #[prop(into)]
    of: String,
    /// The steps, in order.
    #[prop(into)]
    steps: Signal<Vec<Working>>,
) -> impl IntoView {
    let open = RwSignal::new(false);
    view! {
        <details class="working" on:toggle=move |_| open.update(|open| *open = !*open)>
            <summary>"Show the working" <span class="of">" of " {of}</span></summary>
            {move || {
                open.get()
                    .then(|| {
                        let steps = steps.get().into_iter().map(|step| view! { <Step step=step/> }).collect_view();
                        view! { <ol class="steps">{steps}</ol> }
                    })
            }}
        </details>
    }
}

#[component]
fn Step(step: Working) -> impl IntoView {
    let holder = NodeRef::<Div>::new();
    let words = step.words;
    let meanings = step
        .bindings
        .iter()
        .map(|binding| {
            let subscript = (!binding.symbol.subscript.is_empty()).then(|| view! { <sub>{binding.symbol.subscript}</sub> });
            view! { <li><i>{binding.symbol.letter}</i> {subscript} " " {binding.meaning} ": " {binding.text.clone()}</li> }
        })
        .collect_view();
    Effect::new(move |_| {
        if let (Some(holder), Some(math)) = (holder.get(), working_element(&step)) {
            place(&holder, &math);
        }
    });
    view! {
        <li>
            <p>{words}</p>
            <div class="math" node_ref=holder tabindex="0"></div>
            <ul class="meanings">{meanings}</ul>
        </li>
    }
}
