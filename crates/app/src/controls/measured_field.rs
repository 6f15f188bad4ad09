//! A measured quantity: its value and its standard uncertainty.

use super::entry::asking;
use super::{Asks, Entry, unique_id};
use crate::dom::{El, el, italic};
use leptos::prelude::*;
use std::rc::Rc;
use whorl_core::entry::{Doubt, EntryUnit, Usual};
use whorl_core::measured::Measured;
use whorl_core::quantity::Quantity;
use whorl_words as words;

/// Value and standard uncertainty in SI units.
type Pair = (f64, f64);

/// What a field is called.
#[derive(Clone, Copy)]
pub(crate) struct Label {
    /// What is measured.
    pub(crate) words: &'static str,
    /// Its symbol.
    pub(crate) symbol: &'static str,
    /// One line of advice; may be empty.
    pub(crate) hint: &'static str,
    /// Unit of both inputs.
    pub(crate) unit: EntryUnit,
    /// What is asked about when it is not usual.
    pub(crate) usual: Option<Usual>,
}

/// A labelled pair of inputs, value and u, with their unit.
pub(crate) fn measured_field(
    label: Label,
    value: impl Fn() -> Option<Pair> + 'static,
    on_change: impl Fn(Option<Pair>) + 'static,
) -> El {
    build(label, Rc::new(value), Rc::new(on_change))
}

fn build(label: Label, value: Rc<dyn Fn() -> Option<Pair>>, on_change: Rc<dyn Fn(Option<Pair>)>) -> El {
    let Label { words, symbol, hint, unit, usual } = label;
    let (id, uncertainty_id, note) = (unique_id("entry"), unique_id("entry"), unique_id("note"));
    let start = untrack(|| value());
    let number = RwSignal::new(start.map(|pair| pair.0));
    let uncertainty = RwSignal::new(start.map(|pair| pair.1));
    let (number_problem, uncertainty_problem) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let tell: Rc<dyn Fn()> = Rc::new(move || {
        let pair = number.get_untracked().map(|number| (number, uncertainty.get_untracked().unwrap_or(0.0)));
        // An uncertainty that cannot be read is not taken as zero.
        on_change(pair.filter(|_| uncertainty_problem.with_untracked(String::is_empty)));
    });
    let tell_too = Rc::clone(&tell);
    let value_too = Rc::clone(&value);
    let symbol_u = format!("u({symbol})");
    let name_u = words::controls::uncertainty_of(&symbol_u, &words);
    let value_entry = Entry {
        id: &id,
        name: "",
        unit,
        least: f64::NEG_INFINITY,
        problem: number_problem,
        described_by: &note,
    };
    let uncertainty_entry = Entry {
        id: &uncertainty_id,
        name: &name_u,
        unit,
        least: 0.0,
        problem: uncertainty_problem,
        described_by: &note,
    };
    // What the lab changes by itself is taken over, so that a later change of u keeps it.
    let follow = Rc::clone(&value);
    crate::dom::watch(move || {
        if let Some((value, u)) = follow() {
            number.set(Some(value));
            uncertainty.set(Some(u));
        }
    });
    // That u is zero is asked about once somebody typed it: before that it is still to come.
    let typed = RwSignal::new(false);
    let question = RwSignal::new(String::new());
    let asks = Asks {
        question: usual.map(|usual| (super::question(usual, unit), question)),
        uncertainty: Some(Rc::new(move |u| {
            uncertainty_problem.set(String::new());
            uncertainty.set(Some(u));
        })),
    };
    let question_of_u = move || {
        let doubt = number.get().zip(uncertainty.get()).zip(usual).and_then(|((value, u), usual)| {
            let doubt = usual.doubt_of_measured(value, u)?;
            let asked = doubt == Doubt::UncertaintyLarge || doubt == Doubt::UncertaintyZero && typed.get();
            asked.then(|| usual.question(doubt, "", unit))
        });
        doubt.unwrap_or_default()
    };
    let problems = move || {
        let (number, uncertainty) = (number_problem.get(), uncertainty_problem.get());
        match (number.is_empty(), uncertainty.is_empty()) {
            (_, true) => number,
            (true, false) => format!("u: {uncertainty}"),
            (false, false) => format!("{number}; u: {uncertainty}"),
        }
    };
    el("div.field")
        .with(el("label").attr("for", &id).with(words).with(" ").with(italic(symbol)))
        .with(
            el("span.pair")
                .with(asking(
                    &value_entry,
                    asks,
                    Box::new(move || value().map(|pair| pair.0)),
                    Box::new(move |entered| {
                        number.set(entered);
                        tell();
                    }),
                ))
                .with(el("span.u-mark").attr("aria-hidden", "true").with(symbol_u.clone()).with(" ="))
                .with(asking(
                    &uncertainty_entry,
                    Asks::default(),
                    Box::new(move || value_too().map(|pair| pair.1)),
                    Box::new(move |entered| {
                        typed.set(true);
                        uncertainty.set(entered);
                        tell_too();
                    }),
                ))
                .with(el("span.unit").with(unit.own.symbol)),
        )
        .with(
            el("span.note")
                .attr("id", &note)
                .with(el("span.problem").live_status(problems))
                .with(el("span.question").live_status(move || question.get()))
                .with(el("span.question").live_status(question_of_u))
                .with((!hint.is_empty()).then(|| super::hint(hint))),
        )
}

/// A lab's entry as the field wants it.
pub(crate) fn pair<Q: Quantity>(measured: Option<&Measured<Q>>) -> Option<Pair> {
    measured.map(|measured| (measured.value().si(), measured.standard_uncertainty().si()))
}

/// A field's entry as the lab wants it; numbers that cannot be measured count as not entered.
pub(crate) fn measured<Q: Quantity>(pair: Option<Pair>) -> Option<Measured<Q>> {
    pair.and_then(|(value, u)| Measured::new(Q::from_si(value), Q::from_si(u)).ok())
}
