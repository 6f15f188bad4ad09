//! What comes of the choices: a link, a file, a snippet for a course page.

use super::super::embed::snippet;
use super::draft::Draft;
use super::{Choices, HEADING};
use crate::browser::fetching::here;
use crate::browser::{download, files, later};
use crate::controls::{hint, unique_id};
use crate::dom::{El, el};
use crate::focus;
use crate::header::file_picker;
use leptos::prelude::*;
use whorl_core::assignment::{self, Assignment, LARGEST, LONGEST_LINK, Shorten, fragment, too_long};
use whorl_words as words;

/// The name of a file that is saved.
const FILE: &str = "assignment.json";

/// This page's own address, without what stands behind its `#`.
fn page() -> String {
    here().split('#').next().unwrap_or_default().to_owned()
}

/// The result as it stands, and what can be done with it.
pub(super) fn result(choices: Choices) -> El {
    let outcome = choices.outcome;
    let link = Memo::new(move |_| {
        outcome.with(|outcome| outcome.as_ref().ok().map(|set| page() + &fragment(set)).unwrap_or_default())
    });
    let too_long = Memo::new(move |_| {
        let long = outcome.with(|outcome| too_long(&page(), outcome.as_ref().ok()?));
        long.map(|long| told_too_long(long.by, long.shorten)).unwrap_or_default()
    });
    let embed = Memo::new(move |_| {
        let title = outcome.with(|outcome| outcome.as_ref().ok().map(|set| set.title.clone()));
        title.map(|title| snippet(&title, &link.get())).unwrap_or_default()
    });
    let told = move || match outcome.with(|outcome| outcome.as_ref().err().cloned()) {
        Some(problem) => words::assigning::wrong(&problem),
        None => words::assigning::length(&link.with(|link| link.chars().count()), &LONGEST_LINK),
    };
    let no_link = move || outcome.with(Result::is_err) || !too_long.with(String::is_empty);
    let news = RwSignal::new(String::new());
    let [link_place, embed_place] = [(); 2].map(|()| unique_id("handed"));
    let copy = move |text: Memo<String>, place: &str, done: fn() -> &'static str| {
        let place = place.to_owned();
        move || {
            let (text, place) = (text.get_untracked(), place.clone());
            later(async move {
                if download::copy(&text).await {
                    news.set(done().to_owned());
                } else {
                    news.set(words::assigning::not_copied().to_owned());
                    focus::soon_at(place);
                }
            });
        }
    };
    let set = move || outcome.with_untracked(|outcome| outcome.as_ref().ok().cloned());
    let save = move || {
        let Some(set) = set() else { return };
        let saved = download::save(&assignment::save(&set), FILE, "application/json").is_some();
        news.set(if saved {
            words::assigning::file_saved(&FILE)
        } else {
            words::page::save_refused().to_owned()
        });
    };
    let try_it = move || {
        if let Some(set) = set() {
            let _ = window().location().set_hash(&fragment(&set));
        }
    };
    let button = |words: &str| el("button").attr("type", "button").with(words);
    let wrong = move || outcome.with(Result::is_err);
    el("section.handing")
        .attr("aria-labelledby", "handing-heading")
        .with(el("h3").attr("id", "handing-heading").with(words::assigning::result()))
        .with(el("p.verdict").live_status(told))
        .with(
            el("p.problem-line")
                .live_flag("hidden", move || too_long.with(String::is_empty))
                .live_status(move || too_long.get()),
        )
        .with(
            el("div.lab-actions")
                .attr("role", "group")
                .attr("aria-label", words::assigning::result())
                .with(
                    button(words::assigning::copy_link())
                        .attr("class", "main")
                        .live_unavailable(no_link)
                        .on_click(copy(link, &link_place, words::assigning::link_copied)),
                )
                .with(button(words::assigning::save_file()).live_unavailable(wrong).on_click(save))
                .with(button(words::assigning::copy_embed()).live_unavailable(no_link).on_click(copy(
                    embed,
                    &embed_place,
                    words::assigning::embed_copied,
                )))
                .with(button(words::assigning::try_it()).live_unavailable(wrong).on_click(try_it))
                .with(file_picker(
                    words::assigning::open_file(),
                    "",
                    ".json,application/json",
                    move |list| take_file(choices, news, list),
                )),
        )
        .with(el("div.news").live_news(move || news.get()))
        .with(shown(words::assigning::link_text(), &link_place, link))
        .with(shown(words::assigning::embed_text(), &embed_place, embed))
        .with(hint(words::assigning::embed_hint()))
}

fn told_too_long(by: usize, shorten: Shorten) -> String {
    let remedy = match shorten {
        Shorten::Instructions => words::assigning::shorten_instructions(),
        Shorten::Bench => words::assigning::shorten_bench(),
        Shorten::Objects => words::assigning::shorten_objects(),
        Shorten::Address => words::assigning::shorten_address(),
    };
    format!("{} {remedy}", words::assigning::too_long(&by))
}

/// A text to be read, or copied by hand.
fn shown(label: &str, id: &str, text: Memo<String>) -> El {
    el("div.wish").with(el("label").attr("for", id).with(label)).with(
        el("textarea")
            .attr("id", id)
            .attr("readonly", "")
            .attr("rows", "3")
            .attr("spellcheck", "false")
            .live_value(move || text.get()),
    )
}

/// Goes on with an assignment from a file.
fn take_file(choices: Choices, news: RwSignal<String>, list: Vec<web_sys::File>) {
    let Some(file) = list.into_iter().next() else { return };
    later(async move {
        match read(&file).await {
            Ok(set) => {
                let (draft, bench) = Draft::of(&set);
                choices.draft.set(draft);
                choices.bench.set(bench);
                choices.renewed.update(|count| *count += 1);
                news.set(words::assigning::file_read(&set.title));
                focus::soon(HEADING);
            }
            Err(problem) => news.set(format!("{}, {problem}", file.name())),
        }
    });
}

async fn read(file: &web_sys::File) -> Result<Assignment, String> {
    let bytes = files::read(file, LARGEST).await?;
    let text = String::from_utf8(bytes).map_err(|_| words::page::not_utf8(&file.name()))?;
    assignment::open(&text).map_err(|why| why.to_string())
}
