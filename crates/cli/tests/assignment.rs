//! `whorl assignment`: a file becomes a link, and the link the file.

#![expect(
    clippy::unwrap_used,
    reason = "clippy.toml allows it in test functions; the functions they share are tests too"
)]

use std::process::{Command, Output};

fn whorl(words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_whorl")).args(words).output().unwrap()
}

#[test]
fn a_file_becomes_a_link_and_the_link_the_file() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/labs/assignment.json");
    let link = whorl(&["assignment", file]);
    assert!(link.status.success(), "{}", String::from_utf8_lossy(&link.stderr));
    let link = String::from_utf8(link.stdout).unwrap();
    assert!(link.starts_with("#work=1."));
    let again = whorl(&["assignment", "--link", &format!("https://example.org/whorl/{link}")]);
    let written = String::from_utf8(again.stdout).unwrap();
    assert_eq!(written, std::fs::read_to_string(file).unwrap());
}

#[test]
fn what_is_wrong_is_told() {
    let damaged = whorl(&["assignment", "--link", "#work=1.eJwDAAAAAAE"]);
    assert_eq!(damaged.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&damaged.stderr).contains("this link is damaged"));
    let missing = whorl(&["assignment", "not-there.json"]);
    assert!(String::from_utf8_lossy(&missing.stderr).contains("not-there.json"));
    assert_eq!(whorl(&["assignment"]).status.code(), Some(2));
}
