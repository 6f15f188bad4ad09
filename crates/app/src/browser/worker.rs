//! A second thread with a program of its own (`crates/worker`), so that the page stays quick meanwhile.
//!
//! The program is loaded when the first thread is wanted, under names that do not change; what stands
//! behind the `?` tells the browser's store which page it belongs to.
//! It says an empty text once it is ready to hear.

use web_sys::{Document, Worker};

/// Why there is none, for the user: the connection is gone, or the browser knows or allows no such thing.
pub(super) const REFUSED: &str = "The part of Whorl that computes this could not be started. Check the connection and try again; if that does not help, a newer browser, or the page in a window of its own, may.";

/// A new thread; `None` when the browser refuses at once. It may also refuse later, with an error event.
pub(super) fn open() -> Option<Worker> {
    let page = page_file(&web_sys::window()?.document()?)?;
    Worker::new(&format!("worker.js?{page}")).ok()
}

/// The name of the page's own script, which is another one after every change.
fn page_file(document: &Document) -> Option<String> {
    let href = document.query_selector("link[rel=modulepreload]").ok()??.get_attribute("href")?;
    href.rsplit('/').next().map(str::to_owned)
}
