//! Files that are wrong in one way: what is said, and where, for each in `labs/wrong`. The whole corpus of
//! files is in `readings`.

use whorl_core::readings::{Choices, Encoding, ReadingKind, Understood, parse, read};

#[track_caller]
fn refused(bytes: &[u8], complaints: &[&str]) {
    let errors = parse(bytes, None).unwrap_err();
    let found: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(found, complaints);
}

fn understood(bytes: &[u8]) -> Understood {
    read(bytes, &Choices::default(), &mut |_| {}).unwrap()
}

macro_rules! wrong {
    ($name:literal) => {
        include_bytes!(concat!("../labs/wrong/", $name))
    };
}

#[test]
fn a_word_among_numbers_is_left_out_and_quoted_with_its_place() {
    let found = understood(wrong!("word-in-a-number-column.csv"));
    assert_eq!(found.runs[0].readings.count(), 11);
    let remark = &found.layout.remarks[0];
    assert_eq!(remark.line, Some(8));
    assert!(remark.words.contains("column 2") && remark.words.contains("“slipped”"), "{}", remark.words);
}

#[test]
fn text_in_another_encoding_is_read() {
    let found = understood(wrong!("utf-16.csv"));
    assert_eq!(found.layout.encoding.value, Encoding::Utf16Little);
    assert_eq!((found.runs[0].readings.kind(), found.runs[0].readings.count()), (ReadingKind::Velocity, 12));
}

#[test]
fn an_empty_file_holds_no_readings() {
    refused(
        wrong!("empty.csv"),
        &["line 1, column 1: no readings found; expected rows of numbers, for example “0.125, 0.31”"],
    );
}

#[test]
fn a_row_at_which_time_runs_backwards_is_put_in_its_place_and_said() {
    let found = understood(wrong!("time-going-backwards.csv"));
    let pairs = found.runs[0].readings.pairs();
    assert!(pairs.windows(2).all(|pair| pair[0].0 < pair[1].0));
    let remark = &found.runs[0].remarks[0];
    assert_eq!(remark.line, Some(11));
    assert!(remark.words.contains("wrong place"), "{}", remark.words);
}

#[test]
fn decimal_commas_between_commas_are_suspected() {
    refused(
        wrong!("decimal-commas-between-commas.csv"),
        &[
            "line 2, column 3: this row has 4 fields, the rows above have 2; if commas are decimal marks here, separate the columns by semicolons or tabs",
        ],
    );
}

#[test]
fn an_unknown_unit_is_asked_about() {
    let found = understood(wrong!("unknown-unit.csv"));
    let question = &found.layout.questions[0];
    assert!(question.words.contains("Column 2") && question.words.contains("“ft/s”"), "{}", question.words);
    let answers: Vec<&str> = question.answers.iter().map(|answer| answer.words.as_str()).collect();
    assert_eq!(answers, ["velocity m/s", "velocity cm/s", "velocity mm/s"]);
    assert!(parse(wrong!("unknown-unit.csv"), None).unwrap_err()[0].to_string().contains("“ft/s”"));
}

#[test]
fn two_columns_without_headings_are_asked_about_and_then_read() {
    let bytes = wrong!("no-headings.csv");
    assert_eq!(understood(bytes).layout.questions.len(), 1);
    assert!(parse(bytes, None).unwrap_err()[0].to_string().contains("What was measured?"));
    assert_eq!(parse(bytes, Some(ReadingKind::Velocity)).unwrap().count(), 12);
}
