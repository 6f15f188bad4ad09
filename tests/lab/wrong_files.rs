//! Files that must be refused: what is said, and where, for each in `labs/wrong`.

use whorl_core::readings::{ReadingKind, parse};

#[track_caller]
fn refused(bytes: &[u8], complaints: &[&str]) {
    let errors = parse(bytes, None).unwrap_err();
    let found: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(found, complaints);
}

macro_rules! wrong {
    ($name:literal) => {
        include_bytes!(concat!("../labs/wrong/", $name))
    };
}

#[test]
fn a_word_among_numbers_is_quoted_with_its_place() {
    refused(
        wrong!("word-in-a-number-column.csv"),
        &["line 8, column 2: “slipped” is not a number; write it like 0.125, or delete the row"],
    );
}

#[test]
fn text_in_another_encoding_is_recognized() {
    refused(
        wrong!("utf-16.csv"),
        &["line 1, column 1: this is not plain UTF-8 text; export the table as “CSV UTF-8” and add it again"],
    );
}

#[test]
fn an_empty_file_holds_no_readings() {
    refused(
        wrong!("empty.csv"),
        &["line 1, column 1: no readings found; expected rows of numbers, for example “0.125, 0.31”"],
    );
}

#[test]
fn time_that_runs_backwards_is_shown_with_both_times() {
    refused(
        wrong!("time-going-backwards.csv"),
        &["line 11, column 1: time 0.8 s does not come after 0.9 s; delete the row or sort the rows by time"],
    );
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
fn an_unknown_unit_is_named_with_those_that_are_known() {
    refused(
        wrong!("unknown-unit.csv"),
        &[
            "line 1, column 2: the unit “ft/s” is not known here; use s, ms or µs for time, m, cm or mm for position, m/s, cm/s or mm/s for velocity, rad or ° for the table’s angle, rad/s, °/s or rpm for its angular velocity",
        ],
    );
}

#[test]
fn two_columns_without_headings_are_asked_about_and_then_read() {
    let bytes = wrong!("no-headings.csv");
    refused(
        bytes,
        &[
            "line 1, column 1: the heading does not say what the columns are; choose “time and velocity” or “time and position” for this file, or name the columns, for example “t (s), v (m/s)”",
        ],
    );
    assert_eq!(parse(bytes, Some(ReadingKind::Velocity)).unwrap().count(), 12);
}
