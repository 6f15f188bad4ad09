//! What the diagnosis says of labs whose fault is known, and of labs that have none.

use crate::diagnosis_study::{Planted, clean, other_clean, single_tests, tally, trial};
use std::time::Instant;
use whorl_core::analysis::analyze;
use whorl_core::diagnosis::diagnose;
use whorl_core::simulation::lab::LabPlan;

#[test]
#[ignore = "prints a table"]
fn table() {
    let labs = std::env::var("LABS").ok().and_then(|labs| labs.parse().ok()).unwrap_or(40);
    for planted in Planted::ALL {
        let tally = tally(planted, 0..labs);
        println!("{planted:?}: {tally:?}");
    }
    for kind in 0..5 {
        println!("clean {kind}");
        for row in single_tests(&other_clean(kind), 0..labs) {
            let percent = |count: u32| 100.0 * f64::from(count) / f64::from(row.3);
            println!("  {:34} {:5.2} % {:5.2} % of {}", row.0, percent(row.1), percent(row.2), row.3);
        }
    }
    let mut plan = clean();
    plan.rig.friction.viscous_n_m_s = 3e-6;
    println!("b = 3e-6 {:?}", single_tests(&plan, 0..labs));
    println!("spokes 0.5 % {:?}", single_tests(&LabPlan { spoke_error: 5e-3, ..clean() }, 0..labs));
    let trial = trial(Planted::Nothing, 0);
    let analysis = analyze(&trial.lab);
    let start = Instant::now();
    for _ in 0..100 {
        std::hint::black_box(diagnose(&trial.lab, &analysis));
    }
    println!("diagnosis {:?}", start.elapsed() / 100);
    let start = Instant::now();
    for _ in 0..100 {
        std::hint::black_box(analyze(&trial.lab));
    }
    println!("analysis {:?}", start.elapsed() / 100);
}

#[test]
#[ignore = "debug"]
fn debug() {
    for planted in [Planted::Slip, Planted::Drag, Planted::AirDrag] {
        for number in 0..100 {
            let trial = trial(planted, number);
            let found = diagnose(&trial.lab, &analyze(&trial.lab));
            let keys: Vec<_> = found.iter().map(|f| f.cause.key()).collect();
            let fits: Vec<_> = analyze(&trial.lab)
                .runs
                .iter()
                .filter_map(|r| r.fit.as_ref().err().map(|e| format!("{e} {:?}", r.id)))
                .collect();
            eprintln!("{planted:?} {number} {:?} {keys:?} {fits:?}", trial.runs);
        }
    }
    let trial = trial(Planted::Nothing, 0);
    let analysis = analyze(&trial.lab);
    let least = |work: &dyn Fn()| {
        let time = |_| {
            let start = Instant::now();
            work();
            start.elapsed()
        };
        (0..300).map(time).min().unwrap()
    };
    eprintln!(
        "diagnosis {:?}",
        least(&|| {
            std::hint::black_box(diagnose(&trial.lab, &analysis));
        })
    );
    eprintln!(
        "analysis {:?}",
        least(&|| {
            std::hint::black_box(analyze(&trial.lab));
        })
    );
}
