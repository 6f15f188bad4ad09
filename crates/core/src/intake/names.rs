//! What the names of a file and of its runs tell of the table's load and the hanging mass.

use super::Carries;
use crate::file_name;
use crate::lab::{Configuration, Lab};
use crate::readings::{FoundRun, empty_table_word};

/// Words in names that say nothing of the load, in five languages.
const SAYS_NOTHING: [&str; 41] = [
    "run", "runs", "trial", "test", "data", "log", "export", "group", "team", "class", "lab", "table", "the",
    "with", "and", "new", "file", "copy", "pasted", "lauf", "messung", "versuch", "daten", "gruppe", "mit",
    "tisch", "essai", "mesure", "groupe", "avec", "donnees", "ensayo", "grupo", "con", "datos", "prova",
    "gruppo", "dati", "corsa", "masse", "final",
];

/// What the table carries in a run: what the file says, then what names say.
pub(super) fn carries(run: &FoundRun, file: &str, alone: bool, lab: &Lab) -> Carries {
    if let Some(told) = &run.carries {
        return named(told, lab);
    }
    // A mark on the run is nearer than the name of a file with several.
    for name in [run.label.as_str(), file] {
        if let Some(configuration) = file_name::configuration(name, lab) {
            return Carries::Known(configuration);
        }
        // A word beside a hanging mass is the load; words alone may be anything.
        if file_name::hanging_mass(name).is_some()
            && let Some(word) = load_word(name)
        {
            return Carries::New(word);
        }
    }
    if !alone
        && run.hanging_mass.is_some()
        && let Some(word) = load_word(&run.label)
    {
        return Carries::New(word);
    }
    Carries::Untold
}

/// A load by its name in the file.
fn named(told: &str, lab: &Lab) -> Carries {
    let told = told.trim();
    let folded = told.to_lowercase();
    let same = lab.objects().iter().find(|object| object.name.to_lowercase() == folded);
    if let Some(object) = same {
        return Carries::Known(Configuration::Loaded(object.id));
    }
    if folded.split_whitespace().any(empty_table_word) || matches!(folded.as_str(), "-" | "0" | "none") {
        return Carries::Known(Configuration::EmptyTable);
    }
    match file_name::configuration(told, lab) {
        Some(configuration) => Carries::Known(configuration),
        None if told.is_empty() => Carries::Untold,
        None => Carries::New(told.chars().take(60).collect()),
    }
}

/// The words of a name that are neither a number, a unit nor a word that says nothing.
fn load_word(name: &str) -> Option<String> {
    let name = file_name::run_name(name);
    let apart = |c: char| !c.is_alphabetic() && c != '\'';
    let words = name.split(apart).filter(|word| word.chars().count() > 2);
    let telling = words.filter(|word| {
        let folded = word.to_lowercase();
        !SAYS_NOTHING.contains(&folded.as_str()) && file_name::grams(&folded).is_none()
    });
    let kept: Vec<&str> = telling.take(3).collect();
    if kept.is_empty() { None } else { Some(kept.join(" ").to_lowercase()) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_load_is_the_word_beside_the_mass() {
        for (name, word) in [
            ("ring-150g.csv", Some("ring")),
            ("Lauf3_Scheibe_100g.txt", Some("scheibe")),
            ("oak bar 0.05 kg run 2.csv", Some("oak bar")),
            ("run-7-50g.csv", None),
            ("Ring 250 Gramm.csv", Some("ring")),
        ] {
            assert_eq!(load_word(name).as_deref(), word, "{name}");
        }
    }
}
