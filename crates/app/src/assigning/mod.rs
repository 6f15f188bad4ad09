//! Work that an instructor sets: the place where it is made (`#set`), the link that opens it (`#work=…`), and what
//! students see of it.

mod card;
mod embed;
mod fields;
mod opening;
mod setting;

pub(crate) use card::{card, lock, verdict};
pub(crate) use opening::open_text;

use crate::dom::El;
use crate::state::LabState;
use leptos::prelude::window;
use whorl_core::assignment::LINK;

/// How this page's address asks for the place where work is set.
const SET: &str = "#set";

/// What this page's address asks for.
pub(crate) fn open(lab: LabState) -> Vec<El> {
    let asked = window().location().hash().unwrap_or_default();
    if asked == SET {
        opening::forget();
        return setting::place();
    }
    if asked.starts_with(LINK) { opening::follow(lab, &asked) } else { Vec::new() }
}
