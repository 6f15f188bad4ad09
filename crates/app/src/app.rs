//! The composition root: header, safety, stations.

use crate::browser::{stopped, theme, unload};
use crate::state::LabState;
use crate::stations::{self, STATIONS, Station};
use leptos::prelude::*;
use std::time::Duration;
use whorl_core::lab::Provenance;
use whorl_core::lab_file;

mod header;

/// How long typing must rest before the rescue copy is renewed.
const RESCUE_DELAY: Duration = Duration::from_millis(400);

/// The whole page.
#[component]
pub(crate) fn App() -> impl IntoView {
    let lab = LabState::new();
    provide_context(lab);
    provide_context(theme::palette());
    unload::guard(lab);
    keep_rescue_copy(lab);

    view! {
        <header::Header/>
        <main id="notebook">
            <SimulatedMark/>
            <nav class="path" aria-label="Stations of the lab">
                <ol>{STATIONS.into_iter().map(|station| view! { <PathEntry station=station/> }).collect_view()}</ol>
            </nav>
            // Every field starts afresh with each lab that is opened.
            {move || {
                lab.opened();
                view! {
                    <stations::apparatus::Apparatus/>
                    <stations::runs::Runs/>
                    <stations::acceleration::Accelerations/>
                    <stations::line::Lines/>
                    <stations::object::Objects/>
                    <stations::comparison::Comparisons/>
                }
            }}
        </main>
        <footer>
            <p>"Whorl works in this page alone: nothing you enter is sent anywhere. Keep your work by saving the lab to a file."</p>
        </footer>
    }
}

#[component]
fn PathEntry(station: Station) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let state = Memo::new(move |_| station.state(lab));
    view! {
        <li class:done=move || state.with(|state| state.done)>
            <a href=format!("#{}", station.id)>
                <span class="name">{station.name}</span>
                <span class="state">{move || state.with(|state| state.words.clone())}</span>
            </a>
        </li>
    }
}

#[component]
fn SimulatedMark() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let simulated = Memo::new(move |_| lab.read(|lab| lab.provenance == Provenance::Simulated));
    move || {
        simulated.get().then(|| {
            view! {
                <p class="simulated" role="note">
                    <strong>"Simulated readings."</strong>
                    " These runs were made by a computer, not on an apparatus."
                </p>
            }
        })
    }
}

/// Keeps a copy of the lab at hand for the panel shown should the program stop.
fn keep_rescue_copy(lab: LabState) {
    let pending = StoredValue::new(None::<TimeoutHandle>);
    Effect::new(move |_| {
        lab.read(|_| ());
        if let Some(earlier) = pending.get_value() {
            earlier.clear();
        }
        let renew = move || {
            stopped::keep_ready(lab.read_once(|lab| if lab.is_blank() { String::new() } else { lab_file::save(lab) }));
        };
        pending.set_value(set_timeout_with_handle(renew, RESCUE_DELAY).ok());
    });
}
