//! An assignment in a page's address: `PAGE#work=1.…`.
//!
//! ```text
//! 1.       version of what follows
//! …        base64url without padding (RFC 4648, 5) of
//!          a zlib stream (RFC 1950, deflate of RFC 1951; its check tells a damaged link) of
//!          the file's JSON (RFC 8259) without blanks, format and version, and without what it would be anyway
//! ```
//!
//! The fragment of an address is not sent to any host.

use super::file::{LARGEST, opened, save};
use super::{Assignment, Source};
use crate::bench::BenchSettings;
use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::decompress_to_vec_zlib_with_limit;
use serde_json::Value;
use whorl_words as words;

/// How the fragment of such an address begins.
pub const LINK: &str = "#work=";
/// The longest address that is handed on, in characters: browsers take far more, but mail programs and course pages
/// break longer ones; common practice, no source.
pub const LONGEST_LINK: usize = 2_000;

/// How what follows begins.
const VERSION: &str = "1.";
/// The longest link that is read, in characters.
const LONGEST_READ: usize = 100_000;
/// miniz_oxide's strongest compression.
const STRONGEST: u8 = 10;

/// Why a link sets no work.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LinkProblem {
    /// It is none.
    #[error("{}", words::assigning::no_link(&LINK))]
    NoLink,
    /// Made by a later program, or its beginning is damaged.
    #[error("{}", words::assigning::other_version())]
    OtherVersion,
    /// Longer than any that Whorl makes.
    #[error("{}", words::assigning::link_far_too_long(&LONGEST_READ))]
    FarTooLong,
    /// A sign that no link has.
    #[error("{}", words::assigning::link_sign(sign, at))]
    Sign {
        /// The sign.
        sign: char,
        /// Which character behind the version it is, from 1.
        at: usize,
    },
    /// It does not add up: something is missing or was changed.
    #[error("{}", words::assigning::link_damaged())]
    Damaged,
    /// It is whole, but sets no work.
    #[error("{}", words::assigning::wrong_in_link(place, problem))]
    Content {
        /// Where, as in an assignment file.
        place: String,
        /// Why not.
        problem: String,
    },
}

/// The fragment of an address, from its `#` on.
pub fn fragment(assignment: &Assignment) -> String {
    let packed = compress_to_vec_zlib(compact(assignment).as_bytes(), STRONGEST);
    format!("{LINK}{VERSION}{}", URL_SAFE_NO_PAD.encode(packed))
}

/// The assignment of an address, or of its fragment.
///
/// # Errors
/// Says why it sets no work, and what to do.
pub fn read_link(address: &str) -> Result<Assignment, LinkProblem> {
    let (_, rest) = address.split_once(LINK).ok_or(LinkProblem::NoLink)?;
    let signs = rest.trim_end().strip_prefix(VERSION).ok_or(LinkProblem::OtherVersion)?;
    if signs.len() > LONGEST_READ {
        return Err(LinkProblem::FarTooLong);
    }
    let is_sign = |sign: &char| sign.is_ascii_alphanumeric() || matches!(sign, '-' | '_');
    if let Some((index, sign)) = signs.chars().enumerate().find(|(_, sign)| !is_sign(sign)) {
        return Err(LinkProblem::Sign { sign, at: index + 1 });
    }
    let packed = URL_SAFE_NO_PAD.decode(signs).map_err(|_| LinkProblem::Damaged)?;
    let bytes = decompress_to_vec_zlib_with_limit(&packed, LARGEST).map_err(|_| LinkProblem::Damaged)?;
    let document = serde_json::from_slice(&bytes).map_err(|_| LinkProblem::Damaged)?;
    opened(&document, &[]).map_err(|(place, problem)| LinkProblem::Content { place, problem })
}

/// The file's JSON, as short as it can be.
fn compact(assignment: &Assignment) -> String {
    let mut document = as_value(assignment);
    let usual = as_value(&Assignment::default());
    if let Value::Object(fields) = &mut document {
        fields.retain(|name, value| usual.get(name) != Some(value));
        if let Some(bench) = fields.get_mut("bench") {
            let usual = Source::Bench { settings: Box::default(), code: None };
            let usual = as_value(&Assignment { readings: usual, ..Assignment::default() });
            if let Some(usual) = usual.get("bench") {
                leave_out(bench, usual);
            }
        }
    }
    document.to_string()
}

fn as_value(assignment: &Assignment) -> Value {
    // What was just written is JSON.
    serde_json::from_str(&save(assignment)).unwrap_or_default()
}

/// Takes away what is as usual; lists are kept whole.
fn leave_out(document: &mut Value, usual: &Value) {
    let Value::Object(fields) = document else { return };
    fields.retain(|name, value| match usual.get(name) {
        Some(usual) if usual == value => false,
        Some(usual) => {
            // A range stays whole, too: a number may stand in its place.
            if value.get("from").is_none() {
                leave_out(value, usual);
            }
            true
        }
        None => true,
    });
}

/// An address that is too long to be handed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLong {
    /// By so many characters.
    pub by: usize,
    /// What takes the most of it.
    pub shorten: Shorten,
}

/// What can be shortened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shorten {
    /// The instructions.
    Instructions,
    /// The choices of the practice bench.
    Bench,
    /// The names of objects.
    Objects,
    /// The address of the recorded lab, or the page's own.
    Address,
}

/// Whether the address of an assignment on a page is too long, by how much, and what would shorten it the most.
pub fn too_long(page: &str, assignment: &Assignment) -> Option<TooLong> {
    let length = |assignment: &Assignment| page.chars().count() + fragment(assignment).len();
    let whole = length(assignment);
    let by = whole.checked_sub(LONGEST_LINK).filter(|by| *by > 0)?;
    let without = |shorten| {
        let mut shorter = assignment.clone();
        match (shorten, &mut shorter.readings) {
            (Shorten::Instructions, _) => shorter.instructions.clear(),
            (Shorten::Bench, Source::Bench { settings, .. }) => **settings = BenchSettings::default(),
            (Shorten::Objects, Source::Own { objects }) => objects.clear(),
            (Shorten::Address, Source::Recorded { address }) => address.clear(),
            _ => {}
        }
        whole - length(&shorter).min(whole)
    };
    let all = [Shorten::Instructions, Shorten::Bench, Shorten::Objects, Shorten::Address];
    let most = all.into_iter().max_by_key(|shorten| without(*shorten));
    // Where none of these has a share, the page's own address is the long one.
    let shorten = most.filter(|shorten| without(*shorten) > 0).unwrap_or(Shorten::Address);
    Some(TooLong { by, shorten })
}
