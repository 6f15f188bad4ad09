//! A second thread with a program of its own (`crates/worker`), so that the page stays quick meanwhile.
//!
//! The program is loaded when the first thread is wanted, under names that do not change; what stands
//! behind the `?` tells the browser's store which page it belongs to.
//! It says an empty text once it is ready to hear.

use super::download;
use web_sys::{Document, Worker};

/// A new thread; `None` when the connection is gone, or the browser knows or allows no such thing. It may also
/// refuse later, with an error event.
pub(super) fn open() -> Option<Worker> {
    Worker::new(&of_this_page("worker.js")).ok().or_else(from_inside)
}

/// The same as `web/worker.js`, from a text of the page's own: in a frame without an origin of its own (`sandbox`) the
/// page's files count as another's, and no thread starts from another's file.
fn from_inside() -> Option<Worker> {
    let here = web_sys::window()?.document()?.base_uri().ok()??;
    let (folder, _) = here.split(['?', '#']).next()?.rsplit_once('/')?;
    // An address holds neither quotes nor backslashes: they are percent-encoded.
    let [script, program] = ["whorl-worker.js", "whorl-worker_bg.wasm"]
        .map(|file| format!("\"{folder}/{}\"", of_this_page(file)));
    let text = format!(
        "importScripts({script}); wasm_bindgen({{ module_or_path: {program} }})\
         .catch((problem) => setTimeout(() => {{ throw problem; }}));"
    );
    Worker::new(&download::link_to(&text, "text/javascript")?).ok()
}

/// The first that a thread must hear once it is ready: in which language to answer.
pub(super) fn greet(thread: &Worker) {
    // A thread that is gone hears nothing; its end is told elsewhere.
    let _ = thread.post_message(&super::language::told());
}

/// The address of a file whose name never changes, together with the name of the page it belongs to.
pub(super) fn of_this_page(file: &str) -> String {
    let page = web_sys::window().and_then(|window| page_file(&window.document()?)).unwrap_or_default();
    format!("{file}?{page}")
}

/// The name of the page's own script, which is another one after every change.
fn page_file(document: &Document) -> Option<String> {
    let href = document.query_selector("link[rel=modulepreload]").ok()??.get_attribute("href")?;
    href.rsplit('/').next().map(str::to_owned)
}
