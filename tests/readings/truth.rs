//! What was read, held against what was written.

use serde_json::Value;
use whorl_core::readings::{Confidence, FoundRun, ReadingError, Understood};

/// Where runs differ from their truth; empty when they do not.
pub(crate) fn runs_differ(found: &[FoundRun], truth: &Value) -> Vec<String> {
    let truth = truth.as_array().unwrap();
    if found.len() != truth.len() {
        let counts: Vec<String> = found
            .iter()
            .map(|run| format!("{} {}", run.readings.count(), run.readings.kind().key()))
            .collect();
        return vec![format!("runs: {} ({}), not {}", found.len(), counts.join(", "), truth.len())];
    }
    let each = found.iter().zip(truth).enumerate();
    each.flat_map(|(index, (found, truth))| {
        let differences = run_differs(found, truth);
        differences.into_iter().map(move |difference| format!("run {}: {difference}", index + 1))
    })
    .collect()
}

fn run_differs(found: &FoundRun, truth: &Value) -> Vec<String> {
    let mut told = Vec::new();
    if let Some(label) = truth["label"].as_str()
        && !found.label.contains(label)
    {
        told.push(format!("label “{}”, not “{label}”", found.label));
    }
    let carries = truth["carries"].as_str().map(str::to_lowercase);
    if found.carries.as_deref().map(str::to_lowercase) != carries {
        told.push(format!("carries {:?}, not {carries:?}", found.carries));
    }
    let mass = truth["hanging_mass_kg"].as_f64();
    let near = |a: f64, b: f64| (a - b).abs() <= 1e-12;
    if !match (found.hanging_mass, mass) {
        (Some(found), Some(mass)) => near(found.0, mass),
        (found, mass) => found.is_none() && mass.is_none(),
    } {
        told.push(format!("hanging mass {:?}, not {mass:?} kg", found.hanging_mass));
    }
    let kind = truth["kind"].as_str().unwrap();
    if found.readings.kind().key() != kind {
        told.push(format!("{}, not {kind}", found.readings.kind().key()));
    }
    told.extend(numbers_differ(&found.readings.pairs(), truth));
    told
}

fn numbers_differ(found: &[(f64, f64)], truth: &Value) -> Vec<String> {
    let numbers = |key: &str| -> Option<Vec<f64>> {
        truth[key].as_array().map(|list| list.iter().map(|number| number.as_f64().unwrap()).collect())
    };
    let times = numbers("time_s").unwrap();
    if found.len() != times.len() {
        return vec![format!("{} readings, not {}", found.len(), times.len())];
    }
    let from = match truth["time_origin"].as_str() {
        Some(_) => times[0] - found[0].0,
        None => 0.0,
    };
    let mut told = Vec::new();
    let tolerance = truth["time_tolerance_s"].as_f64().unwrap();
    // Behind a free origin stand two roundings, and a day's seconds have fewer bits to spare.
    let tolerance = if from == 0.0 { tolerance } else { 2.0 * tolerance + 1e-6 };
    let wrong = |k: &usize| (found[*k].0 + from - times[*k]).abs() > tolerance;
    if let Some(k) = (0..times.len()).find(wrong) {
        let many = (0..times.len()).filter(wrong).count();
        told.push(format!("reading {}: time {} s, not {} s ({many} wrong)", k + 1, found[k].0, times[k]));
    }
    if let Some(values) = numbers("value") {
        let tolerance = truth["value_tolerance"].as_f64().unwrap();
        let wrong = |k: &usize| (found[*k].1 - values[*k]).abs() > tolerance;
        if let Some(k) = (0..values.len()).find(wrong) {
            let many = (0..values.len()).filter(wrong).count();
            told.push(format!("reading {}: value {}, not {} ({many} wrong)", k + 1, found[k].1, values[k]));
        }
    }
    told
}

/// What holds for all that is understood: guesses have reasons, questions answers, runs lines.
pub(crate) fn loose_ends(understood: &Understood) -> Vec<String> {
    let layout = &understood.layout;
    let mut told = Vec::new();
    let mut guess = |what: &str, confidence: Confidence, reason: &str| {
        if reason.trim().is_empty() {
            told.push(format!("{what}: no reason"));
        }
        if confidence == Confidence::Open && layout.questions.is_empty() {
            told.push(format!("{what}: open, and no question"));
        }
    };
    guess("encoding", layout.encoding.confidence, &layout.encoding.reason);
    guess("delimiter", layout.delimiter.confidence, &layout.delimiter.reason);
    guess("decimal", layout.decimal.confidence, &layout.decimal.reason);
    for (index, column) in layout.columns.iter().enumerate() {
        guess(&format!("column {}", index + 1), column.role.confidence, &column.role.reason);
    }
    for question in &layout.questions {
        if question.answers.len() < 2 || question.answers.iter().any(|answer| answer.words.trim().is_empty())
        {
            told.push(format!("“{}”: fewer than two answers in words", question.words));
        }
    }
    if understood.runs.is_empty() && layout.questions.is_empty() {
        told.push("no run and no question".to_owned());
    }
    for run in &understood.runs {
        if run.lines.0 == 0 || run.lines.1 < run.lines.0 {
            told.push(format!("a run from lines {:?}", run.lines));
        }
    }
    told
}

/// The complaints as the page shows them.
pub(crate) fn words(errors: &[ReadingError]) -> String {
    errors.iter().map(ToString::to_string).collect::<Vec<_>>().join(" | ")
}

/// The questions with their answers, as text.
pub(crate) fn questions(understood: &Understood) -> String {
    let asked = understood.layout.questions.iter().map(|question| {
        let answers: Vec<&str> = question.answers.iter().map(|answer| answer.words.as_str()).collect();
        format!("{} [{}]", question.words, answers.join(" / "))
    });
    asked.collect::<Vec<_>>().join(" ")
}
