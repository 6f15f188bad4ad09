//! Tests of what is seen of a run, against motions whose truth is known.

use super::*;
use crate::analysis::fit_run;
use crate::lab::{Configuration, Record, RunId};
use crate::quantity::{KilogramMeters2, Ratio};
use crate::readings::Readings;
use crate::simulation::course::{Course, Release};
use crate::simulation::gate::Gate;
use crate::simulation::landing::Landing;
use crate::simulation::log::times_s;
use crate::simulation::path::Path;
use crate::simulation::random::Random;
use crate::simulation::rig::Rig;
use core::num::NonZeroU32;

fn apparatus(rig: &Rig) -> ApparatusEntry {
    let exactly = |length: f64| Measured::new(Meters(length), Meters(0.0)).ok();
    ApparatusEntry {
        drum_radius: exactly(rig.drum_radius_m),
        string_diameter: exactly(rig.string_diameter_m),
        gravity: Measured::new(MetersPerSecond2(rig.gravity_m_per_s2), MetersPerSecond2(0.0)).ok(),
        spokes: NonZeroU32::new(10),
        travel_per_spoke: exactly(rig.pulley.travel_per_spoke_m),
        pulley_inertia: Measured::new(KilogramMeters2(0.0), KilogramMeters2(0.0)).ok(),
        ..ApparatusEntry::default()
    }
}

fn entry(kind: ReadingKind, pairs: &[(f64, f64)]) -> RunEntry {
    let times: Vec<Seconds> = pairs.iter().map(|pair| Seconds(pair.0)).collect();
    let values: Vec<f64> = pairs.iter().map(|pair| pair.1).collect();
    RunEntry {
        id: RunId(1),
        name: "slate disc, 50 g".to_owned(),
        configuration: Configuration::EmptyTable,
        hanging_mass: Some(Kilograms(0.05)),
        motion: Motion::Falling,
        stretch: None,
        record: Record::Readings(Readings::from_columns(kind, &times, &values).unwrap()),
        source: None,
    }
}

fn replay(run: &RunEntry, apparatus: &ApparatusEntry) -> Result<Replay, ReplayError> {
    let fitted = fit_run(run, &apparatus.setup());
    let outcome = RunOutcome {
        id: run.id,
        point: Err(crate::analysis::PointProblem::MassMissing),
        fit: fitted.fit,
        stretch: fitted.stretch,
        found: fitted.found,
    };
    Replay::of(run, &outcome, apparatus)
}

/// A wait, a fall of 0.85 m, a landing after which table and pulley run on.
fn landed(rig: &Rig) -> (Path, f64, f64) {
    let mut course = Course::new(rig, 0.0);
    course.hold(1.0);
    let fall = course.fall(Release::FromRest, 0.85);
    course.land(&Landing::default());
    (course.finish(), fall.from_s, fall.acceleration_m_per_s2)
}

fn gate_times(path: &Path, rig: &Rig, seed: u64) -> Vec<(f64, f64)> {
    let gate = Gate { position_noise_m: 2e-5, ..Gate::default() };
    let edges = gate.record(path, &rig.pulley, &mut Random::new(seed));
    times_s(&edges).into_iter().enumerate().map(|(number, time)| (time, number as f64)).collect()
}

#[test]
fn speed_and_tension_are_those_of_the_motion_within_their_uncertainty() {
    let rig = Rig::default();
    let (path, from_s, a) = landed(&rig);
    let tension = rig.mass_kg * (rig.gravity_m_per_s2 - a);
    let (mut count, mut velocity_squares, mut tension_squares) = (0.0, 0.0, 0.0);
    for seed in 0..40 {
        let run = entry(ReadingKind::GateTimes, &gate_times(&path, &rig, seed));
        let replay = replay(&run, &apparatus(&rig)).unwrap();
        let (start, end) = replay.stretch();
        // Moments far enough apart that no reading is in the neighborhood of two.
        for part in [0.15, 0.5, 0.85] {
            let time = start.0 + part * (end.0 - start.0);
            let moment = replay.at(Seconds(time));
            assert_eq!(moment.phase, Phase::Within);
            let velocity = moment.velocity.unwrap();
            let off = velocity.value().0 - a * (time - from_s);
            velocity_squares += (off / velocity.standard_uncertainty().0).powi(2);
            let seen = moment.forces.unwrap().tension;
            tension_squares += ((seen.value().0 - tension) / seen.standard_uncertainty().0).powi(2);
            // The travel counts from the stretch's beginning.
            let way = 0.5 * a * ((time - from_s).powi(2) - (start.0 - from_s).powi(2));
            assert!((moment.travel.0 - way).abs() < 2e-4, "{moment:?} {way}");
            let (angle, rate) = moment.table.unwrap();
            assert!((angle.0 * rig.effective_radius_m() - moment.travel.0).abs() < 1e-12);
            assert!((rate.0 * rig.effective_radius_m() - velocity.value().0).abs() < 1e-12);
            count += 1.0;
        }
    }
    // Eight degrees of freedom each: the mean square of Student's t is 8/6. Of 120 of them the mean of squares lies
    // within 0.5 of it but once in a thousand times.
    for mean in [velocity_squares / count, tension_squares / count] {
        assert!((mean - 8.0 / 6.0).abs() < 0.7, "{mean}");
    }
}

#[test]
fn what_a_gate_cannot_see_is_left_out() {
    let rig = Rig::default();
    let (path, ..) = landed(&rig);
    let run = entry(ReadingKind::GateTimes, &gate_times(&path, &rig, 1));
    let replay = replay(&run, &apparatus(&rig)).unwrap();
    let after = replay.at(replay.span().1);
    assert_eq!(after.phase, Phase::After);
    assert!(after.forces.is_none() && after.acceleration.is_none());
    assert!(after.height_share.abs() < 1e-12, "the mass lies where it landed: {after:?}");
    let seen = replay.at(replay.stretch().1).spokes_passed.unwrap();
    assert!(after.spokes_passed.unwrap() > seen);
    // Before the record and after it nothing changes.
    assert_eq!(replay.at(Seconds(1e9)), after);
}

#[test]
fn every_kind_of_readings_shows_the_same_fall() {
    let rig = Rig::default();
    let mut course = Course::new(&rig, 0.0);
    let fall = course.fall(Release::FromRest, 0.85);
    let (path, a) = (course.finish(), fall.acceleration_m_per_s2);
    let times = || (0..200).map(|k| f64::from(k) * path.end_s() / 200.0);
    let radius = rig.effective_radius_m();
    let of = |value: &dyn Fn(f64) -> f64| times().map(|time| (time, value(time))).collect::<Vec<_>>();
    let labs = [
        (ReadingKind::Position, of(&|t| 0.5 * a * t * t)),
        // A logger that counts the height.
        (ReadingKind::Position, of(&|t| 1.0 - 0.5 * a * t * t)),
        (ReadingKind::Velocity, of(&|t| a * t)),
        (ReadingKind::Velocity, of(&|t| -a * t)),
        (ReadingKind::Angle, of(&|t| 0.5 * a * t * t / radius)),
        (ReadingKind::AngularVelocity, of(&|t| a * t / radius)),
        (ReadingKind::Acceleration, of(&|_| a)),
    ];
    for (kind, pairs) in labs {
        let mut run = entry(kind, &pairs);
        run.stretch = crate::runs::Stretch::new(Seconds(0.0), Seconds(path.end_s()));
        let replay = replay(&run, &apparatus(&rig)).unwrap();
        let time = 0.5 * path.end_s();
        let moment = replay.at(Seconds(time));
        let close = |found: f64, truth: f64| (found / truth - 1.0).abs() < 1e-6;
        assert!(close(moment.velocity.unwrap().value().0, a * time), "{kind:?} {moment:?}");
        assert!(close(moment.acceleration.unwrap().value().0, a), "{kind:?} {moment:?}");
        // Trapezoids of a straight line are exact.
        assert!(close(moment.travel.0, 0.5 * a * time * time), "{kind:?} {moment:?}");
    }
}

#[test]
fn a_slip_shows_as_a_string_that_pulls_less() {
    let rig = Rig::default();
    let mut course = Course::new(&rig, 0.0);
    course.fall(Release::FromRest, 0.3);
    let slips_s = course.time_s();
    course.slip(0.3, 0.3);
    let grips_s = course.time_s();
    course.fall(Release::GoOn, 0.85);
    let path = course.finish();
    let pairs: Vec<_> = (0..600)
        .map(|k| f64::from(k) * path.end_s() / 600.0)
        .map(|time| (time, path.moment(time).unwrap().string_m))
        .collect();
    let mut run = entry(ReadingKind::Position, &pairs);
    run.stretch = crate::runs::Stretch::new(Seconds(0.0), Seconds(path.end_s()));
    let replay = replay(&run, &apparatus(&rig)).unwrap();
    let tension = |time: f64| replay.at(Seconds(time)).forces.unwrap().tension.value().0;
    let slipping = tension(f64::midpoint(slips_s, grips_s));
    let weight = rig.mass_kg * rig.gravity_m_per_s2;
    assert!((slipping / (0.3 * weight) - 1.0).abs() < 1e-3, "{slipping} of {weight}");
    // After it the string pulls as before.
    assert!((tension(0.5 * slips_s) / tension(f64::midpoint(grips_s, path.end_s())) - 1.0).abs() < 1e-3);
}

#[test]
fn steps_go_from_reading_to_reading_and_stop_at_the_ends() {
    let rig = Rig::default();
    let (path, ..) = landed(&rig);
    let pairs = gate_times(&path, &rig, 2);
    let replay = replay(&entry(ReadingKind::GateTimes, &pairs), &apparatus(&rig)).unwrap();
    let mut time = replay.span().0;
    for pair in pairs.iter().skip(1) {
        time = replay.step(time, true);
        assert!((time.0 - pair.0).abs() < 1e-12);
    }
    assert_eq!(replay.step(time, true), time);
    assert!((replay.step(time, false).0 - pairs[pairs.len() - 2].0).abs() < 1e-12);
    assert_eq!(replay.step(Seconds(-5.0), false), replay.span().0);
}

#[test]
fn the_account_is_in_order_and_counts_the_spokes() {
    let rig = Rig::default();
    let mut course = Course::new(&rig, 0.8);
    course.hand(-0.8, 4.0);
    course.hold(1.0);
    course.fall(Release::FromRest, 0.85);
    course.land(&Landing::default());
    let path = course.finish();
    let pairs = gate_times(&path, &rig, 3);
    let replay = replay(&entry(ReadingKind::GateTimes, &pairs), &apparatus(&rig)).unwrap();
    let account = replay.account();
    assert!(account.windows(2).all(|pair| pair[0].time <= pair[1].time), "{account:?}");
    let text: Vec<&str> = account.iter().map(|landmark| landmark.words.as_str()).collect();
    let before = pairs.iter().filter(|pair| pair.0 < replay.stretch().0.0).count();
    assert!(text[0].contains(&format!("{before} spokes before")), "{text:?}");
    assert!(text[1].contains("almost from rest") && text[1].contains("tension"), "{text:?}");
    assert!(text.last().unwrap().contains("more spokes after"), "{text:?}");
    assert!(replay.told_at(replay.stretch().1).contains("Tension"));
}

#[test]
fn what_cannot_be_watched_says_why() {
    let rig = Rig::default();
    let (path, ..) = landed(&rig);
    let run = entry(ReadingKind::GateTimes, &gate_times(&path, &rig, 4));
    let no_travel = ApparatusEntry { travel_per_spoke: None, ..apparatus(&rig) };
    assert_eq!(replay(&run, &no_travel), Err(ReplayError::Apparatus(AccelerationError::TravelMissing)));
    let typed = RunEntry { record: Record::Acceleration(None), ..run.clone() };
    assert_eq!(replay(&typed, &apparatus(&rig)), Err(ReplayError::NoReadings));
    let single = entry(ReadingKind::GateTimes, &[(0.0, 0.0)]);
    assert_eq!(replay(&single, &apparatus(&rig)), Err(ReplayError::TooFew));
    // Without a mass there is a motion, but no forces.
    let no_mass = RunEntry { hanging_mass: None, ..run };
    let watched = replay(&no_mass, &apparatus(&rig)).unwrap();
    assert!(watched.at(watched.stretch().1).forces.is_none() && watched.greatest_force().is_none());
}

#[test]
fn a_tension_is_not_surer_than_its_mass_and_g() {
    let rig = Rig::default();
    let (path, start, _) = landed(&rig);
    let entered = entry(ReadingKind::GateTimes, &gate_times(&path, &rig, 7));
    let tension = |apparatus: &ApparatusEntry| {
        let moment = replay(&entered, apparatus).unwrap().at(Seconds(start + 0.5));
        moment.forces.unwrap().tension
    };
    let exact = tension(&apparatus(&rig));
    let weighed = tension(&ApparatusEntry {
        hanging_mass_uncertainty: Kilograms(0.003),
        mass_scale_uncertainty: Ratio(0.08),
        gravity: Measured::new(MetersPerSecond2(rig.gravity_m_per_s2), MetersPerSecond2(0.5)).ok(),
        ..apparatus(&rig)
    });
    // 0.05 kg weighed to 3 g, and to 8 % of 50 g: 5 g, a tenth of it. g to 0.5 m/s². By hand, JCGM 100:2008, 5.1.2.
    let (t, u) = (weighed.value().0, weighed.standard_uncertainty().0);
    let by_hand =
        (exact.standard_uncertainty().0.powi(2) + (0.1 * t).powi(2) + (0.05_f64 * 0.5).powi(2)).sqrt();
    assert!((u / by_hand - 1.0).abs() < 1e-12, "{u} {by_hand}");
    assert!((t - exact.value().0).abs() < 1e-15);
}
