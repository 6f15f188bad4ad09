//! What the diagnosis says, as JSON and as lines of text.

use crate::analysis::Analysis;
use crate::diagnosis::{Evidence, Finding, Fix, diagnose};
use crate::lab::{Configuration, Lab};
use crate::measured::shown::{DisplayUnit, show_number};
use crate::quantity::Ratio;
use serde_json::{Value, json};

pub(super) fn to_json(lab: &Lab, analysis: &Analysis) -> Value {
    diagnose(lab, analysis).iter().map(|found| finding(lab, found)).collect()
}

fn finding(lab: &Lab, found: &Finding) -> Value {
    let names = found.runs.iter().filter_map(|run| Some(lab.run(*run)?.name.as_str()));
    let mut value = json!({
        "cause": found.cause.key(),
        "severity": found.severity.key(),
        "words": found.words,
        "remedy": found.remedy,
        "runs": names.collect::<Vec<_>>(),
        "evidence": found.evidence.iter().map(evidence).collect::<Vec<_>>(),
        "fix": found.fix.as_ref().map(Fix::words),
    });
    if let (Some(configuration), Value::Object(fields)) = (found.configuration, &mut value) {
        // As in the lines: the empty table is `null`.
        let object = match configuration {
            Configuration::EmptyTable => Value::Null,
            Configuration::Loaded(id) => json!(id.0),
        };
        fields.insert("object".to_owned(), object);
    }
    value
}

fn evidence(evidence: &Evidence) -> Value {
    json!({
        "statistic": evidence.statistic,
        "value": evidence.value,
        "unit": evidence.unit,
        "degrees_of_freedom": evidence.degrees_of_freedom,
        "p": evidence.p,
    })
}

pub(super) fn to_lines(lab: &Lab, analysis: &Analysis) -> Vec<String> {
    let found = diagnose(lab, analysis);
    let mut lines = Vec::new();
    if !found.is_empty() {
        lines.push("What seems wrong, the gravest first".to_owned());
    }
    for finding in &found {
        lines.push(["  ", finding.severity.words(), ": ", &finding.words].concat());
        lines.push(["    ", &finding.remedy].concat());
        for evidence in &finding.evidence {
            let number = |value: f64, digits| show_number(value, DisplayUnit::prefixed("", 0), digits);
            let small = evidence.value != 0.0 && evidence.value.abs() < 1e-3;
            let factor = if small { DisplayUnit::engineering(Ratio(evidence.value)).factor } else { 0 };
            let unit = DisplayUnit { symbol: evidence.unit, prefix: 0, factor };
            let value = show_number(evidence.value, unit, 4);
            let mut line = ["    (", evidence.statistic, " = ", &value].concat();
            for (place, freedom) in evidence.degrees_of_freedom.iter().enumerate() {
                line.push_str(if place == 0 { ", degrees of freedom " } else { " and " });
                line.push_str(&number(*freedom, 4));
            }
            if let Some(p) = evidence.p {
                line.push_str(if p < SMALLEST { ", p < " } else { ", p = " });
                line.push_str(&number(p.max(SMALLEST), 2));
            }
            line.push(')');
            lines.push(line);
        }
    }
    lines
}

/// A smaller p is only said to be so.
const SMALLEST: f64 = 1e-6;
