//! The masses a class owns: as people type them, and what can be hung with them.
//!
//! A list is separated by commas, semicolons, lines or plus signs: `20 g × 2, 50, 100 x 2; 0.2 kg`. Grams are
//! meant unless a unit stands there. `20 g × 2` and `2 × 20 g` are the same; where neither side has a unit,
//! the smaller whole number counts. Where semicolons separate, or numbers are shown with a decimal comma, a
//! comma between two digits is one.

use super::grams;
use crate::entry::{EntryUnit, parse};
use crate::measured::shown::{DisplayUnit, show_number};
use crate::quantity::Kilograms;
use whorl_words::{self as words, DecimalMark};

/// Pieces in a list, at most: a bit each.
pub const MOST_PIECES: usize = 32;

/// Different sums that are kept; beyond, they are thinned out evenly.
pub const MOST_REACHABLE: usize = 200;

/// Masses no piece of a school's set has, in kg: at most this.
const HEAVIEST: f64 = 5.0;

/// Why a list of masses cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::planning::entry_of_list(.number, .text, .problem))]
pub struct PiecesError {
    /// Which entry of the list, from 1.
    pub number: usize,
    /// What stands there.
    pub text: String,
    /// Where in the list it begins: how many characters stand before it.
    pub from: usize,
    /// What is wrong and what to do.
    pub problem: String,
}

/// Reads a list of masses, each as often as there is one.
///
/// # Errors
/// Says which entry cannot be read and how to write it.
pub fn parse_pieces(text: &str) -> Result<Vec<Kilograms>, PiecesError> {
    let decimal_comma = text.contains(';') || words::decimal_mark() == DecimalMark::Comma;
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut pieces = Vec::new();
    let (mut number, mut start) = (0, 0);
    let ends = text.char_indices().filter(|&(at, c)| match c {
        ';' | '\n' => true,
        // The plus of 1e+3 belongs to its number.
        '+' => !text.get(..at).unwrap_or_default().ends_with(['e', 'E']),
        ',' => {
            let before = text.get(..at).and_then(|before| before.chars().next_back());
            let after = text.get(at + 1..).and_then(|after| after.chars().next());
            !(decimal_comma && digit(before) && digit(after))
        }
        _ => false,
    });
    for end in ends.map(|(at, _)| at).chain([text.len()]) {
        let item = text.get(start..end).unwrap_or_default();
        let before = text.get(..start).unwrap_or_default().chars().count();
        let spaces = item.chars().take_while(|c| c.is_whitespace()).count();
        start = end + 1;
        let trimmed = item.trim();
        if trimmed.is_empty() {
            continue;
        }
        number += 1;
        let wrong = |problem: String| PiecesError {
            number,
            text: trimmed.chars().take(24).collect(),
            from: before + spaces,
            problem,
        };
        let (mass, count) = piece(trimmed).map_err(wrong)?;
        if pieces.len() + count > MOST_PIECES {
            return Err(wrong(words::planning::too_many_pieces(&MOST_PIECES)));
        }
        pieces.resize(pieces.len() + count, Kilograms(mass));
    }
    Ok(pieces)
}

/// One entry: mass of a piece in kg, and how many.
fn piece(text: &str) -> Result<(f64, usize), String> {
    let times = |c: char| matches!(c, '×' | 'x' | 'X' | '*');
    let (mass, count) = match text.split_once(times) {
        None => (text, 1),
        Some((left, right)) => match (count(left), count(right)) {
            (Some(one), Some(other)) if one < other => (right, one),
            (_, Some(count)) => (left, count),
            (Some(count), None) => (right, count),
            (None, None) => {
                return Err(words::planning::how_many().to_owned());
            }
        },
    };
    let value = parse(mass, EntryUnit::GRAMS).map_err(|error| error.to_string())?;
    match value {
        None => Err(words::planning::mass_missing().to_owned()),
        Some(value) if value <= 0.0 => Err(match words::decimal_mark() {
            DecimalMark::Point => words::planning::mass_above_zero_point(&words::number(0.2, 1)),
            DecimalMark::Comma => words::planning::mass_above_zero().to_owned(),
        }),
        Some(value) if value > HEAVIEST => Err(words::planning::mass_too_large(&grams(Kilograms(value)))),
        Some(value) => Ok((value, count)),
    }
}

/// A whole number of pieces with no unit.
fn count(text: &str) -> Option<usize> {
    text.trim().parse().ok().filter(|count| (1..=1000).contains(count))
}

/// The list as it reads back, alike pieces together, in the order of the first of each.
pub fn write_pieces(pieces: &[Kilograms]) -> String {
    let mut written = String::new();
    // Beside decimal commas, commas are hard to read.
    let separator = if words::decimal_mark() == DecimalMark::Comma { "; " } else { ", " };
    for (at, piece) in pieces.iter().enumerate() {
        if pieces.get(..at).is_some_and(|before| before.contains(piece)) {
            continue;
        }
        if !written.is_empty() {
            written.push_str(separator);
        }
        // In full: a weighed piece must read back as it was typed.
        written.push_str(&show_number(piece.0, DisplayUnit::GRAMS, 12));
        let count = pieces.iter().filter(|other| *other == piece).count();
        if count > 1 {
            written.push_str(" × ");
            written.push_str(&count.to_string());
        }
    }
    written
}

/// A mass that can be hung, and of which pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hung {
    /// All of it, the holder included.
    pub mass: Kilograms,
    /// A bit for each piece of the list.
    pieces: u32,
}

impl Hung {
    /// The pieces, of the list it was made from.
    pub fn made_of(&self, pieces: &[Kilograms]) -> Vec<Kilograms> {
        let has =
            |at: usize| u32::try_from(at).is_ok_and(|at| self.pieces.checked_shr(at).unwrap_or(0) & 1 == 1);
        pieces.iter().enumerate().filter(|(at, _)| has(*at)).map(|(_, piece)| *piece).collect()
    }
}

/// All masses that can be hung with these pieces, of which at least one, and a holder that is always there;
/// lightest first, each of as few pieces as it can be. Pieces beyond [`MOST_PIECES`] are left out.
pub fn reachable(pieces: &[Kilograms], holder: Kilograms) -> Vec<Hung> {
    let mut all = vec![Hung { mass: holder, pieces: 0 }];
    for (at, piece) in pieces.iter().take(MOST_PIECES).enumerate() {
        let with = |hung: &Hung| Hung {
            // To the microgram: a sum must not depend on the order it was made in.
            mass: Kilograms(((hung.mass.0 + piece.0) * 1e9).round() / 1e9),
            pieces: hung.pieces | 1 << at,
        };
        // Both lists are in order already, so they are merged; of equal masses the one of fewer pieces first.
        let order = |hung: &Hung| (hung.mass.0, hung.pieces.count_ones());
        let mut more = all.iter().map(with).peekable();
        let mut merged = Vec::with_capacity(2 * all.len());
        for hung in &all {
            while let Some(next) = more.next_if(|next| order(next) < order(hung)) {
                merged.push(next);
            }
            merged.push(*hung);
        }
        merged.extend(more);
        all = merged;
        all.dedup_by(|next, kept| next.mass == kept.mass);
        thin(&mut all);
    }
    all.retain(|hung| hung.pieces != 0);
    all
}

/// Keeps [`MOST_REACHABLE`] and one, evenly chosen, with the first and the last.
fn thin(all: &mut Vec<Hung>) {
    let count = all.len();
    if count <= MOST_REACHABLE + 1 {
        return;
    }
    let kept = (0..=MOST_REACHABLE).filter_map(|k| all.get(k * (count - 1) / MOST_REACHABLE).copied());
    *all = kept.collect();
}

#[cfg(test)]
mod tests;
