//! Recorded labs: lists of them, ours and those that a teacher hosts, and the ways to open one: from a list, by its
//! address, from a file, by a link to this page (`#lab=ADDRESS`, `#library=ADDRESS`).

mod rest;

use crate::browser::fetching::{self, Address};
use crate::browser::later;
use crate::controls::{hint, unique_id};
use crate::dom::{El, el};
use crate::focus;
use crate::header::{LARGEST_LAB, News, file_picker, look_at_readings, open_files, put, replace_allowed};
use crate::parts::{self, Part};
use crate::state::LabState;
use crate::stations::recorded;
use leptos::prelude::*;
pub(crate) use rest::offer_rest;
use std::cell::RefCell;
use wasm_bindgen::JsCast;
use web_sys::{AbortController, HtmlInputElement};
use whorl_core::lab::Lab;
use whorl_core::lab_file::{self, LabFileError};
use whorl_core::library::{self, Kind, LARGEST, Library, Listed};
use whorl_words::{self as words, Language};

/// The lists that come with the page.
fn own_list() -> &'static str {
    match words::spoken() {
        Language::English => "library/index.json",
        Language::Spanish => "library/index.es.json",
    }
}

/// The heading of the list that is shown; the focus goes here when another one is.
const HEADING: &str = "recorded-labs-list";

/// A list, and where it was found.
#[derive(Clone)]
struct Found {
    library: Library,
    from: Address,
}

thread_local! {
    /// A list fetched from elsewhere: it is shown again when the place is opened again.
    static FETCHED: RefCell<Option<Found>> = const { RefCell::new(None) };
    /// The address behind this page's own that was followed last: in another language the page is built anew, and
    /// what it named is not fetched once more.
    static FOLLOWED: RefCell<String> = const { RefCell::new(String::new()) };
}

/// What is going on in the place for recorded labs.
#[derive(Clone, Copy)]
struct Place {
    lab: LabState,
    news: News,
    shown: RwSignal<Option<Found>, LocalStorage>,
    /// Whether something is being fetched. What, and what comes of it, the page's head says.
    fetching: RwSignal<bool>,
    /// How many bytes of it have come, and of how many.
    come: RwSignal<(usize, Option<usize>)>,
    /// What ends the fetch, and the how manieth it is: one that was overtaken by another is not heard any more.
    stop: RwSignal<Option<AbortController>, LocalStorage>,
    turn: RwSignal<u32>,
}

/// The place for them.
pub(crate) fn opened(lab: LabState, news: News) -> Vec<El> {
    let place = Place {
        lab,
        news,
        shown: RwSignal::new_local(FETCHED.with_borrow(Clone::clone)),
        fetching: RwSignal::new(false),
        come: RwSignal::new((0, None)),
        stop: RwSignal::new_local(None),
        turn: RwSignal::new(0),
    };
    let listener = window_event_listener(leptos::ev::hashchange, move |_| {
        let _ = place.follow();
    });
    on_cleanup(move || {
        listener.remove();
        place.end();
    });
    FOLLOWED.with_borrow_mut(|followed| {
        if fetching::named().as_ref() != Some(followed) {
            followed.clear();
        }
    });
    if !FOLLOWED.with_borrow(String::is_empty) || !place.follow() {
        place.show_own();
    }
    vec![
        el("p.hint").with(words::datasets::purpose()),
        el("div").live(move || {
            place.shown.with(|shown| shown.iter().flat_map(|found| place.list(found)).collect())
        }),
        place.elsewhere(),
        place.at_work(),
    ]
}

impl Place {
    /// Opens what this page's address names; whether it names something.
    fn follow(self) -> bool {
        let Some(named) = fetching::named() else { return false };
        FOLLOWED.with_borrow_mut(|followed| followed.clone_from(&named));
        self.open_typed(&named, &fetching::here());
        true
    }

    fn show_own(self) {
        if self.shown.with_untracked(Option::is_none) {
            // It comes by itself, so nothing is said of it unless it does not.
            match Address::read(own_list(), &fetching::here()) {
                Ok(address) => self.open(address, None),
                Err(problem) => self.news.problem(problem),
            }
        }
    }

    fn open_typed(self, typed: &str, base: &str) {
        match Address::read(typed.trim(), base) {
            Ok(address) => self.say_and_open(address, None),
            Err(problem) => self.news.problem(problem),
        }
    }

    fn say_and_open(self, address: Address, listed: Option<Listed>) {
        self.news.done(match &address.host {
            Some(host) => words::datasets::fetching_from(&address.file, host),
            None => words::datasets::fetching_own(&address.file),
        });
        self.fetching.set(true);
        self.open(address, listed);
    }

    /// Ends what is being fetched.
    fn end(self) {
        if let Some(Some(controller)) = self.stop.try_update(Option::take) {
            controller.abort();
        }
    }

    /// Fetches and opens a lab or a list; `listed` is what a list says of it.
    fn open(self, address: Address, listed: Option<Listed>) {
        self.end();
        self.come.set((0, None));
        let controller = fetching::controller();
        self.stop.set(controller.clone());
        let turn = self.turn.get_untracked() + 1;
        self.turn.set(turn);
        later(async move {
            let signal = controller.as_ref().map(AbortController::signal);
            // The place may be closed meanwhile, and its signals gone.
            let progress = move |came, of| {
                let _ = self.come.try_set((came, of));
            };
            let found = fetching::fetch(&address, LARGEST_LAB, signal.as_ref(), &progress).await;
            if self.turn.try_get_untracked() != Some(turn) {
                return;
            }
            let outcome = found.and_then(|(bytes, from)| self.take(&bytes, &from, &address, listed.as_ref()));
            // What was opened may have led on to our own list.
            if self.turn.try_get_untracked() == Some(turn) {
                self.stop.set(None);
                self.fetching.set(false);
            }
            if let Err(problem) = outcome {
                self.news.problem(problem);
            }
        });
    }

    /// Opens what was fetched.
    fn take(self, bytes: &[u8], from: &str, asked: &Address, listed: Option<&Listed>) -> Result<(), String> {
        let name = &asked.file;
        let text = str::from_utf8(bytes).map_err(|_| words::page::not_utf8(name))?;
        // Links in a list lead on from where it was found in the end.
        let from = Address::read(from, &asked.whole).unwrap_or_else(|_| asked.clone());
        match (library::kind(text), listed) {
            (_, Some(listed)) if !listed.means(bytes) => Err(words::datasets::other_file(name)),
            (Some(Kind::Library), None) if bytes.len() > LARGEST => {
                Err(words::datasets::too_large(name, &words::number(LARGEST as f64 / 1e6, 1)))
            }
            (Some(Kind::Library), None) => {
                let own = FETCHED.with_borrow(Option::is_none) && from.whole.ends_with(own_list());
                let found = Found { library: library::open(name, text)?, from };
                if !own {
                    FETCHED.with_borrow_mut(|fetched| *fetched = Some(found.clone()));
                    let Library { title, datasets } = &found.library;
                    self.news.done(words::datasets::list_shown(title, &datasets.len()));
                    focus::soon(HEADING);
                }
                self.shown.set(Some(found));
                Ok(())
            }
            (Some(Kind::Assignment), None) => {
                if !replace_allowed(self.lab) {
                    return Err(words::datasets::kept().to_owned());
                }
                open_assignment(self.lab, self.news, name, text);
                Ok(())
            }
            // Of what is no JSON at all, the lab's reader says where it stops being one.
            (None, None) if matches!(lab_file::open_own(text), Err(LabFileError::NotALab)) => {
                Err(words::datasets::neither(name))
            }
            _ => self.open_lab(name, text, from.host.as_deref()),
        }
    }

    fn open_lab(self, name: &str, text: &str, host: Option<&str>) -> Result<(), String> {
        let opened = lab_file::open_alone(text).map_err(|problem| problem.in_text_of(name, text))?;
        if !replace_allowed(self.lab) {
            return Err(words::datasets::kept().to_owned());
        }
        let told = host.map(|host| words::datasets::opened_from(&opened.title, &opened.runs().len(), &host));
        begin(self.lab, self.news, opened);
        if let Some(told) = told {
            self.news.done(told);
        }
        look_at_readings(self.lab, self.news, text);
        // Behind it stands what was opened.
        if self.shown.with_untracked(Option::is_none) {
            self.show_own();
        }
        Ok(())
    }

    /// A list.
    fn list(self, found: &Found) -> Vec<El> {
        let from = match &found.from.host {
            Some(host) => words::datasets::list_from(host),
            None => words::datasets::list_of_this_host().to_owned(),
        };
        let items: Vec<El> = found.library.datasets.iter().map(|listed| self.one(found, listed)).collect();
        let none = items.is_empty().then(|| el("p.empty").with(words::datasets::none_listed()));
        vec![
            el("h2").attr("id", HEADING).attr("tabindex", "-1").with(found.library.title.as_str()),
            el("p.hint").with(from),
            el("ul.datasets").attr("aria-labelledby", HEADING).with(items),
        ]
        .into_iter()
        .chain(none)
        .collect()
    }

    fn one(self, found: &Found, listed: &Listed) -> El {
        let heading = unique_id("recorded");
        let made = if listed.simulated { words::datasets::simulated() } else { words::datasets::measured() };
        let of = words::datasets::by_and_licence(&listed.recorded_by, &listed.licence);
        let (base, wanted) = (found.from.whole.clone(), listed.clone());
        let open = move || match Address::read(&wanted.file, &base) {
            Ok(address) => self.say_and_open(address, Some(wanted.clone())),
            Err(problem) => self.news.problem(problem),
        };
        el("li")
            .with(el("h3").attr("id", &heading).with(listed.title.as_str()))
            .with(el("p").with(el("strong").with(made)).with(" ").with(listed.about.as_str()))
            .with(el("p.hint").with(of))
            .with(
                el("button")
                    .attr("type", "button")
                    .attr("aria-label", &words::datasets::open_titled(&listed.title))
                    .with(words::datasets::open())
                    .on_click(open),
            )
    }

    /// Labs and lists that are not here.
    fn elsewhere(self) -> El {
        let (id, note) = (unique_id("address"), unique_id("note"));
        let field = el("input")
            .attr("id", &id)
            .attr("type", "text")
            .attr("inputmode", "url")
            .attr("autocomplete", "off")
            .attr("spellcheck", "false")
            .attr("aria-describedby", &note);
        let typed = field.node().clone();
        let submit = move |event: web_sys::Event| {
            event.prevent_default();
            let typed: &HtmlInputElement = typed.unchecked_ref();
            self.open_typed(&typed.value(), &fetching::here());
        };
        el("form.elsewhere")
            .on("submit", submit)
            .with(el("label").attr("for", &id).with(words::datasets::address()))
            .with(el("div.choices").with(field).with(el("button").with(words::datasets::fetch())).with(
                file_picker(words::datasets::from_file(), "", ".json,application/json", move |list| {
                    open_files(self.lab, self.news, list);
                }),
            ))
            .with(hint(words::datasets::address_hint()).attr("id", &note))
    }

    /// What is being fetched, and a way to stop it.
    fn at_work(self) -> El {
        let megabytes = move || match self.come.get() {
            (0, _) => String::new(),
            (came, _) => words::datasets::megabytes(&words::number(came as f64 / 1e6, 1)),
        };
        let bar = el("progress")
            .attr("aria-label", words::datasets::progress())
            .live_attr("max", move || self.come.get().1.map(|of| of.to_string()))
            .live_attr("value", move || self.come.get().1.map(|_| self.come.get().0.to_string()));
        let stop = move || {
            self.end();
            focus::soon(HEADING);
        };
        el("div.at-work").with(
            el("div.choices")
                .live_flag("hidden", move || !self.fetching.get())
                .with(bar)
                .with(el("span.hint").live_text(megabytes))
                .with(el("button").attr("type", "button").with(words::datasets::stop()).on_click(stop)),
        )
    }
}

/// Puts a lab in place of the one that is open; the focus goes to what it says about itself.
fn begin(lab: LabState, news: News, opened: Lab) {
    if opened.assignment().is_some() && parts::assigning().is_none() {
        // Work that was set is shown by its own part.
        later(async move {
            if parts::load(Part::Assigning).await {
                begin(lab, news, opened);
            } else {
                news.problem(words::parts::not_loaded().to_owned());
            }
        });
        return;
    }
    let locked = opened.is_locked();
    put(lab, news, opened);
    if locked {
        focus::soon(recorded::HEADING);
    }
}

/// Opens a lab of this name and text, recorded or not; whether it is one.
pub(crate) fn open_text(lab: LabState, news: News, name: &str, text: &str) -> bool {
    if library::kind(text) == Some(Kind::Assignment) {
        open_assignment(lab, news, name, text);
        return true;
    }
    match lab_file::open_alone(text) {
        Ok(opened) => {
            begin(lab, news, opened);
            look_at_readings(lab, news, text);
            true
        }
        Err(problem) => {
            let told = problem.in_text_of(name, text);
            news.problem(told.clone());
            offer_rest(lab, news, text.as_bytes(), &told);
            false
        }
    }
}

/// Opens a lab that the browser kept, recorded or not.
pub(crate) fn open_kept(lab: LabState, text: &str) -> Result<(), String> {
    let opened = lab_file::open_alone(text).map_err(|problem| problem.to_string())?;
    lab.open(opened);
    Ok(())
}

/// Opens an assignment of this name and text, by the part that can.
fn open_assignment(lab: LabState, news: News, name: &str, text: &str) {
    let (name, text) = (name.to_owned(), text.to_owned());
    later(async move {
        parts::load(Part::Assigning).await;
        match parts::assigning() {
            Some(part) => (part.open_text)(lab, news, &name, &text),
            None => news.problem(words::parts::not_loaded().to_owned()),
        }
    });
}
