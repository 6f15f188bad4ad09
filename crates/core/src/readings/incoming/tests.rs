//! A file in pieces is read as one at once.

use super::*;
use crate::readings::reader::HEAD;
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
        if text.len() > 2 * HEAD + HEAD / 2 {
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
    let odd = |rows| long(head, plain, rows).into_bytes();
    let marked = |mark: &[u8]| [mark, &odd(&[])].concat();
    let in_the_end = |end: &[u8]| [&odd(&[]), end].concat();
    for (what, text, ahead) in [
        ("plain rows", odd(&[]), true),
        ("a mark", marked("\u{feff}".as_bytes()), false),
        ("decimal commas", long("Zeit (s);v (m/s)\n", semicolons, &[]).into(), true),
        ("line ends of two bytes", long(head, |nth| plain(nth).replace('\n', "\r\n"), &[]).into(), true),
        ("gaps, comments, words", odd(&[(50, "# x\n"), (70, "NaN,1\n"), (90, "0.089,x\n")]), true),
        ("a new block", odd(&[(220_000, "Run 2\n"), (220_001, "t (s),v (m/s)\n")]), true),
        ("a letter that is not plain, at once", odd(&[(50, "# µ\n")]), false),
        ("a letter that is not plain, late", odd(&[(220_000, "220,x µ\n")]), true),
        ("a byte of another encoding, late", in_the_end(b"# \xb5\n900,1\n"), true),
        ("a character cut off", in_the_end(b"# \xe2"), true),
        ("a zero amid the rows", in_the_end(b"900,\x001\n901,1\n"), true),
        ("quotes with a line end", odd(&[(220_000, "220.0,1,\"a\n b\"\n")]), true),
        ("a quote that nothing closes", odd(&[(9, "\"9,1\n")]), true),
        ("no line ends", long("t v ", |nth| format!("{nth} 1 "), &[]).into(), false),
        ("line ends of another kind", long(head, |nth| plain(nth).replace('\n', "\r"), &[]).into(), false),
        ("words alone", "nothing to see here\n".repeat(HEAD / 10).into(), false),
        ("zeros at the end", in_the_end(b"\0\0\0"), true),
        ("two bytes for each letter", marked(b"").iter().flat_map(|&byte| [byte, 0]).collect(), false),
        ("spaces", long("t v\n", |nth| plain(nth).replace(',', "  "), &[]).into(), true),
        ("another number of columns below", in_the_end(&b"1,2,3\n".repeat(9)), true),
    ] {
        let whole = crate::readings::read(&text, &Choices::default(), &mut |_| {});
        for length in [70_001, 500_000] {
            let mut incoming = incoming(&text, length);
            assert_eq!(incoming.length(), text.len());
            assert_eq!(incoming.bytes().is_none(), ahead, "{what}");
            assert_eq!(incoming.read(&mut |_| {}), whole, "{what}, {length}");
        }
    }
}

#[test]
fn rows_are_taken_and_let_go_while_they_come() {
    let text = long("t (s),v (m/s)\n", plain, &[]);
    let incoming = incoming(text.as_bytes(), 64_000);
    let Contents::Text { text: left, .. } = &incoming.contents else { panic!("{:?}", incoming.contents) };
    assert!(left.len() < 30, "{left}");
    let Ahead::Begun(filling) = incoming.ahead else { panic!("{:?}", incoming.ahead) };
    assert!(text.lines().count() - 2 <= filling.done().1.rows());
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
        prop_assert_eq!(whole.bytes(), Some(bytes.as_slice()));
        let is_text = core::str::from_utf8(&bytes).is_ok();
        prop_assert_eq!(matches!(whole.contents, Contents::Text { .. }), is_text);
        // A character that is cut off by the end of the file.
        bytes.push(0xe2);
        let mut cut = incoming(&bytes, length);
        prop_assert_eq!(cut.bytes(), Some(bytes.as_slice()));
        prop_assert!(matches!(cut.contents, Contents::Bytes(_)));
    }
}
