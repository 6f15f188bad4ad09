//! Files of every version there was open for ever, and those of newer ones are looked at.

use super::*;
use crate::analysis::analyze;
use crate::intake::sha256_hex;
use crate::lab::{Configuration, Record};
use crate::report::to_json;
use crate::torque::Motion;
use serde_json::Value;
use std::path::PathBuf;

/// The sample of each version with its SHA-256: it is never edited. Version 1 and 2 are files of their time, 3 was saved
/// by the program of that version.
const SAMPLES: [(u32, &str); 3] = [
    (1, "4cfef7cd774dffaba6f9263d474e57cab36333342942e3610feb847269e9d2b4"),
    (2, "100a778cc473f56caa72b0e5b902a59f59c4787b9cc3a50a9ab18f6b6ddb3832"),
    (3, "e0b7014fe0a92b60a7f473f2b7d9ddd361ab95dcf53e85403c6d728899a05f5f"),
];

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/labs/versions")
}

fn sample(version: u32) -> String {
    std::fs::read_to_string(folder().join(format!("v{version}.json"))).unwrap()
}

#[test]
fn each_version_has_a_sample_that_nobody_edited() {
    let versions: Vec<u32> = SAMPLES.iter().map(|sample| sample.0).collect();
    assert_eq!(versions, (1..=VERSION).collect::<Vec<_>>(), "a sample for each version");
    for (version, sha256) in SAMPLES {
        let text = sample(version);
        assert_eq!(sha256_hex(text.as_bytes()), sha256, "v{version}.json");
        let value: Value = serde_json::from_str(&text).unwrap();
        assert_eq!(value["version"], version);
    }
}

/// `expected.json` holds what the program of each version gave; estimators have become better since, so its moments of
/// inertia are compared within its standard uncertainties.
#[test]
fn each_version_gives_what_its_own_program_gave() {
    let expected: Value =
        serde_json::from_str(&std::fs::read_to_string(folder().join("expected.json")).unwrap()).unwrap();
    for (version, _) in SAMPLES {
        let text = sample(version);
        let lab = open_alone(&text).unwrap();
        let expected = &expected[format!("v{version}.json")];
        assert_eq!(lab.title, expected["title"].as_str().unwrap());
        let analysis = analyze(&lab);
        let lines = expected["lines"].as_array().unwrap();
        assert!(!lines.is_empty());
        let found = to_json(&lab, &analysis);
        for (line, found) in lines.iter().zip(found["lines"].as_array().unwrap()) {
            assert_eq!(found["name"], line["name"]);
            let inertia = found["moment_of_inertia_kg_m2"]["value"].as_f64().unwrap();
            let (value, u) = (line["value"].as_f64().unwrap(), line["u"].as_f64().unwrap());
            assert!((inertia - value).abs() <= u, "v{version}: {inertia} is not {value} within {u}");
        }
        assert_eq!(analysis.lines.configurations.len(), lines.len());
    }
}

#[test]
fn every_number_of_an_old_file_is_in_its_lab_bit_for_bit() {
    for (version, _) in SAMPLES {
        let text = sample(version);
        let (lab, file): (_, Value) = (open_alone(&text).unwrap(), serde_json::from_str(&text).unwrap());
        let runs = file["runs"].as_array().unwrap();
        assert_eq!(lab.runs().len(), runs.len());
        let mut compared = 0;
        for (run, written) in lab.runs().iter().zip(runs) {
            assert_eq!(run.name, written["name"].as_str().unwrap());
            assert_eq!(run.hanging_mass.map(|mass| mass.0), written["hanging_mass_kg"].as_f64());
            assert_eq!(run.motion.key(), written["motion"].as_str().unwrap_or(Motion::Falling.key()));
            assert_eq!(run.configuration == Configuration::EmptyTable, written["object"].is_null());
            if let Record::Readings(readings) = &run.record {
                let times = readings.pairs().into_iter().map(|pair| pair.0.to_bits());
                let column = written["readings"]["time_s"].as_array().unwrap();
                assert!(times.eq(column.iter().map(|time| time.as_f64().unwrap().to_bits())));
                compared += 1;
            }
        }
        assert!(compared > 5, "v{version}: {compared} runs with readings");
        // Saved it is of this version, and the same lab.
        let saved = save(&lab);
        assert!(saved.starts_with(&format!(r#"{{"format":"whorl-lab","version":{VERSION},"#)));
        assert_eq!(open_own(&saved), Ok(lab));
        let known = open_own(&text);
        assert_eq!(known.is_ok(), version == VERSION, "{known:?}");
    }
}

#[test]
fn a_complaint_names_the_line_in_the_old_file_as_it_is() {
    let text = sample(1);
    let at = text.find("\"source_file\": \"").unwrap();
    let wrong = format!("{}\"source_file\": 5, \"was\": \"{}", &text[..at], &text[at + 16..]);
    let line = text[..at].matches('\n').count() + 1;
    let column = text[..at].rsplit('\n').next().unwrap().chars().count() + 16;
    let told = open_alone(&wrong).unwrap_err().in_text_of("old.json", &wrong);
    let place = "at runs[0].source_file: expected text in quotes. Mend this place in the file";
    assert_eq!(told, format!("old.json, line {line}, column {column}: {place}"));
}

/// The sample of this version as a newer program might write it.
fn of_version_7() -> String {
    let newer = sample(VERSION).replacen(r#""version":3"#, r#""version":7,"weather":{"rain":[1,"a"]}"#, 1);
    assert!(newer.contains("weather"));
    newer
}

#[test]
fn a_newer_file_is_looked_at_and_stays_as_it_is() {
    let (text, known) = (of_version_7(), open_alone(&sample(VERSION)).unwrap());
    let lab = open_alone(&text).unwrap();
    assert_eq!((lab.newer(), known.newer()), (Some(7), None));
    assert_eq!(
        (lab.runs(), lab.objects(), &lab.apparatus),
        (known.runs(), known.objects(), &known.apparatus)
    );
    assert_eq!(analyze(&lab), analyze(&known));
    assert_eq!(open_own(&text), Err(LabFileError::OtherVersion { found: 7 }));
    // Whoever saves it gets the same bytes.
    assert_eq!(save(&lab), text);
    assert!(matches!(save_in_pieces(&lab)[..], [Piece::Record(_)]));
    let mut changed = lab.clone();
    let (run, object) = (lab.runs()[0].clone(), lab.objects()[0].id);
    assert!(changed.run_mut(run.id).is_none() && changed.object_mut(object).is_none());
    assert!(changed.parts_mut(object).is_none());
    changed.change_apparatus(|apparatus| apparatus.drum_radius = None);
    changed.add_run(run.clone());
    changed.remove_run(run.id);
    changed.add_object("clay".to_owned(), Vec::new());
    changed.set_stretch(
        run.id,
        crate::runs::Stretch::new(crate::quantity::Seconds(0.0), crate::quantity::Seconds(0.1)),
    );
    assert_eq!(changed, lab);
}

#[test]
fn a_newer_file_that_is_not_understood_says_so() {
    let text = of_version_7().replacen(r#""motion":"falling""#, r#""motion":"swinging""#, 1);
    let told = open_alone(&text).unwrap_err().in_text_of("new.json", &text);
    assert!(told.starts_with("new.json, line 1, column "), "{told}");
    let words = "this file was made by a newer Whorl (version 7; this one knows 3), and something in it that is needed is not understood, at runs[0].motion: say “falling”, “rising” or “coasting”. Reload the page";
    assert!(told.contains(words), "{told}");
}
