//! Headings as classes write them, and what no class writes.

mod english;
mod german;
mod hostile;
mod labels;
mod romance;
mod spellings;

use super::{Heading, UnitFound, heading};

/// `t (s) → Time s`: the meaning and our symbol of the unit, or `-`; a unit we do not know with `?`.
fn told(heading: &Heading) -> String {
    let meaning = heading.meaning.map_or_else(|| "-".to_owned(), |meaning| format!("{meaning:?}"));
    let unit = match &heading.unit {
        UnitFound::None => "-".to_owned(),
        UnitFound::Known { symbol, .. } => (*symbol).to_owned(),
        UnitFound::Unknown(unit) => format!("?{unit}"),
    };
    format!("{meaning} {unit}")
}

/// Checks lines `heading → meaning unit`, with the flag for decimal commas; all that fail are listed.
fn check(lines: &str, comma: bool) {
    let mut wrong = Vec::new();
    let mut checked = 0;
    for line in lines.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (text, expected) = line.split_once('→').unwrap();
        let (text, expected) = (text.trim(), expected.trim());
        let heading = heading(text);
        checked += 1;
        if told(&heading) != expected || heading.decimal_comma_language != comma {
            let flag = heading.decimal_comma_language;
            wrong
                .push(format!("{text} → {} (expected {expected}; comma {flag}) {heading:?}", told(&heading)));
        }
    }
    assert!(checked > 0);
    assert!(wrong.is_empty(), "{} of {checked}:\n{}", wrong.len(), wrong.join("\n"));
}
