//! What a readings file's name tells: `ring-150g.csv` hangs 150 g on the loaded table.

use crate::lab::{Configuration, Lab};
use crate::quantity::Kilograms;
use crate::readings::empty_table_word;

/// The run's name: the file's name without folder and ending.
pub fn run_name(file: &str) -> String {
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    match name.rsplit_once('.') {
        Some((stem, _)) if !stem.is_empty() => stem.to_owned(),
        _ => name.to_owned(),
    }
}

/// The hanging mass in a name: digits directly before `g` or `kg`, as in `150g`, `0.15 kg`, `12_5g`.
pub fn hanging_mass(file: &str) -> Option<Kilograms> {
    let name = run_name(file).to_ascii_lowercase();
    let bytes = name.as_bytes();
    let is_letter = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_alphabetic);
    for (at, _) in name.match_indices('g') {
        if is_letter(at + 1) {
            continue;
        }
        let before = name.get(..at).unwrap_or_default();
        let (before, power) = match before.strip_suffix('k') {
            Some(before) => (before, 0),
            None => (before, -3),
        };
        let before = before.trim_end_matches([' ', '_', '-']);
        let start =
            before.rfind(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ',')).map_or(0, |index| {
                index + before.get(index..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8)
            });
        let digits = before.get(start..).unwrap_or_default().replace(',', ".");
        let value =
            format!("{digits}e{power}").parse::<f64>().ok().filter(|value| value.is_finite() && *value > 0.0);
        if let Some(value) = value {
            return Some(Kilograms(value));
        }
    }
    None
}

/// The configuration in a name: the word `empty`, or a word of exactly one object's name.
pub fn configuration(file: &str, lab: &Lab) -> Option<Configuration> {
    let name = run_name(file).to_ascii_lowercase();
    // Letters beyond ASCII belong to words; telling them apart takes tables the page need not carry.
    let apart = |c: char| c.is_ascii() && !c.is_ascii_alphanumeric();
    let words: Vec<&str> = name.split(apart).filter(|word| word.len() > 2).collect();
    if words.iter().copied().any(empty_table_word) {
        return Some(Configuration::EmptyTable);
    }
    let mut matching = lab.objects().iter().filter(|object| {
        let object = object.name.to_ascii_lowercase();
        object.split(apart).any(|word| words.contains(&word))
    });
    match (matching.next(), matching.next()) {
        (Some(object), None) => Some(Configuration::Loaded(object.id)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_hanging_mass_is_found_before_its_unit() {
        for (name, kilograms) in [
            ("ring-150g.csv", 0.15),
            ("runs/Empty 20 g.txt", 0.02),
            ("disc_0.25kg.csv", 0.25),
            ("run3-12,5g-b.csv", 0.0125),
            ("g-and-50g.csv", 0.05),
        ] {
            assert_eq!(hanging_mass(name), Some(Kilograms(kilograms)), "{name}");
        }
        for name in ["ring.csv", "150grams.csv", "g.csv", "0g.csv", "", "gg.csv"] {
            assert_eq!(hanging_mass(name), None, "{name}");
        }
    }

    #[test]
    fn the_configuration_is_found_by_a_word_of_its_name() {
        let mut lab = Lab::default();
        let ring = lab.add_object("brass ring".to_owned(), Vec::new());
        lab.add_object("brass disc".to_owned(), Vec::new());
        assert_eq!(configuration("empty-020g.csv", &lab), Some(Configuration::EmptyTable));
        assert_eq!(configuration("Ring-150g.csv", &lab), Some(Configuration::Loaded(ring)));
        assert_eq!(configuration("brass-150g.csv", &lab), None);
        assert_eq!(configuration("run7.csv", &lab), None);
    }

    proptest! {
        #[test]
        fn any_name_is_read_without_a_panic(name in "\\PC{0,40}") {
            let _ = (run_name(&name), hanging_mass(&name), configuration(&name, &Lab::default()));
        }
    }
}
