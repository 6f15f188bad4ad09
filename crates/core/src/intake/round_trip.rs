//! What was read, told as JSON and columns, comes back as it was; and what is something else is refused.

use super::{Carries, FirstLook, Intake, Proposal, columns, from_json, to_json};
use crate::lab::{Configuration, ObjectId};
use crate::quantity::{Kilograms, Seconds};
use crate::readings::{
    Answer, Choice, Column, Confidence, DecimalMark, Delimiter, Encoding, Guess, Layout, PreviewRow,
    Question, ReadingKind, Readings, Remark, Role,
};
use crate::runs::Stretch;
use crate::torque::Motion;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

fn number() -> impl Strategy<Value = f64> {
    prop::num::f64::NORMAL | prop::num::f64::ZERO | prop::num::f64::SUBNORMAL
}

fn count() -> impl Strategy<Value = usize> {
    0..=u32::MAX as usize
}

fn guess<T: core::fmt::Debug + Clone>(value: impl Strategy<Value = T>) -> impl Strategy<Value = Guess<T>> {
    (value, select(&Confidence::ALL[..]), any::<String>()).prop_map(|(value, confidence, reason)| Guess {
        value,
        confidence,
        reason,
    })
}

fn role() -> impl Strategy<Value = Role> {
    select(Role::all().collect::<Vec<_>>())
}

fn choice() -> impl Strategy<Value = Choice> {
    prop_oneof![
        select(&Encoding::ALL[..]).prop_map(Choice::Encoding),
        select(&Delimiter::ALL[..]).prop_map(Choice::Delimiter),
        select(&DecimalMark::ALL[..]).prop_map(Choice::Decimal),
        (1..100_usize, role()).prop_map(|(column, role)| Choice::Column(column, role)),
    ]
}

fn remark() -> impl Strategy<Value = Remark> {
    (option::of(count()), any::<String>()).prop_map(|(line, words)| Remark { line, words })
}

fn question() -> impl Strategy<Value = Question> {
    let answer =
        (any::<String>(), vec(choice(), 0..4)).prop_map(|(words, choices)| Answer { words, choices });
    (any::<String>(), vec(answer, 0..4)).prop_map(|(words, answers)| Question { words, answers })
}

fn layout() -> impl Strategy<Value = Layout> {
    let column = (any::<String>(), guess(role()), any::<bool>()).prop_map(|(heading, role, used)| Column {
        heading,
        role,
        used,
    });
    let row = (count(), vec(any::<String>(), 0..4), any::<bool>())
        .prop_map(|(line, fields, data)| PreviewRow { line, fields, data });
    let punctuation = (
        guess(select(&Encoding::ALL[..])),
        guess(select(&Delimiter::ALL[..])),
        guess(select(&DecimalMark::ALL[..])),
    );
    let tables = (vec(column, 0..4), vec(row, 0..4), vec(question(), 0..3), vec(remark(), 0..3));
    (punctuation, count(), tables, any::<String>()).prop_map(
        |((encoding, delimiter, decimal), rows, (columns, preview, questions, remarks), shape)| Layout {
            encoding,
            delimiter,
            decimal,
            rows,
            columns,
            preview,
            questions,
            remarks,
            shape,
        },
    )
}

fn carries() -> impl Strategy<Value = Carries> {
    prop_oneof![
        Just(Carries::Known(Configuration::EmptyTable)),
        any::<u32>().prop_map(|id| Carries::Known(Configuration::Loaded(ObjectId(id)))),
        any::<String>().prop_map(Carries::New),
        Just(Carries::Untold),
    ]
}

fn readings() -> impl Strategy<Value = Readings> {
    let rows = vec((1e-9..1e3_f64, number()), 1..20);
    (select(&ReadingKind::ALL[..]), -1e3..1e3_f64, rows).prop_filter_map(
        "times that are the same after rounding",
        |(kind, start, rows)| {
            let mut time = start;
            let times: Vec<_> = rows
                .iter()
                .map(|row| {
                    time += row.0;
                    Seconds(time)
                })
                .collect();
            let values: Vec<_> = rows.iter().map(|row| row.1).collect();
            Readings::from_columns(kind, &times, &values).ok()
        },
    )
}

fn first_look() -> impl Strategy<Value = FirstLook> {
    let stretch =
        (number(), number()).prop_map(|(from, to)| Stretch::new(Seconds(from), Seconds(to)).unwrap());
    (
        option::of(stretch),
        prop::result::maybe_ok(any::<String>(), any::<String>()),
        vec(any::<String>(), 0..3),
        vec((number(), number()), 0..10),
        any::<String>(),
    )
        .prop_map(|(stretch, acceleration, doubts, curve, curve_unit)| FirstLook {
            stretch,
            acceleration,
            doubts,
            curve,
            curve_unit,
        })
}

fn proposal() -> impl Strategy<Value = Proposal> {
    let entered = (any::<String>(), carries(), option::of(number()), select(&Motion::ALL[..]));
    (entered, readings(), vec(any::<String>(), 0..3), first_look()).prop_map(
        |((name, carries, hanging_mass, motion), readings, remarks, first)| Proposal {
            label: format!("run of {name}"),
            name,
            carries,
            hanging_mass: hanging_mass.map(Kilograms),
            motion,
            readings,
            remarks,
            first,
        },
    )
}

fn intake() -> impl Strategy<Value = Intake> {
    let layout = prop_oneof![layout().prop_map(Ok), any::<String>().prop_map(Err)];
    ((any::<String>(), count(), "[0-9a-f]{64}"), layout, vec(proposal(), 0..4)).prop_map(
        |((file, bytes, sha256), layout, proposals)| Intake { file, bytes, sha256, layout, proposals },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn what_was_read_comes_back_to_the_same_bits(intake in intake()) {
        let text = to_json(&intake).to_string();
        let back = from_json(&text, &columns(&intake)).unwrap();
        // Zeros of both signs are equal to each other; their texts are not.
        prop_assert_eq!(format!("{back:?}"), format!("{intake:?}"));
    }

    #[test]
    fn a_text_that_was_cut_or_changed_gives_an_error_or_a_reading(
        intake in intake(), at in any::<prop::sample::Index>(), put in "[0-9a-z\"{}\\[\\],:-]?",
    ) {
        let text = to_json(&intake).to_string();
        let places: Vec<_> = text.char_indices().map(|place| place.0).collect();
        let at = *at.get(&places);
        let rest = text[at..].chars().skip(1).collect::<String>();
        let _ = from_json(&text[..at], &columns(&intake)).unwrap_err();
        let _ = from_json(&format!("{}{put}{rest}", &text[..at]), &columns(&intake));
    }
}

fn small() -> Intake {
    let readings = Readings::from_gate_times(&[Seconds(0.1), Seconds(0.3)]).unwrap();
    let first = FirstLook {
        stretch: None,
        acceleration: Err(String::from("too few readings")),
        doubts: Vec::new(),
        curve: vec![(0.2, 0.5), (0.3, f64::NAN)],
        curve_unit: String::from("m/s"),
    };
    let proposal = Proposal {
        name: String::from("oak bar"),
        label: String::new(),
        carries: Carries::Untold,
        hanging_mass: None,
        motion: Motion::Falling,
        readings,
        remarks: Vec::new(),
        first,
    };
    Intake {
        file: String::from("oak-bar.csv"),
        bytes: 12,
        sha256: String::new(),
        layout: Err(String::from("line 1, column 1: no readings")),
        proposals: vec![proposal],
    }
}

#[test]
fn numbers_of_the_readings_stand_beside_the_text() {
    let intake = small();
    let document = to_json(&intake);
    let run = &document["runs"][0];
    assert_eq!((run["kind"].as_str(), run["readings"].as_u64()), (Some("gate-times"), Some(2)));
    assert_eq!(columns(&intake), [[vec![0.1, 0.3], vec![0.0, 1.0]]]);
    // A point that cannot be drawn is left out: JSON has no word for it.
    assert_eq!(run["first_look"]["curve"], serde_json::json!([[0.2, 0.5]]));
}

#[test]
fn what_does_not_fit_is_refused_with_its_place() {
    let text = to_json(&small()).to_string();
    let fitting = columns(&small());
    let complaint = |text: &str, columns: &[[Vec<f64>; 2]]| from_json(text, columns).unwrap_err().to_string();
    assert!(from_json(&text, &fitting).is_ok());
    for (columns, said) in [
        (vec![], "at runs: there are readings of another number of runs"),
        (vec![[vec![0.1], vec![0.0]]], "at runs[0].readings: other readings came with it"),
        (vec![[vec![0.3, 0.1], vec![0.0, 1.0]]], "at runs[0].readings: other readings came with it"),
    ] {
        assert_eq!(complaint(&text, &columns), said);
    }
    let changed = |from: &str, to: &str| complaint(&text.replace(from, to), &fitting);
    assert_eq!(changed("\"untold\"", "\"something\""), "at runs[0].carries: there is no such word");
    assert_eq!(changed("\"falling\"", "\"floating\""), "at runs[0].motion: there is no such word");
    assert_eq!(changed("[0.2,0.5]", "[0.2]"), "at runs[0].first_look.curve[0]: expected two numbers");
    assert!(complaint("{", &fitting).starts_with("line 1, column 1"));
}
