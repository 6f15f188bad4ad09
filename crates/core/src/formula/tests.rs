//! How equations are written out and evaluated.

use super::*;

const M: Symbol = symbol("m");
const G: Symbol = symbol("g");
const A: Symbol = symbol("a");
const RE: Symbol = symbol_of("R", "e");

fn bound(symbol: Symbol, value: f64, text: &str) -> Binding {
    Binding { symbol, meaning: "", value, text: text.to_owned() }
}

#[test]
fn one_tree_is_written_filled_in_and_evaluated() {
    let torque = M * (G - A) * RE;
    let bindings = [
        bound(M, 0.05, "0.05 kg"),
        bound(G, 9.81, "9.81 m/s²"),
        bound(A, 0.2, "0.2 m/s²"),
        bound(RE, 0.02, "0.02 m"),
    ];
    assert_eq!(torque.to_string(), "m·(g − a)·R_e");
    assert_eq!(torque.substituted(&bindings).to_string(), "0.05 kg·(9.81 m/s² − 0.2 m/s²)·0.02 m");
    // By hand: 0.05 · 9.61 · 0.02 = 0.00961 N·m.
    assert!((torque.evaluate(&bindings).unwrap() - 0.009_61).abs() < 1e-15);
    assert_eq!(torque.evaluate(&bindings[..2]), None);
}

#[test]
fn brackets_stand_where_they_are_needed() {
    assert_eq!((A - (G - M)).to_string(), "a − (g − m)");
    assert_eq!((A / (G * M)).to_string(), "a/(g·m)");
    assert_eq!((M * RE.squared() / 2).to_string(), "m·R_e²/2");
    assert_eq!((A + G).squared().root().to_string(), "√((a + g)²)");
    let square = RE.squared().substituted(&[bound(RE, 0.02, "0.02 m")]);
    assert_eq!(square.to_string(), "(0.02 m)²");
    assert_eq!((-(A + G)).to_string(), "−(a + g)");
    assert_eq!((A + (G + M)).to_string(), "a + g + m");
}

#[test]
fn a_negative_value_stands_in_brackets_behind_a_sign() {
    let bindings = [bound(A, -29.3, "−29.3 m"), bound(M, 100.0, "100")];
    let filled = |formula: Formula| formula.substituted(&bindings).to_string();
    assert_eq!(filled(M * A), "100·(−29.3 m)");
    assert_eq!(filled(M - A), "100 − (−29.3 m)");
    assert_eq!(filled(M + A), "100 + (−29.3 m)");
    assert_eq!(filled(A + M), "−29.3 m + 100");
    assert_eq!(filled(A.squared()), "(−29.3 m)²");
}

#[test]
fn where_numbers_would_meet_there_is_a_dot() {
    let no_dot = |product: Formula, bindings: &[Binding]| match product.substituted(bindings) {
        Formula::Product(left, right) => Formula::needs_no_dot(&left, &right),
        _ => panic!("not a product"),
    };
    let two = || Formula::from(2);
    let filled = [bound(M, 0.4, "0.4 kg"), bound(RE, 0.08, "0.08 m")];
    assert!(no_dot(two() * M, &[]));
    assert!(no_dot(two() * (M * RE.squared()), &[]));
    assert!(!no_dot(two() * (M * RE.squared()), &filled));
    assert!(!no_dot(two() * (M / RE), &filled));
    assert!(!no_dot((two() * M) * RE.squared(), &filled));
    assert!(no_dot(two() * RE.squared(), &filled));
    assert!(no_dot(M * G, &[]));
}
