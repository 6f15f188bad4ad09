//! A second thread with a program of its own (`crates/worker`), so that the page stays quick meanwhile.
//!
//! The program is loaded when the first thread is wanted, under names that do not change; what stands
//! behind the `?` tells the browser's store which page it belongs to.
//! It says an empty text once it is ready to hear.

use web_sys::{Document, Worker};

/// A new thread; `None` when the connection is gone, or the browser knows or allows no such thing. It may also
/// refuse later, with an error event.
pub(super) fn open() -> Option<Worker> {
    let page = page_file(&web_sys::window()?.document()?)?;
    Worker::new(&format!("worker.js?{page}")).ok()
}

/// The name of the page's own script, which is another one after every change.
fn page_file(document: &Document) -> Option<String> {
    let href = document.query_selector("link[rel=modulepreload]").ok()??.get_attribute("href")?;
    href.rsplit('/').next().map(str::to_owned)
}
