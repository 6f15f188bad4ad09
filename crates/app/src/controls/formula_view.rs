//! Equations of the working in MathML Core.

use super::mathml::{bracketed, formula, fraction, power, row, symbol, token};
use crate::dom::{El, math};
use whorl_core::formula::{Formula, Place};
use whorl_core::working::Working;

/// `target = formula`, `= with values`, `= result`: one `<math>` element of three aligned rows.
pub(super) fn working_element(working: &Working) -> El {
    let label = format!("{}; {}; {}", working.equation(), working.substituted(), working.outcome());
    let line = |left: Option<El>, right: El| {
        // Without a left neighbor it would be taken for a prefix and lose its spacing.
        let equals = token("mo", "=").attr("form", "infix");
        math("mtr").with(math("mtd").with(left)).with(math("mtd").with(equals).with(right))
    };
    let target = symbol(working.target.letter, working.target.shown_subscript());
    let table = math("mtable")
        // A table's cells start small again unless told otherwise.
        .attr("displaystyle", "true")
        .with(line(Some(target), tree(&working.formula)))
        .with(line(None, tree(&working.formula.substituted(&working.bindings))))
        .with(line(None, quantity(&working.shown)));
    formula(table, &label)
}

/// Digits and unit, spaced and never broken.
fn quantity(text: &str) -> El {
    // Not `mtext`, which counts as space: an operator beside it would lose its own spacing.
    token("mn", text)
}

fn inside(formula: &Formula, place: Place) -> El {
    bracketed(tree(formula), formula.needs_brackets(place))
}

fn between(left: El, operator: &str, right: El) -> El {
    row(vec![left, token("mo", operator), right])
}

fn tree(formula: &Formula) -> El {
    match formula {
        Formula::Symbol(own) => symbol(own.letter, own.shown_subscript()),
        Formula::Whole(whole) => token("mn", &whole.to_string()),
        Formula::Value { text, .. } => quantity(text),
        Formula::Sum(left, right) => between(inside(left, Place::First), "+", inside(right, Place::Added)),
        Formula::Difference(left, right) => {
            between(inside(left, Place::First), "\u{2212}", inside(right, Place::Taken))
        }
        Formula::Product(left, right) => {
            let times = if Formula::needs_no_dot(left, right) { "\u{2062}" } else { "·" };
            between(inside(left, Place::Factor), times, inside(right, Place::Factor))
        }
        Formula::Quotient(above, below) => fraction(tree(above), tree(below)),
        Formula::Square(inner) => power(inside(inner, Place::Power), token("mn", "2")),
        Formula::Root(inner) => math("msqrt").with(tree(inner)),
        Formula::Negative(inner) => row(vec![token("mo", "\u{2212}"), inside(inner, Place::Factor)]),
    }
}
