//! The only calls into the browser, beside the chart's canvas and the formulas' elements.

pub(crate) mod databases;
pub(crate) mod download;
pub(crate) mod fetching;
pub(crate) mod files;
pub(crate) mod framed;
pub(crate) mod language;
pub(crate) mod opening;
pub(crate) mod reading;
pub(crate) mod seen;
pub(crate) mod sheet;
pub(crate) mod shipped;
pub(crate) mod simulating;
pub(crate) mod sound;
pub(crate) mod stopped;
pub(crate) mod theme;
pub(crate) mod unload;
mod worker;

use std::pin::Pin;

/// Does `work` when the browser gets to it. Boxed, so that the page carries one copy of the machinery.
pub(crate) fn later(work: impl Future<Output = ()> + 'static) {
    let work: Pin<Box<dyn Future<Output = ()>>> = Box::pin(work);
    leptos::task::spawn_local(work);
}
