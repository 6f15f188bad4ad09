//! What the runs tell about themselves.

use super::Sheet;
use super::lines::LEAST_P;
use crate::document::{Block, Section};
use crate::plain::number;
use whorl_core::diagnosis::{Evidence, Finding, diagnose};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

pub(super) fn section(sheet: Sheet<'_>) -> Section {
    let found = diagnose(sheet.lab, sheet.analysis);
    let fitted = sheet.analysis.lines.configurations.iter().any(|line| line.inertia.is_ok());
    let block = match (found.is_empty(), fitted) {
        (true, true) => Block::Paragraph(words::line::no_findings().to_owned()),
        (true, false) => Block::Paragraph(words::report_sheet::not_looked_over().to_owned()),
        (false, _) => Block::List(found.iter().map(told).collect()),
    };
    Section { heading: words::line::findings().to_owned(), blocks: vec![block] }
}

fn told(finding: &Finding) -> String {
    let evidence: Vec<String> = finding.evidence.iter().map(evidence).collect();
    let mut text = [finding.severity.words(), ": ", &finding.words, " ", &finding.remedy].concat();
    if !evidence.is_empty() {
        text += " (";
        text += &evidence.join("; ");
        text.push(')');
    }
    text
}

fn evidence(evidence: &Evidence) -> String {
    let value = show_number(evidence.value, DisplayUnit::prefixed(evidence.unit, 0), 3);
    let mut text = [evidence.statistic, " = ", &value].concat();
    if let Some(p) = evidence.p {
        text += ", p ";
        text += &if p < LEAST_P {
            words::line::p_below(&words::number(LEAST_P, 4))
        } else {
            ["= ", &number(p, 2)].concat()
        };
    }
    text
}
