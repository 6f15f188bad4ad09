//! What is missing or wrong, in words.

use leptos::prelude::*;

/// Something that keeps a result from being there, with what to do about it.
#[component]
pub(crate) fn Problem(
    /// The message.
    #[prop(into)]
    text: String,
) -> impl IntoView {
    view! { <p class="problem-line"><span aria-hidden="true" class="flag">"!"</span> {sentence(&text)}</p> }
}

/// An explanation beside the work.
#[component]
pub(crate) fn Note(children: Children) -> impl IntoView {
    view! { <p class="aside">{children()}</p> }
}

/// Starts with a capital and ends with a stop.
fn sentence(text: &str) -> String {
    let mut characters = text.chars();
    let first: String = characters.next().into_iter().flat_map(char::to_uppercase).collect();
    let rest = characters.as_str();
    let stop = if rest.ends_with(['.', '!', '?']) { "" } else { "." };
    format!("{first}{rest}{stop}")
}
