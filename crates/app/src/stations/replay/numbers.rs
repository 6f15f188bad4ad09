//! The numbers of the moment, each with its unit and, where a curve gave it, its standard uncertainty.

use super::player::Player;
use crate::controls::outcome_list;
use crate::dom::{El, el, italic, watch};
use leptos::prelude::*;
use std::cell::RefCell;
use std::rc::Rc;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show, show_number};
use whorl_core::quantity::{Quantity, Ratio, Seconds};
use whorl_core::replay::{Moment, Replay};
use whorl_words as words;

/// A number as it stands there: value and uncertainty.
type Shown = (String, String);

/// The list of them. Built once: while the run plays only texts that differ are exchanged.
pub(super) fn numbers(replay: &Rc<Replay>, player: Player) -> El {
    let names = [
        (words::replay::time(), "t"),
        (words::replay::travel(), "s"),
        (words::replay::velocity(), "v"),
        (words::replay::acceleration(), "a"),
        (words::replay::tension(), "T"),
        (words::replay::weight(), "mg"),
        (words::replay::angle(), "θ"),
        (words::replay::table_rate(), "ω"),
        (words::replay::spokes(), ""),
    ];
    let places: Vec<(El, El)> = names.iter().map(|_| (el("strong.value"), el("span.u"))).collect();
    let rows = names.iter().zip(&places).map(|((words, symbol), (value, u))| {
        let name = el("span").with(*words).with(" ").with(italic(symbol));
        (name, el("span").with(value.clone()).with(" ").with(u.clone()))
    });
    let list = el("div.moment-numbers").with(outcome_list(rows.collect()));
    let replay = Rc::clone(replay);
    let before = RefCell::new(<[Shown; 9]>::default());
    watch(move || {
        let now = shown(&replay.at(Seconds(player.read.get())));
        let before = before.replace(now.clone());
        for (index, ((value, u), (shown_value, shown_u))) in places.iter().zip(&now).enumerate() {
            if before.get(index) != now.get(index) {
                value.node().set_text_content(Some(shown_value));
                u.node().set_text_content(Some(shown_u));
            }
        }
    });
    list
}

/// In the order of the names.
fn shown(moment: &Moment) -> [Shown; 9] {
    let plain = |value: f64, symbol: &'static str, digits: i32| {
        (show_number(value, DisplayUnit::prefixed(symbol, 0), digits), String::new())
    };
    let not_known = || (String::new(), words::replay::not_known().to_owned());
    [
        plain(moment.time.0, "s", 5),
        plain(moment.travel.0, "m", 3),
        moment.velocity.as_ref().map_or_else(not_known, found),
        moment.acceleration.as_ref().map_or_else(not_known, found),
        moment.forces.as_ref().map_or_else(not_known, |forces| found(&forces.tension)),
        moment.forces.as_ref().map_or_else(not_known, |forces| plain(forces.weight.0, "N", 4)),
        moment.table.map_or_else(not_known, |(angle, _)| {
            let turns = show_number(angle.0 / core::f64::consts::TAU, DisplayUnit::si::<Ratio>(), 3);
            (words::replay::turns(&turns), String::new())
        }),
        moment.table.map_or_else(not_known, |(_, rate)| plain(rate.0, "rad/s", 3)),
        moment.spokes_passed.map_or_else(not_known, |passed| (passed.to_string(), String::new())),
    ]
}

fn found<Q: Quantity>(value: &Measured<Q>) -> Shown {
    let shown = show(value, DisplayUnit::si::<Q>());
    (shown.value, shown.uncertainty.map(|u| format!("u = {u}")).unwrap_or_default())
}
