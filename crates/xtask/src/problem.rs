//! What went wrong, in words for the person at the terminal.

use std::fmt;

/// One problem, as a whole message: what happened and, where we know it, what to do.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Problem(String);

/// The result of a step.
pub(crate) type Outcome<T = ()> = Result<T, Problem>;

impl Problem {
    pub(crate) fn new(words: impl Into<String>) -> Self {
        Self(words.into())
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Turns a bare error of the operating system into a [`Problem`] that says what was being done.
pub(crate) trait OrSay<T> {
    /// `reading.or_say("cannot read index.html")`
    fn or_say(self, doing: impl fmt::Display) -> Outcome<T>;
}

impl<T, E: fmt::Display> OrSay<T> for Result<T, E> {
    fn or_say(self, doing: impl fmt::Display) -> Outcome<T> {
        self.map_err(|error| Problem(format!("{doing}: {error}")))
    }
}
