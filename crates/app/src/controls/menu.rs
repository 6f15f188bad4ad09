//! A menu whose options and choice follow signals.

use crate::dom::{El, el, set_value, watch};
use std::cell::RefCell;

/// What an option is known by, and its words.
pub(crate) type MenuOption = (String, String);

/// A menu; `chosen` gives what the option chosen is known by.
pub(crate) fn menu(
    options: impl Fn() -> Vec<MenuOption> + 'static,
    chosen: impl Fn() -> String + 'static,
    on_choice: impl Fn(String) + 'static,
) -> El {
    build(Box::new(options), Box::new(chosen), Box::new(on_choice))
}

fn build(
    options: Box<dyn Fn() -> Vec<MenuOption>>,
    chosen: Box<dyn Fn() -> String>,
    on_choice: Box<dyn Fn(String)>,
) -> El {
    let select = el("select").on_text("change", on_choice);
    let inside = select.clone();
    let standing = RefCell::new(Vec::new());
    watch(move || {
        let (options, chosen) = (options(), chosen());
        let Ok(mut standing) = standing.try_borrow_mut() else { return };
        // Built anew only when they differ: an open menu would close.
        if *standing != options {
            inside.node().set_text_content(None);
            for (value, words) in &options {
                let _ = inside.clone().with(el("option").attr("value", value).with(words.as_str()));
            }
            *standing = options;
        }
        set_value(inside.node(), &chosen);
    });
    select
}
