//! The tray: files arrive, are read and looked at; from here runs enter the lab, and only by a click.

mod at_work;
mod chart;
mod contents;
mod file_row;
mod foot;
mod kept;
mod layout_view;
mod learned;
mod run_row;
mod sentences;
mod state;

use crate::browser::files;
use crate::controls::unique_id;
use crate::dom::{El, document, el};
use crate::focus::focus;
use crate::header::file_picker;
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use state::TrayState;

use std::rc::Rc;
use std::time::Duration;
use wasm_bindgen::JsCast;
use web_sys::{ClipboardEvent, DataTransfer, DragEvent, Event, File, HtmlTextAreaElement};
use whorl_words as words;

pub(crate) use kept::KeptTray;

/// Endings of tables of numbers; a file can be dropped whatever its ending.
const ENDINGS: &str = ".csv,.txt,.tsv,.tab,.dat,.log,.asc,.prn,text/*";

/// Where the last action is told; the focus goes here when its control is gone.
const STATUS: &str = "tray-status";

/// The place to add runs from files.
pub(super) fn tray(lab: LabState) -> El {
    let state = Arrivals::new(lab);
    if expect_context::<KeptTray>().has(lab) {
        state.expect();
    }
    let over = RwSignal::new(false);
    let picker = el("div.choices")
        .on_click(move || state.expect())
        .with(file_picker(words::tray::choose_files(), "main", ENDINGS, move |list| state.take(list)))
        .with(el("span.hint").with(words::tray::or_drop()));
    el("fieldset.upload.tray")
        .live_class("over", move || over.get())
        .on("dragenter", move |_| state.expect())
        .on("dragover", move |event| {
            event.prevent_default();
            over.set(true);
        })
        .on("dragleave", move |_| over.set(false))
        .on("drop", move |event| {
            event.prevent_default();
            over.set(false);
            let transfer = event.dyn_ref::<DragEvent>().and_then(DragEvent::data_transfer);
            state.take(files::listed(transfer.and_then(|transfer| transfer.files())));
        })
        .on("paste", move |event| {
            let list = files::listed(clipboard(&event).and_then(|clipboard| clipboard.files()));
            // Cells may come with a picture of themselves.
            if !list.is_empty() && pasted_text(&event).is_empty() {
                event.prevent_default();
                state.take(list);
            }
        })
        .with(el("legend").with(words::tray::add_from_files()))
        .with(picker)
        .with(el("p.hint").with(words::tray::hint()))
        .with(cells(state))
        .with(state.place.get_value())
}

/// What a user does at the tray.
pub(crate) enum Arrival {
    /// Files are about to come.
    Expected,
    Files(Vec<File>),
    Text(String),
}

/// The tray, once its part is there: what is seen of it, and who takes what arrives.
pub(crate) struct TrayOpened {
    view: Vec<El>,
    take: Box<dyn Fn(Arrival)>,
}

/// Builds what stands below the place where files arrive.
pub(crate) fn opened(lab: LabState) -> TrayOpened {
    let state = expect_context::<KeptTray>().of(lab);
    let status = el("p").attr("id", STATUS).attr("tabindex", "-1").live_news(move || state.status.get());
    let take = move |arrival| match arrival {
        Arrival::Expected => state.expect(),
        Arrival::Files(list) => state.take(list),
        Arrival::Text(text) => state.take_text(&text),
    };
    TrayOpened { view: vec![progress(state), status, table(state), foot::foot(state)], take: Box::new(take) }
}

/// What has arrived waits here until the tray's part is loaded, which the first arrival asks for.
#[derive(Clone, Copy)]
struct Arrivals {
    lab: LabState,
    place: StoredValue<El, LocalStorage>,
    behind: StoredValue<Waiting, LocalStorage>,
}

#[derive(Default)]
struct Waiting {
    asked: bool,
    arrived: Vec<Arrival>,
    take: Option<Rc<dyn Fn(Arrival)>>,
}

impl Arrivals {
    fn new(lab: LabState) -> Self {
        let place = el("div").attr("tabindex", "-1");
        Self { lab, place: StoredValue::new_local(place), behind: StoredValue::new_local(Waiting::default()) }
    }

    fn expect(self) {
        self.add(Arrival::Expected);
    }

    fn take(self, list: Vec<File>) {
        self.add(Arrival::Files(list));
    }

    fn take_text(self, text: &str) {
        self.add(Arrival::Text(text.to_owned()));
    }

    fn add(self, arrival: Arrival) {
        let mut ask = false;
        self.behind.update_value(|waiting| {
            waiting.arrived.push(arrival);
            ask = !std::mem::replace(&mut waiting.asked, true);
        });
        if ask {
            let content = move || {
                let opened = (parts::tray()?.open)(self.lab);
                self.behind.update_value(|waiting| waiting.take = Some(opened.take.into()));
                self.hand_on();
                Some(opened.view)
            };
            parts::fill(&self.place.get_value(), Part::Tray, Rc::new(content));
        }
        self.hand_on();
    }

    fn hand_on(self) {
        let mut ready = None;
        self.behind.update_value(|waiting| {
            ready = waiting.take.clone().map(|take| (take, std::mem::take(&mut waiting.arrived)));
        });
        if let Some((take, arrived)) = ready {
            arrived.into_iter().for_each(|arrival| take(arrival));
        }
    }
}

fn clipboard(event: &Event) -> Option<DataTransfer> {
    event.dyn_ref::<ClipboardEvent>().and_then(ClipboardEvent::clipboard_data)
}

fn pasted_text(event: &Event) -> String {
    clipboard(event).and_then(|clipboard| clipboard.get_data("text/plain").ok()).unwrap_or_default()
}

/// Cells copied from a spreadsheet: read as soon as they are pasted, or typed and read by the button.
fn cells(state: Arrivals) -> El {
    let (id, note) = (unique_id("cells"), unique_id("note"));
    let area = el("textarea")
        .attr("id", &id)
        .attr("rows", "2")
        .attr("autocomplete", "off")
        .attr("spellcheck", "false")
        .attr("aria-describedby", &note);
    let typed = area.clone();
    let paste = move |event: Event| {
        let text = pasted_text(&event);
        let blank = typed.node_as::<HtmlTextAreaElement>().is_none_or(|area| area.value().is_empty());
        // A paste behind something typed is still being edited.
        if blank && !text.trim().is_empty() {
            event.prevent_default();
            state.take_text(&text);
        }
    };
    let field = area.clone();
    let read = move || {
        let Some(area) = field.node_as::<HtmlTextAreaElement>() else { return };
        if !area.value().trim().is_empty() {
            state.take_text(&area.value());
            area.set_value("");
        }
    };
    el("div.cells")
        .with(el("label").attr("for", &id).with(words::tray::paste_cells()))
        .with(area.on("paste", paste))
        .with(el("button").with(words::tray::read_cells()).on_click(read))
        .with(el("span.hint").attr("id", &note).with(words::tray::paste_hint()))
}

fn progress(state: TrayState) -> El {
    let idle = move || state.share.with(Option::is_none);
    let stop = move || {
        state.stop();
        focus_status();
    };
    el("p.reading")
        .live_flag("hidden", idle)
        .with(
            el("progress")
                .attr("max", "1")
                .attr("aria-label", words::tray::reading())
                .live_attr("value", move || state.share.get().map(|share| format!("{share:.3}"))),
        )
        .with(" ")
        .with(el("span").live_text(move || state.at_work.get()))
        .with(" ")
        .with(el("button").with(words::tray::stop_reading()).on_click(stop))
}

fn table(state: TrayState) -> El {
    let head = run_row::COLUMNS.map(|words| el("th").attr("scope", "col").with(words()));
    let files = move || state.read(|files| files.iter().map(|file| file.key).collect::<Vec<_>>());
    el("table.proposed")
        .live_flag("hidden", move || state.read(<[_]>::is_empty))
        .with(el("caption").with(words::tray::table()))
        .with(el("thead").with(el("tr").with(head.to_vec())))
        .each(files, move |key| file_row::file_rows(state, key))
}

fn focus_status() {
    focus_id(STATUS);
}

fn focus_id(id: &str) {
    if let Some(element) = document().get_element_by_id(id) {
        focus(&element);
    }
}

/// A part of a file's rows is about to be built anew: if the focus stands in what goes, it comes back to the
/// element of the same id, or else goes to the one of the id given.
fn keep_focus(key: u32, other: String) {
    let Some(active) = document().active_element() else { return };
    let id = active.id();
    if !id.starts_with(&format!("tray-{key}-")) {
        return;
    }
    let restore = move || {
        if active.is_connected() {
            return;
        }
        match document().get_element_by_id(&id) {
            Some(same) => focus(&same),
            None => focus_id(&other),
        }
    };
    set_timeout(restore, Duration::ZERO);
}
