//! A link or a file → the lab it sets.

use super::card::HEADING;
use crate::browser::fetching::{self, Address, here};
use crate::browser::{framed::is_framed, later};
use crate::controls::{hint, problem};
use crate::dom::{El, el};
use crate::focus;
use crate::header::{LARGEST_LAB, News, replace_allowed};
use crate::parts::{self, Part};
use crate::state::LabState;
use crate::stations::any_seed;
use leptos::prelude::*;
use std::cell::RefCell;
use std::rc::Rc;
use whorl_core::assignment::{self, Assignment, Source, read_link};
use whorl_core::lab::Lab;
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
    let told = RwSignal::new(Told::Opened);
    // The place may be gone when something is to be said.
    let say: Say = Rc::new(move |what| drop(told.try_set(what)));
    match read_link(link) {
        Ok(assignment) => begin(lab, &say, assignment, move || replace_allowed(lab)),
        Err(why) => say(Told::Problem(why.to_string())),
    }
    vec![view(lab, told, say)]
}

/// Opens an assignment from a file of this name; that unsaved work may go has been asked.
pub(crate) fn open_text(lab: LabState, news: News, name: &str, text: &str) {
    let say: Say = Rc::new(move |what| match what {
        Told::Problem(text) => news.problem(text),
        Told::Kept => news.done(words::assigning::kept().to_owned()),
        Told::Fetching => news.done(words::assigning::fetching().to_owned()),
        Told::NotFetched(_, why) => news.problem(words::assigning::not_fetched(&why)),
        Told::Opened => news.done(words::assigning::opened(&lab.read_once(|lab| lab.title.clone()))),
    });
    match assignment::open(text) {
        Ok(assignment) => begin(lab, &say, assignment, || true),
        Err(problem) => news.problem(format!("{name}, {problem}")),
    }
}

/// What there is to say while an assignment is opened.
#[derive(Clone)]
enum Told {
    Opened,
    Fetching,
    Kept,
    Problem(String),
    NotFetched(Box<Assignment>, String),
}

/// Where it is said.
type Say = Rc<dyn Fn(Told)>;

fn view(lab: LabState, told: RwSignal<Told>, say: Say) -> El {
    let wrong = |text: &str| {
        el("section.assigned")
            .attr("role", "alert")
            .with(el("h2").with(words::assigning::cannot_open()))
            .with(problem(text))
    };
    el("div").live(move || match told.get() {
        Told::Opened => Vec::new(),
        Told::Fetching => vec![el("p.hint").attr("role", "status").with(words::assigning::fetching())],
        Told::Kept => vec![hint(words::assigning::kept()).attr("role", "status")],
        Told::Problem(text) => vec![wrong(&text)],
        Told::NotFetched(assignment, why) => {
            let say = Rc::clone(&say);
            let again = move || begin(lab, &say, (*assignment).clone(), move || replace_allowed(lab));
            let button = el("button").attr("type", "button").with(words::parts::try_again()).on_click(again);
            vec![wrong(&words::assigning::not_fetched(&why)).with(button)]
        }
    })
}

/// Opens the lab of an assignment once what it needs is there, if `may` it replace the one that is open.
fn begin(lab: LabState, say: &Say, assignment: Assignment, may: impl FnOnce() -> bool + 'static) {
    let put = move |opened: Lab| {
        if !may() {
            return Told::Kept;
        }
        lab.open(opened);
        // A course page is not scrolled to its frame before anybody has come to that.
        if !is_framed() || focus::is_somewhere() {
            focus::soon(HEADING);
        }
        Told::Opened
    };
    if let Source::Recorded { address } = &assignment.readings {
        let (address, say) = (address.clone(), Rc::clone(say));
        say(Told::Fetching);
        later(async move {
            let found = recorded(&address).await;
            say(match found {
                Ok(recorded) => put(assignment.onto(recorded)),
                Err(why) => Told::NotFetched(Box::new(assignment), why),
            });
        });
        return;
    }
    say(match assignment.begin(any_seed()) {
        Ok(opened) => put(opened),
        Err(why) => Told::Problem(why.to_string()),
    });
}

/// The recorded lab at an address.
async fn recorded(address: &str) -> Result<Lab, String> {
    // What is recorded is shown by its part.
    if !parts::load(Part::Library).await {
        return Err(words::parts::not_loaded().to_owned());
    }
    let address = Address::read(address, &here())?;
    let (bytes, _) = fetching::fetch(&address, LARGEST_LAB, None, &|_, _| ()).await?;
    let text = String::from_utf8(bytes).map_err(|_| words::page::not_utf8(&address.file))?;
    lab_file::open_alone(&text).map_err(|problem| problem.in_text_of(&address.file, &text))
}
