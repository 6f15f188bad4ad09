//! The only calls into the browser, beside the chart's canvas and the formulas' elements.

pub(crate) mod download;
pub(crate) mod files;
pub(crate) mod sample;
pub(crate) mod stopped;
pub(crate) mod theme;
pub(crate) mod unload;
