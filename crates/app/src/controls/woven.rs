//! Sentences with elements in them, such as symbols: a language puts them where it needs them.

use crate::dom::{El, el};

/// Stand for the elements in a message: characters of no writing (Unicode’s private use area).
pub(crate) const FIRST: char = '\u{e000}';
pub(crate) const SECOND: char = '\u{e001}';
pub(crate) const THIRD: char = '\u{e002}';
pub(crate) const FOURTH: char = '\u{e003}';

/// The message in an element, with a copy of each part wherever its character stands.
pub(crate) fn woven(tag: &'static str, message: &str, parts: &[El]) -> El {
    let slots = [FIRST, SECOND, THIRD, FOURTH];
    message.split_inclusive(slots).fold(el(tag), |sentence, piece| {
        let slot = slots.into_iter().position(|slot| piece.ends_with(slot));
        let part = slot.and_then(|slot| parts.get(slot));
        sentence.with(piece.trim_end_matches(slots)).with(part.map(El::copy))
    })
}
