//! Equal is equal, and nothing else is.

use super::*;
use crate::derivation::tests::symbols;
use crate::expression::Answer;
use crate::reading::read;
use crate::symbols::Symbols;

fn sides(text: &str, symbols: &Symbols) -> (Expression, Expression) {
    let all: Vec<SymbolId> = symbols.ids().collect();
    match read(text, symbols, &all).unwrap().answer {
        Answer::Equation(left, right) => (left, right),
        Answer::Value(_) => unreachable!("the tests write equations"),
    }
}

fn verdict(text: &str) -> Verdict {
    let symbols = symbols();
    let (left, right) = sides(text, &symbols);
    compare(&left, &right, &[])
}

#[test]
fn the_primes_are_primes_above_two_to_the_sixtieth() {
    let mut seen = Vec::new();
    for prime in PRIMES {
        assert!((prime as f64).log2() > PRIME_BITS);
        assert!(is_prime(prime), "{prime}");
        assert!(!seen.contains(&prime));
        seen.push(prime);
    }
}

/// Miller and Rabin's test with the first twelve primes as bases, which decides every number below
/// 3.3·10²⁴ (J. Sorenson and J. Webster, *Math. Comp.* 86 (2017) 985).
fn is_prime(number: u64) -> bool {
    let field = Field(number);
    let power = |base: u64, exponent: u64| {
        (0..64).rev().fold(1, |all, bit| {
            let squared = field.product(all, all);
            if exponent >> bit & 1 == 1 { field.product(squared, base) } else { squared }
        })
    };
    let twos = (number - 1).trailing_zeros();
    [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37].into_iter().all(|base| {
        let mut x = power(base, (number - 1) >> twos);
        x == 1
            || (0..twos).any(|_| {
                let hit = x == number - 1;
                x = field.product(x, x);
                hit
            })
    })
}

#[test]
fn identities_hold() {
    for text in [
        "m(g - a) = mg - ma",
        "mg(1 - a/g) = m(g-a)",
        "(m + a)^2 = m^2 + 2 m a + a^2",
        "(m^2 - a^2)/(m - a) = m + a",
        "1/m + 1/a = (m + a)/(m a)",
        "a^-2 = 1/a^2",
        "0.5 m = m/2",
        "½ m = m*2^-1",
        "m^0 = 1",
        "a/(a/m) = m",
        "0.1 + 0.2 = 0.3",
    ] {
        assert_eq!(verdict(text), Verdict::Equal, "{text}");
    }
}

#[test]
fn what_is_no_identity_does_not() {
    for text in [
        "m g = m a",
        "m(g + a) = mg - ma",
        "(m + a)^2 = m^2 + a^2",
        "1/(m + a) = 1/m + 1/a",
        "a/2 = a/3",
        "m = m + 0.0000000000000001",
    ] {
        assert_eq!(verdict(text), Verdict::Different, "{text}");
    }
}

#[test]
fn a_coefficient_that_one_prime_divides_is_not_zero() {
    // 2⁶¹ − 1 = 2305843009213693951, put together of shorter numbers.
    assert_eq!(verdict("m (230584300921369*10000 + 3951) = 0"), Verdict::Different);
    // All but the last prime divide this one; as many are used as it takes.
    assert_eq!(
        verdict("m (230584300921369*10000 + 3951)(230584300921369*10000 + 3921) = 0"),
        Verdict::Different
    );
}

#[test]
fn dividing_by_nothing_is_noticed() {
    for text in ["m/(a - a) = m", "m = 1/0", "(m - m)^-1 = a", "1/(a/m - a/m) = 1/(a/m - a/m)"] {
        assert_eq!(verdict(text), Verdict::DividesByZero, "{text}");
    }
}

#[test]
fn what_is_known_is_put_in() {
    let symbols = symbols();
    let id = |key: &str| symbols.find(key).unwrap();
    let (_, tension) = sides("T = m(g - a)", &symbols);
    let (_, alpha) = sides("alpha = a/R", &symbols);
    let known = [(id("T"), &tension), (id("alpha"), &alpha)];
    let (left, right) = sides("R T = m(g - R alpha) R", &symbols);
    assert_eq!(compare(&left, &right, &known), Verdict::Equal);
    assert_eq!(compare(&left, &right, &[]), Verdict::Different);
    // A definition that speaks of itself is no circle: inside, the symbol is free.
    let (_, itself) = sides("T = T + m a", &symbols);
    assert_eq!(compare(&left, &right, &[(id("T"), &itself)]), Verdict::Different);
}

#[test]
fn a_relation_may_be_written_in_any_way_that_says_the_same() {
    let symbols = symbols();
    let target = symbols.find("alpha").unwrap();
    let (_, value) = sides("alpha = a/R", &symbols);
    let says = |text: &str| {
        let (left, right) = sides(text, &symbols);
        says_that((&left, &right), target, &value, &[])
    };
    for text in [
        "alpha = a/R",
        "a = alpha R",
        "R = a/alpha",
        "1/alpha = R/a",
        "alpha R - a = 0",
        "m (alpha R - a) = 0",
        "(alpha R - a)(g - T) = 0",
        "a/(alpha R) = 1",
    ] {
        assert_eq!(says(text), Verdict::Equal, "{text}");
    }
    for text in [
        "alpha = a R",
        "alpha = 2 a/R",
        "alpha^2 = (a/R)^2",
        "(alpha R - a)(alpha - g) = 0",
        "(alpha R - a)^2 = 0",
        "a = g R",
    ] {
        assert_eq!(says(text), Verdict::Different, "{text}");
    }
    assert_ne!(says("alpha = alpha"), Verdict::Equal);
    assert_ne!(says("a = a"), Verdict::Equal);
}

#[test]
fn what_is_too_large_is_not_decided() {
    let symbols = symbols();
    let (left, right) = sides("(((m^12)^12)) = a", &symbols);
    assert_eq!(compare(&left, &right, &[]), Verdict::Different);
    let huge = |expression: Expression| Expression::new(Kind::Power(Box::new(expression), 12));
    let huge = |expression: Expression| huge(huge(huge(huge(expression))));
    let (huge_left, huge_right) = (huge(left.clone()), huge(left));
    assert_eq!(compare(&huge_left, &huge_right, &[]), Verdict::TooLarge);
}
