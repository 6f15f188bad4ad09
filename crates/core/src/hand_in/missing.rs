//! What a report does not say yet. Nothing of it keeps anyone from handing in.

use super::{HandIn, Prompt};
use crate::analysis::Analysis;
use crate::lab::Lab;
use whorl_words as words;

/// Something that a reader of the report will look for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Missing {
    /// Whose lab it is.
    Names,
    /// When it was done.
    Date,
    /// That the cautions were read.
    Cautions,
    /// The derivation was not begun.
    Derivation,
    /// There are no runs.
    Runs,
    /// No object was compared with what its shape predicts.
    Comparison,
    /// An answer to a prompt.
    Conclusion(Prompt),
}

impl Missing {
    /// What to do about it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Names => words::hand_in::add_names(),
            Self::Date => words::hand_in::add_date(),
            Self::Cautions => words::hand_in::read_cautions(),
            Self::Derivation => words::hand_in::begin_derivation(),
            Self::Runs => words::hand_in::take_runs(),
            Self::Comparison => words::hand_in::compare(),
            Self::Conclusion(prompt) => prompt.words(),
        }
    }
}

/// What is missing, in the order of the report. `derived` says whether a step of the pre-lab was accepted.
pub fn missing(lab: &Lab, analysis: &Analysis, added: &HandIn, derived: bool) -> Vec<Missing> {
    let compared = analysis.objects.iter().any(|object| matches!(object.comparison, Some(Ok(_))));
    let before = [
        (added.names.trim().is_empty(), Missing::Names),
        (added.date.trim().is_empty(), Missing::Date),
        (!added.cautions_read, Missing::Cautions),
        (!derived, Missing::Derivation),
        (lab.runs().is_empty(), Missing::Runs),
        (!compared, Missing::Comparison),
    ];
    let open = before.into_iter().filter(|(missing, _)| *missing).map(|(_, what)| what);
    let unanswered = Prompt::ALL.into_iter().filter(|prompt| added.conclusion(*prompt).is_empty());
    open.chain(unanswered.map(Missing::Conclusion)).collect()
}
