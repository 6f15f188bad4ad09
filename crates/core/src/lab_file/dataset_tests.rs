//! A recorded lab comes back as it was, and what was recorded in it stands fast.

use super::*;
use crate::bodies::Shape;
use crate::diagnosis::{Fix, apply};
use crate::lab::dataset::{LARGEST_PICTURE, LONGEST_NOTES, Picture};
use crate::lab::{Configuration, ObjectId, PartEntry, Provenance, Record, RunEntry, RunId};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters, Seconds};
use crate::readings::Readings;
use crate::runs::Stretch;
use crate::torque::Motion;
use core::num::NonZeroU32;

/// One transparent pixel.
const PIXEL: &str = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";

fn run(name: &str, configuration: Configuration, first: f64) -> RunEntry {
    let times: Vec<Seconds> = (0..6).map(|k| Seconds(first + f64::from(k))).collect();
    RunEntry {
        id: RunId(0),
        name: name.to_owned(),
        configuration,
        hanging_mass: Some(Kilograms(0.1)),
        motion: Motion::Falling,
        stretch: None,
        record: Record::Readings(Readings::from_gate_times(&times).unwrap()),
        source: None,
    }
}

fn ring() -> PartEntry {
    let mut ring = PartEntry::new(Shape::Ring);
    ring.mass = Measured::new(Kilograms(1.2), Kilograms(1e-4)).ok();
    ring
}

/// A ring that is described and a bar that is left to the student.
fn unlocked() -> Lab {
    let mut lab = Lab::default();
    lab.title = "Ring and bar".to_owned();
    lab.provenance = Provenance::Simulated;
    lab.apparatus.drum_radius = Measured::new(Meters(0.025), Meters(2e-5)).ok();
    let ring = lab.add_object("brass ring".to_owned(), vec![ring()]);
    let bar = lab.add_object("oak bar".to_owned(), Vec::new());
    for (name, configuration, first) in [
        ("empty", Configuration::EmptyTable, 0.0),
        ("ring", Configuration::Loaded(ring), 0.5),
        ("bar", Configuration::Loaded(bar), 0.25),
    ] {
        lab.add_run(run(name, configuration, first));
    }
    let mass = Measured::new(Kilograms(2e-3), Kilograms(1e-4)).ok();
    lab.set_balancing_mass(Configuration::EmptyTable, mass);
    lab
}

fn record() -> Dataset {
    Dataset {
        title: "Two loads <b>on</b> a banding wheel".to_owned(),
        recorded_by: "A. Potter, “studio 3”".to_owned(),
        recorded_on: "2026-03-14".to_owned(),
        licence: "CC BY 4.0".to_owned(),
        apparatus_notes: "String: waxed linen.\nWheel: cast iron.".to_owned(),
        origin: "https://example.org/labs".to_owned(),
        picture: Picture::new(PIXEL.to_owned(), "a wheel on a bench".to_owned()).ok(),
        to_predict: Vec::new(),
    }
}

fn locked() -> Lab {
    recorded(unlocked(), record())
}

#[test]
fn a_recorded_lab_comes_back_as_it_was() {
    let lab = locked();
    assert_eq!(lab.dataset().unwrap().to_predict, [ObjectId(2)]);
    let saved = save(&lab);
    assert!(saved.ends_with(r#""to_predict":[2]}}"#), "{saved}");
    let reopened = open_alone(&saved).unwrap();
    assert_eq!(reopened, lab);
    assert_eq!(save(&reopened), saved);
    // A program that knows nothing of it still finds a lab.
    let older: serde_json::Value = serde_json::from_str(&saved).unwrap();
    assert_eq!(older["version"], VERSION);
}

#[test]
fn most_labs_are_not_recorded_and_say_nothing_of_it() {
    assert!(!save(&unlocked()).contains("dataset"));
    assert_eq!(open_own(&save(&unlocked())), Ok(unlocked()));
    let none = open_alone(r#"{"format":"whorl-lab","version":3,"dataset":null}"#).unwrap();
    assert!(!none.is_recorded());
}

#[test]
fn who_cannot_lock_does_not_open() {
    assert_eq!(open_own(&save(&locked())), Err(LabFileError::Recorded));
}

#[test]
fn what_was_recorded_stands_fast() {
    let mut lab = locked();
    let before = lab.clone();
    let [empty, ring_run, bar_run] = [1, 2, 3].map(RunId);
    let [ring_id, bar] = [1, 2].map(ObjectId);
    assert!(lab.run_mut(ring_run).is_none() && lab.object_mut(ring_id).is_none());
    let apparatus = lab.apparatus.clone();
    lab.change_apparatus(|apparatus| apparatus.drum_radius = None);
    assert!(lab.apparatus == apparatus && lab.parts_mut(ring_id).is_none());
    assert!(!lab.may_describe(ring_id));
    assert_eq!(lab.add_object("clay".to_owned(), Vec::new()), ObjectId(0));
    assert_eq!(lab.add_run(run("own", Configuration::EmptyTable, 9.0)), RunId(0));
    lab.remove_run(empty);
    lab.remove_run(RunId(77));
    assert!(lab.remove_object(ring_id).is_err());
    lab.set_balancing_mass(Configuration::EmptyTable, None);
    let spokes = NonZeroU32::new(7).unwrap();
    for fix in [
        Fix::ExchangeLabels(empty, ring_run),
        Fix::ScaleMasses { runs: vec![empty, bar_run], factor: 1e-3 },
        Fix::ScaleRadius(0.5),
        Fix::ScaleDimensions(ring_id, 0.5),
        Fix::SetSpokes(spokes),
    ] {
        assert!(!fix.may_change(&lab), "{fix:?}");
        assert!(fix.may_change(&unlocked()), "{fix:?}");
        apply(&fix, &mut lab);
    }
    assert_eq!(lab, before);
    // Nor can another record take the place of this one.
    let other = Dataset { to_predict: vec![ring_id, bar], ..record() };
    assert_eq!(recorded(lab, other), before);
}

#[test]
fn an_object_without_runs_stays_as_well() {
    let mut lab = unlocked();
    lab.remove_run(RunId(3));
    let mut lab = recorded(lab, record());
    assert_eq!(lab.remove_object(ObjectId(2)), Ok(()));
    assert_eq!(lab.objects().len(), 2);
}

#[test]
fn choices_are_free_and_saved_with_the_record() {
    let mut lab = locked();
    let (run_id, bar) = (RunId(3), ObjectId(2));
    lab.title = "Our own title".to_owned();
    lab.notes = "The bar slips?".to_owned();
    let stretch = Stretch::new(Seconds(1.0), Seconds(4.0));
    let fix = Fix::SetStretch(run_id, stretch.unwrap());
    assert!(fix.may_change(&lab));
    apply(&fix, &mut lab);
    lab.parts_mut(bar).unwrap().push(PartEntry::new(Shape::RodMiddle));
    assert!(Fix::ScaleDimensions(bar, 2.0).may_change(&lab));
    // The bar's rise, say, as a run of its own.
    let rise = RunEntry { motion: Motion::Rising, ..lab.run(run_id).unwrap().clone() };
    let rise = lab.add_run(rise);
    assert_eq!(lab.runs().len(), 4);
    let reopened = open_alone(&save(&lab)).unwrap();
    assert_eq!(reopened, lab);
    assert_eq!(reopened.run(run_id).unwrap().stretch, stretch);
    // Still the student's after that, and the recorded run is not.
    let mut lab = reopened;
    assert!(lab.may_describe(bar) && lab.may_remove(rise) && !lab.may_remove(run_id));
    lab.parts_mut(bar).unwrap().clear();
    lab.set_stretch(run_id, None);
    lab.remove_run(rise);
    (lab.title, lab.notes) = ("Ring and bar".to_owned(), String::new());
    assert_eq!(lab, locked());
}

/// A record changed at one place is refused there: behind `before`, in the second line of the file.
#[track_caller]
fn refuses(from: &str, to: &str, before: &str, problem: &str) {
    let saved = save(&locked());
    let (lab, record) = saved.split_at(saved.find("\"dataset\"").unwrap());
    assert!(record.contains(from), "{from}");
    let record = record.replacen(from, to, 1);
    let column = record.split(before).next().unwrap().chars().count() + before.chars().count() + 2;
    let text = format!("{lab}\n {record}");
    assert_eq!(
        open_alone(&text).unwrap_err().in_text_of("wheel.json", &text),
        format!("wheel.json, line 2, column {column}: {problem}. Mend this place in the file")
    );
}

#[test]
fn a_malformed_record_says_where_and_what_to_do() {
    refuses(
        r#""title":"Two loads <b>on</b> a banding wheel""#,
        r#""title":" ""#,
        r#""title":"#,
        "at dataset.title: text is missing here",
    );
    refuses(r#""licence":"#, r#""license":"#, r#""dataset":"#, "at dataset.licence: text is missing here");
    refuses(
        r#""recorded_by":"A. Potter, “studio 3”""#,
        r#""recorded_by":["A. Potter"]"#,
        r#""recorded_by":"#,
        "at dataset.recorded_by: expected text in quotes",
    );
    refuses(
        r#""to_predict":[2]"#,
        r#""to_predict":[2,5]"#,
        r#""to_predict":[2,"#,
        "at dataset.to_predict[1]: there is no object with this id",
    );
    refuses(
        "String: waxed linen.",
        &"n".repeat(LONGEST_NOTES + 1),
        r#""apparatus_notes":"#,
        &format!(
            "at dataset.apparatus_notes: this text has {} characters; at most 4000 fit",
            LONGEST_NOTES + 1 + "\nWheel: cast iron.".len()
        ),
    );
    let text = r#"{"format":"whorl-lab","version":3,"dataset":"mine"}"#;
    assert_eq!(
        open_alone(text).unwrap_err().in_text_of("wheel.json", text),
        "wheel.json, line 1, column 45: at dataset: expected fields in { }. Mend this place in the file"
    );
}

#[test]
fn a_picture_that_is_none_is_refused() {
    let of_picture = |from: &str, to: &str, problem: &str| {
        refuses(from, to, r#""picture":"#, &format!("at dataset.picture: {problem}"));
    };
    let types = "expected a PNG, JPEG or WebP picture as a data URL in base64";
    of_picture("image/png", "image/svg+xml", types);
    of_picture("data:image/png", "https://example.org/x.png?", types);
    of_picture("iVBORw0KGgo", "PHN2Zz48c2N", "this is not a picture of the type it says, or not base64");
    of_picture(
        "a wheel on a bench",
        " ",
        "say in “alternative” what the picture shows, for those who do not see it",
    );
    let large = format!("iVBORw0KGgo{}", "A".repeat(LARGEST_PICTURE));
    of_picture("iVBORw0KGgo", &large, "the picture is too large; at most 300\u{202f}kB fit");
}
