//! Broken lines as separate short strokes: backends know no dashes.

use crate::figure::Dash;

/// A line is drawn unbroken when its dashes would be more than this: it is then a thicket of noise, in
/// which no dash could be seen.
const MOST_DASHES: f64 = 2000.0;

/// Length of a stroke and of the gap after it, in CSS pixels.
fn pattern(dash: Dash) -> Option<(f64, f64)> {
    match dash {
        Dash::Solid => None,
        Dash::Dashed => Some((8.0, 5.0)),
        Dash::Dotted => Some((2.5, 4.0)),
    }
}

/// Cuts a line into its strokes. A `Solid` line comes back whole.
pub(super) fn strokes(line: &[(f64, f64)], dash: Dash, scale: f64) -> Vec<Vec<(f64, f64)>> {
    let length: f64 = line.windows(2).map(length_of).sum();
    let Some((stroke, gap)) = pattern(dash).map(|(stroke, gap)| (stroke * scale, gap * scale)) else {
        return vec![line.to_vec()];
    };
    if length > MOST_DASHES * (stroke + gap) {
        return vec![line.to_vec()];
    }
    let mut done = Vec::new();
    let mut current: Vec<(f64, f64)> = line.first().copied().into_iter().collect();
    let (mut pen_is_down, mut left) = (true, stroke);
    for pair in line.windows(2) {
        let &[from, to] = pair else { continue };
        let whole = length_of(pair);
        let mut walked = 0.0;
        while whole - walked > left {
            walked += left;
            let share = walked / whole;
            let here = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            if pen_is_down {
                current.push(here);
                done.push(std::mem::take(&mut current));
            } else {
                current = vec![here];
            }
            pen_is_down = !pen_is_down;
            left = if pen_is_down { stroke } else { gap };
        }
        left -= whole - walked;
        if pen_is_down {
            current.push(to);
        }
    }
    if pen_is_down && current.len() > 1 {
        done.push(current);
    }
    done
}

fn length_of(pair: &[(f64, f64)]) -> f64 {
    match pair {
        [from, to] => (to.0 - from.0).hypot(to.1 - from.1),
        _ => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_and_gaps_alternate_across_corners() {
        // 30 pixels in all, bent after 10: strokes at 0–8, 13–21 and 26–30.
        let line = [(0.0, 0.0), (10.0, 0.0), (10.0, 20.0)];
        let expected = vec![
            vec![(0.0, 0.0), (8.0, 0.0)],
            vec![(10.0, 3.0), (10.0, 11.0)],
            vec![(10.0, 16.0), (10.0, 20.0)],
        ];
        assert_eq!(strokes(&line, Dash::Dashed, 1.0), expected);
    }

    #[test]
    fn a_stroke_that_goes_round_a_corner_keeps_the_corner() {
        let line = [(0.0, 0.0), (4.0, 0.0), (4.0, 20.0)];
        assert_eq!(strokes(&line, Dash::Dashed, 1.0)[0], [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0)]);
    }

    #[test]
    fn the_three_kinds_differ() {
        let line = [(0.0, 0.0), (130.0, 0.0)];
        let counts = [Dash::Solid, Dash::Dashed, Dash::Dotted].map(|dash| strokes(&line, dash, 1.0).len());
        assert_eq!(counts, [1, 10, 20]);
    }

    #[test]
    fn a_thicket_is_drawn_whole_and_nothing_gives_nothing_long() {
        let line: Vec<(f64, f64)> = (0..1000).map(|k| (f64::from(k), f64::from(k % 2) * 400.0)).collect();
        assert_eq!(strokes(&line, Dash::Dotted, 1.0).len(), 1);
        assert!(strokes(&[], Dash::Dashed, 1.0).is_empty());
    }
}
