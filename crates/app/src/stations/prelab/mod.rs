//! Station 1: the derivation of the equations, step by step.

mod algebra;
mod choice;
mod diagram;
mod ladder;
mod step;
mod summary;

use super::frame;
use crate::browser::{files, later};
use crate::controls::{problem, prose, scrolled, symbol_view};
use crate::dom::{El, document, el, focus};
use crate::header::file_picker;
use crate::parts;
use crate::prelab::{PrelabState, SHIPPED};
use crate::state::LabState;
use leptos::prelude::*;
use std::sync::Arc;
use whorl_derivation::derivation::Derivation;
use whorl_derivation::file;
use whorl_derivation::symbols::SymbolId;

const PURPOSE: &str = "Before you touch the apparatus, derive the equations you will use. Write the algebra in your own way: it is read as you type, and a wrong answer is told why.";

/// A derivation file is text of a few pages.
const LARGEST_FILE: usize = 1_000_000;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let prelab = lab.prelab;
    let place =
        el("div.prelab").attr("tabindex", "-1").attr("role", "group").attr("aria-label", "Derivation");
    frame(0, PURPOSE).with(place.live(move || match prelab.derivation() {
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
        return vec![el("p.empty").attr("role", "status").with("Fetching the derivation…")];
    }
    let shipped = |(index, (id, title)): (usize, &(&'static str, &'static str))| {
        let id = *id;
        let class = if index == 0 { "main" } else { "" };
        el("li").with(
            el("button")
                .attr("type", "button")
                .attr("class", class)
                .with(format!("Begin: {title}"))
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
                    String::from_utf8(bytes)
                        .map_err(|_| "this is not UTF-8 text. Save the file as UTF-8".to_owned())
                });
                keep_focus();
                match text {
                    Ok(text) => prelab.begin_own(&name, text).await,
                    Err(problem) => prelab.problem.set(format!("Not begun: {name}: {problem}.")),
                }
            }
        });
    };
    let file =
        el("li").with(file_picker("Begin a derivation from a file…", "", ".json,application/json", own));
    let trouble = prelab.problem.get();
    let trouble = (!trouble.is_empty()).then(|| el("div").attr("role", "alert").with(problem(&trouble)));
    let again = waiting.then(|| {
        el("button").attr("type", "button").with("Try again").on_click(move || {
            keep_focus();
            prelab.try_again();
        })
    });
    let put_away = waiting.then(|| put_away(prelab));
    vec![
        el("div").with(trouble).with(again).with(" ").with(put_away),
        el("ul.begin").with(SHIPPED.iter().enumerate().map(shipped).collect::<Vec<_>>()).with(file),
        el("p.aside").with("Done already, or not asked for? Go straight on to the apparatus: the stations can be worked through in any order."),
    ]
}

fn put_away(prelab: PrelabState) -> El {
    let ask = "This takes away everything entered in this pre-lab. Go on?";
    el("button.quiet").attr("type", "button").with("Put this pre-lab away and choose another").on_click(
        move || {
            let nothing = prelab.read_once(|record| record.steps.is_empty());
            if nothing || window().confirm_with_message(ask).unwrap_or(true) {
                keep_focus();
                prelab.put_away();
            }
        },
    )
}

/// The control just used is about to go away: what it stood in takes the focus.
fn keep_focus() {
    if let Ok(Some(place)) = document().query_selector(".prelab") {
        focus(&place);
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
        let unit = if symbol.unit.is_empty() { "a number".to_owned() } else { symbol.unit.clone() };
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
        let head = ["symbol", "what it stands for", "unit", "typed"];
        el("table")
            .with(el("caption").with("Symbols of this derivation"))
            .with(
                el("thead")
                    .with(el("tr").with(head.map(|name| el("th").attr("scope", "col").with(name)).to_vec())),
            )
            .with(el("tbody").with(rows))
    };
    let progress = move || match prelab.progress() {
        Some((done, all)) if done == all => "Every step is done. Well derived!".to_owned(),
        Some((done, all)) => format!("{done} of {all} steps done."),
        None => String::new(),
    };
    let typing = vec![el("p").with(
        "Type as on a calculator: * or nothing at all multiplies, / divides, ^ raises to a power, _ lowers (tau_f or τ_f). Greek letters go by name, or use the buttons under each answer. One side is enough: m(g - a) or T = m(g - a).",
    )];
    let steps: Vec<El> =
        (0..derivation.steps.len()).map(|index| step::step(prelab, derivation, index)).collect();
    vec![
        el("div.card")
            .with(el("h3").with(derivation.title.clone()))
            .with(prose("p", &derivation.about, symbols))
            .with(
                el("details")
                    .with(el("summary").with("What the symbols stand for, and how to type"))
                    .with(scrolled("symbols", table))
                    .with(typing),
            ),
        el("p.progress").attr("role", "status").live_text(progress),
        el("ol.derivation").with(steps),
        summary::summary(prelab, derivation),
        el("p").with(put_away(prelab)),
    ]
}
