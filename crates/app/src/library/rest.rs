//! What can be saved of a lab file that did not open.

use super::begin;
use crate::dom::{El, document, el};
use crate::focus;
use crate::header::{News, replace_allowed};
use crate::state::LabState;
use leptos::prelude::*;
use std::cell::RefCell;
use whorl_core::lab_file::{Salvaged, salvage};
use whorl_words as words;

/// The heading of what was lost; the focus goes here.
const HEADING: &str = "lost-heading";

thread_local! {
    /// What stands beside the message now, and what keeps it up to date.
    static SHOWN: RefCell<Option<(Owner, El)>> = const { RefCell::new(None) };
}

/// Offers what can be saved of the bytes of a file that did not open, as long as the message about it is shown.
pub(crate) fn offer_rest(lab: LabState, news: News, bytes: &[u8], told: &str) {
    let Some(salvaged) = salvage(bytes) else { return };
    let told = told.to_owned();
    show(move || {
        let open = move || open_rest(lab, news, &salvaged);
        el("div.rescue")
            .live_flag("hidden", move || !news.tells(&told))
            .with(el("p").with(words::lab_file::can_be_saved()))
            .with(
                el("button")
                    .attr("type", "button")
                    .with(words::lab_file::open_what_can_be_saved())
                    .on_click(open),
            )
    });
}

fn open_rest(lab: LabState, news: News, salvaged: &Salvaged) {
    if !replace_allowed(lab) {
        return;
    }
    begin(lab, news, salvaged.lab.clone());
    // It is in no file yet.
    lab.not_saved();
    let opened = lab.opened_once();
    let lost: Vec<El> = salvaged.lost.iter().map(|lost| el("li").with(lost.as_str())).collect();
    show(move || {
        el("section.rescue")
            .attr("aria-labelledby", HEADING)
            .live_flag("hidden", move || lab.opened() != opened)
            .with(el("h2").attr("id", HEADING).attr("tabindex", "-1").with(words::lab_file::lost_heading()))
            .with(el("p").with(words::lab_file::lost_hint()))
            .with(el("ul").with(lost))
            .with(el("button").attr("type", "button").with(words::lab_file::close_lost()).on_click(close))
    });
    focus::soon(HEADING);
}

/// Shows something beside the message, in place of what stood there.
fn show(build: impl FnOnce() -> El) {
    close();
    let Some(line) = document().query_selector(".problem-line").ok().flatten() else { return };
    let owner = Owner::new();
    let shown = owner.with(build);
    let _ = line.after_with_node_1(shown.node());
    SHOWN.with_borrow_mut(|now| *now = Some((owner, shown)));
}

fn close() {
    // Taken out first: what is dropped may look here again.
    let shown = SHOWN.with_borrow_mut(Option::take);
    if let Some((_, shown)) = &shown {
        shown.node().remove();
    }
}
