//! Station 6: what the object's shape predicts, and whether the two agree.

mod parts;

use super::StationFrame;
use crate::controls::{FigureView, Problem, WorkingView, measured_text};
use crate::state::LabState;
use leptos::prelude::*;
use parts::Parts;
use whorl_charts::figures;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::comparison::{Comparison, Verdict};
use whorl_core::lab::{Configuration, ObjectId};
use whorl_core::measured::shown::{DisplayUnit, show, show_interval, show_number};
use whorl_core::quantity::Ratio;
use whorl_core::working::{self, Working};

#[component]
pub(crate) fn Comparisons() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let ids = Memo::new(move |_| lab.read(|lab| lab.objects().iter().map(|object| object.id).collect::<Vec<_>>()));
    let figure = Memo::new(move |_| lab.read(|lab_now| lab.objects.with(|objects| figures::comparison(lab_now, objects))));
    let some = Memo::new(move |_| figure.with(whorl_charts::Figure::has_data));
    let rows = Memo::new(move |_| lab.objects.with(Vec::len).max(1));
    view! {
        <StationFrame index=5 purpose="Weigh and measure the object, choose its shape, and the formula predicts its moment of inertia. Does the measured value agree, given both uncertainties?">
            {move || ids.with(Vec::is_empty).then(|| view! { <p class="empty">"Objects you name at the station “Runs” are compared here."</p> })}
            {move || some.get().then(|| {
                let height = 140 + 44 * u32::try_from(rows.get()).unwrap_or(1);
                view! { <FigureView figure=figure height=height/> }
            })}
            <For each=move || ids.get() key=|id| *id let:id>
                <OneComparison id=id/>
            </For>
        </StationFrame>
    }
}

#[component]
fn OneComparison(id: ObjectId) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let outcome = Memo::new(move |_| lab.objects.with(|objects| objects.iter().find(|object| object.id == id).cloned()));
    let name = Memo::new(move |_| lab.read(|lab| lab.configuration_name(Configuration::Loaded(id))));
    view! {
        <section class="card">
            <h3>{name}</h3>
            <Parts id=id/>
            {move || outcome.with(|outcome| outcome.as_ref().map(verdict))}
            {move || outcome.with(|outcome| outcome.as_ref().is_some_and(|outcome| outcome.predicted.is_ok())).then(|| view! {
                <WorkingView of=format!("the comparison of {}", name.get()) steps=Signal::derive(move || outcome.with(|outcome| steps(outcome.as_ref())))/>
            })}
        </section>
    }
}

fn steps(outcome: Option<&ObjectOutcome>) -> Vec<Working> {
    let mut steps = Vec::new();
    if let Some(Ok(prediction)) = outcome.map(|outcome| &outcome.predicted) {
        let several = prediction.parts.len() > 1;
        let parts = prediction.parts.iter().enumerate();
        steps.extend(parts.map(|(index, (body, moment))| working::part(body, moment, several.then_some(index))));
        steps.extend(working::prediction_sum(prediction));
    }
    if let Some(Ok(comparison)) = outcome.and_then(|outcome| outcome.comparison.as_ref()) {
        steps.extend(working::comparison(comparison));
    }
    steps
}

fn verdict(outcome: &ObjectOutcome) -> AnyView {
    let predicted = match &outcome.predicted {
        Ok(prediction) => {
            let moment = &prediction.moment_of_inertia;
            measured_text(moment, DisplayUnit::engineering(moment.value()))
        }
        Err(problem) => view! { <Problem text=problem.to_string()/> }.into_any(),
    };
    let measured = match &outcome.measured {
        Ok(found) => {
            let total = &found.moment_of_inertia.total;
            measured_text(total, DisplayUnit::engineering(total.value()))
        }
        Err(problem) => view! { <Problem text=problem.to_string()/> }.into_any(),
    };
    let compared = match &outcome.comparison {
        None => ().into_any(),
        Some(Err(problem)) => view! { <Problem text=problem.to_string()/> }.into_any(),
        Some(Ok(comparison)) => judged(comparison),
    };
    view! {
        <dl class="outcomes">
            <div><dt>"measured"</dt><dd>{measured}</dd></div>
            <div><dt>"predicted"</dt><dd>{predicted}</dd></div>
        </dl>
        {compared}
    }
    .into_any()
}

fn judged(comparison: &Comparison) -> AnyView {
    let unit = DisplayUnit::engineering(comparison.predicted.value());
    let percent = comparison.percent_difference.map(|percent| {
        view! { <div><dt>"percent difference"</dt><dd>{measured_text(&percent, DisplayUnit::prefixed("%", 0))}</dd></div> }
    });
    let normalized = comparison.in_standard_uncertainties.map(|z| {
        view! { <div><dt>"difference in standard uncertainties"</dt><dd>{show_number(z, DisplayUnit::si::<Ratio>(), 2)}</dd></div> }
    });
    let (mark, class) = match comparison.verdict {
        Verdict::Agree => ("Agree.", "verdict agree"),
        Verdict::AgreeWeakly => ("Agree, weakly.", "verdict weak"),
        Verdict::Differ => ("Differ.", "verdict differ"),
        Verdict::Undecided => ("Not decided.", "verdict weak"),
    };
    view! {
        <dl class="outcomes">
            <div><dt>"difference " <i>"D"</i></dt><dd>{show(&comparison.difference, unit).to_string()} <span class="hint">{format!("; 95 % interval {}", show_interval(&comparison.interval, unit))}</span></dd></div>
            {percent}
            {normalized}
        </dl>
        <p class=class><strong>{mark}</strong> " " {comparison.verdict.words()}</p>
    }
    .into_any()
}
