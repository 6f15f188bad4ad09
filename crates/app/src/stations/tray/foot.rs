//! What is done with the whole tray.

use super::run_row::{carries_key, carries_of, carries_options};
use super::state::TrayState;
use super::{focus_status, sentences};
use crate::controls::{menu, unique_id};
use crate::dom::{El, el};
use crate::focus::keep_in_window;
use leptos::prelude::*;
use whorl_core::intake::Carries;
use whorl_words as words;

/// From here on a menu for all rows at once is quicker.
const SEVERAL: usize = 2;

/// The buttons below the table.
pub(super) fn foot(state: TrayState) -> El {
    let count = move || state.lab.read(|lab| state.read(|files| sentences::ready(files, lab)));
    let empty = move || state.read(<[_]>::is_empty);
    let add = move || {
        state.add();
        if untrack(empty) {
            focus_status();
        }
        // The rows above are gone.
        keep_in_window();
    };
    let clear = move || {
        state.clear();
        focus_status();
    };
    el("div.foot")
        .live_flag("hidden", empty)
        .with(untold(state))
        .with(again(state))
        .with(
            el("div.choices")
                .with(
                    el("button.main")
                        .live_unavailable(move || count() == 0)
                        .live_text(move || words::tray::add_to_lab(&count()))
                        .on_click(add),
                )
                .with(el("button").with(words::tray::clear()).on_click(clear)),
        )
        .with(
            el("p.hint")
                .live_text(move || state.lab.read(|lab| state.read(|files| sentences::waiting(files, lab)))),
        )
}

/// What the table carries, set for all runs of which nothing tells it.
fn untold(state: TrayState) -> El {
    let count = move || {
        state.lab.read(|lab| {
            let untold = |row: &&super::contents::TrayRow| {
                super::contents::resolved(&row.carries, lab) == Carries::Untold
            };
            state.read(|files| files.iter().flat_map(super::contents::TrayFile::left).filter(untold).count())
        })
    };
    let id = unique_id("untold");
    let options = move || {
        let mut options = vec![(carries_key(&Carries::Untold), words::controls::choose().to_owned())];
        options.append(&mut carries_options(state));
        options
    };
    let choose = move |key: String| {
        state.set_untold(&carries_of(&key));
        focus_status();
    };
    el("p.untold")
        .live_flag("hidden", move || count() < SEVERAL)
        .with(el("label").attr("for", &id).with(words::tray::all_carry()))
        .with(" ")
        .with(menu(options, String::new, choose).attr("id", &id))
}

/// Offers to read again what a change has made outdated.
fn again(state: TrayState) -> El {
    let again = move || {
        state.look_again();
        focus_status();
    };
    el("p.again")
        .live_flag("hidden", move || state.share.with(Option::is_some) || !state.outdated())
        .with(words::tray::outdated())
        .with(" ")
        .with(el("button").with(words::tray::look_again()).on_click(again))
}
