//! Where the uncertainty of each moment of inertia comes from.

use super::Sheet;
use crate::document::{Block, Label, Section, Table};
use crate::plain::name;
use whorl_core::inertia::{BudgetRow, Source};
use whorl_core::lab::Configuration;
use whorl_core::measured::shown::{DisplayUnit, show_number, show_uncertainty};
use whorl_words as words;

/// Smaller shares are not told apart, in percent.
const LEAST: f64 = 0.1;
/// So many results stand side by side in one table.
const SIDE_BY_SIDE: usize = 4;

/// A result with what makes its uncertainty.
struct Result {
    name: String,
    unit: DisplayUnit,
    rows: Vec<BudgetRow>,
}

/// `None` while there is no result.
pub(super) fn section(sheet: Sheet<'_>) -> Option<Section> {
    let results = results(sheet);
    let tables = results.chunks(SIDE_BY_SIDE).map(|results| Block::Table(table(results)));
    let blocks: Vec<Block> =
        tables.chain([Block::Remark(words::report_sheet::budget_says().to_owned())]).collect();
    (!results.is_empty()).then(|| Section { heading: words::controls::budget().to_owned(), blocks })
}

/// The empty table, and each object alone; the lines of loaded tables are only a way there.
fn results(sheet: Sheet<'_>) -> Vec<Result> {
    let name = |configuration| name(&sheet.lab.configuration_name(configuration));
    let empty = sheet.analysis.lines.inertia(Configuration::EmptyTable).map(|inertia| Result {
        name: name(Configuration::EmptyTable),
        unit: DisplayUnit::engineering(inertia.moment_of_inertia.total.value()),
        rows: inertia.budget(),
    });
    let objects = sheet.analysis.objects.iter().filter_map(|object| {
        let found = object.measured.as_ref().ok()?;
        Some(Result {
            name: words::line::alone(&name(Configuration::Loaded(object.id))),
            unit: DisplayUnit::engineering(found.moment_of_inertia.total.value()),
            rows: found.budget(),
        })
    });
    empty.into_iter().chain(objects).collect()
}

fn table(results: &[Result]) -> Table {
    let mut sources: Vec<Source> = Vec::new();
    for row in results.iter().flat_map(|result| &result.rows) {
        if !sources.contains(&row.source) {
            sources.push(row.source);
        }
    }
    // What matters most in any of them comes first.
    let largest = |source: Source| {
        let shares = results.iter().flat_map(|result| &result.rows).filter(|row| row.source == source);
        shares.fold(0.0_f64, |largest, row| largest.max(row.share))
    };
    sources.sort_by(|left, right| largest(*right).total_cmp(&largest(*left)));
    let row = |source: &Source| {
        let kind = if source.is_random() { words::controls::random() } else { words::controls::shared() };
        let cells = results.iter().map(|result| {
            result
                .rows
                .iter()
                .find(|row| row.source == *source)
                .map_or_else(|| "—".to_owned(), |row| cell(row, result.unit))
        });
        core::iter::once(format!("{} ({kind})", source.words())).chain(cells).collect()
    };
    let names =
        results.iter().map(|result| Label::words(format!("{} ({})", result.name, result.unit.caption())));
    Table {
        caption: words::report_sheet::budget_caption().to_owned(),
        head: core::iter::once(Label::words(words::controls::source())).chain(names).collect(),
        rows: sources.iter().map(row).collect(),
        numbers_from: 1,
    }
}

fn cell(row: &BudgetRow, unit: DisplayUnit) -> String {
    let percent = DisplayUnit::prefixed("%", 0);
    let part = 100.0 * row.share;
    if part < LEAST {
        return words::controls::share_below(&show_number(LEAST, percent, 1));
    }
    let share = show_number(part, percent, 2);
    // The head of the column names the unit.
    let bare = DisplayUnit::prefixed("", unit.prefix + unit.factor);
    words::report_sheet::contribution(&show_uncertainty(row.contribution, bare), &share)
}
