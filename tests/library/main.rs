//! The library that comes with the page (`web/library`): what the simulator gives, and what can be found in it.
//!
//! `WRITE_LIBRARY=1 cargo test -p whorl-tests --test library` writes the files anew.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test: what cannot happen stops it")]

mod made;

use made::{Story, stories};
use serde_json::{Value, json};
use std::fs;
use std::path::PathBuf;
use whorl_core::analysis::analyze;
use whorl_core::diagnosis::{Cause, Severity, apply, diagnose};
use whorl_core::intake::sha256_hex;
use whorl_core::lab::{Lab, ObjectId, Provenance};
use whorl_core::lab_file::{open_alone, save};
use whorl_core::library;
use whorl_core::measured::coverage::Probability;
use whorl_core::quantity::Quantity;

/// Gate times are kept to 1 µs, as by a logger; another processor may round the last place the other way.
const CLOCK_S: f64 = 1.5e-6;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../web/library")
}

fn file(name: &str) -> String {
    fs::read_to_string(folder().join(name)).unwrap()
}

fn index(language: usize, stories: &[Story]) -> String {
    let datasets: Vec<Value> = stories
        .iter()
        .map(|story| {
            let [title, about] = [story.listed[language].0, story.listed[language].1];
            json!({
                "title": title,
                "about": about,
                "file": format!("{}.json", story.name),
                "recorded_by": story.recorded_by(),
                "licence": made::LICENCE,
                "simulated": true,
                "sha256": sha256_hex(file(&format!("{}.json", story.name)).as_bytes()),
            })
        })
        .collect();
    let title =
        ["Simulated labs of the pottery studio", "Prácticas simuladas del taller de cerámica"][language];
    let index =
        json!({"format": library::FORMAT, "version": library::VERSION, "title": title, "datasets": datasets});
    serde_json::to_string_pretty(&index).unwrap() + "\n"
}

#[track_caller]
fn same(found: &Value, made: &Value, place: &str) {
    match (found, made) {
        (Value::Object(found), Value::Object(made)) => {
            assert_eq!(found.keys().collect::<Vec<_>>(), made.keys().collect::<Vec<_>>(), "{place}");
            made.iter().for_each(|(name, value)| same(&found[name], value, &format!("{place}.{name}")));
        }
        (Value::Array(found), Value::Array(made)) => {
            assert_eq!(found.len(), made.len(), "{place}");
            found.iter().zip(made).for_each(|(found, made)| same(found, made, place));
        }
        (Value::Number(found), Value::Number(made)) if place.ends_with("time_s") => {
            let (found, made) = (found.as_f64().unwrap(), made.as_f64().unwrap());
            assert!((found - made).abs() < CLOCK_S, "{place}: {found} instead of {made}");
        }
        _ => assert_eq!(found, made, "{place}"),
    }
}

#[test]
fn the_files_are_what_the_simulator_gives() {
    let stories = stories();
    let write = std::env::var_os("WRITE_LIBRARY").is_some();
    for story in &stories {
        let (name, text) = (format!("{}.json", story.name), save(&story.lab));
        if write {
            fs::write(folder().join(&name), &text).unwrap();
        }
        let parse = |text: &str| serde_json::from_str::<Value>(text).unwrap();
        same(&parse(&file(&name)), &parse(&text), &name);
    }
    for (language, name) in ["index.json", "index.es.json"].into_iter().enumerate() {
        let text = index(language, &stories);
        if write {
            fs::write(folder().join(name), &text).unwrap();
        }
        assert_eq!(file(name), text, "{name}");
    }
}

#[test]
fn the_index_names_the_three_and_says_that_they_are_simulated() {
    for name in ["index.json", "index.es.json"] {
        let found = library::open(name, &file(name)).unwrap();
        assert_eq!(found.datasets.len(), 3);
        for listed in &found.datasets {
            let text = file(&listed.file);
            assert!(listed.means(text.as_bytes()), "{}", listed.file);
            assert!(listed.simulated && opened(&listed.file).provenance == Provenance::Simulated);
        }
    }
}

fn opened(name: &str) -> Lab {
    let lab = open_alone(&file(name)).unwrap();
    let dataset = lab.dataset().unwrap();
    assert!(dataset.recorded_by.contains("simulat") && dataset.apparatus_notes.contains("computer"));
    assert!(dataset.picture.is_some());
    lab
}

/// Whether the object's moment of inertia, as measured, holds the truth in its 95 % interval.
fn holds(story: &Story, lab: &Lab) -> bool {
    let analysis = analyze(lab);
    let measured = &analysis.objects[0].measured.as_ref().unwrap().moment_of_inertia.total;
    let interval = measured.coverage_interval(Probability::P95);
    (interval.low.si()..=interval.high.si()).contains(&story.truth_kg_m2)
}

#[test]
fn ring_and_clay_give_what_is_true_and_nothing_spoils_them() {
    for story in stories().iter().filter(|story| story.name != "oak-bar") {
        let lab = opened(&format!("{}.json", story.name));
        assert!(holds(story, &lab), "{}", story.name);
        let findings = diagnose(&lab, &analyze(&lab));
        let worst: Vec<_> = findings.iter().filter(|finding| finding.severity == Severity::Spoils).collect();
        assert!(worst.is_empty(), "{worst:?}");
    }
}

#[test]
fn the_slip_of_the_bar_s_string_can_be_found() {
    let lab = opened("oak-bar.json");
    let slip = lab.runs()[made::SLIPPED].id;
    let findings = diagnose(&lab, &analyze(&lab));
    assert!(
        findings.iter().any(|finding| finding.cause == Cause::StringSlip && finding.runs.contains(&slip)),
        "{findings:?}"
    );
}

#[test]
fn once_the_slip_is_left_out_the_bar_gives_what_is_true() {
    let story = stories().into_iter().find(|story| story.name == "oak-bar").unwrap();
    let mut lab = opened("oak-bar.json");
    let slip = lab.runs()[made::SLIPPED].id;
    assert!(lab.run(slip).unwrap().stretch.is_some());
    let findings = diagnose(&lab, &analyze(&lab));
    let fix = findings
        .iter()
        .find(|finding| finding.cause == Cause::StringSlip)
        .and_then(|found| found.fix.clone());
    apply(&fix.unwrap(), &mut lab);
    assert!(!diagnose(&lab, &analyze(&lab)).iter().any(|finding| finding.cause == Cause::StringSlip));
    assert!(holds(&story, &lab));
}

#[test]
fn bar_and_clay_are_left_to_be_described_and_the_ring_is_not() {
    for (name, left) in [("brass-ring", false), ("oak-bar", true), ("clay-cylinders", true)] {
        let lab = opened(&format!("{name}.json"));
        assert_eq!(lab.may_describe(ObjectId(1)), left, "{name}");
        assert_eq!(lab.objects().len(), 1);
        assert_eq!(lab.runs().len(), 12);
    }
}
