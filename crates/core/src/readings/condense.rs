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

use super::Readings;
use crate::quantity::Seconds;
use std::fmt::Write as _;

/// Readings that a lab keeps of one run.
pub const MAX_KEPT: usize = 20_000;

/// A time step this many times the median is a gap.
const GAP: f64 = 10.0;

/// Blocks up to this long, in s, hide nothing of when a fall begins and ends: the search for it averages
/// over as much.
const SHORT: f64 = 0.025;

/// What was done to a long record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Condensed {
    /// Readings in the file.
    pub readings: usize,
    /// Readings in a block, at most: blocks between two gaps differ by one, those between close gaps
    /// may be smaller.
    pub block: usize,
    /// How long such a block usually lasts.
    pub lasts: Seconds,
}

impl Condensed {
    /// What was done, for the user.
    pub fn words(self) -> String {
        let (readings, block) = (grouped(self.readings), grouped(self.block));
        let mut words = format!("{readings} readings, averaged in blocks of up to {block}");
        if self.lasts.0 > SHORT {
            let _ = write!(
                words,
                " ({:.2} s): a short fall hardly shows any more; cut the file to the run itself",
                self.lasts.0
            );
        }
        words
    }
}

/// A whole number with commas between its thousands.
fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// Readings a lab can keep: of at most [`MAX_KEPT`] samples as they are, of more the means of neighbors.
///
/// Gate times come back as they are, however many: a mean of edges is no edge.
pub fn condense(readings: Readings) -> (Readings, Option<Condensed>) {
    let (kind, count) = (readings.kind(), readings.count());
    if count <= MAX_KEPT || kind.is_times_alone() {
        return (readings, None);
    }
    let pairs = readings.pairs();
    let (parts, step) = parts(&pairs);
    let block = smallest_block(&parts, count);
    let (mut times, mut values) = (Vec::with_capacity(MAX_KEPT), Vec::with_capacity(MAX_KEPT));
    let mut rest = pairs.as_slice();
    for part in parts {
        // Of nearly the same length, or the last block of a part would scatter more than the others.
        let blocks = part.div_ceil(block);
        // A million readings times twenty thousand blocks is beyond the numbers of a page, which have 32 bits; what
        // is left over times blocks is not.
        let (each, over) = (part / blocks, part % blocks);
        for index in 0..blocks {
            let length = each + (index + 1) * over / blocks - index * over / blocks;
            let (now, later) = rest.split_at(length.min(rest.len()));
            rest = later;
            // Rounding must not carry a time beyond its block.
            let ends = (now.first().map_or(0.0, |pair| pair.0), now.last().map_or(0.0, |pair| pair.0));
            times.push(Seconds(mean(now, |pair| pair.0).max(ends.0).min(ends.1)));
            values.push(mean(now, |pair| pair.1));
        }
    }
    match Readings::from_columns(kind, &times, &values) {
        Ok(kept) => (kept, Some(Condensed { readings: count, block, lasts: Seconds(step * block as f64) })),
        // Means of increasing times increase.
        Err(_) => (readings, None),
    }
}

/// How many readings lie between gaps, in order; and the median time step.
fn parts(pairs: &[(f64, f64)]) -> (Vec<usize>, f64) {
    let step = |pair: &[(f64, f64)]| match pair {
        [one, next] => next.0 - one.0,
        _ => 0.0,
    };
    let mut steps: Vec<f64> = pairs.windows(2).map(step).collect();
    let middle = steps.len() / 2;
    let usual = match steps.get(middle) {
        Some(_) => *steps.select_nth_unstable_by(middle, f64::total_cmp).1,
        None => f64::INFINITY,
    };
    let mut longest = GAP * usual;
    loop {
        let mut parts = Vec::new();
        let mut part = 1;
        for pair in pairs.windows(2) {
            if step(pair) > longest {
                parts.push(part);
                part = 0;
            }
            part += 1;
        }
        parts.push(part);
        if parts.len() <= MAX_KEPT {
            return (parts, usual);
        }
        // More gaps than readings to keep: only longer ones count as gaps then.
        longest *= GAP;
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

/// The mean of one column of a block, counted from its first entry so that no digits are lost.
fn mean(block: &[(f64, f64)], column: fn(&(f64, f64)) -> f64) -> f64 {
    let (first, last) = (block.first().map_or(0.0, column), block.last().map_or(0.0, column));
    let count = block.len().max(1) as f64;
    let above: f64 = block.iter().map(|pair| (column(pair) - first) / count).sum();
    let mean = first + above;
    // Numbers near the end of what can be written overflow.
    if mean.is_finite() { mean } else { f64::midpoint(first, last) }
}

#[cfg(test)]
mod tests;
