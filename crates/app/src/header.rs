//! Title, and the lab as a file: example, save, open, new, tables for a spreadsheet.

use crate::browser::language::Speech;
use crate::browser::{download, files, later, opening, shipped};
use crate::controls::{disclosure, hint, menu, unique_id};
use crate::dom::{El, el, svg};
use crate::focus;
use crate::keep;
use crate::parts::{self, Part};
use crate::state::{Keeping, LabState, keeping};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use whorl_core::export::Table;
use whorl_core::lab::{Lab, Provenance};
use whorl_core::lab_file;
use whorl_core::readings::MAX_BYTES;
use whorl_words::{self as words, DecimalMark, Language};

/// Largest lab file that is opened, in bytes: a lab of many long runs.
pub(crate) const LARGEST_LAB: usize = 4 * MAX_BYTES;

/// Ids of the two menus.
const LANGUAGE: &str = "language";
const MARK: &str = "decimal-mark";

/// Id of the place for recorded labs.
pub(crate) const LIBRARY: &str = "recorded-labs";

/// The mark's string: wound up, and down to the mass.
const WHORL: &str = "M24 24c0-2.2 3-2.2 3 .4 0 3.6-5.6 4.6-7.4.6-2-4.8 2.6-9.8 7.8-8.2 6.4 2 7.8 10 3 14.4-5.4 4.8-14.4 2.6-17-4.2C10.6 18 15.8 9.8 24.6 9.4 31 9.2 36 12.6 38.4 17.6V41";

/// The head of the page.
pub(crate) fn header(lab: LabState, speech: Speech) -> El {
    let news = News::new();
    el("header.page-head")
        .with(brand().with(settings(speech)))
        .with(title(lab))
        .with(actions(lab, news))
        .with(keep::place())
        .with(disclosure("details.tables", el("summary").with(words::page::tables()), move || {
            vec![parts::place(Part::Details, move || Some((parts::details()?.tables)(lab, news)))]
        }))
        .with(el("div").attr("id", LIBRARY).with(disclosure(
            "details.tables",
            el("summary").with(words::datasets::heading()),
            move || vec![parts::place(Part::Library, move || Some((parts::library()?.open)(lab, news)))],
        )))
        .with(disclosure("details.tables.shelf-disclosure", el("summary").with(words::page::shelf()), || {
            vec![parts::place(Part::Kept, || Some((parts::kept()?.shelf)()))]
        }))
        .with(news.lines().to_vec())
}

/// What the last file action came to; one of the two is empty.
#[derive(Clone, Copy)]
pub(crate) struct News {
    done: RwSignal<String>,
    problem: RwSignal<String>,
}

impl News {
    pub(crate) fn new() -> Self {
        Self { done: RwSignal::new(String::new()), problem: RwSignal::new(String::new()) }
    }

    /// Where they stand.
    pub(crate) fn lines(self) -> [El; 2] {
        [
            el("div.news").live_news(move || self.done.get()),
            el("div.news.problem-line").attr("role", "alert").live_text(move || self.problem.get()),
        ]
    }

    pub(crate) fn done(self, text: String) {
        self.done.set(text);
        self.problem.set(String::new());
    }

    pub(crate) fn problem(self, text: String) {
        self.done.set(String::new());
        self.problem.set(text);
    }

    /// Whether this is the problem that is told.
    pub(crate) fn tells(self, problem: &str) -> bool {
        self.problem.with(|told| told == problem)
    }
}

fn brand() -> El {
    // The string wound to a whorl, as in icons/whorl.svg. Not an image of it: for that the browser makes a document
    // of its own, a twentieth of the way to the first look at the page on a slow computer.
    let mark = svg("svg")
        .attr("viewBox", "0 0 48 48")
        .attr("width", "44")
        .attr("height", "44")
        .attr("aria-hidden", "true")
        .with(svg("rect").attr("width", "48").attr("height", "48").attr("rx", "11").attr("fill", "#a8260f"))
        .with(
            svg("path")
                .attr("d", WHORL)
                .attr("fill", "none")
                .attr("stroke", "#fbf7ef")
                .attr("stroke-width", "2.6")
                .attr("stroke-linecap", "round"),
        );
    let tagline = el("span.tagline").with(words::page::tagline());
    el("div.brand").with(mark).with(el("h1").with("Whorl ").with(tagline))
}

/// In which language, and with which decimal mark.
fn settings(speech: Speech) -> El {
    let languages =
        Language::ALL.map(|language| (language.code().to_owned(), language.own_name().to_owned()));
    let marks = [(".", words::page::point()), (",", words::page::comma())];
    let marks = marks.map(|(mark, words)| (mark.to_owned(), words.to_owned()));
    let language = menu(
        move || languages.to_vec(),
        move || speech.now().0.code().to_owned(),
        move |code| {
            if let Some(language) = Language::of_code(&code) {
                // The page is built anew, this menu with it.
                later(async move {
                    speech.choose_language(language).await;
                    focus::soon(LANGUAGE);
                });
            }
        },
    );
    let mark = menu(
        move || marks.to_vec(),
        move || if speech.now().1 == DecimalMark::Comma { "," } else { "." }.to_owned(),
        move |mark| {
            speech.choose_mark(if mark == "," { DecimalMark::Comma } else { DecimalMark::Point });
            focus::soon(MARK);
        },
    );
    el("div.settings")
        .with(el("label").attr("for", LANGUAGE).with(words::page::language()))
        .with(language.attr("id", LANGUAGE))
        .with(el("label").attr("for", MARK).with(words::page::decimal_mark()))
        .with(mark.attr("id", MARK))
        .with(el("span.problem").attr("aria-live", "polite").live_text(move || speech.problem.get()))
}

fn title(lab: LabState) -> El {
    let id = unique_id("title");
    el("div.lab-title")
        .with(el("label").attr("for", &id).with(words::page::title()))
        .with(
            el("input")
                .attr("id", &id)
                .attr("type", "text")
                .attr("maxlength", "120")
                .attr("autocomplete", "off")
                .live_value(move || lab.read(|lab| lab.title.clone()))
                .live_flag("readonly", move || lab.read(|lab| lab.newer().is_some()))
                .on_text("input", move |text| lab.set_title(text)),
        )
        .with(el("span.unsaved").attr("role", "status").live_text(move || {
            let words = match (lab.unsaved(), keeping()) {
                (false, _) | (true, Keeping::NotBegun) => "",
                // Said once: the moments between a change and its writing are not told.
                (true, Keeping::Kept | Keeping::Behind) => words::page::kept(),
                (true, Keeping::Fails) => words::page::not_saved(),
            };
            words.to_owned()
        }))
}

fn actions(lab: LabState, news: News) -> El {
    let example = move || {
        if replace_allowed(lab) {
            later(async move {
                match shipped::fetch(shipped::EXAMPLE_LAB, words::page::example_not_fetched).await {
                    Ok(text) => open_text(lab, news, words::page::example_lab(), &text).await,
                    Err(problem) => news.problem(problem),
                }
            });
        }
    };
    let save = move || save_lab(lab, news);
    let start_anew = move || {
        if replace_allowed(lab) {
            lab.open(Lab::default());
            news.done(String::new());
        }
    };
    let has_runs = move || lab.run_keys.with(|keys| !keys.is_empty());
    let button = |words: &str| el("button").attr("type", "button").with(words);
    el("div.lab-actions")
        .attr("role", "group")
        .attr("aria-label", words::page::as_file())
        // What most will want next: an example to begin with, then to keep what they have.
        .with(button(words::page::open_example()).live_class("main", move || !has_runs()).on_click(example))
        .with(button(words::page::save()).attr("id", keep::SAVE).live_class("main", has_runs).on_click(save))
        .with(file_picker(words::page::open(), "", ".json,.csv,.txt,application/json", move |list| {
            open_picked(lab, news, list);
        }))
        .with(button(words::page::new()).on_click(start_anew))
}

/// Saves the lab with the fingerprint of its readings; without it where the part that makes it does not come. The part
/// that keeps the lab is there since its first change.
pub(crate) fn save_lab(lab: LabState, news: News) {
    later(async move {
        parts::load(Part::Report).await;
        let with_fingerprint = parts::report().map(|part| (part.document)(lab));
        let text = with_fingerprint.or_else(|| Some((parts::kept()?.document)(lab)));
        let Some(text) = text else { return news.problem(words::parts::not_loaded().to_owned()) };
        let name = format!("{}.json", lab.read_once(file_stem));
        if save_file(news, &text, &name, "application/json") {
            lab.saved();
        }
    });
}

/// Says so where the readings of the lab that is open are not those that its file was saved with.
pub(crate) fn look_at_readings(lab: LabState, news: News, text: &str) {
    if !text.contains("\"readings_sha256\"") {
        return;
    }
    let (text, opened) = (text.to_owned(), lab.opened_once());
    later(async move {
        parts::load(Part::Report).await;
        // Another lab may have been opened meanwhile.
        let part = parts::report().filter(|_| lab.opened_once() == opened);
        if part.is_some_and(|part| (part.changed_outside)(lab, &text)) {
            news.problem(words::hand_in::readings_edited().to_owned());
        }
    });
}

/// Whether the browser took a file to save; says so either way.
pub(crate) fn save_file(news: News, text: &str, name: &str, media_type: &str) -> bool {
    let saved = download::save(text, name, media_type).is_some();
    if saved {
        news.done(words::page::saved(&name));
    } else {
        news.problem(words::page::save_refused().to_owned());
    }
    saved
}

/// A button for each table, and what it is good for.
pub(crate) fn tables(lab: LabState, news: News) -> Vec<El> {
    let mut buttons = el("div.lab-actions").attr("role", "group").attr("aria-label", words::page::tables());
    for table in Table::ALL {
        let button = el("button").attr("type", "button").with(table.words());
        buttons = buttons.with(button.on_click(move || save_table(lab, news, table)));
    }
    vec![buttons, hint(words::page::tables_hint())]
}

fn save_table(lab: LabState, news: News, table: Table) {
    let analysis = untrack(|| lab.analysis());
    let (text, name) = lab.read_once(|lab| {
        let made = if lab.provenance == Provenance::Simulated { "-simulated" } else { "" };
        // The mark at the beginning tells a spreadsheet that this is UTF-8.
        let text = format!("\u{feff}{}", table.of(lab, &analysis));
        (text, format!("{}{made}-{}.csv", file_stem(lab), table.key()))
    });
    save_file(news, &text, &name, "text/csv");
}

/// A button that picks files; `class` is its label's.
pub(crate) fn file_picker(
    words: &str,
    class: &str,
    accept: &str,
    take: impl Fn(Vec<web_sys::File>) + 'static,
) -> El {
    let id = unique_id("files");
    let input = el("input")
        .attr("id", &id)
        .attr("type", "file")
        .attr("multiple", "")
        .attr("accept", accept)
        .on("change", move |event| {
            let input = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok());
            if let Some(input) = input {
                take(files::listed(input.files()));
                // So that picking the same file again is noticed.
                input.set_value("");
            }
        });
    el("span.pick").with(input).with(el("label").attr("class", class).attr("for", &id).with(words))
}

/// Asks before work is replaced that is neither saved nor kept.
pub(crate) fn replace_allowed(lab: LabState) -> bool {
    !untrack(|| lab.would_be_replaced())
        || window().confirm_with_message(words::page::replace()).unwrap_or(true)
}

/// Opens what was picked, by the part that can.
fn open_picked(lab: LabState, news: News, list: Vec<web_sys::File>) {
    later(async move {
        parts::load(Part::Details).await;
        match parts::details() {
            Some(part) => (part.open_files)(lab, news, list),
            None => news.problem(words::parts::not_loaded().to_owned()),
        }
    });
}

/// Opens the lab among files, with the readings among them that it names.
pub(crate) fn open_files(lab: LabState, news: News, list: Vec<web_sys::File>) {
    if list.is_empty() || !replace_allowed(lab) {
        return;
    }
    later(async move {
        match lab_file_of(list).await {
            Ok((name, bytes)) => match String::from_utf8(bytes) {
                Ok(text) => open_text(lab, news, &name, &text).await,
                Err(damaged) => {
                    let problem = words::page::not_utf8(&name);
                    news.problem(problem.clone());
                    parts::load(Part::Library).await;
                    if let Some(part) = parts::library() {
                        (part.offer_rest)(lab, news, damaged.as_bytes(), &problem);
                    }
                }
            },
            Err(problem) => news.problem(problem),
        }
    });
}

/// Opens a lab from its text.
async fn open_text(lab: LabState, news: News, name: &str, text: &str) {
    match lab_file::open_own(text) {
        Ok(opened) => {
            put(lab, news, opened);
            look_at_readings(lab, news, text);
        }
        // That it is a recorded one or of another version, or what is wrong with it, is known to the part.
        Err(_) if parts::load(Part::Library).await => {
            if let Some(part) = parts::library() {
                (part.open_text)(lab, news, name, text);
            }
        }
        Err(_) => news.problem(words::parts::not_loaded().to_owned()),
    }
}

/// Puts a lab in place of the one that is open.
pub(crate) fn put(lab: LabState, news: News, opened: Lab) {
    let title = if opened.title.is_empty() { words::page::untitled() } else { &opened.title };
    news.done(words::page::opened(&title, &opened.runs().len()));
    lab.open(opened);
}

/// The same of a lab.
pub(crate) fn file_stem(lab: &Lab) -> String {
    stem_of(&lab.title)
}

/// A file name without ending from a lab's title: letters and digits, dashes for the rest.
pub(crate) fn stem_of(title: &str) -> String {
    let plain: String = title
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() || !c.is_ascii() { c.to_ascii_lowercase() } else { '-' })
        .collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "whorl-lab".to_owned() } else { words.join("-") }
}

/// Name and bytes of the lab file among the files picked; the others may be readings it names, which are then
/// in it.
async fn lab_file_of(list: Vec<web_sys::File>) -> Result<(String, Vec<u8>), String> {
    let is_lab = |file: &web_sys::File| file.name().to_ascii_lowercase().ends_with(".json");
    let (mut labs, mut others): (Vec<_>, Vec<_>) = list.into_iter().partition(is_lab);
    if labs.is_empty() && others.len() == 1 {
        labs.append(&mut others);
    }
    let file = match labs.as_slice() {
        [file] => file.clone(),
        [] => return Err(words::page::no_lab_file().to_owned()),
        _ => return Err(words::page::several_lab_files().to_owned()),
    };
    let name = file.name();
    let bytes = files::read(&file, LARGEST_LAB).await.map_err(|problem| format!("{name}: {problem}"))?;
    if others.is_empty() {
        return Ok((name, bytes));
    }
    let text = String::from_utf8(bytes).map_err(|_| words::page::not_utf8(&name))?;
    let text = opening::with_readings(&name, &text, &others).await?;
    Ok((name, text.into_bytes()))
}
