//! The language and the decimal mark of the page: chosen, kept in the browser's storage where there is one, told to
//! the browser (`lang`) and to the second thread.

use super::{shipped, stopped, worker};
use crate::dom::document;
use leptos::prelude::*;
use std::cell::RefCell;
use wasm_bindgen::JsValue;
use whorl_words::{DecimalMark, Language, Translation, speak, use_decimal_mark};

/// Under these names in the browser's storage.
const LANGUAGE_KEY: &str = "whorl-language";
const MARK_KEY: &str = "whorl-decimal-mark";

thread_local! {
    /// The table of the language spoken; empty for English.
    static TABLE: RefCell<String> = const { RefCell::new(String::new()) };
}

/// How the page speaks. What is shown depends on it by [`Speech::follow`].
#[derive(Clone, Copy)]
pub(crate) struct Speech {
    spoken: RwSignal<(Language, DecimalMark)>,
    /// Why another language could not be had; empty when it could.
    pub(crate) problem: RwSignal<String>,
}

impl Speech {
    /// English until [`Speech::begin`].
    pub(crate) fn new() -> Self {
        Self {
            spoken: RwSignal::new((Language::English, Language::English.usual_mark())),
            problem: RwSignal::new(String::new()),
        }
    }

    /// Speaks what was chosen last, or what the browser's user reads.
    pub(crate) async fn begin(self) {
        let kept = stopped::kept(LANGUAGE_KEY).or_else(|| window().navigator().language());
        let language = kept.and_then(|code| Language::of_code(&code)).unwrap_or(Language::English);
        let mark = match stopped::kept(MARK_KEY).as_deref() {
            Some(",") => DecimalMark::Comma,
            Some(".") => DecimalMark::Point,
            _ => language.usual_mark(),
        };
        self.change(language, mark).await;
    }

    /// The language now, and again whenever it changes.
    pub(crate) fn follow(self) -> (Language, DecimalMark) {
        self.spoken.get()
    }

    /// The language now.
    pub(crate) fn now(self) -> (Language, DecimalMark) {
        self.spoken.get_untracked()
    }

    /// Speaks another language from now on, with its usual mark.
    pub(crate) async fn choose_language(self, language: Language) {
        self.change(language, language.usual_mark()).await;
        self.keep();
    }

    /// Uses another mark from now on.
    pub(crate) fn choose_mark(self, mark: DecimalMark) {
        use_decimal_mark(mark);
        self.spoken.update(|spoken| spoken.1 = mark);
        self.keep();
    }

    async fn change(self, language: Language, mark: DecimalMark) {
        let translation = match language {
            Language::English => Ok(None),
            other @ Language::Spanish => fetched(other).await.map(Some),
        };
        match translation {
            Ok(translation) => {
                speak(translation);
                use_decimal_mark(mark);
                if let Some(root) = document().document_element() {
                    let _ = root.set_attribute("lang", language.code());
                }
                self.problem.set(String::new());
                self.spoken.set((language, mark));
            }
            Err(problem) => self.problem.set(problem),
        }
    }

    fn keep(self) {
        let (language, mark) = self.now();
        stopped::keep(LANGUAGE_KEY, language.code());
        stopped::keep(MARK_KEY, if mark == DecimalMark::Comma { "," } else { "." });
    }
}

async fn fetched(language: Language) -> Result<Translation, String> {
    let address = worker::of_this_page(&format!("words/{}.txt", language.code()));
    let table = shipped::fetch(&address, whorl_words::page::words_not_fetched).await?;
    let translation = Translation::read(language, table.clone())
        .map_err(|_| whorl_words::page::words_of_other_age().to_owned())?;
    TABLE.with(|kept| kept.replace(table));
    Ok(translation)
}

/// What the second thread must hear before anything else, to answer in the page's language.
pub(super) fn told() -> JsValue {
    let told = js_sys::Object::new();
    let table = TABLE.with(|table| table.borrow().clone());
    let mark = if whorl_words::decimal_mark() == DecimalMark::Comma { "," } else { "." };
    for (name, value) in [("language", whorl_words::spoken().code()), ("table", &*table), ("mark", mark)] {
        // A plain object takes any field.
        let _ = js_sys::Reflect::set(&told, &name.into(), &value.into());
    }
    told.into()
}
