//! Dragging a stretch of the x axis over a chart.

use super::figure_view::SharedMap;
use crate::dom::El;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlCanvasElement, PointerEvent};

/// A stretch that can be dragged: where it is, and who hears of it.
pub(crate) struct Dragged {
    /// The stretch now.
    pub(crate) now: Box<dyn Fn() -> Option<(f64, f64)>>,
    /// Hears of every move: from, to.
    pub(crate) on_change: Box<dyn Fn(f64, f64)>,
}

/// CSS pixels around an end of the stretch within which the pointer takes hold of that end.
const GRIP: f64 = 16.0;

/// Makes the canvas listen.
///
/// A drag goes from its anchor to the pointer. The anchor is where the pointer went down or, when
/// it took hold of one end, the other end.
pub(super) fn listen(canvas: El, map: SharedMap, dragged: Dragged) -> El {
    let anchor: Rc<Cell<Option<f64>>> = Rc::default();
    let (started, moved, stopped, cancelled) =
        (Rc::clone(&anchor), Rc::clone(&anchor), Rc::clone(&anchor), anchor);
    let map_too = Rc::clone(&map);
    let dragged = Rc::new(dragged);
    let dragged_too = Rc::clone(&dragged);
    canvas
        .attr("class", "draggable")
        .on("pointerdown", move |event| {
            let Some((x, grip)) = under(&event, &map) else { return };
            let other_end = (dragged.now)().and_then(|(from, to)| {
                let (to_from, to_to) = ((x - from).abs(), (x - to).abs());
                let (nearest, other) = if to_from < to_to { (to_from, to) } else { (to_to, from) };
                (nearest <= grip).then_some(other)
            });
            if let (Some(canvas), Some(event)) = (target(&event), event.dyn_ref::<PointerEvent>()) {
                let _ = canvas.set_pointer_capture(event.pointer_id());
            }
            started.set(Some(other_end.unwrap_or(x)));
        })
        .on("pointermove", move |event| {
            if let (Some(anchor), Some((x, _))) = (moved.get(), under(&event, &map_too))
                && (x - anchor).abs() > 0.0
            {
                (dragged_too.on_change)(anchor.min(x), anchor.max(x));
            }
        })
        .on("pointerup", move |_| stopped.set(None))
        .on("pointercancel", move |_| cancelled.set(None))
}

fn target(event: &Event) -> Option<HtmlCanvasElement> {
    event.target()?.dyn_into().ok()
}

/// The x value under the pointer, and how much of x a grip covers.
fn under(event: &Event, map: &SharedMap) -> Option<(f64, f64)> {
    let canvas = target(event)?;
    let ratio = f64::from(canvas.width()) / f64::from(canvas.client_width().max(1));
    let map = (*map.try_borrow().ok()?)?;
    let across = f64::from(event.dyn_ref::<PointerEvent>()?.offset_x()) * ratio;
    let range = map.x_range();
    let x = map.x_at(across).clamp(range.low(), range.high());
    Some((x, (map.x_at(across + GRIP * ratio) - map.x_at(across)).abs()))
}
