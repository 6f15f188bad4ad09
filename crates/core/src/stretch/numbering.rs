//! Which spoke each edge belongs to: an edge counted twice is dropped, an edge that was missed is
//! counted.

use super::curve::{Curve, Point};

/// Gate edges after cleaning: every edge carries the number of the spoke position it stands for.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct NumberedEdges {
    /// In s.
    pub times: Vec<f64>,
    /// Spokes passed since the first edge.
    pub numbers: Vec<u32>,
    /// Edges dropped: the gate switched more than once at one spoke.
    pub bounced: usize,
    /// Edges that should be there and are not.
    pub missed: usize,
}

/// A second edge this soon, as a part of both intervals around it, is the same spoke again. Intervals
/// of a fall from rest shorten by 0.41 at most from one to the next.
const BOUNCE: f64 = 0.3;

/// A gap is looked at when it is this much longer than both its neighbours.
const GAP: f64 = 1.25;

/// More missed edges in a row than this are a pause.
const MOST_MISSED: u32 = 3;

/// Edges looked at on each side of a gap.
const AROUND: usize = 4;

/// A parabola that goes through the edges around a gap this well (in spokes) explains it.
const EXPLAINED: f64 = 0.04;

/// Cleans and numbers gate edges; times that do not come after the one before count as bounced.
///
/// A missed edge shows as an interval twice too long while the edges around it lie on one parabola
/// when one is counted in; anything else that is long is a pause and counts as one spoke.
pub fn number_edges(times: &[f64]) -> NumberedEdges {
    let mut found = NumberedEdges { times: kept(times), ..NumberedEdges::default() };
    found.bounced = times.len() - found.times.len();
    let times = &found.times;
    let mut number = 0;
    for index in 0..times.len() {
        if index > 0 {
            let missed = missed_before(times, &found.numbers, index);
            number += 1 + missed;
            found.missed += missed as usize;
        }
        found.numbers.push(number);
    }
    found
}

/// The edges that are not the same spoke again.
fn kept(times: &[f64]) -> Vec<f64> {
    let mut kept: Vec<f64> = Vec::with_capacity(times.len());
    for (index, &time) in times.iter().enumerate() {
        if !time.is_finite() {
            continue;
        }
        let Some(&last) = kept.last() else {
            kept.push(time);
            continue;
        };
        let interval = time - last;
        let before = match kept.as_slice() {
            [.., a, b] => b - a,
            // Before the first interval of all there is none: the interval after decides.
            _ => f64::INFINITY,
        };
        let after = |steps: usize| {
            let from = times.get(index + steps).copied().unwrap_or(f64::INFINITY);
            times.get(index + steps + 1).copied().unwrap_or(f64::INFINITY) - from
        };
        let next = after(0);
        // A spoke that switches the gate three times or more: the interval after the last of them counts.
        let soon = interval < BOUNCE * next
            || (next < BOUNCE * before && (interval < BOUNCE * after(1) && next < BOUNCE * after(1)));
        // The last edge of all has nothing after it: the interval before decides. Two edges say nothing.
        if interval > 0.0 && !(interval < BOUNCE * before && soon && before.min(next).is_finite()) {
            kept.push(time);
        }
    }
    kept
}

/// How many edges are missing just before edge `index`.
fn missed_before(times: &[f64], numbers: &[u32], index: usize) -> u32 {
    let interval = |at: usize| match times.get(at.wrapping_sub(1)..=at) {
        Some([a, b]) => b - a,
        _ => 0.0,
    };
    let gap = interval(index);
    if gap <= GAP * interval(index - 1) || gap <= GAP * interval(index + 1) {
        return 0;
    }
    let start = index.saturating_sub(AROUND);
    // Not across another gap.
    let mut end = (index + 2).min(times.len());
    while end < index + AROUND && end < times.len() && interval(end) < GAP * interval(end - 1) {
        end += 1;
    }
    let misfit = |missed: u32| {
        let last = numbers.last().copied().unwrap_or(0);
        let mut points = Vec::with_capacity(2 * AROUND);
        for (offset, &time) in times.get(start..end).unwrap_or(&[]).iter().enumerate() {
            let at = start + offset;
            let number = match numbers.get(at) {
                Some(&number) => f64::from(number),
                None => f64::from(last) + f64::from(missed) + (at + 1 - index) as f64,
            };
            points.push(Point { time, value: number, weight: 1.0 });
        }
        let curve = Curve::fit(&points, 2, f64::INFINITY);
        // Three edges more than coefficients, or anything is explained.
        if curve.freedom() < 2.0 { f64::INFINITY } else { (curve.squares / curve.freedom()).sqrt() }
    };
    let none = misfit(0);
    let mut best = (0, none);
    for missed in 1..=MOST_MISSED {
        let now = misfit(missed);
        if now < best.1 {
            best = (missed, now);
        }
    }
    if best.1 < EXPLAINED && best.1 < 0.3 * none { best.0 } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Edges of a fall from rest, the first `phase` of a spoke after the start.
    fn fall(phase: f64, count: u32) -> Vec<f64> {
        (0..count).map(|k| (2.0 * (f64::from(k) + phase) / 30.0).sqrt()).collect()
    }

    #[test]
    fn a_clean_fall_is_left_alone() {
        for phase in [1e-3, 0.2, 0.5, 0.9] {
            let times = fall(phase, 57);
            let found = number_edges(&times);
            assert_eq!((found.bounced, found.missed), (0, 0), "{phase}");
            assert_eq!(found.times, times);
            assert_eq!(found.numbers, (0..57).collect::<Vec<u32>>());
        }
    }

    #[test]
    fn each_missed_edge_is_counted() {
        for gone in 3..54 {
            let mut times = fall(0.3, 57);
            times.remove(gone);
            let found = number_edges(&times);
            assert_eq!(found.missed, 1, "{gone}");
            assert_eq!(found.numbers.last(), Some(&56));
            times.remove(gone);
            assert_eq!(number_edges(&times).missed, 2, "{gone} and the next");
        }
    }

    #[test]
    fn missed_edges_close_together_are_counted() {
        let mut times = fall(0.3, 57);
        times.remove(30);
        times.remove(26);
        let found = number_edges(&times);
        assert_eq!((found.missed, found.numbers.last()), (2, Some(&56)));
    }

    #[test]
    fn edges_counted_twice_or_thrice_are_dropped() {
        let clean = fall(0.3, 57);
        for at in 1..56 {
            let mut times = clean.clone();
            let interval = clean[at + 1] - clean[at];
            times.insert(at + 1, clean[at] + 0.1 * interval);
            let found = number_edges(&times);
            assert_eq!(found.bounced, 1, "{at}");
            assert_eq!(found.times, clean, "{at}");
            times.insert(at + 2, clean[at] + 0.16 * interval);
            assert_eq!(number_edges(&times).times, clean, "{at}");
        }
    }

    #[test]
    fn a_pause_is_no_missed_edge() {
        let mut times: Vec<f64> = (0..12).map(|k| 0.1 * f64::from(k)).collect();
        times.extend(fall(0.4, 40).iter().map(|t| t + 3.0));
        let found = number_edges(&times);
        assert_eq!((found.missed, found.bounced), (0, 0));
    }

    #[test]
    fn odd_slices_are_taken_too() {
        assert_eq!(number_edges(&[]), NumberedEdges::default());
        assert_eq!(number_edges(&[1.0]).numbers, [0]);
        let odd = number_edges(&[1.0, f64::NAN, 1.0, 0.5, 2.0, f64::INFINITY, 2.0, 3.0]);
        assert_eq!(odd.times, [1.0, 2.0, 3.0]);
        assert_eq!(odd.bounced, 5);
    }
}
