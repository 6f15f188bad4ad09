//! Where the focus goes when what had it changes or goes off the page.

use crate::dom::{El, document};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement};

/// Moves the focus to an element that can have it.
pub(crate) fn focus(element: &Element) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        let _ = element.focus();
    }
}

/// Moves it to what has this id once the page has followed what was just done.
pub(crate) fn soon(id: &'static str) {
    soon_at(id.to_owned());
}

/// The same for an id made up.
pub(crate) fn soon_at(id: String) {
    request_animation_frame(move || {
        if let Some(place) = document().get_element_by_id(&id) {
            focus(&place);
        }
    });
}

/// Whether anything on the page has the focus.
pub(crate) fn is_somewhere() -> bool {
    let body = document().body().map(Element::from);
    document().active_element().is_some_and(|element| Some(element) != body)
}

/// Whether what has the focus lies in the window.
pub(crate) fn is_in_window() -> bool {
    document().active_element().is_some_and(|element| out_by(&element).is_none())
}

/// Moves the focus to the first element that a selector finds, if it lies in the window once the page has gone where
/// a link leads: nothing that is to be read before, the cautions above all, is passed over.
pub(crate) fn soon_if_in_window(selector: String) {
    request_animation_frame(move || {
        let found = document().query_selector(&selector).ok().flatten();
        if let Some(element) = found.filter(|element| out_by(element).is_none()) {
            focus(&element);
        }
    });
}

/// Brings what has the focus back into the window, once the page has followed what was just done.
pub(crate) fn keep_in_window() {
    request_animation_frame(move || {
        let Some(element) = document().active_element() else { return };
        if let Some(above) = out_by(&element) {
            element.scroll_into_view_with_bool(above);
        }
    });
}

/// Whether it is above the window or below; `None` inside.
fn out_by(element: &Element) -> Option<bool> {
    let height = window().inner_height().ok().and_then(|height| height.as_f64()).unwrap_or(f64::INFINITY);
    let place = element.get_bounding_client_rect();
    // The path lies over the uppermost part.
    let path = document().get_elements_by_class_name("path").item(0);
    let top = path.map_or(0.0, |path| path.get_bounding_client_rect().bottom());
    if place.top() < top.max(0.0) {
        // What is taller than the window counts as in it while some of it is.
        (place.bottom() < height).then_some(true)
    } else {
        (place.bottom() > height).then_some(false)
    }
}

/// Changes what stands in a place. Where the focus was on a button there that goes, it moves to the one that stands
/// where that stood, or else to `otherwise`.
pub(crate) fn hold_in(place: &Element, otherwise: &'static str, change: impl FnOnce()) {
    let buttons = place.get_elements_by_tag_name("button");
    let had = document().active_element();
    let at = (0..buttons.length()).find(|&index| had.is_some() && buttons.item(index) == had);
    change();
    let Some(at) = at else { return };
    request_animation_frame(move || {
        if had.is_some_and(|button| button.is_connected()) {
            return;
        }
        let last = buttons.length().checked_sub(1);
        let next = last.and_then(|last| buttons.item(at.min(last)));
        if let Some(next) = next.or_else(|| document().query_selector(otherwise).ok().flatten()) {
            focus(&next);
        }
    });
}

impl El {
    /// A click that may take the control off the page: the focus then goes to the one of its `kind` (a class) that
    /// stands in its place, or to the heading above.
    pub(crate) fn on_click_gone(self, kind: &'static str, run: impl Fn() + 'static) -> Self {
        let button = self.node().clone();
        let _ = button.class_list().add_1(kind);
        self.on_click(move || {
            let around = button.closest(".card, .station, header").ok().flatten();
            let Some(around) = around else { return run() };
            let alike = around.get_elements_by_class_name(kind);
            let at = (0..alike.length()).find(|&index| alike.item(index).is_some_and(|one| one == button));
            run();
            let button = button.clone();
            request_animation_frame(move || {
                if button.is_connected() {
                    return;
                }
                let last = alike.length().checked_sub(1);
                if let Some(next) = last.and_then(|last| alike.item(at.unwrap_or(last).min(last))) {
                    focus(&next);
                } else if let Ok(Some(heading)) = around.query_selector("h3, h2, h1") {
                    let _ = heading.set_attribute("tabindex", "-1");
                    focus(&heading);
                }
            });
        })
    }
}
