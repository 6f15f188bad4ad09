//! Whether two expressions are equal, exactly.
//!
//! Both are rational functions of their symbols with integer coefficients. Each is evaluated as a
//! fraction of two numbers modulo a prime at points drawn at random, never divided, and the
//! fractions are compared crosswise: that evaluates the polynomial D = n₁d₂ − n₂d₁.
//!
//! **How sure.** By the Schwartz–Zippel lemma (J. T. Schwartz, *J. ACM* 27 (1980) 701; R. Zippel,
//! EUROSAM 1979) a polynomial of degree d that is not zero modulo p vanishes at a random point with a
//! probability of at most d/p. What could have d > 2²⁰ is refused, and p > 2⁶⁰, so [`TRIALS`] = 2
//! points err with at most 2⁻⁸⁰ < 10⁻²⁴. Drawing a point anew where a denominator vanishes is as
//! unlikely to matter.
//! D may also vanish because p divides all its coefficients. Their size is bounded ([`Size`]); as many
//! primes are used as it takes for their product to exceed that bound, so at least one of them does
//! not divide them. Where eight are not enough, the answer is refused as too large.
//! Together: an unequal pair passes with a probability below 10⁻²³; an equal one always passes.
//!
//! The points come from a generator with a fixed seed: the same answer is always judged alike.

use crate::expression::{Expression, Kind};
use crate::symbols::SymbolId;

/// Primes between 2⁶⁰ and 2⁶¹: 2⁶¹ − k for these k, checked by the tests.
const PRIMES: [u64; 8] = [
    2_305_843_009_213_693_951,
    2_305_843_009_213_693_921,
    2_305_843_009_213_693_907,
    2_305_843_009_213_693_723,
    2_305_843_009_213_693_693,
    2_305_843_009_213_693_669,
    2_305_843_009_213_693_613,
    2_305_843_009_213_693_561,
];
/// Every prime exceeds two to this power.
const PRIME_BITS: f64 = 60.0;

/// Points at which an identity is tried with each prime.
pub const TRIALS: usize = 2;

/// Highest degree and longest coefficients of one side as it is typed: base-2 logarithms.
const MOST_TYPED: Size = Size { degree: 200.0, bits: 200.0 };
/// Highest degree of the polynomial that is tried.
const MOST_DEGREE: f64 = 1_048_576.0;

/// Points drawn before a denominator is taken to vanish everywhere.
const DRAWS: usize = 4;

/// A bound on a fraction of two polynomials with integer coefficients.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// The larger degree of numerator and denominator.
    pub degree: f64,
    /// Base-2 logarithm of the larger sum of absolute coefficients.
    pub bits: f64,
}

impl Size {
    /// The size of an expression, from above.
    pub fn of(expression: &Expression) -> Self {
        Self::with(expression, &|_| Self::SYMBOL)
    }

    const SYMBOL: Self = Self { degree: 1.0, bits: 0.0 };

    /// The size when symbols stand for something of a size of their own.
    fn with(expression: &Expression, of_symbol: &impl Fn(SymbolId) -> Self) -> Self {
        match &expression.kind {
            Kind::Number(number) => {
                let largest = number.digits.max(number.scale());
                Self { degree: 0.0, bits: (largest as f64).log2().max(0.0) + 1e-9 }
            }
            Kind::Symbol(id) => of_symbol(*id),
            // n₁/d₁ + n₂/d₂ = (n₁d₂ + n₂d₁)/(d₁d₂), term by term.
            Kind::Sum(terms) => {
                let sizes = terms.iter().map(|term| Self::with(&term.value, of_symbol));
                sizes.reduce(|all, next| Self { bits: all.bits + next.bits + 1.0, ..all.times(next) })
            }
            .unwrap_or(Self::SYMBOL),
            Kind::Product(factors) => {
                let sizes = factors.iter().map(|factor| Self::with(&factor.value, of_symbol));
                sizes.reduce(Self::times).unwrap_or(Self::SYMBOL)
            }
            Kind::Power(base, power) => {
                let (size, power) = (Self::with(base, of_symbol), f64::from(power.unsigned_abs()));
                Self { degree: size.degree * power, bits: size.bits * power }
            }
        }
    }

    fn times(self, other: Self) -> Self {
        Self { degree: self.degree + other.degree, bits: self.bits + other.bits }
    }

    /// Whether an answer of this size is taken at all.
    pub fn is_decidable(&self) -> bool {
        self.degree <= MOST_TYPED.degree && self.bits <= MOST_TYPED.bits
    }
}

/// What symbols stand for: each may be defined by an expression of symbols that are not defined
/// later in the list. Undefined symbols are free.
pub type Definitions<'a> = [(SymbolId, &'a Expression)];

/// What came of trying an identity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Equal wherever both have a value.
    Equal,
    /// Different.
    Different,
    /// One of them divides by zero whatever the values.
    DividesByZero,
    /// Powers or numbers too large to be sure.
    TooLarge,
}

/// Whether two expressions are equal, with what is already known put in.
pub fn compare(left: &Expression, right: &Expression, known: &Definitions<'_>) -> Verdict {
    vanishes(1.0, &[left, right], known, &|point| {
        let (left, right) = (point.value(left)?, point.value(right)?);
        Some(point.field.difference(left, right))
    })
}

/// Whether an equation says the same as `target = value`: whatever the other symbols are, it holds
/// for that one value of `target` and, but for factors without `target`, for no other.
///
/// With F = left − right as a function of the target x alone: F(v) = 0, and F = c·(x − v)/(e·x + f),
/// so that G = (x − v)/F is a straight line in x. Three points of G that always lie on one line prove it.
pub fn says_that(
    equation: (&Expression, &Expression),
    target: SymbolId,
    value: &Expression,
    known: &Definitions<'_>,
) -> Verdict {
    vanishes(STRAIGHT_LINE_USES, &[equation.0, equation.1, value], known, &|point| {
        let field = point.field;
        let value = point.value(value)?;
        point.set(target, value);
        let (left, right) = (point.value(equation.0)?, point.value(equation.1)?);
        let off = field.difference(left, right);
        if off != 0 {
            return Some(off);
        }
        let mut found = [(Fraction::ZERO, Fraction::ZERO); 3];
        for place in &mut found {
            let x = point.draw();
            point.set(target, x);
            let (left, right) = (point.value(equation.0)?, point.value(equation.1)?);
            let ratio = field.divide(field.subtract(x, value), field.subtract(left, right))?;
            *place = (x, ratio);
        }
        let [(x1, y1), (x2, y2), (x3, y3)] = found;
        // (y2 − y1)(x3 − x1) = (y3 − y1)(x2 − x1)
        let one = field.times(field.subtract(y2, y1), field.subtract(x3, x1));
        let other = field.times(field.subtract(y3, y1), field.subtract(x2, x1));
        Some(field.difference(one, other))
    })
}

/// How often the two sides and the value enter the straight-line test, at most.
const STRAIGHT_LINE_USES: f64 = 6.0;

/// How many primes it takes to exceed any coefficient of an identity in which each of these enters
/// `uses` times; `None` when it cannot be decided.
fn n_primes(uses: f64, sides: &[&Expression], known: &Definitions<'_>) -> Option<usize> {
    let mut sizes: Vec<(SymbolId, Size)> = Vec::new();
    let of = |sizes: &[(SymbolId, Size)], expression: &Expression| {
        let of_symbol = |id| sizes.iter().find(|(own, _)| *own == id).map_or(Size::SYMBOL, |(_, size)| *size);
        Size::with(expression, &of_symbol)
    };
    for (id, definition) in known {
        let size = of(&sizes, definition);
        sizes.push((*id, size));
    }
    let all = sides.iter().map(|side| of(&sizes, side)).fold(Size::SYMBOL, Size::times);
    let bits = uses * (all.bits + sides.len() as f64);
    let primes = (1..=PRIMES.len()).find(|n| *n as f64 * PRIME_BITS > bits)?;
    (uses * all.degree <= MOST_DEGREE).then_some(primes)
}

/// Tries whether `expression` of these `sides` is zero at every point; it is `None` where it has no value.
fn vanishes(
    uses: f64,
    sides: &[&Expression],
    known: &Definitions<'_>,
    expression: &dyn Fn(&mut Point<'_>) -> Option<u64>,
) -> Verdict {
    let Some(n_primes) = n_primes(uses, sides, known) else { return Verdict::TooLarge };
    let mut random = Random(0x57a9_1e0f_b00c_5eed);
    for &prime in PRIMES.iter().take(n_primes) {
        for _ in 0..TRIALS {
            let tried = (0..DRAWS).find_map(|_| {
                let mut point = Point { field: Field(prime), random: &mut random, known, free: Vec::new() };
                expression(&mut point)
            });
            match tried {
                None => return Verdict::DividesByZero,
                Some(0) => {}
                Some(_) => return Verdict::Different,
            }
        }
    }
    Verdict::Equal
}

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014): even bits from a counter.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
}

/// numerator/denominator modulo a prime; the denominator is not zero.
#[derive(Clone, Copy, Debug)]
struct Fraction {
    numerator: u64,
    denominator: u64,
}

impl Fraction {
    const ZERO: Self = Self { numerator: 0, denominator: 1 };
    const ONE: Self = Self { numerator: 1, denominator: 1 };

    /// `None` for zero.
    fn inverse(self) -> Option<Self> {
        (self.numerator != 0).then_some(Self { numerator: self.denominator, denominator: self.numerator })
    }
}

/// The integers modulo a prime.
#[derive(Clone, Copy)]
struct Field(u64);

impl Field {
    fn product(self, left: u64, right: u64) -> u64 {
        // Below the prime, which fits 64 bits.
        #[expect(clippy::cast_possible_truncation, reason = "a remainder of a 61-bit number")]
        let product = (u128::from(left) * u128::from(right) % u128::from(self.0)) as u64;
        product
    }

    fn negative(self, value: u64) -> u64 {
        if value == 0 { 0 } else { self.0 - value }
    }

    fn sum(self, left: u64, right: u64) -> u64 {
        // Both are below 2⁶¹: no overflow.
        (left + right) % self.0
    }

    fn whole(self, value: u64) -> u64 {
        value % self.0
    }

    fn times(self, left: Fraction, right: Fraction) -> Fraction {
        Fraction {
            numerator: self.product(left.numerator, right.numerator),
            denominator: self.product(left.denominator, right.denominator),
        }
    }

    fn divide(self, left: Fraction, right: Fraction) -> Option<Fraction> {
        right.inverse().map(|inverse| self.times(left, inverse))
    }

    fn add(self, left: Fraction, right: Fraction) -> Fraction {
        let across = self.product(left.numerator, right.denominator);
        let back = self.product(right.numerator, left.denominator);
        Fraction {
            numerator: self.sum(across, back),
            denominator: self.product(left.denominator, right.denominator),
        }
    }

    fn subtract(self, left: Fraction, right: Fraction) -> Fraction {
        self.add(left, Fraction { numerator: self.negative(right.numerator), ..right })
    }

    /// n₁d₂ − n₂d₁: zero exactly when the two are equal.
    fn difference(self, left: Fraction, right: Fraction) -> u64 {
        let across = self.product(left.numerator, right.denominator);
        let back = self.product(right.numerator, left.denominator);
        self.sum(across, self.negative(back))
    }

    fn power(self, base: Fraction, power: i32) -> Option<Fraction> {
        let base = if power < 0 { base.inverse()? } else { base };
        Some((0..power.unsigned_abs()).fold(Fraction::ONE, |all, _| self.times(all, base)))
    }
}

/// A random value for every free symbol, drawn when it is first needed.
struct Point<'a> {
    field: Field,
    random: &'a mut Random,
    known: &'a Definitions<'a>,
    free: Vec<(SymbolId, Fraction)>,
}

impl Point<'_> {
    fn draw(&mut self) -> Fraction {
        Fraction { numerator: self.field.whole(self.random.next()), denominator: 1 }
    }

    fn set(&mut self, id: SymbolId, value: Fraction) {
        self.free.retain(|(other, _)| *other != id);
        self.free.push((id, value));
    }

    fn of_symbol(&mut self, id: SymbolId) -> Option<Fraction> {
        let known = self.known;
        let place = known.iter().position(|(own, _)| *own == id);
        if let Some((definition, before)) =
            place.and_then(|place| Some((known.get(place)?.1, known.get(..place)?)))
        {
            // Only what stands before it may be used: no definition can go round in a circle.
            self.known = before;
            let value = self.value(definition);
            self.known = known;
            return value;
        }
        if let Some((_, value)) = self.free.iter().find(|(own, _)| *own == id) {
            return Some(*value);
        }
        let value = self.draw();
        self.free.push((id, value));
        Some(value)
    }

    /// The expression's value here; `None` where it divides by zero.
    fn value(&mut self, expression: &Expression) -> Option<Fraction> {
        Some(match &expression.kind {
            Kind::Number(number) => Fraction {
                numerator: self.field.whole(number.digits),
                denominator: self.field.whole(number.scale()),
            },
            Kind::Symbol(id) => self.of_symbol(*id)?,
            Kind::Sum(terms) => {
                let mut all = Fraction::ZERO;
                for term in terms {
                    let value = self.value(&term.value)?;
                    all = if term.negative {
                        self.field.subtract(all, value)
                    } else {
                        self.field.add(all, value)
                    };
                }
                all
            }
            Kind::Product(factors) => {
                let mut all = Fraction::ONE;
                for factor in factors {
                    let value = self.value(&factor.value)?;
                    all = if factor.divides {
                        self.field.divide(all, value)?
                    } else {
                        self.field.times(all, value)
                    };
                }
                all
            }
            Kind::Power(base, power) => {
                let base = self.value(base)?;
                self.field.power(base, *power)?
            }
        })
    }
}

#[cfg(test)]
mod tests;
