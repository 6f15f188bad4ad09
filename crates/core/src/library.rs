//! The index of a library: recorded labs that a teacher points to, wherever they lie. The format is described in
//! DEVELOPERS.md.

use crate::intake::sha256_hex;
use serde_json::Value;
use whorl_document::{Node, line_and_column, parse, read};
use whorl_words as words;

/// What stands under `format`.
pub const FORMAT: &str = "whorl-library";
/// What stands under `version`.
pub const VERSION: u32 = 1;
/// What stands under `format` of an assignment ([`crate::assignment`]).
const ASSIGNMENT: &str = "whorl-assignment";
/// The largest index, in bytes; a thousand labs need less.
pub const LARGEST: usize = 1_000_000;

/// Recorded labs to choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Library {
    /// What its author calls it.
    pub title: String,
    /// The labs, in its order.
    pub datasets: Vec<Listed>,
}

/// A recorded lab as an index names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// What it is called.
    pub title: String,
    /// What one can find out with it.
    pub about: String,
    /// Its address, relative to the index or whole.
    pub file: String,
    /// Who recorded it.
    pub recorded_by: String,
    /// What one may do with it.
    pub licence: String,
    /// Whether a computer made its readings.
    pub simulated: bool,
    /// SHA-256 (FIPS 180-4) of the file, in hexadecimal; `None` where the index does not say.
    sha256: Option<String>,
}

impl Listed {
    /// Whether these bytes are the file that the index means.
    pub fn means(&self, bytes: &[u8]) -> bool {
        self.sha256.as_ref().is_none_or(|sha256| sha256.eq_ignore_ascii_case(&sha256_hex(bytes)))
    }
}

/// What a text from elsewhere is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The index of a library.
    Library,
    /// A lab.
    Lab,
    /// Work that an instructor set.
    Assignment,
}

/// What a text is by its `format`; `None` where it is no JSON or of another format.
pub fn kind(text: &str) -> Option<Kind> {
    match parse(text).ok()?.get("format").and_then(Value::as_str)? {
        FORMAT => Some(Kind::Library),
        crate::lab_file::FORMAT => Some(Kind::Lab),
        ASSIGNMENT => Some(Kind::Assignment),
        _ => None,
    }
}

/// Reads an index; `name` is what complaints call it.
///
/// # Errors
/// Says line, column and what to do.
pub fn open(name: &str, text: &str) -> Result<Library, String> {
    let document = parse(text)
        .map_err(|wrong| words::datasets::not_json(&name, &wrong.line, &wrong.column, &wrong.message))?;
    if document.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(words::datasets::not_a_library(&name, &FORMAT));
    }
    if let Some(found) =
        document.get("version").and_then(Value::as_u64).filter(|found| *found > u64::from(VERSION))
    {
        return Err(words::datasets::newer_library(&name, &found, &VERSION));
    }
    read(&document, library).map_err(|wrong| {
        let (place, problem) = wrong.into_parts();
        let (line, column) = line_and_column(text, &place);
        words::datasets::wrong_in_library(&name, &line, &column, &place, &problem)
    })
}

fn library(top: &Node<'_>) -> Library {
    top.only(&["format", "version", "title", "datasets"]);
    if top.field("version").count() != Some(VERSION) {
        top.field("version").wrong(words::lab_file::no_such_version());
    }
    if top.field("datasets").is_missing() {
        top.field("datasets").wrong(words::documents::list_expected());
    }
    Library { title: top.field("title").required_text(), datasets: top.field("datasets").list(&listed) }
}

fn listed(node: &Node<'_>) -> Listed {
    node.only(&["title", "about", "file", "recorded_by", "licence", "simulated", "sha256"]);
    let file = node.field("file").required_text();
    if !may_be_fetched(&file) {
        node.field("file").wrong(words::datasets::address_wanted());
    }
    let simulated = node.field("simulated").flag();
    if simulated.is_none() {
        node.field("simulated").wrong(words::datasets::simulated_wanted());
    }
    let sha256 = node.field("sha256").text();
    if sha256
        .as_ref()
        .is_some_and(|text| text.len() != 64 || !text.bytes().all(|byte| byte.is_ascii_hexdigit()))
    {
        node.field("sha256").wrong(words::datasets::sha256_wanted());
    }
    Listed {
        title: node.field("title").required_text(),
        about: node.field("about").text().unwrap_or_default(),
        file,
        recorded_by: node.field("recorded_by").required_text(),
        licence: node.field("licence").required_text(),
        simulated: simulated.unwrap_or_default(),
        sha256,
    }
}

/// Whether an address is relative or begins with `http:` or `https:` (RFC 3986, 3.1 and 4.2), and holds nothing that
/// browsers leave out when they read one. What it leads to, the browser says.
pub fn may_be_fetched(address: &str) -> bool {
    let scheme = address.split(['/', '?', '#']).next().and_then(|start| start.split_once(':'));
    !address.trim().is_empty()
        && !address.contains(|c: char| c.is_control() || c.is_whitespace())
        && scheme.is_none_or(|(scheme, _)| {
            scheme.eq_ignore_ascii_case("http") || scheme.eq_ignore_ascii_case("https")
        })
}

#[cfg(test)]
mod tests;
