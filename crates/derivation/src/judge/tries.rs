//! Trying a wrong expression out: in a limiting case, and with numbers.

use super::algebra::Case;
use super::{Rung, RungKind};
use crate::derivation::LimitCase;
use crate::expression::{Answer, Expression};
use crate::prose::Prose;
use crate::rational::{Limit, Rational};
use crate::symbols::SymbolId;

/// Relative differences below this are rounding.
const ROUNDING: f64 = 1e-9;

/// What is said when their expression goes elsewhere than it should.
pub(super) fn limit(case: &Case<'_>, limit: &LimitCase, own: &Expression) -> Option<Rung> {
    let target = || Answer::Value(Expression::symbol(case.task.target));
    let say = limit.say.clone();
    let text = match Rational::of(own)?.limit(limit.symbol, limit.goes) {
        Limit::Finite(found) if !case.differs(&found, &limit.should) => return None,
        Limit::Finite(found) => {
            say.and(": your ").math(target()).and(" tends to ").math(Answer::Value(found))
        }
        Limit::Unbounded => say.and(": the size of your ").math(target()).and(" grows without bound"),
    };
    Some(Rung::new(RungKind::Limit, text.and(". What should it be? ").followed_by(&limit.ask)))
}

/// What is said when a balance does not hold with their expression and usual values.
pub(super) fn number(case: &Case<'_>, own: &Expression) -> Option<Rung> {
    let balance = case.task.balance.as_ref()?;
    let derivation = case.derivation;
    let usual = |id: SymbolId| derivation.symbols.get(id).map_or(f64::NAN, |symbol| symbol.value);
    let found = own.evaluate(&usual);
    let value_of = |id: SymbolId| if id == case.task.target { found } else { usual(id) };
    let (left, right) = (balance.left.evaluate(&value_of), balance.right.evaluate(&value_of));
    let scale = left.abs().max(right.abs());
    if !(left.is_finite() && right.is_finite()) || (left - right).abs() <= ROUNDING * scale {
        return None;
    }
    let unit =
        |id: SymbolId| derivation.symbols.get(id).map(|symbol| symbol.unit.clone()).unwrap_or_default();
    let target = Answer::Value(Expression::symbol(case.task.target));
    let used: Vec<SymbolId> = derivation
        .symbols
        .ids()
        .filter(|id| *id != case.task.target)
        .filter(|id| [own, &balance.left, &balance.right].iter().any(|part| part.contains(*id)))
        .collect();
    let values: Vec<String> = used
        .iter()
        .map(|id| format!("{} = {} {}", derivation.symbols.shown(*id), usual(*id), unit(*id)))
        .collect();
    let balance_unit = crate::judge::dimensions::unit_of(derivation, &balance.left);
    let text = Prose::words(format!("With {} your ", values.join(", ")))
        .math(target)
        .and(format!(" comes to {} {}. Then ", shown(found), unit(case.task.target)))
        .followed_by(&balance.left_words)
        .and(format!(" is {} {balance_unit}, but ", shown(left)))
        .followed_by(&balance.right_words)
        .and(format!(" is {} {balance_unit}. The two have to be equal.", shown(right)));
    Some(Rung::new(RungKind::Number, text))
}

/// Three significant digits.
fn shown(value: f64) -> String {
    let magnitude = value.abs();
    if magnitude == 0.0 {
        return "0".to_owned();
    }
    let text = if (1e-4..1e6).contains(&magnitude) {
        #[expect(clippy::cast_possible_truncation, reason = "between −4 and 6")]
        let before = magnitude.log10().floor() as i32;
        let places = usize::try_from(2 - before).unwrap_or(0);
        format!("{value:.places$}")
    } else {
        format!("{value:.2e}").replace('e', "×10^")
    };
    text.replace('-', "−")
}
