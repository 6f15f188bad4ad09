//! The pieces of a damaged document: all values that are whole in its text.
//!
//! A field at the top is read as a whole; of the larger ones, what is whole in them. Where a value is broken, reading
//! goes on with the next item of its list or the next field at the top that is known. No value is nested deeper than
//! serde_json allows, and nothing here calls itself.

use super::lost::Lost;
use serde_json::{Map, Value};
use whorl_document::parse_first;
use whorl_words as words;

/// Fields at the top with what each begins with, in the order in which they are saved. Behind something broken only
/// later ones are looked for: a name may stand in a record, too.
const TOP: [(&str, char); 17] = [
    ("format", '"'),
    ("version", '0'),
    ("title", '"'),
    ("notes", '"'),
    ("provenance", '"'),
    ("apparatus", '{'),
    ("prelab", '{'),
    ("plan", '{'),
    ("bench", '"'),
    ("forecasts", '"'),
    ("hand_in", '"'),
    ("assignment", '"'),
    ("objects", '['),
    ("runs", '['),
    ("balancing", '['),
    ("dataset", '{'),
    ("readings_sha256", '"'),
];

/// What every item of a list holds: so the next one is known behind a broken one.
const ITEMS: [(&str, &[&str]); 4] = [
    ("objects", &["id", "parts"]),
    ("runs", &["readings"]),
    ("balancing", &["mass_kg"]),
    ("prelab.steps", &["step"]),
];

/// Behind something broken no more than this many beginnings are tried: what is nested in one item is less.
const MOST_TRIED: usize = 200;

/// An item of a list as it stands in the text.
pub(super) struct Item {
    pub(super) value: Value,
    /// Its place in the document.
    pub(super) place: String,
    /// Where it stands in the text, in bytes.
    pub(super) at: usize,
}

/// What is whole in a text.
#[derive(Default)]
pub(super) struct Pieces {
    /// Fields at the top but for the lists.
    pub(super) fields: Map<String, Value>,
    pub(super) objects: Vec<Item>,
    pub(super) runs: Vec<Item>,
    pub(super) balancing: Vec<Item>,
    pub(super) steps: Vec<Item>,
}

impl Pieces {
    /// Whether there is more than the name of the format.
    pub(super) fn hold_something(&self) -> bool {
        let lists = [&self.objects, &self.runs, &self.balancing, &self.steps];
        lists.iter().any(|list| !list.is_empty())
            || self.fields.keys().any(|name| !matches!(name.as_str(), "format" | "version"))
    }

    fn list(&mut self, name: &str) -> Option<&mut Vec<Item>> {
        match name {
            "objects" => Some(&mut self.objects),
            "runs" => Some(&mut self.runs),
            "balancing" => Some(&mut self.balancing),
            "prelab.steps" => Some(&mut self.steps),
            _ => None,
        }
    }
}

/// Reads what is whole; `None` where no document begins.
pub(super) fn pieces(text: &str, lost: &mut Lost<'_>) -> Option<Pieces> {
    let mut reader = Reader { text, at: text.len() - text.trim_start_matches('\u{feff}').len() };
    let mut pieces = Pieces::default();
    if !reader.pass(b'{') {
        return None;
    }
    let mut last = 0;
    loop {
        match reader.field(lost, "") {
            Field::Named(name) => {
                last = TOP.iter().position(|(known, _)| *known == name).unwrap_or(last);
                if reader.value_of(&name, &mut pieces, lost, last) {
                    continue;
                }
            }
            Field::End => {
                if reader.byte().is_some() {
                    lost.told(reader.at, "", words::documents::text_behind());
                }
                return Some(pieces);
            }
            Field::Broken => {}
        }
        match reader.next_known(last) {
            Some((at, which)) => (reader.at, last) = (at, which),
            None => return Some(pieces),
        }
    }
}

/// What comes next among fields.
enum Field {
    /// A field of this name; the reader stands before its value.
    Named(String),
    /// No more.
    End,
    /// Something else, which is told.
    Broken,
}

#[derive(Clone, Copy)]
struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn byte(&mut self) -> Option<u8> {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start_matches([' ', '\t', '\r', '\n']).len();
        self.rest().bytes().next()
    }

    fn pass(&mut self, byte: u8) -> bool {
        let is_it = self.byte() == Some(byte);
        self.at += usize::from(is_it);
        is_it
    }

    /// A value that is whole; `Err` says how far it is and why it is none.
    fn value(&mut self) -> Result<Value, (usize, String)> {
        let _ = self.byte();
        match parse_first(self.rest()) {
            // Of a number at the very end the last digits may be gone.
            Ok((value, length)) if value.is_number() && self.at + length == self.text.len() => {
                Err((self.text.len(), words::documents::ends_in_value().to_owned()))
            }
            Ok((value, length)) => {
                self.at += length;
                Ok(value)
            }
            Err(problem) => {
                let rest = self.rest();
                let lines = rest.split_inclusive('\n').take(problem.line - 1).map(str::len);
                let within = (lines.sum::<usize>() + problem.column - 1).min(rest.len());
                let within = (0..=within).rev().find(|&at| rest.is_char_boundary(at)).unwrap_or_default();
                Err((self.at + within, problem.message))
            }
        }
    }

    /// The name of the next field, behind a comma or not.
    fn field(&mut self, lost: &mut Lost<'_>, inside: &str) -> Field {
        let _ = self.pass(b',');
        match self.byte() {
            Some(b'}') => {
                self.at += 1;
                return Field::End;
            }
            Some(b'"') => {}
            Some(_) => {
                lost.told(self.at, inside, words::documents::key_without_quotes());
                return Field::Broken;
            }
            None => {
                lost.cut(self.text.len(), inside);
                return Field::End;
            }
        }
        let name = match self.value() {
            Ok(Value::String(name)) => name,
            Ok(_) => return Field::Broken,
            Err((at, problem)) => {
                lost.told(at, inside, &problem);
                return Field::Broken;
            }
        };
        if self.pass(b':') {
            return Field::Named(name);
        }
        match self.byte() {
            Some(_) => lost.told(self.at, &joined(inside, &name), words::documents::colon_expected()),
            None => lost.cut(self.text.len(), &joined(inside, &name)),
        }
        Field::Broken
    }

    /// Takes the value of a field at the top; whether it was whole.
    fn value_of(&mut self, name: &str, pieces: &mut Pieces, lost: &mut Lost<'_>, known: usize) -> bool {
        match (name, self.byte()) {
            ("objects" | "runs" | "balancing", Some(b'[')) => self.items(name, pieces, lost, known),
            ("apparatus" | "plan" | "prelab" | "dataset", Some(b'{')) => {
                self.at += 1;
                let mut fields = Map::new();
                let whole = loop {
                    match self.field(lost, name) {
                        Field::Named(inner) => {
                            let place = joined(name, &inner);
                            let whole = match (place.as_str(), self.byte()) {
                                ("prelab.steps", Some(b'[')) => self.items(&place, pieces, lost, known),
                                _ => self.whole_field(inner, &place, &mut fields, lost),
                            };
                            if !whole {
                                break false;
                            }
                        }
                        Field::End => break true,
                        Field::Broken => break false,
                    }
                };
                pieces.fields.insert(name.to_owned(), Value::Object(fields));
                whole
            }
            _ => self.whole_field(name.to_owned(), name, &mut pieces.fields, lost),
        }
    }

    fn whole_field(
        &mut self,
        name: String,
        place: &str,
        fields: &mut Map<String, Value>,
        lost: &mut Lost<'_>,
    ) -> bool {
        match self.value() {
            Ok(value) => {
                fields.insert(name, value);
                true
            }
            Err((at, problem)) => {
                lost.told(at, place, &problem);
                false
            }
        }
    }

    /// Takes the items of a list; whether its end was found.
    fn items(&mut self, list: &str, pieces: &mut Pieces, lost: &mut Lost<'_>, known: usize) -> bool {
        self.at += 1;
        let mut found = Vec::new();
        let mut count = 0;
        let mut behind = None;
        let whole = loop {
            let place = format!("{list}[{count}]");
            let _ = self.pass(b',');
            let start = match self.byte() {
                Some(b']') => {
                    self.at += 1;
                    break true;
                }
                Some(_) => self.at,
                None => {
                    lost.cut(self.text.len(), &place);
                    break false;
                }
            };
            count += 1;
            match self.value() {
                Ok(value) => found.push(Item { value, place, at: start }),
                Err((at, problem)) => {
                    lost.told(at, &place, &problem);
                    // The next that looks like one, in front of what comes behind the list.
                    let end = || self.next_known(known).map_or(self.text.len(), |(at, _)| at);
                    match self.next_item(list, *behind.get_or_insert_with(end)) {
                        Some(at) => self.at = at,
                        None => break false,
                    }
                }
            }
        };
        if let Some(items) = pieces.list(list) {
            *items = found;
        }
        whole
    }

    /// Where the next item of a list begins, in front of `end`.
    fn next_item(&self, list: &str, end: usize) -> Option<usize> {
        let (_, needed) = ITEMS.iter().find(|(name, _)| *name == list)?;
        let mut at = self.at + 1;
        for _ in 0..MOST_TRIED {
            let from = self.text.as_bytes().get(at..end)?;
            at += from.iter().position(|&byte| byte == b'{')?;
            match parse_first(self.text.get(at..)?) {
                Ok((value, _)) if needed.iter().all(|name| value.get(name).is_some()) => return Some(at),
                // Nothing in it is an item of this list.
                Ok((_, length)) => at += length,
                Err(_) => at += 1,
            }
        }
        None
    }

    /// Where the next field at the top behind the one `last` begins, and which it is.
    fn next_known(&self, last: usize) -> Option<(usize, usize)> {
        let from = self.rest();
        let begins = |(which, (name, begins)): (usize, &(&str, char))| {
            let quoted = format!("\"{name}\"");
            let found = from.match_indices(&quoted).find(|(at, _)| {
                let before = from.get(..*at).unwrap_or_default().trim_end();
                let behind = from.get(at + quoted.len()..).unwrap_or_default().trim_start();
                let value = behind.strip_prefix(':').unwrap_or_default().trim_start();
                let fits = match begins {
                    '0' => value.starts_with(|digit: char| digit.is_ascii_digit()),
                    begins => value.starts_with(*begins) || value.starts_with("null"),
                };
                before.ends_with(',') && fits
            });
            found.map(|(at, _)| (self.at + at, which))
        };
        TOP.iter().enumerate().skip(last + 1).filter_map(begins).min()
    }
}

fn joined(inside: &str, name: &str) -> String {
    if inside.is_empty() { name.to_owned() } else { format!("{inside}.{name}") }
}
