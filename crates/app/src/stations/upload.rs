//! Adding runs from files: picked or dropped.

use super::runs::ConfigurationChoice;
use crate::browser::files;
use crate::controls::unique_id;
use crate::state::LabState;
use leptos::prelude::*;
use leptos::task::spawn_local;
use whorl_core::file_name;
use whorl_core::lab::{Configuration, Lab, RunEntry, RunId};
use whorl_core::readings::{FileProblem, MAX_BYTES, ReadingKind, parse};

#[component]
pub(super) fn Upload() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let carries = RwSignal::new(None::<Configuration>);
    let kind = RwSignal::new(None::<ReadingKind>);
    let problems = RwSignal::new(Vec::<String>::new());
    let added = RwSignal::new(None::<String>);
    let over = RwSignal::new(false);
    let (carries_id, kind_id, files_id) = (unique_id("carries"), unique_id("kind"), unique_id("files"));

    let take = move |list: Option<web_sys::FileList>| {
        let list = files::listed(list);
        if list.is_empty() {
            return;
        }
        let (carries, kind) = (carries.get_untracked(), kind.get_untracked());
        spawn_local(async move {
            let picked = files::read_all(list, MAX_BYTES).await;
            let results = lab.read_once(|lab| {
                picked.into_iter().map(|file| run_from(file, carries, kind, lab)).collect::<Vec<_>>()
            });
            let (mut runs, mut refused, mut untold) = (Vec::new(), Vec::new(), 0_usize);
            for result in results {
                match result {
                    Ok((run, told)) => {
                        untold += usize::from(!told);
                        runs.push(run);
                    }
                    Err(problem) => refused.push(problem),
                }
            }
            added.set(summary(runs.len(), untold));
            problems.set(refused);
            if !runs.is_empty() {
                lab.add_runs(runs);
            }
        });
    };
    let dropped = move |event: web_sys::DragEvent| {
        event.prevent_default();
        over.set(false);
        take(event.data_transfer().and_then(|transfer| transfer.files()));
    };
    let kind_option = move |choice: Option<ReadingKind>| {
        let (value, words) = choice.map_or(("auto", "told by its heading"), |kind| (kind.key(), kind.words()));
        view! { <option value=value selected=move || kind.get() == choice>{words}</option> }
    };
    view! {
        <fieldset
            class="upload"
            class:over=over
            on:dragover=move |event| { event.prevent_default(); over.set(true); }
            on:dragleave=move |_| over.set(false)
            on:drop=dropped
        >
            <legend>"Add runs from files"</legend>
            <div class="choices">
                <div>
                    <label for=carries_id.clone()>"The table carries"</label>
                    <ConfigurationChoice id=carries_id chosen=carries by_itself="told by the file’s name" on_choice=move |choice| carries.set(choice)/>
                </div>
                <div>
                    <label for=kind_id.clone()>"Each file holds"</label>
                    <select
                        id=kind_id
                        on:change:target=move |event| {
                            let chosen = event.target().value();
                            kind.set(ReadingKind::ALL.into_iter().find(|kind| kind.key() == chosen));
                        }
                    >
                        {kind_option(None)}
                        {ReadingKind::ALL.map(|kind| kind_option(Some(kind))).collect_view()}
                    </select>
                </div>
                <span class="pick">
                    <input
                        id=files_id.clone()
                        type="file"
                        multiple
                        accept=".csv,.txt,.tsv,text/csv,text/plain"
                        on:change=move |event| {
                            take(event_target::<web_sys::HtmlInputElement>(&event).files());
                            files::forget(&event);
                        }
                    />
                    <label class="main" for=files_id>"Choose files…"</label>
                </span>
                <span class="hint">"or drop them here, many at once"</span>
            </div>
            <p class="hint">
                "A file is plain text with one reading per line: “t (s), v (m/s)”, “t (s), x (m)”, or a single column of gate times. "
                "A name such as “ring-150g.csv” tells the hanging mass."
            </p>
            <p role="status">{move || added.get()}</p>
            <div role="alert">
                {move || {
                    problems.with(|problems| {
                        (!problems.is_empty()).then(|| {
                            let lines = problems
                                .iter()
                                .flat_map(|problem| problem.lines())
                                .map(|line| view! { <li>{line.to_owned()}</li> })
                                .collect_view();
                            view! {
                                <div class="refused">
                                    <p><strong>"Not added:"</strong> " the other files are not affected."</p>
                                    <ul>{lines}</ul>
                                </div>
                            }
                        })
                    })
                }}
                {move || {
                    problems.with(|problems| !problems.is_empty()).then(|| view! {
                        <button class="quiet" on:click=move |_| problems.set(Vec::new())>"Hide these messages"</button>
                    })
                }}
            </div>
        </fieldset>
    }
}

/// What was added, and what to look at: a run on the wrong line spoils it.
fn summary(count: usize, untold: usize) -> Option<String> {
    let added = match count {
        0 => return None,
        1 => "1 run added.".to_owned(),
        count => format!("{count} runs added."),
    };
    let check = match untold {
        0 => "",
        1 => " The name of one file does not say what the table carries: it counts as empty table. Check it in the list.",
        _ => " Some names do not say what the table carries: those runs count as empty table. Check them in the list.",
    };
    Some(format!("{added}{check}"))
}

/// One file → one run and whether its configuration was told; or what is wrong with it.
fn run_from(
    file: files::PickedFile,
    carries: Option<Configuration>,
    kind: Option<ReadingKind>,
    lab: &Lab,
) -> Result<(RunEntry, bool), String> {
    let bytes = file.bytes.map_err(|problem| format!("{}: {problem}", file.name))?;
    let readings = parse(&bytes, kind)
        .map_err(|errors| FileProblem { file: file.name.clone(), errors }.to_string())?;
    let told = carries.or_else(|| file_name::configuration(&file.name, lab));
    let run = RunEntry {
        id: RunId(0),
        name: file_name::run_name(&file.name),
        configuration: told.unwrap_or(Configuration::EmptyTable),
        hanging_mass: file_name::hanging_mass(&file.name),
        stretch: None,
        readings,
        source_file: Some(file.name),
    };
    Ok((run, told.is_some()))
}
