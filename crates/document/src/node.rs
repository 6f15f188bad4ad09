//! One place of a document.

use core::cell::RefCell;
use serde_json::{Map, Value};
use whorl_words as words;

/// What is wrong at a place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::documents::at(&.0.0, &.0.1))]
pub struct Wrong(Box<(String, String)>);

impl Wrong {
    fn new(place: &str, problem: &str) -> Self {
        Self(Box::new((place.to_owned(), problem.to_owned())))
    }

    /// Where, as a path of names from the top; and what is wrong, and what was expected.
    pub fn into_parts(self) -> (String, String) {
        *self.0
    }
}

/// A value, or the lack of one, at a place such as `runs[3].readings.time_s`.
///
/// What is wrong is noted, not returned: reading goes on with a stand-in, and [`read`] gives the
/// first complaint in place of what was read. A reader with a way out at each of its hundred fields
/// costs the page twice the bytes.
#[derive(Clone)]
pub struct Node<'a> {
    /// `None` for a field that is missing or `null`.
    value: Option<&'a Value>,
    place: String,
    first_wrong: &'a RefCell<Option<Wrong>>,
}

/// Reads a document.
///
/// # Errors
/// The first thing that is wrong with it.
pub fn read<T>(document: &Value, read: impl FnOnce(&Node<'_>) -> T) -> Result<T, Wrong> {
    let first_wrong = RefCell::new(None);
    let found = read(&Node { value: Some(document), place: String::new(), first_wrong: &first_wrong });
    match first_wrong.into_inner() {
        None => Ok(found),
        Some(wrong) => Err(wrong),
    }
}

// Called for every field of the document: kept as calls, each costs a few bytes of the page.
impl<'a> Node<'a> {
    /// Where this is.
    pub fn place(&self) -> &str {
        &self.place
    }

    /// Whether nothing stands here.
    pub fn is_missing(&self) -> bool {
        self.value.is_none()
    }

    /// Whether something with fields stands here.
    pub fn has_fields(&self) -> bool {
        self.value.is_some_and(Value::is_object)
    }

    /// Whether nothing wrong was found so far, here or elsewhere.
    pub fn is_fine(&self) -> bool {
        self.first_wrong.borrow().is_none()
    }

    /// Notes a complaint about this place.
    #[inline(never)]
    pub fn wrong(&self, problem: &str) {
        let place = if self.place.is_empty() { words::documents::the_top() } else { &self.place };
        self.first_wrong.borrow_mut().get_or_insert_with(|| Wrong::new(place, problem));
    }

    /// A field; one that is missing, `null`, or of something that has no fields counts as missing.
    #[inline(never)]
    #[must_use]
    pub fn field(&self, name: &str) -> Node<'a> {
        let value = self.value.and_then(|value| value.get(name)).filter(|value| !value.is_null());
        let dot = if self.place.is_empty() { "" } else { "." };
        Node { value, place: format!("{}{dot}{name}", self.place), first_wrong: self.first_wrong }
    }

    /// What stands here as the type that `read` looks for; `expected` names it.
    fn read<T>(
        &self,
        expected: fn() -> &'static str,
        read: impl FnOnce(&'a Value) -> Option<T>,
    ) -> Option<T> {
        let found = read(self.value?);
        if found.is_none() {
            self.wrong(expected());
        }
        found
    }

    /// Text.
    #[inline(never)]
    pub fn text(&self) -> Option<String> {
        self.read(words::documents::text_expected, |value| value.as_str().map(str::to_owned))
    }

    /// Text that may not be missing or blank.
    #[inline(never)]
    pub fn required_text(&self) -> String {
        let text = self.text().unwrap_or_default();
        if text.trim().is_empty() {
            self.wrong(words::documents::text_missing());
        }
        text
    }

    /// A number.
    #[inline(never)]
    pub fn number(&self) -> Option<f64> {
        self.read(words::documents::number_expected, Value::as_f64)
    }

    /// A whole number.
    #[inline(never)]
    pub fn count(&self) -> Option<u32> {
        self.read(words::documents::whole_number_expected, |value| value.as_u64()?.try_into().ok())
    }

    /// `true` or `false`.
    #[inline(never)]
    pub fn flag(&self) -> Option<bool> {
        self.read(words::documents::flag_expected, Value::as_bool)
    }

    /// A column of numbers; one that is none is complained about.
    #[inline(never)]
    pub fn numbers(&self) -> Option<Vec<f64>> {
        let items = self.read(words::documents::numbers_expected, Value::as_array)?;
        let numbers: Option<Vec<f64>> = items.iter().map(Value::as_f64).collect();
        if numbers.is_none() {
            let wrong = items.iter().position(|item| item.as_f64().is_none()).unwrap_or(0);
            self.item(wrong, None).wrong(words::documents::number_expected());
        }
        numbers
    }

    /// The items of a list; none when it is missing.
    #[inline(never)]
    pub fn items(&self) -> Vec<Node<'a>> {
        let items = self.read(words::documents::list_expected, Value::as_array);
        let value = |value: &'a Value| Some(value).filter(|value| !value.is_null());
        items.into_iter().flatten().enumerate().map(|(index, item)| self.item(index, value(item))).collect()
    }

    fn item(&self, index: usize, value: Option<&'a Value>) -> Node<'a> {
        Node { value, place: format!("{}[{index}]", self.place), first_wrong: self.first_wrong }
    }

    /// What is read from each item of a list; nothing when it is missing.
    pub fn list<T>(&self, read: &dyn Fn(&Node<'a>) -> T) -> Vec<T> {
        self.items().iter().map(read).collect()
    }

    fn object(&self) -> Option<&'a Map<String, Value>> {
        let found = self.value?.as_object();
        if found.is_none() {
            self.wrong(&words::documents::fields_expected(&"{ }"));
        }
        found
    }

    /// The names of the fields here, and what stands under each.
    #[inline(never)]
    pub fn fields(&self) -> Vec<(&'a str, Node<'a>)> {
        self.object().into_iter().flatten().map(|(name, _)| (name.as_str(), self.field(name))).collect()
    }

    /// Complains about a field of any other name than these, so that a misspelled one is noticed.
    #[inline(never)]
    pub fn only(&self, known: &[&str]) {
        let unknown = self.object().into_iter().flatten().find(|(name, _)| !known.contains(&name.as_str()));
        if let Some((name, _)) = unknown {
            self.field(name).wrong(&words::documents::unknown_field(&known.join(", ")));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn complaint<T: core::fmt::Debug>(look: impl Fn(&Node<'_>) -> T) -> String {
        let document = json!({"runs": [{"name": "a"}, {"name": 3, "nmae": "b"}]});
        read(&document, look).unwrap_err().to_string()
    }

    #[test]
    fn a_complaint_says_where_and_the_first_one_counts() {
        fn item<'a>(top: &Node<'a>, index: usize) -> Node<'a> {
            top.field("runs").items()[index].clone()
        }
        let document = json!({"name": "a"});
        assert_eq!(read(&document, |top| top.field("name").text()), Ok(Some("a".to_owned())));
        assert_eq!(
            complaint(|top| (item(top, 1).field("name").text(), item(top, 0).only(&[]))),
            "at runs[1].name: expected text in quotes"
        );
        assert_eq!(
            complaint(|top| item(top, 1).only(&["name"])),
            "at runs[1].nmae: there is no such field; known are name"
        );
        assert_eq!(
            complaint(|top| item(top, 0).field("stretch").required_text()),
            "at runs[0].stretch: text is missing here"
        );
    }
}
