//! Every file of the corpus, and a table of how many came out right.

use super::{asks, good, hostile};
use serde_json::Value;
use std::fs;
use std::path::Path;
use whorl_core::readings::{Choices, ReadingError, Understood, read};

/// A file with what must become of it.
pub(crate) struct Case {
    pub(crate) file: String,
    pub(crate) bytes: Vec<u8>,
    pub(crate) truth: Value,
}

/// The files of a folder that its JSON document lists; one that is not listed, or not there, is an error.
pub(crate) fn cases(folder: &str) -> Vec<Case> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("readings");
    let listed = fs::read_to_string(here.join(format!("{folder}.json"))).unwrap();
    let listed: Vec<Value> = serde_json::from_str(&listed).unwrap();
    assert_eq!(listed.len(), fs::read_dir(here.join(folder)).unwrap().count(), "{folder}: files listed");
    let case = |truth: Value| {
        let file = truth["file"].as_str().unwrap().to_owned();
        Case { bytes: fs::read(here.join(folder).join(&file)).unwrap(), file, truth }
    };
    listed.into_iter().map(case).collect()
}

/// Reads with what is said as text.
pub(crate) fn read_as(bytes: &[u8], choices: &str) -> Result<Understood, Vec<ReadingError>> {
    read(bytes, &Choices::from_text(choices).unwrap(), &mut |_| {})
}

/// What is wrong with what became of a file.
type Complaints = fn(&Case) -> Vec<String>;

#[test]
fn every_file_of_the_corpus_comes_out_as_told() {
    let folders: [(&str, Complaints); 3] =
        [("good", good::complaints), ("asks", asks::complaints), ("hostile", hostile::complaints)];
    let (mut table, mut failing) = (Vec::new(), Vec::new());
    for (folder, complaints) in folders {
        let cases = cases(folder);
        let mut right = 0;
        for case in &cases {
            let complaints = complaints(case);
            if complaints.is_empty() {
                right += 1;
                continue;
            }
            failing.push(format!("\n{folder}/{}: {}", case.file, case.truth["about"].as_str().unwrap()));
            failing.extend(complaints.iter().map(|complaint| format!("    {complaint}")));
        }
        table.push(format!("{folder:8} {right:4} of {:4}", cases.len()));
    }
    let table = table.join("\n");
    println!("{table}");
    assert!(failing.is_empty(), "{}\n\n{table}", failing.join("\n"));
}
