//! A block and the roles of its columns → one raw run for each that stands in it: side by side, each with
//! times of its own or with shared ones, or one after another with a column that says which.

use super::headings::{UnitFound, motion_word, says_both};
use super::names::{About, Names, mass};
use super::standing::{Picked, RunRows, Scaling, Standing};
use super::statistics::Statistics;
use super::table::Block;
use super::understood::Guess;
use super::{ReadingError, ReadingErrorKind, ReadingKind, Role};
use crate::quantity::Kilograms;
use std::borrow::Cow;
use whorl_words as words;

/// Most runs in one file.
pub(super) const MAX_RUNS: usize = 500;

/// What a run is made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Source {
    /// Times of events.
    Events,
    /// Times of events, of which the heading says that both edges of each spoke are among them.
    Edges,
    /// Times between events.
    Intervals,
    /// Times at which the gate was blocked or open.
    States,
    /// Times at which the gate was blocked, and times at which it opened.
    TwoTimes,
    /// A quantity against time.
    Samples(ReadingKind),
}

/// A run as it stands in the file.
#[derive(Clone, Debug)]
pub(super) struct RawRun<'b> {
    pub(super) label: String,
    pub(super) about: About,
    pub(super) source: Source,
    pub(super) rows: RunRows<'b>,
    /// Whether its times are times of day.
    pub(super) clock: bool,
    /// Whether columns of other quantities stand beside it.
    pub(super) beside: bool,
}

/// Which columns make one run.
#[derive(Clone, Debug)]
struct Set {
    label: Option<String>,
    source: Source,
    time: usize,
    value: Option<usize>,
}

/// The runs of a block, and which of its columns they are made from.
#[inline(never)]
pub(super) fn raw_runs<'b>(
    block: &'b Block,
    names: &Names,
    roles: &[Guess<Role>],
    holds: Option<ReadingKind>,
) -> Result<(Vec<RawRun<'b>>, Vec<usize>), ReadingError> {
    let column = |wanted: Role| {
        roles.iter().position(|role| core::mem::discriminant(&role.value) == core::mem::discriminant(&wanted))
    };
    let told: Vec<Option<usize>> =
        vec![column(Role::Run), column(Role::Carries), column(Role::Mass(1.0)), column(Role::Motion)];
    let beside = roles.iter().zip(&block.columns).any(|(role, column)| {
        role.value == Role::Ignored && column.present().count() > 0 && !Statistics::of(column).counts
    });
    let groups = groups(block, &told)?;
    let mut runs = Vec::new();
    let mut used: Vec<usize> = told.iter().copied().flatten().collect();
    for (rows, first) in groups {
        let about = about_group(block, names, roles, &told, first);
        // Runs in one table may be of several kinds: a column that a run leaves empty is none of its own.
        let sets = sets(block, names, roles, holds, &|index| has_any(block, index, &rows));
        used.extend(sets.iter().flat_map(|set| [Some(set.time), set.value]).flatten());
        for set in &sets {
            if !rows.iter().any(|row| has_number(block, set.time, row)) {
                continue;
            }
            let Some(standing) = standing(block, roles, set, rows.clone()) else { continue };
            let clock = block.columns.get(set.time).is_some_and(|column| column.clock);
            let label = set.label.clone().or_else(|| about.run.clone()).unwrap_or_default();
            let mut about = about.clone();
            about.hanging_mass = about.hanging_mass.or_else(|| mass(&label, &UnitFound::None));
            let rows = RunRows::Standing(standing);
            runs.push(RawRun { label, about, source: set.source, rows, clock, beside });
        }
    }
    Ok((runs, used))
}

/// Whether a column has something in any of these rows.
fn has_any(block: &Block, index: usize, rows: &Picked) -> bool {
    let word = |row: usize| block.columns.get(index)?.word(row);
    rows.iter().any(|row| word(row).map_or_else(|| has_number(block, index, row), |word| !word.is_empty()))
}

fn has_number(block: &Block, index: usize, row: usize) -> bool {
    block.columns.get(index).and_then(|column| column.numbers.get(row)).is_some_and(|value| !value.is_nan())
}

/// The better a quantity, the smaller: places are measured, speeds are often computed from them.
fn preference(role: Role) -> Option<u8> {
    Some(match role {
        Role::State => 0,
        Role::Position(_) => 1,
        Role::Angle(_) => 2,
        Role::Velocity(_) => 3,
        Role::AngularVelocity(_) => 4,
        Role::Acceleration(_) => 5,
        _ => return None,
    })
}

fn sets(
    block: &Block,
    names: &Names,
    roles: &[Guess<Role>],
    holds: Option<ReadingKind>,
    filled: &dyn Fn(usize) -> bool,
) -> Vec<Set> {
    let of = |wanted: &dyn Fn(Role) -> bool| -> Vec<usize> {
        roles.iter().enumerate().filter(|(_, role)| wanted(role.value)).map(|(index, _)| index).collect()
    };
    let times = of(&|role| matches!(role, Role::Time(_)));
    let label = |index: usize| names.columns.get(index).and_then(|name| name.label.clone());
    if times.is_empty() {
        let intervals = of(&|role| matches!(role, Role::Interval(_)));
        return intervals
            .into_iter()
            .map(|time| Set { label: label(time), source: Source::Intervals, time, value: None })
            .collect();
    }
    let events_only = holds.is_some_and(ReadingKind::is_times_alone);
    let wanted = |role: Role| match holds {
        Some(ReadingKind::BothEdges) => role == Role::State,
        Some(_) if events_only => false,
        Some(kind) => {
            core::mem::discriminant(&role) == core::mem::discriminant(&super::roles::role_for(kind))
        }
        None => preference(role).is_some(),
    };
    let mut values = of(&wanted);
    values.retain(|&value| filled(value));
    if values.is_empty()
        && let [first, second] = times.as_slice()
        && interleaved(block, *first, *second)
    {
        return vec![Set {
            label: label(*first),
            source: Source::TwoTimes,
            time: *first,
            value: Some(*second),
        }];
    }
    // With times of their own on their right, values belong to these.
    let after = matches!((values.first(), times.first()), (Some(value), Some(time)) if value < time)
        && matches!((values.last(), times.last()), (Some(value), Some(time)) if value < time)
        && times.len() > 1;
    let mut sets = Vec::new();
    for (nth, &time) in times.iter().enumerate() {
        let belongs = |value: usize| {
            if times.len() == 1 {
                return true;
            }
            let before = nth.checked_sub(1).and_then(|nth| times.get(nth)).copied();
            let next = times.get(nth + 1).copied();
            if after {
                value < time && before.is_none_or(|before| value > before)
            } else {
                value > time && next.is_none_or(|next| value < next)
            }
        };
        let mine: Vec<usize> = values.iter().copied().filter(|&value| belongs(value)).collect();
        if mine.is_empty() {
            let both = names.columns.get(time).is_some_and(|name| says_both(&name.written));
            let source = if both { Source::Edges } else { Source::Events };
            sets.push(Set { label: label(time), source, time, value: None });
            continue;
        }
        for (run, value) in best_of_each(&mine, roles, &label) {
            let role = roles.get(value).map_or(Role::Ignored, |role| role.value);
            let source = super::roles::kind_of(role).map_or(Source::States, Source::Samples);
            sets.push(Set { label: run.or_else(|| label(time)), source, time, value: Some(value) });
        }
    }
    sets
}

/// Of columns that belong to one column of times: one for each run, the best quantity of those it has.
fn best_of_each(
    mine: &[usize],
    roles: &[Guess<Role>],
    label: &dyn Fn(usize) -> Option<String>,
) -> Vec<(Option<String>, usize)> {
    let rank = |index: usize| roles.get(index).and_then(|role| preference(role.value)).unwrap_or(u8::MAX);
    let best = mine.iter().map(|&index| rank(index)).min().unwrap_or(u8::MAX);
    // The same quantity several times: as many runs. Other quantities are the same runs' again.
    mine.iter().filter(|&&index| rank(index) == best).map(|&index| (label(index), index)).collect()
}

/// Whether each second time comes after its first and before the next first.
fn interleaved(block: &Block, first: usize, second: usize) -> bool {
    let (Some(first), Some(second)) = (block.columns.get(first), block.columns.get(second)) else {
        return false;
    };
    let pairs: Vec<(f64, f64)> = first.numbers.iter().copied().zip(second.numbers.iter().copied()).collect();
    let present = |pair: &&(f64, f64)| !pair.0.is_nan() && !pair.1.is_nan();
    let inside = pairs.iter().filter(present).filter(|pair| pair.1 > pair.0).count();
    let next = pairs.windows(2).filter(|two| matches!(two, [a, b] if a.1 < b.0)).count();
    let all = pairs.iter().filter(present).count();
    all > 2 && inside == all && (next + 1) * 10 >= all * 9
}

/// Rows of each group in the order in which the groups begin, with the group's first row.
fn groups(block: &Block, told: &[Option<usize>]) -> Result<Vec<(Picked, usize)>, ReadingError> {
    let columns: Vec<_> = told.iter().flatten().filter_map(|&index| block.columns.get(index)).collect();
    let count = block.lines.len();
    if columns.is_empty() {
        return Ok(vec![(Picked::All(count), 0)]);
    }
    let key = |row: usize| -> Vec<u64> {
        let part = |column: &&super::table::ColumnData| match column.words.get(row) {
            Some(word) => u64::from(*word),
            None => column.numbers.get(row).copied().unwrap_or(f64::NAN).to_bits(),
        };
        columns.iter().map(part).collect()
    };
    let mut groups: Vec<(Vec<u64>, Vec<usize>, usize)> = Vec::new();
    let mut last = 0;
    for row in 0..count {
        let key = key(row);
        // Rows of a run mostly stand together.
        if groups.get(last).is_none_or(|group| group.0 != key) {
            last = match groups.iter().position(|group| group.0 == key) {
                Some(place) => place,
                None if groups.len() >= MAX_RUNS => {
                    let limit = words::readings::runs(&MAX_RUNS);
                    let line = block.lines.of(row);
                    let kind =
                        ReadingErrorKind::TooLarge { found: words::readings::more_than(&limit), limit };
                    return Err(ReadingError { line, column: 1, kind });
                }
                None => {
                    groups.push((key, Vec::new(), row));
                    groups.len() - 1
                }
            };
        }
        if let Some(group) = groups.get_mut(last) {
            group.1.push(row);
        }
    }
    Ok(groups.into_iter().map(|(_, rows, first)| (Picked::These(rows.into()), first)).collect())
}

fn about_group(
    block: &Block,
    names: &Names,
    roles: &[Guess<Role>],
    told: &[Option<usize>],
    row: usize,
) -> About {
    let mut about = names.about.clone();
    let text = |which: usize| -> Option<String> {
        let column = block.columns.get((*told.get(which)?)?)?;
        let word = column.word(row).filter(|word| !word.is_empty()).map(str::to_owned);
        word.or_else(|| column.numbers.get(row).filter(|value| !value.is_nan()).map(ToString::to_string))
    };
    about.run = text(0).or(about.run);
    about.carries = text(1).or(about.carries);
    if let Some(Some(index)) = told.get(2) {
        let factor = roles.get(*index).map_or(1.0, |role| role.value.factor());
        let number = block.columns.get(*index).and_then(|column| column.numbers.get(row)).copied();
        let written = text(2).and_then(|word| mass(&word, &UnitFound::None));
        let kilograms = number.map(|number| number * factor).filter(|value| *value > 0.0).map(Kilograms);
        about.hanging_mass = kilograms.or(written).or(about.hanging_mass);
    }
    about.motion = text(3).and_then(|word| motion_word(&word)).or(about.motion);
    about
}

fn standing<'b>(block: &'b Block, roles: &[Guess<Role>], set: &Set, rows: Picked) -> Option<Standing<'b>> {
    let scaling = |index: usize| Scaling::of(roles.get(index).map_or(1.0, |role| role.value.factor()));
    let column = set.value.and_then(|index| block.columns.get(index));
    let values = column.map(|column| match set.source {
        Source::States => Cow::Owned(state_values(column)),
        _ => Cow::Borrowed(column.numbers.as_slice()),
    });
    Some(Standing {
        times: &block.columns.get(set.time)?.numbers,
        time_scaling: scaling(set.time),
        values,
        value_scaling: match set.source {
            Source::States => Scaling::of(1.0),
            _ => set.value.map_or(Scaling::of(1.0), scaling),
        },
        rows,
        lines: &block.lines,
    })
}

/// 1 where the gate is blocked, 0 where it is open.
fn state_values(column: &super::table::ColumnData) -> Vec<f64> {
    if column.words.is_empty() {
        return column
            .numbers
            .iter()
            .map(|&value| if value.is_nan() { value } else { f64::from(u8::from(value > 0.5)) })
            .collect();
    }
    let blocked = |word: &String| match word.as_str() {
        "1" => 1.0,
        "0" => 0.0,
        word => super::headings::state_word(word).map_or(f64::NAN, |blocked| f64::from(u8::from(blocked))),
    };
    let by_word: Vec<f64> = column.vocabulary.iter().map(blocked).collect();
    let of = |word: &u32| usize::try_from(*word).ok().and_then(|word| by_word.get(word)).copied();
    column.words.iter().map(|word| of(word).unwrap_or(f64::NAN)).collect()
}
