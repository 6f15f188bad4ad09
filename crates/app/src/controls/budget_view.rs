//! The uncertainty budget: a table whose shares are drawn as bars.

use super::scrolled;
use crate::dom::{El, el, italic, svg};
use whorl_core::inertia::BudgetRow;
use whorl_core::measured::shown::{DisplayUnit, show_number};

/// Contributions of one result, the largest first; `unit` is the result's.
pub(crate) fn budget_view(name: &str, rows: &[BudgetRow], unit: DisplayUnit) -> El {
    let column = |words: El| el("th").attr("scope", "col").with(words);
    let body: Vec<El> = rows.iter().map(|row| line(row, unit)).collect();
    let table = el("table.budget")
        .with(el("caption").with("Uncertainty budget"))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(el("span").with("Source")))
                    .with(column(el("span").with("Contribution to ").with(italic("u"))))
                    .with(column(el("span").with("Share of ").with(italic("u")).with("²"))),
            ),
        )
        .with(el("tbody").with(body));
    scrolled(&format!("Table: uncertainty budget of {name}"), table)
}

fn line(row: &BudgetRow, unit: DisplayUnit) -> El {
    let percent = 100.0 * row.share;
    let share =
        if percent < 0.1 { "below 0.1\u{202f}%".to_owned() } else { show_number(percent, PERCENT, 2) };
    let width = format!("{percent:.1}");
    // The bar repeats the number beside it.
    let bar = svg("svg")
        .attr("class", if row.source.is_random() { "bar random" } else { "bar shared" })
        .attr("viewBox", "0 0 100 10")
        .attr("preserveAspectRatio", "none")
        .attr("aria-hidden", "true")
        .with(svg("rect").attr("width", &width).attr("height", "10"));
    let kind = if row.source.is_random() { "random" } else { "shared by all runs" };
    el("tr")
        .with(
            el("th")
                .attr("scope", "row")
                .with(row.source.words())
                .with(el("span.hint").with(format!(" {kind}"))),
        )
        .with(el("td").with(show_number(row.contribution, unit, 2)))
        .with(el("td").with(share).with(bar))
}

const PERCENT: DisplayUnit = DisplayUnit::prefixed("%", 0);
