//! Building blocks of the stations.

mod entry;
mod figure_view;
mod formula_view;
mod measured_field;
mod measured_text;
mod messages;
mod working_view;

pub(crate) use entry::{Entry, unique_id};
pub(crate) use figure_view::{Dragged, FigureView};
pub(crate) use measured_field::{MeasuredField, measured, pair};
pub(crate) use measured_text::measured_text;
pub(crate) use messages::{Note, Problem};
pub(crate) use working_view::WorkingView;
