//! What belongs to a file and not to one of its runs: complaints, open questions, how it was read.

use super::layout_view::layout_view;
use super::state::TrayState;
use super::{focus_status, keep_focus, run_row};
use crate::controls::{About, disclosure, problem, sentence};
use crate::dom::{El, el};
use leptos::prelude::*;
use whorl_core::readings::{Answer, Question, Remark};
use whorl_words as words;

/// The rows of a file: one per run, and one for the file.
pub(super) fn file_rows(state: TrayState, key: u32) -> El {
    let rows = move || {
        let keys = |file: &super::contents::TrayFile| file.left().map(|row| row.key).collect::<Vec<_>>();
        let mut keys = state.file(key, keys).unwrap_or_default();
        keys.push(key);
        keys
    };
    let make = move |row| if row == key { file_row(state, key) } else { run_row::run_row(state, row) };
    el("tbody").each(rows, make)
}

/// A key per reading, for what is built anew with each.
fn reading(state: TrayState, key: u32) -> Vec<u32> {
    state.file(key, |file| file.reading).into_iter().collect()
}

/// The id of the disclosure of how a file was read.
fn how_id(key: u32) -> String {
    format!("tray-{key}-how")
}

fn file_row(state: TrayState, key: u32) -> El {
    let name = untrack(|| state.file(key, |file| file.name.clone())).unwrap_or_default();
    let of = |words: About| el("span.visually-hidden").with(format!(" {}", words(&name)));
    let take_off = move || {
        state.remove(key);
        focus_status();
    };
    let how = disclosure(
        "details.how",
        el("summary")
            .attr("id", &how_id(key))
            .with(words::tray::how_read())
            .with(of(words::tray::how_read_of)),
        move || vec![el("div").each(move || reading(state, key), move |_| layout_view(state, key))],
    );
    let understood = move || state.file(key, |file| file.layout.is_some()).unwrap_or(false);
    el("tr.file").with(
        el("td")
            .attr("colspan", &run_row::COLUMNS.len().to_string())
            .with(el("div").each(move || reading(state, key), move |_| said(state, key)))
            .with(how.live_flag("hidden", move || !understood()))
            .with(
                el("button.quiet")
                    .with(words::tray::take_off())
                    .with(of(words::tray::take_off_which))
                    .on_click(take_off),
            ),
    )
}

/// What is wrong with the file, and what must be answered.
fn said(state: TrayState, key: u32) -> El {
    let place = el("div.said");
    let content = untrack(|| {
        state.file(key, |file| {
            let first = format!("tray-{key}-0-0");
            keep_focus(key, if file.asks() { first } else { how_id(key) });
            let mut content = Vec::new();
            if !file.complaints.is_empty() {
                content.push(complaints(&file.name, &file.complaints));
            }
            if let Some(layout) = &file.layout {
                let remark = |remark: &Remark| el("p.hint").with(sentence(&remark.to_string()));
                content.extend(layout.remarks.iter().map(remark));
                let questions = layout.questions.iter().enumerate();
                content
                    .extend(questions.map(|(index, asked)| question(state, key, &file.name, index, asked)));
            }
            content
        })
    });
    place.with(content.unwrap_or_default())
}

fn complaints(name: &str, complaints: &str) -> El {
    let line = |complaint: &str| {
        // A complaint about a place in the file begins with the place.
        let first = complaint.split(' ').next();
        let between = if first == Some(words::tray::line()) { ", " } else { ": " };
        el("li").with(name).with(between).with(complaint)
    };
    el("div.refused")
        .with(el("p").with(el("strong").with(name)).with(" ").with(words::tray::unusable()))
        .with(el("ul").with(complaints.lines().map(line).collect::<Vec<_>>()))
}

/// A question with a button per answer.
fn question(state: TrayState, key: u32, name: &str, index: usize, asked: &Question) -> El {
    let button = |(place, answer): (usize, &Answer)| {
        let choices = answer.choices.clone();
        el("button")
            .attr("id", &format!("tray-{key}-{index}-{place}"))
            .with(answer.words.as_str())
            .with(el("span.visually-hidden").with(format!(" {}", words::tray::answer_in(&name))))
            .on_click(move || state.say(key, &choices))
    };
    // The name stands inside the sentence, so that it keeps its small letter.
    let words = words::tray::asked_in(&name, &asked.words);
    el("div.asked")
        .attr("role", "group")
        .attr("aria-label", &words)
        .with(problem(&words))
        .with(el("div.choices").with(asked.answers.iter().enumerate().map(button).collect::<Vec<_>>()))
}
