//! The torque graph before the first run.

use super::configurations::{MILLI, look, mark};
use crate::figure::{Axis, Figure, Layer, Point, Reach};
use whorl_core::plan::{Plan, PlanInput, PlannedRun, Table};
use whorl_words as words;

/// τ against α as planned: the line of each table from the guesses, and on it the runs with the
/// uncertainties that their readings should leave.
pub fn planned_lines(input: &PlanInput, plan: &Plan, object: &str) -> Figure {
    let mut layers = Vec::new();
    let tables =
        [(Table::Empty, words::charts::empty_table(), &plan.empty), (Table::Loaded, object, &plan.loaded)];
    for (index, (table, label, runs)) in tables.into_iter().enumerate() {
        let (ink, marker, dash) = look(index);
        let points: Vec<Point> = runs.iter().map(|run: &PlannedRun| mark(&run.point)).collect();
        let last = points.iter().fold(0.0_f64, |last, point| last.max(point.x));
        let torque = |alpha: f64| MILLI * (input.friction(table).0 + input.inertia(table).0 * alpha);
        layers.push(Layer::Line {
            label: label.to_owned(),
            ink,
            dash,
            points: [0.0, 1.03 * last].map(|alpha| (alpha, torque(alpha))).to_vec(),
        });
        layers.push(Layer::Points { label: label.to_owned(), ink, marker, points });
    }
    Figure {
        name: words::charts::planned_runs().to_owned(),
        x: Axis::new(words::charts::angular_acceleration(), "rad/s²").reaching(Reach::WithZero),
        y: Axis::new(words::charts::string_torque(), "mN·m").reaching(Reach::WithZero),
        layers,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{summary, table};
    use core::num::NonZeroU32;
    use whorl_core::apparatus::Apparatus;
    use whorl_core::measured::Measured;
    use whorl_core::plan::{FRICTION_SCATTER, NOISE, plan};
    use whorl_core::quantity::{KilogramMeters2, Kilograms, Meters, MetersPerSecond2, NewtonMeters, Ratio};

    fn input() -> PlanInput {
        PlanInput {
            apparatus: Apparatus::new(
                Measured::new(Meters(0.025), Meters(3e-5)).ok(),
                Measured::new(Meters(0.001), Meters(2e-5)).ok(),
                Measured::new(MetersPerSecond2(9.81), MetersPerSecond2(0.003)).ok(),
                Measured::new(Meters(0.015), Meters(7e-6)).ok(),
                Ratio(3e-4),
            )
            .unwrap(),
            spokes: NonZeroU32::new(10),
            drop_height: Meters(0.85),
            table_inertia: KilogramMeters2(1.5e-3),
            object_inertia: KilogramMeters2(7e-3),
            friction_empty: NewtonMeters(1e-3),
            friction_loaded: NewtonMeters(1.4e-3),
            friction_scatter: FRICTION_SCATTER,
            noise: NOISE,
        }
    }

    #[test]
    fn every_planned_point_lies_on_its_line_and_has_bars() {
        let masses = [0.02, 0.04, 0.06].map(Kilograms);
        let planned = plan(&input(), &masses, &[0.1, 0.15, 0.2].map(Kilograms)).unwrap();
        let figure = planned_lines(&input(), &planned, "ring");
        let mut pairs = 0;
        for two in figure.layers.chunks(2) {
            let [Layer::Line { points: line, label, .. }, Layer::Points { points, label: same, .. }] = two
            else {
                panic!("a line, then its points")
            };
            assert_eq!(label, same);
            let [(left, low), (right, high)] = line[..] else { panic!("two ends") };
            assert!(left.abs() < 1e-12 && points.iter().all(|point| point.x < right));
            assert_eq!(points.len(), 3);
            for point in points {
                let on_line = low + (high - low) * (point.x - left) / (right - left);
                assert!((point.y - on_line).abs() < 1e-9, "{} against {on_line}", point.y);
                assert!(point.ux.unwrap() > 0.0 && point.uy.unwrap() > 0.0);
                pairs += 1;
            }
        }
        assert_eq!(pairs, 6);
        let Layer::Line { points: loaded, .. } = &figure.layers[2] else {
            panic!("the loaded table’s line")
        };
        assert!((loaded[0].1 - 1.4).abs() < 1e-12, "1.4 mN·m of friction at α = 0");
        let slope = (loaded[1].1 - loaded[0].1) / loaded[1].0;
        assert!((slope - 8.5).abs() < 1e-9, "8.5 × 10⁻³ kg·m² in mN·m per rad/s²");
    }

    #[test]
    fn it_is_told_in_words_and_numbers_too() {
        let masses = [0.02, 0.04, 0.06].map(Kilograms);
        let planned = plan(&input(), &masses, &[0.1, 0.15, 0.2].map(Kilograms)).unwrap();
        let figure = planned_lines(&input(), &planned, "ring");
        let words = summary(&figure);
        assert!(words.contains("Planned runs") && words.contains("ring"), "{words}");
        let table = table(&figure, 50);
        assert!(table.rows.len() >= 6, "{table:?}");
        assert!(table.rows.iter().flatten().any(|cell| cell.contains("ring")), "{table:?}");
    }
}
