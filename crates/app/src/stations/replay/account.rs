//! What happens, moment by moment, in sentences: each goes to its moment.

use super::player::Player;
use crate::dom::{El, el};
use leptos::prelude::*;
use std::rc::Rc;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::Seconds;
use whorl_core::replay::Replay;
use whorl_words as words;

/// The list of landmarks; the last one passed is marked.
pub(super) fn account(replay: &Rc<Replay>, player: Player) -> El {
    let landmarks = replay.account();
    let times: Vec<f64> = landmarks.iter().map(|landmark| landmark.time.0).collect();
    let passed = Memo::new(move |_| {
        let now = player.read.get();
        times.iter().rposition(|time| *time <= now + 1e-9)
    });
    let entries = landmarks.into_iter().enumerate().map(|(index, landmark)| {
        let Seconds(time) = landmark.time;
        let shown = show_number(time, DisplayUnit::si::<Seconds>(), 4);
        let current = move || (passed.get() == Some(index)).then(|| "true".to_owned());
        el("li")
            .live_attr("aria-current", current)
            .with(
                el("button.quiet")
                    .attr("type", "button")
                    .attr("aria-label", &words::replay::go_to(&shown, &landmark.words))
                    .with(shown)
                    .on_click(move || player.show(time)),
            )
            .with(" ")
            .with(el("span").with(landmark.words))
    });
    el("section.account")
        .with(el("h3").with(words::replay::account()))
        .with(el("ol").with(entries.collect::<Vec<_>>()))
}
