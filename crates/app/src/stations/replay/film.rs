//! Parts of a picture that follow the run. While the run plays the browser moves them by itself, along places that were
//! worked out for the seconds to come: it does so beside the page's program, which then has nothing to do from frame to
//! frame. Places are the readings', every twentieth of a second, and even in between: at an acceleration of 1 m/s² that
//! is a third of a millimeter off.

use super::player::{AHEAD_S, Going, Player};
use crate::dom::{El, watch};
use leptos::prelude::*;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Animation, Element, HtmlElement, KeyframeEffect};
use whorl_core::quantity::Seconds;
use whorl_core::replay::{Moment, Replay};

/// From place to place, s of watching.
pub(super) const BETWEEN_S: f64 = 0.05;

/// What a moment makes of a part: the value of one of its style's properties.
type Value = Box<dyn Fn(&Moment) -> String>;

/// A part that moves, or appears and vanishes.
pub(super) struct Part {
    element: Element,
    property: &'static str,
    value: Value,
}

impl Part {
    /// Moved, turned or stretched: a value of CSS's `transform`.
    pub(super) fn moved(part: &El, value: impl Fn(&Moment) -> String + 'static) -> Self {
        Self { element: part.node().clone(), property: "transform", value: Box::new(value) }
    }

    /// Seen as strongly as the value says, from 0 to 1.
    pub(super) fn seen(part: &El, value: impl Fn(&Moment) -> String + 'static) -> Self {
        Self { element: part.node().clone(), property: "opacity", value: Box::new(value) }
    }

    fn put(&self, moment: &Moment) {
        set_style(&self.element, self.property, &(self.value)(moment));
    }

    /// Lets the browser move the part through the moments in `duration`, ms, from `since` on, as its clock counts.
    fn play(&self, moments: &[Moment], duration: f64, since: f64) -> Option<Animation> {
        let values: Vec<String> =
            moments.iter().map(|moment| format!("\"{}\"", (self.value)(moment))).collect();
        let frames = format!("{{\"{}\":[{}]}}", self.property, values.join(","));
        let frames = js_sys::JSON::parse(&frames).ok()?;
        let effect = KeyframeEffect::new_with_opt_element_and_keyframes_and_f64(
            Some(&self.element),
            Some(frames.unchecked_ref()),
            duration,
        );
        let animation = Animation::new_with_effect(Some(&effect.ok()?.into())).ok()?;
        animation.set_start_time(Some(since));
        Some(animation)
    }
}

/// Sets a property of an element's own style.
pub(super) fn set_style(element: &Element, property: &str, value: &str) {
    // An SVG element has a style as an HTML element has.
    let _ = element.unchecked_ref::<HtmlElement>().style().set_property(property, value);
}

/// Lets the parts follow the player, for as long as they stand. `renewed` may read signals: when they change all parts
/// are put in their places again.
pub(super) fn follow(replay: &Rc<Replay>, player: Player, parts: Vec<Part>, renewed: impl Fn() + 'static) {
    let replay = Rc::clone(replay);
    let running = RefCell::new(Vec::<Animation>::new());
    watch(move || {
        renewed();
        let going = player.going.get();
        let shown = match going {
            Going::Stands(time) => vec![replay.at(Seconds(time))],
            Going::Runs { time, rate, .. } => ahead(&replay, time, rate),
        };
        // Where the part is once its animation is over, or without one.
        if let Some(moment) = shown.last() {
            parts.iter().for_each(|part| part.put(moment));
        }
        let next = match going {
            Going::Runs { since, .. } => {
                let duration = 1e3 * BETWEEN_S * shown.len().saturating_sub(1) as f64;
                // A frame that was begun before the clock was asked is not before the animation.
                let since = since - 1e3 * BETWEEN_S;
                parts.iter().filter_map(|part| part.play(&shown, duration, since)).collect()
            }
            Going::Stands(_) => Vec::new(),
        };
        running.replace(next).iter().for_each(Animation::cancel);
    });
}

/// Moments from one step before `time` as far ahead as the player looks, or to the end of the record.
fn ahead(replay: &Replay, time: f64, rate: f64) -> Vec<Moment> {
    let left = (replay.span().1.0 - time) / rate;
    let mut moments = vec![replay.at(Seconds(time - BETWEEN_S * rate))];
    let mut on = 0.0;
    loop {
        moments.push(replay.at(Seconds(time + on * rate)));
        if on >= left.min(AHEAD_S) {
            return moments;
        }
        on += BETWEEN_S;
    }
}
