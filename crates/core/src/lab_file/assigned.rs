//! Work that was set: in a lab file the text of an assignment file. What of it binds the lab is read here; all of it
//! by [`crate::assignment`].

use super::open::apparatus;
use crate::comparison::Criterion;
use crate::lab::{ApparatusField, Given, Lab};
use whorl_document::{Node, parse, read};
use whorl_words as words;

/// Under which name it stands in the file.
pub(super) const FIELD: &str = "assignment";

/// The lab with the work that the text here sets; as it is where nothing stands.
pub(super) fn assigned(lab: Lab, node: &Node<'_>) -> Lab {
    let Some(text) = node.text() else { return lab };
    let found = parse(&text).map_err(|problem| problem.to_string()).and_then(|document| {
        let both = |top: &Node<'_>| (given(&top.field("given")), criterion(&top.field("agreement")));
        read(&document, both).map_err(|problem| problem.to_string())
    });
    match found {
        Ok((given, criterion)) => lab.assign(text, given, criterion),
        Err(problem) => {
            node.wrong(&problem);
            lab
        }
    }
}

/// The entries of the apparatus that are given, under their names in a lab file.
pub(crate) fn given(node: &Node<'_>) -> Given {
    if node.is_missing() {
        return Given::default();
    }
    node.only(&ApparatusField::ALL.map(ApparatusField::key));
    let fields = ApparatusField::ALL.into_iter().filter(|field| !node.field(field.key()).is_missing());
    Given::of(fields.collect(), &apparatus(node))
}

/// What counts as agreement: `"interval"`, `"normalized-error"` or `{"percent": 5}`.
pub(crate) fn criterion(node: &Node<'_>) -> Criterion {
    if node.is_missing() {
        return Criterion::Interval;
    }
    if node.has_fields() {
        node.only(&["percent"]);
        let percent = node.field("percent").number();
        return Criterion::Percent(percent.unwrap_or_else(|| {
            node.field("percent").wrong(words::lab_file::number_expected());
            0.0
        }));
    }
    match node.text().as_deref() {
        Some("normalized-error") => Criterion::NormalizedError,
        Some("interval") => Criterion::Interval,
        _ => {
            node.wrong(&words::assigning::unknown_agreement(&"{\"percent\": 5}"));
            Criterion::Interval
        }
    }
}
