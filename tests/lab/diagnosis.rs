//! What the diagnosis says of labs whose fault is known, and of labs that have none.
//!
//! Seeds are fixed, so that a rate below is one number; [`all_rates_of_many_labs`] prints those of many more.

use crate::diagnosis_study::{
    KINDS, Planted, Tally, clean, dragged, report, single_tests, spokes_off, tally, tally_clean,
};

/// Labs of each fault.
const LABS: u64 = 20;

#[test]
fn each_fault_is_named() {
    for planted in Planted::ALL.into_iter().filter(|planted| *planted != Planted::Nothing) {
        let Tally { labs, named, fixed, right, else_said, other } = tally(planted, 0..LABS);
        println!(
            "{planted:?}: {named} of {labs} named; {fixed} mended, {right} right; {else_said}: {other:?}"
        );
        assert!(20 * named >= 19 * labs, "{planted:?}: {named} of {labs}");
        // One thing is wrong, so one thing is said.
        assert!(10 * else_said <= labs, "{planted:?}: {other:?}");
        let offered = !matches!(
            planted,
            Planted::Drag
                | Planted::AirDrag
                | Planted::UnequalSpokes
                | Planted::NotLevel
                | Planted::Outlier
                | Planted::FewMasses
                | Planted::NarrowRange
                | Planted::Dominating
                | Planted::StringNoise
                | Planted::CoarseClock
                | Planted::LoggerTravel
                | Planted::Hanger
                | Planted::StringForgotten
        );
        if offered {
            assert_eq!((fixed, right), (named, named), "{planted:?}");
        }
    }
}

#[test]
fn twenty_sound_labs_raise_one_false_alarm_at_most() {
    for kind in 0..KINDS {
        let tally = tally_clean(kind, 0..20);
        println!("kind {kind}: {} of {}: {:?}", tally.else_said, tally.labs, tally.other);
        assert!(tally.else_said <= 1, "kind {kind}: {:?}", tally.other);
    }
}

/// Labs for the rates of single tests.
const MANY: u64 = 200;

#[test]
fn each_single_test_is_wrong_at_most_three_times_in_a_hundred() {
    for (test, alarms, _, count) in single_tests(&clean(), 0..MANY) {
        println!("{test}: {alarms} of {count} below 1 %");
        if test == "spoke count is none" {
            assert!(100 * alarms >= 97 * count, "{test}: {alarms} of {count}");
        } else {
            assert!(100 * alarms <= 3 * count, "{test}: {alarms} of {count}");
        }
    }
}

#[test]
fn drag_and_spokes_are_seen_in_nineteen_of_twenty() {
    let seen = |rates: &[(&str, u32, u32, u32)], test: &str| {
        let (_, alarms, _, count) = *rates.iter().find(|rate| rate.0 == test).unwrap();
        println!("{test}: {alarms} of {count}");
        assert!(count >= 200 && 100 * alarms >= 95 * count, "{test}: {alarms} of {count}");
    };
    seen(&single_tests(&dragged(), 0..MANY), "cubic term, all runs");
    let spokes = single_tests(&spokes_off(), 0..MANY);
    for test in ["spoke F, one run", "spokes, all runs", "spoke count is that entered"] {
        seen(&spokes, test);
    }
}

#[test]
#[ignore = "the long version: minutes"]
fn all_rates_of_many_labs() {
    println!("{}", report(1000));
}
