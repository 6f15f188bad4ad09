//! What a readings file's name tells: `ring-150g.csv` hangs 150 g on the loaded table.
//!
//! Names are compared without regard to case and accents, and cut into words where letters, digits and
//! signs meet (`slateDisc_m0.2kg` → slate, disc, m, 0.2, kg).

use crate::lab::{Configuration, Lab};
use crate::quantity::Kilograms;
use crate::readings::{empty_table_word, fold};

/// The run's name: the file's name without folder and ending.
pub fn run_name(file: &str) -> String {
    let name = file.rsplit(['/', '\\']).next().unwrap_or(file);
    match name.rsplit_once('.') {
        // `0.5 kg` has no ending.
        Some((stem, ending)) if !stem.is_empty() && !ending.starts_with(|c: char| c.is_ascii_digit()) => {
            stem.to_owned()
        }
        _ => name.to_owned(),
    }
}

/// Grams in a unit, by its word in five languages.
pub(crate) fn grams(word: &str) -> Option<f64> {
    match word {
        "g" | "gr" | "gram" | "grams" | "gramm" | "gramme" | "grammes" | "gramo" | "gramos" | "grammo"
        | "grammi" => Some(1.0),
        "kg" | "kilo" | "kilogram" | "kilograms" => Some(1000.0),
        _ => None,
    }
}

/// A piece of a name.
#[derive(Clone, Copy, PartialEq)]
enum Piece<'n> {
    /// Folded letters.
    Word(&'n str),
    /// Digits, with a decimal mark among them.
    Number(&'n str),
    /// Anything else.
    Sign(&'n str),
}

fn pieces(name: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut rest = name;
    while let Some(first) = rest.chars().next() {
        let in_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
        let word_end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
        let number_end = rest.find(|c: char| !in_number(c)).unwrap_or(rest.len());
        let (length, piece): (usize, fn(&str) -> Piece<'_>) = if first.is_ascii_digit() {
            (number_end, |text| Piece::Number(text.trim_end_matches(['.', ','])))
        } else if word_end > 0 {
            (word_end, |text| Piece::Word(text))
        } else {
            (first.len_utf8(), |text| Piece::Sign(text))
        };
        let (text, after) = rest.split_at(length);
        pieces.push(piece(text));
        rest = after;
    }
    pieces
}

/// The hanging mass in a name: a number before `g`, `kg` or their words, as in `150g`, `0,15 kg`, `75 grams`.
pub fn hanging_mass(file: &str) -> Option<Kilograms> {
    let name = fold(&run_name(file));
    let pieces = pieces(&name);
    for (index, piece) in pieces.iter().enumerate() {
        let Piece::Word(word) = piece else { continue };
        let Some(unit) = grams(word) else { continue };
        // A group's letter and number, `g3`, are no grams.
        if matches!(pieces.get(index + 1), Some(Piece::Number(_))) {
            continue;
        }
        let before = match index.checked_sub(1).and_then(|index| pieces.get(index)) {
            Some(Piece::Sign(" " | "_" | "-")) => index.checked_sub(2).and_then(|index| pieces.get(index)),
            other => other,
        };
        let Some(Piece::Number(digits)) = before else { continue };
        let number: Option<f64> = digits.replace(',', ".").parse().ok();
        // Thousandths by division: 150 g is 0.15 kg to the last bit.
        if let Some(mass) =
            number.map(|number| number * unit / 1000.0).filter(|mass| *mass > 0.0 && mass.is_finite())
        {
            return Some(Kilograms(mass));
        }
    }
    None
}

/// Words that take the next word away: `no load`, `ohne Auflage`, `senza carico`.
const WITHOUT: [&str; 7] = ["no", "without", "ohne", "sin", "sans", "senza", "sem"];
/// Words for a table that stands alone.
const ALONE: [&str; 8] = ["alone", "only", "allein", "seul", "seule", "solo", "sola", "leerlauf"];

/// The configuration in a name: a word for an empty table, or a word of exactly one object's name.
///
/// A longer word of the object's may end or begin with the name's, as `Messingring` with `Ring`.
pub fn configuration(file: &str, lab: &Lab) -> Option<Configuration> {
    // `slateDisc` is two words; folding loses the capital.
    let mut name = String::new();
    for c in run_name(file).chars() {
        if c.is_uppercase() && name.ends_with(char::is_lowercase) {
            name.push(' ');
        }
        name.push(c);
    }
    let name = fold(&name);
    let words: Vec<&str> = words(&name);
    let without = words.windows(2).any(|pair| matches!(pair, [not, _] if WITHOUT.contains(not)));
    if without || words.iter().any(|word| empty_table_word(word) || ALONE.contains(word)) {
        return Some(Configuration::EmptyTable);
    }
    let mut matching = lab.objects().iter().filter(|object| {
        let object = fold(&object.name);
        self::words(&object).iter().any(|its| words.iter().any(|word| same(its, word)))
    });
    match (matching.next(), matching.next()) {
        (Some(object), None) => Some(Configuration::Loaded(object.id)),
        _ => None,
    }
}

fn words(name: &str) -> Vec<&str> {
    pieces(name)
        .into_iter()
        .filter_map(|piece| if let Piece::Word(word) = piece { Some(word) } else { None })
        .collect()
}

/// Whether a word of an object's name is meant by a word of a file's name.
fn same(its: &str, word: &str) -> bool {
    let long = word.chars().count();
    let plain = |word: &str| word.trim_end_matches('s').replace('k', "c");
    let (its, word) = (plain(its), plain(word));
    long > 2 && (its == word || (long > 3 && (its.ends_with(&word) || its.starts_with(&word))))
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
            ("150grams.csv", 0.15),
            ("ring 0.05 kg", 0.05),
        ] {
            assert_eq!(hanging_mass(name), Some(Kilograms(kilograms)), "{name}");
        }
        for name in ["ring.csv", "g.csv", "0g.csv", "", "gg.csv", "run 2 g3.csv"] {
            assert_eq!(hanging_mass(name), None, "{name}");
        }
    }

    #[test]
    fn the_configuration_is_found_by_a_word_of_its_name() {
        let mut lab = Lab::default();
        let ring = lab.add_object("brass ring".to_owned(), Vec::new());
        lab.add_object("brass disc".to_owned(), Vec::new());
        assert_eq!(configuration("empty-020g.csv", &lab), Some(Configuration::EmptyTable));
        assert_eq!(configuration("ohne Auflage 20g.csv", &lab), Some(Configuration::EmptyTable));
        assert_eq!(configuration("Ring-150g.csv", &lab), Some(Configuration::Loaded(ring)));
        assert_eq!(configuration("RING150G.CSV", &lab), Some(Configuration::Loaded(ring)));
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
