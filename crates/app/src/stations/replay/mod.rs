//! A run to be watched: the drawing, the graph that grows, the numbers of the moment, and what happens in sentences.
//! All of it follows the moment shown, which the player moves.

mod account;
mod drawing;
mod film;
mod graph;
mod numbers;
mod player;

use crate::controls::{hint, problem};
use crate::dom::{El, el};
use crate::state::LabState;
use leptos::prelude::*;
use player::Player;
use std::rc::Rc;
use whorl_charts::Figure;
use whorl_charts::figures::velocity;
use whorl_core::lab::RunId;
use whorl_core::replay::{Replay, ReplayError};
use whorl_words as words;

/// A run as it can be watched, and its graph; `None` once the run is gone.
type Made = Option<(Result<Replay, ReplayError>, Figure)>;

/// A run of the lab, to be watched. Built anew when what is seen of it changes: whatever else is typed meanwhile leaves
/// the moment where it is.
pub(crate) fn opened(lab: LabState, id: RunId) -> Vec<El> {
    let made = Memo::new(move |_| made(lab, id));
    vec![el("div").live(move || made.with(|made| untrack(|| view(lab, made.clone()))))]
}

/// The same begun at once from the start of the record, and whether it still plays. It stays the run that it was.
pub(super) fn played(lab: LabState, id: RunId) -> (Vec<El>, Option<RwSignal<bool>>) {
    match made(lab, id) {
        Some((Ok(replay), figure)) => {
            let (content, player) = shown(lab, replay, figure);
            player.play_all();
            (content, Some(player.playing))
        }
        other => (view(lab, other), None),
    }
}

fn view(lab: LabState, made: Made) -> Vec<El> {
    match made {
        Some((Ok(replay), figure)) => shown(lab, replay, figure).0,
        Some((Err(why), _)) => vec![problem(&why.to_string())],
        None => Vec::new(),
    }
}

fn made(lab: LabState, id: RunId) -> Made {
    lab.read(|entered| {
        let run = entered.run(id)?;
        lab.run_outcome(id, |outcome| {
            let replay = Replay::of(run, outcome, &entered.apparatus);
            (replay, velocity(run, &entered.apparatus.setup(), outcome))
        })
    })
}

fn shown(lab: LabState, replay: Replay, figure: Figure) -> (Vec<El>, Player) {
    let replay = Rc::new(replay);
    let spokes = lab.read_once(|lab| lab.apparatus.spokes.map_or(0, core::num::NonZeroU32::get));
    let player = Player::new(&replay);
    let scene = el("div.scene")
        .with(drawing::drawing(&replay, player, spokes))
        .with(graph::graph(figure, &replay, player));
    let content = vec![
        hint(words::replay::purpose()),
        scene,
        player::controls(&replay, player),
        numbers::numbers(&replay, player),
        hint(words::replay::outside()),
        account::account(&replay, player),
    ];
    (content, player)
}
