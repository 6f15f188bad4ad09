//! What was added comes back; what is damaged does no harm.

use super::*;
use crate::analysis::analyze;
use crate::lab::Lab;
use proptest::prelude::*;

fn filled() -> HandIn {
    let mut added = HandIn { cautions_read: true, ..HandIn::default() };
    added.set_names("Ada, “Bo” \\ <Cy>\nDee");
    added.set_date("2026-03-14");
    for prompt in Prompt::ALL {
        added.conclude(prompt, &format!("about {}:\n\"both\" agree", prompt.key()));
    }
    added
}

#[test]
fn what_was_added_comes_back() {
    let added = filled();
    assert_eq!(open(save(&added).as_deref()), added);
    assert_eq!(save(&HandIn::default()), None);
    assert_eq!(open(None), HandIn::default());
}

#[test]
fn a_damaged_text_gives_what_can_be_read() {
    for text in ["", "null", "[", "[1]", "7", "\"names\"", "{\"names\": 3, \"conclusions\": [\"a\"]}"] {
        assert_eq!(open(Some(text)), HandIn::default(), "{text}");
    }
    let some = open(Some(
        "{\"names\": \"Ada\", \"cautions_read\": \"yes\", \"conclusions\": {\"found\": \"I\", \"x\": 1}}",
    ));
    assert_eq!((some.names(), some.cautions_read, some.conclusion(Prompt::Found)), ("Ada", false, "I"));
}

#[test]
fn texts_are_cut_at_their_limits() {
    let long = "ä".repeat(20_000);
    let mut added = HandIn::default();
    added.set_names(&long);
    added.set_date(&long);
    added.conclude(Prompt::Found, &long);
    let lengths =
        [added.names(), added.date(), added.conclusion(Prompt::Found)].map(|text| text.chars().count());
    assert_eq!(lengths, [LONGEST_NAMES, LONGEST_DATE, LONGEST_ANSWER]);
    assert_eq!(open(save(&added).as_deref()), added);
}

#[test]
fn what_is_missing_goes_away_as_it_is_added() {
    let lab = Lab::default();
    let all = missing(&lab, &analyze(&lab), &HandIn::default(), false);
    assert_eq!(all.len(), 6 + Prompt::ALL.len());
    let left = missing(&lab, &analyze(&lab), &filled(), true);
    assert_eq!(left, [Missing::Runs, Missing::Comparison]);
}

proptest! {
    #[test]
    fn no_text_ends_in_a_panic(text in "\\PC{0,200}") {
        let added = open(Some(&text));
        prop_assert_eq!(open(save(&added).as_deref()), added);
    }
}
