//! Every run: its acceleration, torque and angular acceleration in a table, and its chart with the fit.

use super::Sheet;
use crate::document::{Block, Label, Picture, Section, Size, Table};
use crate::math::Math;
use crate::plain::{expanded, factor, name, picture};
use whorl_charts::figures::velocity;
use whorl_charts::{Figure, Layer};
use whorl_core::analysis::RunOutcome;
use whorl_core::formula::symbol;
use whorl_core::lab::RunEntry;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::torque::Motion;
use whorl_words as words;

/// Units that the heads of the columns name: one of the SI, and a thousandth of one.
const PLAIN: DisplayUnit = DisplayUnit::prefixed("", 0);
const MILLI: DisplayUnit = DisplayUnit::prefixed("", -3);

/// Size of a run's chart, in CSS pixels, before it is set four in a row.
const SIZE: (u32, u32) = (250, 160);

pub(super) fn section(sheet: Sheet<'_>) -> Section {
    let runs = || sheet.lab.runs().iter().zip(&sheet.analysis.runs);
    let heading = words::path::station_runs().to_owned();
    if sheet.lab.runs().is_empty() {
        return Section {
            heading,
            blocks: vec![Block::Paragraph(words::report_sheet::no_runs().to_owned())],
        };
    }
    let in_unit = |quantity: &str, letter: &'static str, unit: &str| {
        Label::words(quantity).with(Math::symbol(symbol(letter))).and(format!(" ± U ({unit})"))
    };
    let table = Table {
        caption: words::report_sheet::runs_caption().to_owned(),
        head: vec![
            Label::words(words::runs::run()),
            Label::words(words::runs::carries()),
            Label::words(words::report_sheet::mass()).with(Math::symbol(symbol("m"))).and(" (g)"),
            in_unit(words::acceleration::acceleration(), "a", "m/s²"),
            Label::symbol(Math::symbol(symbol("k"))),
            in_unit(words::acceleration::torque(), "τ", "mN·m"),
            in_unit(words::acceleration::angular_acceleration(), "α", "rad/s²"),
        ],
        rows: runs().map(|(run, outcome)| row(sheet, run, outcome)).collect(),
        numbers_from: 2,
    };
    let charts: Vec<Picture> = runs().filter_map(|(run, outcome)| chart(sheet, run, outcome)).collect();
    let mut blocks = vec![Block::Table(table)];
    if !charts.is_empty() {
        blocks.push(Block::Remark(words::report_sheet::charts_show().to_owned()));
        blocks.push(Block::Figures(Size::Small, charts));
    }
    Section { heading, blocks }
}

fn row(sheet: Sheet<'_>, run: &RunEntry, outcome: &RunOutcome) -> Vec<String> {
    let mass = match (run.motion, run.hanging_mass) {
        (Motion::Coasting, _) => "—".to_owned(),
        (_, mass) => mass.map_or_else(|| "—".to_owned(), |mass| show_number(mass.0, MILLI, 6)),
    };
    let moved = match run.motion {
        Motion::Falling => name(&run.name),
        other => format!("{} ({})", name(&run.name), other.words()),
    };
    let mut cells = vec![moved, name(&sheet.lab.configuration_name(run.configuration)), mass];
    match (&outcome.point, &outcome.fit) {
        (Ok(placed), _) => {
            let a = &placed.acceleration.total;
            cells.push(expanded(a, PLAIN));
            cells.push(factor(a));
            cells.push(expanded(&placed.torque.total, MILLI));
            cells.push(expanded(&placed.angular_acceleration.total, PLAIN));
        }
        (Err(problem), Ok(fit)) => {
            cells.push(expanded(&fit.acceleration, PLAIN));
            cells.push(factor(&fit.acceleration));
            cells.push(crate::plain::sentence(&problem.to_string()));
        }
        (Err(problem), Err(_)) => cells.push(crate::plain::sentence(&problem.to_string())),
    }
    cells
}

/// A run's chart; its axes and marks are told once, above all charts.
fn chart(sheet: Sheet<'_>, run: &RunEntry, outcome: &RunOutcome) -> Option<Picture> {
    run.record.readings()?;
    let figure = velocity(run, &sheet.lab.apparatus.setup(), outcome);
    if !figure.has_data() {
        return None;
    }
    let told = whorl_charts::summary(&figure);
    let drawn = picture(&without_words(figure), SIZE.0, SIZE.1);
    Some(Picture { alternative: told, caption: name(&run.name), ..drawn })
}

fn without_words(mut figure: Figure) -> Figure {
    for axis in [&mut figure.x, &mut figure.y] {
        axis.quantity.clear();
        axis.unit.clear();
    }
    for layer in &mut figure.layers {
        match layer {
            Layer::Points { label, .. }
            | Layer::Line { label, .. }
            | Layer::Band { label, .. }
            | Layer::Stretch { label, .. }
            | Layer::Level { label, .. }
            | Layer::Intervals { label, .. } => label.clear(),
        }
    }
    figure
}
