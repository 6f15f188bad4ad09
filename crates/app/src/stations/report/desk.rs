//! What the students add, what is still open, and the ways to hand in.

use super::paper::{document, print};
use crate::browser::later;
use crate::controls::{aside, hint, unique_id};
use crate::dom::{El, el};
use crate::header::{self, News};
use crate::parts::{self, Part};
use crate::state::LabState;
use crate::stations::StationState;
use leptos::prelude::*;
use web_sys::HtmlInputElement;
use whorl_core::fingerprint;
use whorl_core::hand_in::{
    self, HandIn, LONGEST_ANSWER, LONGEST_DATE, LONGEST_NAMES, Missing, Prompt, missing,
};
use whorl_core::lab_file;
use whorl_words as words;

/// Ids of fields that links of the list lead to.
const NAMES: &str = "report-names";
const DATE: &str = "report-date";
const CAUTIONS: &str = "report-cautions";

/// All of the station but its head.
pub(crate) fn opened(lab: LabState) -> Vec<El> {
    let news = News::new();
    let mut questions = el("div.answers").with(aside(words::report_view::conclusions_hint()));
    for prompt in Prompt::ALL {
        questions = questions.with(question(lab, prompt));
    }
    vec![
        el("div.fields")
            .with(line(
                lab,
                NAMES,
                words::report_view::names(),
                LONGEST_NAMES,
                HandIn::names,
                HandIn::set_names,
            ))
            .with(line(lab, DATE, words::report_view::date(), LONGEST_DATE, HandIn::date, HandIn::set_date)),
        cautions(lab),
        el("h3").with(words::report_view::conclusions()),
        questions,
        el("h3").with(words::report_view::open_points()),
        el("div.open-points").live(move || open_points(lab)),
        el("h3").with(words::report_view::hand_in()),
        aside(words::report_view::hand_in_hint()),
        actions(lab, news),
        parts::place(Part::Details, move || Some((parts::details()?.tables)(lab, news))),
    ]
    .into_iter()
    .chain(news.lines())
    .collect()
}

/// How far it is, for the path.
pub(crate) fn state(lab: LabState) -> StationState {
    let open = left(lab).len();
    let words = match open {
        0 => words::report_view::state_ready().to_owned(),
        _ => words::report_view::state_open(&open),
    };
    StationState { done: open == 0, words }
}

/// The whole lab as a file, with the fingerprint of its readings; of a newer program's file, the file as it came.
pub(crate) fn with_fingerprint(lab: LabState) -> String {
    if lab.is_newer() { lab.document() } else { lab.whole(lab_file::save_with_fingerprint) }
}

/// Whether the readings of the lab that is open, from a file of this text, are others than it was saved with.
pub(crate) fn changed_outside(lab: LabState, text: &str) -> bool {
    lab.read_once(|lab| fingerprint::as_saved(text, lab)) == Some(false)
}

fn added(lab: LabState) -> HandIn {
    lab.read(|lab| hand_in::open(lab.hand_in.as_deref()))
}

fn change(lab: LabState, change: impl FnOnce(&mut HandIn)) {
    let mut now = untrack(|| added(lab));
    change(&mut now);
    lab.set_hand_in(hand_in::save(&now));
}

/// A field of one line.
fn line(
    lab: LabState,
    id: &'static str,
    words: &str,
    longest: usize,
    of: fn(&HandIn) -> &str,
    set: fn(&mut HandIn, &str),
) -> El {
    el("div.field").with(el("label").attr("for", id).with(words)).with(
        el("input")
            .attr("id", id)
            .attr("type", "text")
            .attr("autocomplete", "off")
            .attr("maxlength", &longest.to_string())
            .live_value(move || of(&added(lab)).to_owned())
            .on_text("input", move |text| change(lab, |added| set(added, &text))),
    )
}

fn cautions(lab: LabState) -> El {
    let input = el("input")
        .attr("id", CAUTIONS)
        .attr("type", "checkbox")
        .live_checked(move || added(lab).cautions_read);
    let node = input.node_as::<HtmlInputElement>().cloned();
    let heard = move || {
        let read = node.as_ref().is_some_and(HtmlInputElement::checked);
        change(lab, |added| added.cautions_read = read);
    };
    el("p.acknowledged")
        .with(input.on("change", move |_| heard()))
        .with(" ")
        .with(el("label").attr("for", CAUTIONS).with(words::report_view::cautions()))
}

fn question_id(prompt: Prompt) -> String {
    format!("report-{}", prompt.key())
}

fn question(lab: LabState, prompt: Prompt) -> El {
    let id = question_id(prompt);
    el("div.field").with(el("label").attr("for", &id).with(prompt.words())).with(
        el("textarea")
            .attr("id", &id)
            .attr("rows", "3")
            .attr("maxlength", &LONGEST_ANSWER.to_string())
            .live_value(move || added(lab).conclusion(prompt).to_owned())
            .on_text("input", move |text| change(lab, |added| added.conclude(prompt, &text))),
    )
}

/// What is still open.
fn left(lab: LabState) -> Vec<Missing> {
    let derived = lab.prelab.read(|record| record.steps.iter().any(|step| step.accepted.is_some()));
    let analysis = lab.analysis();
    lab.read(|entered| missing(entered, &analysis, &hand_in::open(entered.hand_in.as_deref()), derived))
}

fn open_points(lab: LabState) -> Vec<El> {
    let left = left(lab);
    if left.is_empty() {
        return vec![el("p").with(words::report_view::nothing_open())];
    }
    let link = |what: &Missing| {
        let place = match what {
            Missing::Names => NAMES.to_owned(),
            Missing::Date => DATE.to_owned(),
            Missing::Cautions => CAUTIONS.to_owned(),
            Missing::Derivation => "prelab".to_owned(),
            Missing::Runs => "runs".to_owned(),
            Missing::Comparison => "comparison".to_owned(),
            Missing::Conclusion(prompt) => question_id(*prompt),
        };
        el("li").with(el("a").attr("href", &format!("#{place}")).with(what.words()))
    };
    let id = unique_id("open-hint");
    vec![
        hint(words::report_view::open_hint()).attr("id", &id),
        el("ul").attr("aria-describedby", &id).with(left.iter().map(link).collect::<Vec<_>>()),
    ]
}

fn actions(lab: LabState, news: News) -> El {
    let button = |words: &str| el("button").attr("type", "button").with(words);
    let print = move || later(print(lab, news));
    let save = move || {
        let name =
            format!("{}-{}.html", lab.read_once(header::file_stem), words::report_sheet::file_ending());
        header::save_file(news, &whorl_report::html(&document(lab)), &name, "text/html");
    };
    el("div.lab-actions")
        .attr("role", "group")
        .attr("aria-label", words::report_view::hand_in())
        .with(button(words::report_view::print()).attr("class", "main").on_click(print))
        .with(button(words::report_view::save_html()).on_click(save))
        .with(button(words::report_view::save_lab()).on_click(move || header::save_lab(lab, news)))
}
