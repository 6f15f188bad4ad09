//! What was before: states in a row, with a place in it, for undo and redo.

use crate::lab::Lab;
use core::time::Duration;
use std::collections::VecDeque;

/// Changes of one kind that follow each other within this time are one step: a word typed, a handle dragged.
pub const ONE_STEP: Duration = Duration::from_secs(1);

/// A step is not longer than this: of a paragraph written without a pause, the last sentence is taken back, not all.
pub const LONGEST_STEP: Duration = Duration::from_secs(5);

/// How many steps are kept. Readings are shared between states, so a state costs kilobytes.
pub const STEPS: usize = 200;

/// A state, and what the change to it was.
#[derive(Clone, Debug)]
struct Entry<S, C> {
    state: S,
    /// What was changed to come here from the state before.
    change: C,
    /// When that began.
    begun: Duration,
}

/// States in a row, the present one among them.
#[derive(Clone, Debug)]
pub struct History<S, C> {
    /// The first state that is still known.
    first: S,
    /// What came after it, the present included.
    past: VecDeque<Entry<S, C>>,
    /// What was taken back, the next to be done again last.
    future: Vec<Entry<S, C>>,
    /// When the present was last added to; `None` when the next change is a step of its own.
    open_since: Option<Duration>,
}

impl<S: Clone, C: Copy + PartialEq> History<S, C> {
    /// Begins with a state.
    pub fn new(first: S) -> Self {
        Self { first, past: VecDeque::new(), future: Vec::new(), open_since: None }
    }

    /// The state as it stands.
    pub fn present(&self) -> &S {
        self.past.back().map_or(&self.first, |entry| &entry.state)
    }

    /// A change has led to `state` at a moment of a clock that only runs forward. What was taken back before is
    /// gone.
    pub fn note(&mut self, state: S, change: C, at: Duration) {
        let joins = self.future.is_empty()
            && self.open_since.is_some_and(|since| at.saturating_sub(since) < ONE_STEP)
            && self
                .past
                .back()
                .is_some_and(|last| last.change == change && at.saturating_sub(last.begun) < LONGEST_STEP);
        self.future.clear();
        self.open_since = Some(at);
        if let Some(last) = self.past.back_mut().filter(|_| joins) {
            last.state = state;
            return;
        }
        self.past.push_back(Entry { state, change, begun: at });
        if self.past.len() > STEPS
            && let Some(oldest) = self.past.pop_front()
        {
            self.first = oldest.state;
        }
    }

    /// The next change is a step of its own, however soon it comes.
    pub fn end_step(&mut self) {
        self.open_since = None;
    }

    /// What would be taken back.
    pub fn to_undo(&self) -> Option<C> {
        self.past.back().map(|entry| entry.change)
    }

    /// What would be done again.
    pub fn to_redo(&self) -> Option<C> {
        self.future.last().map(|entry| entry.change)
    }

    /// Takes the last change back; the state it was made to, and what it was.
    pub fn undo(&mut self) -> Option<(&S, C)> {
        let taken = self.past.pop_back()?;
        let change = taken.change;
        self.future.push(taken);
        self.open_since = None;
        Some((self.present(), change))
    }

    /// Does the change again that was last taken back.
    pub fn redo(&mut self) -> Option<(&S, C)> {
        let again = self.future.pop()?;
        let change = again.change;
        self.past.push_back(again);
        self.open_since = None;
        Some((self.present(), change))
    }
}

/// Where in a lab a change was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changed {
    /// Title or notes.
    Title,
    /// The pre-lab.
    Prelab,
    /// The apparatus.
    Apparatus,
    /// The plan.
    Plan,
    /// Runs, their masses, loads and stretches.
    Runs,
    /// Objects and what balances them.
    Objects,
    /// The practice bench.
    Bench,
    /// What was said before a run.
    Forecasts,
    /// What is added for the report.
    Report,
    /// In several of these places at once, or elsewhere.
    Several,
    /// Another lab was opened.
    OtherLab,
}

impl Changed {
    /// Where two states of one lab differ; `None` where they do not.
    pub fn between(before: &Lab, after: &Lab) -> Option<Self> {
        let places = [
            (Self::Title, before.title != after.title || before.notes != after.notes),
            (Self::Prelab, before.prelab != after.prelab),
            (Self::Apparatus, before.apparatus != after.apparatus),
            (Self::Plan, before.plan != after.plan),
            (Self::Runs, before.runs() != after.runs()),
            (Self::Objects, before.objects() != after.objects()),
            (Self::Bench, before.bench != after.bench),
            (Self::Forecasts, before.forecasts != after.forecasts),
            (Self::Report, before.hand_in != after.hand_in),
        ];
        let mut differing = places.iter().filter(|(_, differs)| *differs).map(|(place, _)| *place);
        match (differing.next(), differing.next()) {
            (Some(place), None) => Some(place),
            (None, _) => (before != after).then_some(Self::Several),
            // A run of the bench is a change of the bench's session too.
            (Some(Self::Runs), Some(Self::Bench)) if differing.next().is_none() => Some(Self::Runs),
            _ => Some(Self::Several),
        }
    }

    /// The same for people.
    pub fn words(self) -> &'static str {
        use whorl_words::history as words;
        match self {
            Self::Title => words::title(),
            Self::Prelab => words::prelab(),
            Self::Apparatus => words::apparatus(),
            Self::Plan => words::plan(),
            Self::Runs => words::runs(),
            Self::Objects => words::objects(),
            Self::Bench => words::bench(),
            Self::Forecasts => words::forecasts(),
            Self::Report => words::report(),
            Self::Several => words::several(),
            Self::OtherLab => words::other_lab(),
        }
    }
}

#[cfg(test)]
mod tests;
