//! Files too large to keep, made here: answered soon, and in few words.

#![expect(
    clippy::disallowed_types,
    reason = "that there is an answer before anyone gives up is what is tested"
)]

use super::corpus::read_as;
use super::hostile::unfit;
use super::truth::words;
use std::time::{Duration, Instant};
use whorl_core::readings::MAX_BYTES;

/// Nobody waits longer for ten megabytes; a hundred times what they take, so that a busy machine passes.
const SOON: Duration = Duration::from_secs(10);

/// Reads; `Some(rows)` for data, `None` for an error.
#[track_caller]
fn answered(bytes: &[u8]) -> Option<usize> {
    let begin = Instant::now();
    let outcome = read_as(bytes, "");
    let took = begin.elapsed();
    assert_eq!(unfit(&outcome), Vec::<String>::new());
    assert!(took < SOON, "{took:?}");
    outcome.ok().map(|understood| understood.runs.iter().map(|run| run.readings.count()).sum())
}

fn table(rows: usize) -> String {
    let row = |k: usize| format!("{:.3},{:.4}\n", k as f64 * 1e-3, k as f64 * 4e-4);
    "t (s),v (m/s)\n".chars().chain((0..rows).flat_map(|k| row(k).chars().collect::<Vec<_>>())).collect()
}

#[test]
fn a_hundred_thousand_columns() {
    let row = vec!["0.5"; 100_000].join(",") + "\n";
    answered((row.clone() + &row + &row).as_bytes());
}

#[test]
fn a_line_of_five_megabytes() {
    assert_eq!(answered("x".repeat(5_000_000).as_bytes()), None);
    answered("7".repeat(5_000_000).as_bytes());
    assert_eq!(answered(" ".repeat(5_000_000).as_bytes()), None);
}

#[test]
fn a_heading_of_a_megabyte() {
    let text = table(50).replace("v (m/s)", &format!("v (m/s),{}", "note ".repeat(200_000)));
    assert_eq!(answered(text.replace('\n', ",\n").as_bytes()), Some(50));
    answered(("#".repeat(1_000_000) + "\n" + &table(50)).as_bytes());
}

#[test]
fn quotes_without_end() {
    answered("\"".repeat(3_000_001).as_bytes());
    answered((table(50) + &"\"\",".repeat(1_000_000)).as_bytes());
    answered(table(20_000).replace('\n', "\n\"").as_bytes());
}

#[test]
fn ten_megabytes_of_line_ends() {
    assert_eq!(answered("\n".repeat(10_000_000).as_bytes()), None);
    assert_eq!(answered("\r\n".repeat(5_000_000).as_bytes()), None);
    assert_eq!(answered((table(50) + &"\n".repeat(10_000_000)).as_bytes()), Some(50));
}

#[test]
fn ten_megabytes_of_delimiters() {
    for delimiter in [",", ";", "\t", "|", " , "] {
        assert_eq!(answered(delimiter.repeat(10_000_000 / delimiter.len()).as_bytes()), None, "{delimiter}");
    }
}

#[test]
fn a_run_in_every_row() {
    // Time starts again at once: a hundred thousand runs of a few rows are no class's readings.
    answered(("t (s),v (m/s)\n".to_owned() + &"0.0,0.1\n0.1,0.2\n".repeat(50_000)).as_bytes());
    answered("t (s),v (m/s)\n0.0,0.1\n0.1,0.2\n\n".repeat(20_000).as_bytes());
}

#[test]
fn a_long_table_is_read_in_full() {
    assert_eq!(answered(table(150_000).as_bytes()), Some(150_000));
}

#[test]
fn above_the_limit_a_file_is_refused_with_the_limit_and_what_to_do() {
    let errors = read_as(&vec![b' '; MAX_BYTES + 1], "").unwrap_err();
    let message = words(&errors);
    assert!(message.contains("too large") && message.contains("limit"), "{message}");
    assert_eq!((errors[0].line, errors[0].column), (1, 1));
}
