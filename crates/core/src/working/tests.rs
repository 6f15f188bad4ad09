//! Every working shown gives, when its own tree is evaluated, the number the chain gave.

use super::*;
use crate::analysis::analyze;
use crate::bodies::Shape;
use crate::formula::symbol_of;
use crate::lab::{Configuration, Lab, PartEntry, Record, RunEntry, RunId};
use crate::measured::Measured;
use crate::quantity::{Kilograms, Meters, MetersPerSecond, MetersPerSecond2, Seconds};
use crate::readings::{Readings, Series};
use crate::torque::Motion;
use core::num::NonZeroU32;
use whorl_words::{self as words, DecimalMark};

/// A small lab with every kind of readings and scatter from a fixed pattern.
pub(super) fn lab() -> Lab {
    let mut lab = Lab::default();
    let length = |value: f64, u: f64| Measured::new(Meters(value), Meters(u)).ok();
    lab.apparatus.drum_radius = length(0.025, 2e-5);
    lab.apparatus.string_diameter = length(0.001, 5e-5);
    lab.apparatus.travel_per_spoke = length(0.015, 1e-5);
    let mut disc = PartEntry::new(Shape::Disc);
    disc.mass = Measured::new(Kilograms(1.4), Kilograms(1e-3)).ok();
    disc.dimensions = vec![length(0.1, 2e-4)];
    let mut clay = disc.clone();
    clay.count = NonZeroU32::new(2).unwrap();
    clay.offset = length(0.06, 3e-4);
    let object = lab.add_object("slate disc and clay".to_owned(), vec![disc, clay]);
    for (configuration, inertia) in
        [(Configuration::EmptyTable, 1.5e-3), (Configuration::Loaded(object), 9e-3)]
    {
        for (index, m) in [0.05, 0.1, 0.15, 0.2].into_iter().enumerate() {
            let a = (m * 9.8 * 0.0255 - 1e-3) * 0.0255 / (inertia + m * 0.0255 * 0.0255);
            let wobble = |k: u32| 1e-4 * f64::from((k * 7 + 3) % 5);
            let rows = 0..12_u32;
            let time = |k: u32| 0.1 * f64::from(k);
            let readings = match index {
                0 => Readings::Velocity(
                    Series::new(
                        rows.map(|k| (Seconds(time(k)), MetersPerSecond(0.1 + a * time(k) + wobble(k))))
                            .collect(),
                    )
                    .unwrap(),
                ),
                1 => Readings::Position(
                    Series::new(
                        rows.map(|k| (Seconds(time(k)), Meters(0.5 * a * time(k).powi(2) + wobble(k))))
                            .collect(),
                    )
                    .unwrap(),
                ),
                2 => Readings::Acceleration(
                    Series::new(rows.map(|k| (Seconds(time(k)), MetersPerSecond2(a + wobble(k)))).collect())
                        .unwrap(),
                ),
                _ => Readings::from_gate_times(
                    &rows
                        .map(|k| Seconds((2.0 * 0.015 * f64::from(k + 1) / a).sqrt() + wobble(k)))
                        .collect::<Vec<_>>(),
                )
                .unwrap(),
            };
            lab.add_run(RunEntry {
                id: RunId(0),
                name: String::new(),
                configuration,
                hanging_mass: Some(Kilograms(m)),
                motion: Motion::Falling,
                stretch: None,
                record: Record::Readings(readings),
                source: None,
            });
        }
    }
    lab
}

fn every_working(lab: &Lab) -> Vec<Working> {
    let analysis = analyze(lab);
    let apparatus = lab.apparatus.check().unwrap();
    let mut workings = vec![effective_radius(&apparatus)];
    for run in &analysis.runs {
        workings.extend(acceleration(run.fit.as_ref().unwrap()));
        workings.extend(torque_point(&run.point.as_ref().unwrap().point, &apparatus));
    }
    let inertia = |index: usize| analysis.lines.configurations[index].inertia.as_ref().unwrap();
    workings.extend(line(inertia(0)));
    workings.extend(line(inertia(1)));
    let found = &analysis.objects[0];
    workings.extend(object(found.measured.as_ref().unwrap(), inertia(1), inertia(0)));
    let prediction = found.predicted.as_ref().unwrap();
    workings.extend(prediction.parts.iter().map(|(body, moment)| part(body, moment, None)));
    workings.extend(prediction_sum(prediction));
    workings.extend(comparison(found.comparison.as_ref().unwrap().as_ref().unwrap()));
    workings
}

#[test]
fn every_equation_shown_gives_the_number_shown() {
    let workings = every_working(&lab());
    // Through accelerations no line is drawn.
    assert_eq!(workings.len(), 1 + (6 * 6 + 2 * 5) + 2 * 5 + 4 + 2 + 1 + 4);
    for working in workings {
        let evaluated = working.formula.evaluate(&working.bindings).unwrap();
        let scale = working.result.abs().max(1e-12);
        assert!(
            (evaluated - working.result).abs() < 1e-9 * scale,
            "{}: {evaluated} {}",
            working.equation(),
            working.result
        );
    }
}

#[test]
fn the_three_lines_of_a_working_read_as_on_paper() {
    let plain = |text: String| text.replace('\u{202f}', " ");
    let radius = effective_radius(&lab().apparatus.check().unwrap());
    assert_eq!(plain(radius.equation()), "R_e = R + d/2");
    assert_eq!(plain(radius.substituted()), "R_e = 0.025 m + 1 × 10⁻³ m/2");
    assert_eq!(plain(radius.outcome()), "R_e = 0.0255 m");
}

#[test]
fn values_put_in_follow_the_decimal_mark_and_still_give_the_number_shown() {
    words::use_decimal_mark(DecimalMark::Comma);
    let radius = effective_radius(&lab().apparatus.check().unwrap());
    words::use_decimal_mark(DecimalMark::Point);
    let plain = |text: String| text.replace('\u{202f}', " ");
    assert_eq!(plain(radius.substituted()), "R_e = 0,025 m + 1 × 10⁻³ m/2");
    assert_eq!(plain(radius.outcome()), "R_e = 0,0255 m");
    assert_eq!(radius.formula.evaluate(&radius.bindings), Some(radius.result));
}

#[test]
fn subscripts_that_are_words_are_of_the_language_spoken() {
    let spanish = words::Language::Spanish;
    let table = words::table(spanish).unwrap().to_owned();
    words::speak(Some(words::Translation::read(spanish, table).unwrap()));
    let shown = (symbol_of("I", "loaded") - symbol_of("I", "e")).to_string();
    words::speak(None);
    assert_eq!(shown, "I_cargado − I_e");
}
