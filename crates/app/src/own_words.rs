//! The student's own expressions from the pre-lab, in place in the working of the analysis.

use crate::controls::answer_view;
use crate::dom::{El, el};
use crate::parts;
use crate::state::LabState;
use whorl_core::formula::{Binding, Formula, Symbol, symbol, symbol_of};
use whorl_core::working::{Working, in_own_words};
use whorl_derivation::expression::{Answer, Decimal, Expression, Kind};
use whorl_derivation::symbols::{SymbolId, Symbols};
use whorl_words as words;

/// Symbols of derivations by their keys, and what the analysis calls the same quantity. The string
/// runs at the effective radius, which a derivation without its thickness calls R.
const NAMES: [(&str, Symbol); 16] = [
    ("m", symbol("m")),
    ("g", symbol("g")),
    ("a", symbol("a")),
    ("a_t", symbol("a")),
    ("T", symbol("T")),
    ("R", symbol("R")),
    ("R", symbol_of("R", "e")),
    ("R_e", symbol_of("R", "e")),
    ("d", symbol("d")),
    ("alpha", symbol("α")),
    ("tau_s", symbol("τ")),
    ("tau_f", symbol_of("τ", "f")),
    ("I", symbol("I")),
    ("I_loaded", symbol_of("I", "loaded")),
    ("I_empty", symbol_of("I", "empty")),
    ("I_object", symbol_of("I", "object")),
];

/// The steps with the student's own accepted expressions, where there are any that give the same
/// numbers.
pub(crate) fn in_own(lab: LabState, steps: Vec<Working>) -> Vec<Working> {
    // Once a derivation is there, the pre-lab's part is.
    let begun = lab.prelab.derivation().is_some();
    match parts::prelab().filter(|_| begun) {
        Some(part) => (part.in_own)(lab, steps),
        None => steps,
    }
}

/// The line as the student wrote it: the string's torque with the friction torque in it.
pub(crate) fn own_line(lab: LabState) -> Option<El> {
    lab.prelab.derivation()?;
    (parts::prelab()?.own_line)(lab)
}

/// [`in_own`], in the pre-lab's part.
pub(crate) fn of_prelab(lab: LabState, steps: Vec<Working>) -> Vec<Working> {
    let prelab = lab.prelab;
    let Some(derivation) = prelab.derivation() else { return steps };
    let symbols = &derivation.symbols;
    let accepted: Vec<Answer> =
        derivation.steps.iter().filter_map(|step| prelab.accepted_answer(&derivation, step)).collect();
    let own = |target: Symbol, known: &[Binding]| {
        let is_target = |side: &Expression| match side.kind {
            Kind::Symbol(id) => names(symbols, id).any(|name| name == target),
            _ => false,
        };
        accepted.iter().find_map(|answer| match answer {
            Answer::Equation(left, right) if is_target(left) => formula(right, symbols, known),
            Answer::Equation(left, right) if is_target(right) => formula(left, symbols, known),
            _ => None,
        })
    };
    in_own_words(steps, &own)
}

/// [`own_line`], in the pre-lab's part.
pub(crate) fn line_of_prelab(lab: LabState) -> Option<El> {
    let derivation = lab.prelab.derivation()?;
    let symbols = &derivation.symbols;
    let (string, friction) = (symbols.find("tau_s")?, symbols.find("tau_f")?);
    let accepted = derivation.steps.iter().filter_map(|step| lab.prelab.accepted_answer(&derivation, step));
    let is_line = |answer: &Answer| match answer {
        Answer::Equation(left, right) => left.is_symbol(string) && right.contains(friction),
        Answer::Value(_) => false,
    };
    let line = accepted.into_iter().find(is_line)?;
    Some(el("p.own-line").with(words::line::own_line()).with(" ").with(answer_view(&line, symbols)))
}

fn names(symbols: &Symbols, id: SymbolId) -> impl Iterator<Item = Symbol> {
    let key = symbols.get(id).map_or("", |symbol| &symbol.key);
    NAMES.into_iter().filter(move |(own, _)| *own == key).map(|(_, name)| name)
}

/// The expression with the analysis' symbols; `None` when it needs one that has no value here.
fn formula(expression: &Expression, symbols: &Symbols, known: &[Binding]) -> Option<Formula> {
    let inner = |expression| formula(expression, symbols, known);
    Some(match &expression.kind {
        Kind::Number(number) => of_number(*number),
        Kind::Symbol(id) => {
            let bound = |name: &Symbol| known.iter().any(|binding| binding.symbol == *name);
            Formula::Symbol(names(symbols, *id).find(bound)?)
        }
        Kind::Sum(terms) => {
            let mut all: Option<Formula> = None;
            for term in terms {
                let value = inner(&term.value)?;
                all = Some(match (all, term.negative) {
                    (None, false) => value,
                    (None, true) => -value,
                    (Some(all), false) => all + value,
                    (Some(all), true) => all - value,
                });
            }
            all?
        }
        Kind::Product(factors) => {
            let mut all: Option<Formula> = None;
            for factor in factors {
                let value = inner(&factor.value)?;
                all = Some(match all {
                    None => value,
                    Some(all) if factor.divides => all / value,
                    Some(all) => all * value,
                });
            }
            all?
        }
        Kind::Power(base, 2) => inner(base)?.squared(),
        Kind::Power(base, power) => {
            let base = inner(base)?;
            let raised = (1..power.unsigned_abs()).fold(base.clone(), |all, _| all * base.clone());
            match power {
                0 => Formula::from(1),
                1.. => raised,
                _ => Formula::from(1) / raised,
            }
        }
    })
}

fn of_number(number: Decimal) -> Formula {
    match u32::try_from(number.digits) {
        Ok(whole) if number.places == 0 => Formula::from(whole),
        _ => Formula::Value { value: number.value(), text: number.to_string() },
    }
}
