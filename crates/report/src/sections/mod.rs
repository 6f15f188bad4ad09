//! What a report says about a lab, a file per section.

mod apparatus;
mod budget;
mod conclusions;
mod derivation;
mod findings;
mod lines;
mod objects;
mod origin;
mod runs;

use crate::document::{Block, Document, Fact, Label};
use crate::plain::{expanded, factor, text};
use whorl_core::analysis::{Analysis, ObjectOutcome};
use whorl_core::comparison::Verdict;
use whorl_core::hand_in::{self, HandIn};
use whorl_core::lab::{Configuration, Lab, Provenance};
use whorl_core::measured::shown::DisplayUnit;
use whorl_derivation::derivation::Derivation;
use whorl_words as words;

/// What a report is made of.
#[derive(Clone, Copy)]
pub struct Sheet<'a> {
    /// What was entered.
    pub lab: &'a Lab,
    /// What follows from it.
    pub analysis: &'a Analysis,
    /// The derivation that the pre-lab's answers belong to; `None` where it is not at hand.
    pub derivation: Option<&'a Derivation>,
}

/// The report in the language spoken now.
pub fn document(sheet: Sheet<'_>) -> Document {
    let added = hand_in::open(sheet.lab.hand_in.as_deref());
    let title = text(&sheet.lab.title);
    let sections = [
        Some(apparatus::section(sheet, &added)),
        Some(derivation::section(sheet)),
        Some(runs::section(sheet)),
        Some(lines::section(sheet)),
        budget::section(sheet),
        objects::section(sheet),
        Some(findings::section(sheet)),
        conclusions::notes(sheet),
        Some(conclusions::section(&added)),
        Some(origin::section(sheet)),
    ];
    Document {
        language: words::spoken(),
        title: if title.is_empty() { words::report_sheet::untitled().to_owned() } else { title },
        head: head(sheet, &added),
        sections: sections.into_iter().flatten().collect(),
    }
}

fn head(sheet: Sheet<'_>, added: &HandIn) -> Vec<Block> {
    let or = |own: &str, other: &str| if own.trim().is_empty() { other.to_owned() } else { text(own) };
    let fact = |name: &str, value| Fact { name: Label::words(name), value };
    let mut blocks = vec![Block::Facts(vec![
        fact(words::report_sheet::names(), or(added.names(), words::report_sheet::not_said())),
        fact(words::report_sheet::date(), or(added.date(), words::report_sheet::not_said())),
    ])];
    if sheet.lab.provenance == Provenance::Simulated {
        blocks.push(Block::Notice(words::report_sheet::simulated().to_owned()));
    }
    if sheet.lab.is_recorded() {
        blocks.push(Block::Notice(words::report_sheet::recorded().to_owned()));
    }
    if sheet.lab.bench.is_some() {
        blocks.push(Block::Notice(words::report_sheet::on_bench().to_owned()));
    }
    let short: Vec<String> =
        sheet.analysis.objects.iter().filter_map(|object| in_short(sheet.lab, object)).collect();
    if !short.is_empty() {
        blocks.push(Block::List(short));
    }
    blocks
}

/// An object's result and what may be claimed of it, in one sentence.
fn in_short(lab: &Lab, object: &ObjectOutcome) -> Option<String> {
    let name = crate::plain::name(&lab.configuration_name(Configuration::Loaded(object.id)));
    let found = &object.measured.as_ref().ok()?.moment_of_inertia.total;
    let unit = DisplayUnit::engineering(found.value());
    let (value, k) = (expanded(found, unit), factor(found));
    Some(match object.comparison.as_ref().and_then(|compared| compared.as_ref().ok()) {
        None => words::report_sheet::short_alone(&name, &value, &k),
        Some(compared) => {
            let predicted =
                expanded(&compared.predicted, DisplayUnit::engineering(compared.predicted.value()));
            let verdict = match compared.verdict {
                Verdict::Agree => words::comparison::agree(),
                Verdict::AgreeWeakly => words::comparison::agree_weakly(),
                Verdict::Differ => words::comparison::differ(),
                Verdict::Undecided => words::comparison::undecided(),
            };
            words::report_sheet::short(&name, &value, &k, &predicted, &verdict)
        }
    })
}
