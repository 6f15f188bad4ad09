//! What was said of files of a shape, kept for as long as the page is open: it outlives the tray and the
//! lab, since the next class's files come from the same logger.

use std::cell::RefCell;
use whorl_core::readings::{Choice, Choices};

thread_local! {
    static LEARNED: RefCell<Vec<(String, Choices)>> = const { RefCell::new(Vec::new()) };
}

/// All that was said of a shape.
pub(super) fn of(shape: &str) -> Choices {
    LEARNED.with_borrow(|learned| {
        learned.iter().find(|entry| entry.0 == shape).map(|entry| entry.1.clone()).unwrap_or_default()
    })
}

/// Adds what was now said.
pub(super) fn add(shape: &str, said: &[Choice]) {
    let mut choices = of(shape);
    if said.iter().any(|choice| matches!(choice, Choice::Delimiter(_))) {
        // Cut elsewhere, the fields are other columns.
        let (encoding, decimal) = (choices.encoding, choices.decimal);
        choices = Choices::default();
        (choices.encoding, choices.decimal) = (encoding, decimal);
    }
    for &choice in said {
        choices.set(choice);
    }
    forget(shape);
    LEARNED.with_borrow_mut(|learned| learned.push((shape.to_owned(), choices)));
}

/// Forgets a shape.
pub(super) fn forget(shape: &str) {
    LEARNED.with_borrow_mut(|learned| learned.retain(|entry| entry.0 != shape));
}
