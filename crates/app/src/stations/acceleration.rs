//! Station 3: the good stretch of each run and its acceleration.

use super::StationFrame;
use crate::controls::{Dragged, Entry, FigureView, Note, Problem, WorkingView, measured_text, unique_id};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures::{run_residuals, velocity};
use whorl_core::analysis::RunOutcome;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::RunId;
use whorl_core::measured::shown::{DisplayUnit, show};
use whorl_core::quantity::{MetersPerSecond2, NewtonMeters, RadiansPerSecond2, Seconds};
use whorl_core::runs::Stretch;
use whorl_core::working;

#[component]
pub(crate) fn Accelerations() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let ids = Memo::new(move |_| lab.read(|lab| lab.runs().iter().map(|run| run.id).collect::<Vec<_>>()));
    let picked = RwSignal::new(None::<RunId>);
    // The run that was picked, as long as it is there; else the first.
    let shown = Memo::new(move |_| {
        ids.with(|ids| picked.get().filter(|id| ids.contains(id)).or_else(|| ids.first().copied()))
    });
    let step = move |by: isize| {
        ids.with_untracked(|ids| {
            let here = ids.iter().position(|id| Some(*id) == shown.get_untracked())?;
            let there = here.checked_add_signed(by)?;
            picked.set(Some(*ids.get(there)?));
            Some(())
        });
    };
    let at = move |end: fn(&[RunId]) -> Option<&RunId>| ids.with(|ids| end(ids).copied() == shown.get());
    let select_id = unique_id("run");
    view! {
        <StationFrame index=2 purpose="Choose the stretch in which the mass fell freely, without your hand and before it landed. The slope of velocity against time in that stretch is the acceleration.">
            {move || {
                ids.with(Vec::is_empty).then(|| view! { <p class="empty">"Runs you add appear here, one chart each."</p> })
            }}
            <div class:hidden=move || ids.with(Vec::is_empty)>
                <div class="run-choice">
                    <label for=select_id.clone()>"Run shown"</label>
                    <select id=select_id on:change:target=move |event| picked.set(event.target().value().parse().ok().map(RunId))>
                        <For each=move || ids.get() key=|id| *id let:id>
                            <option value=id.0.to_string() selected=move || shown.get() == Some(id)>
                                {move || lab.run(id, |run| run.name.clone())}
                            </option>
                        </For>
                    </select>
                    <button on:click=move |_| step(-1) disabled=move || at(<[RunId]>::first)>"Previous run"</button>
                    <button on:click=move |_| step(1) disabled=move || at(<[RunId]>::last)>"Next run"</button>
                </div>
                {move || shown.get().map(|id| view! { <OneRun id=id/> })}
                <AllRuns/>
            </div>
        </StationFrame>
    }
}

/// Time in seconds, rounded to what a pointer can aim at.
fn aimed(seconds: f64, span: f64) -> f64 {
    let digits = (3.5 - span.abs().max(1e-6).log10()).floor().clamp(0.0, 9.0);
    let scale = 10f64.powf(digits);
    (seconds * scale).round() / scale
}

#[component]
fn OneRun(id: RunId) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let outcome = Memo::new(move |_| lab.runs.with(|runs| runs.iter().find(|run| run.id == id).cloned()));
    let figure = Memo::new(move |_| {
        let fit = outcome.get().and_then(|outcome| outcome.fit.ok());
        lab.read(|lab| {
            let travel = lab.apparatus.travel_per_spoke.map(|travel| travel.value());
            lab.run(id).map(|run| velocity(run, travel, fit.as_ref()))
        })
    });
    let figure = Signal::derive(move || figure.get().unwrap_or_else(blank));
    let residuals = Memo::new(move |_| {
        let name = lab.run(id, |run| run.name.clone())?;
        outcome.with(|outcome| outcome.as_ref()?.fit.as_ref().ok().map(|fit| run_residuals(&name, fit)))
    });
    let span = move || lab.run(id, |run| run.readings.time_span()).map_or((0.0, 0.0), |(Seconds(a), Seconds(b))| (a, b));
    let ends = move || {
        lab.run(id, |run| run.stretch.map(|stretch| (stretch.from().0, stretch.to().0))).flatten()
    };
    let dragged = Dragged {
        now: Signal::derive(ends),
        on_change: Callback::new(move |(from, to): (f64, f64)| {
            let (first, last) = untrack(span);
            let aim = |time| Seconds(aimed(time, last - first));
            lab.set_stretch(id, Stretch::new(aim(from), aim(to)));
        }),
    };
    view! {
        <div class="one-run">
            <FigureView figure=figure height=320 stretch=dragged/>
            <StretchFields id=id span=Signal::derive(span) ends=Signal::derive(ends)/>
            {move || outcome.with(|outcome| outcome.as_ref().map(fit_view))}
            <WorkingView
                of="this run"
                steps=Signal::derive(move || outcome.with(|outcome| steps(lab, outcome.as_ref())))
            />
            {move || residuals.with(Option::is_some).then(|| {
                let figure = Signal::derive(move || residuals.get().unwrap_or_else(blank));
                view! {
                    <FigureView figure=figure height=200/>
                    <Note>"Residuals should scatter without a pattern. A bow or a step at an end means the stretch holds something that is not free fall."</Note>
                }
            })}
        </div>
    }
}

/// A figure of nothing, for the moment in which a run has just been removed.
fn blank() -> whorl_charts::Figure {
    whorl_charts::Figure {
        name: String::new(),
        x: whorl_charts::Axis::new("", ""),
        y: whorl_charts::Axis::new("", ""),
        layers: Vec::new(),
    }
}

fn steps(lab: LabState, outcome: Option<&RunOutcome>) -> Vec<whorl_core::working::Working> {
    let Some(outcome) = outcome else { return Vec::new() };
    let mut steps = outcome.fit.as_ref().map(working::acceleration).unwrap_or_default();
    lab.apparatus.with(|apparatus| {
        if let (Ok(apparatus), Ok(placed)) = (apparatus, &outcome.point) {
            steps.extend(working::torque_point(&placed.point, apparatus.gravity().value()));
        }
    });
    steps
}

fn fit_view(outcome: &RunOutcome) -> AnyView {
    let fit = match &outcome.fit {
        Ok(fit) => fit,
        Err(problem) => return view! { <Problem text=problem.to_string()/> }.into_any(),
    };
    let unit = DisplayUnit::si::<MetersPerSecond2>();
    let used = fit.residuals.len();
    let acceleration = measured_text(outcome.point.as_ref().map_or(&fit.acceleration, |placed| &placed.acceleration.total), unit);
    let scatter = show(&fit.acceleration, unit).uncertainty;
    let rest = match &outcome.point {
        Ok(placed) => {
            let torque = measured_text::<NewtonMeters>(&placed.torque.total, DisplayUnit::MILLINEWTON_METERS);
            let alpha =
                measured_text::<RadiansPerSecond2>(&placed.angular_acceleration.total, DisplayUnit::si::<RadiansPerSecond2>());
            view! {
                <div><dt>"string torque " <i>"τ"</i></dt><dd>{torque}</dd></div>
                <div><dt>"angular acceleration " <i>"α"</i></dt><dd>{alpha}</dd></div>
            }
            .into_any()
        }
        Err(problem) => view! { <div><dt>"torque"</dt><dd><Problem text=problem.to_string()/></dd></div> }.into_any(),
    };
    view! {
        <dl class="outcomes">
            <div>
                <dt>"acceleration " <i>"a"</i></dt>
                <dd>
                    {acceleration}
                    <span class="hint">{format!(" from {used} readings")} {scatter.map(|u| format!("; their scatter alone gives u = {u}"))}</span>
                </dd>
            </div>
            {rest}
        </dl>
    }
    .into_any()
}

/// The stretch by numbers, for keyboards and for exactness.
#[component]
fn StretchFields(id: RunId, span: Signal<(f64, f64)>, ends: Signal<Option<(f64, f64)>>) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let note = unique_id("note");
    let (from_id, to_id) = (unique_id("from"), unique_id("to"));
    let (from_problem, to_problem) = (RwSignal::new(None), RwSignal::new(None));
    // Without a stretch the fields show the whole run.
    let now = move || ends.get().unwrap_or_else(|| span.get());
    let set = move |from: Option<f64>, to: Option<f64>| {
        if let (Some(from), Some(to)) = (from, to) {
            lab.set_stretch(id, Stretch::new(Seconds(from), Seconds(to)));
        }
    };
    view! {
        <fieldset class="stretch">
            <legend>"Good stretch"</legend>
            <label for=from_id.clone()>"from"</label>
            <span class="pair">
                <Entry id=from_id unit=EntryUnit::SECONDS value=Signal::derive(move || Some(now().0)) on_change=move |from| set(from, Some(untrack(now).1)) problem=from_problem described_by=note.clone()/>
                <span class="unit">"s"</span>
            </span>
            <label for=to_id.clone()>"to"</label>
            <span class="pair">
                <Entry id=to_id unit=EntryUnit::SECONDS value=Signal::derive(move || Some(now().1)) on_change=move |to| set(Some(untrack(now).0), to) problem=to_problem described_by=note.clone()/>
                <span class="unit">"s"</span>
            </span>
            <button on:click=move |_| lab.set_stretch(id, None) disabled=move || ends.get().is_none()>"Use all readings"</button>
            <span class="note" id=note>
                <span class="problem" role="status">{move || from_problem.get().or_else(|| to_problem.get())}</span>
                <span class="hint">"Drag across the chart, or drag one end, or type the times."</span>
            </span>
        </fieldset>
    }
}

/// Every run's acceleration at a glance.
#[component]
fn AllRuns() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let rows = move || {
        lab.read(|lab_now| {
            lab.runs.with(|outcomes| {
                lab_now
                    .runs()
                    .iter()
                    .zip(outcomes)
                    .map(|(run, outcome)| {
                        let unit = DisplayUnit::si::<MetersPerSecond2>();
                        let cells = match &outcome.point {
                            Ok(placed) => {
                                let torque = measured_text(&placed.torque.total, DisplayUnit::MILLINEWTON_METERS);
                                let alpha = measured_text(
                                    &placed.angular_acceleration.total,
                                    DisplayUnit::si::<RadiansPerSecond2>(),
                                );
                                view! {
                                    <td data-label="acceleration a">{measured_text(&placed.acceleration.total, unit)}</td>
                                    <td data-label="string torque τ">{torque}</td>
                                    <td data-label="angular acceleration α">{alpha}</td>
                                }
                                .into_any()
                            }
                            Err(problem) => view! { <td colspan="3"><Problem text=problem.to_string()/></td> }.into_any(),
                        };
                        view! {
                            <tr>
                                <th scope="row">{run.name.clone()}</th>
                                {cells}
                            </tr>
                        }
                    })
                    .collect_view()
            })
        })
    };
    let open = RwSignal::new(false);
    view! {
        <details class="numbers" on:toggle=move |_| open.update(|open| *open = !*open)>
            <summary>"All runs in one table"</summary>
            <div class="run-list">
                <table class="runs results">
                    <caption>"Acceleration, torque and angular acceleration of every run"</caption>
                    <thead>
                        <tr>
                            <th scope="col">"Run"</th>
                            <th scope="col">"acceleration " <i>"a"</i></th>
                            <th scope="col">"string torque " <i>"τ"</i></th>
                            <th scope="col">"angular acceleration " <i>"α"</i></th>
                        </tr>
                    </thead>
                    <tbody>{move || open.get().then(rows)}</tbody>
                </table>
            </div>
        </details>
    }
}
