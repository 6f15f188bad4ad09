//! The symbols of a derivation: how each is written, what it stands for, what unit it has.

use crate::dimension::Dimension;

/// Which symbol of [`Symbols`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SymbolId(pub usize);

/// One symbol.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// As typed on any keyboard and as written in a derivation file: `tau_f`.
    pub key: String,
    /// The letter shown: `τ`.
    pub letter: String,
    /// Its subscript; empty when it has none.
    pub subscript: String,
    /// Further ways to type it: `a_t`.
    pub also: Vec<String>,
    /// What it stands for.
    pub means: String,
    /// Its dimension.
    pub dimension: Dimension,
    /// Its unit, as shown.
    pub unit: String,
    /// A usual value, in that unit, for numeric tries.
    pub value: f64,
}

/// All symbols of a derivation.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Symbols(Vec<Symbol>);

/// Greek letters by name; typed names are read in any case but shown as here.
const GREEK: [(&str, &str); 24] = [
    ("alpha", "α"),
    ("beta", "β"),
    ("gamma", "γ"),
    ("delta", "δ"),
    ("epsilon", "ε"),
    ("zeta", "ζ"),
    ("eta", "η"),
    ("theta", "θ"),
    ("iota", "ι"),
    ("kappa", "κ"),
    ("lambda", "λ"),
    ("mu", "μ"),
    ("nu", "ν"),
    ("xi", "ξ"),
    ("pi", "π"),
    ("rho", "ρ"),
    ("sigma", "σ"),
    ("tau", "τ"),
    ("upsilon", "υ"),
    ("phi", "φ"),
    ("chi", "χ"),
    ("psi", "ψ"),
    ("omega", "ω"),
    ("Delta", "Δ"),
];

/// The letter that a name stands for; any other name is its own letter.
fn letter_of(name: &str) -> &str {
    GREEK.iter().find(|(greek, _)| *greek == name).map_or(name, |(_, letter)| letter)
}

/// The name of a Greek letter.
fn name_of(letter: &str) -> Option<&'static str> {
    GREEK.iter().find(|(_, greek)| *greek == letter).map(|(name, _)| *name)
}

/// How many letters of a Greek letter's name a word begins with; none when it begins with no such name.
pub(crate) fn greek_name_length(word: &str) -> usize {
    let begins = |name: &&str| word.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name));
    GREEK.iter().map(|(name, _)| *name).filter(begins).map(str::len).max().unwrap_or(0)
}

/// Letter and subscript of a key such as `tau_f`.
pub fn parts_of_key(key: &str) -> (String, String) {
    let (base, subscript) = key.split_once('_').unwrap_or((key, ""));
    (letter_of(base).to_owned(), letter_of(subscript).to_owned())
}

impl Symbol {
    /// As shown in running text: `τ_f`, `m₁`.
    pub fn shown(&self) -> String {
        if self.subscript.is_empty() {
            return self.letter.clone();
        }
        let lowered: Option<String> = self.subscript.chars().map(lowered_digit).collect();
        match lowered {
            Some(digits) => format!("{}{digits}", self.letter),
            None => format!("{}_{}", self.letter, self.subscript),
        }
    }

    /// As a button puts it into a text: letters where the key spells them out.
    pub fn shown_as_typed(&self) -> String {
        if self.subscript.is_empty() {
            self.letter.clone()
        } else {
            format!("{}_{}", self.letter, self.subscript)
        }
    }

    /// The letter without its subscript, in every way to type it.
    pub(crate) fn bare_spellings(&self) -> Vec<String> {
        both_scripts(self.key.split('_').next().unwrap_or_default())
    }

    /// Every way to type the symbol, and whether its subscript is glued on without an underscore.
    pub(crate) fn spellings(&self) -> Vec<(String, bool)> {
        let mut all = Vec::new();
        for key in core::iter::once(&self.key).chain(&self.also) {
            let (base, subscript) = key.split_once('_').unwrap_or((key, ""));
            for base in both_scripts(base) {
                if subscript.is_empty() {
                    all.push((base, false));
                    continue;
                }
                for subscript in both_scripts(subscript) {
                    all.push((format!("{base}_{subscript}"), false));
                    all.push((format!("{base}_{{{subscript}}}"), false));
                    all.push((format!("{base}{subscript}"), true));
                }
            }
        }
        all
    }
}

/// A name as letter and, where it is Greek, spelled out.
fn both_scripts(name: &str) -> Vec<String> {
    let letter = letter_of(name);
    let mut all = vec![letter.to_owned()];
    if let Some(name) = name_of(letter) {
        all.push(name.to_owned());
    }
    // As it is spelled in several languages.
    if letter == "α" {
        all.push("alfa".to_owned());
    }
    all
}

fn lowered_digit(c: char) -> Option<char> {
    c.to_digit(10).and_then(|digit| char::from_u32(0x2080 + digit))
}

impl Symbols {
    /// These symbols.
    pub fn new(symbols: Vec<Symbol>) -> Self {
        Self(symbols)
    }

    /// The symbol; every [`SymbolId`] of these symbols has one.
    pub fn get(&self, id: SymbolId) -> Option<&Symbol> {
        self.0.get(id.0)
    }

    /// The symbol with this key.
    pub fn find(&self, key: &str) -> Option<SymbolId> {
        self.0.iter().position(|symbol| symbol.key == key).map(SymbolId)
    }

    /// All of them, in the file's order.
    pub fn ids(&self) -> impl Iterator<Item = SymbolId> {
        (0..self.0.len()).map(SymbolId)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The symbol as shown in running text.
    pub fn shown(&self, id: SymbolId) -> String {
        self.get(id).map(Symbol::shown).unwrap_or_default()
    }
}
