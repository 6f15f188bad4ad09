//! Names by which rows can be told apart: two runs, or two objects, of the same name stay two.

use crate::lab::{Configuration, Lab, RunEntry};

/// What programs that read tables know the empty table by, in every language.
const EMPTY_TABLE: &str = "empty table";

/// What a run is called in every table, in the lab's order.
pub(super) fn runs(lab: &Lab) -> Vec<String> {
    let mut names = Vec::with_capacity(lab.runs().len());
    for run in lab.runs() {
        let name = unlike(&names, &run.name, "run");
        names.push(name);
    }
    names
}

/// What the table carries in every table: the empty table, then each object, in the lab's order.
pub(super) fn configurations(lab: &Lab) -> Vec<String> {
    let mut names = vec![EMPTY_TABLE.to_owned()];
    for object in lab.objects() {
        let name = unlike(&names, &object.name, "object");
        names.push(name);
    }
    names
}

/// The name among `names` of what a run's table carries.
pub(super) fn carried<'a>(lab: &Lab, names: &'a [String], run: &RunEntry) -> &'a str {
    name_of(lab, names, run.configuration)
}

/// The name among `names` of a configuration.
pub(super) fn name_of<'a>(lab: &Lab, names: &'a [String], configuration: Configuration) -> &'a str {
    let place = match configuration {
        Configuration::EmptyTable => Some(0),
        Configuration::Loaded(id) => {
            lab.objects().iter().position(|object| object.id == id).map(|place| place + 1)
        }
    };
    place.and_then(|place| names.get(place)).map_or("", String::as_str)
}

/// A name unlike those before it; a blank one is called by what it is. Spaces around a name, which a reader
/// may trim, tell nothing apart.
fn unlike(before: &[String], name: &str, what: &str) -> String {
    let taken = |name: &str| before.iter().any(|other| other.trim() == name.trim());
    let mut number = before.len() + 1;
    if name.trim().is_empty() {
        let mut found = format!("{what} {number}");
        while taken(&found) {
            number += 1;
            found = format!("{what} {number}");
        }
        return found;
    }
    if !taken(name) {
        return name.to_owned();
    }
    number = 2;
    let mut found = format!("{name} (2)");
    while taken(&found) {
        number += 1;
        found = format!("{name} ({number})");
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_names_are_alike() {
        let mut names: Vec<String> = Vec::new();
        for name in ["ring", "ring", "ring (2)", " ring", "", "run 6", " "] {
            let found = unlike(&names, name, "run");
            names.push(found);
        }
        assert_eq!(names, ["ring", "ring (2)", "ring (2) (2)", " ring (3)", "run 5", "run 6", "run 7"]);
    }

    #[test]
    fn an_object_called_like_the_empty_table_is_told_apart() {
        let mut lab = Lab::default();
        lab.add_object("empty table".to_owned(), Vec::new());
        let ring = lab.add_object("ring".to_owned(), Vec::new());
        let names = configurations(&lab);
        assert_eq!(names, ["empty table", "empty table (2)", "ring"]);
        assert_eq!(name_of(&lab, &names, Configuration::Loaded(ring)), "ring");
    }
}
