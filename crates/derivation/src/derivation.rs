//! A derivation: steps, the symbols they speak of, and what is said about answers.
//!
//! All of it is data, read from a file by [`crate::file`].

use crate::diagram::DiagramTask;
use crate::dimension::Dimension;
use crate::expression::Expression;
use crate::prose::Prose;
use crate::rational::Goes;
use crate::symbols::{SymbolId, Symbols};
use whorl_words as words;

/// A guided derivation.
#[derive(Clone, Debug, PartialEq)]
pub struct Derivation {
    /// Which derivation it is, for records of progress.
    pub id: String,
    /// Its title.
    pub title: String,
    /// What it is about.
    pub about: Prose,
    /// The symbols of all steps.
    pub symbols: Symbols,
    /// Names of kinds of quantity.
    pub quantities: Vec<Quantity>,
    /// The steps, in order. Never empty; ids differ.
    pub steps: Vec<Step>,
}

/// What a kind of quantity is called.
#[derive(Clone, Debug, PartialEq)]
pub struct Quantity {
    /// With its article: `a force`.
    pub name: String,
    /// Its unit, as shown.
    pub unit: String,
    /// Its dimension.
    pub dimension: Dimension,
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Which step it is, for records of progress.
    pub id: String,
    /// Its title.
    pub title: String,
    /// Whether it can be left out.
    pub optional: bool,
    /// What is asked.
    pub ask: Prose,
    /// What is to be done.
    pub task: Task,
    /// Hints, the first the least telling.
    pub hints: Vec<Prose>,
    /// The worked step, where it may be shown.
    pub worked: Option<Prose>,
    /// What a right answer means.
    pub meaning: Prose,
}

/// What is to be done in a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Task {
    /// Type an expression or an equation.
    Expression(Box<ExpressionTask>),
    /// Choose one option for each question.
    Choice(Vec<Question>),
    /// Place arrows.
    Diagram(DiagramTask),
}

/// An answer in algebra.
#[derive(Clone, Debug, PartialEq)]
pub struct ExpressionTask {
    /// What the answer is about.
    pub target: SymbolId,
    /// What the target is equal to.
    pub answer: Expression,
    /// What an answer has to look like.
    pub form: Form,
    /// The symbols that are read.
    pub readable: Vec<SymbolId>,
    /// Those that an accepted answer may contain, beside the target.
    pub uses: Vec<SymbolId>,
    /// What earlier steps found and an answer may use, earliest first.
    pub known: Vec<(SymbolId, Expression)>,
    /// All that is true here: the answer, then all that earlier steps found.
    pub truths: Vec<(SymbolId, Expression)>,
    /// What earlier steps found the target to be, in other terms.
    pub before: Vec<Expression>,
    /// Mistakes with a sentence of their own, the likeliest first.
    pub slips: Vec<Slip>,
    /// Cases whose outcome is clear without calculation.
    pub limits: Vec<LimitCase>,
    /// A balance to put numbers into.
    pub balance: Option<Balance>,
}

/// What an answer has to look like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// The target alone on one side and nowhere on the other.
    Solved,
    /// Any equation that says the same.
    Relation,
}

/// A mistake that is recognized.
#[derive(Clone, Debug, PartialEq)]
pub struct Slip {
    /// Which one it is.
    pub id: String,
    /// What the target is equal to for someone who makes it.
    pub answers: Vec<Expression>,
    /// What is said.
    pub say: Prose,
}

/// A limiting case.
#[derive(Clone, Debug, PartialEq)]
pub struct LimitCase {
    /// `Let $I$ grow without bound, so that $a$ goes to 0`.
    pub say: Prose,
    /// The symbol that goes somewhere.
    pub symbol: SymbolId,
    /// Where it goes.
    pub goes: Goes,
    /// What the target has to tend to.
    pub should: Expression,
    /// A question that leads on.
    pub ask: Prose,
}

/// Two quantities that have to be equal once the target is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// One of them, in words with mathematics.
    pub left_words: Prose,
    /// One of them.
    pub left: Expression,
    /// The other, in words with mathematics.
    pub right_words: Prose,
    /// The other.
    pub right: Expression,
}

/// A question with options.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Which question it is.
    pub id: String,
    /// What is asked.
    pub ask: Prose,
    /// Two or more, exactly one of them right.
    pub options: Vec<ChoiceOption>,
}

/// One option of a question.
#[derive(Clone, Debug, PartialEq)]
pub struct ChoiceOption {
    /// Which option it is.
    pub id: String,
    /// What it says.
    pub say: Prose,
    /// A sketched graph, where it shows one.
    pub sketch: Option<Sketch>,
    /// Whether it is the right one.
    pub right: bool,
    /// What is said when it is chosen wrongly.
    pub feedback: Prose,
}

/// A graph in a square from (0, 0) to (1, 1), drawn without numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    /// What is drawn to the right.
    pub x: Prose,
    /// What is drawn upward.
    pub y: Prose,
    /// The curves, as corners of a polyline.
    pub curves: Vec<Vec<(f64, f64)>>,
}

impl Derivation {
    /// The step with this id.
    pub fn step(&self, id: &str) -> Option<&Step> {
        self.steps.iter().find(|step| step.id == id)
    }

    /// What a dimension is called, with its unit.
    pub fn quantity(&self, dimension: Dimension) -> String {
        match self.quantities.iter().find(|quantity| quantity.dimension == dimension) {
            Some(quantity) if dimension == Dimension::ONE => quantity.name.clone(),
            Some(quantity) => format!("{} ({})", quantity.name, quantity.unit),
            None if dimension == Dimension::ONE => words::algebra::number_without_unit().to_owned(),
            None => words::algebra::something_in(&dimension),
        }
    }

    /// The unit in which a dimension is shown.
    pub fn unit(&self, dimension: Dimension) -> String {
        match self.quantities.iter().find(|quantity| quantity.dimension == dimension) {
            Some(quantity) => quantity.unit.clone(),
            None => dimension.to_string(),
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    //! Symbols for the tests of this crate.

    use crate::dimension::Dimension;
    use crate::symbols::{Symbol, Symbols, parts_of_key};

    /// m, g, a, T, R, α, τ_s, τ_f, I, a_t.
    pub(crate) fn symbols() -> Symbols {
        let all = [
            ("m", "kg", 0.05),
            ("g", "m/s^2", 9.81),
            ("a", "m/s^2", 0.4),
            ("T", "N", 0.47),
            ("R", "m", 0.02),
            ("alpha", "rad/s^2", 20.0),
            ("tau_s", "N*m", 0.0094),
            ("tau_f", "N*m", 0.001),
            ("I", "kg*m^2", 0.00042),
            ("a_t", "m/s^2", 0.4),
        ];
        let symbol = |(key, unit, value): (&str, &str, f64)| {
            let (letter, subscript) = parts_of_key(key);
            Symbol {
                key: key.to_owned(),
                letter,
                subscript,
                also: Vec::new(),
                means: String::new(),
                dimension: Dimension::of_unit(unit).unwrap(),
                unit: unit.to_owned(),
                value,
            }
        };
        Symbols::new(all.into_iter().map(symbol).collect())
    }
}
