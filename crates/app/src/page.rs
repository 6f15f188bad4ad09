//! The composition root: header, path, stations.

use crate::browser::language::Speech;
use crate::browser::{framed, later, theme, unload};
use crate::dom::{El, document, el, open_details};
use crate::focus;
use crate::header;
use crate::keep;
use crate::parts::{self, Part};
use crate::said::voice;
use crate::state::LabState;
use crate::stations::{self, KeptTray, STATIONS, Station};
use leptos::prelude::*;
use std::cell::Cell;
use std::time::Duration;
use whorl_core::guide::Place;
use whorl_core::lab::Provenance;
use whorl_words as words;

/// The class of the notebook while somebody types, and how long after the last key.
const TYPING: &str = "typing";
const TYPING_RESTS: Duration = Duration::from_millis(250);

/// Puts the notebook in place of the words that stood there while it loaded.
pub(crate) fn open() {
    // Fails only when it was done before.
    let _ = any_spawner::Executor::init_wasm_bindgen();
    let owner = Owner::new();
    owner.set();
    let lab = LabState::new();
    let speech = Speech::new();
    provide_context(theme::Theme::of_device());
    provide_context(KeptTray::new());
    unload::guard(lab);
    keep::follow(lab);
    later(async move {
        speech.begin().await;
        owner.with(|| show(lab, speech));
        // The page is never taken down again: its owner lives as long as it does.
        std::mem::forget(owner);
    });
}

fn show(lab: LabState, speech: Speech) {
    // What the page's address asks for, and as it changes.
    let address = RwSignal::new(if keep::holds_address() { String::new() } else { hash() });
    // In another language everything is built anew; the lab stays.
    let parts = move || {
        speech.follow();
        lab.prelab.speak_anew();
        let set =
            el("a").attr("id", "set-work").attr("href", "#set").with(words::assigning::for_instructors());
        let footer = el("footer").with(el("p").with(words::page::footer())).with(el("p").with(set));
        untrack(|| vec![header::header(lab, speech), notebook(lab, address), footer])
    };
    let page = el("div").live(parts);
    if let Some(body) = document().body() {
        if let Some(loading) = document().get_element_by_id("loading") {
            loading.remove();
        }
        let _ = body.append_child(page.node());
        let _ = body.append_child(voice().node());
        if !keep::holds_address() {
            follow_address();
        }
        let _ = window_event_listener(leptos::ev::hashchange, move |_| {
            follow_address();
            address.set(hash());
        });
        if framed::is_framed() {
            later(async {
                parts::load(Part::Assigning).await;
                if let Some(part) = parts::assigning() {
                    (part.tell_height)();
                }
            });
        }
    }
}

/// Opens the place for recorded labs where the page's address names one (`library.rs`).
fn follow_address() {
    if hash().starts_with("#lab=") || hash().starts_with("#library=") {
        open_details(header::LIBRARY);
    }
}

/// Whether an address behind the page's own names what is to be opened.
pub(crate) fn names_something(hash: &str) -> bool {
    ["#lab=", "#library=", "#work="].iter().any(|start| hash.starts_with(start))
}

fn hash() -> String {
    window().location().hash().unwrap_or_default()
}

/// What an instructor set, or the place to set it, where the page's address asks for that (`assigning`).
fn set_work(lab: LabState, address: RwSignal<String>) -> El {
    el("div").attr("id", "work").live(move || {
        let asked = address.with(|asked| asked == "#set" || asked.starts_with("#work="));
        let place = || parts::place(Part::Assigning, move || Some((parts::assigning()?.open)(lab)));
        if asked { vec![untrack(place)] } else { Vec::new() }
    })
}

fn notebook(lab: LabState, address: RwSignal<String>) -> El {
    // Every field starts afresh with each lab that is opened.
    let stations = move || stations(lab, lab.opened());
    let main = el("main")
        .attr("id", "notebook")
        .with(set_work(lab, address))
        .with(simulated_mark(lab))
        .with(path(lab))
        .with(el("div").live(stations));
    mark_typing(main)
}

/// While keys follow each other, stations out of view are not laid out anew for each (`notebook.css`).
fn mark_typing(main: El) -> El {
    let marked = main.node().clone();
    let pending = Cell::new(None::<TimeoutHandle>);
    main.on("input", move |_| {
        if let Some(earlier) = pending.take() {
            earlier.clear();
        }
        let _ = marked.class_list().add_1(TYPING);
        let marked = marked.clone();
        let rested = move || drop(marked.class_list().remove_1(TYPING));
        pending.set(set_timeout_with_handle(rested, TYPING_RESTS).ok());
    })
}

/// What stands below a first look at the page.
const LATER: [fn(LabState) -> El; 7] = [
    stations::apparatus::entries,
    stations::runs::station,
    stations::acceleration::station,
    stations::line::station,
    stations::object::station,
    stations::comparison::station,
    stations::report::station,
];

/// Parts still to be built, each with the place it takes.
type Waiting = std::vec::IntoIter<(El, fn(LabState) -> El)>;

/// The pre-lab and the cautions at once; the rest part by part, each in a turn of its own after these have been
/// painted, so that a slow computer shows the page early and answers meanwhile.
fn stations(lab: LabState, opened: u32) -> Vec<El> {
    let owner = Owner::current().unwrap_or_default();
    let [entries, others @ ..] = LATER.map(|_| el("div"));
    let waiting: Vec<_> = std::iter::once(&entries).chain(&others).cloned().zip(LATER).collect();
    request_animation_frame(move || build_next(lab, opened, owner, waiting.into_iter()));
    let first = untrack(|| [stations::prelab::station(lab), stations::apparatus::station(lab, entries)]);
    let set = parts::of_assigned(lab).map(|part| untrack(|| (part.card)(lab)));
    let card = parts::of_recorded(lab).map(|part| untrack(|| (part.card)(lab)));
    set.into_iter().chain(card).chain(first).chain(others).collect()
}

fn build_next(lab: LabState, opened: u32, owner: Owner, mut waiting: Waiting) {
    let turn = move || {
        // Another lab may have been opened meanwhile.
        if let Some((place, build)) = waiting.next().filter(|_| lab.opened_once() == opened) {
            let station = owner.with(|| untrack(|| build(lab)));
            let _ = place.node().replace_with_with_node_1(station.node());
            build_next(lab, opened, owner, waiting);
        }
    };
    set_timeout(turn, Duration::ZERO);
}

fn path(lab: LabState) -> El {
    let entry = |station: Station| {
        el("li").live_class("done", move || station.state(lab).done).with(
            el("a")
                .attr("href", &format!("#{}", station.id))
                .with(el("span.name").with((station.name)()))
                .with(" ")
                .with(el("span.state").live_text(move || station.state(lab).words)),
        )
    };
    el("nav.path")
        .attr("aria-label", words::path::stations())
        .with(el("ol").with(STATIONS.iter().copied().map(entry).collect::<Vec<_>>()))
        .with(next_step(lab))
}

/// The next step, and the way to it.
fn next_step(lab: LabState) -> El {
    let next = Memo::new(move |_| lab.next());
    let id = move || match next.with(|next| next.place) {
        Place::Apparatus => "apparatus",
        Place::Runs => "runs",
        Place::Acceleration(_) => "acceleration",
        Place::Object(_) | Place::Comparison => "comparison",
    };
    let address = move || Some(format!("#{}", id()));
    // What is to be entered there first has the focus at once.
    let go = move || {
        focus::soon_if_in_window(format!("#{} .pair > .number:first-child:placeholder-shown", untrack(id)));
    };
    el("p.next").with(el("span.where").with(words::guide::next())).with(" ").with(
        el("a")
            .live_attr("href", address)
            .live_text(move || next.with(|next| next.words.clone()))
            .on_click(go),
    )
}

fn simulated_mark(lab: LabState) -> El {
    el("p.simulated")
        .attr("role", "note")
        .live_flag("hidden", move || lab.read(|lab| lab.provenance != Provenance::Simulated))
        .with(el("strong").with(words::page::simulated()))
        .with(" ")
        .with(words::page::simulated_why())
}
