//! One place of a document.

use serde_json::{Map, Value};

/// What is wrong at a place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("at {}: {}", .0.0, .0.1)]
// Boxed: it travels in the results of every reading function, which then stay small.
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
#[derive(Clone)]
pub struct Node<'a> {
    /// `None` for a field that is missing or `null`.
    value: Option<&'a Value>,
    place: String,
}

// Called for every field of the document: kept as calls, each costs a few bytes of the page.
impl<'a> Node<'a> {
    /// The document itself.
    pub fn top(document: &'a Value) -> Self {
        Self { value: Some(document), place: String::new() }
    }

    /// Where this is.
    pub fn place(&self) -> &str {
        &self.place
    }

    /// Whether nothing stands here.
    pub fn is_missing(&self) -> bool {
        self.value.is_none()
    }

    /// A complaint about this place.
    #[inline(never)]
    pub fn wrong(&self, problem: &str) -> Wrong {
        let place = if self.place.is_empty() { "the top" } else { &self.place };
        Wrong::new(place, problem)
    }

    /// A field; one that is missing, `null`, or of something that has no fields counts as missing.
    #[inline(never)]
    #[must_use]
    pub fn field(&self, name: &str) -> Node<'a> {
        let value = self.value.and_then(|value| value.get(name)).filter(|value| !value.is_null());
        let dot = if self.place.is_empty() { "" } else { "." };
        Node { value, place: format!("{}{dot}{name}", self.place) }
    }

    /// What stands here as the type that `read` looks for; `expected` names it.
    fn read<T>(&self, expected: &str, read: impl FnOnce(&'a Value) -> Option<T>) -> Result<Option<T>, Wrong> {
        match self.value {
            None => Ok(None),
            Some(value) => read(value).map(Some).ok_or_else(|| self.wrong(expected)),
        }
    }

    /// Text.
    ///
    /// # Errors
    /// When something else stands here.
    #[inline(never)]
    pub fn text(&self) -> Result<Option<String>, Wrong> {
        self.read("expected text in quotes", |value| value.as_str().map(str::to_owned))
    }

    /// Text that may not be missing or blank.
    ///
    /// # Errors
    /// When something else, or nothing, stands here.
    #[inline(never)]
    pub fn required_text(&self) -> Result<String, Wrong> {
        let text = self.text()?.unwrap_or_default();
        if text.trim().is_empty() { Err(self.wrong("text is missing here")) } else { Ok(text) }
    }

    /// A number.
    ///
    /// # Errors
    /// When something else stands here.
    #[inline(never)]
    pub fn number(&self) -> Result<Option<f64>, Wrong> {
        self.read("expected a number", Value::as_f64)
    }

    /// A whole number.
    ///
    /// # Errors
    /// When something else stands here.
    #[inline(never)]
    pub fn count(&self) -> Result<Option<u32>, Wrong> {
        self.read("expected a whole number", |value| value.as_u64()?.try_into().ok())
    }

    /// `true` or `false`.
    ///
    /// # Errors
    /// When something else stands here.
    #[inline(never)]
    pub fn flag(&self) -> Result<Option<bool>, Wrong> {
        self.read("expected true or false", Value::as_bool)
    }

    /// A column of numbers.
    ///
    /// # Errors
    /// Names the item that is none.
    #[inline(never)]
    pub fn numbers(&self) -> Result<Option<Vec<f64>>, Wrong> {
        let Some(items) = self.read("expected a list of numbers", Value::as_array)? else { return Ok(None) };
        let numbers: Option<Vec<f64>> = items.iter().map(Value::as_f64).collect();
        // Only now is it worth looking for the one that is none.
        numbers.map(Some).ok_or_else(|| {
            let wrong = items.iter().position(|item| item.as_f64().is_none()).unwrap_or(0);
            Wrong::new(&format!("{}[{wrong}]", self.place), "expected a number")
        })
    }

    /// The items of a list; none when it is missing.
    ///
    /// # Errors
    /// When something else stands here.
    #[inline(never)]
    pub fn items(&self) -> Result<Vec<Node<'a>>, Wrong> {
        let items = self.read("expected a list", Value::as_array)?;
        let node = |(index, value): (usize, &'a Value)| Node {
            value: Some(value).filter(|value| !value.is_null()),
            place: format!("{}[{index}]", self.place),
        };
        Ok(items.into_iter().flatten().enumerate().map(node).collect())
    }

    /// What is read from each item of a list; nothing when it is missing.
    ///
    /// # Errors
    /// The first complaint about an item, or that something else stands here.
    pub fn list<T>(&self, read: &dyn Fn(&Node<'a>) -> Result<T, Wrong>) -> Result<Vec<T>, Wrong> {
        // A loop: collecting into a `Result` costs the page kilobytes for each type of item.
        let mut all = Vec::new();
        for item in self.items()? {
            all.push(read(&item)?);
        }
        Ok(all)
    }

    fn object(&self) -> Result<Option<&'a Map<String, Value>>, Wrong> {
        self.read("expected fields in { }", Value::as_object)
    }

    /// The names of the fields here, and what stands under each.
    ///
    /// # Errors
    /// When something without fields stands here.
    #[inline(never)]
    pub fn fields(&self) -> Result<Vec<(&'a str, Node<'a>)>, Wrong> {
        let fields = self.object()?.into_iter().flatten();
        Ok(fields.map(|(name, _)| (name.as_str(), self.field(name))).collect())
    }

    /// Checks that no field here has any other name than these, so that a misspelled one is noticed.
    ///
    /// # Errors
    /// Names the field and those that are known.
    #[inline(never)]
    pub fn only(&self, known: &[&str]) -> Result<(), Wrong> {
        let unknown = self.object()?.into_iter().flatten().find(|(name, _)| !known.contains(&name.as_str()));
        match unknown {
            None => Ok(()),
            Some((name, _)) => Err(self
                .field(name)
                .wrong(&format!("there is no such field; known are {}", known.join(", ")))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_complaint_says_where() {
        let document = json!({"runs": [{"name": "a"}, {"name": 3, "nmae": "b"}]});
        let runs = Node::top(&document).field("runs").items().unwrap();
        assert_eq!(runs[0].field("name").text(), Ok(Some("a".to_owned())));
        assert_eq!(
            runs[1].field("name").text().unwrap_err().to_string(),
            "at runs[1].name: expected text in quotes"
        );
        assert_eq!(
            runs[1].only(&["name"]).unwrap_err().to_string(),
            "at runs[1].nmae: there is no such field; known are name"
        );
        assert_eq!(
            runs[0].field("stretch").required_text().unwrap_err().to_string(),
            "at runs[0].stretch: text is missing here"
        );
    }
}
