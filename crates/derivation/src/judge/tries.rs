//! Trying a wrong expression out: in a limiting case, and with numbers.

use super::algebra::Case;
use super::{Rung, RungKind};
use crate::derivation::LimitCase;
use crate::expression::{Answer, Expression};
use crate::prose::{HOLES, Prose};
use crate::rational::{Limit, Rational};
use crate::symbols::SymbolId;
use whorl_words as words;

/// Relative differences below this are rounding.
const ROUNDING: f64 = 1e-9;

/// What is said when their expression goes elsewhere than it should.
pub(super) fn limit(case: &Case<'_>, limit: &LimitCase, own: &Expression) -> Option<Rung> {
    let [say, target, found, ask] = HOLES;
    let (text, goes_to) = match Rational::of(own)?.limit(limit.symbol, limit.goes) {
        Limit::Finite(found) if !case.differs(&found, &limit.should) => return None,
        Limit::Finite(goes_to) => (words::algebra::tends_to(&say, &target, &found, &ask), Some(goes_to)),
        Limit::Unbounded => (words::algebra::grows_without_bound(&say, &target, &ask), None),
    };
    let goes_to = goes_to.map(|value| Prose::of(Answer::Value(value))).unwrap_or_default();
    let parts = [limit.say.clone(), Prose::symbol(case.task.target), goes_to, limit.ask.clone()];
    Some(Rung::new(RungKind::Limit, Prose::filled(&text, &parts)))
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
    let used: Vec<SymbolId> = derivation
        .symbols
        .ids()
        .filter(|id| *id != case.task.target)
        .filter(|id| [own, &balance.left, &balance.right].iter().any(|part| part.contains(*id)))
        .collect();
    let values: Vec<String> = used
        .iter()
        .map(|id| (derivation.symbols.shown(*id), words::with_mark(&usual(*id).to_string()), unit(*id)))
        .map(|(symbol, value, unit)| format!("{symbol} = {value} {unit}"))
        .collect();
    let balance_unit = crate::judge::dimensions::unit_of(derivation, &balance.left);
    let with_unit = |value: f64, unit: &str| format!("{} {unit}", shown(value));
    let [target, one, other, _] = HOLES;
    let text = words::algebra::with_numbers(
        &values.join(", "),
        &target,
        &with_unit(found, &unit(case.task.target)),
        &one,
        &with_unit(left, &balance_unit),
        &other,
        &with_unit(right, &balance_unit),
    );
    let parts = [Prose::symbol(case.task.target), balance.left_words.clone(), balance.right_words.clone()];
    Some(Rung::new(RungKind::Number, Prose::filled(&text, &parts)))
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
    words::with_mark(&text).replace('-', "−")
}
