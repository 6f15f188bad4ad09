//! The languages, and the one that is spoken.

use crate::{DecimalMark, TEXTS, decimal_mark, use_decimal_mark};
use core::cell::Cell;

/// A language whose messages are complete.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Language {
    /// English, part of every program.
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// All languages.
    pub const ALL: [Self; 2] = [Self::English, Self::Spanish];

    /// Its code (BCP 47, RFC 5646).
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }

    /// What its speakers call it.
    #[must_use]
    pub const fn own_name(self) -> &'static str {
        match self {
            Self::English => "English",
            Self::Spanish => "Español",
        }
    }

    /// The language of this code, by its first part: `es-MX` is Spanish.
    #[must_use]
    pub fn of_code(code: &str) -> Option<Self> {
        let first = code.split(['-', '_']).next().unwrap_or_default();
        Self::ALL.into_iter().find(|language| first.eq_ignore_ascii_case(language.code()))
    }

    /// The decimal mark that is usual in it: where Spanish is spoken both are, the comma in most countries.
    #[must_use]
    pub const fn usual_mark(self) -> DecimalMark {
        match self {
            Self::English => DecimalMark::Point,
            Self::Spanish => DecimalMark::Comma,
        }
    }
}

thread_local! {
    static SPOKEN: Cell<Language> = const { Cell::new(Language::English) };
}

/// The language spoken in this thread.
#[must_use]
pub fn spoken() -> Language {
    SPOKEN.get()
}

/// The messages of a language, ready to be spoken.
#[derive(Clone, Copy, Debug)]
pub struct Translation {
    language: Language,
    texts: &'static [&'static str],
}

/// A table of messages was made for another version of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotOurs;

impl Translation {
    /// Reads a table made by the build. It stays in memory for as long as the program runs.
    ///
    /// # Errors
    /// When it was made for other messages than this program has.
    pub fn read(language: Language, table: String) -> Result<Self, NotOurs> {
        let mut lines = Box::leak(table.into_boxed_str()).lines();
        if lines.next() != Some(include_str!(concat!(env!("OUT_DIR"), "/fingerprint"))) {
            return Err(NotOurs);
        }
        Ok(Self { language, texts: Vec::leak(lines.collect()) })
    }
}

/// Speaks this language from now on, in this thread; `None` is English.
pub fn speak(translation: Option<Translation>) {
    SPOKEN.set(translation.map_or(Language::English, |translation| translation.language));
    TEXTS.set(translation.map(|translation| translation.texts));
}

/// Runs something that must not depend on the language spoken, such as the writing of a file for programs: in English
/// and with the decimal point.
pub fn in_english<T>(run: impl FnOnce() -> T) -> T {
    let (spoken, texts, mark) = (SPOKEN.get(), TEXTS.get(), decimal_mark());
    speak(None);
    use_decimal_mark(DecimalMark::Point);
    let done = run();
    SPOKEN.set(spoken);
    TEXTS.set(texts);
    use_decimal_mark(mark);
    done
}

/// The table of a language for [`Translation::read`]; `None` for English.
#[cfg(not(target_family = "wasm"))]
#[must_use]
pub fn table(language: Language) -> Option<&'static str> {
    match language {
        Language::English => None,
        Language::Spanish => Some(include_str!(concat!(env!("OUT_DIR"), "/es.txt"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{number, path};

    fn spanish() -> Translation {
        Translation::read(Language::Spanish, table(Language::Spanish).unwrap().to_owned()).unwrap()
    }

    #[test]
    fn what_is_spoken_follows_the_choice_and_files_do_not() {
        assert_eq!(path::runs(&2), "2 runs");
        speak(Some(spanish()));
        use_decimal_mark(Language::Spanish.usual_mark());
        assert_eq!([path::runs(&1), path::runs(&2), number(0.5, 1)], ["1 ensayo", "2 ensayos", "0,5"]);
        assert_eq!(in_english(|| (path::runs(&2), number(0.5, 1))), ("2 runs".to_owned(), "0.5".to_owned()));
        assert_eq!((spoken(), number(0.5, 1)), (Language::Spanish, "0,5".to_owned()));
        speak(None);
        assert_eq!(path::runs(&2), "2 runs");
    }

    #[test]
    fn a_table_of_another_version_is_refused() {
        let table = table(Language::Spanish).unwrap().replacen(|c: char| c.is_ascii_hexdigit(), "-", 1);
        assert_eq!(Translation::read(Language::Spanish, table).unwrap_err(), NotOurs);
    }

    #[test]
    fn codes_of_regions_are_known() {
        assert_eq!(Language::of_code("es-MX"), Some(Language::Spanish));
        assert_eq!(Language::of_code("EN_us"), Some(Language::English));
        assert_eq!(Language::of_code("fr"), None);
    }
}
