//! Building blocks of the stations.

mod budget_view;
mod chart;
mod entry;
mod formula_view;
mod mathml;
mod measured_field;
mod menu;
mod notation;
mod results;
mod working_view;
mod woven;

use core::fmt::Display;

pub(crate) use budget_view::budget_view;
pub(crate) use chart::{
    Chart, Dragged, figure_view, frame_width, in_words_and_numbers as chart_numbers, paint_whole,
    tools as chart_tools,
};
pub(crate) use entry::{Asks, Entry, asking, entry, question, unique_id};
pub(crate) use measured_field::{Label, measured, measured_field, pair};
pub(crate) use menu::{MenuOption, menu};
pub(crate) use notation::{answer_view, displayed, prose, symbol_view};
pub(crate) use results::{
    aside, card, hint, hint_behind, measured_text, outcome_list, problem, scrolled, sentence, symbol,
};
pub(crate) use working_view::{disclosure, steps_view};
pub(crate) use woven::{FIRST, FOURTH, SECOND, THIRD, woven};

/// Words that are asked for when they are shown, in the language spoken then.
pub(crate) type Words = fn() -> &'static str;

/// The same, about something: its name, its number.
pub(crate) type About = fn(&dyn Display) -> String;
