//! Sentences about the tray.

use super::contents::TrayFile;
use crate::controls::{About, Words};
use whorl_core::lab::Lab;
use whorl_words as words;

/// What is said when something goes for all files of a shape.
#[derive(Clone, Copy)]
pub(super) struct Also {
    none: Words,
    others: About,
}

impl Also {
    /// A choice was made.
    pub(super) const USED: Self =
        Self { none: words::tray::choice_used, others: words::tray::choice_also_used };
    /// Choices were taken back.
    pub(super) const FORGOTTEN: Self =
        Self { none: words::tray::choice_forgotten, others: words::tray::choice_also_forgotten };

    /// Said of so many other files.
    pub(super) fn said_of(self, count: usize) -> String {
        if count == 0 { (self.none)().to_owned() } else { (self.others)(&count) }
    }
}

/// Which file is being read.
pub(super) fn at_work(name: &str, place: usize, count: usize) -> String {
    if count == 1 { name.to_owned() } else { words::tray::at_work(&name, &place, &count) }
}

/// What came of files that were read for the first time.
pub(super) fn read(files: &[TrayFile], fresh: &[u32]) -> String {
    let (mut read, mut runs, mut bad, mut asking) = (0, 0, 0, 0);
    for file in files.iter().filter(|file| fresh.contains(&file.key)) {
        read += 1;
        runs += file.rows.len();
        bad += usize::from(!file.complaints.is_empty());
        asking += usize::from(file.asks());
    }
    let mut sentences = vec![words::tray::files_read(&read, &runs)];
    if asking > 0 {
        sentences.push(words::tray::question_open(&asking));
    }
    if bad > 0 {
        sentences.push(words::tray::files_unusable(&bad));
    }
    sentences.join(" ")
}

/// The reading was ended by hand.
pub(super) fn stopped(unread: usize) -> String {
    if unread == 0 { words::tray::stopped().to_owned() } else { words::tray::stopped_unread(&unread) }
}

/// Runs have entered the lab; `left` of them have not.
pub(super) fn added(count: usize, left: usize) -> String {
    if left == 0 { words::tray::added(&count) } else { words::tray::added_some(&count, &left) }
}

/// How many runs would be added now.
pub(super) fn ready(files: &[TrayFile], lab: &Lab) -> usize {
    let count = |file: &TrayFile| {
        file.left().filter(|row| file.takes(row) && file.waits_for(row, lab).is_none()).count()
    };
    files.iter().map(count).sum()
}

/// Why the others would stay; empty when none would.
pub(super) fn waiting(files: &[TrayFile], lab: &Lab) -> String {
    let mut reasons: Vec<(&'static str, usize)> = Vec::new();
    for file in files {
        for row in file.left() {
            let reason = match file.waits_for(row, lab) {
                Some(reason) => reason,
                None if !file.takes(row) => words::tray::not_chosen(),
                None => continue,
            };
            match reasons.iter_mut().find(|known| known.0 == reason) {
                Some(known) => known.1 += 1,
                None => reasons.push((reason, 1)),
            }
        }
    }
    let told: Vec<String> =
        reasons.iter().map(|(reason, count)| words::tray::runs_waiting(count, reason)).collect();
    if told.is_empty() { String::new() } else { words::tray::not_yet(&told.join(", ")) }
}
