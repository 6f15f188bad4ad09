//! What each column of a block holds: what the user said, else what its heading and unit say, else what
//! its numbers allow.

mod by_numbers;

use self::by_numbers::{by_numbers, time_unit};
use super::headings::{Meaning, UnitFound, motion_word, state_word};
use super::names::{Name, Names};
use super::statistics::{Statistics, plausible};
use super::table::{Block, ColumnData};
use super::understood::{Answer, Confidence, Guess, Question};
use super::{Choice, Choices, ReadingKind, Role};
use core::f64::consts::{PI, TAU};
use whorl_words::{columns, readings};

/// Units of each quantity, the SI unit first.
const TIMES: [f64; 3] = [1.0, 1e-3, 1e-6];
const LENGTHS: [f64; 3] = [1.0, 1e-2, 1e-3];
const ANGLES: [f64; 3] = [1.0, PI / 180.0, TAU];
const TURNING: [f64; 4] = [1.0, PI / 180.0, TAU / 60.0, TAU];

/// The roles of a block's columns, and what must be asked.
#[inline(never)]
pub(super) fn roles(block: &Block, names: &Names, choices: &Choices) -> (Vec<Guess<Role>>, Vec<Question>) {
    let statistics: Vec<Statistics> = block.columns.iter().map(Statistics::of).collect();
    let mut open: Vec<Open> = Vec::new();
    let mut found: Vec<Option<Guess<Role>>> = Vec::new();
    let lone = statistics.iter().filter(|column| column.count > 0).count() == 1;
    for (index, ((name, data), numbers)) in
        names.columns.iter().zip(&block.columns).zip(&statistics).enumerate()
    {
        let chosen = choices.column(index + 1).map(|role| sure(role, readings::you_chose_it()));
        let told = chosen.or_else(|| told(name, data, numbers, lone, index, &mut open));
        found.push(told);
    }
    by_numbers(block, &statistics, choices, &mut found, &mut open);
    let guesses = found
        .into_iter()
        .map(|guess| guess.unwrap_or_else(|| likely(Role::Ignored, columns::nothing_tells())));
    (guesses.collect(), questions(open))
}

/// Columns of which the same must be asked.
struct Open {
    columns: Vec<usize>,
    words: String,
    candidates: Vec<Role>,
}

fn sure(value: Role, reason: &str) -> Guess<Role> {
    Guess { value, confidence: Confidence::Sure, reason: reason.to_owned() }
}

fn likely(value: Role, reason: &str) -> Guess<Role> {
    Guess { value, confidence: Confidence::Likely, reason: reason.to_owned() }
}

/// What heading, unit and words tell of a column.
fn told(
    name: &Name,
    data: &ColumnData,
    numbers: &Statistics,
    lone: bool,
    index: usize,
    open: &mut Vec<Open>,
) -> Option<Guess<Role>> {
    if !data.vocabulary.is_empty() {
        return Some(of_words(name, data));
    }
    if numbers.count == 0 {
        return Some(sure(Role::Ignored, columns::is_empty()));
    }
    if data.clock {
        return Some(sure(Role::Time(1.0), columns::times_of_day()));
    }
    if numbers.zero_or_one()
        && numbers.count > 2
        && matches!(name.meaning, Some(Meaning::State | Meaning::GateTime))
    {
        return Some(sure(Role::State, columns::heading_says_state()));
    }
    // Spokes and events are numbered under such headings as well.
    let counting = numbers.counts && !lone && name.unit.is_none();
    if counting && matches!(name.meaning, Some(Meaning::Time | Meaning::GateTime)) && numbers.count > 3 {
        return Some(likely(Role::Ignored, columns::counts_rows()));
    }
    // A time that runs backwards at every other row is the time between events.
    let between = lone && !numbers.mostly_increases() && !numbers.mostly_decreases() && numbers.least > 0.0;
    let shrinking = lone && numbers.mostly_decreases() && numbers.least > 0.0;
    if shrinking && name.meaning != Some(Meaning::Interval) && (name.meaning.is_some() || name.unit.is_some())
    {
        return falling_times(name, data, numbers, index, open);
    }
    let meaning = match name.meaning {
        Some(Meaning::Time | Meaning::GateTime) if between => Some(Meaning::Interval),
        meaning => meaning,
    };
    match (meaning, &name.unit) {
        (None, None) => None,
        (Some(meaning), None | Some(UnitFound::None)) => {
            Some(without_unit(meaning, name, numbers, index, open))
        }
        (meaning, Some(UnitFound::Known { fits, symbol })) => {
            let fitting = meaning.and_then(|meaning| {
                fits.iter().find(|fit| same_quantity(fit.0, meaning)).map(|fit| (meaning, fit.1))
            });
            if let Some((meaning, factor)) = fitting {
                let role = role_of(meaning, factor);
                return Some(sure(role, &columns::heading_says_with_unit(&in_words(symbol))));
            }
            let first = fits.first().map(|&(meaning, factor)| role_of(meaning, factor))?;
            let first = match first {
                Role::Time(factor) if between => Role::Interval(factor),
                other => other,
            };
            match meaning {
                None => Some(sure(first, &columns::unit_is(&in_words(symbol)))),
                Some(Meaning::Other | Meaning::Uncertainty | Meaning::Index) => {
                    Some(sure(Role::Ignored, columns::heading_names_something_else()))
                }
                Some(meaning) => {
                    let named = role_of(meaning, 1.0);
                    ask(open, index, columns::quantity_or_unit(&name.written), vec![first, named]);
                    Some(unsure(first))
                }
            }
        }
        (Some(meaning), Some(UnitFound::Unknown(unit))) => match role_of(meaning, 1.0) {
            Role::Ignored => Some(sure(Role::Ignored, columns::heading_names_something_else())),
            role => {
                let candidates: Vec<Role> = Role::all()
                    .filter(|other| core::mem::discriminant(other) == core::mem::discriminant(&role))
                    .collect();
                // What has no unit cannot have the wrong one.
                if candidates.len() < 2 {
                    return Some(likely(role, columns::heading_says()));
                }
                ask(open, index, columns::unknown_unit(unit, &name.written), candidates);
                Some(unsure(role))
            }
        },
        (None, Some(UnitFound::None | UnitFound::Unknown(_))) => {
            Some(likely(Role::Ignored, columns::heading_names_nothing_that_is_read()))
        }
    }
}

/// Times that fall from row to row: from last to first, or times between events that come ever faster.
fn falling_times(
    name: &Name,
    data: &ColumnData,
    numbers: &Statistics,
    index: usize,
    open: &mut Vec<Open>,
) -> Option<Guess<Role>> {
    let factor = match &name.unit {
        Some(UnitFound::Known { fits, .. }) => {
            fits.iter().find(|fit| same_quantity(fit.0, Meaning::Time)).map(|fit| fit.1)?
        }
        _ => time_unit(numbers),
    };
    let mut candidates = vec![Role::Time(factor), Role::Interval(factor)];
    if sags(data) {
        candidates.reverse();
    }
    let first = candidates.first().copied()?;
    ask(open, index, columns::backwards_or_between(&name.written), candidates);
    Some(unsure(first))
}

/// Whether shrinking numbers shrink fast at first, as times between events do that come ever faster; times of
/// events from last to first shrink fast at last.
fn sags(data: &ColumnData) -> bool {
    let values: Vec<f64> = data.present().collect();
    let at = |part: usize| values.get((values.len() - 1) * part / 2).copied().unwrap_or(0.0);
    at(1) < f64::midpoint(at(0), at(2))
}

fn unsure(value: Role) -> Guess<Role> {
    Guess { value, confidence: Confidence::Open, reason: readings::please_choose().to_owned() }
}

/// A unit as it is read: turns have no symbol.
fn in_words(symbol: &'static str) -> &'static str {
    match symbol {
        "turns" => columns::turns(),
        "turns/s" => columns::turns_per_s(),
        symbol => symbol,
    }
}

fn same_quantity(unit: Meaning, meaning: Meaning) -> bool {
    let time = |meaning| matches!(meaning, Meaning::Time | Meaning::GateTime | Meaning::Interval);
    unit == meaning || (time(unit) && time(meaning))
}

fn role_of(meaning: Meaning, factor: f64) -> Role {
    match meaning {
        Meaning::Time | Meaning::GateTime => Role::Time(factor),
        Meaning::Interval => Role::Interval(factor),
        Meaning::State => Role::State,
        Meaning::Position => Role::Position(factor),
        Meaning::Velocity => Role::Velocity(factor),
        Meaning::Acceleration => Role::Acceleration(factor),
        Meaning::Angle => Role::Angle(factor),
        Meaning::AngularVelocity => Role::AngularVelocity(factor),
        Meaning::Mass => Role::Mass(factor),
        Meaning::Run => Role::Run,
        Meaning::Carries => Role::Carries,
        Meaning::Motion => Role::Motion,
        Meaning::AngularAcceleration | Meaning::Index | Meaning::Uncertainty | Meaning::Other => {
            Role::Ignored
        }
    }
}

/// A column of words.
fn of_words(name: &Name, data: &ColumnData) -> Guess<Role> {
    let mut words = data.vocabulary.iter().filter(|word| !word.is_empty());
    match name.meaning {
        Some(Meaning::Run) => return sure(Role::Run, columns::heading_says()),
        Some(Meaning::Carries) => return sure(Role::Carries, columns::heading_says()),
        Some(Meaning::Other | Meaning::Uncertainty) => {
            return sure(Role::Ignored, columns::heading_names_something_else());
        }
        _ => {}
    }
    if words.clone().count() > 0
        && words.clone().all(|word| state_word(word).is_some() || matches!(word.as_str(), "0" | "1"))
    {
        return sure(Role::State, columns::words_say_state());
    }
    if words.clone().count() > 0 && words.all(|word| motion_word(word).is_some()) {
        return sure(Role::Motion, columns::words_say_motion());
    }
    if data.vocabulary.len() * 3 <= data.words.len() {
        likely(Role::Run, columns::same_words_in_many_rows())
    } else {
        likely(Role::Ignored, columns::holds_words())
    }
}

/// A quantity whose unit is not said: what sizes are possible.
fn without_unit(
    meaning: Meaning,
    name: &Name,
    numbers: &Statistics,
    index: usize,
    open: &mut Vec<Open>,
) -> Guess<Role> {
    let (units, size, low, high) = match meaning {
        Meaning::Time | Meaning::GateTime => (&TIMES[..], numbers.span(), 0.2, 300.0),
        Meaning::Interval => (&TIMES[..], numbers.greatest, 0.01, 5.0),
        Meaning::Position => (&LENGTHS[..], numbers.span(), 0.05, 5.0),
        Meaning::Velocity => (&LENGTHS[..], numbers.largest(), 0.02, 8.0),
        Meaning::Acceleration => (&LENGTHS[..], numbers.largest(), 0.002, 20.0),
        Meaning::Angle => (&ANGLES[..], numbers.span(), 1.0, 500.0),
        Meaning::AngularVelocity => (&TURNING[..], numbers.largest(), 0.1, 200.0),
        Meaning::Mass => (&[1e-3, 1.0][..], numbers.largest(), 5e-4, 3.0),
        _ => {
            let role = role_of(meaning, 1.0);
            let reason = if role == Role::Ignored {
                columns::heading_names_something_not_read()
            } else {
                columns::heading_says()
            };
            return sure(role, reason);
        }
    };
    let fitting = plausible(units, size, low, high);
    let measured = !matches!(meaning, Meaning::Mass | Meaning::Time | Meaning::GateTime | Meaning::Interval);
    if measured && numbers.constant() && numbers.count > 2 {
        return likely(Role::Ignored, columns::same_number_everywhere());
    }
    let role = |factor: f64| role_of(meaning, factor);
    let turning = matches!(meaning, Meaning::Angle | Meaning::AngularVelocity);
    match fitting.as_slice() {
        [] => likely(role(1.0), columns::taken_in_si_units()),
        [only] if (*only - 1.0).abs() < f64::EPSILON => likely(role(1.0), columns::size_fits_si_units_only()),
        [only] => likely(role(*only), columns::size_fits_this_unit_only()),
        // Decimals and SI units go together; whole thousands do not.
        [first, ..] if (*first - 1.0).abs() < f64::EPSILON && !turning && meaning != Meaning::Mass => {
            likely(role(1.0), columns::size_fits_si_units())
        }
        several => {
            let others = units.iter().filter(|unit| !several.contains(unit));
            let candidates: Vec<Role> = several.iter().chain(others).map(|&factor| role(factor)).collect();
            let first = candidates.first().copied().unwrap_or(Role::Ignored);
            ask(open, index, columns::in_which_unit(&name.written), candidates);
            unsure(first)
        }
    }
}

/// Notes a question, together with others that are the same.
fn ask(open: &mut Vec<Open>, index: usize, words: String, candidates: Vec<Role>) {
    match open.iter_mut().find(|other| other.candidates == candidates) {
        Some(same) => same.columns.push(index),
        None => open.push(Open { columns: vec![index], words, candidates }),
    }
}

/// The role of the column that a kind of readings needs beside its times, in SI units.
pub(super) fn role_for(kind: ReadingKind) -> Role {
    match kind {
        ReadingKind::GateTimes => Role::Time(1.0),
        ReadingKind::BothEdges => Role::State,
        ReadingKind::Velocity => Role::Velocity(1.0),
        ReadingKind::Position => Role::Position(1.0),
        ReadingKind::Acceleration => Role::Acceleration(1.0),
        ReadingKind::Angle => Role::Angle(1.0),
        ReadingKind::AngularVelocity => Role::AngularVelocity(1.0),
    }
}

/// The kind of readings that a column of values gives with times.
pub(super) fn kind_of(role: Role) -> Option<ReadingKind> {
    match role {
        Role::Position(_) => Some(ReadingKind::Position),
        Role::Velocity(_) => Some(ReadingKind::Velocity),
        Role::Acceleration(_) => Some(ReadingKind::Acceleration),
        Role::Angle(_) => Some(ReadingKind::Angle),
        Role::AngularVelocity(_) => Some(ReadingKind::AngularVelocity),
        _ => None,
    }
}

fn questions(open: Vec<Open>) -> Vec<Question> {
    let question = |open: Open| {
        let numbers: Vec<String> = open.columns.iter().map(|index| (index + 1).to_string()).collect();
        let words = match numbers.as_slice() {
            [only] => columns::about_column(only, &open.words),
            [most @ .., last] => columns::about_columns(&most.join(", "), last, &open.words),
            [] => open.words,
        };
        let answer = |role: &Role| Answer {
            words: role.words().to_owned(),
            choices: open.columns.iter().map(|index| Choice::Column(index + 1, *role)).collect(),
        };
        Question { words, answers: open.candidates.iter().map(answer).collect() }
    };
    open.into_iter().map(question).collect()
}
