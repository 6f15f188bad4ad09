//! A step answered in algebra: typed, read as it is typed, checked on demand.

use super::ladder::{Ladder, pointed};
use super::step::OpenStep;
use crate::controls::{Words, displayed, symbol_view, unique_id};
use crate::dom::{El, el};
use leptos::prelude::*;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::HtmlInputElement;
use whorl_derivation::derivation::Task;
use whorl_derivation::expression::Answer;
use whorl_derivation::judge::quantity_of;
use whorl_derivation::reading::{ReadingErrorKind, read};
use whorl_derivation::symbols::SymbolId;
use whorl_words as words;

/// Signs that a touch keyboard hides: what is shown, what it is called, what is put in.
const SIGNS: [(&str, Words, &str); 8] = [
    ("=", words::prelab::sign_equals, " = "),
    ("+", words::prelab::sign_plus, " + "),
    ("−", words::prelab::sign_minus, " − "),
    ("·", words::prelab::sign_times, "·"),
    ("/", words::prelab::sign_divided, "/"),
    ("x²", words::prelab::sign_squared, "²"),
    ("(", words::prelab::sign_opening, "("),
    (")", words::prelab::sign_closing, ")"),
];

/// The field, what was understood, the symbol buttons, the check.
pub(super) fn entry(open: &OpenStep, ladder: Ladder) -> El {
    let id = unique_id("answer");
    let understood_id = format!("{id}-understood");
    let text = RwSignal::new(open.prelab.entered(open.step()));
    let entering = open.clone();
    let hear: Rc<dyn Fn(String)> = Rc::new(move |entered: String| {
        ladder.clear_if_accepted();
        entering.prelab.change(entering.step(), |record| record.entered.clone_from(&entered));
        text.set(entered);
    });
    let heard = Rc::clone(&hear);
    let input = el("input.answer")
        .attr("id", &id)
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("autocapitalize", "off")
        .attr("spellcheck", "false")
        .attr("aria-describedby", &understood_id)
        .live_value(move || text.get())
        .on_text("input", move |entered| heard(entered));
    let field: Rc<HtmlInputElement> = Rc::new(input.node().clone().unchecked_into());
    let (checked, shown) = (open.clone(), open.clone());
    let submit = move |event: web_sys::Event| {
        event.prevent_default();
        checked.check(&text.get_untracked(), ladder);
    };
    el("form.algebra")
        .on("submit", submit)
        .with(el("label").attr("for", &id).with(words::prelab::your_answer()))
        .with(
            el("div.answer-line")
                .with(input)
                .with(el("button.main").attr("type", "submit").with(words::prelab::check())),
        )
        .with(
            el("div.understood")
                .attr("id", &understood_id)
                .live(move || text.with(|text| understood(&shown, text))),
        )
        .with(buttons(open, &field, &hear))
}

/// What was understood, and of what kind its sides are; or where reading stopped.
fn understood(open: &OpenStep, text: &str) -> Vec<El> {
    let Task::Expression(task) = &open.step().task else { return Vec::new() };
    let symbols = &open.derivation.symbols;
    match read(text, symbols, &task.readable) {
        Ok(reading) => {
            let kind = |side| {
                quantity_of(&open.derivation, side).unwrap_or_else(|| words::prelab::units_unfit().to_owned())
            };
            let kinds = match &reading.answer {
                Answer::Value(value) => kind(value),
                Answer::Equation(left, right) => words::prelab::sides(&kind(left), &kind(right)),
            };
            // A long formula scrolls inside its own box, by keyboard too.
            let formula = el("div.math")
                .attr("tabindex", "0")
                .attr("role", "group")
                .attr("aria-label", words::prelab::understood());
            vec![formula.with(displayed(&reading.answer, symbols)), el("p.hint").with(kinds)]
        }
        Err(error) if error.kind == ReadingErrorKind::Empty => {
            vec![el("p.hint").with(words::prelab::appears_here())]
        }
        Err(error) => vec![
            el("p").with(pointed(text, error.span.start, error.span.end)),
            el("p.hint").with(error.to_string()),
        ],
    }
}

/// A button per symbol and sign; each puts it in where the cursor stands.
fn buttons(open: &OpenStep, field: &Rc<HtmlInputElement>, hear: &Rc<dyn Fn(String)>) -> El {
    let Task::Expression(task) = &open.step().task else { return el("div") };
    let symbols = &open.derivation.symbols;
    let button = |content: El, put: String| {
        let (field, hear) = (Rc::clone(field), Rc::clone(hear));
        el("button")
            .attr("type", "button")
            // The field keeps the focus and its cursor, and a phone its keyboard.
            .on("pointerdown", |event| event.prevent_default())
            .on_click(move || hear(put_in(&field, &put)))
            .with(content)
    };
    let symbol = |id: &SymbolId| {
        let own = symbols.get(*id)?;
        let content = el("span").with(symbol_view(*id, symbols)).with(unseen(&own.means));
        Some(button(content, format!("{} ", own.shown_as_typed())))
    };
    let sign = |(shown, name, put): &(&str, Words, &str)| {
        button(el("span").with(*shown).with(unseen(name())), (*put).to_owned())
    };
    el("div.symbols")
        .attr("role", "group")
        .attr("aria-label", words::prelab::put_in())
        .with(task.readable.iter().filter_map(symbol).collect::<Vec<_>>())
        .with(SIGNS.iter().map(sign).collect::<Vec<_>>())
}

/// What a button is called beyond the sign that is seen on it.
fn unseen(name: &str) -> El {
    el("span.visually-hidden").with(format!(" {name}"))
}

/// The field's text with something put in at its cursor, in place of what is selected.
fn put_in(field: &HtmlInputElement, put: &str) -> String {
    let units: Vec<u16> = field.value().encode_utf16().collect();
    let place = |at: Result<Option<u32>, _>| {
        at.ok().flatten().and_then(|at| usize::try_from(at).ok()).unwrap_or(units.len()).min(units.len())
    };
    let (from, to) = (place(field.selection_start()), place(field.selection_end()));
    let (before, after) = (units.get(..from).unwrap_or_default(), units.get(to..).unwrap_or_default());
    let text = format!("{}{put}{}", String::from_utf16_lossy(before), String::from_utf16_lossy(after));
    field.set_value(&text);
    let cursor = u32::try_from(from + put.encode_utf16().count()).unwrap_or(u32::MAX);
    let _ = field.set_selection_range(cursor, cursor);
    text
}
