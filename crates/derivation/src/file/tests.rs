//! A derivation that cannot be used says which field is wrong.

use super::*;
use crate::derivation::Form;

/// The main derivation, as it comes with Whorl.
const TURNTABLE: &str = include_str!("../../../../web/derivations/turntable.json");

#[test]
fn the_main_derivation_opens() {
    let derivation = open(TURNTABLE).unwrap();
    assert_eq!(derivation.id, "turntable");
    assert_eq!(derivation.steps.len(), 20);
    let Task::Expression(line) = &derivation.step("line").unwrap().task else { unreachable!("algebra") };
    assert_eq!(line.form, Form::Solved);
    // What the rotation step says is the very relation asked for: it is not known here.
    let known: Vec<String> = line.known.iter().map(|(id, _)| derivation.symbols.shown(*id)).collect();
    assert_eq!(known, ["a_t", "α", "T"]);
}

#[track_caller]
fn refuses(replace: &str, by: &str, message: &str) {
    let text = TURNTABLE.replacen(replace, by, 1);
    assert_ne!(text, TURNTABLE, "{replace} occurs");
    let found = open(&text).unwrap_err().to_string();
    assert_eq!(found, format!("{message}. Mend this place in the derivation file"));
}

#[test]
fn a_malformed_file_names_the_field_and_what_was_expected() {
    refuses("\"version\": 1,", "\"version\": 1,,", "line 3, column 16: key must be a string");
    refuses(
        "\"about\"",
        "\"abuot\"",
        "at abuot: there is no such field; known are format, version, language, license, id, title, about, quantities, symbols, slips, steps",
    );
    refuses(
        "\"optional\": true",
        "\"optional\": \"yes\"",
        "at steps[5].diagram.needed[2].optional: expected true or false",
    );
    refuses(
        "\"unit\": \"kg*m^2\"",
        "\"unit\": \"kgm2\"",
        "at quantities[7].unit: expected a unit of kg, m, s, N, rad, Hz, Pa, W or 1, such as \"kg*m^2\" or \"rad/s^2\"",
    );
    refuses(
        "\"answer\": \"a/R\"",
        "\"answer\": \"a/Q\"",
        "at steps[2].expression.answer: character 3: There is no symbol “Q” in this step. Its symbols are m, g, a, T, R, a_t, α, τ_s, τ_f, I, M, I_loaded, I_empty, I_object, I_est, T_d, I_p, r, d, R_e, β",
    );
    refuses(
        "\"target\": \"alpha\"",
        "\"target\": \"a1\"",
        "at steps[2].expression.target: there is no symbol “a1”; listed are m, g, a, T, R, a_t, alpha, tau_s, tau_f, I, M, I_loaded, I_empty, I_object, I_est, T_d, I_p, r, d, R_e, beta",
    );
    refuses(
        "\"direction\": \"down\"",
        "\"direction\": \"downward\"",
        "at steps[0].diagram.needed[0].direction: expected one of up, up-right, right, down-right, down, down-left, left, up-left, clockwise, anticlockwise",
    );
    refuses(
        "\"should\": \"m*g\"",
        "\"should\": \"m*a\"",
        "at steps[3].expression.limits[0].should: the right answer does not tend to this",
    );
    refuses(
        "\"left\": \"m*g - T\"",
        "\"left\": \"m*g + T\"",
        "at steps[3].expression.balance: the two sides are not equal when the right answer is put in for the target",
    );
    refuses(
        "\"answers\": [\"m*g\"]",
        "\"answers\": [\"m*(g - a)\"]",
        "at steps[3].expression.slips[0].answers[0]: this is the right answer, or has no value",
    );
    refuses(
        "the acceleration $a$ of the mass",
        "the acceleration $a of the mass",
        "at about: a “$” has no partner; put one on each side of the mathematics",
    );
    refuses("\"id\": \"rim\"", "\"id\": \"mass-forces\"", "at steps[1].id: another step has this id");
    refuses(
        "\"right\": true",
        "\"right\": false",
        "at steps[9].choice[0].options[0].feedback: text is missing here",
    );
    refuses("\"value\": 9.81", "\"value\": \"9.81\"", "at symbols[1].value: expected a number");
}

#[test]
fn other_files_are_told_apart() {
    assert_eq!(open("{}").unwrap_err(), DerivationError::NotADerivation);
    assert_eq!(open("[]").unwrap_err(), DerivationError::NotADerivation);
    let newer = TURNTABLE.replacen("\"version\": 1", "\"version\": 2", 1);
    assert_eq!(open(&newer).unwrap_err(), DerivationError::Newer { found: 2 });
}
