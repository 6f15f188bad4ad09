//! Rewriting an expression without changing what it says, and spoiling it.

use crate::arithmetic::Choices;
use crate::tree::{Tree, boxed};
use Tree::{Difference, Negative, Power, Product, Quotient, Sum, Symbol, Whole};

/// An identity's name and what it makes of an expression.
pub(crate) type Rewritten = (&'static str, Tree);

/// The names of all identities.
pub(crate) const ALL: [&str; 22] = [
    "a+b = b+a",
    "a·b = b·a",
    "a−b = a+(−b)",
    "a−b = −(b−a)",
    "(a+b)+c = a+(b+c)",
    "(a·b)·c = a·(b·c)",
    "common denominator",
    "shared factor taken out",
    "distributed",
    "fraction of a sum taken apart",
    "above and below multiplied",
    "signs above and below",
    "a/b = a·b⁻¹",
    "(a/b)/c = a/(b·c)",
    "a/(b/c) = a·c/b",
    "square multiplied out",
    "difference of squares",
    "one factor of a power taken out",
    "power of a product",
    "a⁻ⁿ = 1/aⁿ",
    "a = −(−a)",
    "a = a·t/t",
];

/// Identities that fit everywhere; they come first.
const EVERYWHERE: usize = 2;

/// Everything that the identities make of this expression; `spare` is something that is not zero.
pub(crate) fn identities(tree: &Tree, spare: &Tree) -> Vec<Rewritten> {
    let sum = |a: &Tree, b: &Tree| Sum(boxed(a), boxed(b));
    let difference = |a: &Tree, b: &Tree| Difference(boxed(a), boxed(b));
    let product = |a: &Tree, b: &Tree| Product(boxed(a), boxed(b));
    let quotient = |a: &Tree, b: &Tree| Quotient(boxed(a), boxed(b));
    let negative = |a: &Tree| Negative(boxed(a));
    let power = |a: &Tree, n: i32| Power(boxed(a), n);
    let mut all =
        vec![("a = −(−a)", negative(&negative(tree))), ("a = a·t/t", quotient(&product(tree, spare), spare))];
    match tree {
        Whole(_) | Symbol(_) | Negative(_) => {}
        Sum(a, b) => {
            all.push(("a+b = b+a", sum(b, a)));
            if let Sum(first, second) = &**a {
                all.push(("(a+b)+c = a+(b+c)", sum(first, &sum(second, b))));
            }
            if let (Product(p, q), Product(r, s)) = (&**a, &**b)
                && p == r
            {
                all.push(("shared factor taken out", product(p, &sum(q, s))));
            }
            let joined = match (&**a, &**b) {
                (Quotient(p, q), Quotient(r, s)) => {
                    Some(quotient(&sum(&product(p, s), &product(r, q)), &product(q, s)))
                }
                (Quotient(p, q), _) => Some(quotient(&sum(p, &product(b, q)), q)),
                (_, Quotient(r, s)) => Some(quotient(&sum(&product(a, s), r), s)),
                _ => None,
            };
            all.extend(joined.map(|joined| ("common denominator", joined)));
        }
        Difference(a, b) => {
            all.push(("a−b = a+(−b)", sum(a, &negative(b))));
            all.push(("a−b = −(b−a)", negative(&difference(b, a))));
            if let (Power(p, 2), Power(q, 2)) = (&**a, &**b) {
                all.push(("difference of squares", product(&sum(p, q), &difference(p, q))));
            }
            if let Quotient(r, s) = &**b {
                all.push(("common denominator", quotient(&difference(&product(a, s), r), s)));
            }
        }
        Product(a, b) => {
            all.push(("a·b = b·a", product(b, a)));
            if let Product(first, second) = &**a {
                all.push(("(a·b)·c = a·(b·c)", product(first, &product(second, b))));
            }
            let distributed = match (&**a, &**b) {
                (p, Sum(q, r)) => Some(sum(&product(p, q), &product(p, r))),
                (p, Difference(q, r)) => Some(difference(&product(p, q), &product(p, r))),
                (Sum(q, r), p) => Some(sum(&product(q, p), &product(r, p))),
                (Difference(q, r), p) => Some(difference(&product(q, p), &product(r, p))),
                _ => None,
            };
            all.extend(distributed.map(|distributed| ("distributed", distributed)));
        }
        Quotient(a, b) => {
            all.push(("above and below multiplied", quotient(&product(a, spare), &product(spare, b))));
            all.push(("signs above and below", quotient(&negative(a), &negative(b))));
            all.push(("a/b = a·b⁻¹", product(a, &power(b, -1))));
            match &**a {
                Sum(p, q) => {
                    all.push(("fraction of a sum taken apart", sum(&quotient(p, b), &quotient(q, b))));
                }
                Quotient(p, q) => all.push(("(a/b)/c = a/(b·c)", quotient(p, &product(q, b)))),
                _ => {}
            }
            if let Quotient(p, q) = &**b {
                all.push(("a/(b/c) = a·c/b", quotient(&product(a, q), p)));
            }
        }
        Power(a, n) => {
            if *n < 0 {
                all.push(("a⁻ⁿ = 1/aⁿ", quotient(&Whole(1), &power(a, -n))));
            } else if *n > 1 {
                all.push(("one factor of a power taken out", product(a, &power(a, n - 1))));
            }
            if let Product(p, q) = &**a {
                all.push(("power of a product", product(&power(p, *n), &power(q, *n))));
            }
            let twice = |p: &Tree, q: &Tree| product(&product(&Whole(2), p), q);
            match (&**a, n) {
                (Sum(p, q), 2) => {
                    let all_but_last = sum(&power(p, 2), &twice(p, q));
                    all.push(("square multiplied out", sum(&all_but_last, &power(q, 2))));
                }
                (Difference(p, q), 2) => {
                    let all_but_last = difference(&power(p, 2), &twice(p, q));
                    all.push(("square multiplied out", sum(&all_but_last, &power(q, 2))));
                }
                _ => {}
            }
        }
    }
    all
}

/// Rewritten by this many identities at random places; `symbols` are those that may come in newly.
/// The names of the identities go to `used`.
pub(crate) fn rewritten(
    tree: &Tree,
    n_times: u32,
    symbols: &[usize],
    choices: &mut Choices,
    used: &mut Vec<&'static str>,
) -> Tree {
    let mut tree = tree.clone();
    for _ in 0..n_times {
        let spare = spare(symbols, choices);
        // Every third time anywhere; else where more than the two identities fit that fit everywhere.
        let anywhere = choices.below(3) == 0;
        let fits = |place: usize| {
            let mut n_fitting = 0;
            tree.changed_at(place, &mut |part| {
                n_fitting = identities(part, &spare).len();
                part.clone()
            });
            anywhere || n_fitting > EVERYWHERE
        };
        let places: Vec<usize> = (0..tree.n_places()).filter(|place| fits(*place)).collect();
        let place = if places.is_empty() { 0 } else { *choices.of(&places) };
        tree = tree.changed_at(place, &mut |part| {
            let all = identities(part, &spare);
            let fitting = if anywhere || places.is_empty() { &all[..] } else { &all[EVERYWHERE..] };
            let (name, made) = choices.of(fitting);
            used.push(name);
            made.clone()
        });
    }
    tree
}

/// A symbol, a number, or one more than a symbol: never zero everywhere.
fn spare(symbols: &[usize], choices: &mut Choices) -> Tree {
    let number = Whole(u64::from(choices.below(8)) + 2);
    let symbol = Symbol(*choices.of(symbols));
    match choices.below(4) {
        0 => number,
        1 => Sum(Box::new(symbol), Box::new(number)),
        _ => symbol,
    }
}

/// Ways to spoil an expression, as students do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Spoiling {
    Sign,
    FactorDropped,
    FactorOfTwo,
    OtherSymbol,
    OtherNumber,
    OtherPower,
}

impl Spoiling {
    /// All of them.
    pub(crate) const ALL: [Self; 6] = [
        Self::Sign,
        Self::FactorDropped,
        Self::FactorOfTwo,
        Self::OtherSymbol,
        Self::OtherNumber,
        Self::OtherPower,
    ];
}

/// Spoiled at a random place; `None` where this cannot be spoiled so.
pub(crate) fn spoiled(tree: &Tree, how: Spoiling, symbols: &[usize], choices: &mut Choices) -> Option<Tree> {
    let places: Vec<usize> = (0..tree.n_places())
        .filter(|place| {
            let mut possible = false;
            tree.changed_at(*place, &mut |part| {
                possible = spoiled_here(part, how, symbols, &mut Choices(0)).is_some();
                part.clone()
            });
            possible
        })
        .collect();
    let place = (!places.is_empty()).then(|| *choices.of(&places))?;
    Some(tree.changed_at(place, &mut |part| spoiled_here(part, how, symbols, choices).unwrap()))
}

fn spoiled_here(tree: &Tree, how: Spoiling, symbols: &[usize], choices: &mut Choices) -> Option<Tree> {
    Some(match (how, tree) {
        (Spoiling::Sign, Sum(a, b)) => Difference(a.clone(), b.clone()),
        (Spoiling::Sign, Difference(a, b)) => Sum(a.clone(), b.clone()),
        (Spoiling::Sign, Negative(a)) | (Spoiling::FactorDropped, Quotient(a, _)) => (**a).clone(),
        (Spoiling::Sign, Symbol(_)) => Negative(boxed(tree)),
        (Spoiling::FactorDropped, Product(a, b)) => Tree::clone(*choices.of::<&Tree>(&[a, b])),
        (Spoiling::FactorDropped, Power(a, n)) if *n > 1 => Power(a.clone(), n - 1),
        (Spoiling::FactorOfTwo, Symbol(_) | Product(..) | Quotient(..)) => {
            Product(Box::new(Whole(2)), boxed(tree))
        }
        (Spoiling::OtherSymbol, Symbol(own)) => {
            let others: Vec<usize> = symbols.iter().copied().filter(|other| other != own).collect();
            Symbol(*choices.of(&others))
        }
        (Spoiling::OtherNumber, Whole(number)) => Whole(number + 1),
        (Spoiling::OtherPower, Power(a, n)) => Power(a.clone(), if *n == -1 { 1 } else { n + 1 }),
        _ => return None,
    })
}
