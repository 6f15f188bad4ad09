//! The derivations in other languages say the same of the same: nothing but prose differs, and the mathematics in it
//! is the same.

use serde_json::Value;
use whorl_derivation::file::open;

const PAIRS: [(&str, &str); 2] = [
    (
        include_str!("../../web/derivations/turntable.json"),
        include_str!("../../web/derivations/turntable.es.json"),
    ),
    (
        include_str!("../../web/derivations/two-masses.json"),
        include_str!("../../web/derivations/two-masses.es.json"),
    ),
];

/// Fields that hold words for people.
const PROSE: [&str; 18] = [
    "title",
    "about",
    "name",
    "means",
    "say",
    "told",
    "text",
    "invented",
    "missing",
    "wrong_direction",
    "wrong_place",
    "ask",
    "left_words",
    "right_words",
    "hints",
    "worked",
    "meaning",
    "feedback",
];

/// Places at which two documents differ in more than their prose; `field` is the field in which they stand.
fn differences(one: &Value, other: &Value, field: &str, place: &str, found: &mut Vec<String>) {
    match (one, other) {
        (Value::Object(fields), Value::Object(others)) => {
            if !fields.keys().eq(others.keys()) {
                found.push(format!("{place}: other fields"));
            }
            for (name, value) in fields {
                let other = others.get(name).unwrap_or(&Value::Null);
                differences(value, other, name, &format!("{place}.{name}"), found);
            }
        }
        (Value::Array(items), Value::Array(others)) => {
            if items.len() != others.len() {
                found.push(format!("{place}: another number of items"));
            }
            for (index, (item, other)) in items.iter().zip(others).enumerate() {
                differences(item, other, field, &format!("{place}[{index}]"), found);
            }
        }
        (Value::String(words), Value::String(others)) if PROSE.contains(&field) => {
            if mathematics(words) != mathematics(others) {
                found.push(format!("{place}: other mathematics"));
            }
            // Symbols and units are the same in both.
            if words == others && words.contains(' ') && !words.contains(['$', '%']) {
                found.push(format!("{place}: “{words}” is not translated"));
            }
        }
        _ if field != "language" && one != other => found.push(format!("{place}: {one} and {other}")),
        _ => {}
    }
}

/// What stands between two `$`, in no order: languages order their words in their own way.
fn mathematics(words: &str) -> Vec<&str> {
    let mut found: Vec<&str> = words.split('$').skip(1).step_by(2).collect();
    found.sort_unstable();
    found
}

#[test]
fn a_translation_differs_in_nothing_but_prose() {
    for (english, spanish) in PAIRS {
        let [english, spanish] = [english, spanish].map(|text| serde_json::from_str::<Value>(text).unwrap());
        assert_eq!([&english["language"], &spanish["language"]], ["en", "es"]);
        let mut found = Vec::new();
        differences(&english, &spanish, "", "", &mut found);
        assert!(found.is_empty(), "{}: {}", english["id"], found.join("\n"));
    }
}

#[test]
fn a_translation_opens_and_judges_as_the_original_does() {
    for (english, spanish) in PAIRS {
        let [english, spanish] = [english, spanish].map(|text| open(text).unwrap());
        assert_eq!(english.id, spanish.id);
        for (step, translated) in english.steps.iter().zip(&spanish.steps) {
            for entered in ["a", "m*g", "T=m*(g-a)", "alpha=a/R", "I"] {
                let judged = |derivation, step| {
                    let judgement = whorl_derivation::judge::judge(derivation, step, entered);
                    let kinds: Vec<&str> = judgement.rungs.iter().map(|rung| rung.kind.key()).collect();
                    (judgement.accepted, judgement.answer, kinds)
                };
                assert_eq!(judged(&english, step), judged(&spanish, translated), "{}: {entered}", step.id);
            }
        }
    }
}
