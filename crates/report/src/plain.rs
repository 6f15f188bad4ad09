//! Numbers, names and figures as a report writes them.

use crate::document::Picture;
use whorl_charts::{Figure, Palette, Rgb, summary, svg};
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::shown::{DisplayUnit, show_expanded, show_number};
use whorl_core::quantity::Quantity;
use whorl_words as words;

/// Names longer than this are cut, in characters: a table is to stay one.
const LONGEST_NAME: usize = 60;
/// Texts longer than this are cut, in characters.
const LONGEST_TEXT: usize = 12_000;
/// Degrees of freedom from here on are told as very many, as on the page.
const MANY: f64 = 1000.0;

/// Value and expanded uncertainty at 95 %.
pub(crate) fn expanded<Q: Quantity>(measured: &Measured<Q>, unit: DisplayUnit) -> String {
    show_expanded(measured.value(), &measured.coverage_interval(Probability::P95), unit)
}

/// The coverage factor of a result at 95 %.
pub(crate) fn factor<Q: Quantity>(measured: &Measured<Q>) -> String {
    number(measured.coverage_interval(Probability::P95).coverage_factor, 3)
}

/// Effective degrees of freedom, truncated as the coverage factor has them (GUM G.4.1).
pub(crate) fn freedom<Q: Quantity>(measured: &Measured<Q>) -> String {
    let freedom = measured.degrees_of_freedom().get();
    if freedom < MANY { number(freedom.floor(), 4) } else { words::report_sheet::many().to_owned() }
}

/// A number without unit.
pub(crate) fn number(value: f64, digits: i32) -> String {
    show_number(value, DisplayUnit::prefixed("", 0), digits)
}

/// A name that fits into a table.
pub(crate) fn name(own: &str) -> String {
    cut(own.trim(), LONGEST_NAME)
}

/// A text of the students, all of it but for what nobody would read.
pub(crate) fn text(own: &str) -> String {
    cut(own.trim(), LONGEST_TEXT)
}

fn cut(own: &str, longest: usize) -> String {
    if own.chars().count() <= longest {
        return own.to_owned();
    }
    own.chars().take(longest).chain(core::iter::once('…')).collect()
}

/// Starts with a capital and ends with a stop.
pub(crate) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    let stop = if text.ends_with(['.', '!', '?']) { "" } else { "." };
    [&first, letters.as_str(), stop].concat()
}

/// Black on white, and inks that stay apart on a printer.
const PAPER: Palette = Palette {
    paper: Rgb(0xff, 0xff, 0xff),
    text: Rgb(0, 0, 0),
    faint_text: Rgb(0x22, 0x22, 0x22),
    axis: Rgb(0x44, 0x44, 0x44),
    ..Palette::LIGHT
};

/// A figure drawn in a size in CSS pixels, with its name in words below it and all of it in words behind it.
pub(crate) fn picture(figure: &Figure, width: u32, height: u32) -> Picture {
    Picture {
        svg: svg(figure, None, width, height, PAPER),
        alternative: summary(figure),
        caption: figure.name.clone(),
    }
}
