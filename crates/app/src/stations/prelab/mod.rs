//! Station 1: the derivation of the equations, step by step.

mod algebra;
mod choice;
mod diagram;
mod ladder;
mod step;
mod summary;

use super::frame;
use crate::browser::{files, later};
use crate::controls::{Words, problem, prose, scrolled, symbol_view};
use crate::dom::{El, document, el};
use crate::focus::{focus, keep_in_window};
use crate::header::file_picker;
use crate::parts;
use crate::prelab::{PrelabState, SHIPPED};
use crate::state::LabState;
use leptos::prelude::*;
use std::sync::Arc;
use whorl_derivation::derivation::Derivation;
use whorl_derivation::file;
use whorl_derivation::symbols::SymbolId;
use whorl_words as words;

/// A derivation file is text of a few pages.
const LARGEST_FILE: usize = 1_000_000;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let prelab = lab.prelab;
    let place = el("div.prelab")
        .attr("tabindex", "-1")
        .attr("role", "group")
        .attr("aria-label", words::prelab::place());
    frame(lab, 0, words::prelab::purpose()).with(place.live(move || match prelab.derivation() {
        Some(derivation) => {
            untrack(|| parts::prelab().map(|part| (part.begun)(prelab, &derivation)).unwrap_or_default())
        }
        None => chooser(prelab),
    }))
}

/// Which derivation to begin.
fn chooser(prelab: PrelabState) -> Vec<El> {
    let waiting = prelab.read(|record| record.derivation.is_some());
    if waiting && prelab.problem.with(String::is_empty) {
        return vec![el("p.empty").attr("role", "status").with(words::prelab::fetching())];
    }
    let shipped = |(index, (id, title)): (usize, &(&'static str, Words))| {
        let id = *id;
        let class = if index == 0 { "main" } else { "" };
        el("li").with(
            el("button")
                .attr("type", "button")
                .attr("class", class)
                .with(words::prelab::begin(&title()))
                .on_click(move || {
                    keep_focus();
                    prelab.begin(id);
                }),
        )
    };
    let own = move |list: Vec<web_sys::File>| {
        later(async move {
            for file in list {
                let name = file.name();
                let text = files::read(&file, LARGEST_FILE).await.and_then(|bytes| {
                    String::from_utf8(bytes).map_err(|_| words::prelab::file_not_utf8().to_owned())
                });
                keep_focus();
                match text {
                    Ok(text) => prelab.begin_own(&name, text).await,
                    Err(problem) => prelab.problem.set(words::prelab::not_begun(&name, &problem)),
                }
            }
        });
    };
    let file = el("li").with(file_picker(words::prelab::begin_own(), "", ".json,application/json", own));
    let trouble = prelab.problem.get();
    let trouble = (!trouble.is_empty()).then(|| el("div").attr("role", "alert").with(problem(&trouble)));
    let again = waiting.then(|| {
        el("button").attr("type", "button").with(words::parts::try_again()).on_click(move || {
            keep_focus();
            prelab.try_again();
        })
    });
    let put_away = waiting.then(|| put_away(prelab));
    vec![
        el("div").with(trouble).with(again).with(" ").with(put_away),
        el("ul.begin").with(SHIPPED.iter().enumerate().map(shipped).collect::<Vec<_>>()).with(file),
        el("p.aside").with(words::prelab::not_asked()),
    ]
}

fn put_away(prelab: PrelabState) -> El {
    el("button.quiet").attr("type", "button").with(words::prelab::put_away()).on_click(move || {
        let nothing = prelab.read_once(|record| record.steps.is_empty());
        if nothing || window().confirm_with_message(words::prelab::put_away_sure()).unwrap_or(true) {
            keep_focus();
            prelab.put_away();
        }
    })
}

/// The control just used is about to go away: what it stood in takes the focus.
fn keep_focus() {
    if let Ok(Some(place)) = document().query_selector(".prelab") {
        focus(&place);
        keep_in_window();
    }
}

/// Reads a derivation.
pub(crate) fn open(text: &str) -> Result<Derivation, String> {
    file::open(text).map_err(|problem| problem.to_string())
}

/// The derivation with its steps.
pub(crate) fn begun(prelab: PrelabState, derivation: &Arc<Derivation>) -> Vec<El> {
    let symbols = &derivation.symbols;
    let meaning = |id: SymbolId| {
        let symbol = symbols.get(id)?;
        let unit = if symbol.unit.is_empty() {
            words::prelab::plain_number().to_owned()
        } else {
            symbol.unit.clone()
        };
        Some(
            el("tr")
                .with(el("th").attr("scope", "row").with(symbol_view(id, symbols)))
                .with(el("td").with(symbol.means.clone()))
                .with(el("td").with(unit))
                .with(el("td").with(el("code").with(symbol.key.clone()))),
        )
    };
    let table = {
        let rows: Vec<El> = symbols.ids().filter_map(meaning).collect();
        let head = [
            words::prelab::column_symbol(),
            words::prelab::column_means(),
            words::prelab::column_unit(),
            words::prelab::column_typed(),
        ];
        el("table")
            .with(el("caption").with(words::prelab::symbols_caption()))
            .with(
                el("thead")
                    .with(el("tr").with(head.map(|name| el("th").attr("scope", "col").with(name)).to_vec())),
            )
            .with(el("tbody").with(rows))
    };
    let progress = move || match prelab.progress() {
        Some((done, all)) if done == all => words::prelab::all_done().to_owned(),
        Some((done, all)) => words::prelab::steps_done(&done, &all),
        None => String::new(),
    };
    let steps: Vec<El> =
        (0..derivation.steps.len()).map(|index| step::step(prelab, derivation, index)).collect();
    vec![
        el("div.card")
            .with(el("h3").with(derivation.title.clone()))
            .with(prose("p", &derivation.about, symbols))
            .with(
                el("details")
                    .with(el("summary").with(words::prelab::how_to_type()))
                    .with(scrolled(words::prelab::symbols(), table))
                    .with(el("p").with(words::prelab::typing())),
            ),
        el("p.progress").attr("role", "status").live_text(progress),
        el("ol.derivation").with(steps),
        summary::summary(prelab, derivation),
        el("p").with(put_away(prelab)),
    ]
}
