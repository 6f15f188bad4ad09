//! Station 6: the loaded table less the empty one.

use super::line::{interval, parts};
use super::{frame, simulation};
use crate::controls::{
    WorkedOut, budget_view, disclosure, measured_text, outcome_list, problem, working_view,
};
use crate::dom::{El, el, italic};
use crate::own_words::in_own;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::inertia::Inertia;
use whorl_core::lab::{Configuration, ObjectId};
use whorl_core::measured::shown::DisplayUnit;
use whorl_core::object::ObjectInertia;
use whorl_core::working::{self, Working};

const PURPOSE: &str =
    "Moments of inertia about one axis add. The loaded table’s less the empty table’s is the object’s own.";

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let none = move || lab.object_keys.with(Vec::is_empty);
    frame(5, PURPOSE)
        .with(
            el("p.empty")
                .live_flag("hidden", move || !none())
                .with("Name an object at the station “Runs” and take runs with it on the table."),
        )
        .with(el("div.cards").each(move || lab.object_keys.get(), move |key| one_object(lab, ObjectId(key))))
        .with(simulation::panel(lab))
}

fn one_object(lab: LabState, id: ObjectId) -> El {
    let name = move || format!("{} alone", lab.read(|lab| lab.configuration_name(Configuration::Loaded(id))));
    let result = move || {
        lab.object_outcome(id, |object| match &object.measured {
            Ok(found) => vec![numbers(found)],
            Err(why) => vec![problem(&why.to_string())],
        })
        .unwrap_or_default()
    };
    let none = move || lab.object_outcome(id, |object| object.measured.is_err()).unwrap_or(true);
    let budget = move || {
        let budget = |object: &ObjectOutcome| {
            let found = object.measured.as_ref().ok()?;
            let unit = DisplayUnit::engineering(found.moment_of_inertia.total.value());
            Some(budget_view(&name(), &found.budget(), unit))
        };
        lab.object_outcome(id, budget).flatten().into_iter().collect()
    };
    el("section.card").with(el("h3").live_text(name)).with(el("div").live(result)).with(
        el("div")
            .live_flag("hidden", none)
            .with(disclosure(
                "details.numbers",
                el("summary").with("Where the uncertainty comes from"),
                budget,
            ))
            .with(working_view(lab, "this object", WorkedOut::Object(id))),
    )
}

/// The steps behind an object's results.
pub(crate) fn steps(lab: LabState, id: ObjectId) -> Vec<Working> {
    lab.object_outcome(id, |object| steps_to(lab, object)).flatten().unwrap_or_default()
}

fn steps_to(lab: LabState, object: &ObjectOutcome) -> Option<Vec<Working>> {
    lab.lines.with(|lines| {
        let inertia = |configuration| -> Option<&Inertia> { lines.inertia(configuration) };
        let loaded = inertia(Configuration::Loaded(object.id))?;
        let empty = inertia(Configuration::EmptyTable)?;
        Some(in_own(lab, working::object(object.measured.as_ref().ok()?, loaded, empty)))
    })
}

fn numbers(object: &ObjectInertia) -> El {
    let moment = &object.moment_of_inertia;
    let unit = DisplayUnit::engineering(moment.total.value());
    outcome_list(vec![
        (
            el("span").with("moment of inertia ").with(italic("I")),
            el("span.headline").with(measured_text(&moment.total, unit)).with(parts(moment, unit)),
        ),
        (el("span").with("95 % coverage interval"), el("span").with(interval(&moment.total, unit))),
    ])
}
