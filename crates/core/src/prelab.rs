//! How far a student has come with the pre-lab.
//!
//! Plain records: what was entered and what was asked for. What a step asks and whether an answer
//! is right is the derivation's business, of which nothing is known here.

/// The pre-lab of one lab.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prelab {
    /// The derivation that was begun; `None` before.
    pub derivation: Option<DerivationSource>,
    /// Steps that something was entered in, in the order they were begun.
    pub steps: Vec<StepRecord>,
}

/// Where a derivation comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum DerivationSource {
    /// One that comes with Whorl, by its id.
    Shipped(String),
    /// A teacher's own: the text of its file, kept so that the lab can be opened anywhere.
    Own(String),
}

/// One step's record.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StepRecord {
    /// The step's id.
    pub step: String,
    /// What stands in it now.
    pub entered: String,
    /// The answer that was accepted last.
    pub accepted: Option<String>,
    /// How many answers were checked, up to the first that was accepted.
    pub attempts: u32,
    /// How many hints were asked for.
    pub hints: u32,
    /// Whether the worked step was shown before an answer was accepted.
    pub worked: bool,
    /// Time spent on it, in seconds; long pauses are not counted.
    pub seconds: f64,
}

impl Prelab {
    /// The record of a step.
    pub fn step(&self, id: &str) -> Option<&StepRecord> {
        self.steps.iter().find(|record| record.step == id)
    }

    /// Changes the record of a step, begun if there is none.
    pub fn change(&mut self, id: &str, change: impl FnOnce(&mut StepRecord)) {
        if let Some(record) = self.steps.iter_mut().find(|record| record.step == id) {
            change(record);
        } else {
            let mut record = StepRecord { step: id.to_owned(), ..StepRecord::default() };
            change(&mut record);
            self.steps.push(record);
        }
    }
}
