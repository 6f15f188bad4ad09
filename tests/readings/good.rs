//! Files that are read right without a question.

use super::corpus::{Case, read_as};
use super::truth::{loose_ends, questions, runs_differ, words};

pub(crate) fn complaints(case: &Case) -> Vec<String> {
    let understood = match read_as(&case.bytes, "") {
        Ok(understood) => understood,
        Err(errors) => return vec![format!("refused: {}", words(&errors))],
    };
    let layout = &understood.layout;
    let mut told = loose_ends(&understood);
    if !layout.questions.is_empty() {
        told.push(format!("asks: {}", questions(&understood)));
    }
    for (what, found) in [
        ("encoding", layout.encoding.value.words()),
        ("delimiter", layout.delimiter.value.words()),
        ("decimal", layout.decimal.value.words()),
    ] {
        // What the file does not tell (the delimiter of one column, say) is not in the truth.
        if case.truth[what].as_str().is_some_and(|truth| truth != found) {
            told.push(format!("{what} {found}, not {}", case.truth[what]));
        }
    }
    let remarked = !layout.remarks.is_empty() || understood.runs.iter().any(|run| !run.remarks.is_empty());
    if case.truth["remark"] == true && !remarked {
        told.push("rows were left out or moved, and nothing was said of it".to_owned());
    }
    told.extend(runs_differ(&understood.runs, &case.truth["runs"]));
    told
}
