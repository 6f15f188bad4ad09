//! Files as people write them, and as they should not.

use super::*;
use proptest::prelude::*;

#[track_caller]
fn check(text: &str, wanted: Option<ReadingKind>, kind: ReadingKind, pairs: &[(f64, f64)]) {
    let readings = parse(text.as_bytes(), wanted).unwrap();
    assert_eq!(readings.kind(), kind);
    assert_eq!(readings.pairs(), pairs);
}

#[track_caller]
fn complains(text: &str, wanted: Option<ReadingKind>, messages: &[&str]) {
    let errors = parse(text.as_bytes(), wanted).unwrap_err();
    let found: Vec<String> = errors.iter().map(ToString::to_string).collect();
    assert_eq!(found, messages);
}

const VELOCITY: ReadingKind = ReadingKind::Velocity;
const POSITION: ReadingKind = ReadingKind::Position;
const GATE: ReadingKind = ReadingKind::GateTimes;

#[test]
fn headings_tell_the_kind() {
    check("t (s),v (m/s)\n0,0.1\n0.5,0.2\n", None, VELOCITY, &[(0.0, 0.1), (0.5, 0.2)]);
    check("time,position\n0,0.1\n0.5,0.2\n", None, POSITION, &[(0.0, 0.1), (0.5, 0.2)]);
    check("gate time (s)\n0.1\n0.2\n", None, GATE, &[(0.1, 0.0), (0.2, 1.0)]);
    check("0.1\n0.2\n", None, GATE, &[(0.1, 0.0), (0.2, 1.0)]);
}

#[test]
fn the_user_s_choice_settles_what_a_bare_table_is() {
    check("0,0.1\n0.5,0.2\n", Some(VELOCITY), VELOCITY, &[(0.0, 0.1), (0.5, 0.2)]);
    check("0,0.1\n0.5,0.2\n", Some(GATE), GATE, &[(0.0, 0.0), (0.5, 1.0)]);
}

#[test]
fn separators_decimal_commas_and_units_are_understood() {
    check("\u{feff}t [ms];x [mm]\r\n0;1,5\r\n500;2,5\r\n", None, POSITION, &[(0.0, 0.0015), (0.5, 0.0025)]);
    check("t\tv\n0,5\t1\n0,75\t−2\n", None, VELOCITY, &[(0.5, 1.0), (0.75, -2.0)]);
    check(
        "# note, with comma\n\nv (m/s),t (s)\n\"1.5\",0\n1.75,1\n",
        None,
        VELOCITY,
        &[(0.0, 1.5), (1.0, 1.75)],
    );
    check("time,velocity\ns,cm/s\n0,10\n1,20\n", None, VELOCITY, &[(0.0, 0.1), (1.0, 0.2)]);
    check("time,velocity\n(s),(cm/s)\n0,10\n1,20\n", None, VELOCITY, &[(0.0, 0.1), (1.0, 0.2)]);
}

#[test]
fn complaints_name_line_column_and_remedy() {
    complains(
        "t,v\n0,0.1\n0.5,abc\n0.4,\n",
        None,
        &[
            "line 3, column 2: “abc” is not a number; write it like 0.125, or delete the row",
            "line 4, column 2: a number is missing here; fill it in or delete the row",
        ],
    );
    complains(
        "t,v\n0.5,1\n0.5,2\n",
        None,
        &["line 3, column 1: time 0.5 s does not come after 0.5 s; delete the row or sort the rows by time"],
    );
    complains(
        "t,v\n0,1,0,2\n0,2,0,3\n",
        Some(VELOCITY),
        &[
            "line 2, column 3: this row has 4 fields, the rows above have 2; if commas are decimal marks here, separate the columns by semicolons or tabs",
        ],
    );
    complains(
        "hello\n",
        None,
        &["line 1, column 1: no readings found; expected rows of numbers, for example “0.125, 0.31”"],
    );
    complains(
        "",
        None,
        &["line 1, column 1: no readings found; expected rows of numbers, for example “0.125, 0.31”"],
    );
    complains(
        "t,v\n# remark\n\n0,1\n1,2,3\n",
        None,
        &[
            "line 5, column 3: this row has 3 fields, the rows above have 2; if commas are decimal marks here, separate the columns by semicolons or tabs",
        ],
    );
    complains(
        "velocity (knot)\n1\n",
        None,
        &[
            "line 1, column 1: the unit “knot” is not known here; use s, ms or µs for time, m, cm or mm for position, m/s, cm/s or mm/s for velocity, m/s² or cm/s² for acceleration, rad or ° for the table’s angle, rad/s, °/s or rpm for its angular velocity",
        ],
    );
}

#[test]
fn two_bare_columns_ask_what_they_are() {
    let errors = parse(b"0,1\n1,2\n", None).unwrap_err();
    assert_eq!(errors[0].kind, ReadingErrorKind::KindUnclear);
}

#[test]
fn a_kind_the_file_does_not_hold_is_refused() {
    let errors = parse(b"t,x\n0,1\n1,2\n", Some(VELOCITY)).unwrap_err();
    assert_eq!(errors[0].kind, ReadingErrorKind::NoSuchColumn { wanted: "velocities" });
}

#[test]
fn bytes_that_are_not_text_are_refused_with_their_line() {
    let errors = parse(b"t,v\n0,1\n\xff,2\n", None).unwrap_err();
    assert_eq!((errors[0].line, &errors[0].kind), (3, &ReadingErrorKind::NotText));
    let utf16: Vec<u8> = "t,v\n0,1\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert_eq!(parse(&utf16, None).unwrap_err()[0].kind, ReadingErrorKind::NotText);
}

#[test]
fn a_long_word_is_quoted_in_part() {
    let text = format!("t,v\n0,1\n1,{}\n", "x".repeat(100_000));
    assert!(parse(text.as_bytes(), None).unwrap_err()[0].to_string().len() < 200);
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused_without_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        for wanted in [None, Some(VELOCITY), Some(POSITION), Some(GATE)] {
            if let Err(errors) = parse(&bytes, wanted) {
                prop_assert!(!errors.is_empty());
            }
        }
    }

    #[test]
    fn almost_tables_are_read_or_refused_without_a_panic(text in "([tvx0-9.,;\\-\"#\n\r\t ()/sm]{0,80}\n){0,6}") {
        for wanted in [None, Some(VELOCITY), Some(GATE)] {
            let _ = parse(text.as_bytes(), wanted);
        }
    }

    #[test]
    fn what_was_written_is_read_back(pairs in proptest::collection::vec((0.001..10.0_f64, -5.0..5.0_f64), 1..50), semicolon: bool) {
        let mut time = 0.0;
        let rows: Vec<(f64, f64)> = pairs.iter().map(|&(step, v)| { time += step; (time, v) }).collect();
        let line = |(t, v): &(f64, f64)| if semicolon { format!("{t};{v}\n").replace('.', ",") } else { format!("{t},{v}\n") };
        let text: String = rows.iter().map(line).collect();
        let found = parse(text.as_bytes(), Some(VELOCITY)).unwrap().pairs();
        prop_assert_eq!(found, rows);
    }
}
