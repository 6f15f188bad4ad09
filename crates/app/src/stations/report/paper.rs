//! The report on paper: built of elements, shown to the printer alone, and taken away again.

use crate::browser::sheet;
use crate::dom::{El, document as page, el, math};
use crate::header::News;
use crate::state::LabState;
use js_sys::Array;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::HtmlImageElement;
use whorl_report::element::{Child, Element, Kind};
use whorl_report::{Document, Sheet, marked_up};
use whorl_words as words;

/// How the report looks.
const STYLE: &str = "later/report-sheet.css";
/// The page's class while the report alone is printed.
const PRINTING: &str = "printing-report";

/// The report of the lab that is open.
pub(super) fn document(lab: LabState) -> Document {
    let analysis = untrack(|| lab.analysis());
    let derivation = untrack(|| lab.prelab.derivation());
    lab.whole(|lab| {
        whorl_report::document(Sheet { lab, analysis: &analysis, derivation: derivation.as_deref() })
    })
}

/// Prints the report and nothing else; says so where the browser does not let the page print.
pub(super) async fn print(lab: LabState, news: News) {
    if !sheet::load(STYLE).await {
        news.problem(words::parts::not_loaded().to_owned());
        return;
    }
    let paper = el("div.paper").with(built(&marked_up(&document(lab))));
    let (Some(body), Some(root)) = (page().body(), page().document_element()) else { return };
    let _ = body.append_child(paper.node());
    drawn(&paper).await;
    let _ = root.class_list().add_1(PRINTING);
    let begun = Rc::new(Cell::new(false));
    let seen = Rc::clone(&begun);
    let before = window_event_listener_untyped("beforeprint", move |_| seen.set(true));
    let put_away = Rc::new(move || {
        let _ = root.class_list().remove_1(PRINTING);
        paper.node().remove();
    });
    let afterwards = Rc::clone(&put_away);
    let after = window_event_listener_untyped("afterprint", move |_| afterwards());
    let asked = window().print().is_ok();
    // A frame that may not open dialogs is not told so: nothing begins.
    let judge = move || {
        if asked && begun.get() {
            news.done(String::new());
        } else {
            put_away();
            after.remove();
            news.problem(words::report_view::print_refused().to_owned());
        }
        before.remove();
    };
    set_timeout(judge, std::time::Duration::from_millis(500));
}

/// Waits until all figures can be drawn: a printer does not wait for them.
async fn drawn(paper: &El) {
    let images = paper.node().get_elements_by_tag_name("img");
    let all = Array::new();
    for image in (0..images.length()).filter_map(|index| images.item(index)) {
        all.push(&image.unchecked_into::<HtmlImageElement>().decode());
    }
    let _ = JsFuture::from(js_sys::Promise::all_settled(&all)).await;
}

/// The elements of a tree: text becomes text, nothing is parsed.
fn built(element: &Element) -> El {
    let mut made = match element.kind {
        Kind::Html => el(element.tag),
        Kind::Math => math(element.tag),
    };
    for (name, value) in &element.attributes {
        made = made.attr(name, value);
    }
    for child in &element.children {
        made = match child {
            Child::Text(text) => made.with(text.as_str()),
            Child::Element(inner) => made.with(built(inner)),
        };
    }
    made
}
