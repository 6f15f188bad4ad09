//! Whatever stands where a heading should: an answer, soon.

use proptest::prelude::*;

use crate::readings::headings::{
    Heading, UnitFound, empty_table_word, heading, is_unit_cell, motion_word, state_word, unit,
};

/// Asks everything; what is taken over from the text is not longer than it.
fn ask(text: &str) -> Heading {
    let heading = heading(text).with_unit(text);
    let _ = (unit(text), is_unit_cell(text), state_word(text), motion_word(text), empty_table_word(text));
    // Parts are put together again with `, `.
    let room = 3 * text.len() + 2;
    assert!(heading.name.len() <= room, "{heading:?}");
    assert!(heading.label.as_ref().is_none_or(|label| label.len() <= room), "{heading:?}");
    heading
}

#[test]
fn long_and_odd_texts_are_answered() {
    for part in [
        "(", ")", "[(", "_", " / ", "m/", "s-1 ", "Run 1", "1", "é", "\u{301}", ":", ", ", "t (s) ", "（",
        "50 g", "^-",
    ] {
        for count in [0, 1, 2, 7, 40, 30_000] {
            ask(&part.repeat(count));
        }
    }
    for text in [
        "()",
        "( )",
        "(s",
        "s)",
        ")(",
        "t ()",
        "t ( ",
        "(((s)))",
        "=1+1",
        "<b>t</b> (s)",
        "\0",
        "/",
        "//",
        "#",
        "±",
    ] {
        ask(text);
    }
    let sentence = "The velocity of the string at the edge of the drum, ".repeat(40);
    assert_eq!(heading(&sentence).unit, UnitFound::None);
}

proptest! {
    #[test]
    fn any_text_is_answered(text in "\\PC{0,80}") {
        ask(&text);
    }

    #[test]
    fn any_bytes_are_answered(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        ask(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn text_of_our_own_pieces_is_answered(
        pieces in proptest::collection::vec(
            prop::sample::select(vec![
                "t", "v", "s", "m", "Zeit", "Run", "Lauf", "1", "23", "g", "kg", "(", ")", "[", "]", "/", "_", " ", " ",
                ":", "-", "|", ", ", "^", "²", "⁻¹", "-1", "in", "per", "rad", "°", "é", "\u{301}", "#", "ω", "\n", "（", "）",
            ]),
            0..24,
        )
    ) {
        ask(&pieces.concat());
    }

    #[test]
    fn a_name_with_a_unit_in_brackets_is_cut_there(
        name in prop::sample::select(vec!["t", "Zeit", "vitesse", "angular velocity", "posición"]),
        unit in prop::sample::select(vec!["s", "ms", "m/s", "rad", "°/s", "rpm", "g", "cm"]),
    ) {
        for text in [format!("{name} ({unit})"), format!("{name}[{unit}]"), format!("{name} / ({unit})")] {
            let heading = heading(&text);
            prop_assert_eq!(heading.name, name);
            let same = matches!(heading.unit, UnitFound::Known { symbol, .. } if symbol == unit);
            prop_assert!(same, "{}", text);
        }
    }
}
