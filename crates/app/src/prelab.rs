//! The pre-lab that is open: its derivation, how far the student has come, every way that may change.

use crate::browser::{later, shipped};
use crate::controls::Words;
use crate::parts::{self, Part};
use leptos::prelude::*;
use std::sync::Arc;
use whorl_core::prelab::{DerivationSource, Prelab, StepRecord};
use whorl_derivation::derivation::{Derivation, Step, Task};
use whorl_derivation::expression::Answer;
use whorl_derivation::reading::read;
use whorl_words::{self as words, Language};

/// Derivations that come with Whorl: id and title, in `web/derivations`.
pub(crate) const SHIPPED: [(&str, Words); 2] =
    [("turntable", words::prelab::turntable), ("two-masses", words::prelab::two_masses)];

/// Longer pauses are not time spent on a step, in seconds.
const LONGEST_PAUSE: f64 = 60.0;

/// Handle to the pre-lab.
#[derive(Clone, Copy)]
pub(crate) struct PrelabState {
    record: RwSignal<Prelab>,
    derivation: RwSignal<Option<Arc<Derivation>>>,
    /// What keeps the derivation from being there; empty when nothing does.
    pub(crate) problem: RwSignal<String>,
    unsaved: RwSignal<bool>,
    beside: StoredValue<Beside>,
}

/// What is remembered beside the record.
#[derive(Clone, Copy)]
struct Beside {
    /// Whether nothing in it may be changed: the lab is from a newer program's file.
    locked: bool,
    /// When something was last done in the pre-lab, in seconds.
    last_activity: f64,
}

impl PrelabState {
    /// `unsaved` is told of every change.
    pub(crate) fn new(unsaved: RwSignal<bool>) -> Self {
        Self {
            record: RwSignal::new(Prelab::default()),
            derivation: RwSignal::new(None),
            problem: RwSignal::new(String::new()),
            unsaved,
            beside: StoredValue::new(Beside { locked: false, last_activity: f64::NEG_INFINITY }),
        }
    }

    /// Reads the record, and again whenever it changes.
    pub(crate) fn read<T>(self, reader: impl FnOnce(&Prelab) -> T) -> T {
        self.record.with(reader)
    }

    /// Reads the record once.
    pub(crate) fn read_once<T>(self, reader: impl FnOnce(&Prelab) -> T) -> T {
        self.record.with_untracked(reader)
    }

    /// The derivation, once it is there.
    pub(crate) fn derivation(self) -> Option<Arc<Derivation>> {
        self.derivation.get()
    }

    /// Done and all steps, those that can be left out not counted; `None` before a derivation is there.
    pub(crate) fn progress(self) -> Option<(usize, usize)> {
        let derivation = self.derivation()?;
        let asked = || derivation.steps.iter().filter(|step| !step.optional);
        Some((asked().filter(|step| self.is_done(step)).count(), asked().count()))
    }

    /// Whether an answer to the step was accepted.
    pub(crate) fn is_done(self, step: &Step) -> bool {
        self.read(|record| record.step(&step.id).is_some_and(|record| record.accepted.is_some()))
    }

    /// What stands in a step.
    pub(crate) fn entered(self, step: &Step) -> String {
        self.read(|record| record.step(&step.id).map(|record| record.entered.clone()).unwrap_or_default())
    }

    /// What the accepted answers before a step say, in the student's own words.
    pub(crate) fn found_before(self, derivation: &Derivation, id: &str) -> Vec<Answer> {
        let before = derivation.steps.iter().take_while(|step| step.id != id);
        before.filter_map(|step| self.accepted_answer(derivation, step)).collect()
    }

    /// The accepted answer to a step in algebra, with the target in front where it was left out.
    pub(crate) fn accepted_answer(self, derivation: &Derivation, step: &Step) -> Option<Answer> {
        let Task::Expression(task) = &step.task else { return None };
        let text = self.read(|record| record.step(&step.id).and_then(|record| record.accepted.clone()))?;
        let answer = read(&text, &derivation.symbols, &task.readable).ok()?.answer;
        Some(answer.about(task.target))
    }

    /// Puts the record of another lab in place of this one; a locked one does not change.
    pub(crate) fn open_lab(self, record: Prelab, locked: bool) {
        self.beside.update_value(|beside| beside.locked = locked);
        self.open(record);
    }

    /// Begins anew, where that may be.
    fn replace(self, derivation: Option<DerivationSource>) {
        if !self.beside.get_value().locked {
            self.open(Prelab { derivation, ..Prelab::default() });
            self.unsaved.set(true);
        }
    }

    fn open(self, record: Prelab) {
        self.problem.set(String::new());
        self.derivation.set(None);
        let source = record.derivation.clone();
        self.record.set(record);
        if let Some(source) = source {
            later(self.fetch(source));
        }
    }

    /// Puts an earlier record of the same derivation back.
    pub(crate) fn restore(self, record: Prelab) {
        if self.read_once(|now| *now != record) {
            self.record.set(record);
        }
    }

    /// The derivation is fetched again: what kept it away may be over.
    pub(crate) fn try_again(self) {
        self.open(self.read_once(Clone::clone));
    }

    /// Fetches a derivation that comes with Whorl again, in the language spoken now.
    pub(crate) fn speak_anew(self) {
        if let Some(source @ DerivationSource::Shipped(_)) =
            self.read_once(|record| record.derivation.clone())
        {
            later(self.fetch(source));
        }
    }

    async fn fetch(self, source: DerivationSource) {
        let opened = match &source {
            DerivationSource::Own(text) => {
                opened(text).await.map_err(|problem| words::prelab::kept_unreadable(&problem))
            }
            DerivationSource::Shipped(id) => opened_shipped(id).await,
        };
        // Another lab may have been opened meanwhile.
        if !self.read_once(|record| record.derivation.as_ref() == Some(&source)) {
            return;
        }
        match opened {
            Ok(derivation) => self.derivation.set(Some(Arc::new(derivation))),
            Err(problem) => self.problem.set(problem),
        }
    }

    /// Begins one of the derivations that come with Whorl.
    pub(crate) fn begin(self, id: &str) {
        self.replace(Some(DerivationSource::Shipped(id.to_owned())));
    }

    /// Begins a derivation from a file; what is wrong with it becomes the problem shown.
    pub(crate) async fn begin_own(self, name: &str, text: String) {
        if let Err(problem) = opened(&text).await {
            self.problem.set(words::prelab::not_begun_at(&name, &problem));
            return;
        }
        self.replace(Some(DerivationSource::Own(text)));
    }

    /// Puts the pre-lab away, with all that was entered in it.
    pub(crate) fn put_away(self) {
        self.replace(None);
    }

    /// Changes the record of a step; the time since the last change counts as spent on it.
    pub(crate) fn change(self, step: &Step, change: impl FnOnce(&mut StepRecord)) {
        if self.beside.get_value().locked {
            return;
        }
        let seconds = self.seconds_since_last();
        self.record.update(|record| {
            record.change(&step.id, |record| {
                if record.accepted.is_none() {
                    record.seconds += seconds;
                }
                change(record);
            });
        });
        if !self.unsaved.get_untracked() {
            self.unsaved.set(true);
        }
    }

    /// Time starts to count: a step was opened.
    pub(crate) fn start_clock(self) {
        let _ = self.seconds_since_last();
    }

    fn seconds_since_last(self) -> f64 {
        let now = js_sys::Date::now() / 1000.0;
        let since = now - self.beside.get_value().last_activity;
        self.beside.update_value(|beside| beside.last_activity = now);
        // A clock may be set back; a long pause was spent elsewhere.
        if (0.0..LONGEST_PAUSE).contains(&since) { since } else { 0.0 }
    }
}

/// A derivation's text as a derivation, by the part that can read it.
async fn opened(text: &str) -> Result<Derivation, String> {
    parts::load(Part::Prelab).await;
    let part = parts::prelab().ok_or_else(|| words::parts::not_loaded().trim_end_matches('.').to_owned())?;
    (part.open)(text)
}

async fn opened_shipped(id: &str) -> Result<Derivation, String> {
    // The id may come from a file: only names of derivations that are there become an address.
    let Some((id, _)) = SHIPPED.iter().find(|(own, _)| *own == id) else {
        return Err(words::prelab::unknown(&id));
    };
    // Both at once.
    later(async {
        parts::load(Part::Prelab).await;
    });
    let file = match words::spoken() {
        Language::English => format!("{id}.json"),
        other @ Language::Spanish => format!("{id}.{}.json", other.code()),
    };
    let text = shipped::fetch(&format!("derivations/{file}"), words::page::derivation_not_fetched).await?;
    opened(&text).await.map_err(|problem| format!("{file}, {problem}."))
}
