//! The working in a student's own expressions.

use super::Working;
use crate::formula::{Binding, Formula, Symbol};
use whorl_words as words;

/// Relative difference up to which two ways to calculate a number agree: rounding alone.
const ROUNDING: f64 = 1e-9;

/// Steps of one working with a student's own formulas in place of the built-in ones.
///
/// `own` gives the formula for a quantity, using only symbols among the bindings it is handed: all
/// that the steps know. It is used only where it gives the same number.
pub fn in_own_words(
    steps: Vec<Working>,
    own: &dyn Fn(Symbol, &[Binding]) -> Option<Formula>,
) -> Vec<Working> {
    let mut known: Vec<Binding> = Vec::new();
    for binding in steps.iter().flat_map(|step| &step.bindings) {
        if !known.iter().any(|other| other.symbol == binding.symbol) {
            known.push(binding.clone());
        }
    }
    let in_own = |step: &Working| {
        let formula = own(step.target, &known)?;
        let found = formula.evaluate(&known)?;
        ((found - step.result).abs() <= ROUNDING * step.result.abs()).then(|| {
            let used = |binding: &&Binding| formula.contains(binding.symbol);
            let bindings = known.iter().filter(used).cloned().collect();
            Working {
                words: words::working::own_expression(),
                formula: formula.clone(),
                bindings,
                ..step.clone()
            }
        })
    };
    steps.into_iter().map(|step| in_own(&step).unwrap_or(step)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::symbol;
    use crate::quantity::{Kilograms, Meters, MetersPerSecond2, Newtons};
    use crate::working::{bound, working};

    #[test]
    fn an_own_formula_is_used_where_it_gives_the_same_number() {
        let (m, g, a, tension, torque, radius) =
            (symbol("m"), symbol("g"), symbol("a"), symbol("T"), symbol("τ"), symbol("R"));
        let steps = vec![
            working(
                "",
                tension,
                m * (g - a),
                vec![
                    bound(m, "", Kilograms(0.05)),
                    bound(g, "", MetersPerSecond2(9.81)),
                    bound(a, "", MetersPerSecond2(0.41)),
                ],
                0.47,
                "N",
            ),
            working(
                "",
                torque,
                tension * radius,
                vec![bound(tension, "", Newtons(0.47)), bound(radius, "", Meters(0.02))],
                0.0094,
                "N·m",
            ),
        ];
        let own = |target: Symbol, _: &[Binding]| {
            Some(if target == tension { m * g - m * a } else { m * (g - a) * radius })
        };
        let told = in_own_words(steps.clone(), &own);
        assert_eq!(told[0].equation(), "T = m·g − m·a");
        assert_eq!(told[1].equation(), "τ = m·(g − a)·R");
        assert_eq!(told[1].bindings.len(), 4);
        assert_eq!(told[1].result.to_bits(), steps[1].result.to_bits());
        let wrong = |_: Symbol, _: &[Binding]| Some(m * g);
        assert_eq!(in_own_words(steps.clone(), &wrong), steps);
        assert_eq!(in_own_words(steps.clone(), &|_, _| Some(m * symbol("x"))), steps);
    }
}
