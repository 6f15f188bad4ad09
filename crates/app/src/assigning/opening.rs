//! A link or a file → the lab it sets.

use super::card::HEADING;
use crate::browser::fetching::{self, Address, here};
use crate::browser::later;
use crate::controls::{hint, problem};
use crate::dom::{El, el};
use crate::focus;
use crate::header::{LARGEST_LAB, News, replace_allowed};
use crate::parts::{self, Part};
use crate::state::LabState;
use crate::stations::any_seed;
use leptos::prelude::*;
use std::cell::RefCell;
use whorl_core::assignment::{self, Assignment, Source, read_link};
use whorl_core::lab_file;
use whorl_words as words;

thread_local! {
    /// The link that was followed last: who comes back to it from a station, or changes the language, goes on with
    /// the work.
    static FOLLOWED: RefCell<String> = const { RefCell::new(String::new()) };
}

/// The next link is followed, whichever it is.
pub(super) fn forget() {
    FOLLOWED.with_borrow_mut(String::clear);
}

/// Opens what a link sets; what there is to say of it.
pub(super) fn follow(lab: LabState, link: &str) -> Vec<El> {
    if FOLLOWED.with_borrow(|followed| followed == link) {
        return Vec::new();
    }
    FOLLOWED.with_borrow_mut(|followed| link.clone_into(followed));
    let told = RwSignal::new(Told::Nothing);
    match read_link(link) {
        Ok(assignment) => begin(lab, told, assignment),
        Err(why) => told.set(Told::Problem(why.to_string())),
    }
    vec![view(lab, told)]
}

/// Opens an assignment from a file of this name.
pub(crate) fn open_text(lab: LabState, news: News, name: &str, text: &str) {
    match assignment::open(text) {
        Ok(assignment) => {
            let told = RwSignal::new(Told::Nothing);
            begin(lab, told, assignment);
            // There is no place of its own here: the page's head says it.
            Effect::new(move || match told.get() {
                Told::Problem(text) => news.problem(text),
                Told::Kept => news.done(words::assigning::kept().to_owned()),
                Told::Fetching => news.done(words::assigning::fetching().to_owned()),
                Told::NotFetched(_, why) => news.problem(words::assigning::not_fetched(&why)),
                Told::Nothing => {
                    let title = untrack(|| lab.read_once(|lab| lab.title.clone()));
                    news.done(words::assigning::opened(&title));
                }
            });
        }
        Err(problem) => news.problem(format!("{name}, {problem}")),
    }
}

/// What there is to say while an assignment is opened.
#[derive(Clone)]
enum Told {
    Nothing,
    Fetching,
    Kept,
    Problem(String),
    NotFetched(Box<Assignment>, String),
}

fn view(lab: LabState, told: RwSignal<Told>) -> El {
    let wrong = |text: &str| {
        el("section.assigned")
            .attr("role", "alert")
            .with(el("h2").with(words::assigning::cannot_open()))
            .with(problem(text))
    };
    el("div").live(move || match told.get() {
        Told::Nothing => Vec::new(),
        Told::Fetching => vec![el("p.hint").attr("role", "status").with(words::assigning::fetching())],
        Told::Kept => vec![hint(words::assigning::kept()).attr("role", "status")],
        Told::Problem(text) => vec![wrong(&text)],
        Told::NotFetched(assignment, why) => {
            let again = move || begin(lab, told, (*assignment).clone());
            vec![
                wrong(&words::assigning::not_fetched(&why)).with(
                    el("button").attr("type", "button").with(words::parts::try_again()).on_click(again),
                ),
            ]
        }
    })
}

/// Opens the lab of an assignment, once what it needs is there.
fn begin(lab: LabState, told: RwSignal<Told>, assignment: Assignment) {
    let say = move |what: Told| drop(told.try_set(what));
    if let Source::Recorded { address } = &assignment.readings {
        let address = address.clone();
        say(Told::Fetching);
        later(async move {
            match recorded(&address).await {
                Ok(recorded) => put(lab, told, assignment.onto(recorded)),
                Err(why) => say(Told::NotFetched(Box::new(assignment), why)),
            }
        });
        return;
    }
    match assignment.begin(any_seed()) {
        Ok(opened) => put(lab, told, opened),
        Err(why) => say(Told::Problem(why.to_string())),
    }
}

fn put(lab: LabState, told: RwSignal<Told>, opened: whorl_core::lab::Lab) {
    if replace_allowed(lab) {
        lab.open(opened);
        focus::soon(HEADING);
        let _ = told.try_set(Told::Nothing);
    } else {
        let _ = told.try_set(Told::Kept);
    }
}

/// The recorded lab at an address.
async fn recorded(address: &str) -> Result<whorl_core::lab::Lab, String> {
    // What is recorded is shown by its part.
    if !parts::load(Part::Library).await {
        return Err(words::parts::not_loaded().to_owned());
    }
    let address = Address::read(address, &here())?;
    let (bytes, _) = fetching::fetch(&address, LARGEST_LAB, None, &|_, _| ()).await?;
    let text = String::from_utf8(bytes).map_err(|_| words::page::not_utf8(&address.file))?;
    lab_file::open_alone(&text).map_err(|problem| problem.in_text_of(&address.file, &text))
}
