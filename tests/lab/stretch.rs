//! The good stretch of whole records: usable in at least 98 % of each kind, silently wrong in at most
//! 0.5 % of all.

use crate::stretch_study::{HEAD, Tally};
use whorl_core::simulation::raw_run::Kind;

/// The table for this many records of each kind.
fn table(records: u32) {
    println!("{HEAD}");
    let (mut silently, mut all) = (0, 0);
    let mut short = Vec::new();
    for kind in Kind::ALL {
        let tally = Tally::of(kind, records);
        println!("{}", tally.line(kind));
        silently += tally.silently_wrong;
        all += tally.records;
        if tally.percent(tally.usable) < 98.0 {
            short.push(tally.line(kind));
        }
    }
    assert!(short.is_empty(), "below 98 %:\n{HEAD}\n{}", short.join("\n"));
    assert!(f64::from(silently) <= 0.005 * f64::from(all), "{silently} of {all} wrong without a word");
}

#[test]
fn the_fall_is_found_in_every_kind_of_record() {
    table(100);
}

#[test]
#[ignore = "takes a minute without optimisation: cargo test --release -p whorl-tests --test lab stretch -- --ignored --nocapture"]
fn the_fall_is_found_in_a_thousand_records_of_every_kind() {
    table(1000);
}
