//! What a student adds before handing in: names, date, conclusions against prompts, and that the cautions were read.
//!
//! Everything else in a report follows from the lab. It is kept with the lab as one text ([`save`], [`open`]).

mod file;
mod missing;

pub use file::{open, save};
pub use missing::{Missing, missing};

use std::collections::BTreeMap;
use whorl_words as words;

/// The longest answer to a prompt, in characters.
pub const LONGEST_ANSWER: usize = 4_000;
/// The longest list of names, in characters.
pub const LONGEST_NAMES: usize = 400;
/// The longest date, in characters.
pub const LONGEST_DATE: usize = 60;

/// A question that a conclusion answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Prompt {
    /// What was found, and how sure that is.
    Found,
    /// Whether measured and predicted value agree, and what that means.
    Agreement,
    /// The largest source of uncertainty, and how to shrink it.
    Uncertainty,
    /// What speaks for or against a systematic error.
    Systematic,
    /// What the friction torque and its scatter tell.
    Friction,
    /// What to do differently next time.
    NextTime,
}

impl Prompt {
    /// All, in the order in which they are asked.
    pub const ALL: [Self; 6] =
        [Self::Found, Self::Agreement, Self::Uncertainty, Self::Systematic, Self::Friction, Self::NextTime];

    /// How a file knows it.
    pub fn key(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Agreement => "agreement",
            Self::Uncertainty => "uncertainty",
            Self::Systematic => "systematic",
            Self::Friction => "friction",
            Self::NextTime => "next-time",
        }
    }

    /// The question.
    pub fn words(self) -> &'static str {
        match self {
            Self::Found => words::hand_in::found(),
            Self::Agreement => words::hand_in::agreement(),
            Self::Uncertainty => words::hand_in::uncertainty(),
            Self::Systematic => words::hand_in::systematic(),
            Self::Friction => words::hand_in::friction(),
            Self::NextTime => words::hand_in::next_time(),
        }
    }
}

/// What a student added.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HandIn {
    names: String,
    date: String,
    /// That the cautions were read, as the student says.
    pub cautions_read: bool,
    conclusions: BTreeMap<Prompt, String>,
}

impl HandIn {
    /// The group's names, as typed.
    pub fn names(&self) -> &str {
        &self.names
    }

    /// When the lab was done, as typed.
    pub fn date(&self) -> &str {
        &self.date
    }

    /// The answer to a prompt; empty before there is one.
    pub fn conclusion(&self, prompt: Prompt) -> &str {
        self.conclusions.get(&prompt).map_or("", String::as_str)
    }

    /// Enters the names; what is longer than allowed is cut.
    pub fn set_names(&mut self, names: &str) {
        self.names = cut(names, LONGEST_NAMES);
    }

    /// Enters the date; what is longer than allowed is cut.
    pub fn set_date(&mut self, date: &str) {
        self.date = cut(date, LONGEST_DATE);
    }

    /// Enters an answer; what is longer than allowed is cut.
    pub fn conclude(&mut self, prompt: Prompt, answer: &str) {
        if answer.trim().is_empty() {
            self.conclusions.remove(&prompt);
        } else {
            self.conclusions.insert(prompt, cut(answer, LONGEST_ANSWER));
        }
    }
}

fn cut(text: &str, longest: usize) -> String {
    text.chars().take(longest).collect()
}

#[cfg(test)]
mod tests;
