//! A file in pieces is read as one at once.

use super::*;
use proptest::prelude::*;

fn incoming(bytes: &[u8], length: usize) -> Incoming {
    let mut incoming = Incoming::new(bytes.len(), Choices::default());
    bytes.chunks(length).for_each(|piece| incoming.add(piece));
    incoming
}

/// More rows than are waited for, with `odd` rows among them here and there.
fn long(head: &str, row: impl Fn(usize) -> String, odd: &[(usize, &str)]) -> String {
    let mut text = head.to_owned();
    for nth in 0.. {
        odd.iter().filter(|(place, _)| *place == nth).for_each(|(_, row)| text.push_str(row));
        text.push_str(&row(nth));
        if text.len() > ENOUGH + ENOUGH / 2 {
            return text;
        }
    }
    text
}

fn plain(nth: usize) -> String {
    format!("{}.{:03},{}.5\n", nth / 1000, nth % 1000, nth % 97)
}

#[test]
fn pieces_of_any_length_give_what_the_whole_gives() {
    let head = "t (s),v (m/s)\n";
    let semicolons = |nth| plain(nth).replace(',', ";").replace('.', ",");
    for (what, text, ahead) in [
        ("plain rows", long(head, plain, &[]), true),
        ("a mark", long("\u{feff}t (s),v (m/s)\n", plain, &[]), true),
        ("decimal commas", long("Zeit (s);v (m/s)\n", semicolons, &[]), true),
        ("line ends of two bytes", long(head, |nth| plain(nth).replace('\n', "\r\n"), &[]), true),
        ("gaps, comments, words", long(head, plain, &[(50, "# µ\n"), (70, "NaN,1\n"), (90, "0.089,x\n")]), true),
        ("a new block", long(head, plain, &[(60_000, "Run 2\n"), (60_001, "t (s),v (m/s)\n")]), true),
        ("quotes with a line end", long(head, plain, &[(80_000, "80.0,1,\"a\n b\"\n")]), false),
        ("a quote that nothing closes", long(head, plain, &[(9, "\"9,1\n")]), false),
        ("no line ends", long("t v ", |nth| format!("{nth} 1 "), &[]), false),
        ("words alone", "nothing to see here\n".repeat(ENOUGH / 10), false),
        ("zeros at the end", long(head, plain, &[]) + "\0\0\0", true),
        ("spaces", long("t v\n", |nth| plain(nth).replace(',', "  "), &[]), true),
        ("another number of columns below", long(head, plain, &[]) + &"1,2,3\n".repeat(9), true),
    ] {
        let whole = crate::readings::read(text.as_bytes(), &Choices::default(), &mut |_| {});
        for length in [70_001, 500_000] {
            let mut incoming = incoming(text.as_bytes(), length);
            assert_eq!(matches!(incoming.ahead, Ahead::Begun { .. }), ahead, "{what}");
            assert_eq!(incoming.read(&mut |_| {}), whole, "{what}, {length}");
            assert_eq!(incoming.bytes(), text.as_bytes(), "{what}");
        }
    }
}

#[test]
fn rows_are_taken_while_they_come() {
    let text = long("t (s),v (m/s)\n", plain, &[]);
    let incoming = incoming(text.as_bytes(), 64_000);
    let Ahead::Begun { filling, .. } = incoming.ahead else { panic!("{:?}", incoming.ahead) };
    assert_eq!(filling.table().rows(), text.lines().count() - 1);
}

proptest! {
    #[test]
    fn pieces_come_together(
        text in "[0-9,µ°−\\n𝜔]{0,60}", wrong in proptest::option::of(0..80_usize), length in 1..9_usize
    ) {
        let mut bytes = text.clone().into_bytes();
        if let Some(place) = wrong.filter(|&place| place <= bytes.len()) {
            bytes.insert(place, 0xff);
        }
        let mut whole = incoming(&bytes, length);
        prop_assert_eq!(whole.bytes(), bytes.as_slice());
        let is_text = core::str::from_utf8(&bytes).is_ok();
        prop_assert_eq!(matches!(whole.contents, Contents::Text { .. }), is_text);
        // A character that is cut off by the end of the file.
        bytes.push(0xe2);
        let mut cut = incoming(&bytes, length);
        prop_assert_eq!(cut.bytes(), bytes.as_slice());
        prop_assert!(matches!(cut.contents, Contents::Bytes(_)));
    }
}
