//! Fewer points, same picture.
//!
//! Where more than four points fall on one pixel column, only the first, the lowest, the highest and the
//! last can be told apart on paper. Keeping those four draws the same line several times faster.

/// No more than this many points of a layer are kept in one pixel column.
pub const MOST_PER_COLUMN: usize = 4;

/// A corner in pixels and the place it had in its layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Corner {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) index: usize,
}

/// Thins a connected line, in drawing order: each stay within one column of width `column` becomes four
/// corners at most.
pub(crate) fn thin_line(corners: &[Corner], column: f64) -> Vec<Corner> {
    let mut kept = Vec::with_capacity(corners.len().min(4096));
    for stay in corners.chunk_by(|a, b| column_of(a.x, column) == column_of(b.x, column)) {
        keep_four(stay, &mut kept);
    }
    kept
}

/// Thins separate points, which may come in any order.
pub(crate) fn thin_points(mut corners: Vec<Corner>, column: f64) -> Vec<Corner> {
    if corners.len() <= MOST_PER_COLUMN {
        return corners;
    }
    // A stable sort: within a column, first and last stay the first and last of the layer.
    sort(&mut corners, &|corner| column_of(corner.x, column));
    let mut kept = thin_line(&corners, column);
    sort(&mut kept, &|corner| i64::try_from(corner.index).unwrap_or(i64::MAX));
    kept
}

/// One copy of the sort for both keys: it is 4 kB of the page.
fn sort(corners: &mut [Corner], key: &dyn Fn(&Corner) -> i64) {
    corners.sort_by_key(|corner| key(corner));
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the cast saturates, and columns beyond that are off any paper"
)]
pub(super) fn column_of(x: f64, column: f64) -> i64 {
    (x / column).floor() as i64
}

fn keep_four(stay: &[Corner], kept: &mut Vec<Corner>) {
    let (Some(first), Some(last)) = (stay.first(), stay.last()) else {
        return;
    };
    if stay.len() <= MOST_PER_COLUMN {
        kept.extend_from_slice(stay);
        return;
    }
    let (mut lowest, mut highest) = ((0, *first), (0, *first));
    for (place, corner) in stay.iter().enumerate() {
        if corner.y < lowest.1.y {
            lowest = (place, *corner);
        }
        if corner.y > highest.1.y {
            highest = (place, *corner);
        }
    }
    let last_place = stay.len() - 1;
    let (early, late) = if lowest.0 <= highest.0 { (lowest, highest) } else { (highest, lowest) };
    kept.push(*first);
    if early.0 > 0 && early.0 < last_place {
        kept.push(early.1);
    }
    if late.0 > early.0 && late.0 < last_place {
        kept.push(late.1);
    }
    kept.push(*last);
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn corners(points: &[(f64, f64)]) -> Vec<Corner> {
        points.iter().enumerate().map(|(index, (x, y))| Corner { x: *x, y: *y, index }).collect()
    }

    #[test]
    fn first_lowest_highest_and_last_of_a_column_are_kept_in_order() {
        let line = corners(&[(2.0, 5.0), (2.1, 9.0), (2.2, 6.0), (2.3, 1.0), (2.4, 4.0), (2.5, 5.5)]);
        let kept: Vec<usize> = thin_line(&line, 1.0).iter().map(|corner| corner.index).collect();
        assert_eq!(kept, [0, 1, 3, 5]);
    }

    #[test]
    fn four_points_in_a_column_are_all_kept() {
        let line = corners(&[(0.1, 1.0), (0.2, 2.0), (0.3, 1.5), (0.4, 1.2), (1.1, 3.0)]);
        assert_eq!(thin_line(&line, 1.0), line);
    }

    proptest! {
        #[test]
        fn every_column_keeps_its_extremes_and_no_more_than_four(
            points in prop::collection::vec((0.0..12.0_f64, -50.0..50.0_f64), 0..300),
        ) {
            let all = corners(&points);
            let kept = thin_points(all.clone(), 1.0);
            prop_assert!(kept.windows(2).all(|pair| pair[0].index < pair[1].index), "the layer's order");
            for column in 0..12_i64 {
                let here = |corner: &&Corner| column_of(corner.x, 1.0) == column;
                let before: Vec<f64> = all.iter().filter(here).map(|corner| corner.y).collect();
                let after: Vec<f64> = kept.iter().filter(here).map(|corner| corner.y).collect();
                prop_assert!(after.len() <= MOST_PER_COLUMN && (before.len() > MOST_PER_COLUMN || after.len() == before.len()));
                let ends = |values: &[f64]| values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(*value), high.max(*value)));
                prop_assert_eq!(ends(&before), ends(&after));
                prop_assert_eq!((before.first(), before.last()), (after.first(), after.last()));
            }
        }
    }
}
