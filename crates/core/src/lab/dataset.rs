//! What a recorded lab says about itself.
//!
//! The group that works with it did not take its readings. So what was recorded is locked
//! ([`super::Lab::is_recorded`]): readings, hanging masses, what the table carried, motions, the apparatus and the objects
//! as they were measured, balancing masses. What is a choice stays free: title, notes, pre-lab, plan, stretches, and
//! the shapes of the objects that its author left to whoever works with it.

use super::ObjectId;
use whorl_words as words;

/// The longest text but for the notes on the apparatus, in characters.
pub const LONGEST_TEXT: usize = 300;
/// The longest notes on the apparatus, in characters.
pub const LONGEST_NOTES: usize = 4_000;
/// The largest picture, in characters of its data URL: 300 kB in the file.
pub const LARGEST_PICTURE: usize = 400_000;

/// Who recorded a lab, when and how.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dataset {
    /// What its author calls it.
    pub title: String,
    /// Who recorded it.
    pub recorded_by: String,
    /// When, in the author's words, best as 2026-03-14; empty when it is not said.
    pub recorded_on: String,
    /// What one may do with it.
    pub licence: String,
    /// What is to be known of the apparatus; may be empty.
    pub apparatus_notes: String,
    /// Where it comes from: an address, a book, a course; may be empty.
    pub origin: String,
    /// The apparatus, photographed or sketched.
    pub picture: Option<Picture>,
    /// Objects whose shape whoever works with it describes, to predict their moment of inertia.
    pub to_predict: Vec<ObjectId>,
}

/// A picture, held in the lab itself: showing it asks no host for anything.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    data_url: String,
    alternative: String,
}

/// Why something is no picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    /// Not a data URL of one of the three types; above all none that can hold a program, as SVG can.
    #[error("{}", words::datasets::picture_of_other_type())]
    OtherType,
    /// It does not hold what its type says.
    #[error("{}", words::datasets::picture_is_none())]
    NotWhatItSays,
    /// Too many bytes.
    #[error("{}", words::datasets::picture_too_large(&(LARGEST_PICTURE / 4 * 3 / 1000)))]
    TooLarge,
    /// Nothing to say to those who do not see it.
    #[error("{}", words::datasets::picture_without_words())]
    NoAlternative,
}

/// Whether bytes begin as those of a type do.
type BeginsAs = fn(&[u8]) -> bool;

/// How a data URL of each type begins, and what it holds.
const TYPES: [(&str, BeginsAs); 3] = [
    // PNG (ISO/IEC 15948) 5.2, JPEG (ITU-T T.81) B.1.1.3, WebP (RFC 9649) 2.4.
    ("data:image/png;base64,", |start| start.starts_with(b"\x89PNG\r\n\x1a\n")),
    ("data:image/jpeg;base64,", |start| start.starts_with(&[0xff, 0xd8, 0xff])),
    ("data:image/webp;base64,", |start| start.starts_with(b"RIFF") && start.get(8..12) == Some(b"WEBP")),
];

impl Picture {
    /// A picture from a data URL, with what it shows in words.
    ///
    /// # Errors
    /// When it is not a PNG, JPEG or WebP in base64, too large, or without words.
    pub fn new(data_url: String, alternative: String) -> Result<Self, PictureError> {
        if data_url.len() > LARGEST_PICTURE {
            return Err(PictureError::TooLarge);
        }
        let found = TYPES.iter().find_map(|(start, is_one)| Some((data_url.strip_prefix(start)?, is_one)));
        let (base64, is_one) = found.ok_or(PictureError::OtherType)?;
        if !is_base64(base64) || !is_one(&decoded(base64.get(..16).unwrap_or(base64))) {
            return Err(PictureError::NotWhatItSays);
        }
        if alternative.trim().is_empty() {
            return Err(PictureError::NoAlternative);
        }
        Ok(Self { data_url, alternative })
    }

    /// Its data URL.
    pub fn data_url(&self) -> &str {
        &self.data_url
    }

    /// What it shows, in words.
    pub fn alternative(&self) -> &str {
        &self.alternative
    }
}

/// The value of a digit of base64 (RFC 4648, 4).
fn digit(byte: u8) -> Option<u8> {
    match byte {
        b'A'..=b'Z' => Some(byte - b'A'),
        b'a'..=b'z' => Some(byte - b'a' + 26),
        b'0'..=b'9' => Some(byte - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    }
}

fn is_base64(text: &str) -> bool {
    let digits = text.trim_end_matches('=');
    text.len() - digits.len() <= 2 && digits.bytes().all(|byte| digit(byte).is_some())
}

/// The bytes of base64 digits.
fn decoded(text: &str) -> Vec<u8> {
    let digits: Vec<u8> = text.bytes().map_while(digit).collect();
    let groups =
        digits.chunks(4).map(|group| group.iter().fold(0_u32, |all, one| all << 6 | u32::from(*one)));
    let lengths = digits.chunks(4).map(<[u8]>::len);
    groups
        .zip(lengths)
        .flat_map(|(bits, length)| {
            let bits = bits << (6 * (4 - length));
            bits.to_be_bytes().into_iter().skip(1).take(length * 3 / 4)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// One transparent pixel, written by hand after ISO/IEC 15948.
    const PIXEL: &str = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";

    #[test]
    fn base64_is_read_as_rfc_4648_section_10_has_it() {
        for (text, bytes) in
            [("", ""), ("Zg==", "f"), ("Zm8=", "fo"), ("Zm9v", "foo"), ("Zm9vYmFy", "foobar")]
        {
            assert!(is_base64(text));
            assert_eq!(decoded(text), bytes.as_bytes(), "{text}");
        }
        for text in ["Zm9v\n", "Zm 9", "Zg===", "Z=g=", "Zm9v\"", "Zm9v<"] {
            assert!(!is_base64(text), "{text}");
        }
    }

    #[test]
    fn pictures_are_png_jpeg_or_webp_and_nothing_that_could_hold_a_program() {
        let picture = |url: &str| Picture::new(url.to_owned(), "a banding wheel".to_owned());
        assert_eq!(picture(PIXEL).unwrap().data_url(), PIXEL);
        assert!(picture("data:image/jpeg;base64,/9j/4AAQSkZJRgABAQ==").is_ok());
        assert!(picture("data:image/webp;base64,UklGRiQAAABXRUJQVlA4IBgAAAAw").is_ok());
        let svg = "data:image/svg+xml;base64,PHN2Zz48c2NyaXB0PmFsZXJ0KDEpPC9zY3JpcHQ+PC9zdmc+";
        for other in [
            svg,
            "data:text/html;base64,PGI+",
            "https://example.org/wheel.png",
            "javascript:alert(1)",
            "DATA:image/png;base64,iVBORw0KGgo=",
            "data:image/png,plain",
            "data:image/gif;base64,R0lGODlhAQABAAAAACw=",
            "",
        ] {
            assert_eq!(picture(other), Err(PictureError::OtherType), "{other}");
        }
        let disguised = svg.replacen("svg+xml", "png", 1);
        assert_eq!(picture(&disguised), Err(PictureError::NotWhatItSays));
        assert_eq!(picture(&format!("{PIXEL}\" onerror=")), Err(PictureError::NotWhatItSays));
        let large = format!("{}{}", PIXEL.trim_end_matches('='), "A".repeat(LARGEST_PICTURE));
        assert_eq!(picture(&large), Err(PictureError::TooLarge));
        assert_eq!(Picture::new(PIXEL.to_owned(), " ".to_owned()), Err(PictureError::NoAlternative));
    }
}
