//! Station 6: the loaded table less the empty one.

use super::frame;
use super::line::{interval, parts};
use crate::controls::{disclosure, measured_text, outcome_list, problem, scrolled, working_view};
use crate::dom::{El, el, italic};
use crate::own_words::in_own;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::inertia::Inertia;
use whorl_core::lab::{Configuration, ObjectId};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::object::ObjectInertia;
use whorl_core::quantity::Quantity;
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
        let budget =
            |object: &ObjectOutcome| object.measured.iter().map(|found| budget(&name(), found)).collect();
        lab.object_outcome(id, budget).unwrap_or_default()
    };
    let steps = move || lab.object_outcome(id, |object| steps(lab, object)).flatten().unwrap_or_default();
    el("section.card").with(el("h3").live_text(name)).with(el("div").live(result)).with(
        el("div")
            .live_flag("hidden", none)
            .with(disclosure(
                "details.numbers",
                el("summary").with("Where the uncertainty comes from"),
                budget,
            ))
            .with(working_view("this object", steps)),
    )
}

fn steps(lab: LabState, object: &ObjectOutcome) -> Option<Vec<Working>> {
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

/// The uncertainty budget.
fn budget(name: &str, object: &ObjectInertia) -> El {
    let total = &object.moment_of_inertia.total;
    let unit = DisplayUnit::engineering(total.value());
    let variance = total.standard_uncertainty().si().powi(2);
    let row = |words: &str, u: f64| {
        let share = if variance > 0.0 {
            show_number(100.0 * u * u / variance, DisplayUnit::prefixed("%", 0), 2)
        } else {
            "—".to_owned()
        };
        el("tr")
            .with(el("th").attr("scope", "row").with(words))
            .with(el("td").with(show_number(u, unit, 2)))
            .with(el("td").with(share))
    };
    let random = row("scatter of the runs", object.moment_of_inertia.random.standard_uncertainty().si());
    let shared = object
        .contributions
        .iter()
        .filter(|(_, contribution)| contribution.si() != 0.0)
        .map(|(input, contribution)| row(input.words(), contribution.si().abs()));
    let column = |words: El| el("th").attr("scope", "col").with(words);
    let table = el("table")
        .with(el("caption").with("Uncertainty budget"))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(el("span").with("Source")))
                    .with(column(el("span").with("Contribution to ").with(italic("u"))))
                    .with(column(el("span").with("Share of ").with(italic("u")).with("²"))),
            ),
        )
        .with(el("tbody").with(random).with(shared.collect::<Vec<_>>()));
    scrolled(&format!("Table: uncertainty budget of {name}"), table)
}
