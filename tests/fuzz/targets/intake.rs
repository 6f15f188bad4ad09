//! Any bytes at all, taken in as a dropped file with a first look at each run.
#![no_main]

use libfuzzer_sys::{Corpus, fuzz_target};
use std::sync::LazyLock;
use whorl_core::intake::take_in;
use whorl_core::lab::Lab;
use whorl_core::lab_file::open;
use whorl_fuzz::{choices_and_file, within};

/// A lab with an apparatus and an object, for the first look.
static LAB: LazyLock<Lab> = LazyLock::new(|| {
    let saved = include_str!("../../labs/corners/records.json");
    open(saved, &mut |_| Ok(whorl_fuzz::BESIDE.to_vec())).expect("the lab opens")
});

/// The fits of the first look come on top of what is read.
fn allowed(file: &[u8]) -> usize {
    128 * file.len() + 4_194_304
}

fuzz_target!(init: { LazyLock::force(&LAB); }, |input: &[u8]| -> Corpus {
    let Some((choices, file)) = choices_and_file(input) else { return Corpus::Reject };
    let intake = within(allowed(file), || take_in("slate-120g.csv", file, &choices, &LAB, &mut |_| {}));
    assert_eq!(intake.bytes, file.len());
    match &intake.layout {
        Err(complaints) => {
            assert!(intake.proposals.is_empty());
            assert!(complaints.lines().all(|line| line.starts_with("line ")), "{complaints}");
        }
        Ok(layout) => {
            assert!(!intake.proposals.is_empty() || !layout.questions.is_empty());
            for proposal in &intake.proposals {
                assert!(proposal.first.curve.len() <= 120);
                assert!(proposal.first.curve.iter().all(|point| point.0.is_finite() && point.1.is_finite()));
            }
        }
    }
    Corpus::Keep
});
