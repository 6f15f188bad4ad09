//! The inertia lines: their chart, slope and intercept of each, what all share.

use super::Sheet;
use crate::document::{Block, Fact, Label, Section, Size, Table};
use crate::math::Math;
use crate::plain::{expanded, factor, freedom, name, number, picture, sentence};
use whorl_charts::figures::{line_residuals, torque_lines};
use whorl_core::analysis::LineOutcome;
use whorl_core::formula::{symbol, symbol_of};
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::chi_square_tail;
use whorl_core::measured::shown::{DisplayUnit, show, show_number};
use whorl_words as words;

/// A probability below this is not told more exactly.
pub(super) const LEAST_P: f64 = 1e-4;

pub(super) fn section(sheet: Sheet<'_>) -> Section {
    let lines = &sheet.analysis.lines;
    let heading = words::path::station_line().to_owned();
    let fitted = lines.configurations.iter().any(|line| line.inertia.is_ok());
    let mut blocks = Vec::new();
    let figure = torque_lines(sheet.lab, &sheet.analysis.runs, lines);
    if figure.has_data() {
        let mut figures = vec![picture(&figure, 660, 290)];
        if fitted {
            figures.push(picture(&line_residuals(sheet.lab, lines), 660, 165));
        }
        blocks.push(Block::Figures(Size::Wide, figures));
    }
    let both = |quantity: &str, own| Label::words(quantity).with(Math::symbol(own)).and(" ± U");
    blocks.push(Block::Table(Table {
        caption: words::report_sheet::lines_caption().to_owned(),
        head: vec![
            Label::words(words::runs::carries()),
            Label::words(words::path::station_runs()),
            both(words::line::moment_of_inertia(), symbol("I")),
            Label::symbol(Math::symbol(symbol("k"))),
            Label::symbol(Math::symbol(symbol("ν"))),
            both(words::line::friction_torque(), symbol_of("τ", "f")),
            Label::symbol(Math::symbol(symbol("k"))),
        ],
        rows: lines.configurations.iter().map(|line| row(sheet, line)).collect(),
        numbers_from: 1,
    }));
    let left_out = lines.configurations.iter().filter(|line| line.left_out > 0);
    blocks.extend(left_out.map(|line| {
        let name = name(&sheet.lab.configuration_name(line.configuration));
        Block::Remark(words::report_sheet::left_out(&name, &line.left_out))
    }));
    if fitted {
        let facts = together(sheet);
        blocks.extend((!facts.is_empty()).then_some(Block::Facts(facts)));
    }
    blocks.push(Block::Remark(words::report_sheet::lines_say().to_owned()));
    Section { heading, blocks }
}

fn row(sheet: Sheet<'_>, line: &LineOutcome) -> Vec<String> {
    let mut cells =
        vec![name(&sheet.lab.configuration_name(line.configuration)), line.used.len().to_string()];
    match &line.inertia {
        Ok(inertia) => {
            let (moment, friction) = (&inertia.moment_of_inertia.total, &inertia.friction_torque.total);
            cells.push(expanded(moment, DisplayUnit::engineering(moment.value())));
            cells.push(factor(moment));
            cells.push(freedom(moment));
            cells.push(expanded(friction, DisplayUnit::MILLINEWTON_METERS));
            cells.push(factor(friction));
        }
        Err(problem) => cells.push(sentence(&problem.to_string())),
    }
    cells
}

/// What is estimated from all lines together.
fn together(sheet: Sheet<'_>) -> Vec<Fact> {
    let Some(found) = sheet.analysis.lines.together else { return Vec::new() };
    let mut facts = vec![Fact {
        name: Label::words(words::line::friction_scatter()),
        value: [
            show_number(found.friction_scatter.0, DisplayUnit::prefixed("%", -2), 2),
            words::line::friction_scatter_hint(&found.degrees_of_freedom),
        ]
        .join(" "),
    }];
    if let Some(chi_square) = found.chi_square {
        let shown = number(chi_square, 4);
        facts.push(Fact {
            name: Label::words(words::line::chi_square()).with(Math::symbol(symbol("χ²"))),
            value: [
                &match chi_square_tail(chi_square, found.degrees_of_freedom as f64) {
                    Some(p) if p < LEAST_P => words::line::with_p_below(&shown, &words::number(LEAST_P, 4)),
                    Some(p) => words::line::with_p(&shown, &number(p, 2)),
                    None => shown,
                },
                " ",
                words::line::chi_square_hint(),
            ]
            .concat(),
        });
    }
    if let Some(drag) = found.drag
        && let Ok(value) = Measured::new(drag.coefficient, drag.uncertainty)
    {
        let remark = if drag.corrected { words::line::drag_corrected() } else { words::line::drag_left() };
        let value = show(&value, DisplayUnit::prefixed("µN·m·s", -6)).to_string();
        facts.push(Fact {
            name: Label::words(words::line::drag()).with(Math::symbol(symbol("b"))),
            value: [&value, "; ", remark].concat(),
        });
    }
    facts
}
