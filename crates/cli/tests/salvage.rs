//! `whorl salvage` as it is called, and what other calls say of newer and damaged files.

#![expect(
    clippy::unwrap_used,
    reason = "clippy.toml allows it in test functions; the functions they share are tests too"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use whorl_core::lab_file::open_alone;

/// What the program prints, and what it complains about.
fn whorl(words: &[&str]) -> (String, String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_whorl")).args(words).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (text(output.stdout), text(output.stderr), output.status.code().unwrap())
}

fn sample() -> String {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/labs/versions/v3.json");
    fs::read_to_string(file).unwrap()
}

fn file(name: &str, text: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, text).unwrap();
    path
}

#[test]
fn what_is_whole_in_a_cut_file_is_printed_and_the_rest_is_told() {
    let (text, whole) = (sample(), open_alone(&sample()).unwrap());
    let path = file("cut.json", &text[..text.len() / 2]);
    let (printed, told, code) = whorl(&["salvage", path.to_str().unwrap()]);
    assert_eq!(code, 0, "{told}");
    let lab = open_alone(&printed).unwrap();
    assert!(!lab.runs().is_empty() && lab.runs().len() < whole.runs().len());
    for (run, known) in lab.runs().iter().zip(whole.runs()) {
        assert_eq!(run, known);
    }
    assert!(told.contains(&format!("{}: line 1, column ", path.display())), "{told}");
    assert!(told.contains(&format!(": at runs[{}]: ", lab.runs().len())), "{told}");
    let (_, told, code) = whorl(&["analyse", path.to_str().unwrap()]);
    assert!(code == 1 && told.contains("`whorl salvage` saves what can be saved"), "{told}");
}

#[test]
fn a_file_without_a_lab_says_so() {
    let path = file("none.json", "{\"format\":\"recipe\"}");
    let (printed, told, code) = whorl(&["salvage", path.to_str().unwrap()]);
    assert_eq!((&*printed, code), ("", 1));
    assert!(told.contains("there is nothing of a lab in this file"), "{told}");
}

#[test]
fn a_newer_file_is_analyzed_as_far_as_it_is_understood() {
    let path = file("newer.json", &sample().replacen("\"version\":3", "\"version\":7,\"weather\":1", 1));
    let (printed, told, code) = whorl(&["analyse", path.to_str().unwrap()]);
    assert_eq!(code, 0, "{told}");
    assert!(told.contains("This file was made by a newer Whorl (version 7; this one knows 3)."), "{told}");
    let known = file("known.json", &sample());
    assert_eq!(whorl(&["analyse", known.to_str().unwrap()]).0, printed);
}
