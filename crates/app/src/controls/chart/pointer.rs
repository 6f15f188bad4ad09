//! A chart by mouse, pen and touch.
//!
//! Passing over it reads the nearest mark. Dragging moves the part shown once it is enlarged; on a chart with a
//! stretch it takes hold of its nearer end, or draws a new one where all is shown. Two fingers, or the wheel with
//! Ctrl, enlarge.

use super::{Chart, Dragged};
use crate::dom::El;
use leptos::prelude::*;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlCanvasElement, PointerEvent, WheelEvent};
use whorl_charts::PixelMap;
use whorl_charts::probe::nearest;

/// CSS pixels around an end of the stretch within which the pointer takes hold of that end.
const GRIP: f64 = 16.0;
/// CSS pixels within which a mark is read.
const NEAR: f64 = 40.0;
/// Wheel travel, in CSS pixels, that doubles.
const DOUBLING: f64 = 240.0;

/// What a pointer that is down does.
#[derive(Clone, Copy)]
enum Drag {
    /// Draws the stretch from here, in values of x.
    Stretch(f64),
    /// Moves the part shown; where it was last, in device pixels.
    Part(f64, f64),
}

/// Pointers that are down, by their ids, in device pixels of the canvas.
type Down = Rc<RefCell<Vec<(i32, (f64, f64))>>>;

/// Makes the canvas listen.
pub(super) fn listen(frame: El, canvas: El, chart: Chart, dragged: Option<Dragged>) -> El {
    let drag: Rc<Cell<Option<Drag>>> = Rc::default();
    let down: Down = Rc::default();
    let dragged = Rc::new(dragged);
    let canvas = canvas
        .live_attr("class", {
            let has_stretch = dragged.is_some();
            move || {
                let moves = chart.window.with(Option::is_some);
                Some(
                    if moves {
                        "movable"
                    } else if has_stretch {
                        "draggable"
                    } else {
                        ""
                    }
                    .to_owned(),
                )
            }
        })
        .on("pointerdown", {
            let (drag, down, dragged) = (Rc::clone(&drag), Rc::clone(&down), Rc::clone(&dragged));
            move |event| start(&event, chart, (*dragged).as_ref(), &drag, &down)
        })
        .on("pointermove", {
            let (drag, down) = (Rc::clone(&drag), Rc::clone(&down));
            move |event| moved(&event, chart, (*dragged).as_ref(), &drag, &down)
        })
        .on("pointerleave", move |_| {
            // Also when it is taken off the page, and its signals with it.
            if chart.mark.try_with_untracked(|mark| mark.is_some_and(|(_, by_keys)| !by_keys)) == Some(true) {
                chart.mark.set(None);
            }
        })
        .on("wheel", move |event| wheel(&event, chart));
    let canvas = ["pointerup", "pointercancel"].into_iter().fold(canvas, |canvas, gone| {
        let (drag, down) = (Rc::clone(&drag), Rc::clone(&down));
        canvas.on(gone, move |event| {
            drag.set(None);
            if let (Some(event), Ok(mut down)) = (event.dyn_ref::<PointerEvent>(), down.try_borrow_mut()) {
                down.retain(|(id, _)| *id != event.pointer_id());
            }
        })
    });
    drop(canvas);
    frame
}

fn start(event: &Event, chart: Chart, dragged: Option<&Dragged>, drag: &Cell<Option<Drag>>, down: &Down) {
    let Some((map, (px, py))) = under(event, chart) else { return };
    if let (Some(canvas), Some(event), Ok(mut down)) =
        (target(event), event.dyn_ref::<PointerEvent>(), down.try_borrow_mut())
    {
        let _ = canvas.set_pointer_capture(event.pointer_id());
        down.retain(|(id, _)| *id != event.pointer_id());
        down.push((event.pointer_id(), (px, py)));
        if down.len() > 1 {
            drag.set(None);
            return;
        }
    }
    let x = clamped(&map, px);
    let grip = (map.x_at(px + GRIP * chart.ratio.get_untracked()) - map.x_at(px)).abs();
    let other_end = dragged.and_then(|dragged| (dragged.now)()).and_then(|(from, to)| {
        let (to_from, to_to) = ((x - from).abs(), (x - to).abs());
        let (nearest, other) = if to_from < to_to { (to_from, to) } else { (to_to, from) };
        (nearest <= grip).then_some(other)
    });
    let is_enlarged = chart.window.with_untracked(Option::is_some);
    drag.set(match (dragged, other_end) {
        (Some(_), Some(anchor)) => Some(Drag::Stretch(anchor)),
        _ if is_enlarged => Some(Drag::Part(px, py)),
        (Some(_), None) => Some(Drag::Stretch(x)),
        (None, _) => None,
    });
}

fn moved(event: &Event, chart: Chart, dragged: Option<&Dragged>, drag: &Cell<Option<Drag>>, down: &Down) {
    let Some((map, (px, py))) = under(event, chart) else { return };
    if pinched(event, chart, &map, (px, py), down) {
        return;
    }
    let plot = map.plot_area();
    match drag.get() {
        Some(Drag::Stretch(anchor)) => {
            let x = clamped(&map, px);
            if let Some(dragged) = dragged.filter(|_| (x - anchor).abs() > 0.0) {
                (dragged.on_change)(anchor.min(x), anchor.max(x));
            }
        }
        Some(Drag::Part(last_x, last_y)) => {
            drag.set(Some(Drag::Part(px, py)));
            let (right, up) = ((last_x - px) / plot.width(), (py - last_y) / plot.height());
            chart.look(|part, whole| part.moved(right, up, whole));
        }
        None => read(chart, &map, (px, py)),
    }
}

/// Reads the mark nearest to the pointer, if one is near.
fn read(chart: Chart, map: &PixelMap, (px, py): (f64, f64)) {
    let near = NEAR * chart.ratio.get_untracked();
    let found = chart.once(|figure| nearest(figure, map, px, py)).flatten();
    let found = found.filter(|mark| (map.px_of_x(mark.at.0) - px).hypot(map.py_of_y(mark.at.1) - py) <= near);
    let now = chart.mark.with_untracked(|mark| mark.map(|(mark, _)| mark));
    if found != now {
        chart.mark.set(found.map(|mark| (mark, false)));
    }
}

/// Two fingers: enlarged by how much farther they are apart, moved by how far their middle goes.
fn pinched(event: &Event, chart: Chart, map: &PixelMap, at: (f64, f64), down: &Down) -> bool {
    let (Some(event), Ok(mut down)) = (event.dyn_ref::<PointerEvent>(), down.try_borrow_mut()) else {
        return false;
    };
    let Some(here) = down.iter().position(|(id, _)| *id == event.pointer_id()) else { return false };
    let other = down.iter().enumerate().find(|(index, _)| *index != here).map(|(_, (_, place))| *place);
    let Some(finger) = down.get_mut(here) else { return false };
    let before = std::mem::replace(&mut finger.1, at);
    let Some(other) = other else { return false };
    let apart = |one: (f64, f64)| (one.0 - other.0).hypot(one.1 - other.1).max(1.0);
    let middle = |one: (f64, f64)| (f64::midpoint(one.0, other.0), f64::midpoint(one.1, other.1));
    let (from, to) = (middle(before), middle(at));
    let plot = map.plot_area();
    chart.look(|part, whole| {
        part.enlarged(apart(at) / apart(before), (map.x_at(from.0), map.y_at(from.1)), whole).moved(
            (from.0 - to.0) / plot.width(),
            (to.1 - from.1) / plot.height(),
            whole,
        )
    });
    true
}

/// The wheel alone scrolls the page, as everywhere.
fn wheel(event: &Event, chart: Chart) {
    let Some(wheel) = event.dyn_ref::<WheelEvent>().filter(|wheel| wheel.ctrl_key()) else { return };
    event.prevent_default();
    if let Some((map, (px, py))) = under(event, chart) {
        let times = (-wheel.delta_y() / DOUBLING).exp2();
        chart.look(|part, whole| part.enlarged(times, (map.x_at(px), map.y_at(py)), whole));
    }
}

fn target(event: &Event) -> Option<HtmlCanvasElement> {
    event.target()?.dyn_into().ok()
}

/// The drawing under the pointer and where the pointer is, in device pixels.
fn under(event: &Event, chart: Chart) -> Option<(PixelMap, (f64, f64))> {
    let map = chart.map.get_untracked()?;
    let mouse = event.dyn_ref::<web_sys::MouseEvent>()?;
    let ratio = chart.ratio.get_untracked();
    Some((map, (f64::from(mouse.offset_x()) * ratio, f64::from(mouse.offset_y()) * ratio)))
}

fn clamped(map: &PixelMap, px: f64) -> f64 {
    let range = map.x_range();
    map.x_at(px).clamp(range.low(), range.high())
}
