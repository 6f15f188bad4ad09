//! How often the page is told how far the work is.

/// Milliseconds between two words of progress.
const PAUSE: f64 = 100.0;

/// When the page was told last.
pub(crate) struct Pace(f64);

impl Pace {
    /// Nothing is to be told yet.
    pub(crate) fn new() -> Self {
        Self(js_sys::Date::now())
    }

    /// Whether it is time again.
    pub(crate) fn is_time(&mut self) -> bool {
        let now = js_sys::Date::now();
        let long_enough = now - self.0 >= PAUSE;
        if long_enough {
            self.0 = now;
        }
        long_enough
    }
}
