//! Labels of runs and groups inside a heading: `Run 2`, `3. Lauf`, `ring 150 g`, the number of `v1`.

use core::ops::Range;

use super::Meaning;
use super::names::{RUNS, named};
use super::words::{Word, one_of, words};

/// Between the parts of a heading that say different things.
const BETWEEN: [char; 7] = [':', '|', ';', '»', '>', '\n', '\t'];
/// The same, but only with a space.
const BETWEEN_SPACED: [&str; 5] = [", ", " - ", " – ", " — ", "\u{a0}- "];
/// What may stay at the ends of a part after something was taken out.
const LOOSE: [char; 15] = [' ', '\u{a0}', '|', ':', ';', ',', '_', '-', '–', '—', '/', '.', '=', '>', '@'];

const GRAMS: &str = "g gr kg gram grams gramm gramme grammes gramo gramos grammo grammi grama gramas";
const NUMBERED: &str = "# no nr n num number nummer numero";
const ORDINAL: &str = "st nd rd th e er eme ere a o te";

/// The text without separators at its ends.
pub(super) fn tidy(text: &str) -> &str {
    text.trim().trim_matches(LOOSE).trim()
}

/// The parts of a heading that say different things, tidied. Brackets are left whole.
pub(super) fn parts(text: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let (mut from, mut depth) = (0, 0_usize);
    for (at, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        let rest = text.get(at..).unwrap_or_default();
        if depth == 0 && (BETWEEN.contains(&c) || BETWEEN_SPACED.iter().any(|mark| rest.starts_with(mark))) {
            parts.push(tidy(text.get(from..at).unwrap_or_default()));
            from = at;
        }
    }
    parts.push(tidy(text.get(from..).unwrap_or_default()));
    parts.retain(|part| !part.is_empty());
    parts
}

/// Takes a range out of a text, leaving a bar.
pub(super) fn cut(text: &mut String, range: Range<usize>) -> String {
    let taken = text.get(range.clone()).unwrap_or_default().to_owned();
    if !taken.is_empty() {
        text.replace_range(range, " | ");
    }
    tidy(&taken).to_owned()
}

/// What stands between two words; `None` when they belong to different parts.
fn gap<'a>(text: &'a str, left: &Word<'_>, right: &Word<'_>) -> Option<&'a str> {
    let gap = text.get(left.end()..right.start)?;
    let joins = |c: char| !BETWEEN.contains(&c) && !"()[]{}".contains(c);
    gap.chars().all(joins).then_some(gap)
}

/// A label with a hanging mass, with the words before it that name no column: `ring 150 g`, `m = 0,15 kg`.
pub(super) fn mass(text: &str) -> Option<Range<usize>> {
    let words = words(text);
    let at = words.iter().enumerate().skip(1).position(|(at, unit)| {
        let Some(number) = words.get(at - 1) else { return false };
        let after = text.get(unit.end()..).unwrap_or_default().chars().next();
        number.is_number()
            && one_of(GRAMS, &unit.folded)
            && gap(text, number, unit)
                .is_some_and(|gap| matches!(gap, "" | " " | "_" | "\u{a0}" | "\u{202f}"))
            && !after.is_some_and(|c| "/·*^⁻".contains(c))
    })?;
    let end = words.get(at + 1)?.end();
    let mut first = words.get(at)?;
    let mut decimals = true;
    for word in words.iter().take(at).rev() {
        let between = gap(text, word, first);
        let column = match named(&word.folded).meaning {
            None | Some(Meaning::Run | Meaning::Carries | Meaning::Mass | Meaning::Index) => false,
            Some(_) => true,
        };
        let decimal = decimals && word.is_number() && matches!(between, Some("." | ","));
        if !decimal && (column || between.is_none()) {
            break;
        }
        decimals = false;
        first = word;
    }
    Some(first.start..end)
}

/// A label of a run: `Run 2`, `Lauf Nr. 3`, `trial B`, `2e essai`; with whether its word is of a language
/// that writes `0,5`.
pub(super) fn run(text: &str) -> Option<(Range<usize>, bool)> {
    let words = words(text);
    words.iter().enumerate().find_map(|(at, word)| {
        let shared = one_of(RUNS.0, &word.folded);
        if !shared && !one_of(RUNS.1, &word.folded) {
            return None;
        }
        let range = numbered(text, &words, at).or_else(|| ordinal(text, &words, at))?;
        Some((range, !shared))
    })
}

/// `Run 2`, `Run no. 2a`, `Run B`.
fn numbered(text: &str, words: &[Word<'_>], at: usize) -> Option<Range<usize>> {
    let word = words.get(at)?;
    let mut next = at + 1;
    if words.get(next).is_some_and(|word| one_of(NUMBERED, &word.folded)) {
        next += 1;
    }
    let number = words.get(next)?;
    let close = gap(text, words.get(next - 1)?, number)?.chars().count() <= 2;
    let lettered = ["A", "B", "C", "D", "E", "F", "G", "H", "I", "II", "III", "IV", "VI", "VII"];
    if !close || !(number.is_number() && number.text.len() <= 4 || lettered.contains(&number.text)) {
        return None;
    }
    // `2a`: a letter that touches the number and ends there.
    let letter = words.get(next + 1).filter(|letter| {
        number.is_number()
            && letter.start == number.end()
            && letter.text.len() == 1
            && letter.folded.starts_with(['a', 'b', 'c', 'd'])
    });
    // `data set 2`
    let data = at.checked_sub(1).and_then(|before| words.get(before)).filter(|data| data.folded == "data");
    Some(data.unwrap_or(word).start..letter.map_or(number.end(), Word::end))
}

/// `2. Lauf`, `1st run`, `2e essai`.
fn ordinal(text: &str, words: &[Word<'_>], at: usize) -> Option<Range<usize>> {
    let word = words.get(at)?;
    let before = words.get(at.checked_sub(1)?)?;
    let number = if one_of(ORDINAL, &before.folded) { words.get(at.checked_sub(2)?)? } else { before };
    let close = gap(text, before, word)?.chars().count() <= 2;
    (close && number.is_number() && number.text.len() <= 3).then_some(number.start..word.end())
}

/// A name that is numbered, without its number: `v1`, `t.2`, `velocity 3`, `gate 1 time`; and the number.
pub(super) fn number(name: &str) -> Option<(String, String)> {
    let words = words(name);
    let mut numbers = words.iter().filter(|word| word.is_number());
    let number = numbers.next().filter(|number| number.folded.len() <= 4)?;
    if numbers.next().is_some() {
        return None;
    }
    let left =
        name.get(..number.start).unwrap_or_default().trim_end_matches(['_', '.', '-', '#', ' ', '(', '[']);
    let right =
        name.get(number.end()..).unwrap_or_default().trim_start_matches(['_', '.', '-', ' ', ')', ']', ':']);
    // A number after `^`, or before a unit that was not understood, is none of a run.
    if left.ends_with('^') || right.starts_with(['/', '%', '°', '=']) {
        return None;
    }
    let rest = match (left.is_empty(), right.is_empty()) {
        (false, false) => format!("{left} {right}"),
        _ => format!("{left}{right}"),
    };
    let rest = tidy(&rest).to_owned();
    (rest.is_empty() || named(&rest).meaning.is_some()).then(|| (rest, number.folded.clone()))
}
