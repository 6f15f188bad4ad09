//! A chart by keyboard.
//!
//! | keys | do |
//! | --- | --- |
//! | ← → | the mark before, the next |
//! | Page Up, Page Down | ten marks back, ten on |
//! | Home, End | the first, the last |
//! | ↑ ↓ | another series |
//! | + − 0 | enlarge, shrink, show all |
//! | Shift + arrows | move the part shown |
//! | Escape | put the crosshair away |

use super::Chart;
use crate::dom::El;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::KeyboardEvent;
use whorl_charts::probe::{Step, next};

/// How many times a key enlarges.
pub(super) const ENLARGED: f64 = 1.5;
/// The share of the part shown by which a key moves it.
pub(super) const MOVED: f64 = 0.2;
/// Marks that Page Up and Page Down pass.
const FAR: i32 = 10;

/// Makes the chart's frame listen.
pub(super) fn listen(frame: El, chart: Chart) -> El {
    frame
        .on("keydown", move |event| {
            let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
            // Keys of the browser and of screen readers stay theirs.
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            if press(chart, &event.key(), event.shift_key()) {
                event.prevent_default();
            }
        })
        // Also when it is taken off the page, and its signals with it.
        .on("blur", move |_| {
            let _ = chart.mark.try_set(None);
        })
}

/// Whether the key means something here.
fn press(chart: Chart, key: &str, shift: bool) -> bool {
    match (key, shift) {
        ("ArrowRight", false) => go(chart, Step::Along(1)),
        ("ArrowLeft", false) => go(chart, Step::Along(-1)),
        ("PageDown", false) => go(chart, Step::Along(FAR)),
        ("PageUp", false) => go(chart, Step::Along(-FAR)),
        ("Home", false) => go(chart, Step::First),
        ("End", false) => go(chart, Step::Last),
        ("ArrowDown", false) => go(chart, Step::Layer(true)),
        ("ArrowUp", false) => go(chart, Step::Layer(false)),
        ("ArrowRight", true) => chart.look(|part, whole| part.moved(MOVED, 0.0, whole)),
        ("ArrowLeft", true) => chart.look(|part, whole| part.moved(-MOVED, 0.0, whole)),
        ("ArrowUp", true) => chart.look(|part, whole| part.moved(0.0, MOVED, whole)),
        ("ArrowDown", true) => chart.look(|part, whole| part.moved(0.0, -MOVED, whole)),
        ("+" | "=", _) => chart.enlarge(ENLARGED),
        ("-" | "_", _) => chart.enlarge(1.0 / ENLARGED),
        ("0", _) => chart.look(|_, whole| whole),
        ("Escape", _) if chart.mark.with_untracked(Option::is_some) => chart.mark.set(None),
        _ => return false,
    }
    true
}

/// Moves the crosshair, and the part shown after it.
fn go(chart: Chart, step: Step) {
    let from = chart.mark.get_untracked().map(|(mark, _)| mark);
    let Some(mark) = chart.once(|figure| next(figure, from, step)).flatten() else { return };
    chart.look(|part, whole| part.showing(mark.at, whole));
    chart.mark.set(Some((mark, true)));
}
