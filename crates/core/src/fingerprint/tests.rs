//! The canonical form by hand, its fingerprint by another program, and what changes it.

use super::*;
use crate::lab::RunId;
use crate::lab_file;
use crate::quantity::{Kilograms, Seconds};
use crate::readings::Readings;
use crate::torque::Motion;

fn lab() -> Lab {
    let mut lab = Lab::default();
    let disc = lab.add_object("slate\n\\disc".to_owned(), Vec::new());
    let run = |configuration, hanging_mass, record| RunEntry {
        id: RunId(0),
        name: "first".to_owned(),
        configuration,
        hanging_mass,
        motion: Motion::Falling,
        stretch: None,
        record,
        source: None,
    };
    let times = [0.0, 0.5, 0.75, 1.0].map(Seconds);
    let gate = Record::Readings(Readings::from_gate_times(&times).unwrap());
    lab.add_run(run(Configuration::Loaded(disc), Some(Kilograms(0.05)), gate));
    lab.add_run(run(Configuration::EmptyTable, None, Record::Stopwatch(vec![Seconds(2.0)])));
    lab
}

const CANONICAL: &str = "whorl-readings 1\nrun\ncarries slate\\n\\\\disc\nmass 3fa999999999999a\nmotion falling\n\
    kind gate-times\n0000000000000000\n3fe0000000000000\n3fe8000000000000\n3ff0000000000000\nrun\nempty\nmass none\n\
    motion falling\nkind stopwatch\n4000000000000000\n";

#[test]
fn the_form_is_the_one_described_and_its_fingerprint_another_program_s() {
    assert_eq!(canonical(&lab()), CANONICAL);
    // Of the text above by `sha256sum` (GNU coreutils), and the same by Python's hashlib.
    assert_eq!(readings_sha256(&lab()), "57cae84191273977fdbfa561621284459b2310b804ac491c9583607efff0fd7a");
}

#[test]
fn a_saved_lab_has_the_fingerprint_of_its_readings() {
    let lab = lab();
    let text = lab_file::save_with_fingerprint(&lab);
    let opened = lab_file::open_alone(&text).unwrap();
    assert_eq!(opened, lab);
    assert_eq!(as_saved(&text, &opened), Some(true));
    assert_eq!(as_saved(&lab_file::save(&lab), &lab), None);
    assert_eq!(as_saved("no lab", &lab), None);
}

#[test]
fn readings_that_were_edited_show_and_choices_do_not() {
    let lab = lab();
    let text = lab_file::save_with_fingerprint(&lab);
    for (old, new) in [("0.75", "0.76"), ("0.05", "0.06"), ("slate", "plate"), ("\"falling\"", "\"rising\"")]
    {
        assert!(text.contains(old), "{old}");
        let edited = text.replacen(old, new, 1);
        let opened = lab_file::open_alone(&edited).unwrap();
        assert_eq!(as_saved(&edited, &opened), Some(false), "{old}");
    }
    let mut chosen = lab;
    chosen.title = "Another title".to_owned();
    chosen.run_mut(RunId(1)).unwrap().name = "another name".to_owned();
    assert_eq!(as_saved(&text, &chosen), Some(true));
}
