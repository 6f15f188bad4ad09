//! Cutting lines and shaded shapes at the edge of the plot area.

use crate::pixel_map::PixelRect;

/// The part of the segment `a`–`b` inside `rect`, or nothing.
///
/// Liang and Barsky (1984): each edge narrows the part of the segment that can be inside.
pub(crate) fn segment(a: (f64, f64), b: (f64, f64), rect: PixelRect) -> Option<((f64, f64), (f64, f64))> {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (toward, room) in
        [(-dx, a.0 - rect.left), (dx, rect.right - a.0), (-dy, a.1 - rect.top), (dy, rect.bottom - a.1)]
    {
        if toward.abs() < 1e-12 {
            if room < 0.0 {
                return None;
            }
        } else if toward < 0.0 {
            start = start.max(room / toward);
        } else {
            end = end.min(room / toward);
        }
    }
    let at = |share: f64| (a.0 + share * dx, a.1 + share * dy);
    (start <= end).then(|| (at(start), at(end)))
}

/// The part of a polygon inside `rect`.
///
/// Sutherland and Hodgman (1974): one pass per edge keeps the corners on the inner side.
pub(crate) fn polygon(corners: &[(f64, f64)], rect: PixelRect) -> Vec<(f64, f64)> {
    let inner: [&dyn Fn((f64, f64)) -> f64; 4] = [
        &|corner| corner.0 - rect.left,
        &|corner| rect.right - corner.0,
        &|corner| corner.1 - rect.top,
        &|corner| rect.bottom - corner.1,
    ];
    let mut shape = corners.to_vec();
    for depth in inner {
        let Some(mut before) = shape.last().copied() else {
            break;
        };
        let mut cut = Vec::with_capacity(shape.len() + 4);
        for corner in shape {
            let (was, is) = (depth(before), depth(corner));
            if (was < 0.0) != (is < 0.0) {
                let share = was / (was - is);
                cut.push((
                    before.0 + share * (corner.0 - before.0),
                    before.1 + share * (corner.1 - before.1),
                ));
            }
            if is >= 0.0 {
                cut.push(corner);
            }
            before = corner;
        }
        shape = cut;
    }
    shape
}

#[cfg(test)]
mod tests {
    use super::*;

    const RECT: PixelRect = PixelRect { left: 0.0, top: 0.0, right: 10.0, bottom: 10.0 };

    #[test]
    fn a_segment_is_cut_where_it_crosses_the_edge() {
        let cases = [
            ((1.0, 1.0), (9.0, 2.0), Some(((1.0, 1.0), (9.0, 2.0)))),
            ((-10.0, 5.0), (20.0, 5.0), Some(((0.0, 5.0), (10.0, 5.0)))),
            ((-5.0, 0.0), (5.0, 10.0), Some(((0.0, 5.0), (5.0, 10.0)))),
            ((-5.0, 0.0), (-5.0, 10.0), None),
            ((11.0, 5.0), (20.0, 5.0), None),
            ((-2.0, 9.0), (3.0, 14.0), None),
        ];
        for (a, b, expected) in cases {
            assert_eq!(segment(a, b, RECT), expected, "{a:?} to {b:?}");
        }
    }

    #[test]
    fn a_triangle_over_a_corner_becomes_its_inner_part() {
        let area = |corners: &[(f64, f64)]| {
            let next = corners.iter().cycle().skip(1);
            let twice: f64 = corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
            twice.abs() / 2.0
        };
        // Left of the square and below x + y = 10: half the square remains.
        let cut = polygon(&[(-10.0, 0.0), (10.0, 0.0), (-10.0, 20.0)], RECT);
        assert!((area(&cut) - 50.0).abs() < 1e-9, "{cut:?}");
        // A right angle at (5, 5) whose slope misses the square: a quarter of it remains.
        let cut = polygon(&[(5.0, 5.0), (15.0, 5.0), (5.0, 15.0)], RECT);
        assert!((area(&cut) - 25.0).abs() < 1e-9, "{cut:?}");
        assert!(polygon(&[(11.0, 0.0), (12.0, 0.0), (12.0, 5.0)], RECT).is_empty());
    }
}
