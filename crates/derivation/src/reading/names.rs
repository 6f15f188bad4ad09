//! Cutting a run of letters into the symbols of a step.
//!
//! Of all ways to cut it, the one wins that glues the fewest subscripts on without an underscore
//! and, among those, has the fewest pieces. So `at` is a·t where the step has a and t, but a_t
//! where it has a_t and no t; and `alpha` is α, even beside symbols a, l, p and h.

use super::{ReadingError, ReadingErrorKind};
use crate::expression::Span;
use crate::symbols::{Symbol, SymbolId, Symbols, greek_name_length};
use whorl_words as words;

/// Names of functions that students may reach for.
const FUNCTIONS: [&str; 8] = ["sqrt", "sin", "cos", "tan", "log", "exp", "ln", "lim"];

/// Fewer letters are no name.
const SHORTEST_NAME: usize = 3;

/// The spellings known in a step.
pub(super) struct Names<'a> {
    symbols: &'a Symbols,
    readable: &'a [SymbolId],
    spellings: Vec<Spelling>,
}

struct Spelling {
    characters: Vec<char>,
    /// From which character on capitals do not matter: a spelled-out name may be typed in any case,
    /// a single letter never.
    any_case_from: usize,
    glued: bool,
    id: SymbolId,
}

/// One way to have cut the run up to a place.
#[derive(Clone, Copy)]
struct Cut {
    glued: usize,
    pieces: usize,
    /// Where its last piece starts, and what that is; `None` at the start of the run.
    last: Option<(usize, SymbolId)>,
}

impl<'a> Names<'a> {
    pub(super) fn new(symbols: &'a Symbols, readable: &'a [SymbolId]) -> Self {
        let mut spellings = Vec::new();
        for &id in readable {
            for (spelling, glued) in symbols.get(id).map(Symbol::spellings).unwrap_or_default() {
                spellings.push(Spelling::new(&spelling, glued, id));
            }
        }
        // A letter that only one symbol has may be typed without its subscript.
        let base =
            |id: SymbolId| symbols.get(id).map(|symbol| symbol.key.split('_').next().unwrap_or_default());
        for &id in readable {
            let shared = readable.iter().any(|&other| other != id && base(other) == base(id));
            let Some(symbol) = symbols.get(id).filter(|symbol| !shared && !symbol.subscript.is_empty())
            else {
                continue;
            };
            for bare in symbol.bare_spellings() {
                spellings.push(Spelling::new(&bare, true, id));
            }
        }
        Self { symbols, readable, spellings }
    }

    /// Cuts a run. `run` holds each character with its place in the text; it is not empty.
    pub(super) fn cut(&self, run: &[(char, Span)]) -> Result<Vec<(SymbolId, Span)>, ReadingError> {
        let letters: Vec<char> = run.iter().map(|(c, _)| *c).collect();
        let mut best: Vec<Option<Cut>> = vec![None; letters.len() + 1];
        if let Some(start) = best.first_mut() {
            *start = Some(Cut { glued: 0, pieces: 0, last: None });
        }
        for from in 0..letters.len() {
            let (Some(Some(so_far)), Some(rest)) = (best.get(from).copied(), letters.get(from..)) else {
                continue;
            };
            for spelling in self.spellings.iter().filter(|spelling| spelling.starts(rest)) {
                let cut = Cut {
                    glued: so_far.glued + usize::from(spelling.glued),
                    pieces: so_far.pieces + 1,
                    last: Some((from, spelling.id)),
                };
                if let Some(place) = best.get_mut(from + spelling.characters.len())
                    && place.is_none_or(|other| (cut.glued, cut.pieces) < (other.glued, other.pieces))
                {
                    *place = Some(cut);
                }
            }
        }
        if !matches!(best.last(), Some(Some(_))) {
            let mut reached = best.iter().rposition(Option::is_some).unwrap_or(0);
            // A subscript that is not known, or known only in part, belongs to its letter.
            if let Some(Some(Cut { last: Some((start, _)), .. })) = best.get(reached)
                && letters.get(*start..=reached).is_some_and(|piece| piece.contains(&'_'))
            {
                reached = *start;
            }
            return Err(self.unknown(run, &letters, reached));
        }
        let mut pieces = Vec::new();
        let mut end = letters.len();
        while let Some(Some(Cut { last: Some((from, id)), .. })) = best.get(end).copied() {
            pieces.push((id, span(run, from, end)));
            end = from;
        }
        pieces.reverse();
        Ok(pieces)
    }

    /// The complaint about what stands at `from`, which no symbol starts.
    fn unknown(&self, run: &[(char, Span)], letters: &[char], from: usize) -> ReadingError {
        let rest = letters.get(from..).unwrap_or_default();
        if rest.first().is_some_and(char::is_ascii_digit) {
            return ReadingErrorKind::NumberAfter.at(span(run, from, from + 1));
        }
        let word: String = rest.iter().take_while(|c| c.is_alphabetic()).collect();
        let whole: String = letters.iter().collect();
        if let Some(function) =
            FUNCTIONS.iter().find(|name| word.starts_with(**name) || whole.starts_with(**name))
        {
            let from = if word.starts_with(function) { from } else { 0 };
            let at = span(run, from, (from + function.len()).min(letters.len()));
            return ReadingErrorKind::Function((*function).to_owned()).at(at);
        }
        if letters.len() == 1 && matches!(word.as_str(), "x" | "X") {
            return ReadingErrorKind::LetterAsTimes.at(span(run, 0, 1));
        }
        // Letters of known symbols whose subscript is missing or another one, or in the other case.
        let near: Vec<(usize, SymbolId)> =
            self.readable.iter().filter_map(|&id| Some((self.near(id, &word)?, id))).collect();
        let longest = near.iter().map(|(length, _)| *length).max().unwrap_or(0);
        if let Some(length) = self.of_another_step(rest).filter(|length| *length > longest) {
            let name = rest.iter().take(length).collect();
            let remedy = words::algebra::of_another_step(&self.all());
            return ReadingErrorKind::Unknown { name, remedy }.at(span(run, from, from + length));
        }
        let longest = if near.is_empty() { greek_name_length(&word).max(1) } else { longest };
        let near: Vec<String> = near
            .iter()
            .filter(|(length, _)| *length == longest)
            .map(|(_, id)| self.symbols.shown(*id))
            .collect();
        let end = (from + longest).max(from + 1);
        let end = end + subscript_length(letters.get(end..).unwrap_or_default());
        let name: String = letters.get(from..end).unwrap_or_default().iter().collect();
        let either = near.into_iter().reduce(|one, other| words::algebra::or(&one, &other));
        let remedy = either.map_or_else(|| self.all(), |symbols| words::algebra::did_you_mean(&symbols));
        ReadingErrorKind::Unknown { name, remedy }.at(span(run, from, end))
    }

    fn all(&self) -> String {
        let all: Vec<String> = self.readable.iter().map(|id| self.symbols.shown(*id)).collect();
        words::algebra::its_symbols(&all.join(", "))
    }

    /// How much of the text is a symbol of the derivation that this step does without.
    fn of_another_step(&self, rest: &[char]) -> Option<usize> {
        let others = self.symbols.ids().filter(|id| !self.readable.contains(id));
        let spellings = others.filter_map(|id| Some((id, self.symbols.get(id)?.spellings())));
        let lengths = spellings.flat_map(|(id, spellings)| {
            let starts = |(spelling, glued): (String, bool)| {
                let spelling = Spelling::new(&spelling, glued, id);
                spelling.starts(rest).then_some(spelling.characters.len())
            };
            spellings.into_iter().filter_map(starts).collect::<Vec<_>>()
        });
        lengths.max()
    }

    /// How much of the word is this symbol's letter, by name or in the other case.
    fn near(&self, id: SymbolId, word: &str) -> Option<usize> {
        let symbol = self.symbols.get(id)?;
        let base = symbol.key.split('_').next().unwrap_or_default();
        let starts = |name: &str| {
            let mut letters = word.chars();
            !name.is_empty()
                && name.chars().all(|c| letters.next().is_some_and(|own| own.eq_ignore_ascii_case(&c)))
        };
        [base, symbol.letter.as_str()].into_iter().find(|name| starts(name)).map(|name| name.chars().count())
    }
}

impl Spelling {
    fn new(spelling: &str, glued: bool, id: SymbolId) -> Self {
        let characters: Vec<char> = spelling.chars().collect();
        let is_name = |from: usize| {
            characters.iter().skip(from).take_while(|c| c.is_ascii_alphabetic()).count() >= SHORTEST_NAME
        };
        let starts_word = |at: &usize| {
            at.checked_sub(1).and_then(|at| characters.get(at)).is_none_or(|c| !c.is_alphabetic())
        };
        let any_case_from =
            (0..characters.len()).filter(starts_word).find(|at| is_name(*at)).unwrap_or(characters.len());
        Self { characters, any_case_from, glued, id }
    }

    fn starts(&self, rest: &[char]) -> bool {
        let Some(start) = rest.get(..self.characters.len()) else { return false };
        let mut pairs = self.characters.iter().zip(start).enumerate();
        pairs.all(|(index, (own, typed))| {
            own == typed || (index >= self.any_case_from && own.eq_ignore_ascii_case(typed))
        })
    }
}

/// `_f`, `_{f}` or nothing.
fn subscript_length(rest: &[char]) -> usize {
    if rest.first() != Some(&'_') {
        return 0;
    }
    1 + rest.iter().skip(1).take_while(|c| c.is_alphanumeric() || matches!(c, '{' | '}')).count()
}

fn span(run: &[(char, Span)], from: usize, to: usize) -> Span {
    let start = run.get(from).map_or(0, |(_, place)| place.start);
    let end = to.checked_sub(1).and_then(|last| run.get(last)).map_or(start, |(_, place)| place.end);
    start..end.max(start)
}
