//! The uncertainty budget: a table whose shares are drawn as bars.

use super::scrolled;
use super::woven::{FIRST, woven};
use crate::dom::{El, el, italic, svg};
use whorl_core::inertia::BudgetRow;
use whorl_core::measured::shown::{DisplayUnit, show_number, show_uncertainty};
use whorl_words as words;

/// Contributions of one result, the largest first; `unit` is the result's.
pub(crate) fn budget_view(name: &str, rows: &[BudgetRow], unit: DisplayUnit) -> El {
    let column = |words: El| el("th").attr("scope", "col").with(words);
    let body: Vec<El> = rows.iter().map(|row| line(row, unit)).collect();
    let table = el("table.budget")
        .with(el("caption").with(words::controls::budget()))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(el("span").with(words::controls::source())))
                    .with(column(woven("span", &words::controls::contribution(&FIRST), &[italic("u")])))
                    .with(column(woven("span", &words::controls::share(&FIRST), &[italic("u")]))),
            ),
        )
        .with(el("tbody").with(body));
    scrolled(&words::controls::budget_table(&name), table)
}

fn line(row: &BudgetRow, unit: DisplayUnit) -> El {
    let percent = 100.0 * row.share;
    let share = if percent < LEAST {
        words::controls::share_below(&show_number(LEAST, PERCENT, 1))
    } else {
        show_number(percent, PERCENT, 2)
    };
    let width = format!("{percent:.1}");
    // The bar repeats the number beside it.
    let bar = svg("svg")
        .attr("class", if row.source.is_random() { "bar random" } else { "bar shared" })
        .attr("viewBox", "0 0 100 10")
        .attr("preserveAspectRatio", "none")
        .attr("aria-hidden", "true")
        .with(svg("rect").attr("width", &width).attr("height", "10"));
    let kind = if row.source.is_random() { words::controls::random() } else { words::controls::shared() };
    el("tr")
        .with(
            el("th")
                .attr("scope", "row")
                .with(row.source.words())
                .with(el("span.hint").with(format!(" {kind}"))),
        )
        .with(el("td").with(show_uncertainty(row.contribution, unit)))
        .with(el("td").with(share).with(bar))
}

const PERCENT: DisplayUnit = DisplayUnit::prefixed("%", 0);
/// Smaller shares are not told apart, in percent.
const LEAST: f64 = 0.1;
