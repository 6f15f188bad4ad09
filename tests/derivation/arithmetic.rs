//! Fractions of whole numbers, exactly: what decides here whether two expressions really differ.
//!
//! Nothing of the program under test is used. Where a number would not fit 128 bits there is none.

use crate::tree::Tree;

/// Points at which two expressions have to agree before they are taken to be equal.
pub(crate) const ENOUGH: usize = 20;

/// numerator/denominator in lowest terms, denominator positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Fraction {
    numerator: i128,
    denominator: i128,
}

impl Fraction {
    pub(crate) fn whole(numerator: i128) -> Self {
        Self { numerator, denominator: 1 }
    }

    /// `None` where the denominator is zero.
    fn reduced(numerator: i128, denominator: i128) -> Option<Self> {
        let divisor = common_divisor(numerator, denominator)?;
        let divisor = if denominator < 0 { -divisor } else { divisor };
        (denominator != 0)
            .then(|| Self { numerator: numerator / divisor, denominator: denominator / divisor })
    }

    fn plus(self, other: Self) -> Option<Self> {
        let across = self.numerator.checked_mul(other.denominator)?;
        let back = other.numerator.checked_mul(self.denominator)?;
        Self::reduced(across.checked_add(back)?, self.denominator.checked_mul(other.denominator)?)
    }

    fn negative(self) -> Self {
        Self { numerator: -self.numerator, ..self }
    }

    fn times(self, other: Self) -> Option<Self> {
        let numerator = self.numerator.checked_mul(other.numerator)?;
        Self::reduced(numerator, self.denominator.checked_mul(other.denominator)?)
    }

    fn over(self, other: Self) -> Option<Self> {
        let numerator = self.numerator.checked_mul(other.denominator)?;
        Self::reduced(numerator, self.denominator.checked_mul(other.numerator)?)
    }
}

fn common_divisor(a: i128, b: i128) -> Option<i128> {
    let (mut a, mut b) = (a.checked_abs()?, b.checked_abs()?);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    Some(a.max(1))
}

impl Tree {
    /// The value with a whole number for every symbol; `None` where it divides by zero or does not fit.
    pub(crate) fn value(&self, point: &[i128]) -> Option<Fraction> {
        match self {
            Self::Whole(number) => Some(Fraction::whole(i128::from(*number))),
            Self::Symbol(index) => point.get(*index).copied().map(Fraction::whole),
            Self::Negative(inner) => inner.value(point).map(Fraction::negative),
            Self::Sum(left, right) => left.value(point)?.plus(right.value(point)?),
            Self::Difference(left, right) => left.value(point)?.plus(right.value(point)?.negative()),
            Self::Product(left, right) => left.value(point)?.times(right.value(point)?),
            Self::Quotient(left, right) => left.value(point)?.over(right.value(point)?),
            Self::Power(base, power) => {
                let base = base.value(point)?;
                let mut all = Fraction::whole(1);
                for _ in 0..power.unsigned_abs() {
                    all = all.times(base)?;
                }
                if *power < 0 { Fraction::whole(1).over(all) } else { Some(all) }
            }
        }
    }

    /// Whether it has a value that is not zero somewhere.
    pub(crate) fn is_something(&self) -> bool {
        points().any(|point| self.value(&point).is_some_and(|value| value != Fraction::whole(0)))
    }
}

/// What trying two expressions at the points shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tried {
    /// They differ at one of them: they are different, for certain.
    Different,
    /// They agree at [`ENOUGH`] of them.
    Agree,
    /// Too few points at which both have a value that fits.
    Unknown,
}

pub(crate) fn tried(left: &Tree, right: &Tree) -> Tried {
    let mut n_agreeing = 0;
    for point in points() {
        if let (Some(left), Some(right)) = (left.value(&point), right.value(&point)) {
            if left != right {
                return Tried::Different;
            }
            n_agreeing += 1;
            if n_agreeing == ENOUGH {
                return Tried::Agree;
            }
        }
    }
    Tried::Unknown
}

/// Sixty points of small whole numbers, none of them zero, for up to 32 symbols.
fn points() -> impl Iterator<Item = Vec<i128>> {
    (0..60_u64).map(|index| {
        let mut choices = Choices(index);
        (0..32)
            .map(|_| i128::from(choices.below(12)) - 6)
            .map(|value| value + i128::from(value >= 0))
            .collect()
    })
}

/// Choices made from a seed: an even mix of its bits and a counter's.
pub(crate) struct Choices(pub(crate) u64);

impl Choices {
    pub(crate) fn below(&mut self, end: usize) -> u32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = (self.0 ^ (self.0 >> 32)).wrapping_mul(0xd6e8_feb8_6659_fd93);
        mixed = (mixed ^ (mixed >> 32)).wrapping_mul(0xd6e8_feb8_6659_fd93);
        let end = u64::try_from(end).unwrap();
        u32::try_from(((mixed ^ (mixed >> 32)) >> 16) % end).unwrap()
    }

    /// One of them; there has to be one.
    pub(crate) fn of<'a, T>(&mut self, items: &'a [T]) -> &'a T {
        &items[self.below(items.len()) as usize]
    }
}

#[test]
fn fractions_come_out_as_in_a_school_book() {
    let fraction = |numerator, denominator| Fraction::reduced(numerator, denominator).unwrap();
    assert_eq!(fraction(1, 2).plus(fraction(1, 3)), Some(fraction(5, 6)));
    assert_eq!(fraction(-2, 4), fraction(1, -2));
    assert_eq!(fraction(2, 3).times(fraction(3, 4)), Some(fraction(1, 2)));
    assert_eq!(fraction(2, 3).over(fraction(-4, 3)), Some(fraction(-1, 2)));
    assert_eq!(fraction(1, 2).over(Fraction::whole(0)), None);
    assert_eq!(Fraction::whole(i128::MAX).plus(Fraction::whole(1)), None);
    let (x, two) = (|| Box::new(Tree::Symbol(0)), || Box::new(Tree::Whole(2)));
    let square = Tree::Power(Box::new(Tree::Sum(x(), two())), 2);
    assert_eq!(square.value(&[3]), Some(Fraction::whole(25)));
    assert_eq!(Tree::Power(Box::new(square), -1).value(&[-3]), Some(Fraction::whole(1)));
    assert_eq!(Tree::Quotient(two(), x()).value(&[0]), None);
}

#[test]
fn two_expressions_that_differ_are_told_apart_by_the_points() {
    let (x, y) = (|| Box::new(Tree::Symbol(0)), || Box::new(Tree::Symbol(1)));
    let (sum, swapped) = (Tree::Sum(x(), y()), Tree::Sum(y(), x()));
    assert_eq!(tried(&sum, &swapped), Tried::Agree);
    assert_eq!(tried(&sum, &Tree::Difference(x(), y())), Tried::Different);
    let nowhere = Tree::Quotient(x(), Box::new(Tree::Difference(y(), y())));
    assert_eq!(tried(&sum, &nowhere), Tried::Unknown);
    assert!(sum.is_something() && !nowhere.is_something());
}
