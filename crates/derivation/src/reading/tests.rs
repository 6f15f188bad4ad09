//! What is read, and what is said about what cannot be.

use super::*;
use crate::derivation::tests::symbols;
use proptest::prelude::*;

/// All but a_t, so that a, T, m … stand alone.
fn readable(symbols: &Symbols, without: &[&str]) -> Vec<SymbolId> {
    let wanted =
        |id: &SymbolId| symbols.get(*id).is_some_and(|symbol| !without.contains(&symbol.key.as_str()));
    symbols.ids().filter(wanted).collect()
}

#[track_caller]
fn reads(text: &str, shown: &str) {
    let symbols = symbols();
    let found = read(text, &symbols, &readable(&symbols, &[])).map(|reading| reading.answer.shown(&symbols));
    assert_eq!(found.as_deref(), Ok(shown), "{text}");
}

#[track_caller]
fn refuses(text: &str, marked: &str, message: &str) {
    let symbols = symbols();
    let error = read(text, &symbols, &readable(&symbols, &[])).unwrap_err();
    let span = error.span.clone();
    let found: String = text.chars().skip(span.start).take(span.end - span.start).collect();
    assert_eq!((found.as_str(), error.to_string().as_str()), (marked, message), "{text}");
}

#[test]
fn every_usual_way_to_write_is_read() {
    for (text, shown) in [
        ("T = mg - ma", "T = m·g − m·a"),
        ("T=m(g−a)", "T = m·(g − a)"),
        ("m*(g-a)", "m·(g − a)"),
        ("mg(1 - a/g)", "m·g·(1 − a/g)"),
        ("alpha = a/R", "α = a/R"),
        ("α=a_t/R", "α = a_t/R"),
        ("a/R = alpha", "a/R = α"),
        ("RT", "R·T"),
        ("tau_s = I alpha + tau_f", "τ_s = I·α + τ_f"),
        ("τ_s=Iα+τ_f", "τ_s = I·α + τ_f"),
        ("taus = Ialpha + tauf", "τ_s = I·α + τ_f"),
        ("τₛ = I·α", "τ_s = I·α"),
        ("tau_{s} × R", "τ_s·R"),
        ("TAU_s", "τ_s"),
        ("(mg-ma)R/alpha", "(m·g − m·a)·R/α"),
        ("mga", "m·g·a"),
        ("½ m a²", "(1/2)·m·a²"),
        ("2^-1*a^(2)", "2⁻¹·a²"),
        ("a⁻² R**2", "a⁻²·R²"),
        ("-m(a-g)", "−m·(a − g)"),
        ("m*-a", "m·(−a)"),
        ("a - -a", "a + a"),
        ("[m{g - a}]", "m·(g − a)"),
        ("a ÷ R", "a/R"),
        ("1,5m", "1.5·m"),
    ] {
        reads(text, shown);
    }
}

#[test]
fn letters_are_cut_by_the_symbols_of_the_step() {
    let symbols = symbols();
    let shown = |text: &str, without: &[&str]| {
        read(text, &symbols, &readable(&symbols, without)).map(|reading| reading.answer.shown(&symbols))
    };
    // No t in the step: `at` can only be a_t.
    assert_eq!(shown("at", &[]).as_deref(), Ok("a_t"));
    assert!(shown("at", &["a_t"]).is_err());
    // One τ only: it needs no subscript.
    assert_eq!(shown("tau = R T", &["tau_f"]).as_deref(), Ok("τ_s = R·T"));
    let error = shown("tau = R T", &[]).unwrap_err();
    assert_eq!(error.to_string(), "There is no symbol “tau” in this step. Did you mean τ_s or τ_f?");
}

#[test]
fn a_typing_error_is_pointed_at_and_told_what_was_expected() {
    refuses("", "", "Nothing is written yet.");
    refuses("  ", "", "Nothing is written yet.");
    refuses("m(g - a", "(", "The bracket “(” is never closed. Expected a closing one after it.");
    refuses("m g)", ")", "No bracket was opened for this “)”. Take it away, or open one before it.");
    refuses("m(g - a]", "]", "“(” is closed by “]”. Expected “)”.");
    refuses(
        "T = m(g - )",
        ")",
        "Something is missing after “−”. Expected a symbol, a number or an opening bracket there.",
    );
    refuses(
        "T = ",
        "=",
        "Something is missing after “=”. Expected a symbol, a number or an opening bracket there.",
    );
    refuses(
        "= m g",
        "=",
        "Something is missing before it. Expected a symbol, a number or an opening bracket there.",
    );
    refuses(
        "T = m g = m a",
        "=",
        "Only one “=” can stand in an answer. Keep the equation you want and take away the rest.",
    );
    refuses("m & g", "&", "“&” has no meaning here. Use symbols, numbers, + - * / ^ ( ) and =.");
    refuses("T < m g", "<", "“<” cannot be used here. Expected “=” between two sides.");
    refuses(
        "m 2",
        "2",
        "A number right after a symbol or a bracket is unclear. Write 2*a for twice a, or a^2 for its square.",
    );
    refuses("a^m", "^", "Expected a whole number as the power, such as ^2 or ^-1, at most 12.");
    refuses("a^0.5", "0.", "Expected a whole number as the power, such as ^2 or ^-1, at most 12.");
    refuses("a^99", "99", "Expected a whole number as the power, such as ^2 or ^-1, at most 12.");
    refuses("a^2^2", "^2", "Two powers follow each other. Use brackets to show which comes first.");
    refuses("1.2.3 m", ".", "This number has more than one decimal point. Expected digits with at most one.");
    refuses(
        "123456789012345678 m",
        "123456789012345678",
        "This number is too long. Expected at most 17 digits.",
    );
    refuses("sqrt(a)", "sqrt", "“sqrt” is not needed here: + - * / and whole powers are enough.");
    refuses("m x g", "x", "“x” is no symbol in this step. To multiply, write * or nothing at all.");
    refuses(
        "m q",
        "q",
        "There is no symbol “q” in this step. Its symbols are m, g, a, T, R, α, τ_s, τ_f, I, a_t.",
    );
    refuses(
        "omega = a/R",
        "omega",
        "There is no symbol “omega” in this step. Its symbols are m, g, a, T, R, α, τ_s, τ_f, I, a_t.",
    );
    refuses("t = m g", "t", "There is no symbol “t” in this step. Did you mean T?");
}

#[test]
fn too_much_is_refused_before_it_takes_time() {
    let symbols = symbols();
    let all = readable(&symbols, &[]);
    let kind = |text: &str| read(text, &symbols, &all).unwrap_err().kind;
    assert_eq!(kind(&"m".repeat(100_000)), ReadingErrorKind::TooLong);
    assert_eq!(kind(&"(".repeat(10_000)), ReadingErrorKind::TooLong);
    assert_eq!(kind(&"(".repeat(MOST_NESTING + 1)), ReadingErrorKind::TooDeep);
    let nested = |depth: usize| format!("{}a{}", "(".repeat(depth), ")".repeat(depth));
    assert!(read(&nested(MOST_NESTING), &symbols, &all).is_ok());
    assert_eq!(kind(&nested(MOST_NESTING + 1)), ReadingErrorKind::TooDeep);
    assert_eq!(kind("(((a^12)^12)^12)"), ReadingErrorKind::TooLarge);
}

#[test]
fn division_is_read_from_left_to_right_and_the_other_way_is_kept() {
    let symbols = symbols();
    let all = readable(&symbols, &[]);
    let reading = read("a/2R", &symbols, &all).unwrap();
    assert_eq!(reading.answer.shown(&symbols), "(a/2)·R");
    assert_eq!(reading.other.map(|other| other.shown(&symbols)).as_deref(), Some("a/(2·R)"));
    assert_eq!(read("a/(2R)", &symbols, &all).unwrap().other, None);
    assert_eq!(read("R a/2", &symbols, &all).unwrap().other, None);
}

proptest! {
    /// Whatever is typed, there is an answer or a complaint inside the text.
    #[test]
    fn any_text_is_answered(text in "[mgaTRIα()\\[\\]^*/+=−0-9._ \u{b2}½&-]{0,60}") {
        let symbols = symbols();
        let all = readable(&symbols, &[]);
        if let Err(error) = read(&text, &symbols, &all) {
            prop_assert!(error.span.start <= error.span.end);
            prop_assert!(error.span.end <= text.chars().count());
        }
    }

    /// What is shown reads back as the same.
    #[test]
    fn what_is_shown_reads_back(text in "[mgaTRI]([+*/-]?[mgaTRI(]){0,12}") {
        let symbols = symbols();
        let all = readable(&symbols, &["a_t"]);
        let closed = format!("{text}a{}", ")".repeat(text.matches('(').count()));
        if let Ok(reading) = read(&closed, &symbols, &all) {
            let shown = reading.answer.shown(&symbols);
            let again = read(&shown, &symbols, &all).unwrap();
            prop_assert_eq!(again.answer.shown(&symbols), shown);
        }
    }
}
