//! Labs made by hand, of exact runs; whole simulated labs are in the outside checks.

use super::*;
use crate::analysis::analyze;
use crate::bodies::Shape;
use crate::lab::{PartEntry, Record, RunEntry};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters, MetersPerSecond2, Seconds};
use crate::readings::{ReadingKind, Readings};
use crate::runs::{Motion, Stretch};
use core::num::NonZeroU32;

fn length(value: f64, u: f64) -> Option<Measured<Meters>> {
    Measured::new(Meters(value), Meters(u)).ok()
}

fn run(configuration: Configuration, grams: f64, record: Record) -> RunEntry {
    RunEntry {
        id: RunId(0),
        name: format!("{grams} g"),
        configuration,
        hanging_mass: Some(Kilograms(grams / 1e3)),
        motion: Motion::Falling,
        stretch: None,
        record,
        source: None,
    }
}

/// R = 25 mm, d = 1 mm; table 1.5 g·m², two objects of 7 and 3 g·m² that are predicted right; typed
/// accelerations that obey τ = I α + 1 mN·m but for ± 0.01 % in turn.
fn lab() -> Lab {
    let mut lab = Lab::default();
    lab.apparatus.drum_radius = length(0.025, 2e-5);
    lab.apparatus.string_diameter = length(0.001, 2e-5);
    lab.apparatus.travel_per_spoke = length(0.015, 1e-5);
    lab.apparatus.spokes = NonZeroU32::new(10);
    lab.apparatus.gravity = Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(1e-3)).ok();
    let disc = |inertia: f64| {
        // ½ M r² with r = 100 mm.
        let mut part = PartEntry::new(Shape::Disc);
        part.mass = Measured::new(Kilograms(200.0 * inertia), Kilograms(1e-4)).ok();
        part.dimensions = vec![length(0.1, 1e-4)];
        vec![part]
    };
    let heavy = lab.add_object("disc".to_owned(), disc(7e-3));
    let light = lab.add_object("small disc".to_owned(), disc(3e-3));
    let tables = [
        (Configuration::EmptyTable, 1.5e-3, [20.0, 50.0, 80.0, 110.0, 140.0]),
        (Configuration::Loaded(heavy), 8.5e-3, [50.0, 110.0, 170.0, 230.0, 290.0]),
        (Configuration::Loaded(light), 4.5e-3, [40.0, 90.0, 140.0, 190.0, 240.0]),
    ];
    for (configuration, inertia, masses) in tables {
        for (place, grams) in masses.into_iter().enumerate() {
            let (mass, radius, off) = (grams / 1e3, 0.0255, if place % 2 == 0 { 1e-4 } else { -1e-4 });
            let a = (mass * 9.81 * radius - 1e-3) * radius / (inertia + mass * radius * radius) * (1.0 + off);
            let a = Measured::new(MetersPerSecond2(a), MetersPerSecond2(1e-4 * a)).ok();
            lab.add_run(run(configuration, grams, Record::Acceleration(a)));
        }
    }
    lab
}

fn causes(lab: &Lab) -> Vec<&'static str> {
    diagnose(lab, &analyze(lab)).iter().map(|finding| finding.cause.key()).collect()
}

/// The one thing that is said.
#[track_caller]
fn only(lab: &Lab, cause: &str) -> Finding {
    let found = diagnose(lab, &analyze(lab));
    assert_eq!(found.iter().map(|finding| finding.cause.key()).collect::<Vec<_>>(), [cause]);
    found[0].clone()
}

/// Applies a finding's fix and takes it back.
#[track_caller]
fn mends(lab: &Lab, finding: &Finding) {
    let mut mended = lab.clone();
    apply(finding.fix.as_ref().unwrap(), &mut mended);
    assert_ne!(&mended, lab);
    assert_eq!(causes(&mended), [""; 0], "{:?}", finding.fix);
}

#[test]
fn of_a_sound_lab_and_of_what_is_missing_nothing_is_said() {
    assert_eq!(causes(&Lab::default()), [""; 0]);
    assert_eq!(causes(&lab()), [""; 0]);
    let mut bare = lab();
    bare.apparatus = crate::lab::ApparatusEntry::default();
    assert_eq!(causes(&bare), [""; 0]);
    let mut few = lab();
    for id in 3..=15 {
        few.remove_run(RunId(id));
    }
    assert_eq!(causes(&few), [""; 0]);
    let mut unfinished = lab();
    for id in 1..=15 {
        unfinished.run_mut(RunId(id)).unwrap().hanging_mass = None;
    }
    assert_eq!(causes(&unfinished), [""; 0]);
}

#[test]
fn a_mass_in_grams_is_divided_and_one_in_kilograms_multiplied() {
    for (factor, cause) in [(1e3, "grams-as-kilograms"), (1e-3, "kilograms-as-grams")] {
        let mut wrong = lab();
        let mass = &mut wrong.run_mut(RunId(3)).unwrap().hanging_mass;
        *mass = mass.map(|mass| mass * factor);
        let finding = only(&wrong, cause);
        assert_eq!(finding.runs, [RunId(3)]);
        mends(&wrong, &finding);
        // All of them alike: no other mass tells, but 20 kg and 20 mg do.
        let mut all = lab();
        let ids: Vec<RunId> = all.runs().iter().map(|run| run.id).collect();
        for id in &ids {
            let mass = &mut all.run_mut(*id).unwrap().hanging_mass;
            *mass = mass.map(|mass| mass * factor);
        }
        let finding = only(&all, cause);
        assert_eq!(finding.runs, ids);
        mends(&all, &finding);
    }
}

#[test]
fn two_labels_are_exchanged_back_also_across_configurations() {
    for (one, other) in [(2, 3), (1, 5), (4, 8), (6, 15)] {
        let mut wrong = lab();
        apply(&Fix::ExchangeLabels(RunId(one), RunId(other)), &mut wrong);
        let finding = only(&wrong, "exchanged-labels");
        assert_eq!(finding.runs, [RunId(one), RunId(other)]);
        mends(&wrong, &finding);
    }
}

#[test]
fn a_run_off_its_line_is_named_but_not_mended() {
    let mut wrong = lab();
    let mass = &mut wrong.run_mut(RunId(9)).unwrap().hanging_mass;
    *mass = mass.map(|mass| mass * 1.05);
    let finding = only(&wrong, "outlying-run");
    assert_eq!((finding.runs.as_slice(), finding.fix), ([RunId(9)].as_slice(), None));
    assert!(finding.words.contains("“230 g”") && finding.words.contains("above"), "{}", finding.words);
}

#[test]
fn a_factor_of_two_in_a_radius_is_told_by_the_objects() {
    let mut doubled = lab();
    doubled.apparatus.drum_radius = length(0.05, 2e-5);
    let finding = only(&doubled, "diameter-as-radius");
    assert!(finding.words.contains("Several objects"), "{}", finding.words);
    mends(&doubled, &finding);

    let mut halved = lab();
    halved.apparatus.drum_radius = length(0.0125, 1e-5);
    mends(&halved, &only(&halved, "radius-halved"));

    let mut object = lab();
    let id = object.objects()[1].id;
    apply(&Fix::ScaleDimensions(id, 2.0), &mut object);
    let finding = only(&object, "object-diameter-as-radius");
    assert!(finding.words.contains("small disc"), "{}", finding.words);
    mends(&object, &finding);
}

#[test]
fn a_string_without_thickness_and_a_hanger_that_was_not_counted_are_told() {
    let mut thin = lab();
    thin.apparatus.string_diameter = length(0.0, 0.0);
    // ((25.5/25)² − 1) = 4.0 %.
    assert!(only(&thin, "string-forgotten").words.replace('\u{202f}', " ").contains("4 %"));

    let mut light = lab();
    for id in 1..=15 {
        let run = light.run_mut(RunId(id)).unwrap();
        run.hanging_mass = run.hanging_mass.map(|mass| mass - Kilograms(0.01));
    }
    assert!(causes(&light).iter().all(|cause| *cause == "negative-friction"));
    assert_eq!(causes(&light).len(), 3);
}

#[test]
fn few_masses_and_a_narrow_range_are_told() {
    let mut few = lab();
    few.remove_run(RunId(2));
    few.remove_run(RunId(4));
    assert_eq!(only(&few, "too-few-masses").configuration, Some(Configuration::EmptyTable));
    let mut narrow = lab();
    narrow.remove_run(RunId(1));
    narrow.remove_run(RunId(2));
    for grams in [95.0, 125.0] {
        let (mass, radius) = (grams / 1e3, 0.0255);
        let a = (mass * 9.81 * radius - 1e-3) * radius / (1.5e-3 + mass * radius * radius);
        let a = Measured::new(MetersPerSecond2(a), MetersPerSecond2(1e-4 * a)).ok();
        narrow.add_run(run(Configuration::EmptyTable, grams, Record::Acceleration(a)));
    }
    assert_eq!(only(&narrow, "narrow-range").configuration, Some(Configuration::EmptyTable));
}

#[test]
fn what_dominates_is_told_with_its_part() {
    let mut rough = lab();
    rough.apparatus.drum_radius = length(0.025, 2e-4);
    let finding = only(&rough, "dominating-input");
    let source = Source::Shared(crate::apparatus::SharedInput::DrumRadius);
    assert_eq!(finding.cause, Cause::DominatingInput { source });
    assert!(finding.words.contains("drum radius R"), "{}", finding.words);
    assert!(finding.evidence[0].value > 60.0);
}

/// Gate times of 15 mm each: at 0.05 m/s for `held` edges, then with 0.3 m/s² for 50; rough by 20 µs.
fn held(held: u32) -> Record {
    let time = |k: u32| {
        // No pattern that repeats.
        let x = (f64::from(k) * 12.9898).sin() * 43_758.547;
        let rough = 2e-5 * (2.0 * (x - x.floor()) - 1.0);
        let x = 0.015 * f64::from(k.saturating_sub(held));
        let falling = 2.0 * x / ((0.0025 + 0.6 * x).sqrt() + 0.05);
        Seconds(0.3 * f64::from(k.min(held)) + falling + rough)
    };
    Record::Readings(Readings::from_gate_times(&(0..held + 50).map(time).collect::<Vec<_>>()).unwrap())
}

#[test]
fn a_stretch_that_begins_in_the_hand_is_cut() {
    let mut early = lab();
    // All of it, as someone may choose; what is found by itself leaves the hand out.
    let stretch = Stretch::new(Seconds(0.0), Seconds(60.0));
    let id = early.add_run(RunEntry { stretch, ..run(Configuration::EmptyTable, 60.0, held(12)) });
    let found = diagnose(&early, &analyze(&early));
    assert_eq!((found[0].cause, found[0].runs.as_slice()), (Cause::StartInside, [id].as_slice()));
    let Some(Fix::SetStretch(run, stretch)) = found[0].fix else { panic!("{:?}", found[0].fix) };
    assert_eq!(run, id);
    // Let go after 12 · 0.3 s; two edges of grace.
    assert!((3.5..4.5).contains(&stretch.from().0), "{stretch:?}");
}

#[test]
fn names_are_listed_as_people_do() {
    let lab = lab();
    let analysis = analyze(&lab);
    let look = Look { lab: &lab, analysis: &analysis, probes: Vec::new(), found: Vec::new() };
    let names = |runs: &[u32]| look.names(&runs.iter().map(|id| RunId(*id)).collect::<Vec<_>>());
    assert_eq!(names(&[1]), "“20 g”");
    assert_eq!(names(&[1, 2]), "“20 g” and “50 g”");
    assert_eq!(names(&[1, 2, 3, 4]), "“20 g”, “50 g”, “80 g” and “110 g”");
    assert_eq!(names(&[1, 2, 3, 4, 5]), "“20 g”, “50 g”, “80 g” and others");
}

#[test]
fn spokes_narrower_than_their_gaps_are_no_unequal_spokes() {
    let mut lab = lab();
    let ids: Vec<RunId> = lab.runs().iter().map(|run| run.id).collect();
    for (nth, id) in (0_u32..).zip(ids) {
        let run = lab.run_mut(id).unwrap();
        let Record::Acceleration(Some(a)) = run.record else { continue };
        // Spokes of 40 %, all alike, read to some 20 µs.
        let time = |edge: u32| {
            let travel = 0.015 * (f64::from(edge / 2) + 0.4 * f64::from(edge % 2) + 0.3);
            let mixed = (edge + 100 * nth + 1).wrapping_mul(2_654_435_761);
            let mixed = (mixed ^ (mixed >> 15)).wrapping_mul(2_246_822_519);
            let wobble = f64::from(mixed >> 16) / 65_536.0 - 0.5;
            Seconds((2.0 * travel / a.value().0).sqrt() + 6e-5 * wobble)
        };
        let times: Vec<Seconds> = (0..80).map(time).collect();
        run.record = Record::Readings(Readings::from_columns(ReadingKind::BothEdges, &times, &[]).unwrap());
    }
    let found = causes(&lab);
    assert!(!found.contains(&"spoke-count") && !found.contains(&"unequal-spokes"), "{found:?}");
}
