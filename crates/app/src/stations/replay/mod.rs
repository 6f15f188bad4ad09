//! A run to be watched: the drawing, the graph that grows, the numbers of the moment, and what happens in sentences.
//! All of it follows the moment shown, which the player moves.

mod account;
mod drawing;
mod graph;
mod numbers;
mod player;

use crate::controls::{hint, problem};
use crate::dom::{El, el};
use crate::state::LabState;
use leptos::prelude::*;
use player::Player;
use std::rc::Rc;
use whorl_charts::figures::velocity;
use whorl_core::lab::RunId;
use whorl_core::replay::Replay;
use whorl_words as words;

/// A run of the lab, to be watched. Built anew when the run or its stretch changes.
pub(crate) fn opened(lab: LabState, id: RunId) -> Vec<El> {
    vec![el("div").live(move || view(lab, id))]
}

fn view(lab: LabState, id: RunId) -> Vec<El> {
    let made = lab.read(|entered| {
        let run = entered.run(id)?;
        lab.run_outcome(id, |outcome| {
            let replay = Replay::of(run, outcome, &entered.apparatus);
            (replay, velocity(run, &entered.apparatus.setup(), outcome))
        })
    });
    let Some((replay, figure)) = made else { return Vec::new() };
    let replay = match replay {
        Ok(replay) => Rc::new(replay),
        Err(why) => return vec![problem(&why.to_string())],
    };
    let spokes = lab.read_once(|lab| lab.apparatus.spokes.map_or(0, core::num::NonZeroU32::get));
    untrack(|| {
        let player = Player::new(&replay);
        let scene = el("div.scene")
            .with(drawing::drawing(&replay, player, spokes))
            .with(graph::graph(figure, player));
        vec![
            hint(words::replay::purpose()),
            scene,
            player::controls(&replay, player),
            numbers::numbers(&replay, player),
            hint(words::replay::outside()),
            account::account(&replay, player),
        ]
    })
}
