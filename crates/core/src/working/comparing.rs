//! The object alone, its predicted value, and the comparison.

use super::lines::{combined, expanded};
use super::{Working, bound, working};
use crate::bodies::{Body, Prediction};
use crate::comparison::Comparison;
use crate::formula::{Formula, Symbol, symbol, symbol_of};
use crate::inertia::Inertia;
use crate::measured::Measured;
use crate::object::ObjectInertia;
use crate::quantity::{KilogramMeters2, Quantity, Ratio};
use whorl_words as words;

const OBJECT: Symbol = symbol_of("I", "object");
const PREDICTED: Symbol = symbol_of("I", "predicted");

/// Loaded less empty, with its uncertainty.
pub fn object(object: &ObjectInertia, loaded: &Inertia, empty: &Inertia) -> Vec<Working> {
    let (with, without) = (symbol_of("I", "loaded"), symbol_of("I", "empty"));
    let random = |inertia: &Inertia| inertia.moment_of_inertia.random;
    vec![
        working(
            words::working::object_why(),
            OBJECT,
            with - without,
            vec![
                bound(with, words::working::slope_loaded(), random(loaded).value()),
                bound(without, words::working::slope_empty(), random(empty).value()),
            ],
            object.moment_of_inertia.total.value().0,
            KilogramMeters2::UNIT,
        ),
        random_part(object, loaded, empty),
        combined(&object.moment_of_inertia),
        expanded(&object.moment_of_inertia.total),
    ]
}

/// How the random parts of two lines add. The drag that was taken out of both is one estimate: of its
/// uncertainty only what it does differently to the two lines stays.
fn random_part(object: &ObjectInertia, loaded: &Inertia, empty: &Inertia) -> Working {
    let (u_with, u_without, u_drag) =
        (symbol_of("u", "loaded"), symbol_of("u", "empty"), symbol_of("u", "drag"));
    let scatter = |inertia: &Inertia| inertia.line.moment_of_inertia.standard_uncertainty();
    // Only its square counts, and an uncertainty has no sign.
    let drag = KilogramMeters2((loaded.drag.0 - empty.drag.0).0.abs());
    let mut bindings = vec![
        bound(u_with, words::working::scatter_loaded(), scatter(loaded)),
        bound(u_without, words::working::scatter_empty(), scatter(empty)),
    ];
    let mut sum = u_with.squared() + u_without.squared();
    let mut words = words::working::random_part_why();
    if drag.0 != 0.0 {
        words = words::working::random_part_with_drag_why();
        bindings.push(bound(u_drag, words::working::drag_difference(), drag));
        sum = sum + u_drag.squared();
    }
    let target = symbol_of("u", "random");
    let result = object.moment_of_inertia.random.standard_uncertainty().0;
    working(words, target, sum.root(), bindings, result, KilogramMeters2::UNIT)
}

/// One part of an object; `index` counts from 0 where there are several.
pub fn part(body: &Body, moment: &Measured<KilogramMeters2>, index: Option<usize>) -> Working {
    let target =
        index.and_then(|index| PART_NUMBERS.get(index)).map_or(PREDICTED, |number| symbol_of("I", number));
    let words = match (body.count().get() > 1, body.formula() == body.shape().formula()) {
        (true, _) => words::working::alike_parts_why(),
        (false, true) => words::working::shape_why(),
        (false, false) => words::working::shape_off_axis_why(),
    };
    working(words, target, body.formula(), body.bindings(), moment.value().0, KilogramMeters2::UNIT)
}

/// Subscripts of the parts of one object; more parts than this show no sum.
const PART_NUMBERS: [&str; 12] = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12"];

/// The sum of the parts; `None` for a single one, whose own working is all there is.
pub fn prediction_sum(prediction: &Prediction) -> Option<Working> {
    let parts = &prediction.parts;
    if parts.len() < 2 || parts.len() > PART_NUMBERS.len() {
        return None;
    }
    let symbols = PART_NUMBERS.into_iter().map(|number| symbol_of("I", number));
    let bindings = symbols
        .clone()
        .zip(parts)
        .map(|(symbol, part)| bound(symbol, words::working::one_part(), part.1.value()));
    let formula = symbols.take(parts.len()).map(Formula::from).reduce(|sum, part| sum + part)?;
    Some(working(
        words::working::parts_add_why(),
        PREDICTED,
        formula,
        bindings.collect(),
        prediction.moment_of_inertia.value().0,
        KilogramMeters2::UNIT,
    ))
}

/// Difference, its uncertainty, and the difference in standard uncertainties and in percent.
pub fn comparison(comparison: &Comparison) -> Vec<Working> {
    let (d, u_d) = (symbol("D"), symbol_of("u", "D"));
    let (u_measured, u_predicted) = (symbol_of("u", "object"), symbol_of("u", "predicted"));
    let difference = || bound(d, words::working::difference(), comparison.difference.value());
    let predicted = || bound(PREDICTED, words::working::predicted(), comparison.predicted.value());
    let mut workings = vec![
        working(
            words::working::difference_why(),
            d,
            OBJECT - PREDICTED,
            vec![bound(OBJECT, words::working::measured(), comparison.measured.value()), predicted()],
            comparison.difference.value().0,
            KilogramMeters2::UNIT,
        ),
        working(
            words::working::difference_u_why(),
            u_d,
            (u_measured.squared() + u_predicted.squared()).root(),
            vec![
                bound(u_measured, words::working::of_measured(), comparison.measured.standard_uncertainty()),
                bound(
                    u_predicted,
                    words::working::of_predicted(),
                    comparison.predicted.standard_uncertainty(),
                ),
            ],
            comparison.difference.standard_uncertainty().0,
            KilogramMeters2::UNIT,
        ),
    ];
    if let Some(normalized) = comparison.in_standard_uncertainties {
        workings.push(working(
            words::working::normalized_why(),
            symbol("z"),
            d / u_d,
            vec![
                difference(),
                bound(u_d, words::working::its_u(), comparison.difference.standard_uncertainty()),
            ],
            normalized,
            Ratio::UNIT,
        ));
    }
    if let Some(percent) = &comparison.percent_difference {
        workings.push(working(
            words::working::percent_why(),
            symbol("p"),
            Formula::from(100) * d / PREDICTED,
            vec![difference(), predicted()],
            percent.value().0,
            "%",
        ));
    }
    workings
}
