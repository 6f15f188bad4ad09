//! What is left out of a damaged file, with the place it stands at.

use whorl_document::position;
use whorl_words as words;

/// No more than this many are told one by one.
const MOST_TOLD: usize = 200;

/// What is left out, in the order in which it was found.
pub(super) struct Lost<'a> {
    text: &'a str,
    told: Vec<String>,
    more: usize,
    was_cut: bool,
}

impl<'a> Lost<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        Self { text, told: Vec::new(), more: 0, was_cut: false }
    }

    /// Something at a place, so many bytes into the text; an empty place is the file itself.
    pub(super) fn told(&mut self, at: usize, place: &str, problem: &str) {
        self.line(at, |line, column| {
            if place.is_empty() {
                words::documents::at_line(line, column, &problem)
            } else {
                words::lab_file::left_out(line, column, &place, &problem)
            }
        });
    }

    /// The text ends where more should stand.
    pub(super) fn cut(&mut self, at: usize, place: &str) {
        if !self.was_cut {
            self.line(at, |line, column| {
                let cut = words::lab_file::cut_off();
                let cut = if place.is_empty() { cut.to_owned() } else { words::documents::at(&place, &cut) };
                words::documents::at_line(line, column, &cut)
            });
        }
        self.was_cut = true;
    }

    /// Something without a place.
    pub(super) fn general(&mut self, problem: String) {
        self.told.push(problem);
    }

    fn line(&mut self, at: usize, line: impl Fn(&usize, &usize) -> String) {
        if self.told.len() >= MOST_TOLD {
            self.more += 1;
            return;
        }
        let (at_line, column) = position(self.text, at);
        self.told.push(line(&at_line, &column));
    }

    /// All of it.
    pub(super) fn into_lines(self) -> Vec<String> {
        let more = (self.more > 0).then(|| words::lab_file::and_more(&self.more));
        self.told.into_iter().chain(more).collect()
    }
}
