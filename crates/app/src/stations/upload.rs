//! Adding runs from files: picked or dropped.

use super::runs::{configuration_choice, from_key, key};
use crate::browser::{files, later};
use crate::controls::{hint, unique_id};
use crate::dom::{El, el};
use crate::header::file_picker;
use crate::state::LabState;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use whorl_core::file_name;
use whorl_core::intake::sha256_hex;
use whorl_core::lab::{Configuration, Lab, Record, RunEntry, RunId, Source};
use whorl_core::readings::{FileProblem, MAX_BYTES, ReadingKind, parse};
use whorl_core::torque::Motion;

/// What the user chose for the next files (keys of the two menus), and what became of the last ones.
#[derive(Clone, Copy)]
struct Adding {
    lab: LabState,
    carries: RwSignal<String>,
    kind: RwSignal<String>,
    refused: RwSignal<String>,
    added: RwSignal<String>,
}

/// The place to add runs.
pub(super) fn upload(lab: LabState) -> El {
    let adding = Adding {
        lab,
        carries: RwSignal::new(String::new()),
        kind: RwSignal::new(String::new()),
        refused: RwSignal::new(String::new()),
        added: RwSignal::new(String::new()),
    };
    let over = RwSignal::new(false);
    let carries_id = unique_id("carries");
    let carries = configuration_choice(
        lab,
        Some("told by the file’s name"),
        move || from_key(&adding.carries.get()),
        move |choice| adding.carries.set(key(choice)),
    )
    .attr("id", &carries_id);
    let choices = el("div.choices")
        .with(el("div").with(el("label").attr("for", &carries_id).with("The table carries")).with(carries))
        .with(kind_choice(adding))
        .with(file_picker("Choose files…", "main", ".csv,.txt,.tsv,text/csv,text/plain", move |list| {
            take(adding, list);
        }))
        .with(hint("or drop them here, many at once"));
    el("fieldset.upload")
        .live_class("over", move || over.get())
        .on("dragover", move |event| {
            event.prevent_default();
            over.set(true);
        })
        .on("dragleave", move |_| over.set(false))
        .on("drop", move |event| {
            event.prevent_default();
            over.set(false);
            let transfer = event.dyn_ref::<web_sys::DragEvent>().and_then(web_sys::DragEvent::data_transfer);
            take(adding, files::listed(transfer.and_then(|transfer| transfer.files())));
        })
        .with(el("legend").with("Add runs from files"))
        .with(choices)
        .with(el("p.hint").with("A file is plain text with one reading per line: “t (s), v (m/s)”, “t (s), x (m)”, or a single column of gate times. A name such as “ring-150g.csv” tells the hanging mass."))
        .with(el("p").attr("role", "status").live_text(move || adding.added.get()))
        .with(el("div").attr("role", "alert").live(move || refused(adding)))
}

fn kind_choice(adding: Adding) -> El {
    let id = unique_id("kind");
    let option = |value: &str, words: &str| el("option").attr("value", value).with(words);
    let kinds = ReadingKind::ALL.map(|kind| option(kind.key(), kind.words()));
    let select = el("select")
        .attr("id", &id)
        .with(option("auto", "told by its heading"))
        .with(kinds.to_vec())
        .on_text("change", move |chosen| adding.kind.set(chosen));
    el("div").with(el("label").attr("for", &id).with("Each file holds")).with(select)
}

fn refused(adding: Adding) -> Vec<El> {
    adding.refused.with(|refused| {
        if refused.is_empty() {
            return Vec::new();
        }
        let lines = refused.lines().map(|line| el("li").with(line));
        let hide = el("button.quiet")
            .with("Hide these messages")
            .on_click(move || adding.refused.set(String::new()));
        let messages = el("div.refused")
            .with(el("p").with(el("strong").with("Not added:")).with(" the other files are not affected."))
            .with(el("ul").with(lines.collect::<Vec<_>>()));
        vec![messages, hide]
    })
}

/// Reads the files and adds what can be added; one bad file stops no other.
fn take(adding: Adding, list: Vec<web_sys::File>) {
    if list.is_empty() {
        return;
    }
    let carries = adding.carries.with_untracked(|key| from_key(key));
    let kind = adding.kind.with_untracked(|key| ReadingKind::ALL.into_iter().find(|kind| kind.key() == key));
    later(async move {
        let picked = files::read_all(list, MAX_BYTES).await;
        let (mut runs, mut refused, mut untold) = (Vec::new(), Vec::new(), 0_usize);
        for file in picked {
            match adding.lab.read_once(|lab| run_from(file, carries, kind, lab)) {
                Ok((run, told)) => {
                    untold += usize::from(!told);
                    runs.push(run);
                }
                Err(problem) => refused.push(problem),
            }
        }
        adding.added.set(summary(runs.len(), untold));
        adding.refused.set(refused.join("\n"));
        if !runs.is_empty() {
            adding.lab.add_runs(runs);
        }
    });
}

/// What was added, and what to look at: a run on the wrong line spoils it.
fn summary(count: usize, untold: usize) -> String {
    let added = match count {
        0 => return String::new(),
        1 => "1 run added.".to_owned(),
        count => format!("{count} runs added."),
    };
    let check = match untold {
        0 => "",
        1 => {
            " The name of one file does not say what the table carries: it counts as empty table. Check it in the list."
        }
        _ => {
            " Some names do not say what the table carries: those runs count as empty table. Check them in the list."
        }
    };
    format!("{added}{check}")
}

/// One file → one run and whether its configuration was told; or what is wrong with it.
fn run_from(
    file: files::PickedFile,
    carries: Option<Configuration>,
    kind: Option<ReadingKind>,
    lab: &Lab,
) -> Result<(RunEntry, bool), String> {
    let bytes = file.bytes.map_err(|problem| format!("{}: {problem}", file.name))?;
    let readings =
        parse(&bytes, kind).map_err(|errors| FileProblem { file: file.name.clone(), errors }.to_string())?;
    let told = carries.or_else(|| file_name::configuration(&file.name, lab));
    let (name, hanging_mass) = (file_name::run_name(&file.name), file_name::hanging_mass(&file.name));
    let source = Source {
        file: file.name,
        bytes: Some(bytes.len()),
        sha256: Some(sha256_hex(&bytes)),
        ..Source::default()
    };
    let run = RunEntry {
        id: RunId(0),
        name,
        configuration: told.unwrap_or(Configuration::EmptyTable),
        hanging_mass,
        motion: Motion::Falling,
        stretch: None,
        record: Record::Readings(readings),
        source: Some(source),
    };
    Ok((run, told.is_some()))
}
