//! Elements, built directly, with leptos' signals behind whatever changes.
//!
//! leptos' own typed views make one set of functions per element and closure type: this page came
//! to 287 kB after compression, 100 kB of it such copies, and took six minutes to build. Here one
//! type serves every element and every closure is boxed, which is all this page needs. Text goes in
//! as text nodes and attributes, never as HTML.

use crate::focus::focus;
use leptos::prelude::*;
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Document, Element, Event, HtmlInputElement};

/// An element under construction, or a handle to one on the page.
#[derive(Clone)]
pub(crate) struct El(Element);

/// Something that can stand inside an element.
pub(crate) trait Content {
    /// Appends it.
    fn put_into(self, parent: &Element);
}

// Building an element takes hundreds of calls: kept as calls, each costs a few bytes of the page.
impl Content for El {
    #[inline(never)]
    fn put_into(self, parent: &Element) {
        let _ = parent.append_child(&self.0);
    }
}

impl Content for &str {
    #[inline(never)]
    fn put_into(self, parent: &Element) {
        let _ = parent.append_child(&DOCUMENT.with(|document| document.create_text_node(self)));
    }
}

impl Content for String {
    fn put_into(self, parent: &Element) {
        self.as_str().put_into(parent);
    }
}

impl<C: Content> Content for Option<C> {
    fn put_into(self, parent: &Element) {
        if let Some(content) = self {
            content.put_into(parent);
        }
    }
}

impl<C: Content> Content for Vec<C> {
    fn put_into(self, parent: &Element) {
        for content in self {
            content.put_into(parent);
        }
    }
}

/// Marks a button that is of no use now.
const UNAVAILABLE: &str = "aria-disabled";

thread_local! {
    /// Every element is made by it: asked of the browser once.
    #[expect(clippy::expect_used, reason = "this program only ever runs inside a page")]
    static DOCUMENT: Document =
        web_sys::window().and_then(|window| window.document()).expect("a page has a document");
}

/// The page's document.
pub(crate) fn document() -> Document {
    DOCUMENT.with(Document::clone)
}

/// A new HTML element. `tag` may carry classes behind dots: `p.hint`.
#[expect(clippy::expect_used, reason = "every tag is a literal of this crate and a valid name")]
#[inline(never)]
pub(crate) fn el(tag: &'static str) -> El {
    let mut parts = tag.split('.');
    let name = parts.next().unwrap_or("div");
    let element = DOCUMENT.with(|document| document.create_element(name)).expect("a valid tag");
    let classes = parts.collect::<Vec<_>>().join(" ");
    if !classes.is_empty() {
        element.set_class_name(&classes);
    }
    El(element)
}

/// A new SVG element.
#[inline(never)]
pub(crate) fn svg(tag: &'static str) -> El {
    of_namespace("http://www.w3.org/2000/svg", tag)
}

/// A new MathML element.
#[inline(never)]
pub(crate) fn math(tag: &'static str) -> El {
    of_namespace("http://www.w3.org/1998/Math/MathML", tag)
}

#[expect(clippy::expect_used, reason = "every tag is a literal of this crate and a valid name")]
fn of_namespace(namespace: &str, tag: &str) -> El {
    El(document().create_element_ns(Some(namespace), tag).expect("a valid tag"))
}

/// An italic symbol, as in formulas.
#[inline(never)]
pub(crate) fn italic(symbol: &str) -> El {
    el("i").with(symbol)
}

/// Runs `run` now and again whenever a signal it read changes, for as long as the surrounding part of
/// the page stands.
pub(crate) fn watch(run: impl Fn() + 'static) {
    watch_boxed(Box::new(run));
}

#[inline(never)]
fn watch_boxed(run: Box<dyn Fn()>) {
    // Kept by its owner: dropping the effect would end it.
    let _ = StoredValue::new_local(RenderEffect::new(move |_| run()));
}

impl El {
    /// The browser's element.
    pub(crate) fn node(&self) -> &Element {
        &self.0
    }

    /// The browser's element as one of its kinds.
    pub(crate) fn node_as<T: JsCast>(&self) -> Option<&T> {
        self.0.dyn_ref()
    }

    /// Another element like this one, which must not listen to anything.
    pub(crate) fn copy(&self) -> Self {
        Self(self.0.clone_node_with_deep(true).map_or_else(|_| self.0.clone(), JsCast::unchecked_into))
    }

    /// Appends content.
    pub(crate) fn with(self, content: impl Content) -> Self {
        content.put_into(&self.0);
        self
    }

    /// Sets an attribute.
    #[inline(never)]
    pub(crate) fn attr(self, name: &str, value: &str) -> Self {
        let _ = self.0.set_attribute(name, value);
        self
    }

    /// Sets or removes an attribute as signals change.
    pub(crate) fn live_attr(self, name: &'static str, value: impl Fn() -> Option<String> + 'static) -> Self {
        self.live_attr_boxed(name, Box::new(value))
    }

    #[inline(never)]
    fn live_attr_boxed(self, name: &'static str, value: Box<dyn Fn() -> Option<String>>) -> Self {
        let element = self.0.clone();
        watch_boxed(Box::new(move || {
            let _ = match value() {
                Some(value) => element.set_attribute(name, &value),
                None => element.remove_attribute(name),
            };
        }));
        self
    }

    /// Sets or removes an attribute without value, such as `hidden`.
    pub(crate) fn live_flag(self, name: &'static str, set: impl Fn() -> bool + 'static) -> Self {
        self.live_attr_boxed(name, Box::new(move || set().then(String::new)))
    }

    /// Adds or removes a class as signals change.
    pub(crate) fn live_class(self, class: &'static str, set: impl Fn() -> bool + 'static) -> Self {
        let element = self.0.clone();
        watch_boxed(Box::new(move || {
            let list = element.class_list();
            let _ = if set() { list.add_1(class) } else { list.remove_1(class) };
        }));
        self
    }

    /// Text that follows signals.
    pub(crate) fn live_text(self, text: impl Fn() -> String + 'static) -> Self {
        self.live_text_boxed(Box::new(text))
    }

    #[inline(never)]
    fn live_text_boxed(self, text: Box<dyn Fn() -> String>) -> Self {
        let node = document().create_text_node("");
        let _ = self.0.append_child(&node);
        let shown = RefCell::new(String::new());
        watch_boxed(Box::new(move || {
            let text = text();
            let Ok(mut shown) = shown.try_borrow_mut() else { return };
            // Said anew by a screen reader, and laid out anew, only when it is another.
            if *shown != text {
                node.set_data(&text);
                *shown = text;
            }
        }));
        self
    }

    /// A button that is of no use while `not_now` holds: it stays a stop of Tab, and keeps the focus.
    pub(crate) fn live_unavailable(self, not_now: impl Fn() -> bool + 'static) -> Self {
        self.live_attr(UNAVAILABLE, move || not_now().then(|| "true".to_owned()))
    }

    /// Fills the element with what `content` builds, and anew whenever a signal it read changes.
    pub(crate) fn live(self, content: impl Fn() -> Vec<El> + 'static) -> Self {
        self.live_boxed(Box::new(content))
    }

    #[inline(never)]
    fn live_boxed(self, content: Box<dyn Fn() -> Vec<El>>) -> Self {
        let element = self.0.clone();
        watch_boxed(Box::new(move || {
            element.set_text_content(None);
            content().put_into(&element);
        }));
        self
    }

    /// One child per key, in the order of the keys, behind what the element holds already; a child stays
    /// as it is while its key is there.
    pub(crate) fn each(
        self,
        keys: impl Fn() -> Vec<u32> + 'static,
        make: impl Fn(u32) -> El + 'static,
    ) -> Self {
        self.each_boxed(Box::new(keys), Box::new(make))
    }

    #[inline(never)]
    fn each_boxed(self, keys: Box<dyn Fn() -> Vec<u32>>, make: Box<dyn Fn(u32) -> El>) -> Self {
        let element = self.0.clone();
        let before_all = element.last_child();
        let standing = RefCell::new(Vec::<(u32, El, Owner)>::new());
        // Children outlive the run of the effect that made them, so each has an owner of its own.
        let parent = Owner::current().unwrap_or_default();
        watch_boxed(Box::new(move || {
            let keys = keys();
            let Ok(mut standing) = standing.try_borrow_mut() else { return };
            let mut before = std::mem::take(&mut *standing);
            for key in keys {
                let kept = before.iter().position(|child| child.0 == key).map(|index| before.remove(index));
                let child = kept.unwrap_or_else(|| {
                    let owner = parent.child();
                    let child = untrack(|| owner.with(|| make(key)));
                    (key, child, owner)
                });
                standing.push(child);
            }
            for (_, child, owner) in before {
                child.0.remove();
                owner.cleanup();
            }
            // Moved only where the order differs: moving an element takes the focus from it.
            let mut place = match &before_all {
                Some(held) => held.next_sibling(),
                None => element.first_child(),
            };
            for (_, child, _) in standing.iter() {
                if place.as_ref().is_some_and(|place| place.is_same_node(Some(&child.0))) {
                    place = place.and_then(|place| place.next_sibling());
                } else {
                    let _ = element.insert_before(&child.0, place.as_ref());
                }
            }
        }));
        self
    }

    /// Listens to an event.
    pub(crate) fn on(self, event: &'static str, run: impl FnMut(Event) + 'static) -> Self {
        self.on_boxed(event, Box::new(run))
    }

    #[inline(never)]
    fn on_boxed(self, event: &'static str, run: Box<dyn FnMut(Event)>) -> Self {
        // Handed to the browser, which frees it together with the element.
        let listener = Closure::wrap(run).into_js_value();
        let _ = self.0.add_event_listener_with_callback(event, listener.unchecked_ref());
        self
    }

    /// A click, or the keys that stand for it.
    pub(crate) fn on_click(self, run: impl Fn() + 'static) -> Self {
        let element = self.0.clone();
        self.on_boxed(
            "click",
            Box::new(move |_| {
                if !element.has_attribute(UNAVAILABLE) {
                    run();
                }
            }),
        )
    }

    /// The text of this input or select whenever the event comes.
    pub(crate) fn on_text(self, event: &'static str, run: impl Fn(String) + 'static) -> Self {
        self.on_boxed(event, Box::new(move |event| run(value_of(&event))))
    }

    /// The value of an input, a select or a text area as signals change; what is being typed stays
    /// when it is the same text.
    pub(crate) fn live_value(self, value: impl Fn() -> String + 'static) -> Self {
        self.live_value_boxed(Box::new(value))
    }

    /// Whether this checkbox is checked, as signals change.
    pub(crate) fn live_checked(self, checked: impl Fn() -> bool + 'static) -> Self {
        let input: HtmlInputElement = self.0.clone().unchecked_into();
        watch_boxed(Box::new(move || input.set_checked(checked())));
        self
    }

    #[inline(never)]
    fn live_value_boxed(self, value: Box<dyn Fn() -> String>) -> Self {
        let element = self.0.clone();
        // An empty one is so already; asking it would make the browser build its insides, one by one.
        let untouched = Cell::new(true);
        watch_boxed(Box::new(move || {
            let value = value();
            if !untouched.replace(false) || !value.is_empty() {
                set_value(&element, &value);
            }
        }));
        self
    }
}

/// Inputs, selects and text areas all have a value; one property access serves the three.
pub(crate) fn set_value(element: &Element, value: &str) {
    let input: &HtmlInputElement = element.unchecked_ref();
    if input.value() != value {
        input.set_value(value);
    }
}

/// Opens the `<details>` inside the element of this id, brings it into view and gives it the focus.
pub(crate) fn open_details(id: &str) {
    let Some(place) = document().get_element_by_id(id) else { return };
    if let Ok(Some(details)) = place.query_selector("details") {
        let _ = details.set_attribute("open", "");
    }
    place.scroll_into_view();
    if let Ok(Some(summary)) = place.query_selector("summary") {
        focus(&summary);
    }
}

/// The value of the control an event came from.
#[inline(never)]
pub(crate) fn value_of(event: &Event) -> String {
    event.target().map(|target| target.unchecked_into::<HtmlInputElement>().value()).unwrap_or_default()
}
