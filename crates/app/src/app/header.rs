//! Title and the lab as a file: new, open, save, example.

use crate::browser::{download, files, sample, stopped};
use crate::controls::unique_id;
use crate::state::LabState;
use leptos::prelude::*;
use leptos::task::spawn_local;
use whorl_core::lab::Lab;
use whorl_core::lab_file;
use whorl_core::readings::MAX_BYTES;

/// Largest lab file that is opened, in bytes: a lab of many long runs.
const LARGEST_LAB: usize = 4 * MAX_BYTES;

#[component]
pub(super) fn Header() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let news = RwSignal::new(News::Nothing);
    let title_id = unique_id("title");
    let opening = unique_id("open");

    let replace_allowed = move || {
        !untrack(|| lab.unsaved())
            || window().confirm_with_message("This lab has changes that are not saved. Go on without saving them?").unwrap_or(true)
    };
    let open_text = move |text: &str, others: &[files::PickedFile]| match open(text, others) {
        Ok(opened) => {
            news.set(News::Done(format!("Opened “{}”, {} runs.", shown_title(&opened), opened.runs().len())));
            lab.open(opened);
        }
        Err(problem) => news.set(News::Problem(problem)),
    };
    let open_files = move |list: Option<web_sys::FileList>| {
        let list = files::listed(list);
        if list.is_empty() || !replace_allowed() {
            return;
        }
        spawn_local(async move {
            let picked = files::read_all(list, LARGEST_LAB).await;
            match lab_text(&picked) {
                Ok(text) => open_text(&text, &picked),
                Err(problem) => news.set(News::Problem(problem)),
            }
        });
    };
    let open_example = move |_| {
        if replace_allowed() {
            spawn_local(async move {
                match sample::fetch().await {
                    Ok(text) => open_text(&text, &[]),
                    Err(problem) => news.set(News::Problem(problem)),
                }
            });
        }
    };
    let save = move |_| {
        let (text, name) = lab.read_once(|lab| (lab_file::save(lab), file_name(lab)));
        match download::save(&text, &name, "application/json") {
            Some(()) => {
                lab.saved();
                news.set(News::Done(format!("Saved as “{name}”.")));
            }
            None => news.set(News::Problem("The browser refused to save the file. Allow downloads for this page and try again.".to_owned())),
        }
    };
    let start_anew = move |_| {
        if replace_allowed() {
            lab.open(Lab::default());
            news.set(News::Nothing);
        }
    };

    view! {
        <header class="page-head">
            <div class="brand">
                <img src="icons/whorl.svg" alt="" width="44" height="44"/>
                <h1>"Whorl" <span class="tagline">"Moments of inertia from a falling mass"</span></h1>
            </div>
            <div class="lab-title">
                <label for=title_id.clone()>"Title of this lab"</label>
                <input
                    id=title_id
                    type="text"
                    maxlength="120"
                    autocomplete="off"
                    prop:value=move || lab.read(|lab| lab.title.clone())
                    on:change:target=move |event| lab.set_title(event.target().value())
                />
                <span class="unsaved" role="status">{move || lab.unsaved().then_some("not saved yet")}</span>
            </div>
            <div class="lab-actions" role="group" aria-label="This lab as a file">
                <button class="main" on:click=open_example>"Open the example lab"</button>
                <button on:click=save>"Save lab"</button>
                <span class="pick">
                    <input
                        id=opening.clone()
                        type="file"
                        multiple
                        accept=".json,.csv,.txt,application/json"
                        on:change=move |event| {
                            let list = event_target::<web_sys::HtmlInputElement>(&event).files();
                            open_files(list);
                            files::forget(&event);
                        }
                    />
                    <label for=opening>"Open lab…"</label>
                </span>
                <button on:click=start_anew>"New lab"</button>
            </div>
            <div role="status" class="news">{move || news.with(News::good)}</div>
            <div role="alert" class="news problem-line">{move || news.with(News::bad)}</div>
            <Rescue on_open=Callback::new(move |text: String| open_text(&text, &[]))/>
        </header>
    }
}

/// What the last file action came to.
enum News {
    Nothing,
    Done(String),
    Problem(String),
}

impl News {
    fn good(&self) -> Option<String> {
        if let Self::Done(text) = self { Some(text.clone()) } else { None }
    }

    fn bad(&self) -> Option<String> {
        if let Self::Problem(text) = self { Some(text.clone()) } else { None }
    }
}

/// Offers the copy that a page left behind when it stopped.
#[component]
fn Rescue(on_open: Callback<String>) -> impl IntoView {
    let copy = RwSignal::new(stopped::left_behind());
    let done = move || {
        stopped::forget();
        copy.set(None);
    };
    move || {
        copy.get().map(|text| {
            view! {
                <div class="rescue" role="alert">
                    <p>"Whorl stopped unexpectedly last time. Your lab was kept."</p>
                    <button class="main" on:click=move |_| { on_open.run(text.clone()); done(); }>"Open the rescue copy"</button>
                    <button on:click=move |_| done()>"Discard it"</button>
                </div>
            }
        })
    }
}

fn shown_title(lab: &Lab) -> &str {
    if lab.title.is_empty() { "untitled lab" } else { &lab.title }
}

/// A file name from the lab's title: letters and digits, dashes for the rest.
fn file_name(lab: &Lab) -> String {
    let plain: String = lab.title.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "whorl-lab.json".to_owned() } else { format!("{}.json", words.join("-")) }
}

/// The lab file among the files picked; the others may be readings it names.
fn lab_text(picked: &[files::PickedFile]) -> Result<String, String> {
    let mut labs = picked.iter().filter(|file| file.name.to_lowercase().ends_with(".json"));
    let file = match (labs.next(), labs.next(), picked) {
        (Some(file), None, _) | (None, None, [file]) => file,
        (None, ..) => return Err("None of these files is a lab (.json). Readings files are added at the station “Runs”.".to_owned()),
        (Some(_), Some(_), _) => return Err("More than one lab file was picked. Open one lab at a time.".to_owned()),
    };
    let bytes = file.bytes.as_ref().map_err(|problem| format!("{}: {problem}", file.name))?;
    String::from_utf8(bytes.clone())
        .map_err(|_| format!("{}, line 1, column 1: this is not UTF-8 text. Open a file that Whorl saved.", file.name))
}

/// Opens a lab; readings it names by path are looked for by file name among `others`.
fn open(text: &str, others: &[files::PickedFile]) -> Result<Lab, String> {
    let base = |path: &str| path.rsplit('/').next().unwrap_or(path).to_owned();
    let mut read_file = |path: &lab_file::OpenedPath<'_>| {
        let wanted = base(path.as_str());
        match others.iter().find(|file| file.name == wanted) {
            Some(file) => file.bytes.clone(),
            None => Err("it was not picked".to_owned()),
        }
    };
    lab_file::open(text, &mut read_file).map_err(|problem| problem.to_string())
}
