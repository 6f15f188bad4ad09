//! Building blocks of the stations.

mod budget_view;
mod entry;
mod figure_view;
mod formula_view;
mod mathml;
mod measured_field;
mod menu;
mod notation;
mod results;
mod stretch_drag;
mod working_view;

pub(crate) use budget_view::budget_view;
pub(crate) use entry::{Entry, entry, unique_id};
pub(crate) use figure_view::figure_view;
pub(crate) use measured_field::{Label, measured, measured_field, pair};
pub(crate) use menu::{MenuOption, menu};
pub(crate) use notation::{answer_view, displayed, prose, symbol_view};
pub(crate) use results::{aside, hint, measured_text, outcome_list, problem, scrolled, sentence, symbol};
pub(crate) use stretch_drag::Dragged;
pub(crate) use working_view::{WorkedOut, disclosure, steps_of, working_view};
