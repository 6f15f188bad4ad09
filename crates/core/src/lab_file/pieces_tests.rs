//! A lab in pieces is the saved lab, and its readings are not looked at.

use super::*;
use crate::lab::{Configuration, Record, RunEntry, RunId};
use crate::quantity::Seconds;
use crate::readings::{ReadingKind, Readings};
use crate::torque::Motion;
use proptest::prelude::*;
use std::path::{Path, PathBuf};

/// What whoever keeps the pieces would write into a file.
fn put_together(lab: &Lab) -> String {
    let text = |piece: Piece<'_>| match piece {
        Piece::Text(text) => text,
        Piece::Readings(readings) => readings_text(readings),
        Piece::Record(record) => record.to_string(),
    };
    save_in_pieces(lab).into_iter().map(text).collect()
}

fn run(record: Record) -> RunEntry {
    RunEntry {
        id: RunId(0),
        name: "slate \"disc\"\u{0}".to_owned(),
        configuration: Configuration::EmptyTable,
        hanging_mass: None,
        motion: Motion::Falling,
        stretch: None,
        record,
        source: None,
    }
}

fn readings(kind: ReadingKind, count: u32) -> Readings {
    let times: Vec<Seconds> = (0..count).map(|k| Seconds(f64::from(k) * 1e-3)).collect();
    let values: Vec<f64> = times.iter().map(|time| time.0 * 0.3).collect();
    Readings::from_columns(kind, &times, &values).unwrap()
}

fn lab_of(runs: u32, count: u32) -> Lab {
    let mut lab = Lab::default();
    for _ in 0..runs {
        lab.add_run(run(Record::Readings(readings(ReadingKind::Velocity, count))));
    }
    lab
}

proptest! {
    #[test]
    fn pieces_put_together_are_the_saved_lab(
        runs in proptest::collection::vec((0..9_usize, 1..20_u32), 0..6), title in "\\PC{0,20}", is_recorded: bool
    ) {
        let mut lab = Lab::default();
        lab.title = title;
        for (kind, count) in runs {
            lab.add_run(run(match ReadingKind::ALL.get(kind) {
                Some(&kind) => Record::Readings(readings(kind, count)),
                None => Record::Stopwatch(vec![Seconds(1.5); kind]),
            }));
        }
        if is_recorded {
            lab = recorded(lab, Dataset { title: "disc".to_owned(), recorded_by: "A. Potter".to_owned(),
                licence: "CC BY 4.0".to_owned(), ..Dataset::default() });
        }
        let saved = save(&lab);
        prop_assert_eq!(put_together(&lab), saved.as_str());
        prop_assert_eq!(open_alone(&saved), Ok(lab));
        // Nothing stands in it that serde_json would have written otherwise.
        let value: serde_json::Value = serde_json::from_str(&saved).unwrap();
        prop_assert_eq!(value["version"].as_u64(), Some(u64::from(VERSION)));
    }
}

fn labs_under(folder: &Path, found: &mut Vec<(PathBuf, Lab)>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            labs_under(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "json") {
            let text = std::fs::read_to_string(&path).unwrap();
            let beside = path.parent().unwrap();
            let read = &mut |file: &OpenedPath<'_>| Ok(std::fs::read(beside.join(file.as_str())).unwrap());
            found.extend(open(&text, read).ok().map(|lab| (path, lab)));
        }
    }
}

#[test]
fn so_are_those_of_the_labs_that_come_with_whorl() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut labs = Vec::new();
    for folder in ["tests/labs", "web/library", "web/samples"] {
        labs_under(&root.join(folder), &mut labs);
    }
    let recorded = labs.iter().filter(|(_, lab)| lab.is_recorded()).count();
    assert!(labs.len() >= 14 && recorded >= 3, "{} labs, {recorded} recorded", labs.len());
    for (path, lab) in labs {
        assert_eq!(put_together(&lab), save(&lab), "{}", path.display());
        let readings = lab.runs().iter().filter_map(|run| run.record.readings()).count();
        let pieces = save_in_pieces(&lab);
        assert_eq!(pieces.iter().filter(|piece| matches!(piece, Piece::Readings(_))).count(), readings);
        assert_eq!(pieces.iter().any(|piece| matches!(piece, Piece::Record(_))), lab.is_recorded());
    }
}

#[test]
fn what_is_written_anew_does_not_grow_with_the_readings() {
    let written = |count| {
        let lab = lab_of(3, count);
        let text = |piece: Piece<'_>| match piece {
            Piece::Text(text) => text,
            Piece::Readings(_) | Piece::Record(_) => String::new(),
        };
        save_in_pieces(&lab).into_iter().map(text).collect::<String>()
    };
    assert_eq!(written(2), written(20_000));
    // Readings are those of the lab and of its copies, by which they are known again.
    let lab = lab_of(3, 2);
    let copy = lab.clone();
    let same = |(piece, other): (&Piece<'_>, &Piece<'_>)| match (piece, other) {
        (Piece::Readings(a), Piece::Readings(b)) => Some(a.is_same(b)),
        _ => None,
    };
    let (pieces, others) = (save_in_pieces(&lab), save_in_pieces(&copy));
    let found: Vec<bool> = pieces.iter().zip(&others).filter_map(same).collect();
    assert_eq!(found, [true; 3]);
}
