//! Station 5: the loaded table less the empty one.

use super::StationFrame;
use super::line::{interval, parts};
use crate::controls::{Problem, WorkingView, measured_text};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::inertia::Inertia;
use whorl_core::lab::Configuration;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::object::ObjectInertia;
use whorl_core::quantity::Quantity;
use whorl_core::working::{self, Working};

#[component]
pub(crate) fn Objects() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let count = Memo::new(move |_| lab.objects.with(Vec::len));
    view! {
        <StationFrame index=4 purpose="Moments of inertia about one axis add. The loaded table’s less the empty table’s is the object’s own.">
            {move || (count.get() == 0).then(|| view! { <p class="empty">"Name an object at the station “Runs” and take runs with it on the table."</p> })}
            {move || (0..count.get()).map(|index| view! { <OneObject index=index/> }).collect_view()}
        </StationFrame>
    }
}

#[component]
fn OneObject(index: usize) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let object = Memo::new(move |_| lab.objects.with(|objects| objects.get(index).cloned()));
    let name = Memo::new(move |_| {
        object.with(|object| object.as_ref().map(|object| lab.read(|lab| lab.configuration_name(Configuration::Loaded(object.id)))))
            .unwrap_or_default()
    });
    view! {
        <section class="card">
            <h3>{move || format!("{} alone", name.get())}</h3>
            {move || object.with(|object| object.as_ref().map(|object| match &object.measured {
                Ok(found) => numbers(found),
                Err(problem) => view! { <Problem text=problem.to_string()/> }.into_any(),
            }))}
            {move || object.with(|object| object.as_ref().is_some_and(|object| object.measured.is_ok())).then(|| view! {
                <WorkingView
                    of=format!("{} alone", name.get())
                    steps=Signal::derive(move || object.with(|object| object.as_ref().and_then(|object| steps(lab, object)).unwrap_or_default()))
                />
            })}
        </section>
    }
}

fn steps(lab: LabState, object: &ObjectOutcome) -> Option<Vec<Working>> {
    lab.lines.with(|lines| {
        let inertia = |configuration| -> Option<&Inertia> {
            lines.iter().find(|line| line.configuration == configuration)?.inertia.as_ref().ok()
        };
        let loaded = inertia(Configuration::Loaded(object.id))?;
        let empty = inertia(Configuration::EmptyTable)?;
        Some(working::object(object.measured.as_ref().ok()?, loaded, empty))
    })
}

fn numbers(object: &ObjectInertia) -> AnyView {
    let total = &object.moment_of_inertia.total;
    let unit = DisplayUnit::engineering(total.value());
    let variance = total.standard_uncertainty().si().powi(2);
    let share = move |u: f64| {
        if variance > 0.0 { show_number(100.0 * u * u / variance, DisplayUnit::prefixed("%", 0), 2) } else { "—".to_owned() }
    };
    let row = |words: String, u: f64| {
        view! { <tr><th scope="row">{words}</th><td>{show_number(u, unit, 2)}</td><td>{share(u)}</td></tr> }
    };
    let random = row(
        "scatter of the runs".to_owned(),
        object.moment_of_inertia.random.standard_uncertainty().si(),
    );
    let shared = object
        .contributions
        .iter()
        .filter(|(_, contribution)| contribution.si() != 0.0)
        .map(|(input, contribution)| row(input.words().to_owned(), contribution.si().abs()))
        .collect_view();
    view! {
        <dl class="outcomes">
            <div class="headline"><dt>"moment of inertia " <i>"I"</i></dt><dd>{measured_text(total, unit)} {parts(&object.moment_of_inertia, unit)}</dd></div>
            <div><dt>"95 % coverage interval"</dt><dd>{interval(total, unit)}</dd></div>
        </dl>
        <details class="numbers">
            <summary>"Where the uncertainty comes from"</summary>
            <table>
                <caption>"Uncertainty budget"</caption>
                <thead><tr><th scope="col">"Source"</th><th scope="col">"Contribution to " <i>"u"</i></th><th scope="col">"Share of " <i>"u"</i>"²"</th></tr></thead>
                <tbody>{random} {shared}</tbody>
            </table>
        </details>
    }
    .into_any()
}
