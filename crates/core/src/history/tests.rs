//! Steps taken back and done again.

use super::*;
use proptest::prelude::*;

const MS: Duration = Duration::from_millis(1);

#[test]
fn what_follows_quickly_in_one_place_is_one_step() {
    let mut history = History::new(0);
    history.note(1, 'a', MS);
    history.note(2, 'a', 900 * MS);
    history.note(3, 'a', 1800 * MS);
    assert_eq!(history.undo(), Some((&0, 'a')));
    assert_eq!(history.redo(), Some((&3, 'a')));
    // What is done again is not added to.
    history.note(4, 'a', 1801 * MS);
    assert_eq!(history.undo(), Some((&3, 'a')));
}

#[test]
fn of_a_paragraph_without_a_pause_the_last_seconds_are_one_step() {
    let mut history = History::new(0);
    for tenth in 0..120_u32 {
        history.note(tenth + 1, 'a', tenth * 100 * MS);
    }
    let back: Vec<u32> = core::iter::from_fn(|| history.undo().map(|(state, _)| *state)).collect();
    assert_eq!(back, [100, 50, 0]);
}

#[test]
fn a_pause_another_place_and_the_end_of_a_step_begin_a_new_one() {
    let mut history = History::new(0);
    history.note(1, 'a', MS);
    history.note(2, 'a', 1001 * MS);
    history.note(3, 'b', 1002 * MS);
    history.end_step();
    history.note(4, 'b', 1003 * MS);
    let mut back = Vec::new();
    while let Some((state, change)) = history.undo() {
        back.push((*state, change));
    }
    assert_eq!(back, [(3, 'b'), (2, 'b'), (1, 'a'), (0, 'a')]);
}

#[test]
fn a_new_change_forgets_what_was_taken_back() {
    let mut history = History::new(0);
    history.note(1, 'a', MS);
    history.undo();
    assert_eq!(history.to_redo(), Some('a'));
    history.note(2, 'b', 2 * MS);
    assert_eq!((history.to_redo(), history.to_undo()), (None, Some('b')));
    assert!(history.redo().is_none());
    assert_eq!(*history.present(), 2);
}

#[test]
fn the_oldest_steps_go_and_none_but_these() {
    let mut history = History::new(0);
    for state in 1..=STEPS + 7 {
        history.note(state, state, MS);
    }
    let steps = core::iter::from_fn(|| history.undo().map(|(state, _)| *state)).count();
    assert_eq!((steps, *history.present()), (STEPS, 7));
}

proptest! {
    /// Beside a plain list of all states and a place in it.
    #[test]
    fn it_does_what_a_list_with_a_place_does(wishes in prop::collection::vec(0..5_u8, 0..60)) {
        let mut history = History::new(0_usize);
        let (mut list, mut place) = (vec![0_usize], 0_usize);
        for (number, wish) in wishes.into_iter().enumerate() {
            match wish {
                0 => {
                    let expected = place.checked_sub(1);
                    place = expected.unwrap_or(place);
                    prop_assert_eq!(history.undo().map(|(state, _)| *state), expected.map(|place| list[place]));
                }
                1 => {
                    let expected = (place + 1 < list.len()).then_some(place + 1);
                    place = expected.unwrap_or(place);
                    prop_assert_eq!(history.redo().map(|(state, _)| *state), expected.map(|place| list[place]));
                }
                _ => {
                    list.truncate(place + 1);
                    list.push(number + 1);
                    place += 1;
                    // Each at a place of its own, so that none are joined.
                    history.note(number + 1, number, MS);
                }
            }
            prop_assert_eq!(*history.present(), list[place]);
        }
    }
}

#[test]
fn where_a_change_was_made_is_found() {
    let before = Lab::default();
    let mut after = before.clone();
    assert_eq!(Changed::between(&before, &after), None);
    after.title = "Slate disc".to_owned();
    assert_eq!(Changed::between(&before, &after), Some(Changed::Title));
    after.bench = Some("a session".to_owned());
    assert_eq!(Changed::between(&before, &after), Some(Changed::Several));
    after.title.clear();
    after.bench = None;
    after.hand_in = Some("names".to_owned());
    assert_eq!(Changed::between(&before, &after), Some(Changed::Report));
    after.hand_in = None;
    after.bench = Some("a session".to_owned());
    assert_eq!(Changed::between(&before, &after), Some(Changed::Bench));
    after.add_object("disc".to_owned(), Vec::new());
    assert_eq!(Changed::between(&before, &after), Some(Changed::Several));
}
