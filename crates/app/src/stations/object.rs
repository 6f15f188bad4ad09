//! Station 6: the loaded table less the empty one.

use super::budget::budget;
use super::line::{interval, parts};
use super::working::{worked, working};
use super::{frame, simulation};
use crate::controls::{card, measured_text, outcome_list, problem};
use crate::dom::{El, el, italic};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::lab::{Configuration, ObjectId};
use whorl_core::measured::shown::DisplayUnit;
use whorl_core::object::ObjectInertia;
use whorl_core::working::Subject;
use whorl_words as words;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let none = move || lab.object_keys.with(Vec::is_empty);
    frame(lab, 5, words::line::object_purpose())
        .with(el("p.empty").live_flag("hidden", move || !none()).with(words::line::no_objects()))
        .with(el("div.cards").each(move || lab.object_keys.get(), move |key| one_object(lab, ObjectId(key))))
        .with(simulation::panel(lab))
}

fn one_object(lab: LabState, id: ObjectId) -> El {
    let name =
        move || words::line::alone(&lab.read_listed(|lab| lab.configuration_name(Configuration::Loaded(id))));
    let result = move || {
        lab.object_outcome(id, |object| match &object.measured {
            Ok(found) => vec![numbers(found)],
            Err(why) => vec![problem(&why.to_string())],
        })
        .unwrap_or_default()
    };
    let none = move || lab.object_outcome(id, |object| object.measured.is_err()).unwrap_or(true);
    let subject = move || Some(Subject::Object(id));
    card(el("h3").live_text(name)).with(el("div").live(result)).with(
        el("div").live_flag("hidden", none).with(budget(lab, subject)).with(working(
            lab,
            words::controls::working_of_object(),
            subject,
        )),
    )
}

fn numbers(object: &ObjectInertia) -> El {
    let moment = &object.moment_of_inertia;
    let unit = DisplayUnit::engineering(moment.total.value());
    outcome_list(vec![
        (
            el("span").with(words::line::moment_of_inertia()).with(" ").with(italic("I")),
            el("span.headline").with(worked(measured_text(&moment.total, unit))).with(parts(moment, unit)),
        ),
        (el("span").with(words::line::coverage_interval()), el("span").with(interval(&moment.total, unit))),
    ])
}
