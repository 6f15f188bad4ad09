//! What the diagnosis says of labs whose fault is known, and of labs that have none.
//!
//! Seeds are fixed, so that a rate below is one number; `cargo xtask study` prints those of many more.

use whorl_study::diagnosis::{
    COUNTED, KINDS, NONE, Planted, Rate, Tally, clean, dragged, false_alarms, single_tests, spokes_off,
    tally, tally_clean,
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
        assert!(false_alarms(kind, &tally) <= 1, "kind {kind}: {:?}", tally.other);
    }
}

/// Labs for the rates of single tests.
const MANY: u64 = 200;

#[test]
fn each_single_test_is_wrong_at_most_three_times_in_a_hundred() {
    for Rate { test, hundredth: alarms, count, .. } in single_tests(&clean(), 0..MANY) {
        println!("{test}: {alarms} of {count} below 1 %");
        if test == NONE {
            assert!(100 * alarms >= 97 * count, "{test}: {alarms} of {count}");
        } else {
            assert!(100 * alarms <= 3 * count, "{test}: {alarms} of {count}");
        }
    }
}

#[test]
fn drag_and_spokes_are_seen_in_nineteen_of_twenty() {
    let seen = |rates: &[Rate], test: &str| {
        let Rate { hundredth: alarms, count, .. } = *rates.iter().find(|rate| rate.test == test).unwrap();
        println!("{test}: {alarms} of {count}");
        assert!(count >= 200 && 100 * alarms >= 95 * count, "{test}: {alarms} of {count}");
    };
    seen(&single_tests(&dragged(), 0..MANY), "cubic term, all runs");
    let spokes = single_tests(&spokes_off(), 0..MANY);
    for test in ["spoke F, one run", "spokes, all runs", COUNTED] {
        seen(&spokes, test);
    }
}
