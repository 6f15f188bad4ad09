//! The language of all that is told to the page: `{language, table, mark}` comes in, with the language's code, the table
//! of its messages (anything for English, which is part of the program) and its decimal mark. Nothing goes out.

use js_sys::Reflect;
use wasm_bindgen::prelude::*;
use whorl_words::{DecimalMark, Language, Translation, speak as speak_in, use_decimal_mark};

/// Whether a message tells the language.
pub(crate) fn is_told(message: &JsValue) -> bool {
    Reflect::has(message, &"language".into()).unwrap_or(false)
}

/// Speaks the language of a message from now on; English where its table is none of this program's.
pub(crate) fn speak(message: &JsValue) {
    let words =
        |name: &str| Reflect::get(message, &name.into()).unwrap_or_default().as_string().unwrap_or_default();
    let language = Language::of_code(&words("language")).filter(|&language| language != Language::English);
    speak_in(language.and_then(|language| Translation::read(language, words("table")).ok()));
    use_decimal_mark(if words("mark") == "," { DecimalMark::Comma } else { DecimalMark::Point });
}
