//! Models, their text, and simulations of small labs.

use super::chain::Chain;
use super::*;
use crate::analysis::analyze;
use crate::lab::Lab;
use crate::lab_file;
use proptest::prelude::*;
use std::sync::LazyLock;

fn example() -> Lab {
    let text = include_str!("../../../../web/samples/banding-wheel.json");
    lab_file::open(text, &mut |_| Err("it names no files".to_owned())).unwrap()
}

fn model() -> Model {
    let lab = example();
    Model::of(&lab, &analyze(&lab)).unwrap()
}

/// Three runs on each of two lines, and one object: quick to go through.
fn small() -> String {
    let text = model().to_text();
    let (mut lines, mut runs) = (0, 0);
    let kept = text.lines().filter(|line| {
        match line.split(' ').next() {
            Some("line") => (lines, runs) = (lines + 1, 0),
            Some("run") => runs += 1,
            Some("object") if line.ends_with(" 1") => lines = 2,
            Some("object") => lines = 3,
            _ => {}
        }
        lines <= 2 && runs <= 3
    });
    kept.collect::<Vec<_>>().join("\n")
}

static SMALL: LazyLock<String> = LazyLock::new(small);

#[test]
fn a_trial_without_errors_gives_the_first_order_estimates() {
    let model = model();
    let mut chain = Chain::new(&model).without_errors();
    let mut results = vec![0.0; chain.results()];
    chain.draw(&mut Random::new(1), &mut results);
    let targets = model.targets();
    assert_eq!(targets.len(), results.len());
    for ((target, first), found) in targets.into_iter().zip(results) {
        // The first-order estimator goes round drag and lines three times; what it leaves is far below u.
        let off = (found - first.value) / first.standard_uncertainty;
        assert!(off.abs() < 1e-6, "{target:?}: {found} {first:?}");
    }
}

#[test]
fn models_and_outcomes_come_back_from_text_to_the_same_bits() {
    let model = model();
    assert_eq!(Model::from_text(&model.to_text()), Some(model.clone()));
    let limits = Limits { at_most: 20_000, sharper: 5.0 };
    let outcome = Simulation::with_limits(&model, 1, limits).run();
    assert_eq!(Outcome::from_text(&outcome.to_text()), Some(outcome));
}

#[test]
fn the_text_of_a_model_keeps_the_point() {
    let with_point = model().to_text();
    whorl_words::use_decimal_mark(whorl_words::DecimalMark::Comma);
    let with_comma = model().to_text();
    whorl_words::use_decimal_mark(whorl_words::DecimalMark::Point);
    assert_eq!(with_comma, with_point);
}

#[test]
fn a_model_that_lacks_something_is_none() {
    let text = model().to_text();
    let lines: Vec<&str> = text.lines().collect();
    let runs = lines.iter().filter(|line| line.starts_with("run ")).count();
    let mut refused = 0;
    for left_out in 0..lines.len() {
        let mut shorter = lines.clone();
        let line = shorter.remove(left_out);
        let found = Model::from_text(&shorter.join("\n"));
        // A run or a drag less is a model too.
        assert_eq!(found.is_some(), line.starts_with("run ") || line.starts_with("drag "), "{line}");
        refused += usize::from(found.is_none());
    }
    assert!(refused + runs + 1 >= lines.len());
    assert_eq!(Model::from_text(&format!("{text}more\n")), None);
    assert_eq!(Model::from_text(&text.replace("gravity 9.81", "gravity inf")), None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_stop(text in any::<String>()) {
        prop_assert_eq!(Model::from_text(&text), None);
        let _ = Outcome::from_text(&text);
    }

    #[test]
    fn no_numbers_in_a_model_make_it_stop(
        line in 0_usize..22,
        word in 1_usize..10,
        number in prop_oneof![
            any::<f64>(),
            Just(0.0),
            Just(-1.0),
            Just(1e308),
            Just(f64::INFINITY),
            Just(5e-324),
        ],
    ) {
        prop_assert!(Model::from_text(&SMALL).is_some());
        let changed: Vec<String> = SMALL
            .lines()
            .enumerate()
            .map(|(at, old)| {
                let mut words: Vec<String> = old.split(' ').map(str::to_owned).collect();
                if at == line && let Some(place) = words.get_mut(word) {
                    *place = number.to_string();
                }
                words.join(" ")
            })
            .collect();
        if let Some(model) = Model::from_text(&changed.join("\n")) {
            let limits = Limits { at_most: BLOCK, sharper: 5.0 };
            let outcome = Simulation::with_limits(&model, 1, limits).run();
            prop_assert_eq!(outcome.results.len(), model.targets().len());
            let _ = Outcome::from_text(&outcome.to_text());
        }
    }
}
