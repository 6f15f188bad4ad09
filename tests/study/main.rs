//! The whole study: prints the table of what the estimators reach; fails when a limit is not met.
//!
//! `cargo xtask study [COUNT [TITLE]]`, COUNT runs or labs a row, 1000 without; of the part whose title holds TITLE.

#![expect(clippy::disallowed_types, reason = "a clock, to say how long the study took")]

use std::process::ExitCode;
use whorl_study::{Check, benches, diagnosis, labs, runs, stretches};

type Rows = fn(usize) -> Vec<Check>;

fn main() -> ExitCode {
    let count = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(1000);
    let title_holds = std::env::args().nth(2).unwrap_or_default();
    let mut failed = 0;
    let parts: [(&str, Rows); 5] = [
        ("The good stretch", stretches::rows),
        ("One run", runs::rows),
        ("Whole labs", labs::rows),
        ("What seems wrong", diagnosis::rows),
        ("The practice bench", benches::rows),
    ];
    for (title, rows) in parts.into_iter().filter(|part| part.0.contains(&title_holds)) {
        let start = std::time::Instant::now();
        let checks = rows(count);
        println!("\n{title}, {count} a row ({:.1} s)", start.elapsed().as_secs_f64());
        for check in checks {
            println!("{}", check.line());
            failed += usize::from(!check.holds());
        }
    }
    println!("\n{failed} outside their limits");
    if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
