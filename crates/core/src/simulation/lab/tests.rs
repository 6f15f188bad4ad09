//! Tests of the study's labs.

#![expect(clippy::float_cmp, reason = "what is copied or drawn again is the same to the last bit")]

use super::*;

fn labs(plan: &LabPlan, count: u64) -> Vec<SimulatedLab> {
    (0..count).map(|number| lab(plan, &mut Random::new(11).fork(number))).collect()
}

#[test]
fn the_plain_lab_is_what_the_study_says() {
    let plan = LabPlan::default();
    let one = lab(&plan, &mut Random::new(1));
    assert_eq!(one.runs.len(), 12);
    let masses: Vec<f64> = one.runs.iter().map(|run| (run.written_mass_kg * 1e3).round()).collect();
    assert_eq!(masses, [20.0, 44.0, 68.0, 92.0, 116.0, 140.0, 50.0, 100.0, 150.0, 200.0, 250.0, 300.0]);
    for run in &one.runs {
        // 0.85 m hold 56 or 57 spokes, according to where the first one stands.
        assert!([56, 57].contains(&run.gate_times_s.len()), "{}", run.gate_times_s.len());
        assert_eq!(run.fall, 0..run.gate_times_s.len());
        assert!(run.gate_times_s.windows(2).all(|pair| pair[0] < pair[1]));
        let (rig, radius) = (&run.rig, run.rig.effective_radius_m());
        let expected = (run.written_mass_kg * 9.81 * radius - rig.friction.constant_n_m) * radius
            / (rig.inertia_kg_m2 + run.written_mass_kg * radius * radius);
        assert!((run.true_acceleration_m_per_s2 / expected - 1.0).abs() < 1e-13);
    }
}

#[test]
fn a_seed_gives_one_lab_and_another_seed_another() {
    let plan = LabPlan { spoke_error: 0.01, ..LabPlan::default() };
    assert_eq!(lab(&plan, &mut Random::new(4)), lab(&plan, &mut Random::new(4)));
    assert_ne!(lab(&plan, &mut Random::new(4)), lab(&plan, &mut Random::new(5)));
    // And two from one generator are not alike.
    let mut random = Random::new(4);
    assert_ne!(lab(&plan, &mut random), lab(&plan, &mut random));
}

#[test]
fn what_differs_from_run_to_run_and_lab_to_lab_scatters_as_it_is_set_to() {
    let shared = SharedUncertainties {
        drum_radius_m: 5e-5,
        string_diameter_m: 4e-5,
        travel_per_spoke_m: 3e-5,
        gravity_m_per_s2: 2e-3,
        mass_scale: 1e-3,
    };
    let plan = LabPlan { shared, ..LabPlan::default() };
    let labs = labs(&plan, 2000);
    // Mean and standard deviation of the error in units of what it is set to; five standard deviations of
    // both for n numbers.
    let check = |what: &str, errors: Vec<f64>| {
        let n = errors.len() as f64;
        let mean = errors.iter().sum::<f64>() / n;
        let deviation = (errors.iter().map(|error| (error - mean).powi(2)).sum::<f64>() / n).sqrt();
        assert!(mean.abs() < 5.0 / n.sqrt(), "{what}: mean {mean}");
        assert!((deviation - 1.0).abs() < 5.0 / (2.0 * n).sqrt(), "{what}: {deviation}");
    };
    let first = |value: fn(&SimulatedRun) -> f64, nominal: f64, u: f64| {
        labs.iter().map(|lab| (value(&lab.runs[0]) - nominal) / u).collect::<Vec<f64>>()
    };
    check("R", first(|run| run.rig.drum_radius_m, 0.025, 5e-5));
    check("d", first(|run| run.rig.string_diameter_m, 0.001, 4e-5));
    check("s", first(|run| run.rig.pulley.travel_per_spoke_m, 0.015, 3e-5));
    check("g", first(|run| run.rig.gravity_m_per_s2, 9.81, 2e-3));
    check("m", first(|run| run.rig.mass_kg / run.written_mass_kg, 1.0, 1e-3));
    let friction = labs.iter().flat_map(|lab| &lab.runs).map(|run| {
        let mean = if run.configuration == Configuration::Empty { 1e-3 } else { 1.4e-3 };
        (run.rig.friction.constant_n_m / mean - 1.0) / 0.03
    });
    check("friction", friction.collect());
    for lab in &labs {
        // One truth for all runs of a lab, and what is written is the same in all labs.
        assert!(lab.runs.iter().all(|run| run.rig.drum_radius_m == lab.runs[0].rig.drum_radius_m));
        assert_eq!(lab.written.drum_radius_m, 0.025);
        assert_eq!(lab.runs[0].written_mass_kg, 0.02);
    }
}

#[test]
fn a_fault_changes_its_own_runs_and_nothing_else() {
    let plain = lab(&LabPlan::default(), &mut Random::new(2));
    let with =
        |fault: Fault| lab(&LabPlan { faults: vec![fault], ..LabPlan::default() }, &mut Random::new(2));
    let changed = |faulty: &SimulatedLab| -> Vec<usize> {
        (0..12).filter(|run| faulty.runs[*run] != plain.runs[*run]).collect()
    };
    let slipped = with(Fault::StringSlip { run: 3, length_m: 0.03 });
    assert_eq!(changed(&slipped), [3]);
    // Up to the slip the times are those of the plain run.
    let (one, other) = (&slipped.runs[3], &plain.runs[3]);
    assert!((20..40).contains(&one.fall.end), "{:?}", one.fall);
    let before = 0..one.fall.end;
    assert!(before.clone().all(|k| (one.gate_times_s[k] - other.gate_times_s[k]).abs() < 1e-12));
    assert!(other.gate_times_s[one.fall.end + 2] - one.gate_times_s[one.fall.end + 2] > 1e-3);

    let landed = with(Fault::FloorInRecord { run: 8, fall_m: 0.6 });
    assert_eq!(changed(&landed), [8]);
    let run = &landed.runs[8];
    assert!([40, 41].contains(&run.fall.end), "0.6 m hold 40 spokes: {:?}", run.fall);
    assert!(run.fall.end < run.gate_times_s.len(), "the pulley runs on");
    assert!((run.true_acceleration_m_per_s2 / plain.runs[8].true_acceleration_m_per_s2 - 1.0).abs() < 1e-14);

    let exchanged = with(Fault::ExchangedMasses { first: 1, second: 4 });
    assert_eq!(changed(&exchanged), [1, 4]);
    assert_eq!(exchanged.runs[1].written_mass_kg, plain.runs[4].written_mass_kg);
    assert_eq!(exchanged.runs[4].written_mass_kg, plain.runs[1].written_mass_kg);
    assert_eq!(exchanged.runs[1].gate_times_s, plain.runs[1].gate_times_s);

    let grams = with(Fault::GramsAsKilograms { run: 7 });
    assert_eq!(changed(&grams), [7]);
    assert!((grams.runs[7].written_mass_kg - 100.0).abs() < 1e-12);

    let doubled = with(Fault::DiameterAsRadius);
    assert!(changed(&doubled).is_empty());
    assert_eq!(doubled.written.drum_radius_m, 0.05);

    assert_eq!(changed(&with(Fault::NotLevel { tilt_n_m: 5e-4 })), [6, 7, 8, 9, 10, 11]);
    assert_eq!(changed(&with(Fault::Drag { quadratic_n_m_s2: 1e-6 })).len(), 12);
}

#[test]
fn a_drag_makes_every_run_slower() {
    let plan = LabPlan { faults: vec![Fault::Drag { quadratic_n_m_s2: 5e-6 }], ..LabPlan::default() };
    let [plain, dragged] = [&LabPlan::default(), &plan].map(|plan| lab(plan, &mut Random::new(3)));
    for (one, other) in plain.runs.iter().zip(&dragged.runs) {
        assert!(other.true_acceleration_m_per_s2 < one.true_acceleration_m_per_s2);
        assert!(other.gate_times_s.last().unwrap() > one.gate_times_s.last().unwrap());
    }
}
