//! Where the readings come from, said plainly, and what that proves.

use super::Sheet;
use crate::document::{Block, Fact, Label, Section, Table};
use crate::plain::{name, text};
use whorl_core::bench::Session;
use whorl_core::fingerprint::readings_sha256;
use whorl_core::lab::{Dataset, Lab, Provenance};
use whorl_words as words;

pub(super) fn section(sheet: Sheet<'_>) -> Section {
    let lab = sheet.lab;
    let made = match lab.provenance {
        Provenance::Measured => words::report_sheet::measured(),
        Provenance::Simulated => words::report_sheet::simulated(),
    };
    let mut blocks = vec![Block::Paragraph(made.to_owned())];
    if let Some(session) = &lab.bench {
        blocks.push(Block::Paragraph(match Session::from_text(session) {
            Ok(session) => words::report_sheet::bench_code(&session.bench().seed().code(), &session.taken()),
            Err(_) => words::report_sheet::bench_unreadable().to_owned(),
        }));
    }
    blocks.extend(lab.dataset().map(|dataset| Block::Facts(recorded(dataset))));
    blocks.extend(files(lab).map(Block::Table));
    let mut facts = Vec::new();
    let others = without_fingerprint(lab);
    if !others.is_empty() {
        facts.push(Fact { name: Label::words(words::report_sheet::other_files()), value: others.join(", ") });
    }
    facts.push(Fact { name: Label::words(words::report_sheet::fingerprint()), value: readings_sha256(lab) });
    blocks.push(Block::Facts(facts));
    blocks.push(Block::Remark(words::report_sheet::fingerprint_says().to_owned()));
    blocks.push(Block::Remark(words::report_sheet::made_with(&env!("CARGO_PKG_VERSION"))));
    Section { heading: words::report_sheet::origin().to_owned(), blocks }
}

/// What a recorded lab says about itself.
fn recorded(dataset: &Dataset) -> Vec<Fact> {
    let all = [
        (words::report_sheet::record(), &dataset.title),
        (words::report_sheet::recorded_by(), &dataset.recorded_by),
        (words::report_sheet::recorded_on(), &dataset.recorded_on),
        (words::report_sheet::licence(), &dataset.licence),
        (words::report_sheet::recorded_from(), &dataset.origin),
        (words::report_sheet::apparatus_notes(), &dataset.apparatus_notes),
    ];
    let said = all.into_iter().filter(|(_, value)| !value.trim().is_empty());
    said.map(|(words, value)| Fact { name: Label::words(words), value: text(value) }).collect()
}

/// Files of which no fingerprint was kept, each once.
fn without_fingerprint(lab: &Lab) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let sources = lab.runs().iter().filter_map(|run| run.source.as_ref());
    for source in sources.filter(|source| source.sha256.is_none()) {
        let name = name(&source.file);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// Files by their fingerprints, each once; `None` where there are none.
fn files(lab: &Lab) -> Option<Table> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for source in lab.runs().iter().filter_map(|run| run.source.as_ref()) {
        let Some(sha256) = &source.sha256 else { continue };
        let bytes = source.bytes.map_or_else(|| "—".to_owned(), |bytes| bytes.to_string());
        let row = vec![name(&source.file), bytes, name_of_hash(sha256)];
        if !rows.contains(&row) {
            rows.push(row);
        }
    }
    (!rows.is_empty()).then(|| Table {
        caption: words::report_sheet::files_caption().to_owned(),
        head: vec![
            Label::words(words::report_sheet::file()),
            Label::words(words::report_sheet::bytes()),
            Label::words(words::report_sheet::sha256()),
        ],
        rows,
        numbers_from: usize::MAX,
    })
}

/// The digits of a fingerprint and nothing else: the text may come from anywhere.
fn name_of_hash(hash: &str) -> String {
    hash.chars().filter(char::is_ascii_hexdigit).take(64).collect()
}
