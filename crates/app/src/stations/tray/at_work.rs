//! Reading the files that wait, in a second thread.

use super::sentences;
use super::state::{Behind, TrayState};
use crate::browser::reading::{self, Job, Listener};
use leptos::prelude::*;
use std::time::Duration;
use whorl_core::intake::Intake;
use whorl_core::lab::Lab;

impl TrayState {
    /// A file may come soon: the second thread is started.
    pub(super) fn expect(self) {
        self.lab.read_once(|lab| {
            self.behind.update_value(|behind| {
                if behind.reading.is_none() {
                    behind.reading = reading::start(lab, Vec::new(), self.listener());
                }
            });
        });
    }

    /// Sends the files that wait to the second thread.
    pub(super) fn read_on(self) {
        self.lab.read_once(|lab| {
            self.behind.update_value(|behind| {
                let jobs = jobs(behind, lab);
                if jobs.is_empty() {
                    return;
                }
                behind.sent += jobs.len();
                match &behind.reading {
                    Some(reading) => reading.add(lab, jobs),
                    None => behind.reading = reading::start(lab, jobs, self.listener()),
                }
            });
        });
        let first = self.behind.with_value(|behind| behind.pending.first().copied());
        if let Some(first) = first
            && self.share.with_untracked(Option::is_none)
        {
            self.progress(first, 0.0);
        }
    }

    fn listener(self) -> Listener {
        Listener {
            progress: Box::new(move |key, share| self.progress(key, share)),
            done: Box::new(move |key, intake| self.hear(key, intake)),
            fingerprint: Box::new(move |key, sha256| self.sign(key, sha256)),
            // The thread that calls may not be ended from within its own call.
            failed: Box::new(move |why| {
                let end = move || {
                    self.stop();
                    self.status.set(why.clone());
                };
                set_timeout(end, Duration::ZERO);
            }),
        }
    }

    fn progress(self, key: u32, share: f64) {
        let seen = self.behind.try_update_value(|behind| {
            let (left, all) = (behind.pending.len().max(1), behind.sent.max(1));
            let place = all.saturating_sub(left) + 1;
            let part = ((place - 1) as f64 + share.clamp(0.0, 1.0)) / all as f64;
            let name = behind.handle(key).map(|handle| handle.name.clone()).unwrap_or_default();
            (part, sentences::at_work(&name, place, all))
        });
        if let Some((part, words)) = seen {
            self.share.set(Some(part));
            self.at_work.set(words);
        }
    }

    /// A file is read.
    fn hear(self, key: u32, intake: Intake) {
        self.put(key, intake);
        self.behind.update_value(|behind| behind.pending.retain(|&other| other != key));
        self.read_on();
        if self.behind.with_value(|behind| behind.pending.is_empty()) {
            self.finish();
        }
    }

    /// All that was asked for is read.
    fn finish(self) {
        self.share.set(None);
        let fresh = self.behind.try_update_value(|behind| {
            behind.sent = 0;
            std::mem::take(&mut behind.fresh)
        });
        let fresh = fresh.unwrap_or_default();
        if !fresh.is_empty() {
            let words = untrack(|| self.read(|files| sentences::read(files, &fresh)));
            self.status.set(words);
        }
    }

    /// Ends the reading; what was read stays.
    pub(super) fn stop(self) {
        let fresh = self.behind.try_update_value(|behind| {
            behind.reading = None;
            behind.sent = 0;
            behind.pending.clear();
            behind.waiting.clear();
            std::mem::take(&mut behind.fresh)
        });
        self.share.set(None);
        let here = |key: &u32| untrack(|| self.file(*key, |_| ())).is_some();
        let unread = fresh.unwrap_or_default().iter().filter(|key| !here(key)).count();
        self.drop_handles();
        self.status.set(sentences::stopped(unread));
    }
}

/// A job for each file that waits and is not on its way already.
fn jobs(behind: &mut Behind, lab: &Lab) -> Vec<Job> {
    let mut jobs = Vec::new();
    for key in std::mem::take(&mut behind.waiting) {
        // Its answer will show that it is outdated, and it waits again.
        if behind.pending.contains(&key) {
            continue;
        }
        let Some(handle) = behind.handle(key) else { continue };
        handle.told = handle.learned();
        handle.setup = lab.apparatus.setup();
        jobs.push(Job {
            id: key,
            name: handle.name.clone(),
            file: handle.file.clone(),
            choices: handle.told.clone(),
        });
        behind.pending.push(key);
    }
    jobs
}
