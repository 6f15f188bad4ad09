//! A run on the bench: what it is made with, and letting it fall, as long as it takes or at once.

use super::session;
use crate::controls::{hint, menu, unique_id};
use crate::dom::{El, el, watch};
use crate::state::LabState;
use crate::stations::replay;
use leptos::prelude::*;
use whorl_core::bench::{Ending, Grip, Load, Session, Start, Wish};
use whorl_core::lab::RunId;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::Seconds;
use whorl_words as words;

/// What is chosen for the next run.
#[derive(Clone, Copy)]
struct Chosen {
    /// 0 for the empty table, else the object's number from 1.
    load: RwSignal<usize>,
    mass: RwSignal<usize>,
    start: RwSignal<Start>,
    grip: RwSignal<Grip>,
    ending: RwSignal<Ending>,
    winding: RwSignal<bool>,
}

impl Chosen {
    fn wish(self) -> Wish {
        let load = match self.load.get_untracked() {
            0 => Load::Empty,
            number => Load::Object(number - 1),
        };
        Wish {
            start: self.start.get_untracked(),
            grip: self.grip.get_untracked(),
            ending: self.ending.get_untracked(),
            winding: self.winding.get_untracked(),
            ..Wish::usual(load, self.mass.get_untracked())
        }
    }
}

/// The choices, two buttons, and the run that is being watched.
pub(super) fn form(lab: LabState, session: &Session) -> Vec<El> {
    let bench = session.bench();
    let usual = bench.usual_masses(Load::Empty, 3);
    let chosen = Chosen {
        load: RwSignal::new(0),
        mass: RwSignal::new(usual.get(1).copied().unwrap_or(0)),
        start: RwSignal::new(Start::default()),
        grip: RwSignal::new(Grip::default()),
        ending: RwSignal::new(Ending::default()),
        winding: RwSignal::new(true),
    };
    let mut loads = vec![words::bench_view::table().to_owned()];
    loads.extend(bench.settings().objects.iter().map(|object| object.name.clone()));
    let masses: Vec<String> =
        bench.masses_kg().iter().map(|mass| show_number(*mass, DisplayUnit::GRAMS, 6)).collect();
    let news = RwSignal::new(String::new());
    let (watched, busy) = (RwSignal::new(None::<RunId>), RwSignal::new(false));
    let take = move |at_once: bool| {
        let (id, told) = take(lab, &chosen.wish());
        news.set(told);
        watched.set(if at_once { None } else { id });
    };
    let winding_id = unique_id("winding");
    let winding = el("input")
        .attr("type", "checkbox")
        .attr("id", &winding_id)
        .live_checked(move || chosen.winding.get())
        .on("change", move |_| chosen.winding.update(|winding| *winding = !*winding));
    let button = |words: &str, at_once: bool| {
        el("button")
            .attr("type", "button")
            .with(words)
            .live_unavailable(move || busy.get())
            .on_click(move || take(at_once))
    };
    let view = el("div.watched").live(move || {
        let Some(id) = watched.get() else {
            busy.set(false);
            return Vec::new();
        };
        let (content, playing) = untrack(|| replay::played(lab, id));
        if let Some(playing) = playing {
            watch(move || busy.set(playing.get()));
        }
        content
    });
    vec![
        el("h3").with(words::bench_view::yours(&bench.seed().code())),
        el("div.wishes")
            .with(choice(words::bench_view::carries(), numbered(loads), chosen.load))
            .with(choice(words::bench_view::hangs(), numbered(masses), chosen.mass))
            .with(kinds(words::bench_view::release(), &Start::ALL, Start::words, chosen.start))
            .with(kinds(words::bench_view::string(), &Grip::ALL, Grip::words, chosen.grip))
            .with(kinds(words::bench_view::ending(), &Ending::ALL, Ending::words, chosen.ending)),
        el("label.pair").attr("for", &winding_id).with(winding).with(words::bench_view::winding()),
        el("div.lab-actions")
            .with(button(words::bench_view::fall(), false).attr("class", "main"))
            .with(button(words::bench_view::fast(), true)),
        el("div.news").live_news(move || news.get()),
        el("div").live_flag("hidden", move || !busy.get()).with(hint(words::bench_view::watching())),
        view,
    ]
}

/// Takes a run and enters it; what there is to say of it.
fn take(lab: LabState, wish: &Wish) -> (Option<RunId>, String) {
    let nothing = || (None, words::bench_view::nothing_seen().to_owned());
    let Some(mut session) = session(lab) else { return nothing() };
    let Some(run) = session.take(wish) else { return nothing() };
    let times = run.gate_times_s();
    let entered = lab.enter_from_bench(session.to_text(), |lab| session.bench().enter(lab, &run)).flatten();
    let (Some(id), Some(first), Some(last)) = (entered, times.first(), times.last()) else {
        return nothing();
    };
    let name = lab.read_once(|lab| lab.run(id).map(|run| run.name.clone())).unwrap_or_default();
    let duration = show_number(last - first, DisplayUnit::si::<Seconds>(), 3);
    (Some(id), words::bench_view::taken(&name, &times.len(), &duration))
}

fn numbered(names: Vec<String>) -> Vec<(String, String)> {
    names.into_iter().enumerate().map(|(number, name)| (number.to_string(), name)).collect()
}

fn labelled(label: &str, select: El) -> El {
    let id = unique_id("wish");
    el("span").with(el("label").attr("for", &id).with(label)).with(select.attr("id", &id))
}

fn choice(label: &str, options: Vec<(String, String)>, chosen: RwSignal<usize>) -> El {
    let select = menu(
        move || options.clone(),
        move || chosen.get().to_string(),
        move |number| chosen.set(number.parse().unwrap_or(0)),
    );
    labelled(label, select)
}

fn kinds<T: Copy + PartialEq + Send + Sync + 'static>(
    label: &str,
    all: &'static [T],
    words: fn(T) -> &'static str,
    chosen: RwSignal<T>,
) -> El {
    let options = move || numbered(all.iter().map(|kind| words(*kind).to_owned()).collect());
    let number = move || all.iter().position(|kind| *kind == chosen.get()).unwrap_or(0).to_string();
    let choose = move |number: String| {
        if let Some(kind) = number.parse().ok().and_then(|number: usize| all.get(number)) {
            chosen.set(*kind);
        }
    };
    labelled(label, menu(options, number, choose))
}
