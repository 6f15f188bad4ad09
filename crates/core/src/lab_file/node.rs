//! A place in a JSON document that knows where it is, so that a complaint can say so.

use super::LabFileError;
use crate::measured::Measured;
use crate::quantity::Quantity;
use serde_json::Value;

/// A value, or the lack of one, at a place such as `runs[3].readings.time_s`.
pub(super) struct Node<'a> {
    /// `None` for a field that is missing or `null`.
    value: Option<&'a Value>,
    place: String,
}

// Called for every field of the document: kept as calls, each costs a few bytes of the page.
impl<'a> Node<'a> {
    /// The document itself.
    pub(super) fn top(document: &'a Value) -> Self {
        Self { value: Some(document), place: String::new() }
    }

    pub(super) fn place(&self) -> &str {
        &self.place
    }

    /// A complaint about this place.
    #[inline(never)]
    pub(super) fn wrong(&self, problem: &str) -> LabFileError {
        LabFileError::Value { place: self.place.clone(), problem: problem.to_owned() }
    }

    /// A field; one that is missing, `null`, or of something that has no fields counts as missing.
    #[inline(never)]
    pub(super) fn field(&self, name: &str) -> Node<'a> {
        let value = self.value.and_then(|value| value.get(name)).filter(|value| !value.is_null());
        let dot = if self.place.is_empty() { "" } else { "." };
        Node { value, place: format!("{}{dot}{name}", self.place) }
    }

    /// What stands here as the type that `read` looks for; `expected` names it.
    fn read<T>(
        &self,
        expected: &str,
        read: impl FnOnce(&'a Value) -> Option<T>,
    ) -> Result<Option<T>, LabFileError> {
        match self.value {
            None => Ok(None),
            Some(value) => read(value).map(Some).ok_or_else(|| self.wrong(expected)),
        }
    }

    #[inline(never)]
    pub(super) fn text(&self) -> Result<Option<String>, LabFileError> {
        self.read("expected text in quotes", |value| value.as_str().map(str::to_owned))
    }

    #[inline(never)]
    pub(super) fn number(&self) -> Result<Option<f64>, LabFileError> {
        self.read("expected a number", Value::as_f64)
    }

    #[inline(never)]
    pub(super) fn count(&self) -> Result<Option<u32>, LabFileError> {
        self.read("expected a whole number", |value| value.as_u64()?.try_into().ok())
    }

    /// A column of numbers.
    #[inline(never)]
    pub(super) fn numbers(&self) -> Result<Option<Vec<f64>>, LabFileError> {
        let Some(items) = self.read("expected a list of numbers", Value::as_array)? else { return Ok(None) };
        let numbers: Option<Vec<f64>> = items.iter().map(Value::as_f64).collect();
        // Only now is it worth looking for the one that is none.
        numbers.map(Some).ok_or_else(|| {
            let wrong = items.iter().position(|item| item.as_f64().is_none()).unwrap_or(0);
            LabFileError::Value {
                place: format!("{}[{wrong}]", self.place),
                problem: "expected a number".to_owned(),
            }
        })
    }

    /// The items of a list; none when it is missing.
    #[inline(never)]
    pub(super) fn items(&self) -> Result<Vec<Node<'a>>, LabFileError> {
        let items = self.read("expected a list", Value::as_array)?;
        let node = |(index, value): (usize, &'a Value)| Node {
            value: Some(value).filter(|value| !value.is_null()),
            place: format!("{}[{index}]", self.place),
        };
        Ok(items.into_iter().flatten().enumerate().map(node).collect())
    }

    /// A value with its standard uncertainty; without one it is zero.
    pub(super) fn measured<Q: Quantity>(&self) -> Result<Option<Measured<Q>>, LabFileError> {
        let value = match (self.value, self.field("value").number()?) {
            (None, _) => return Ok(None),
            (Some(_), None) => return Err(self.field("value").wrong("expected a number")),
            (Some(_), Some(value)) => value,
        };
        let u = self.field("u").number()?.unwrap_or(0.0);
        Measured::new(Q::from_si(value), Q::from_si(u))
            .map(Some)
            .map_err(|problem| self.wrong(&problem.to_string()))
    }
}
