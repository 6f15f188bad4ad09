//! `whorl report`: a saved lab as the report that is handed in.

use crate::open_lab_text;
use std::path::Path;
use whorl_core::analysis::analyze;
use whorl_core::fingerprint;
use whorl_core::lab::Lab;
use whorl_core::prelab::DerivationSource;
use whorl_derivation::derivation::Derivation;
use whorl_report::{Sheet, document, html};
use whorl_words::{Language, Translation};

/// The derivations that come with Whorl: id, and the text in each language.
const SHIPPED: [(&str, &str, &str); 2] = [
    (
        "turntable",
        include_str!("../../../web/derivations/turntable.json"),
        include_str!("../../../web/derivations/turntable.es.json"),
    ),
    (
        "two-masses",
        include_str!("../../../web/derivations/two-masses.json"),
        include_str!("../../../web/derivations/two-masses.es.json"),
    ),
];

/// What was asked for.
pub(crate) struct Request<'a> {
    lab: &'a str,
    language: Language,
}

impl<'a> Request<'a> {
    /// `None` when the words make no sense.
    pub(crate) fn from_words(words: &[&'a str]) -> Option<Self> {
        match *words {
            [lab] if !lab.starts_with("--") => Some(Self { lab, language: Language::English }),
            [lab, "--language", code] | ["--language", code, lab] => {
                Some(Self { lab, language: Language::of_code(code)? })
            }
            _ => None,
        }
    }

    /// The report as HTML; the error begins with the file's name.
    pub(crate) fn answer(&self) -> Result<String, String> {
        let (lab, text) = open_lab_text(Path::new(self.lab))?;
        if fingerprint::as_saved(&text, &lab) == Some(false) {
            eprintln!("{}: {}", self.lab, whorl_words::hand_in::readings_edited());
        }
        if let Some(table) = whorl_words::table(self.language) {
            // The table was made with this program: it is never one of another version.
            whorl_words::speak(Translation::read(self.language, table.to_owned()).ok());
            whorl_words::use_decimal_mark(self.language.usual_mark());
        }
        let derivation =
            derivation(&lab, self.language).map_err(|problem| format!("{}: {problem}", self.lab))?;
        let analysis = analyze(&lab);
        Ok(html(&document(Sheet { lab: &lab, analysis: &analysis, derivation: derivation.as_ref() })))
    }
}

/// The derivation that the lab's pre-lab belongs to, where it is known here.
fn derivation(lab: &Lab, language: Language) -> Result<Option<Derivation>, String> {
    let text = match &lab.prelab.derivation {
        None => return Ok(None),
        Some(DerivationSource::Own(text)) => text.as_str(),
        Some(DerivationSource::Shipped(id)) => match SHIPPED.iter().find(|shipped| shipped.0 == id) {
            None => return Ok(None),
            Some((_, english, spanish)) => match language {
                Language::English => english,
                Language::Spanish => spanish,
            },
        },
    };
    whorl_derivation::file::open(text).map(Some).map_err(|problem| problem.to_string())
}
