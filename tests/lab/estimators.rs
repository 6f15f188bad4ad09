//! The study in small: what the estimators reach on a few hundred simulated runs and labs.
//!
//! The whole one, with its limits unrelaxed, is `cargo xtask study`.

use whorl_study::{Check, labs, runs};

/// Few runs scatter: by so much, as a part of the limit, a figure of this many runs may lie outside. Four
/// standard deviations of a coverage of 95 % in 200 are 6 %; those of an RMS error are 20 %, of an
/// efficiency 40 %; a bias is judged on the scale of its own limit, ten times the 1000 runs' own scatter.
const CHANCE: [(&str, f64); 4] = [("coverage", 0.065), ("RMS", 0.2), ("efficiency", 0.4), ("bias", 3.0)];

fn all_hold(checks: &[Check]) {
    for check in checks.iter().filter(|check| !check.what.starts_with(' ')) {
        let chance = CHANCE.iter().find(|(word, _)| check.what.contains(word)).unwrap().1;
        assert!(check.holds_within(chance), "{}", check.line());
    }
}

#[test]
fn accelerations_come_near_the_bound_and_their_intervals_hold() {
    let checks = runs::quick_rows(200);
    assert_eq!(checks.len(), 8);
    all_hold(&checks);
}

#[test]
fn moments_of_inertia_come_near_the_bound_and_their_intervals_hold() {
    let checks = labs::quick_rows(200);
    assert!(checks.len() >= 8);
    all_hold(&checks);
}
