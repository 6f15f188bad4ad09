//! Sentences about the tray.

use super::contents::TrayFile;
use whorl_core::lab::Lab;

pub(super) const CLEARED: &str = "The tray is empty.";

/// Said of no other file, of one, of several (`#` is their number).
pub(super) const ALSO_USED: [&str; 3] = [
    "Read again with your choice; later files of this shape will be, too.",
    "Also used for 1 other file of this shape.",
    "Also used for # other files of this shape.",
];

/// The same, when a choice is taken back.
pub(super) const ALSO_FORGOTTEN: [&str; 3] = [
    "Your choices for this shape are forgotten; the file is read afresh.",
    "Your choices are forgotten, also for 1 other file of this shape.",
    "Your choices are forgotten, also for # other files of this shape.",
];

/// How many other files something was said of.
pub(super) fn others(count: usize, [none, one, several]: [&'static str; 3]) -> String {
    match count {
        0 => none.to_owned(),
        1 => one.to_owned(),
        count => several.replace('#', &count.to_string()),
    }
}

/// `1 run`, `5 runs`.
pub(super) fn counted(count: usize, noun: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{plural}")
}

/// Which file is being read.
pub(super) fn at_work(name: &str, place: usize, count: usize) -> String {
    if count == 1 { name.to_owned() } else { format!("{name} ({place} of {count})") }
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
    let mut words = format!("{} read: {} found.", counted(read, "file"), counted(runs, "run"));
    if asking > 0 {
        words = format!("{words} A question is open about {}.", counted(asking, "file"));
    }
    if bad > 0 {
        words = format!("{words} {} cannot be used; the table says why.", counted(bad, "file"));
    }
    words
}

/// The reading was ended by hand.
pub(super) fn stopped(unread: usize) -> String {
    match unread {
        0 => "Reading stopped.".to_owned(),
        1 => "Reading stopped. 1 file was not read.".to_owned(),
        count => format!("Reading stopped. {count} files were not read."),
    }
}

/// Runs have entered the lab; `left` of them have not.
pub(super) fn added(count: usize, left: usize) -> String {
    let verb = if left == 1 { "stays" } else { "stay" };
    match left {
        0 => format!("{} added.", counted(count, "run")),
        left => format!("{} added. {} {verb} on the tray.", counted(count, "run"), counted(left, "run")),
    }
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
                None if !file.takes(row) => "not chosen",
                None => continue,
            };
            match reasons.iter_mut().find(|known| known.0 == reason) {
                Some(known) => known.1 += 1,
                None => reasons.push((reason, 1)),
            }
        }
    }
    let told: Vec<String> =
        reasons.iter().map(|(reason, count)| format!("{} ({reason})", counted(*count, "run"))).collect();
    if told.is_empty() { String::new() } else { format!("Not yet: {}.", told.join(", ")) }
}
