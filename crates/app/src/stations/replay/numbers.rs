//! The numbers of the moment, each with its unit and, where a curve gave it, its standard uncertainty.

use super::player::Player;
use crate::controls::{measured_text, outcome_list};
use crate::dom::{El, el, italic};
use leptos::prelude::*;
use std::rc::Rc;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Quantity, Seconds};
use whorl_core::replay::{Moment, Replay};
use whorl_words as words;

/// The list of them.
pub(super) fn numbers(replay: &Rc<Replay>, player: Player) -> El {
    let replay = Rc::clone(replay);
    el("div.moment-numbers").live(move || vec![list(&replay.at(Seconds(player.read.get())))])
}

fn list(moment: &Moment) -> El {
    let plain = |value: f64, symbol: &'static str, digits: i32| {
        el("span.value").with(show_number(value, DisplayUnit::prefixed(symbol, 0), digits))
    };
    let mut rows = vec![
        (named(words::replay::time(), "t"), plain(moment.time.0, "s", 5)),
        (named(words::replay::travel(), "s"), plain(moment.travel.0, "m", 3)),
        (named(words::replay::velocity(), "v"), found(moment.velocity.as_ref())),
        (named(words::replay::acceleration(), "a"), found(moment.acceleration.as_ref())),
        (named(words::replay::tension(), "T"), found(moment.forces.as_ref().map(|forces| &forces.tension))),
    ];
    rows.extend(
        moment.forces.map(|forces| (named(words::replay::weight(), "mg"), plain(forces.weight.0, "N", 4))),
    );
    if let Some((angle, rate)) = moment.table {
        let turns = words::number(angle.0 / core::f64::consts::TAU, 3);
        rows.push((named(words::replay::angle(), "θ"), el("span.value").with(words::replay::turns(&turns))));
        rows.push((named(words::replay::table_rate(), "ω"), plain(rate.0, "rad/s", 3)));
    }
    if let Some(passed) = moment.spokes_passed {
        rows.push((el("span").with(words::replay::spokes()), el("span.value").with(passed.to_string())));
    }
    outcome_list(rows)
}

fn named(words: &str, symbol: &str) -> El {
    el("span").with(words).with(" ").with(italic(symbol))
}

fn found<Q: Quantity>(value: Option<&Measured<Q>>) -> El {
    match value {
        Some(value) => measured_text(value, DisplayUnit::si::<Q>()),
        None => el("span.hint").with(words::replay::not_known()),
    }
}
