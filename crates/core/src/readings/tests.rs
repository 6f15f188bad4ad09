//! Files as people write them, and as they should not; the corpus of whole files is in `tests/readings`.

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

// Found by `cargo xtask test fuzz`: a later table's question was none of the file's.
#[test]
fn a_file_without_runs_has_a_question_or_a_complaint() {
    let read = super::read(b"0\nw\n1", &Choices::default(), &mut |_| {});
    let answered = match read {
        Ok(understood) => understood.layout.questions.len(),
        Err(errors) => errors.len(),
    };
    assert!(answered > 0);
}

// Found by `cargo xtask test fuzz`.
#[test]
fn a_question_has_two_answers_or_more() {
    let text = "svelocidadtateo (s\u{7f});estado\n0,pouce350\u{7f}";
    if let Ok(read) = super::read(text.as_bytes(), &Choices::default(), &mut |_| {}) {
        assert!(read.layout.questions.iter().all(|question| question.answers.len() > 1));
    }
    let read = super::read(b"t (s);gate (pouce)\n0;0\n1;1\n2;0\n3;1\n", &Choices::default(), &mut |_| {});
    assert_eq!(read.map(|read| read.layout.questions), Ok(Vec::new()));
}

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
        &["line 3, column 2: “abc” is not a number; write it like 0.125, or delete the row"],
    );
    complains(
        "t,v\n0,1,0,2\n0,2,0,3\n",
        Some(VELOCITY),
        &[
            "line 2, column 3: this row has 4 fields, the rows above have 2; if commas are decimal marks here, separate the columns by semicolons or tabs",
        ],
    );
    let nothing = "line 1, column 1: no readings found; expected rows of numbers, for example “0.125, 0.31”";
    complains("hello\n", None, &[nothing]);
    complains("", None, &[nothing]);
    complains(
        "t,v\n# remark\n\n0,1\n1,2,3\n2,3\n",
        None,
        &[
            "line 5, column 3: this row has 3 fields, the rows above have 2; if commas are decimal marks here, separate the columns by semicolons or tabs",
        ],
    );
}

fn understood(text: &str) -> Understood {
    read(text.as_bytes(), &Choices::default(), &mut |_| {}).unwrap()
}

#[test]
fn a_wrong_row_among_many_is_left_out_and_said() {
    let rows: String = (0..30)
        .map(
            |row| {
                if row == 7 { "0.7,abc\n".to_owned() } else { format!("{},{row}\n", f64::from(row) / 10.0) }
            },
        )
        .collect();
    let found = understood(&format!("t (s),v (m/s)\n{rows}"));
    assert_eq!(found.runs[0].readings.count(), 29);
    assert_eq!(found.layout.remarks[0].line, Some(9));
}

#[test]
fn two_bare_columns_ask_what_they_are() {
    let found = understood("0,0.1\n0.5,0.2\n1,0.3\n");
    let question = &found.layout.questions[0];
    assert_eq!(question.answers[0].words, "velocity m/s");
    let mut choices = Choices::default();
    for choice in &question.answers[1].choices {
        choices.set(*choice);
    }
    let answered = read(b"0,0.1\n0.5,0.2\n1,0.3\n", &choices, &mut |_| {}).unwrap();
    assert_eq!((answered.layout.questions.len(), answered.runs[0].readings.kind()), (0, POSITION));
}

#[test]
fn an_unknown_unit_is_asked_about() {
    let found = understood("t (s),velocity (furlong/h)\n0,1\n1,2\n");
    assert!(found.layout.questions[0].words.contains("“furlong/h”"), "{:?}", found.layout.questions);
}

#[test]
fn gate_times_come_as_intervals_states_and_pairs() {
    let kinds = |text: &str| {
        understood(text)
            .runs
            .iter()
            .map(|run| (run.readings.kind(), run.readings.count()))
            .collect::<Vec<_>>()
    };
    assert_eq!(kinds("Δt (ms)\n200\n90\n70\n60\n"), [(GATE, 5)]);
    assert_eq!(
        kinds("Zeit (s);Zustand\n0;offen\n0,1;zu\n0,2;offen\n0,25;zu\n"),
        [(ReadingKind::BothEdges, 3)]
    );
    assert_eq!(kinds("time (s),gate\n0,0\n1,0\n2,1\n3,1\n4,0\n5,0\n"), [(ReadingKind::BothEdges, 2)]);
    assert_eq!(
        kinds("blocked at (s),open at (s)\n0.1,0.2\n0.3,0.35\n0.4,0.45\n"),
        [(ReadingKind::BothEdges, 6)]
    );
}

#[test]
fn runs_stand_side_by_side_and_one_below_another() {
    let runs = |text: &str| {
        understood(text).runs.iter().map(|run| (run.label.clone(), run.readings.count())).collect::<Vec<_>>()
    };
    let run = |label: &str, count| (label.to_owned(), count);
    assert_eq!(
        runs("Run 1;;Run 2;\nt (s);v (m/s);t (s);v (m/s)\n0;0,1;0;0,2\n1;0,2;1;0,4\n2;0,3;;\n"),
        [run("Run 1", 3), run("Run 2", 2)]
    );
    assert_eq!(
        runs("t (s),v run 1 (m/s),v run 2 (m/s)\n0,0.1,0.2\n1,0.2,0.4\n"),
        [run("run 1", 2), run("run 2", 2)]
    );
    assert_eq!(
        runs("Run 1\nt (s),v (m/s)\n0,0.1\n1,0.2\n\nRun 2\nt (s),v (m/s)\n0,0.1\n1,0.2\n2,0.3\n"),
        [run("Run 1", 2), run("Run 2", 3)]
    );
    assert_eq!(runs("run,t (s),v (m/s)\n1,0,0.1\n1,1,0.2\n2,0,0.1\n2,1,0.2\n"), [run("1", 2), run("2", 2)]);
}

#[test]
fn readings_of_another_kind_than_said_are_refused_and_both_edges_can_be_said() {
    let said = |text: &str, kind| parse(text.as_bytes(), Some(kind));
    let wrong = said("t (s),x (m)\n0,0\n1,1\n2,4\n", VELOCITY).unwrap_err();
    assert_eq!(wrong[0].kind, ReadingErrorKind::NoSuchColumn { wanted: "velocities" });
    let times = "t (s)\n0.1\n0.3\n0.4\n0.5\n";
    assert_eq!(said(times, ReadingKind::BothEdges).unwrap().kind(), ReadingKind::BothEdges);
    assert_eq!(said(times, GATE).unwrap().kind(), GATE);
}

#[test]
fn a_table_below_the_first_is_asked_about_as_well() {
    let rows = "0,0.1\n1,0.2\n2,0.4\n";
    let found = understood(&format!("t (s),v (m/s)\n{rows}\nsecond\nt (s),angle\n{}", "0,10\n1,40\n2,100\n"));
    assert_eq!(found.layout.questions.len(), 1, "{:?}", found.layout.questions);
}

#[test]
fn rows_in_the_wrong_place_and_doubled_rows_are_mended_and_said() {
    let found = understood("t (s),x (m)\n0,0\n1,1\n3,9\n2,4\n4,16\n4,16\n5,25\n6,36\n7,49\n");
    let run = &found.runs[0];
    assert_eq!(run.readings.pairs()[2..4], [(2.0, 4.0), (3.0, 9.0)]);
    assert_eq!((run.readings.count(), run.remarks.len()), (8, 2));
}

#[test]
fn a_kind_the_file_does_not_hold_is_refused() {
    let errors = parse(b"t,x\n0,1\n1,2\n", Some(VELOCITY)).unwrap_err();
    assert_eq!(errors[0].kind, ReadingErrorKind::NoSuchColumn { wanted: "velocities" });
}

#[test]
fn a_long_word_is_quoted_in_part() {
    let text = format!("t,v\n0,1\n1,2\n2,{}\n", "x".repeat(100_000));
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
    fn what_was_written_is_read_back(pairs in proptest::collection::vec((0.001..10.0_f64, -5.0..5.0_f64), 2..50), semicolon: bool) {
        let mut time = 0.0;
        let rows: Vec<(f64, f64)> = pairs.iter().map(|&(step, v)| { time += step; (time, v) }).collect();
        let line = |(t, v): &(f64, f64)| if semicolon { format!("{t};{v}\n").replace('.', ",") } else { format!("{t},{v}\n") };
        let text: String = rows.iter().map(line).collect();
        let found = parse(text.as_bytes(), Some(VELOCITY)).unwrap().pairs();
        prop_assert_eq!(found, rows);
    }
}
