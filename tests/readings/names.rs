//! What files are called by classes that speak five languages, and what their names tell.
//!
//! Common practice, no source: names as students type them.

use whorl_core::file_name::{configuration, hanging_mass};
use whorl_core::lab::{Configuration, Lab};

/// The table is empty.
const EMPTY: Option<usize> = Some(0);
/// The name does not tell, or tells of two.
const UNTOLD: Option<usize> = None;

/// Name; what the table carries (0 empty, else which object of the lab, from 1); hanging mass in g.
type Told = (&'static str, Option<usize>, Option<f64>);

const ENGLISH: ([&str; 4], [Told; 15]) = (
    ["slate disc", "brass ring", "oak bar", "clay cylinders"],
    [
        ("ring-150g.csv", Some(2), Some(150.0)),
        ("ring_150g_2.txt", Some(2), Some(150.0)),
        ("Ring 150 g (2).csv", Some(2), Some(150.0)),
        ("RING150G.CSV", Some(2), Some(150.0)),
        ("empty 50g.csv", EMPTY, Some(50.0)),
        ("no load 0.05kg.txt", EMPTY, Some(50.0)),
        ("bare table - 20 g.csv", EMPTY, Some(20.0)),
        ("Slate Disc, 100 grams.csv", Some(1), Some(100.0)),
        ("slateDisc_m0.2kg.csv", Some(1), Some(200.0)),
        ("disk 100g run 3.tsv", Some(1), Some(100.0)),
        ("group4_bar_12.5g.txt", Some(3), Some(12.5)),
        ("two cylinders 75 g.csv", Some(4), Some(75.0)),
        ("g4-bar-run2.csv", Some(3), None),
        ("ring on disc 100g.csv", UNTOLD, Some(100.0)),
        // A group's letter and number are no grams.
        ("ring run 2 g3.csv", Some(2), None),
    ],
);

const GERMAN: ([&str; 4], [Told; 10]) = (
    ["Schieferscheibe", "Messingring", "Eichenstab", "Tonzylinder"],
    [
        ("leer-50g.csv", EMPTY, Some(50.0)),
        ("Lauf3 Scheibe 100g", Some(1), Some(100.0)),
        ("Ring_150g.csv", Some(2), Some(150.0)),
        ("Messung 2 - Stab 0,150 kg.txt", Some(3), Some(150.0)),
        ("ohne Auflage 20g.csv", EMPTY, Some(20.0)),
        ("Leerlauf_75 g.csv", EMPTY, Some(75.0)),
        ("SCHIEFERSCHEIBE 100 Gramm.csv", Some(1), Some(100.0)),
        ("Zylinder m=50g.csv", Some(4), Some(50.0)),
        ("Drehteller leer 100g Lauf 2.csv", EMPTY, Some(100.0)),
        ("Gruppe3.csv", UNTOLD, None),
    ],
);

const SPANISH: ([&str; 4], [Told; 7]) = (
    ["disco de pizarra", "anillo de latón", "barra de roble", "cilindros de arcilla"],
    [
        ("anillo 0,150 kg.csv", Some(2), Some(150.0)),
        ("vacío-50g.csv", EMPTY, Some(50.0)),
        ("vacio_50g.csv", EMPTY, Some(50.0)),
        ("disco de pizarra 100 g.csv", Some(1), Some(100.0)),
        ("sin carga 20g.txt", EMPTY, Some(20.0)),
        ("barra_75gramos.csv", Some(3), Some(75.0)),
        ("grupo de 4.csv", UNTOLD, None),
    ],
);

const FRENCH: ([&str; 4], [Told; 7]) = (
    ["disque d’ardoise", "anneau de laiton", "barre de chêne", "cylindres d’argile"],
    [
        ("m=200g disque.tsv", Some(1), Some(200.0)),
        ("vide 50g.csv", EMPTY, Some(50.0)),
        ("anneau_0,1kg_essai2.csv", Some(2), Some(100.0)),
        ("à vide - 20 g.csv", EMPTY, Some(20.0)),
        ("plateau seul 100g.csv", EMPTY, Some(100.0)),
        ("barre de chene 150 grammes.csv", Some(3), Some(150.0)),
        ("essai de 3.csv", UNTOLD, None),
    ],
);

const ITALIAN: ([&str; 4], [Told; 6]) = (
    ["disco di ardesia", "anello di ottone", "barra di quercia", "cilindri di argilla"],
    [
        ("vuoto-50g.csv", EMPTY, Some(50.0)),
        ("anello 150 g prova 2.csv", Some(2), Some(150.0)),
        ("disco_0.2kg.csv", Some(1), Some(200.0)),
        ("senza carico 20g.txt", EMPTY, Some(20.0)),
        ("piatto vuoto 100 grammi.csv", EMPTY, Some(100.0)),
        ("prova di 3.csv", UNTOLD, None),
    ],
);

fn misses((objects, names): (&[&str; 4], &[Told])) -> Vec<String> {
    let mut lab = Lab::default();
    let ids = objects.map(|name| lab.add_object(name.to_owned(), Vec::new()));
    let mut missed = Vec::new();
    for &(name, carries, grams) in names {
        let expected = carries.map(|which| match which.checked_sub(1) {
            None => Configuration::EmptyTable,
            Some(index) => Configuration::Loaded(ids[index]),
        });
        let found = configuration(name, &lab);
        if found != expected {
            missed.push(format!("{name}: carries {found:?}, not {expected:?}"));
        }
        let mass = hanging_mass(name).map(|mass| mass.0 * 1e3);
        if match (mass, grams) {
            (Some(mass), Some(grams)) => (mass - grams).abs() > 1e-9,
            (mass, grams) => mass.is_some() || grams.is_some(),
        } {
            missed.push(format!("{name}: {mass:?} g, not {grams:?} g"));
        }
    }
    missed
}

#[test]
fn names_in_five_languages_tell_object_and_mass() {
    let languages: [(&[&str; 4], &[Told]); 5] = [
        (&ENGLISH.0, &ENGLISH.1),
        (&GERMAN.0, &GERMAN.1),
        (&SPANISH.0, &SPANISH.1),
        (&FRENCH.0, &FRENCH.1),
        (&ITALIAN.0, &ITALIAN.1),
    ];
    let missed: Vec<String> = languages.into_iter().flat_map(misses).collect();
    assert!(missed.is_empty(), "{} missed:\n{}", missed.len(), missed.join("\n"));
}
