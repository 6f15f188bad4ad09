//! A step answered by choosing.

use super::ladder::Ladder;
use super::step::{OpenStep, check_button};
use crate::controls::{prose, unique_id};
use crate::dom::{El, el, svg};
use leptos::prelude::*;
use whorl_derivation::derivation::{ChoiceOption, Question, Sketch, Task};
use whorl_derivation::expression::{Answer, Expression, Kind};
use whorl_derivation::judge::{chosen, write_chosen};
use whorl_derivation::prose::{Piece, Prose};
use whorl_derivation::symbols::Symbols;

/// The questions, and the check.
pub(super) fn questions(open: &OpenStep, questions: &[Question], ladder: Ladder) -> El {
    let fieldset = |(index, asked)| question(open, index, asked, ladder);
    el("div.questions")
        .with(questions.iter().enumerate().map(fieldset).collect::<Vec<_>>())
        .with(check_button(open, ladder))
}

/// The options chosen so far.
fn now(open: &OpenStep) -> Vec<Option<usize>> {
    let Task::Choice(questions) = &open.step().task else { return Vec::new() };
    let entered = untrack(|| open.prelab.entered(open.step()));
    chosen(questions, &entered).unwrap_or_else(|_| vec![None; questions.len()])
}

fn question(open: &OpenStep, index: usize, asked: &Question, ladder: Ladder) -> El {
    let group = unique_id("question");
    let symbols = &open.derivation.symbols;
    let option = |(place, option): (usize, &ChoiceOption)| {
        let id = format!("{group}-{place}");
        let open = open.clone();
        let chosen = now(&open).get(index).copied().flatten() == Some(place);
        let choose = move |_| {
            ladder.clear_if_accepted();
            let mut all = now(&open);
            if let Some(chosen) = all.get_mut(index) {
                *chosen = Some(place);
            }
            let Task::Choice(questions) = &open.step().task else { return };
            let entered = write_chosen(questions, &all);
            open.prelab.change(open.step(), |record| record.entered = entered);
        };
        let radio =
            el("input").attr("type", "radio").attr("name", &group).attr("id", &id).on("change", choose);
        let radio = if chosen { radio.attr("checked", "") } else { radio };
        let label = prose("span", &option.say, symbols);
        let sketch = option.sketch.as_ref().map(|sketch| drawn(symbols, sketch));
        let class = if sketch.is_some() { "option sketched" } else { "option" };
        el("div").attr("class", class).with(radio).with(el("label").attr("for", &id).with(sketch).with(label))
    };
    el("fieldset.question")
        .with(prose("legend", &asked.ask, symbols))
        .with(el("div.options").with(asked.options.iter().enumerate().map(option).collect::<Vec<_>>()))
}

/// A sketched graph; its label says in words what it shows.
fn drawn(symbols: &Symbols, sketch: &Sketch) -> El {
    let path = |(index, curve): (usize, &Vec<(f64, f64)>)| {
        let corner = |&(x, y): &(f64, f64)| format!("{:.1},{:.1}", 14.0 + 80.0 * x, 86.0 - 80.0 * y);
        let corners: Vec<String> = curve.iter().map(corner).collect();
        svg("polyline")
            .attr("points", &corners.join(" "))
            .attr("class", if index == 0 { "curve" } else { "curve second" })
    };
    let words = |x: &str, y: &str, label: &Prose| axis_label(label, symbols).attr("x", x).attr("y", y);
    svg("svg")
        .attr("viewBox", "0 0 100 100")
        .attr("class", "sketch")
        .attr("aria-hidden", "true")
        .with(svg("path").attr("d", "M14 6 V86 H94").attr("class", "axes"))
        .with(sketch.curves.iter().enumerate().map(path).collect::<Vec<_>>())
        .with(words("84", "97", &sketch.x))
        .with(words("0", "12", &sketch.y))
}

/// A symbol with its subscript lowered, or words.
fn axis_label(label: &Prose, symbols: &Symbols) -> El {
    let symbol = match label.0.as_slice() {
        [Piece::Math(Answer::Value(Expression { kind: Kind::Symbol(id), .. }))] => symbols.get(*id),
        _ => None,
    };
    match symbol {
        Some(symbol) => svg("text")
            .with(symbol.letter.clone())
            .with(svg("tspan").attr("dy", "3").attr("font-size", "7").with(symbol.subscript.clone())),
        None => svg("text").with(label.shown(symbols)),
    }
}
