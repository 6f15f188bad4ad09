//! Plans by hand, by exhaustive search, and of masses as people type them.

use super::*;
use crate::apparatus::Apparatus;
use crate::inertia::Source;
use crate::lab::{ApparatusEntry, Lab, PartEntry};
use crate::measured::Measured;
use crate::quantity::{KilogramMeters2, Meters, MetersPerSecond2, NewtonMeters, Ratio};
use core::num::NonZeroU32;
use proptest::prelude::*;

fn apparatus(u_radius: f64) -> Apparatus {
    Apparatus::new(
        Measured::new(Meters(0.025), Meters(u_radius)).ok(),
        Measured::new(Meters(0.001), Meters(2e-5)).ok(),
        Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.003)).ok(),
        Measured::new(Meters(0.015), Meters(7e-6)).ok(),
        Ratio(3e-4),
    )
    .unwrap()
}

/// The rig of the estimation study.
fn input() -> PlanInput {
    PlanInput {
        apparatus: apparatus(3e-5),
        spokes: NonZeroU32::new(10),
        drop_height: Meters(0.85),
        table_inertia: KilogramMeters2(1.5e-3),
        object_inertia: KilogramMeters2(7e-3),
        friction_empty: NewtonMeters(1e-3),
        friction_loaded: NewtonMeters(1.4e-3),
        friction_scatter: FRICTION_SCATTER,
        noise: NOISE,
    }
}

fn kilograms(grams: &[f64]) -> Vec<Kilograms> {
    grams.iter().map(|grams| Kilograms(grams / 1e3)).collect()
}

fn loads(list: &str) -> Vec<Kilograms> {
    let pieces = parse_pieces(list).unwrap();
    reachable(&pieces, Kilograms(0.0)).iter().map(|hung| hung.mass).collect()
}

#[test]
fn a_run_worked_by_hand() {
    // m g Rₑ = 0.05 · 9.81 · 0.0255 = 12.50775 mN·m; less 1 mN·m: 11.50775. Over I/Rₑ + m Rₑ =
    // 0.0588235 + 0.001275 kg·m: a = 0.191481 m/s². t = √(1.7/a) = 2.97962 s, v = √(1.7 a) = 0.570542 m/s.
    let run = predict_run(&input(), Table::Empty, Kilograms(0.05)).unwrap();
    assert!((run.point.acceleration.value().0 - 0.191_481).abs() < 1e-6);
    assert!((run.fall_time.0 - 2.979_62).abs() < 1e-4);
    assert!((run.final_velocity.0 - 0.570_542).abs() < 1e-5);
    assert!((run.last_gap.0 - 0.015 / 0.570_542).abs() < 1e-6);
    // 0.85 m hold 56.67 travels; from half a travel on, 57 edges.
    assert_eq!(run.edges, 57);
    let (tau, alpha) = (run.point.torque.value().0, run.point.angular_acceleration.value().0);
    assert!((tau - 1.5e-3 * alpha - 1e-3).abs() < 1e-15);
}

#[test]
fn a_pulley_with_inertia_slows_the_fall_and_stays_on_the_line() {
    let pulley = Measured::new(KilogramMeters2(3e-6), KilogramMeters2(0.0)).ok();
    let heavy =
        PlanInput { apparatus: apparatus(0.0).with_pulley(pulley, Some(Meters(0.0239))).unwrap(), ..input() };
    let light = predict_run(&input(), Table::Empty, Kilograms(0.05)).unwrap();
    let run = predict_run(&heavy, Table::Empty, Kilograms(0.05)).unwrap();
    assert!(run.fall_time > light.fall_time);
    let (tau, alpha) = (run.point.torque.value().0, run.point.angular_acceleration.value().0);
    assert!((tau - 1.5e-3 * alpha - 1e-3).abs() < 1e-15);
}

#[test]
fn what_cannot_be_planned_says_why() {
    let says = |mass: f64, input: &PlanInput| {
        predict_run(input, Table::Empty, Kilograms(mass)).unwrap_err().to_string()
    };
    // 1 mN·m / (9.81 · 0.0255) = 4.0 g.
    let held = "empty table: 4.01\u{202f}g is too little. About 4\u{202f}g just balance friction; hang more";
    assert_eq!(says(0.00401, &input()), held);
    assert!(predict_run(&input(), Table::Empty, Kilograms(0.0043)).is_ok());
    let short = PlanInput { drop_height: Meters(0.06), ..input() };
    assert_eq!(
        says(0.05, &short),
        "only 4 spokes would pass the gate in a fall; at least 5 are needed. Let it fall further"
    );
    let tower = PlanInput { drop_height: Meters(85.0), ..input() };
    assert_eq!(
        says(0.05, &tower),
        "a fall of 5667 spokes is out of all proportion; check drop height and travel per spoke"
    );
    assert_eq!(says(0.0, &input()), "the hanging mass must be above zero");
    let nothing = PlanInput { table_inertia: KilogramMeters2(f64::NAN), ..input() };
    assert_eq!(says(0.05, &nothing), "the table’s moment of inertia must be above zero");
    let one = plan(&input(), &kilograms(&[20.0, 50.0]), &kilograms(&[50.0, 100.0, 200.0])).unwrap_err();
    assert_eq!(
        one.to_string(),
        "empty table: the line needs at least 3 usable runs; there are 2. Add runs with other hanging masses"
    );
    let few = best_masses(&input(), &loads("1, 2, 5"), 6).unwrap_err();
    assert_eq!(
        few.to_string(),
        "empty table: only 2 of the masses you can hang suit it, and a line needs 3; most are too light to overcome friction: add heavier pieces"
    );
    assert_eq!(best_masses(&input(), &loads("20, 50"), 2).unwrap_err(), PlanProblem::Runs);
}

#[test]
fn slope_and_budget_worked_by_hand() {
    // Without noise in the accelerations and shared inputs without uncertainty: W = 1/s_f², so
    // u(I) = s_f/√Σ(α − ᾱ)².
    let quiet = PlanInput {
        noise: crate::acceleration::EdgeNoise { position: Meters(1e-9), ..NOISE },
        friction_loaded: NewtonMeters(1e-3),
        ..input()
    };
    let (empty, loaded) = (kilograms(&[20.0, 50.0, 80.0, 110.0]), kilograms(&[50.0, 150.0, 250.0, 300.0]));
    let found = plan(&quiet, &empty, &loaded).unwrap();
    assert!((quiet.scatter(Table::Loaded).0 - 3e-5).abs() < 1e-12);
    let along: Vec<f64> = found.empty.iter().map(|run| run.point.angular_acceleration.value().0).collect();
    let mean = along.iter().sum::<f64>() / 4.0;
    let spread: f64 = along.iter().map(|x| (x - mean).powi(2)).sum();
    let u = found.table.random.standard_uncertainty().0;
    assert!((u / (3e-5 / spread.sqrt()) - 1.0).abs() < 1e-3, "{u}");
    assert_eq!(
        found.table_budget.iter().find(|row| row.source.is_random()).unwrap().source,
        Source::Friction
    );
    // 2 u(R)/Rₑ = 0.235 % of 7 g·m² is the larger part of the object's.
    assert!(found.object.shared.0 > 0.0023 * 7e-3 && found.object.shared.0 < 0.0026 * 7e-3);
    assert!((found.object.total.value().0 / 7e-3 - 1.0).abs() < 1e-9);
}

/// Every way to choose `runs` of `count`.
fn each_choice(count: usize, runs: usize, at: &mut dyn FnMut(&[usize])) {
    fn go(from: usize, count: usize, left: usize, chosen: &mut Vec<usize>, at: &mut dyn FnMut(&[usize])) {
        if left == 0 {
            at(chosen);
            return;
        }
        for next in from..count {
            chosen.push(next);
            go(next + 1, count, left - 1, chosen, at);
            chosen.pop();
        }
    }
    go(0, count, runs, &mut Vec::new(), at);
}

/// α of each run.
fn along(runs: &[PlannedRun]) -> Vec<f64> {
    runs.iter().map(|run| run.point.angular_acceleration.value().0).collect()
}

/// 1/u²(I) of a line through these runs, as the mean of squared distances between pairs.
fn worth(input: &PlanInput, runs: &[PlannedRun], scatter: f64) -> f64 {
    let row = |run: &PlannedRun| {
        let (radius, a) = (0.0255, run.point.acceleration.value().0);
        let carried = run.mass().0 * radius + input.inertia(run.table).0 / radius;
        let own = carried * run.point.acceleration.standard_uncertainty().0;
        (a / radius, 1.0 / (own * own + scatter * scatter))
    };
    let rows: Vec<(f64, f64)> = runs.iter().map(row).collect();
    let total: f64 = rows.iter().map(|row| row.1).sum();
    let pairs =
        rows.iter().flat_map(|one| rows.iter().map(move |two| one.1 * two.1 * (one.0 - two.0).powi(2)));
    0.5 * pairs.sum::<f64>() / total
}

/// The masses of a set that suit a table.
fn suitable(choice: &Choice, table: Table, list: &str) -> Vec<Kilograms> {
    let fits = |mass: &Kilograms| !choice.unfit.iter().any(|entry| entry.0 == table && entry.1 == *mass);
    loads(list).into_iter().filter(fits).collect()
}

#[test]
fn the_search_finds_what_exhaustive_search_finds() {
    for (list, runs, noise) in [
        ("20 x 2, 50, 100, 200", 4, 3e-5),
        ("20 x 2, 50, 100, 200", 6, 3e-5),
        ("10, 20, 50, 100, 150", 5, 3e-5),
        ("15, 40, 60, 110", 5, 3e-5),
        // So much noise that heavy runs count less.
        ("20 x 2, 50, 100, 200", 4, 1e-3),
        ("20 x 2, 50, 100, 200", 6, 1e-3),
    ] {
        let noise = crate::acceleration::EdgeNoise { position: Meters(noise), ..NOISE };
        let input = PlanInput { noise, ..input() };
        let choice = best_masses(&input, &loads(list), runs).unwrap();
        for (table, chosen) in [(Table::Empty, &choice.plan.empty), (Table::Loaded, &choice.plan.loaded)] {
            let scatter = input.scatter(table).0;
            let predicted: Vec<PlannedRun> = suitable(&choice, table, list)
                .into_iter()
                .map(|mass| predict_run(&input, table, mass).unwrap())
                .collect();
            let (mut best, mut designs) = (0.0_f64, 0);
            each_choice(predicted.len(), runs, &mut |places| {
                let design: Vec<PlannedRun> = places.iter().map(|&at| predicted[at].clone()).collect();
                designs += 1;
                if cautions::in_the_middle(&along(&design)) >= 2 {
                    best = best.max(worth(&input, &design, scatter));
                }
            });
            assert!(designs > 20, "{list} {table}: {designs}");
            let found = worth(&input, chosen, scatter) / best;
            assert!((found - 1.0).abs() < 1e-9, "{list} {table}, {designs} designs: {found}");
        }
    }
}

#[test]
fn no_other_plan_has_a_smaller_uncertainty() {
    // With everything the search leaves out: drag, and what all runs share.
    let (list, runs) = ("20, 50, 100, 150", 4);
    let choice = best_masses(&input(), &loads(list), runs).unwrap();
    let empty: Vec<Kilograms> = choice.plan.empty.iter().map(PlannedRun::mass).collect();
    let loaded = suitable(&choice, Table::Loaded, list);
    let mut best = f64::INFINITY;
    each_choice(loaded.len(), runs, &mut |places| {
        let masses: Vec<Kilograms> = places.iter().map(|&at| loaded[at]).collect();
        let found = plan(&input(), &empty, &masses).unwrap();
        if cautions::in_the_middle(&along(&found.loaded)) >= 2 {
            best = best.min(found.object.total.standard_uncertainty().0);
        }
    });
    let chosen = choice.plan.object.total.standard_uncertainty().0;
    assert!(chosen < 1.002 * best, "{chosen} {best}");
}

#[test]
fn the_masses_chosen_beat_evenly_spaced_ones() {
    for runs in 4..=8 {
        let choice = best_masses(&input(), &loads("20 x 2, 50, 100 x 2, 200"), runs).unwrap();
        let masses =
            |runs: &[PlannedRun]| runs.iter().map(|run| (run.mass().0 * 1e3).round()).collect::<Vec<_>>();
        println!(
            "{runs} runs: {:?} and {:?}, u(I) {:.3} %, evenly spaced {:.3} %, gain {:.2}",
            masses(&choice.plan.empty),
            masses(&choice.plan.loaded),
            choice.plan.object.random.relative_uncertainty().unwrap() * 100.0,
            choice.even.object.random.relative_uncertainty().unwrap() * 100.0,
            choice.gain(),
        );
        assert!(choice.gain() > if runs == 4 { 1.02 } else { 1.1 }, "{runs}: {}", choice.gain());
        for planned in [&choice.plan.empty, &choice.plan.loaded] {
            assert_eq!(planned.len(), runs);
            assert!(planned.windows(2).all(|pair| pair[0].mass() < pair[1].mass()));
            assert!(cautions::in_the_middle(&along(planned)) >= 2);
            assert!(planned.iter().all(|run| (1.0..=12.0).contains(&run.fall_time.0)));
            assert!(planned.iter().all(|run| run.final_velocity.0 < 1.5));
        }
    }
}

#[test]
fn with_few_masses_some_hang_twice() {
    let choice = best_masses(&input(), &loads("50, 100"), 6).unwrap();
    let masses: Vec<f64> = choice.plan.empty.iter().map(|run| (run.mass().0 * 1e3).round()).collect();
    assert_eq!(masses, [50.0, 50.0, 100.0, 100.0, 150.0, 150.0]);
    assert!(choice.plan.cautions.contains(&Caution::FewMasses { table: Table::Empty, found: 3 }));
}

#[test]
fn cautions_are_said_where_they_belong() {
    let says = |input: &PlanInput, empty: &[f64], loaded: &[f64]| -> Vec<String> {
        let found = plan(input, &kilograms(empty), &kilograms(loaded)).unwrap();
        found.cautions.iter().map(Caution::to_string).collect()
    };
    let space = '\u{202f}';
    let found = says(&input(), &[5.0, 60.0, 300.0], &[100.0, 150.0, 200.0, 300.0]);
    let expected = [
        format!("empty table, 5{space}g: the fall takes more than 12{space}s, and friction has time to change on the way. A heavier mass is quicker"),
        format!("empty table, 5{space}g: friction takes more than half of the string’s torque here, so the run is only as steady as the friction. A heavier mass is surer"),
        format!("empty table, 300{space}g: a heavy drop. Put a pad where the mass lands and keep feet and hands away; your school’s rules and your instructor come first"),
        "empty table: 3 different masses. With 4 or more, one odd run stands out from the line".to_owned(),
        "empty table: no run between the two ends of the line. A bend, from air drag say, could not show; put two in the middle".to_owned(),
        format!("loaded table, 200{space}g, 300{space}g: a heavy drop. Put a pad where the mass lands and keep feet and hands away; your school’s rules and your instructor come first"),
    ];
    assert_eq!(found[..6], expected);
    assert!(found[6].contains(
        "% of the object’s variance will come from the drum radius R, which is the same in all runs"
    ));
    assert_eq!(found.len(), 7);

    let exact = PlanInput { apparatus: apparatus(0.0), friction_scatter: Ratio(0.2), ..input() };
    let four = [60.0, 70.0, 80.0, 100.0];
    let found = says(&exact, &four, &four);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].contains("% of the object’s variance will come from friction that differs from run to run")
    );

    // Free fall is 9.81 m/s²: 2 kg on a table of 5·10⁻⁴ kg·m².
    let light = PlanInput { table_inertia: KilogramMeters2(5e-4), drop_height: Meters(0.2), ..exact };
    let found = says(&light, &[60.0, 800.0, 1500.0, 2000.0], &four);
    for words in [
        "lands at more than 1.5 m/s",
        "takes less than 1\u{202f}s",
        "few spokes pass the gate",
        "more than half of g",
    ] {
        assert!(found.iter().any(|caution| caution.contains(words)), "{words}: {found:?}");
    }
    let wheel = PlanInput { drop_height: Meters(29.0), ..light };
    assert!(
        says(&wheel, &[60.0, 800.0, 1500.0, 2000.0], &four)
            .iter()
            .any(|caution| caution.contains("less than 1 ms"))
    );
}

#[test]
fn a_lab_s_plan_starts_from_its_entries() {
    let mut lab = Lab::default();
    let says = |lab: &Lab, id| PlanInput::from_lab(lab, id).unwrap_err().to_string();
    let disc = lab.add_object("disc".to_owned(), Vec::new());
    assert_eq!(says(&lab, disc), "enter the drum’s radius R at the apparatus; it must be above zero");
    lab.apparatus = ApparatusEntry {
        drum_radius: Measured::new(Meters(0.025), Meters(3e-5)).ok(),
        string_diameter: Measured::new(Meters(0.001), Meters(2e-5)).ok(),
        spokes: NonZeroU32::new(10),
        ..lab.apparatus
    };
    assert_eq!(says(&lab, disc), "planning needs the drop height; enter it at the apparatus");
    lab.apparatus.drop_height = Measured::new(Meters(0.85), Meters(1e-3)).ok();
    assert!(says(&lab, disc).starts_with("guess the empty table’s moment of inertia"));
    lab.plan.table_inertia = Some(KilogramMeters2(1.5e-3));
    assert_eq!(
        says(&lab, disc),
        "planning needs the object’s moment of inertia from its shape: describe the object’s shape to compare with a predicted value"
    );
    let mut part = PartEntry::new(crate::bodies::Shape::Disc);
    part.mass = Measured::new(Kilograms(1.4), Kilograms(0.0)).ok();
    part.dimensions = vec![Measured::new(Meters(0.1), Meters(0.0)).ok()];
    lab.object_mut(disc).unwrap().parts.push(part);
    assert!(says(&lab, disc).starts_with("guess the friction torque"));
    // 4 g just balance friction: 0.004 · 9.80665 · 0.0255 N·m.
    let balance = Measured::new(Kilograms(0.004), Kilograms(0.0)).ok();
    lab.set_balancing_mass(crate::lab::Configuration::EmptyTable, balance);
    assert_eq!(says(&lab, disc), "gate times need the travel per spoke; enter it at the apparatus");
    lab.apparatus.travel_per_spoke = Measured::new(Meters(0.015), Meters(1e-5)).ok();
    let input = PlanInput::from_lab(&lab, disc).unwrap();
    assert!((input.friction_empty.0 - 1.000_278e-3).abs() < 1e-9);
    assert_eq!(input.friction_loaded, input.friction_empty);
    assert!((input.object_inertia.0 - 7e-3).abs() < 1e-15);
    lab.plan.friction_loaded = Some(NewtonMeters(2e-3));
    assert_eq!(PlanInput::from_lab(&lab, disc).unwrap().friction_loaded, NewtonMeters(2e-3));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_numbers_give_a_plan_or_a_reason(
        table in -1e-3..1e-1_f64, object in 1e-9..1.0_f64, friction in 0.0..0.1_f64, height in 0.0..5.0_f64,
        masses in proptest::collection::vec(0.0..3.0_f64, 0..6), runs in 0..12_usize
    ) {
        let any = PlanInput {
            table_inertia: KilogramMeters2(table),
            object_inertia: KilogramMeters2(object),
            friction_empty: NewtonMeters(friction),
            drop_height: Meters(height),
            ..input()
        };
        let masses: Vec<Kilograms> = masses.into_iter().map(Kilograms).collect();
        let _ = plan(&any, &masses, &masses).map(|plan| plan.cautions.iter().map(Caution::to_string).count());
        let hung: Vec<Kilograms> = reachable(&masses, Kilograms(0.0)).iter().map(|hung| hung.mass).collect();
        let _ = best_masses(&any, &hung, runs).map_err(|problem| problem.to_string());
    }
}
