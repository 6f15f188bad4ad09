//! The second derivation, two masses on one pulley: nothing but its file is about this experiment.
//!
//! For each step right answers in several spellings and wrong ones that students give, with the first
//! thing that is said and the mistake that is recognized; then copies of the file with one place spoiled.

use whorl_derivation::derivation::{Derivation, Task};
use whorl_derivation::file::open;
use whorl_derivation::judge::RungKind::{self, Dimension, Form, Limit, Meaning, Reading, Slip, Symbol};
use whorl_derivation::judge::judge;

const FILE: &str = include_str!("../../web/derivations/two-masses.json");

fn derivation() -> Derivation {
    open(FILE).unwrap()
}

/// Accepts each of these answers to a step, and says what the result means and nothing else.
#[track_caller]
fn accepted(step: &str, answers: &[&str]) {
    let derivation = derivation();
    let step = derivation.step(step).unwrap();
    for answer in answers {
        let judgement = judge(&derivation, step, answer);
        let kinds: Vec<RungKind> = judgement.rungs.iter().map(|rung| rung.kind).collect();
        assert!(judgement.accepted, "{answer}: {}", judgement.to_json(&derivation));
        assert_eq!(kinds, [Meaning], "{answer}");
    }
}

/// Refuses each of these answers to a step. Given with each: the kind of what is said first, and the id
/// of the mistake that is recognized; empty where none is.
#[track_caller]
fn refused(step: &str, cases: &[(&str, RungKind, &str)]) {
    let derivation = derivation();
    let step = derivation.step(step).unwrap();
    for (answer, first, slip) in cases {
        let judgement = judge(&derivation, step, answer);
        let told = judgement.to_json(&derivation);
        assert!(!judgement.accepted, "{answer}: {told}");
        assert_eq!(judgement.rungs.first().map(|rung| rung.kind), Some(*first), "{answer}: {told}");
        let found = judgement.rungs.iter().find_map(|rung| rung.slip.as_deref());
        assert_eq!(found.unwrap_or_default(), *slip, "{answer}: {told}");
        assert!(judgement.rungs.iter().all(|rung| !rung.text.is_empty()), "{answer}: {told}");
    }
}

/// What is said about a copy of the file in which `original`, where it first stands, is replaced.
#[track_caller]
fn spoiled(original: &str, by: &str, complaint: &str) {
    assert!(FILE.contains(original), "{original} does not occur");
    let found = open(&FILE.replacen(original, by, 1)).unwrap_err().to_string();
    assert!(found.starts_with(complaint), "{found}");
}

#[test]
fn the_file_opens_and_has_all_steps_in_order() {
    let derivation = derivation();
    let steps: Vec<(&str, bool)> =
        derivation.steps.iter().map(|step| (step.id.as_str(), step.optional)).collect();
    assert_eq!(
        steps,
        [
            ("forces-heavier", false),
            ("forces-lighter", false),
            ("tension-heavier", false),
            ("tension-lighter", false),
            ("no-slip", false),
            ("torques-on-pulley", false),
            ("acceleration", false),
            ("two-tensions", false),
            ("massless-pulley", true),
            ("graph", false),
        ]
    );
}

#[test]
fn every_step_has_hints_and_every_algebra_step_is_worked_out() {
    for step in derivation().steps {
        assert!(step.hints.len() >= 2, "{}", step.id);
        assert!(!step.meaning.is_empty(), "{}", step.id);
        if let Task::Expression(task) = &step.task {
            assert!(step.worked.is_some(), "{}", step.id);
            assert!(
                task.slips.len() >= 4 && !task.limits.is_empty() && task.balance.is_some(),
                "{}",
                step.id
            );
        }
    }
}

#[test]
fn the_usual_values_satisfy_every_result() {
    let derivation = derivation();
    let usual = |id| derivation.symbols.get(id).unwrap().value;
    for step in derivation.steps.iter().filter(|step| !step.optional) {
        if let Task::Expression(task) = &step.task {
            let (found, expected) = (task.answer.evaluate(&usual), usual(task.target));
            assert!((found / expected - 1.0).abs() < 1e-12, "{}: {found} for {expected}", step.id);
        }
    }
}

#[test]
fn about_tells_how_to_stay_safe() {
    let derivation = derivation();
    let about = derivation.about.shown(&derivation.symbols);
    for caution in ["land on something soft", "feet", "your instructor’s rules"] {
        assert!(about.contains(caution), "{about}");
    }
}

#[test]
fn forces_on_the_heavier_mass_are_weight_and_a_shorter_tension() {
    accepted(
        "forces-heavier",
        &[
            r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                {"force": "tension", "at": "top", "direction": "up", "length": 3}]"#,
            r#"[{"force": "tension", "at": "middle", "direction": "up", "length": 1},
                {"force": "weight", "at": "middle", "direction": "down", "length": 5}]"#,
            r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 2},
                {"force": "tension", "at": "top", "direction": "up", "length": 1}]"#,
            r#"[{"force": "tension", "at": "top", "direction": "up", "length": 4},
                {"force": "weight", "at": "middle", "direction": "down", "length": 5}]"#,
        ],
    );
    refused(
        "forces-heavier",
        &[
            ("[]", Form, ""),
            ("weight down, tension up", Reading, ""),
            (r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4}]"#, Slip, "missing"),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "up", "length": 4}]"#,
                Slip,
                "length",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "up", "length": 3},
                    {"force": "motion", "at": "middle", "direction": "down", "length": 2}]"#,
                Slip,
                "invented",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "normal", "at": "bottom", "direction": "up", "length": 3}]"#,
                Slip,
                "invented",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "down", "length": 3}]"#,
                Slip,
                "direction",
            ),
            (
                r#"[{"force": "weight", "at": "bottom", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "up", "length": 3}]"#,
                Slip,
                "place",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "up", "length": 3}]"#,
                Slip,
                "twice",
            ),
        ],
    );
}

#[test]
fn forces_on_the_lighter_mass_are_weight_and_a_longer_tension() {
    accepted(
        "forces-lighter",
        &[
            r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 3},
                {"force": "tension", "at": "top", "direction": "up", "length": 4}]"#,
            r#"[{"force": "tension", "at": "middle", "direction": "up", "length": 5},
                {"force": "weight", "at": "middle", "direction": "down", "length": 1}]"#,
            r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                {"force": "tension", "at": "top", "direction": "up", "length": 5}]"#,
            r#"[{"force": "tension", "at": "top", "direction": "up", "length": 2},
                {"force": "weight", "at": "middle", "direction": "down", "length": 1}]"#,
        ],
    );
    refused(
        "forces-lighter",
        &[
            ("", Form, ""),
            (r#"[{"force": "pull"}]"#, Reading, ""),
            (r#"[{"force": "tension", "at": "top", "direction": "up", "length": 4}]"#, Slip, "missing"),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 4},
                    {"force": "tension", "at": "top", "direction": "up", "length": 3}]"#,
                Slip,
                "length",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 3},
                    {"force": "other-weight", "at": "top", "direction": "up", "length": 4}]"#,
                Slip,
                "invented",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 3},
                    {"force": "tension", "at": "top", "direction": "up", "length": 4},
                    {"force": "mass-times-acceleration", "at": "middle", "direction": "up", "length": 1}]"#,
                Slip,
                "invented",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "up", "length": 3},
                    {"force": "tension", "at": "top", "direction": "up", "length": 4}]"#,
                Slip,
                "direction",
            ),
            (
                r#"[{"force": "weight", "at": "middle", "direction": "down", "length": 3},
                    {"force": "tension", "at": "bottom", "direction": "up", "length": 4}]"#,
                Slip,
                "place",
            ),
        ],
    );
}

#[test]
fn the_tension_on_the_heavier_side_is_less_than_the_weight() {
    accepted(
        "tension-heavier",
        &["m_1(g-a)", "T_1 = m_1 g - m_1 a", "m1*g − m1*a", "T₁ = (g − a)·m₁", "-m_1 a + g m_1 = T_1"],
    );
    refused(
        "tension-heavier",
        &[
            ("m_1 g - T_1 = m_1 a", Form, ""),
            ("T_1", Form, ""),
            ("m_1 g", Slip, "tension-is-weight"),
            ("T_1 = m_1 a", Slip, "tension-is-net-force"),
            ("m_1 (g + a)", Slip, "wrong-way-up"),
            ("T_1 - m_1 g = m_1 a", Slip, "wrong-way-up"),
            ("m_1 (a - g)", Slip, "sign-of-everything"),
            ("T_1 = T_2", Slip, "one-tension-for-both"),
            ("m_2 g", Slip, "other-mass-pulls-directly"),
            ("m_2 (g - a)", Slip, "masses-swapped"),
            ("-m_1 (g + a)", Slip, "sign-of-g"),
            ("m_1 - m_1 a", Dimension, "mass-for-weight"),
            ("m_1 g - a", Dimension, ""),
            ("2 m_1 g", Limit, ""),
            ("m (g - a)", Reading, ""),
            ("m_1 (g - a", Reading, ""),
        ],
    );
}

#[test]
fn the_tension_on_the_lighter_side_is_more_than_the_weight() {
    accepted(
        "tension-lighter",
        &["m_2(g+a)", "T_2 = m_2 g + m_2 a", "m2 a + m2 g", "m₂·(a + g) = T₂", "2 m_2 (g/2 + a/2)"],
    );
    refused(
        "tension-lighter",
        &[
            ("T_2 - m_2 g = m_2 a", Form, ""),
            ("m_2 (g - a)", Slip, "copied-from-the-other-side"),
            ("T_1", Slip, "one-tension-for-both"),
            ("T_2 = m_1 (g - a)", Slip, "one-tension-for-both"),
            ("m_2 g", Slip, "tension-is-weight"),
            ("m_2 a", Slip, "tension-is-net-force"),
            ("-m_2 g - m_2 a", Slip, "sign-of-everything"),
            ("m_2 (a - g)", Slip, "sign-of-g"),
            ("m_1 (g + a)", Slip, "masses-swapped"),
            ("m_1 g", Slip, "other-weight-lifts"),
            ("m_2 + m_2 a", Dimension, "mass-for-weight"),
            ("m_2 g + a", Dimension, ""),
            ("(m_1 + m_2) g", Symbol, ""),
        ],
    );
}

#[test]
fn string_and_rim_share_their_acceleration() {
    accepted("no-slip", &["a/R", "alpha = a/R", "α = a·R^-1", "1/R*a", "alpha=(2a)/(2R)"]);
    refused(
        "no-slip",
        &[
            ("a = alpha R", Form, ""),
            ("alpha", Form, ""),
            ("a R", Dimension, "radius-upside-down"),
            ("R/a", Dimension, "upside-down"),
            ("a", Dimension, "same-number"),
            ("a/R^2", Dimension, "radius-squared"),
            ("a/(2R)", Slip, "diameter"),
            ("g/R", Slip, "free-fall"),
            ("T_1 R/I", Slip, "torque-too-early"),
            ("I alpha = (T_1 - T_2) R", Slip, "torque-too-early"),
            ("(g - T_1/m_1)/R", Symbol, ""),
        ],
    );
}

#[test]
fn the_difference_of_the_tensions_turns_the_pulley() {
    accepted(
        "torques-on-pulley",
        &[
            "(T_1 - T_2) R = I alpha",
            "I*alpha = T_1 R - T_2 R",
            "(T_2 - T_1) R = -I alpha",
            "T_1 R = I alpha + T_2 R",
            "T_1 - T_2 = I alpha/R",
            "(T_1 - T_2) R = I a/R",
            "I = (T_1 - T_2) R/alpha",
        ],
    );
    refused(
        "torques-on-pulley",
        &[
            ("(T_1 - T_2) R", Form, ""),
            ("T_1 = T_2", Form, ""),
            ("T_1 R = I alpha", Slip, "one-side-only"),
            ("T_1 R + T_2 R = I alpha", Slip, "torques-added"),
            ("(T_2 - T_1) R = I alpha", Slip, "sense-of-turning"),
            ("(m_1 - m_2) g R = I alpha", Slip, "weights-for-tensions"),
            ("m_1 g R = I alpha", Slip, "weights-for-tensions"),
            ("2 R (T_1 - T_2) = I alpha", Slip, "diameter"),
            ("T_1 - T_2 = I alpha", Dimension, "radius-missing-once"),
            ("(T_1 - T_2) R = I a", Dimension, "radius-missing-once"),
            ("alpha = I (T_1 - T_2) R", Dimension, "inertia-upside-down"),
            ("(T_1 - T_2)/R = I alpha", Dimension, "radius-upside-down"),
            ("(m_1 (g - a) - m_2 (g + a)) R = I alpha", Symbol, ""),
        ],
    );
}

#[test]
fn the_pulley_counts_like_one_more_mass_on_the_string() {
    accepted(
        "acceleration",
        &[
            "(m_1 - m_2) g/(m_1 + m_2 + I/R^2)",
            "a = (m1-m2)g/(m1+m2+I/R²)",
            "a = (m_1 - m_2) g R^2/((m_1 + m_2) R^2 + I)",
            "(m_1 g - m_2 g)/(I/R^2 + m_2 + m_1)",
            "g (m_2 - m_1)/(-m_1 - m_2 - I/R^2) = a",
        ],
    );
    refused(
        "acceleration",
        &[
            ("(m_1 - m_2) g = (m_1 + m_2 + I/R^2) a", Form, ""),
            ("(T_1 - T_2) R = I alpha", Form, ""),
            ("a = alpha R", Slip, "still-hidden"),
            ("T_1 = m_1 (g - a)", Slip, "still-hidden"),
            ("(T_1 - T_2) R^2/I", Slip, "still-hidden"),
            ("(m_1 (g - a) - m_2 (g + a)) R = I alpha", Slip, "still-hidden"),
            ("(m_1 - m_2) g/(m_1 + m_2)", Slip, "pulley-left-out"),
            ("(m_1 + m_2) g/(m_1 + m_2 + I/R^2)", Slip, "weights-added"),
            ("(m_1 - m_2) g/(m_1 - m_2 + I/R^2)", Slip, "difference-below"),
            ("(m_1 - m_2) g/(m_1 + m_2 - I/R^2)", Slip, "sign-of-pulley"),
            ("m_1 g/(m_1 + m_2 + I/R^2)", Slip, "lighter-weight-forgotten"),
            ("m_1 g/(m_1 + I/R^2)", Slip, "lighter-mass-forgotten"),
            ("(m_1 - m_2) g R^2/I", Slip, "weights-for-tensions"),
            ("g", Slip, "free-fall"),
            ("(m_2 - m_1) g/(m_1 + m_2 + I/R^2)", Slip, "direction-reversed"),
            ("(m_1 - m_2) g/(m_1 + m_2 + I/(4 R^2))", Slip, "diameter"),
            ("(m_1 - m_2) g/(m_1 + m_2 + I)", Dimension, "radius-lost"),
            ("(m_1 - m_2) g/(m_1 + m_2 + I/R)", Dimension, "radius-lost"),
            ("(m_1 - m_2) g/(m_1 + m_2 + I R^2)", Dimension, "radius-upside-down"),
            ("(m_1 - m_2)/(m_1 + m_2 + I/R^2)", Dimension, "mass-for-weight"),
            ("(m_1 - m_2) g/m_1 + m_2 + I/R^2", Dimension, "brackets-missing"),
            ("(m_1 - m_2) g", Dimension, "not-divided"),
            ("(m_1 - m_2)*9.81/(m_1 + m_2 + I/R^2)", Dimension, ""),
            ("(m_1 - m_2) g/(2 m_1 + 2 m_2 + I/R^2)", Limit, ""),
        ],
    );
}

#[test]
fn without_inertia_only_the_masses_count() {
    accepted(
        "massless-pulley",
        &[
            "(m_1 - m_2) g/(m_1 + m_2)",
            "a = g (m1 - m2)/(m2 + m1)",
            "m_1 g/(m_1 + m_2) - m_2 g/(m_1 + m_2)",
            "g - 2 m_2 g/(m_1 + m_2)",
        ],
    );
    refused(
        "massless-pulley",
        &[
            ("m_1 (g - a) = m_2 (g + a)", Form, ""),
            ("(m_1 - m_2) g/(m_1 + m_2 + I/R^2)", Slip, "pulley-still-there"),
            ("g - T_1/m_1", Slip, "still-hidden"),
            ("g", Slip, "free-fall"),
            ("(m_1 + m_2) g/(m_1 - m_2)", Slip, "weights-added"),
            ("m_1 g/(m_1 + m_2)", Slip, "lighter-weight-forgotten"),
            ("(m_1 - m_2) g/m_1", Slip, "lighter-mass-forgotten"),
            ("(m_2 - m_1) g/(m_1 + m_2)", Slip, "direction-reversed"),
            ("(m_1 - m_2) g", Dimension, "not-divided"),
            ("(m_1 - m_2) g/m_1 + m_2", Dimension, "brackets-missing"),
            ("(m_1 - m_2)/(m_1 + m_2)", Dimension, "mass-for-weight"),
            ("(m_1 - m_2) g/(2 (m_1 + m_2))", Limit, ""),
        ],
    );
}

#[test]
fn the_tensions_differ_only_as_long_as_there_is_inertia_to_spin_up() {
    accepted(
        "two-tensions",
        &[
            r#"{"larger": "heavier-side", "massless": "same"}"#,
            r#"{"massless":"same","larger":"heavier-side"}"#,
            "\n{\"larger\": \"heavier-side\",\n \"massless\": \"same\"}\n",
            r#"  {"massless": "same" , "larger": "heavier-side"}"#,
        ],
    );
    refused(
        "two-tensions",
        &[
            ("", Form, ""),
            ("heavier-side", Reading, ""),
            (r#"{"larger": "both"}"#, Reading, ""),
            (r#"{"larger": "heavier-side"}"#, Form, ""),
            (r#"{"larger": "lighter-side", "massless": "same"}"#, Slip, "larger: lighter-side"),
            (r#"{"larger": "equal", "massless": "same"}"#, Slip, "larger: equal"),
            (r#"{"larger": "weights", "massless": "none"}"#, Slip, "larger: weights"),
            (r#"{"larger": "heavier-side", "massless": "none"}"#, Slip, "massless: none"),
            (r#"{"larger": "heavier-side", "massless": "own-weights"}"#, Slip, "massless: own-weights"),
            (r#"{"larger": "heavier-side", "massless": "still-apart"}"#, Slip, "massless: still-apart"),
        ],
    );
}

#[test]
fn the_graph_is_a_line_through_zero_whose_slope_tells_the_inertia() {
    accepted(
        "graph",
        &[
            r#"{"shape": "through-zero", "heavier-pulley": "flatter", "slope": "inertia"}"#,
            r#"{"slope": "inertia", "shape": "through-zero", "heavier-pulley": "flatter"}"#,
            r#"{"heavier-pulley":"flatter","slope":"inertia","shape":"through-zero"}"#,
            "{\"shape\": \"through-zero\",\n\"slope\": \"inertia\",\n\"heavier-pulley\": \"flatter\"}",
        ],
    );
    let one_wrong = |question: &str, option: &str| {
        let chosen = |own: &str, right: &str| {
            format!("\"{own}\": \"{}\"", if own == question { option } else { right })
        };
        let all = [
            chosen("shape", "through-zero"),
            chosen("heavier-pulley", "flatter"),
            chosen("slope", "inertia"),
        ];
        refused("graph", &[(&format!("{{{}}}", all.join(", ")), Slip, &format!("{question}: {option}"))]);
    };
    for option in ["levels-off", "late-start", "steeper"] {
        one_wrong("shape", option);
    }
    for option in ["lower", "steeper", "same"] {
        one_wrong("heavier-pulley", option);
    }
    for option in ["free-fall", "tension", "friction"] {
        one_wrong("slope", option);
    }
    refused("graph", &[(r#"{"shape": "through-zero", "slope": "inertia"}"#, Form, "")]);
}

#[test]
fn a_misspelled_field_is_named_with_its_place() {
    spoiled("\"hints\"", "\"hint\"", "at steps[0].hint: there is no such field; known are id, title, ");
    spoiled("\"license\"", "\"licence\"", "at licence: there is no such field");
    spoiled("\"means\"", "\"meaning\"", "at symbols[0].meaning: there is no such field; known are symbol, ");
    spoiled("\"told\"", "\"text\"", "at steps[0].diagram.scene.text: there is no such field");
    spoiled("\"uses\"", "\"use\"", "at steps[2].expression.use: there is no such field");
    spoiled(
        "\"feedback\"",
        "\"say_back\"",
        "at steps[7].choice[0].options[1].say_back: there is no such field",
    );
}

#[test]
fn a_value_of_the_wrong_type_is_named_with_its_place() {
    spoiled("\"version\": 1", "\"version\": \"1\"", "at version: expected a whole number");
    spoiled("\"value\": 0.09", "\"value\": \"0.09\"", "at symbols[0].value: expected a number");
    spoiled("\"x1\": 50", "\"x1\": \"50\"", "at steps[0].diagram.scene.shapes[0].x1: expected a number");
    spoiled(
        "\"at\": [\"middle\"]",
        "\"at\": \"middle\"",
        "at steps[0].diagram.needed[0].at: expected a list",
    );
    spoiled("\"optional\": true", "\"optional\": 1", "at steps[8].optional: expected true or false");
    spoiled(
        "[1, 0.8]]",
        "[1, 1.8]]",
        "at steps[9].choice[0].options[0].sketch.curves[0][6]: expected [x, y]",
    );
}

#[test]
fn a_value_that_contradicts_the_physics_is_named_with_its_place() {
    // The answer's own value as a mistake, a limit it does not have, a balance it does not keep.
    spoiled(
        "\"answers\": [\"m_1*g\"]",
        "\"answers\": [\"m_1*g - a*m_1\"]",
        "at steps[2].expression.slips[0].answers[0]: this is the right answer",
    );
    spoiled(
        "\"should\": \"m_1*g\"",
        "\"should\": \"0\"",
        "at steps[2].expression.limits[0].should: the right answer does not tend to this",
    );
    spoiled(
        "\"right\": \"m_1*a\"",
        "\"right\": \"m_1*g\"",
        "at steps[2].expression.balance: the two sides are not equal",
    );
    spoiled(
        "\"uses\": [\"m_1\", \"g\", \"a\"]",
        "\"uses\": [\"m_1\", \"g\"]",
        "at steps[2].expression.uses: the answer contains a",
    );
}
