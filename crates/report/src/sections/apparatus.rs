//! What all runs share, each number with its standard uncertainty.

use super::Sheet;
use crate::document::{Block, Label, Section, Table};
use crate::math::Math;
use whorl_core::formula::{Symbol, symbol, symbol_of};
use whorl_core::hand_in::HandIn;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show, show_number, show_uncertainty};
use whorl_core::quantity::{Meters, MetersPerSecond2, Quantity};
use whorl_words as words;

pub(super) fn section(sheet: Sheet<'_>, added: &HandIn) -> Section {
    let entry = &sheet.lab.apparatus;
    let mut rows = Vec::new();
    let mut length = |words: &str, symbol: &str, value: Option<&Measured<Meters>>| {
        rows.extend(value.map(|value| row(words, symbol, value, DisplayUnit::MILLIMETERS)));
    };
    length(words::apparatus::drum(), "R", entry.drum_radius.as_ref());
    length(words::apparatus::string(), "d", entry.string_diameter.as_ref());
    length(words::apparatus::travel(), "s", entry.travel_per_spoke.as_ref());
    length(words::apparatus::height(), "h", entry.drop_height.as_ref());
    if let Some(gravity) = &entry.gravity {
        rows.push(row(words::apparatus::gravity(), "g", gravity, DisplayUnit::si::<MetersPerSecond2>()));
    }
    if let Some(pulley) = &entry.pulley_inertia {
        rows.push(row(words::apparatus::pulley(), "", pulley, DisplayUnit::engineering(pulley.value())));
    }
    let plain = |words: &str, value: String, u: String| vec![words.to_owned(), value, u];
    if let Some(spokes) = entry.spokes {
        rows.push(plain(words::apparatus::spokes(), spokes.to_string(), String::new()));
    }
    let percent = DisplayUnit::prefixed("%", -2);
    rows.push(plain(
        words::apparatus::mass_scale(),
        String::new(),
        show_uncertainty(entry.mass_scale_uncertainty.0, percent),
    ));
    rows.push(plain(
        words::apparatus::each_mass(),
        String::new(),
        show_uncertainty(entry.hanging_mass_uncertainty.0, DisplayUnit::GRAMS),
    ));
    let mut blocks = vec![Block::Table(Table {
        caption: words::report_sheet::apparatus_caption().to_owned(),
        head: vec![
            Label::words(words::report_sheet::quantity()),
            Label::words(words::report_sheet::value()),
            Label::words(words::report_sheet::standard_uncertainty()).with(Math::symbol(symbol("u"))),
        ],
        rows,
        numbers_from: 1,
    })];
    match entry.check().map(|apparatus| apparatus.effective_radius()) {
        Ok(Ok(radius)) => {
            let radius = show(&radius, DisplayUnit::MILLIMETERS).to_string();
            blocks.push(Block::Facts(vec![crate::document::Fact {
                name: Label::words(words::apparatus::effective_radius()).with(Math::symbol(RADIUS)),
                value: radius,
            }]));
        }
        Ok(Err(problem)) => blocks.push(Block::Notice(crate::plain::sentence(&problem.to_string()))),
        Err(problem) => blocks.push(Block::Notice(crate::plain::sentence(&problem.to_string()))),
    }
    let read = if added.cautions_read {
        words::report_sheet::cautions_read()
    } else {
        words::report_sheet::cautions_not_said()
    };
    blocks.push(Block::Paragraph(read.to_owned()));
    Section { heading: words::path::station_apparatus().to_owned(), blocks }
}

const RADIUS: Symbol = symbol_of("R", "e");

fn row<Q: Quantity>(words: &str, symbol: &str, value: &Measured<Q>, unit: DisplayUnit) -> Vec<String> {
    let shown = show(value, unit);
    let name = if symbol.is_empty() { words.to_owned() } else { format!("{words} {symbol}") };
    let u = shown.uncertainty.unwrap_or_else(|| show_number(0.0, unit, 1));
    vec![name, shown.value, u]
}
