//! File bytes → text, by the byte-order mark, by where zeros stand, or by whether it is valid UTF-8.
//!
//! Windows-1252 is the code page of the WHATWG Encoding Standard (index windows-1252); UTF-16 is that of
//! the Unicode Standard, 3.9 and 3.10. Anything with other control characters is no text.

use super::understood::{Confidence, Guess, Remark};
use super::{Encoding, ReadingError, ReadingErrorKind};
use std::borrow::Cow;
use whorl_words as words;

/// Bytes looked at to tell UTF-16 without a mark from others.
const LOOKED_AT: usize = 4096;

/// Bytes looked at for control characters.
const TOP: usize = 1 << 16;

/// A file's text.
#[derive(Debug)]
pub(super) struct Text<'b> {
    pub(super) body: Cow<'b, str>,
    pub(super) encoding: Guess<Encoding>,
    pub(super) remark: Option<Remark>,
}

/// Decodes a file; `known` is its text, where it is known to be valid UTF-8.
///
/// # Errors
/// When it is no text.
#[inline(never)]
pub(super) fn decode<'b>(
    bytes: &'b [u8],
    known: Option<&'b str>,
    chosen: Option<Encoding>,
) -> Result<Text<'b>, ReadingError> {
    if let Some(found) = known_format(bytes) {
        return Err(ReadingError { line: 1, column: 1, kind: ReadingErrorKind::NotATable { found } });
    }
    let (bytes, zeros) = without_zeros(bytes);
    // Zeros are characters of one byte: what is left is text as well.
    let known = known.and_then(|text| text.get(..bytes.len()));
    let Told { encoding, mark, text } = match chosen {
        Some(encoding) => Told {
            encoding: guess(encoding, Confidence::Sure, words::readings::you_chose_it()),
            mark: mark_of(bytes).map_or(0, |mark| mark.1),
            text: known,
        },
        None => told(bytes, known),
    };
    let body = bytes.get(mark..).unwrap_or_default();
    let text = decoded(body, text.and_then(|text| text.get(mark..)), encoding, zeros);
    refuse_what_is_no_text(&text.body)?;
    Ok(text)
}

/// Decodes the rest of a file of which all before was plain letters, the same in UTF-8 and Windows-1252.
pub(super) fn decode_rest<'b>(bytes: &'b [u8], known: Option<&'b str>, chosen: Option<Encoding>) -> Text<'b> {
    let (bytes, zeros) = without_zeros(bytes);
    let known = known.and_then(|text| text.get(..bytes.len()));
    let Told { encoding, text, .. } = match chosen {
        Some(encoding) => Told {
            encoding: guess(encoding, Confidence::Sure, words::readings::you_chose_it()),
            mark: 0,
            text: known,
        },
        None => one_byte_or_more(bytes, known),
    };
    decoded(bytes, text, encoding, zeros)
}

/// Bytes of a known encoding → text; `zeros` says that some were left out behind them.
fn decoded<'b>(body: &'b [u8], known: Option<&'b str>, encoding: Guess<Encoding>, zeros: bool) -> Text<'b> {
    let (body, remark) = match (encoding.value, known) {
        (Encoding::Utf8, Some(text)) => (Cow::Borrowed(text), None),
        (Encoding::Utf8, None) => (String::from_utf8_lossy(body), None),
        (Encoding::Windows1252, _) => {
            (Cow::Owned(body.iter().map(|&byte| windows_1252(byte)).collect()), None)
        }
        (Encoding::Utf16Little, _) => utf16(body, u16::from_le_bytes),
        (Encoding::Utf16Big, _) => utf16(body, u16::from_be_bytes),
    };
    let remark = remark.or_else(|| {
        zeros.then(|| Remark { line: None, words: words::readings::zero_bytes_left_out().to_owned() })
    });
    Text { body, encoding, remark }
}

/// A few control characters may slip into words; a zero near the top, or many of them, are no text. Below, the rows
/// themselves are looked at.
fn refuse_what_is_no_text(text: &str) -> Result<(), ReadingError> {
    let top = text.as_bytes().get(..TOP).unwrap_or(text.as_bytes());
    let many = top.iter().filter(|byte| is_control(**byte)).count() * 20 > top.len();
    let Some(at) = top.iter().position(|&byte| byte == 0 || (many && is_control(byte))) else {
        return Ok(());
    };
    let line = 1 + top.iter().take(at).filter(|&&byte| byte == b'\n').count();
    Err(ReadingError { line, column: 1, kind: ReadingErrorKind::NotText })
}

/// Whether a byte is a control character other than tabs, line ends and their like.
pub(super) fn is_control(byte: u8) -> bool {
    matches!(byte, 0..=8 | 14..=31 | 127)
}

/// Takes zeros off the end, as a logger that lost its power leaves them; never those of UTF-16.
fn without_zeros(bytes: &[u8]) -> (&[u8], bool) {
    let end = bytes.iter().rposition(|&byte| byte != 0).map_or(0, |last| last + 1);
    let kept = bytes.get(..end).unwrap_or(bytes);
    let zeros = bytes.len() - end;
    if zeros > 1 && !kept.contains(&0) { (kept, true) } else { (bytes, false) }
}

fn guess(value: Encoding, confidence: Confidence, reason: &str) -> Guess<Encoding> {
    Guess { value, confidence, reason: reason.to_owned() }
}

/// The encoding that a byte-order mark names, and the mark's length.
fn mark_of(bytes: &[u8]) -> Option<(Encoding, usize)> {
    match bytes {
        [0xef, 0xbb, 0xbf, ..] => Some((Encoding::Utf8, 3)),
        [0xff, 0xfe, ..] => Some((Encoding::Utf16Little, 2)),
        [0xfe, 0xff, ..] => Some((Encoding::Utf16Big, 2)),
        _ => None,
    }
}

/// What bytes tell of their encoding.
struct Told<'b> {
    encoding: Guess<Encoding>,
    /// How many bytes are a mark.
    mark: usize,
    /// The text itself, where it was looked at whole.
    text: Option<&'b str>,
}

/// What the bytes themselves tell.
fn told<'b>(bytes: &'b [u8], known: Option<&'b str>) -> Told<'b> {
    let sure = |encoding, reason| guess(encoding, Confidence::Sure, reason);
    if let Some((encoding, mark)) = mark_of(bytes) {
        let encoding = sure(encoding, words::readings::byte_order_mark());
        return Told { encoding, mark, text: known };
    }
    let start = bytes.get(..LOOKED_AT).unwrap_or(bytes);
    let zeros = |odd: usize| start.iter().skip(odd).step_by(2).filter(|&&byte| byte == 0).count();
    let (even, odd) = (zeros(0), zeros(1));
    // In UTF-16 nearly every character of a table has a zero byte, always on the same side.
    let quarter = start.len() / 8;
    if start.len() >= 4 && odd > quarter && even * 20 <= odd {
        let encoding = sure(Encoding::Utf16Little, words::readings::zero_bytes_second());
        return Told { encoding, mark: 0, text: None };
    }
    if start.len() >= 4 && even > quarter && odd * 20 <= even {
        let encoding = sure(Encoding::Utf16Big, words::readings::zero_bytes_first());
        return Told { encoding, mark: 0, text: None };
    }
    one_byte_or_more(bytes, known)
}

fn one_byte_or_more<'b>(bytes: &'b [u8], known: Option<&'b str>) -> Told<'b> {
    let text = known.or_else(|| std::str::from_utf8(bytes).ok());
    let (value, confidence, reason) = match text {
        Some(_) => (Encoding::Utf8, Confidence::Sure, words::readings::valid_utf_8()),
        None => (Encoding::Windows1252, Confidence::Likely, words::readings::not_utf_8()),
    };
    Told { encoding: guess(value, confidence, reason), mark: 0, text }
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> (Cow<'_, str>, Option<Remark>) {
    let (pairs, rest) = bytes.as_chunks::<2>();
    let text = char::decode_utf16(pairs.iter().map(|&pair| unit(pair)))
        .map(|found| found.unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect();
    let cut = (!rest.is_empty())
        .then(|| Remark { line: None, words: words::readings::character_left_out().to_owned() });
    (Cow::Owned(text), cut)
}

/// Characters of the bytes 0x80 to 0x9f; the five that the code page leaves open stay control characters.
const HIGH: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

fn windows_1252(byte: u8) -> char {
    byte.checked_sub(0x80).and_then(|index| HIGH.get(usize::from(index))).copied().unwrap_or(char::from(byte))
}

/// What a file is whose first bytes are not those of a table.
fn known_format(bytes: &[u8]) -> Option<&'static str> {
    type Words = fn() -> &'static str;
    const FORMATS: [(&[u8], Words); 9] = [
        (b"PK\x03\x04", words::readings::packed_workbook),
        (b"\xd0\xcf\x11\xe0", words::readings::old_workbook),
        (b"%PDF", words::readings::pdf),
        (b"\x89PNG", words::readings::picture),
        (b"\xff\xd8\xff", words::readings::picture),
        (b"GIF8", words::readings::picture),
        (b"\x1f\x8b", words::readings::packed),
        (b"{\\rtf", words::readings::formatted_text),
        (b"RIFF", words::readings::sound_or_film),
    ];
    if let Some((_, found)) = FORMATS.iter().find(|(start, _)| bytes.starts_with(start)) {
        return Some(found());
    }
    let start = bytes.get(mark_of(bytes).map_or(0, |mark| mark.1)..)?;
    let start = start.get(..start.len().min(512))?.trim_ascii_start().to_ascii_lowercase();
    let begins = |words: &[&str]| words.iter().any(|word| start.starts_with(word.as_bytes()));
    if begins(&["<!doctype", "<html", "<head", "<body", "<table"]) {
        return Some(words::readings::web_page());
    }
    if begins(&["<?xml", "<svg"]) {
        return Some(words::readings::xml());
    }
    let json = start.strip_prefix(b"{").or_else(|| start.strip_prefix(b"["));
    match json.map(<[u8]>::trim_ascii_start).and_then(<[u8]>::first) {
        Some(b'"' | b'{' | b'}') => Some(words::readings::json()),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(bytes: &[u8]) -> (String, Encoding) {
        let text = decode(bytes, None, None).unwrap();
        (text.body.into_owned(), text.encoding.value)
    }

    #[test]
    fn each_encoding_is_told_with_and_without_its_mark() {
        let text = "Zeit (s);θ (°)\n0,1;2\n";
        let little: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
        let big: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        for (mark, bytes, encoding) in [
            (&b""[..], text.as_bytes(), Encoding::Utf8),
            (b"\xef\xbb\xbf", text.as_bytes(), Encoding::Utf8),
            (b"", &little, Encoding::Utf16Little),
            (b"\xff\xfe", &little, Encoding::Utf16Little),
            (b"", &big, Encoding::Utf16Big),
            (b"\xfe\xff", &big, Encoding::Utf16Big),
        ] {
            let bytes = [mark, bytes].concat();
            assert_eq!(read(&bytes), (text.to_owned(), encoding));
        }
        assert_eq!(read(b"t (\xb5s);\x93x\x94\n"), ("t (µs);“x”\n".to_owned(), Encoding::Windows1252));
    }

    #[test]
    fn what_is_no_text_is_refused_with_its_line() {
        let error = decode(b"t,v\n0,\x00\x01\n", None, None).unwrap_err();
        assert_eq!((error.line, error.kind), (2, ReadingErrorKind::NotText));
        for bytes in [&b"PK\x03\x04rest"[..], b"%PDF-1.7", b"<!DOCTYPE html><p>", b" {\"format\": 1}"] {
            let error = decode(bytes, None, None).unwrap_err();
            assert!(matches!(error.kind, ReadingErrorKind::NotATable { .. }), "{error}");
        }
    }

    #[test]
    fn an_odd_byte_at_the_end_of_utf_16_is_said() {
        let mut bytes: Vec<u8> = "0.1\n0.2\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
        bytes.push(b'x');
        let text = decode(&bytes, None, None).unwrap();
        assert_eq!((&*text.body, text.remark.is_some()), ("0.1\n0.2\n", true));
    }

    proptest! {
        #[test]
        fn any_bytes_are_text_or_not(bytes in proptest::collection::vec(any::<u8>(), 0..200), which in 0..5_usize) {
            let _ = decode(&bytes, None, Encoding::ALL.get(which).copied());
        }
    }
}
