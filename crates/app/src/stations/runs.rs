//! Station 2: the objects and the runs.

use super::StationFrame;
use super::upload::Upload;
use crate::controls::{Entry, Problem, unique_id};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::{Configuration, ObjectId, RunId};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Kilograms, Quantity, Seconds};

#[component]
pub(crate) fn Runs() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let ids = Memo::new(move |_| lab.read(|lab| lab.runs().iter().map(|run| run.id).collect::<Vec<_>>()));
    view! {
        <StationFrame index=1 purpose="Take runs with several hanging masses, first with the empty table, then with each object on it. At least three runs each; five or six are better, spread over a wide range of masses.">
            <ObjectNames/>
            <Upload/>
            {move || {
                ids.with(Vec::is_empty).then(|| view! {
                    <p class="empty">"No runs yet. Add files above, or open the example lab at the top to see a finished one."</p>
                })
            }}
            <div class="run-list" class:hidden=move || ids.with(Vec::is_empty)>
                <table class="runs">
                    <caption>"Runs of this lab"</caption>
                    <thead>
                        <tr>
                            <th scope="col">"Run"</th>
                            <th scope="col">"Table carries"</th>
                            <th scope="col">"Hanging mass"</th>
                            <th scope="col">"Readings"</th>
                            <th scope="col"><span class="visually-hidden">"Remove"</span></th>
                        </tr>
                    </thead>
                    <tbody>
                        <For each=move || ids.get() key=|id| *id let:id>
                            <RunRow id=id/>
                        </For>
                    </tbody>
                </table>
            </div>
        </StationFrame>
    }
}

/// Names of the objects that are put on the table.
#[component]
fn ObjectNames() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let ids = Memo::new(move |_| lab.read(|lab| lab.objects().iter().map(|object| object.id).collect::<Vec<_>>()));
    let refused = RwSignal::new(None::<String>);
    let name = RwSignal::new(String::new());
    let id = unique_id("object");
    let add = move || {
        let entered = name.get_untracked().trim().to_owned();
        if !entered.is_empty() {
            lab.add_object(entered);
            name.set(String::new());
        }
    };
    view! {
        <fieldset class="objects">
            <legend>"Objects put on the table"</legend>
            <ul>
                <For each=move || ids.get() key=|id| *id let:id>
                    <ObjectName id=id refused=refused/>
                </For>
            </ul>
            <form on:submit=move |event| { event.prevent_default(); add(); }>
                <label for=id.clone()>"Another object"</label>
                <input id=id type="text" maxlength="60" autocomplete="off" placeholder="slate disc" prop:value=name on:input:target=move |event| name.set(event.target().value())/>
                <button>"Add object"</button>
            </form>
            <div role="alert">{move || refused.get().map(|text| view! { <Problem text=text/> })}</div>
        </fieldset>
    }
}

#[component]
fn ObjectName(id: ObjectId, refused: RwSignal<Option<String>>) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let name = move || lab.object(id, |object| object.name.clone()).unwrap_or_default();
    view! {
        <li>
            <input
                type="text"
                maxlength="60"
                aria-label="name of the object"
                prop:value=name
                on:change:target=move |event| lab.rename_object(id, event.target().value())
            />
            <button
                class="quiet"
                aria-label=move || format!("Remove the object {}", name())
                on:click=move |_| refused.set(lab.remove_object(id).err().map(|problem| problem.to_string()))
            >
                "Remove"
            </button>
        </li>
    }
}

/// The choices of what the table carries; `chosen` is the one now.
#[component]
pub(super) fn ConfigurationChoice(
    /// The element's id, for its label.
    #[prop(into)]
    id: String,
    /// Accessible name; empty when a `<label>` names it.
    #[prop(into, optional)]
    name: Signal<String>,
    /// The configuration now; `None` for “told by the file's name”.
    #[prop(into)]
    chosen: Signal<Option<Configuration>>,
    /// Words for `None`; without them it is not offered.
    #[prop(optional)]
    by_itself: Option<&'static str>,
    /// Hears of the choice.
    #[prop(into)]
    on_choice: Callback<Option<Configuration>>,
) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let key = |configuration: Option<Configuration>| match configuration {
        None => "auto".to_owned(),
        Some(Configuration::EmptyTable) => "empty".to_owned(),
        Some(Configuration::Loaded(id)) => id.0.to_string(),
    };
    let from_key = |key: &str| match key {
        "auto" => None,
        "empty" => Some(Configuration::EmptyTable),
        number => number.parse().ok().map(|number| Configuration::Loaded(ObjectId(number))),
    };
    let choices = Memo::new(move |_| {
        lab.read(|lab| {
            let named = |configuration| (Some(configuration), lab.configuration_name(configuration));
            lab.configurations().into_iter().map(named).collect::<Vec<_>>()
        })
    });
    let option = move |(configuration, words): (Option<Configuration>, String)| {
        view! { <option value=key(configuration) selected=move || chosen.get() == configuration>{words}</option> }
    };
    view! {
        <select
            id=id
            aria-label=move || Some(name.get()).filter(|name| !name.is_empty())
            on:change:target=move |event| on_choice.run(from_key(&event.target().value()))
        >
            {by_itself.map(|words| option((None, words.to_owned())))}
            {move || choices.get().into_iter().map(option).collect_view()}
        </select>
    }
}

#[component]
fn RunRow(id: RunId) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let name = Memo::new(move |_| lab.run(id, |run| run.name.clone()).unwrap_or_default());
    let readings = Memo::new(move |_| {
        lab.run(id, |run| {
            let (Seconds(first), Seconds(last)) = run.readings.time_span();
            let seconds = show_number(last - first, DisplayUnit::si::<Seconds>(), 3);
            format!("{} × {}, {seconds}", run.readings.count(), run.readings.kind().words())
        })
        .unwrap_or_default()
    });
    let carry = move |choice: Option<Configuration>| {
        if let Some(configuration) = choice {
            lab.set_configuration(id, configuration);
        }
    };
    let mass_problem = RwSignal::new(None);
    let mass_missing = move || lab.run(id, |run| run.hanging_mass.is_none()).unwrap_or(false);
    let note = unique_id("note");
    view! {
        <tr>
            <th scope="row">
                <input type="text" maxlength="80" aria-label="name of the run" prop:value=name on:change:target=move |event| lab.rename_run(id, event.target().value())/>
            </th>
            <td data-label="Table carries">
                <ConfigurationChoice
                    id=unique_id("carries")
                    name=Signal::derive(move || format!("what the table carries in {}", name.get()))
                    chosen=Signal::derive(move || lab.run(id, |run| run.configuration))
                    on_choice=carry
                />
            </td>
            <td data-label="Hanging mass">
                <MassEntry id=id name=name problem=mass_problem note=note.clone()/>
                <span class="problem" id=note role="status">
                    {move || mass_problem.get().or_else(|| mass_missing().then(|| "needed".to_owned()))}
                </span>
            </td>
            <td data-label="Readings">{readings}</td>
            <td>
                <button class="quiet" aria-label=move || format!("Remove the run {}", name.get()) on:click=move |_| lab.remove_run(id)>"Remove"</button>
            </td>
        </tr>
    }
}

#[component]
fn MassEntry(id: RunId, name: Memo<String>, problem: RwSignal<Option<String>>, note: String) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let set = move |entered: Option<f64>| lab.set_hanging_mass(id, entered.map(Kilograms));
    view! {
        <span class="pair">
            <Entry
                id=unique_id("mass")
                name=format!("hanging mass of {}", name.get_untracked())
                unit=EntryUnit::GRAMS
                value=Signal::derive(move || lab.run(id, |run| run.hanging_mass.map(Quantity::si)).flatten())
                on_change=set
                least=0.0
                problem=problem
                described_by=note
            />
            <span class="unit">"g"</span>
        </span>
    }
}
