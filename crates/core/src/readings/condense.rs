//! Long records → records a lab keeps: means of neighbors in place of samples.
//!
//! A file may hold millions of samples, a lab keeps [`MAX_KEPT`] of a run. Samples are put together in blocks
//! of neighbors, each replaced by its mean time and mean value. What that loses:
//!
//! ```text
//! values on a line        nothing: the mean lies on the line
//! values on a parabola    nothing of its curvature: every block of the same length lies beside the parabola
//!                         by the same ½ a var(t), where var(t) is the variance of the times in a block
//! their scatter           goes down as that of means does; what neighbors share in errors is seen as before
//! ```
//!
//! What it can lose is a fall that lasts only a few blocks of a very long record; [`Condensed::words`] says so.
//!
//! A block never spans a gap in the record, a time step more than [`GAP`] times the usual one: it would be
//! long, and var(t) large there. So every block is short, and what remains of a bend within it lies far
//! below the scatter.

use super::standing::{Moment, pieces};
use crate::quantity::Seconds;
use whorl_words as words;

/// Readings that a lab keeps of one run.
pub const MAX_KEPT: usize = 20_000;

/// A time step this many times the usual one is a gap.
const GAP: f64 = 10.0;

/// Time steps that tell which is usual.
const LOOKED_AT: usize = 1 << 12;

/// Blocks up to this long, in s, hide nothing of when a fall begins and ends: the search for it averages
/// over as much.
const SHORT: f64 = 0.025;

/// What was done to a long record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Condensed {
    /// Readings in the file.
    pub(super) readings: usize,
    /// Readings in a block, at most: blocks between two gaps differ by one, those between close gaps
    /// may be smaller.
    pub(super) block: usize,
    /// How long such a block usually lasts.
    pub(super) lasts: Seconds,
}

impl Condensed {
    /// What was done, for the user.
    pub(super) fn words(self) -> String {
        let (readings, block) = (grouped(self.readings), grouped(self.block));
        if self.lasts.0 > SHORT {
            words::readings::averaged_in_long_blocks(&readings, &block, &words::number(self.lasts.0, 2))
        } else {
            words::readings::averaged(&readings, &block)
        }
    }
}

/// A whole number with commas between its thousands; with thin spaces, where the comma is the decimal mark.
fn grouped(number: usize) -> String {
    let between = match words::decimal_mark() {
        words::DecimalMark::Point => ',',
        words::DecimalMark::Comma => '\u{202f}',
    };
    let digits = number.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(between);
        }
        text.push(digit);
    }
    text
}

/// Rows a lab can keep: of at most [`MAX_KEPT`] as they are, of more the means of neighbors.
///
/// `moment` gives the rows, which are in order of time.
#[inline(never)]
pub(super) fn condense(count: usize, moment: &impl Fn(usize) -> Moment) -> (Vec<Moment>, Option<Condensed>) {
    if count <= MAX_KEPT {
        return ((0..count).map(moment).collect(), None);
    }
    let (parts, step) = parts(count, moment);
    let block = smallest_block(&parts, count);
    let mut kept = Vec::with_capacity(MAX_KEPT);
    let mut start = 0;
    for part in parts {
        // Of nearly the same length, or the last block of a part would scatter more than the others.
        let blocks = part.div_ceil(block);
        // A million readings times twenty thousand blocks is beyond the numbers of a page, which have 32 bits; what
        // is left over times blocks is not.
        let (each, over) = (part / blocks, part % blocks);
        for index in 0..blocks {
            let length = each + (index + 1) * over / blocks - index * over / blocks;
            kept.push(mean(start..start + length, moment));
            start += length;
        }
    }
    (kept, Some(Condensed { readings: count, block, lasts: Seconds(step * block as f64) }))
}

/// How many rows lie between gaps, in order; and the usual time step.
fn parts(count: usize, moment: &impl Fn(usize) -> Moment) -> (Vec<usize>, f64) {
    let usual = usual_step(count, moment);
    let mut longest = GAP * usual;
    loop {
        // The first row behind each gap.
        let mut starts = vec![0];
        for piece in pieces(count - 1) {
            gaps(piece, longest, moment, &mut starts);
        }
        if starts.len() <= MAX_KEPT {
            let ends = starts.iter().copied().skip(1).chain([count]);
            return (starts.iter().zip(ends).map(|(start, end)| end - start).collect(), usual);
        }
        // More gaps than readings to keep: only longer ones count as gaps then.
        longest *= GAP;
    }
}

#[inline(never)]
fn gaps(
    piece: core::ops::Range<usize>,
    longest: f64,
    moment: &impl Fn(usize) -> Moment,
    starts: &mut Vec<usize>,
) {
    let mut before = moment(piece.start).time;
    for row in piece.map(|row| row + 1) {
        let time = moment(row).time;
        if time - before > longest {
            starts.push(row);
        }
        before = time;
    }
}

/// The median of time steps here and there in the record: of all of a short one, of [`LOOKED_AT`] of a long one.
fn usual_step(count: usize, moment: &impl Fn(usize) -> Moment) -> f64 {
    // Multiples of the golden ratio, less their whole part, lie evenly and keep no time with anything.
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let steps = count - 1;
    let row = |nth: usize| {
        let share = (nth as f64 * golden).fract();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at least 0, below steps"
        )]
        let row = (share * steps as f64) as usize;
        row
    };
    let mut looked_at: Vec<f64> = (0..steps.min(LOOKED_AT))
        .map(|nth| if steps > LOOKED_AT { row(nth) } else { nth })
        .map(|row| moment(row + 1).time - moment(row).time)
        .collect();
    let middle = looked_at.len() / 2;
    match looked_at.get(middle) {
        Some(_) => *looked_at.select_nth_unstable_by(middle, f64::total_cmp).1,
        None => f64::INFINITY,
    }
}

/// The smallest block that leaves no more than [`MAX_KEPT`] of them.
fn smallest_block(parts: &[usize], count: usize) -> usize {
    let (mut low, mut high) = (count.div_ceil(MAX_KEPT), count);
    while low < high {
        let block = low + (high - low) / 2;
        let blocks: usize = parts.iter().map(|part| part.div_ceil(block)).sum();
        if blocks <= MAX_KEPT {
            high = block;
        } else {
            low = block + 1;
        }
    }
    low
}

/// The mean of a block, counted from its first row so that no digits are lost.
#[inline(never)]
fn mean(block: core::ops::Range<usize>, moment: &impl Fn(usize) -> Moment) -> Moment {
    let share = 1.0 / block.len().max(1) as f64;
    let (first, last) = (moment(block.start), moment(block.end.saturating_sub(1)));
    let (mut later, mut above) = (0.0, 0.0);
    for row in block {
        let Moment { time, value } = moment(row);
        later += (time - first.time) * share;
        above += (value - first.value) * share;
    }
    // Numbers near the end of what can be written overflow.
    let or_middle =
        |mean: f64, ends: (f64, f64)| if mean.is_finite() { mean } else { f64::midpoint(ends.0, ends.1) };
    let time = or_middle(first.time + later, (first.time, last.time));
    Moment {
        // Rounding must not carry a time beyond its block.
        time: time.max(first.time).min(last.time),
        value: or_middle(first.value + above, (first.value, last.value)),
    }
}

#[cfg(test)]
mod tests;
