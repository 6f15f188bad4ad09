//! What columns hold that no heading tells of, as far as their numbers allow.

use super::{Open, TIMES, ask, kind_of, likely, role_for, unsure};
use crate::readings::statistics::{Statistics, plausible};
use crate::readings::table::Block;
use crate::readings::understood::Guess;
use crate::readings::{Choices, ReadingKind, Role};
use whorl_words::columns;

/// Columns that no heading tells of.
pub(super) fn by_numbers(
    block: &Block,
    statistics: &[Statistics],
    choices: &Choices,
    found: &mut [Option<Guess<Role>>],
    open: &mut Vec<Open>,
) {
    let is_time = |guess: &Option<Guess<Role>>| {
        matches!(guess, Some(Guess { value: Role::Time(_) | Role::Interval(_), .. }))
    };
    let unknown: Vec<usize> =
        (0..found.len()).filter(|&index| found.get(index).is_some_and(Option::is_none)).collect();
    let of = |index: usize| statistics.get(index).copied();
    let set = |found: &mut [Option<Guess<Role>>], index: usize, guess: Guess<Role>| {
        if let Some(place) = found.get_mut(index) {
            *place = Some(guess);
        }
    };
    let mut rest = unknown.clone();
    if !found.iter().any(is_time) {
        // Row numbers grow as times do, by one each; so they are times only where nothing else is.
        let grows = |index: &&usize| of(**index).is_some_and(|numbers| numbers.mostly_increases());
        let not_counting =
            |index: &&usize| grows(index) && of(**index).is_some_and(|numbers| !numbers.counts);
        let lone_interval = |index: &usize| {
            of(*index).is_some_and(|numbers| numbers.least > 0.0 && !numbers.mostly_increases())
        };
        let time = unknown.iter().find(not_counting).or_else(|| unknown.iter().find(grows)).copied();
        if let Some(time) = time {
            let numbers = of(time);
            let factor = numbers.map_or(1.0, |numbers| time_unit(&numbers));
            set(found, time, likely(Role::Time(factor), columns::grows_as_times_do()));
            rest.retain(|&index| index != time);
        } else if let [only] = unknown.as_slice()
            && lone_interval(only)
            && block.columns.len() == 1
        {
            let largest = of(*only).map_or(1.0, |numbers| numbers.greatest);
            let unit = plausible(&TIMES, largest, 0.01, 5.0).first().copied().unwrap_or(1.0);
            set(found, *only, likely(Role::Interval(unit), columns::times_between_events()));
            rest.clear();
        }
    }
    let has_value = |guess: &Option<Guess<Role>>| {
        guess.as_ref().is_some_and(|guess| kind_of(guess.value).is_some() || guess.value == Role::State)
    };
    let any_value = found.iter().any(has_value);
    for index in rest {
        let Some(numbers) = of(index) else { continue };
        let guess = if numbers.counts {
            likely(Role::Ignored, columns::counts_rows())
        } else if any_value {
            likely(Role::Ignored, columns::other_columns_are_enough())
        } else if numbers.zero_or_one() {
            likely(Role::State, columns::holds_zero_and_one())
        } else if choices.holds.is_some_and(ReadingKind::is_times_alone) {
            likely(Role::Ignored, columns::you_said_times_are_all())
        } else if let Some(kind) = choices.holds {
            likely(role_for(kind), columns::you_said_what_file_holds())
        } else if numbers.constant() {
            likely(Role::Ignored, columns::same_number_everywhere())
        } else {
            let candidates = value_candidates(block, index);
            let first = candidates.first().copied().unwrap_or(Role::Ignored);
            ask(open, index, columns::what_was_measured().to_owned(), candidates);
            unsure(first)
        };
        set(found, index, guess);
    }
}

pub(super) fn time_unit(numbers: &Statistics) -> f64 {
    // Whole numbers that span hundreds are a clock's ticks.
    let fitting = plausible(&TIMES, numbers.span(), 0.2, 300.0);
    let seconds = !(numbers.whole && numbers.span() > 300.0);
    fitting.iter().copied().find(|&unit| seconds || unit < 1.0).or(fitting.first().copied()).unwrap_or(1.0)
}

/// What a column without a name may hold, the likeliest first: speeds of a falling mass grow evenly,
/// places do not.
fn value_candidates(block: &Block, index: usize) -> Vec<Role> {
    let values: Vec<f64> =
        block.columns.get(index).map(|column| column.present().collect()).unwrap_or_default();
    let at = |part: usize| values.get((values.len() - 1) * part / 4).copied().unwrap_or(0.0);
    let (first, middle, last) = (at(0), at(2), at(4));
    let bend = (f64::midpoint(first, last) - middle).abs();
    if bend > 0.05 * (last - first).abs() {
        vec![Role::Position(1.0), Role::Velocity(1.0), Role::Angle(1.0), Role::AngularVelocity(1.0)]
    } else {
        vec![Role::Velocity(1.0), Role::Position(1.0), Role::AngularVelocity(1.0), Role::Angle(1.0)]
    }
}
