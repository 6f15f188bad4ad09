//! One typed number.

use crate::dom::{El, el};
use crate::state::restored;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use whorl_core::entry::{self as typed, EntryUnit, Usual};
use whorl_words as words;

thread_local! {
    static LAST_ID: Cell<u32> = const { Cell::new(0) };
}

/// An element id that no other element has.
pub(crate) fn unique_id(prefix: &str) -> String {
    let number = LAST_ID.with(|last| {
        last.set(last.get() + 1);
        last.get()
    });
    format!("{prefix}-{number}")
}

/// What an entry is called, takes and belongs to.
pub(crate) struct Entry<'a> {
    /// The element's id, for its label.
    pub(crate) id: &'a str,
    /// The input's accessible name; empty when a `<label>` names it.
    pub(crate) name: &'a str,
    /// The field's unit.
    pub(crate) unit: EntryUnit,
    /// Smallest number taken, in SI units.
    pub(crate) least: f64,
    /// Where what is wrong goes; empty when nothing is.
    pub(crate) problem: RwSignal<String>,
    /// Id of the element that shows the problem.
    pub(crate) described_by: &'a str,
}

/// What else a typed number leads to.
#[derive(Clone, Default)]
pub(crate) struct Asks {
    /// A gentle question about the number and the text it was typed as.
    pub(crate) question: Option<Question>,
    /// Hears of a standard uncertainty typed behind ±. Without it there must be none.
    pub(crate) uncertainty: Option<Rc<dyn Fn(f64)>>,
}

/// Makes the question, and where it goes.
pub(crate) type Question = (Ask, RwSignal<String>);

/// Makes the question about a number and the text it was typed as, if there is one.
pub(crate) type Ask = Rc<dyn Fn(f64, &str) -> Option<String>>;

/// A text input for a number in SI units. What is typed stays as typed; `on_change` hears the
/// number, or `None` while the text is not one, and then the problem says why.
pub(crate) fn entry(
    entry: &Entry<'_>,
    value: impl Fn() -> Option<f64> + 'static,
    on_change: impl Fn(Option<f64>) + 'static,
) -> El {
    asking(entry, Asks::default(), Box::new(value), Box::new(on_change))
}

/// The question about a number that is not usual.
pub(crate) fn question(usual: Usual, unit: EntryUnit) -> Ask {
    Rc::new(move |value, typed| usual.doubt(value).map(|doubt| usual.question(doubt, typed, unit)))
}

/// The same, with what else the number leads to.
pub(crate) fn asking(
    entry: &Entry<'_>,
    asks: Asks,
    value: Box<dyn Fn() -> Option<f64>>,
    on_change: Box<dyn Fn(Option<f64>)>,
) -> El {
    let &Entry { id, name, unit, least, problem, described_by } = entry;
    let text = RwSignal::new(String::new());
    let Asks { question, uncertainty } = asks;
    let ask = move |number: Option<f64>, text: &str| {
        if let Some((make, place)) = &question {
            let asked = number.and_then(|number| make(number, text)).unwrap_or_default();
            if place.with_untracked(|now| *now != asked) {
                place.set(asked);
            }
        }
    };
    let ask = Rc::new(ask);
    let ask_too = Rc::clone(&ask);
    // The lab's number may change from elsewhere (a calculator, a dragged end). Text that already
    // means that number stays as it was typed.
    let restored_before = Cell::new(restored());
    crate::dom::watch(move || {
        let value = value();
        // An earlier state holds nothing here, or what was typed since is not a number.
        let restored = restored();
        if restored_before.replace(restored) != restored && value.is_none() {
            text.set(String::new());
            problem.set(String::new());
        }
        let same = text.with_untracked(|text| {
            let means = typed::parse_uncertain(text, unit).ok().flatten().map(|entered| entered.0);
            means == value || (text.trim().is_empty() && value == Some(0.0))
        });
        if let Some(value) = value
            && !same
        {
            let written = typed::write(value, unit);
            ask_too(Some(value), &written);
            text.set(written);
            problem.set(String::new());
        }
    });
    let takes_both = uncertainty.is_some();
    let hear = move |entered: String| {
        let read = if takes_both {
            typed::parse_uncertain(&entered, unit)
        } else {
            typed::parse(&entered, unit).map(|number| number.map(|number| (number, None)))
        };
        let parsed = read.map_err(|error| error.to_string()).and_then(|number| match number {
            Some((number, _)) if number < least => Err(words::controls::at_least(&typed::write(least, unit))),
            other => Ok(other),
        });
        ask(parsed.as_ref().ok().and_then(|number| number.map(|(number, _)| number)), &entered);
        text.set(entered);
        problem.set(parsed.as_ref().err().cloned().unwrap_or_default());
        let parsed = parsed.ok().flatten();
        if let Some((hear, u)) = uncertainty.as_ref().zip(parsed.and_then(|(_, u)| u)) {
            hear(u);
        }
        on_change(parsed.map(|(number, _)| number));
    };
    // Once left, the field holds its value alone: the uncertainty typed with it stands in its own.
    let leave = move || {
        // A field that is taken off the page is left too, when its signals are gone.
        let typed = text.try_with_untracked(|text| typed::parse_uncertain(text, unit));
        if let Some(Ok(Some((value, Some(_))))) = typed {
            text.set(typed::write(value, unit));
        }
    };
    let input = el("input.number")
        .attr("id", id)
        .attr("type", "text")
        .attr("inputmode", "decimal")
        .attr("autocomplete", "off")
        .attr("spellcheck", "false")
        // Nothing to see: by it the print sheet knows an empty field.
        .attr("placeholder", " ")
        .attr("aria-describedby", described_by)
        .live_attr("aria-invalid", move || (!problem.with(String::is_empty)).then(|| "true".to_owned()))
        .live_value(move || text.get())
        .on_text("input", hear)
        .on("change", move |_| leave());
    if name.is_empty() { input } else { input.attr("aria-label", name) }
}
