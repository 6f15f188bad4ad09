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
