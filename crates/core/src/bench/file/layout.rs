//! JSON for people to read and change: two spaces a level, short things on one line.

use serde_json::Value;

/// The shortest digits that read back to the same bits, like 1.5e-5 rather than 0.000015.
pub(crate) fn number(value: f64) -> String {
    if (1e-4..1e6).contains(&value.abs()) || value == 0.0 { value.to_string() } else { format!("{value:e}") }
}

pub(crate) fn text(text: &str) -> String {
    Value::from(text).to_string()
}

/// Fields on one line.
pub(crate) fn line(fields: &[(&str, String)]) -> String {
    let fields: Vec<String> = fields.iter().map(|(key, value)| format!("\"{key}\": {value}")).collect();
    format!("{{{}}}", fields.join(", "))
}

/// Fields on lines of their own.
pub(crate) fn block(fields: &[(&str, String)], open: char, level: usize) -> String {
    let fields: Vec<String> = fields.iter().map(|(key, value)| format!("\"{key}\": {value}")).collect();
    lines(&fields, open, level)
}

pub(crate) fn list(items: &[String]) -> String {
    if items.is_empty() { "[]".to_owned() } else { lines(items, '[', 1) }
}

fn lines(items: &[String], open: char, level: usize) -> String {
    let (outer, close) = ("  ".repeat(level), if open == '{' { '}' } else { ']' });
    let items: Vec<String> = items.iter().map(|item| format!("\n{outer}  {item}")).collect();
    format!("{open}{}\n{outer}{close}", items.join(","))
}
