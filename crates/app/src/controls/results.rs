//! Results and remarks: values with unit and uncertainty, what is missing, asides.

use super::unique_id;
use crate::dom::{Content, El, el, italic};
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, Shown, show};
use whorl_core::quantity::Quantity;
use whorl_words as words;

/// A rounded result with its standard uncertainty.
pub(crate) fn measured_text<Q: Quantity>(measured: &Measured<Q>, unit: DisplayUnit) -> El {
    shown_text(show(measured, unit))
}

fn shown_text(shown: Shown) -> El {
    let uncertainty = shown.uncertainty.map(|uncertainty| {
        el("span.u")
            .attr("title", words::controls::standard_uncertainty())
            .with(italic("u"))
            .with(" = ")
            .with(uncertainty)
    });
    el("span.result").with(el("span.value").with(shown.value)).with(" ").with(uncertainty)
}

/// A symbol with a subscript.
pub(crate) fn symbol(letter: &str, subscript: &str) -> El {
    let subscript = (!subscript.is_empty()).then(|| el("sub").with(subscript));
    el("span").with(italic(letter)).with(subscript)
}

/// Name–value rows.
pub(crate) fn outcome_list(rows: Vec<(El, El)>) -> El {
    let row = |(name, value): (El, El)| el("div").with(el("dt").with(name)).with(el("dd").with(value));
    el("dl.outcomes").with(rows.into_iter().map(row).collect::<Vec<_>>())
}

/// A card under its heading, by which one who hears the page tells it from those beside it.
pub(crate) fn card(heading: El) -> El {
    let id = unique_id("card");
    el("section.card").attr("role", "group").attr("aria-labelledby", &id).with(heading.attr("id", &id))
}

/// Something that keeps a result from being there, with what to do about it.
pub(crate) fn problem(text: &str) -> El {
    el("p.problem-line")
        .with(el("span.flag").attr("aria-hidden", "true").with("!"))
        .with(" ")
        .with(sentence(text))
}

/// A table that scrolls inside its own box, by keyboard too.
pub(crate) fn scrolled(name: &str, table: El) -> El {
    el("div.scroll").attr("tabindex", "0").attr("role", "region").attr("aria-label", name).with(table)
}

/// An explanation beside the work.
pub(crate) fn aside(text: &str) -> El {
    el("p.aside").with(text)
}

/// A remark behind a value.
pub(crate) fn hint(content: impl Content) -> El {
    el("span.hint").with(content)
}

/// A remark on the same line, a space away from its value.
pub(crate) fn hint_behind(words: &str) -> El {
    hint(format!(" {words}"))
}

/// Starts with a capital and ends with a stop.
pub(crate) fn sentence(text: &str) -> String {
    let mut characters = text.chars();
    let first: String = characters.next().into_iter().map(|c| c.to_ascii_uppercase()).collect();
    let rest = characters.as_str();
    let stop = if rest.ends_with(['.', '!', '?']) { "" } else { "." };
    format!("{first}{rest}{stop}")
}
