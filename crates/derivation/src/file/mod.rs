//! Derivation file → [`Derivation`], checked so that a mistake in it is found by its author and not
//! by a student. The format is described in DEVELOPERS.md.

mod algebra;
mod choice;
mod diagram;

use crate::derivation::{Derivation, Quantity, Step, Task};
use crate::dimension::Dimension;
use crate::expression::{Answer, Expression};
use crate::prose::Prose;
use crate::reading::read;
use crate::symbols::{Symbol, SymbolId, Symbols, parts_of_key};
use serde_json::Value;
use whorl_document::{Node, NotJson, Wrong};
use whorl_words as words;

/// What stands under `format`.
pub const FORMAT: &str = "whorl-derivation";
/// What stands under `version`: raised when older programs could not read the file any more.
pub const VERSION: u32 = 1;

/// Why a derivation cannot be opened.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum DerivationError {
    /// Not JSON.
    #[error("{}", words::derivations::mend(.0))]
    Json(#[from] NotJson),
    /// Some other JSON document.
    #[error("{}", words::derivations::not_a_derivation(&FORMAT))]
    NotADerivation,
    /// From a later program.
    #[error("{}", words::derivations::newer(found, &VERSION))]
    Newer {
        /// The file's version.
        found: u32,
    },
    /// A field that cannot be.
    #[error("{}", words::derivations::mend(.0))]
    Field(#[from] Wrong),
}

/// Opens a derivation.
///
/// # Errors
/// Names the field that is wrong and what was expected there.
pub fn open(text: &str) -> Result<Derivation, DerivationError> {
    let document = whorl_document::parse(text)?;
    if document.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(DerivationError::NotADerivation);
    }
    let mut newer = None;
    let derivation = whorl_document::read(&document, |top| match top.field("version").count() {
        Some(found) if found > VERSION => {
            newer = Some(found);
            None
        }
        Some(VERSION) => Some(derivation(top)),
        _ => {
            top.field("version").wrong(words::derivations::no_such_version());
            None
        }
    })?;
    derivation.ok_or(DerivationError::Newer { found: newer.unwrap_or_default() })
}

fn derivation(top: &Node<'_>) -> Derivation {
    top.only(&[
        "format",
        "version",
        "language",
        "license",
        "id",
        "title",
        "about",
        "quantities",
        "symbols",
        "slips",
        "steps",
    ]);
    let symbols = symbols(&top.field("symbols"));
    let quantities = top.field("quantities").list(&quantity);
    let common_slips = algebra::common_slips(&top.field("slips"), &symbols);
    let mut steps: Vec<Step> = Vec::new();
    let mut known: Vec<(SymbolId, Expression)> = Vec::new();
    for node in top.field("steps").items() {
        let context = Context { symbols: &symbols, common_slips: &common_slips, known: &known };
        let (step, found) = step(&node, &context);
        if steps.iter().any(|other| other.id == step.id) {
            node.field("id").wrong(words::derivations::step_id_taken());
        }
        known.extend(found);
        steps.push(step);
    }
    if steps.is_empty() {
        top.field("steps").wrong(words::derivations::no_steps());
    }
    let about = prose(&top.field("about"), &symbols);
    let (id, title) = (top.field("id").required_text(), top.field("title").required_text());
    Derivation { id, title, about, symbols, quantities, steps }
}

/// What a step may refer to.
struct Context<'a> {
    symbols: &'a Symbols,
    common_slips: &'a [algebra::CommonSlip],
    /// What the steps before it found.
    known: &'a [(SymbolId, Expression)],
}

fn quantity(node: &Node<'_>) -> Quantity {
    node.only(&["name", "unit", "shown"]);
    let (unit, dimension) = unit(&node.field("unit"));
    let shown = node.field("shown").text().unwrap_or(unit);
    Quantity { name: node.field("name").required_text(), unit: shown, dimension }
}

/// A unit as text, made fit to be shown, and its dimension.
fn unit(node: &Node<'_>) -> (String, Dimension) {
    let text = node.required_text();
    let dimension = Dimension::of_unit(&text).unwrap_or_else(|| {
        node.wrong(words::derivations::unit_expected());
        Dimension::ONE
    });
    let shown = text.replace('*', "·").replace("^2", "²").replace("^3", "³").replace("^4", "⁴");
    (if shown == "1" { String::new() } else { shown }, dimension)
}

fn is_name(name: &str) -> bool {
    let mut characters = name.chars();
    characters.next().is_some_and(char::is_alphabetic) && characters.all(|c| c.is_alphanumeric() || c == '_')
}

fn symbols(node: &Node<'_>) -> Symbols {
    let mut all: Vec<Symbol> = Vec::new();
    for item in node.items() {
        item.only(&["symbol", "means", "unit", "value", "also"]);
        let place = item.field("symbol");
        let key = place.required_text();
        if !is_name(&key) {
            place.wrong(words::derivations::symbol_expected());
        }
        if all.iter().any(|other| other.key == key) {
            place.wrong(words::derivations::symbol_twice());
        }
        let also = item.field("also").list(&|spelling| {
            let text = spelling.required_text();
            if !is_name(&text) {
                spelling.wrong(words::derivations::spelling_expected());
            }
            text
        });
        let (letter, subscript) = parts_of_key(&key);
        let (unit, dimension) = unit(&item.field("unit"));
        let value = item.field("value");
        let usual = value.number().unwrap_or_else(|| {
            value.wrong(words::derivations::usual_value_expected());
            1.0
        });
        let means = item.field("means").required_text();
        all.push(Symbol { key, letter, subscript, also, means, dimension, unit, value: usual });
    }
    if all.is_empty() {
        node.wrong(words::derivations::no_symbols());
    }
    Symbols::new(all)
}

fn step(node: &Node<'_>, context: &Context<'_>) -> (Step, Option<(SymbolId, Expression)>) {
    node.only(&[
        "id",
        "title",
        "optional",
        "ask",
        "hints",
        "worked",
        "meaning",
        "expression",
        "choice",
        "diagram",
    ]);
    let kinds = ["expression", "choice", "diagram"];
    let present: Vec<&str> = kinds.into_iter().filter(|kind| !node.field(kind).is_missing()).collect();
    let (task, found) = match present.as_slice() {
        ["expression"] => {
            let (task, gives) = algebra::task(&node.field("expression"), context);
            let found = gives.then(|| (task.target, task.answer.clone()));
            (Task::Expression(Box::new(task)), found)
        }
        ["diagram"] => (Task::Diagram(diagram::task(&node.field("diagram"), context.symbols)), None),
        _ => {
            if present != ["choice"] {
                node.wrong(words::derivations::one_kind_of_task());
            }
            (Task::Choice(choice::questions(&node.field("choice"), context.symbols)), None)
        }
    };
    let worked = node.field("worked");
    let step = Step {
        id: node.field("id").required_text(),
        title: node.field("title").required_text(),
        optional: node.field("optional").flag().unwrap_or(false),
        ask: prose(&node.field("ask"), context.symbols),
        task,
        hints: node.field("hints").list(&|hint| prose(hint, context.symbols)),
        worked: (!worked.is_missing()).then(|| prose(&worked, context.symbols)),
        meaning: prose(&node.field("meaning"), context.symbols),
    };
    (step, found)
}

/// A sentence that may not be missing.
fn prose(node: &Node<'_>, symbols: &Symbols) -> Prose {
    Prose::read(&node.required_text(), symbols).unwrap_or_else(|problem| {
        node.wrong(problem.to_string().trim_end_matches('.'));
        Prose::default()
    })
}

/// A sentence; none when it is missing.
fn prose_or_none(node: &Node<'_>, symbols: &Symbols) -> Prose {
    if node.is_missing() { Prose::default() } else { prose(node, symbols) }
}

/// The place of the item with this id in a list; the complaint when there is none.
fn place_of(node: &Node<'_>, ids: &mut dyn Iterator<Item = &str>, none: fn() -> &'static str) -> usize {
    let id = node.required_text();
    let place = ids.enumerate().find(|(_, own)| *own == id);
    if place.is_none() {
        node.wrong(none());
    }
    place.map_or(0, |(index, _)| index)
}

/// A symbol by its key.
fn symbol(node: &Node<'_>, symbols: &Symbols) -> SymbolId {
    let key = node.required_text();
    symbols.find(&key).unwrap_or_else(|| {
        let all: Vec<&str> =
            symbols.ids().filter_map(|id| symbols.get(id)).map(|symbol| symbol.key.as_str()).collect();
        node.wrong(&words::derivations::unlisted_symbol(&key, &all.join(", ")));
        SymbolId(0)
    })
}

/// Symbols by their keys; `None` when the field is missing.
fn symbol_list(node: &Node<'_>, symbols: &Symbols) -> Option<Vec<SymbolId>> {
    (!node.is_missing()).then(|| node.list(&|item| symbol(item, symbols)))
}

/// An expression without “=”.
fn expression(node: &Node<'_>, symbols: &Symbols) -> Expression {
    let all: Vec<SymbolId> = symbols.ids().collect();
    match read(&node.required_text(), symbols, &all).map(|reading| reading.answer) {
        Ok(Answer::Value(value)) => return value,
        Ok(Answer::Equation(..)) => node.wrong(words::derivations::no_equation()),
        Err(error) => {
            let problem = words::derivations::unreadable_at(&(error.span.start + 1), &error);
            node.wrong(problem.trim_end_matches('.'));
        }
    }
    Expression::whole(0)
}

#[cfg(test)]
mod tests;
