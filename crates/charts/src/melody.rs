//! A figure over time as a melody: pitch for height, so that a course can be heard.

use crate::figure::{Figure, Ink, Layer};

/// The pitch of the lowest value, in Hz: A₃ (ISO 16 has A₄ at 440 Hz).
const LOWEST: f64 = 220.0;

/// How many octaves lie between the lowest and the highest value.
const OCTAVES: f64 = 2.0;

/// No more tones than this: a dozen a second already sound as one glide.
const MOST_TONES: usize = 240;

/// One tone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tone {
    /// When it begins, in seconds from the start.
    pub at: f64,
    /// Its pitch in Hz.
    pub pitch: f64,
}

/// The layer of points with the most of them, played from left to right in `seconds`; the same distance along x
/// takes the same time, and each octave is the same height. `None` unless x runs in seconds and there are two points.
pub fn melody(figure: &Figure, seconds: f64) -> Option<Vec<Tone>> {
    if figure.x.unit != "s" {
        return None;
    }
    let of_layer = |layer: &Layer| match layer {
        Layer::Points { points, ink, .. } if *ink != Ink::Muted => {
            let finite = points.iter().filter(|point| point.is_finite());
            Some(finite.map(|point| (point.x, point.y)).collect::<Vec<_>>())
        }
        _ => None,
    };
    let mut points = figure.layers.iter().filter_map(of_layer).max_by_key(Vec::len)?;
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (first, last) = (points.first()?.0, points.last()?.0);
    let low = points.iter().map(|point| point.1).fold(f64::INFINITY, f64::min);
    let high = points.iter().map(|point| point.1).fold(f64::NEG_INFINITY, f64::max);
    if points.len() < 2 || last <= first {
        return None;
    }
    let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
    let tone = |&(x, y): &(f64, f64)| Tone {
        at: seconds * share(x - first, last - first),
        pitch: LOWEST * (OCTAVES * share(y - low, high - low)).exp2(),
    };
    Some(points.iter().step_by(points.len().div_ceil(MOST_TONES)).map(tone).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::{Axis, Marker, Point};

    fn figure(unit: &str, points: Vec<Point>) -> Figure {
        let layer = |ink, points| Layer::Points { label: String::new(), ink, marker: Marker::Dot, points };
        Figure {
            name: String::new(),
            x: Axis::new("time t", unit),
            y: Axis::new("velocity v", "m/s"),
            layers: vec![layer(Ink::Muted, vec![Point::new(0.0, 9.0); 50]), layer(Ink::First, points)],
        }
    }

    #[test]
    fn pitch_rises_by_octaves_with_the_height_and_time_is_kept() {
        let points = vec![
            Point::new(2.0, 0.5),
            Point::new(1.0, 0.25),
            Point::new(3.0, 0.75),
            Point::new(2.5, f64::NAN),
        ];
        let tones = melody(&figure("s", points), 4.0).unwrap();
        let expected = [(0.0, 220.0), (2.0, 440.0), (4.0, 880.0)];
        for (tone, (at, pitch)) in tones.iter().zip(expected) {
            assert!((tone.at - at).abs() < 1e-12 && (tone.pitch - pitch).abs() < 1e-9, "{tone:?}");
        }
        assert_eq!(tones.len(), 3);
    }

    #[test]
    fn a_long_record_has_few_tones_and_a_level_one_a_single_pitch() {
        let many: Vec<Point> = (0..20_000).map(|k| Point::new(f64::from(k), 3.0)).collect();
        let tones = melody(&figure("s", many), 4.0).unwrap();
        assert!(tones.len() <= MOST_TONES && tones.iter().all(|tone| (tone.pitch - LOWEST).abs() < 1e-9));
    }

    #[test]
    fn what_is_no_course_in_time_is_not_played() {
        let two = || vec![Point::new(0.0, 1.0), Point::new(1.0, 2.0)];
        assert!(melody(&figure("rad/s²", two()), 4.0).is_none());
        assert!(melody(&figure("s", vec![Point::new(0.0, 1.0)]), 4.0).is_none());
    }
}
