//! Expressions multiplied out: a fraction of two polynomials with whole coefficients.
//!
//! Used where a tutor has to say what an expression becomes: in a limit, or solved for a symbol.
//! Whether an answer is right is never decided here ([`crate::identity`] does that), so giving up on
//! a long expression only costs a sentence.

use crate::expression::{Decimal, Expression, Factor, Kind, Term};
use crate::symbols::SymbolId;

/// Longer polynomials are given up on.
const MOST_TERMS: usize = 60;

/// Symbols with their powers, in the order of the symbols.
type Monomial = Vec<(SymbolId, u32)>;

/// Terms in the order of their monomials; no coefficient is zero. A list, not a map: maps and sorts
/// of every element type cost the page kilobytes.
#[derive(Clone, Debug, PartialEq, Default)]
struct Polynomial(Vec<(Monomial, i128)>);

/// A fraction of two polynomials; the denominator is not zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Rational {
    above: Polynomial,
    below: Polynomial,
}

/// Where a symbol goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goes {
    /// To zero.
    ToZero,
    /// Beyond all bounds.
    ToInfinity,
}

/// What an expression tends to.
#[derive(Clone, Debug, PartialEq)]
pub enum Limit {
    /// To an expression without the symbol.
    Finite(Expression),
    /// It grows beyond all bounds.
    Unbounded,
}

impl Polynomial {
    fn constant(value: i128) -> Self {
        Self::term(Vec::new(), value)
    }

    fn term(monomial: Monomial, coefficient: i128) -> Self {
        if coefficient == 0 { Self::default() } else { Self(vec![(monomial, coefficient)]) }
    }

    fn is_zero(&self) -> bool {
        self.0.is_empty()
    }

    fn plus(mut self, other: &Self) -> Option<Self> {
        for (monomial, coefficient) in &other.0 {
            self.add(monomial.clone(), *coefficient)?;
        }
        (self.0.len() <= MOST_TERMS).then_some(self)
    }

    fn add(&mut self, monomial: Monomial, coefficient: i128) -> Option<()> {
        let place = self.0.iter().position(|(own, _)| *own >= monomial).unwrap_or(self.0.len());
        match self.0.get_mut(place) {
            Some((own, sum)) if *own == monomial => {
                *sum = sum.checked_add(coefficient)?;
                if *sum == 0 {
                    self.0.remove(place);
                }
            }
            _ => self.0.insert(place, (monomial, coefficient)),
        }
        Some(())
    }

    fn times(&self, other: &Self) -> Option<Self> {
        let mut all = Self::default();
        for (left, a) in &self.0 {
            for (right, b) in &other.0 {
                all.add(multiplied(left, right), a.checked_mul(*b)?)?;
            }
        }
        (all.0.len() <= MOST_TERMS).then_some(all)
    }

    /// Whether it is 1, 10, 100 …: what decimals leave below the line.
    fn as_decimal_divisor(&self) -> Option<u64> {
        let places = 0..=Decimal::MOST_PLACES;
        places.map(|places| 10_u64.pow(places)).find(|scale| *self == Self::constant(i128::from(*scale)))
    }

    /// The powers of a symbol that occur.
    fn powers(&self, id: SymbolId) -> impl Iterator<Item = u32> {
        self.0.iter().map(move |(monomial, _)| power_of(monomial, id))
    }

    /// What stands beside one power of the symbol.
    fn coefficient(&self, id: SymbolId, power: u32) -> Self {
        let with_it = self.0.iter().filter(|(monomial, _)| power_of(monomial, id) == power);
        let without = |monomial: &Monomial| monomial.iter().copied().filter(|(own, _)| *own != id).collect();
        Self(with_it.map(|(monomial, coefficient)| (without(monomial), *coefficient)).collect())
    }

    /// As an expression, each coefficient divided by `divisor`.
    fn to_expression(&self, divisor: u64) -> Expression {
        let term = |(monomial, coefficient): &(Monomial, i128)| {
            let size = u64::try_from(coefficient.unsigned_abs()).unwrap_or(u64::MAX);
            let number = (size != divisor || monomial.is_empty()).then(|| divided(size, divisor));
            let powers = monomial.iter().map(|(id, power)| match i32::try_from(*power) {
                Ok(1) | Err(_) => Expression::symbol(*id),
                Ok(power) => Expression::new(Kind::Power(Box::new(Expression::symbol(*id)), power)),
            });
            let factors: Vec<Factor> =
                number.into_iter().chain(powers).map(|value| Factor { divides: false, value }).collect();
            let value = match factors.as_slice() {
                [only] => only.value.clone(),
                _ => Expression::new(Kind::Product(factors)),
            };
            Term { negative: *coefficient < 0, value }
        };
        // Positive terms first, as anyone would write it.
        let of_sign = |negative: bool| self.0.iter().filter(move |(_, c)| (*c < 0) == negative).map(term);
        let mut terms: Vec<Term> = of_sign(false).collect();
        terms.extend(of_sign(true));
        match terms.as_slice() {
            [] => Expression::whole(0),
            [Term { negative: false, value }] => value.clone(),
            _ => Expression::new(Kind::Sum(terms)),
        }
    }
}

/// A number that divides by 1, 10, 100 …
fn divided(size: u64, divisor: u64) -> Expression {
    let places = divisor.ilog10();
    let mut number = Decimal { digits: size, places };
    while number.places > 0 && number.digits.is_multiple_of(10) {
        number = Decimal { digits: number.digits / 10, places: number.places - 1 };
    }
    Expression::new(Kind::Number(number))
}

fn power_of(monomial: &Monomial, id: SymbolId) -> u32 {
    monomial.iter().find(|(own, _)| *own == id).map_or(0, |(_, power)| *power)
}

fn multiplied(left: &Monomial, right: &Monomial) -> Monomial {
    let mut all = left.clone();
    for (id, power) in right {
        match all.iter().position(|(own, _)| own >= id) {
            Some(place) => match all.get_mut(place) {
                Some((own, sum)) if own == id => *sum = sum.saturating_add(*power),
                _ => all.insert(place, (*id, *power)),
            },
            None => all.push((*id, *power)),
        }
    }
    all
}

fn greatest_common_divisor(a: u128, b: u128) -> u128 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

impl Rational {
    /// Multiplies an expression out; `None` when it divides by zero or gets too long.
    pub fn of(expression: &Expression) -> Option<Self> {
        let whole = |number: u64| Polynomial::constant(i128::from(number));
        let one = || Self { above: whole(1), below: whole(1) };
        let found = match &expression.kind {
            Kind::Number(number) => Self { above: whole(number.digits), below: whole(number.scale()) },
            Kind::Symbol(id) => Self { above: Polynomial::term(vec![(*id, 1)], 1), below: whole(1) },
            Kind::Sum(terms) => {
                let mut all = Self { above: Polynomial::default(), below: whole(1) };
                for term in terms {
                    let value = Self::of(&term.value)?;
                    let sign = Polynomial::constant(if term.negative { -1 } else { 1 });
                    let across = value.above.times(&all.below)?.times(&sign)?;
                    all = Self {
                        above: all.above.times(&value.below)?.plus(&across)?,
                        below: all.below.times(&value.below)?,
                    };
                }
                all
            }
            Kind::Product(factors) => {
                let mut all = one();
                for factor in factors {
                    let value = Self::of(&factor.value)?;
                    all = all.times(&if factor.divides { value.inverse()? } else { value })?;
                }
                all
            }
            Kind::Power(base, power) => {
                let base = Self::of(base)?;
                let base = if *power < 0 { base.inverse()? } else { base };
                let mut all = one();
                for _ in 0..power.unsigned_abs() {
                    all = all.times(&base)?;
                }
                all
            }
        };
        Some(found.reduced())
    }

    /// `left = right` solved for a symbol that occurs to the first power only; `None` when it does not.
    pub fn solved(left: &Expression, right: &Expression, target: SymbolId) -> Option<Self> {
        let (left, right) = (Self::of(left)?, Self::of(right)?);
        let minus = right.above.times(&left.below)?.times(&Polynomial::constant(-1))?;
        let zero = left.above.times(&right.below)?.plus(&minus)?;
        if zero.powers(target).max() != Some(1) {
            return None;
        }
        // A·x + B = 0
        let (a, b) = (zero.coefficient(target, 1), zero.coefficient(target, 0));
        Some(Self { above: b.times(&Polynomial::constant(-1))?, below: a }.reduced())
    }

    /// What it tends to as the symbol goes to zero or beyond all bounds.
    pub fn limit(&self, id: SymbolId, goes: Goes) -> Limit {
        let leading = |polynomial: &Polynomial| match goes {
            Goes::ToZero => polynomial.powers(id).min(),
            Goes::ToInfinity => polynomial.powers(id).max(),
        };
        let (Some(above), Some(below)) = (leading(&self.above), leading(&self.below)) else {
            return Limit::Finite(Expression::whole(0));
        };
        let above_wins = match goes {
            Goes::ToZero => above < below,
            Goes::ToInfinity => above > below,
        };
        if above == below {
            let ratio =
                Self { above: self.above.coefficient(id, above), below: self.below.coefficient(id, below) };
            Limit::Finite(ratio.reduced().to_expression())
        } else if above_wins {
            Limit::Unbounded
        } else {
            Limit::Finite(Expression::whole(0))
        }
    }

    /// As an expression, multiplied out.
    pub fn to_expression(&self) -> Expression {
        // A minus of the whole stands in front of the fraction.
        if self.above.0.iter().all(|(_, coefficient)| *coefficient < 0)
            && let Some(above) = self.above.times(&Polynomial::constant(-1)).filter(|above| !above.is_zero())
        {
            let value = Self { above, below: self.below.clone() }.to_expression();
            return Expression::new(Kind::Sum(vec![Term { negative: true, value }]));
        }
        if let Some(divisor) = self.below.as_decimal_divisor() {
            return self.above.to_expression(divisor);
        }
        let factor = |divides, value: &Polynomial| Factor { divides, value: value.to_expression(1) };
        Expression::new(Kind::Product(vec![factor(false, &self.above), factor(true, &self.below)]))
    }

    fn inverse(self) -> Option<Self> {
        (!self.above.is_zero()).then_some(Self { above: self.below, below: self.above })
    }

    fn times(&self, other: &Self) -> Option<Self> {
        Some(Self { above: self.above.times(&other.above)?, below: self.below.times(&other.below)? })
    }

    /// Without the whole numbers and symbols that all terms above and below share, and with the
    /// first coefficient below positive.
    fn reduced(mut self) -> Self {
        if self.above.is_zero() {
            return Self { above: self.above, below: Polynomial::constant(1) };
        }
        let coefficients = || self.above.0.iter().chain(&self.below.0).map(|(_, coefficient)| coefficient);
        let divisor = coefficients().fold(0, |all, c| greatest_common_divisor(all, c.unsigned_abs()));
        let divisor = i128::try_from(divisor).unwrap_or(1).max(1);
        let negative = self.below.0.last().is_some_and(|(_, c)| *c < 0);
        let divisor = if negative { -divisor } else { divisor };
        let monomials = || self.above.0.iter().chain(&self.below.0).map(|(monomial, _)| monomial);
        let mut shared: Monomial = monomials().next().cloned().unwrap_or_default();
        for (id, power) in &mut shared {
            *power = monomials().map(|monomial| power_of(monomial, *id)).min().unwrap_or(0);
        }
        let divided = |polynomial: &Polynomial| {
            // Taking the same away from all of them may change their order.
            let mut all = Polynomial::default();
            for (monomial, coefficient) in &polynomial.0 {
                let left = monomial.iter().map(|(id, power)| (*id, power - power_of(&shared, *id)));
                let left = left.filter(|(_, power)| *power > 0).collect();
                // No two terms meet, so nothing is added up.
                let _ = all.add(left, coefficient / divisor);
            }
            all
        };
        (self.above, self.below) = (divided(&self.above), divided(&self.below));
        self
    }
}

#[cfg(test)]
mod tests;
