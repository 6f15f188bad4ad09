//! Samples of every punctuation.

use super::*;

fn found(text: &str) -> Dialect {
    dialect(text, &Choices::default(), &|| false).unwrap()
}

#[track_caller]
fn check(text: &str, delimiter: Delimiter, mark: DecimalMark, width: usize) {
    let found = found(text);
    assert_eq!((found.delimiter.value, found.decimal.value, found.width), (delimiter, mark, width), "{text}");
    assert_eq!(found.question, None, "{text}");
}

#[test]
fn delimiters_and_decimal_marks() {
    use DecimalMark::{Comma as C, Point as P};
    check("t,v\n0.1,2\n0.2,3\n", Delimiter::Comma, P, 2);
    check("# a; note\nt;v\n0,1;2\n0,2;2\n", Delimiter::Semicolon, C, 2);
    check("0,1\t2\n0,2\t3\n", Delimiter::Tab, C, 2);
    check("t v\n 0.1   2\n 0.2  13\n", Delimiter::Spaces, P, 2);
    check("0,1 2,5\n0,2 3,5\n", Delimiter::Spaces, C, 2);
    check("t | v\n0.1 | 2\n", Delimiter::Bar, P, 2);
    check("\"0,1\",\"2,5\"\n\"0,2\",\"2,6\"\n", Delimiter::Comma, C, 2);
    check("t;v\n1 234,5;2\n1 235,5;2\n", Delimiter::Semicolon, C, 2);
    check("sep=;\nt;v\n1;2\n", Delimiter::Semicolon, P, 2);
}

#[test]
fn a_lone_column_of_decimal_commas() {
    check("Zeit (s)\n0,125\n0,250\n", Delimiter::Tab, DecimalMark::Comma, 1);
    check("0,125\n0,250\n0,375\n", Delimiter::Tab, DecimalMark::Comma, 1);
    check("0,05\n1,10\n", Delimiter::Tab, DecimalMark::Comma, 1);
    check("t,v\n0,1\n1,2\n", Delimiter::Comma, DecimalMark::Point, 2);
    assert!(found("0,10\n1,20\n2,30\n").question.is_some());
}

#[test]
fn groups_of_three_are_asked_about_unless_time_tells() {
    let asked = found("1,234;5\n2,345;6\n");
    assert_eq!(asked.question.unwrap().answers.len(), 2);
    check("998;1\n999;2\n1,000;3\n1,001;4\n", Delimiter::Semicolon, DecimalMark::Point, 2);
    check("1.234;5\n2.345;6\n", Delimiter::Semicolon, DecimalMark::Point, 2);
    let german = dialect("1.234;5\n2.345;6\n", &Choices::default(), &|| true).unwrap();
    assert!(german.question.is_some());
}

#[test]
fn words_have_their_columns() {
    let state = found("Zeit;Zustand\n0,1;zu\n0,2;offen\n");
    assert_eq!((state.width, state.words), (2, vec![false, true]));
}
