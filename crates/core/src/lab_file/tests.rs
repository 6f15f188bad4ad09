//! Saved labs come back as they were, and wrong ones say where they are wrong.

use super::*;
use crate::bodies::Shape;
use crate::lab::{Configuration, Lab, PartEntry, PlanEntry, Provenance, Record, RunEntry, RunId, Source};
use crate::measured::Measured;
use crate::prelab::DerivationSource;
use crate::quantity::{
    KilogramMeters2, Kilograms, Meters, MetersPerSecond, MetersPerSecond2, NewtonMeters, RadiansPerSecond2,
    Ratio, Seconds,
};
use crate::readings::{Readings, Series};
use crate::runs::Stretch;
use crate::torque::Motion;
use proptest::prelude::*;

fn no_files(path: &OpenedPath<'_>) -> Result<Vec<u8>, String> {
    Err(format!("no {} here", path.as_str()))
}

fn small_lab(numbers: &[f64]) -> Lab {
    let mut lab = Lab::default();
    lab.title = "Ünïcode \"title\"".to_owned();
    lab.provenance = Provenance::Simulated;
    let length = |k: usize| Measured::new(Meters(numbers[k].abs()), Meters(numbers[k + 1].abs())).ok();
    lab.apparatus.drum_radius = length(0);
    lab.apparatus.string_diameter = length(1);
    lab.apparatus.mass_scale_uncertainty = Ratio(numbers[2].abs());
    lab.apparatus.hanging_mass_uncertainty = Kilograms(numbers[3].abs());
    lab.apparatus.pulley_inertia =
        Measured::new(KilogramMeters2(numbers[1].abs()), KilogramMeters2(numbers[2].abs())).ok();
    lab.apparatus.drop_height = length(2);
    lab.plan = PlanEntry {
        pieces: numbers.iter().copied().map(Kilograms).collect(),
        holder: Some(Kilograms(numbers[0])),
        runs: core::num::NonZeroU32::new(7),
        table_inertia: Some(KilogramMeters2(numbers[1])),
        friction_empty: Some(NewtonMeters(numbers[2])),
        friction_loaded: None,
    };
    let mut part = PartEntry::new(Shape::Ring);
    part.dimensions = vec![length(2), None];
    part.offset = length(0);
    lab.prelab.derivation = Some(DerivationSource::Shipped("turntable".to_owned()));
    lab.prelab.change("tension", |record| {
        record.entered = "T = m(g − a)\n\"x\"".to_owned();
        record.accepted = Some("T = m(g − a)".to_owned());
        (record.attempts, record.hints, record.worked) = (3, 1, true);
        record.seconds = numbers[0].abs();
    });
    lab.prelab.change("line", |record| record.entered = "tau_s = ".to_owned());
    let ring = lab.add_object("brass ring".to_owned(), vec![part]);
    let mut time = 0.0;
    let rows = numbers.iter().map(|value| {
        time += value.abs() + 1e-3;
        (Seconds(time), MetersPerSecond(*value))
    });
    lab.add_run(RunEntry {
        id: RunId(0),
        name: "ring, 150 g".to_owned(),
        configuration: Configuration::Loaded(ring),
        hanging_mass: Some(Kilograms(numbers[3].abs())),
        stretch: Stretch::new(Seconds(numbers[0]), Seconds(numbers[1])),
        motion: Motion::Rising,
        record: Record::Readings(Readings::Velocity(Series::new(rows.collect()).unwrap())),
        source: Some(Source {
            file: "ring-150g.csv".to_owned(),
            bytes: Some(1234),
            sha256: Some("ab".repeat(32)),
            run: "run 2".to_owned(),
            remarks: vec!["line 7: a second row of the same time was left out".to_owned()],
        }),
    });
    let rows = [(1.0, numbers[1]), (2.0, numbers[2])].map(|(t, a)| (Seconds(t), MetersPerSecond2(a)));
    for record in [
        Record::Readings(Readings::Acceleration(Series::new(rows.to_vec()).unwrap())),
        Record::Stopwatch(numbers.iter().copied().map(Seconds).collect()),
        Record::Acceleration(
            Measured::new(MetersPerSecond2(numbers[0]), MetersPerSecond2(numbers[1].abs())).ok(),
        ),
        Record::AngularAcceleration(
            Measured::new(RadiansPerSecond2(numbers[2]), RadiansPerSecond2(numbers[3].abs())).ok(),
        ),
        Record::Acceleration(None),
    ] {
        lab.add_run(RunEntry {
            id: RunId(0),
            name: record.key().to_owned(),
            configuration: Configuration::EmptyTable,
            hanging_mass: None,
            motion: Motion::Coasting,
            stretch: None,
            record,
            source: None,
        });
    }
    let balance = Measured::new(Kilograms(numbers[1].abs()), Kilograms(numbers[2].abs())).ok();
    lab.set_balancing_mass(Configuration::Loaded(ring), balance);
    lab
}

/// What the fuzzer found: a lab that is equal to itself only in the order its balancing masses were set in.
#[test]
fn balancing_masses_set_in_any_order_are_the_same_lab() {
    let mass = |kilograms| Measured::new(Kilograms(kilograms), Kilograms(0.001)).ok();
    let mut lab = small_lab(&[0.025, 0.004, 0.001, 0.15, 3.0]);
    lab.set_balancing_mass(Configuration::EmptyTable, mass(0.005));
    assert!(lab.configurations().into_iter().all(|known| lab.balancing_mass(known).is_some()));
    assert_eq!(open_alone(&save(&lab)).as_ref(), Ok(&lab));
}

#[test]
fn the_text_of_a_practice_bench_goes_with_its_lab() {
    let mut lab = small_lab(&[0.025, 0.001, 0.5, 0.15, 3.0]);
    lab.bench = Some("{\"code\":\"K7M-4QX\"}".to_owned());
    let opened = open_alone(&save(&lab)).unwrap();
    assert_eq!(opened.bench, lab.bench);
    assert_eq!(open_alone(&save(&Lab::default())).unwrap().bench, None);
}

#[test]
fn what_was_said_of_a_run_still_speaks_of_it_when_others_are_gone() {
    use crate::forecast::{About, Forecast, Slope};
    let mut lab = small_lab(&[0.025, 0.001, 0.5, 0.15, 3.0]);
    let first = lab.runs()[0].clone();
    let [second, third] = [(); 2].map(|()| lab.add_run(RunEntry { id: RunId(0), ..first.clone() }));
    let said = Forecast::new(second, About::NextAfter(third), Slope::Same, None, "as heavy").unwrap();
    lab.forecasts = Some(crate::forecast::save(&[said]));
    lab.remove_run(first.id);
    lab.remove_run(third);
    let mut opened = open_alone(&save(&lab)).unwrap();
    assert_eq!(opened.forecasts, lab.forecasts);
    let said = &crate::forecast::open(opened.forecasts.as_ref().unwrap()).unwrap()[0];
    assert_eq!(opened.run(said.against()).unwrap().name, lab.run(second).unwrap().name);
    assert_eq!(said.about().among(opened.runs()), None);
    let next = opened.add_run(RunEntry { id: RunId(0), ..first });
    // The removed last run is forgotten with the page that knew it: in the same page the next one is new.
    assert_eq!(next, third);
    let next = lab.add_run(RunEntry { id: RunId(0), ..opened.run(next).unwrap().clone() });
    assert_eq!(said.about().among(lab.runs()).map(|run| run.id), Some(next));
}

#[test]
fn format_and_version_come_first() {
    assert!(save(&Lab::default()).starts_with(r#"{"format":"whorl-lab","version":3,"#));
}

#[track_caller]
fn refuses(text: &str, message: &str) {
    assert_eq!(open(text, &mut no_files).unwrap_err().to_string(), message);
}

#[test]
fn a_wrong_file_says_where_and_what_to_do() {
    refuses(
        "{\n  \"format\": oops",
        "line 2, column 13: expected value. Open a file that Whorl saved, or mend this place",
    );
    refuses(
        "{}",
        "line 1, column 1: this is not a Whorl lab (its “format” is not “whorl-lab”). Open a file that Whorl saved",
    );
    refuses(
        "[1,2]",
        "line 1, column 1: this is not a Whorl lab (its “format” is not “whorl-lab”). Open a file that Whorl saved",
    );
    refuses(
        r#"{"format":"whorl-lab","version":0}"#,
        "at version: there is no such version. Mend this place in the file",
    );
    let saved = save(&small_lab(&[0.025, 0.001, 0.5, 0.15]));
    let broken = |from: &str, to: &str| {
        assert!(saved.contains(from), "{from}");
        saved.replacen(from, to, 1)
    };
    refuses(
        &broken(r#""shape":"ring""#, r#""shape":"banana""#),
        "at objects[0].parts[0].shape: “banana” is not one of disc, ring, hoop, rod-middle, rod-end, plate, sphere, spherical-shell, point-mass. Mend this place in the file",
    );
    refuses(
        &broken(r#""object":1"#, r#""object":5"#),
        "at runs[0].object: there is no object with this id. Mend this place in the file",
    );
    refuses(
        &broken(r#""time_s":["#, r#""time_s":[9,"#),
        "at runs[0].readings.velocity_m_per_s: this column is not as long as time_s. Mend this place in the file",
    );
    refuses(
        &broken(r#""u":0.001"#, r#""u":-1"#),
        "at apparatus.drum_radius_m: a standard uncertainty cannot be negative; enter 0 or more. Mend this place in the file",
    );
}

#[test]
fn a_lab_without_a_plan_is_saved_and_opened_without_one() {
    assert!(save(&Lab::default()).contains(r#""plan":null"#));
    let older = open(r#"{"format":"whorl-lab","version":1,"apparatus":{}}"#, &mut no_files).unwrap();
    assert_eq!(older.plan, PlanEntry::default());
    let wrong = r#"{"format":"whorl-lab","version":2,"plan":{"pieces_kg":[0.02,"50 g"]}}"#;
    refuses(wrong, "at plan.pieces_kg[1]: expected a number. Mend this place in the file");
    let none = r#"{"format":"whorl-lab","version":2,"plan":{"runs":0}}"#;
    refuses(none, "at plan.runs: this must be 1 or more. Mend this place in the file");
}

// Found by `cargo xtask test fuzz`.
#[test]
fn steps_of_a_pre_lab_are_kept_without_its_derivation() {
    let text = r#"{"format":"whorl-lab","version":2,"prelab":{"steps":[{"step":"tension","attempts":2}]}}"#;
    let lab = open(text, &mut no_files).unwrap();
    assert_eq!(lab.prelab.steps.len(), 1);
    assert_eq!(open(&save(&lab), &mut no_files), Ok(lab));
}

#[test]
fn a_wrong_type_says_where_it_stands() {
    let lab = |rest: &str| format!(r#"{{"format":"whorl-lab","version":1,"apparatus":{{}},{rest}}}"#);
    refuses(&lab(r#""title":5"#), "at title: expected text in quotes. Mend this place in the file");
    refuses(&lab(r#""runs":{}"#), "at runs: expected a list. Mend this place in the file");
    let columns = r#""runs":[{"readings":{"kind":"gate-times","time_s":[0,1,"2"]}}]"#;
    refuses(&lab(columns), "at runs[0].readings.time_s[2]: expected a number. Mend this place in the file");
    refuses(
        &lab(r#""objects":[{"id":-1}]"#),
        "at objects[0].id: expected a whole number. Mend this place in the file",
    );
}

#[test]
fn a_source_is_read_in_full_or_as_the_name_that_older_programs_kept() {
    let lab = |source: &str| {
        format!(
            r#"{{"format":"whorl-lab","version":2,"runs":[{{{source},"readings":{{"kind":"stopwatch"}}}}]}}"#
        )
    };
    let read = |source: &str| open(&lab(source), &mut no_files).unwrap().runs()[0].source.clone();
    let named = Some(Source { file: "a.csv".to_owned(), ..Source::default() });
    assert_eq!(read(r#""source_file":"a.csv""#), named);
    assert_eq!(read(r#""source":{"file":"a.csv"}"#), named);
    assert_eq!(read(r#""source":null,"source_file":null"#), None);
    assert_eq!(read(r#""source_file":" ""#), None);
    let wrong = "at runs[0].source.file: text is missing here. Mend this place in the file";
    refuses(&lab(r#""source":{"bytes":3}"#), wrong);
    refuses(
        &lab(r#""source_file":7"#),
        "at runs[0].source_file: expected text in quotes. Mend this place in the file",
    );
    let wrong = "at runs[0].source.bytes: expected a whole number. Mend this place in the file";
    refuses(&lab(r#""source":{"file":"a.csv","bytes":-3}"#), wrong);
}

#[test]
fn readings_named_by_path_are_asked_for_and_must_stay_beside_the_lab() {
    let lab = |file: &str| {
        format!(
            r#"{{"format":"whorl-lab","version":1,"apparatus":{{}},"runs":[{{"name":"r","readings":{{"file":"{file}"}}}}]}}"#
        )
    };
    let mut asked = Vec::new();
    let opened = open(&lab("runs/a.csv"), &mut |path| {
        asked.push(path.as_str().to_owned());
        Ok(b"t,v\n0,1\n1,2\n".to_vec())
    })
    .unwrap();
    assert_eq!(asked, ["runs/a.csv"]);
    assert_eq!(opened.runs()[0].record.readings().unwrap().pairs(), [(0.0, 1.0), (1.0, 2.0)]);
    let source = opened.runs()[0].source.as_ref().unwrap();
    assert_eq!((source.file.as_str(), source.bytes), ("runs/a.csv", Some(12)));
    // By sha256sum of GNU coreutils.
    let digest = "8dc5e9bbc4e0c7c0db32467a67c008a5fae3c6ed3dd97e1d92ab18ea71b7bc7c";
    assert_eq!(source.sha256.as_deref(), Some(digest));
    refuses(
        &lab("a.csv"),
        "at runs[0].readings: the readings file “a.csv” is missing (no a.csv here). Choose it together with the lab file, or put it beside the lab file",
    );
    for outside in ["/etc/passwd", "../a.csv", "x/../../a.csv", "C:a.csv", r"a\\b.csv"] {
        assert!(matches!(open(&lab(outside), &mut no_files), Err(LabFileError::Value { .. })), "{outside}");
    }
    refuses(
        &lab(" "),
        "at runs[0].readings.file: name the file with the readings. Mend this place in the file",
    );
    let wrong = open(&lab("a.csv"), &mut |_| Ok(b"t,v\n0,x\n1,2\n".to_vec())).unwrap_err();
    assert_eq!(
        wrong.to_string(),
        "a.csv, line 2, column 2: “x” is not a number; write it like 0.125, or delete the row"
    );
}

proptest! {
    #[test]
    fn a_saved_lab_comes_back_bit_for_bit(numbers in proptest::collection::vec(-1e6..1e6_f64, 5..40)) {
        let lab = small_lab(&numbers);
        let saved = save(&lab);
        let reopened = open(&saved, &mut no_files).unwrap();
        prop_assert_eq!(save(&reopened), saved);
        prop_assert_eq!(reopened, lab);
    }

    #[test]
    fn any_text_is_opened_or_refused_without_a_panic(text in "\\PC{0,200}") {
        let _ = open(&text, &mut no_files);
    }

    #[test]
    fn a_lab_cut_or_changed_anywhere_is_opened_or_refused_without_a_panic(at in 0..2000_usize, with in "[\\[\\]{}:,\"0-9eE.\\-n]{0,3}") {
        let saved = save(&small_lab(&[0.025, 0.001, 0.5, 0.15, 3.0]));
        let at = at.min(saved.len());
        if saved.is_char_boundary(at) {
            let _ = open(&format!("{}{with}{}", &saved[..at], &saved[at..]), &mut no_files);
            let _ = open(&saved[..at], &mut no_files);
        }
    }
}
