//! What may change in a lab, and what may not.

use super::*;

fn run(configuration: Configuration) -> RunEntry {
    RunEntry {
        id: RunId(0),
        name: "run".to_owned(),
        configuration,
        hanging_mass: None,
        motion: Motion::Falling,
        stretch: None,
        record: Record::Readings(Readings::from_gate_times(&[Seconds(0.0)]).unwrap()),
        source: None,
    }
}

#[test]
fn an_object_that_runs_carry_stays() {
    let mut lab = Lab::default();
    let disc = lab.add_object("slate disc".to_owned(), Vec::new());
    let id = lab.add_run(run(Configuration::Loaded(disc)));
    assert_eq!(lab.remove_object(disc), Err(ObjectInUse { name: "slate disc".to_owned(), runs: 1 }));
    lab.remove_run(id);
    assert_eq!(lab.remove_object(disc), Ok(()));
    assert!(lab.is_blank());
}

#[test]
fn a_run_on_an_object_that_is_not_there_counts_as_empty() {
    let mut lab = Lab::default();
    let id = lab.add_run(run(Configuration::Loaded(ObjectId(7))));
    assert_eq!(lab.run(id).unwrap().configuration, Configuration::EmptyTable);
}

#[test]
fn spokes_and_travel_give_the_pulley_s_radius() {
    let entry = ApparatusEntry {
        spokes: NonZeroU32::new(10),
        travel_per_spoke: Measured::new(Meters(0.015), Meters(0.0)).ok(),
        ..ApparatusEntry::default()
    };
    // 150 mm round: 23.87 mm.
    assert!((entry.pulley_radius().unwrap().0 - 0.023_873).abs() < 1e-6);
}
