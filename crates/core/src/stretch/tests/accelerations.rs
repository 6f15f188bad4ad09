//! Records of accelerations: a hand, a fall and what ends it, simulated.

use super::*;
use crate::simulation::random::Random;

/// What comes after a fall.
#[derive(Clone, Copy, Debug, PartialEq)]
enum End {
    /// The mass lands and lies still.
    Landing,
    /// The string runs off, the mass is thrown back and climbs as the string winds up again.
    Climb,
}

/// How long a part of a record lasts, and its acceleration a time after its beginning.
type Part = (f64, Box<dyn Fn(f64) -> f64>);

/// A record at 100 Hz with a sensor 0.01 m/s² off; and when the fall began and ended.
fn record(random: &mut Random, noise: f64, end: End, sign: f64) -> (Readings, f64, f64, f64) {
    let a = random.between(0.15, 0.9);
    let lasts = (2.0 * random.between(0.6, 0.9) / a).sqrt();
    let mut parts: Vec<Part> = vec![(random.between(0.3, 3.0), Box::new(|_| 0.0))];
    // Wound up by hand, in pulls that start and stop.
    for _ in 0..random.index(6) {
        let (length, size) = (random.between(0.3, 0.8), random.between(0.5, 3.0));
        let wave = move |t: f64| -size * (core::f64::consts::TAU * t / length).sin();
        parts.push((length, Box::new(wave)));
        parts.push((random.between(0.0, 0.5), Box::new(|_| 0.0)));
    }
    parts.push((random.between(0.3, 2.0), Box::new(|_| 0.0)));
    let from: f64 = parts.iter().map(|part| part.0).sum();
    parts.push((lasts, Box::new(move |_| a)));
    let speed = a * lasts;
    let jolt = random.between(0.01, 0.04);
    match end {
        End::Landing => {
            parts.push((jolt, Box::new(move |_| -speed / jolt)));
            parts.push((random.between(0.5, 2.0), Box::new(|_| 0.0)));
        }
        End::Climb => {
            let up = 1.1 * a;
            let back = random.between(0.7, 0.95) * speed;
            parts.push((jolt, Box::new(move |_| -(speed + back) / jolt)));
            parts.push((back / up, Box::new(move |_| up)));
            parts.push((random.between(0.3, 1.0), Box::new(|_| 0.0)));
        }
    }
    let (mut begin, mut rows, mut k) = (0.0, Vec::new(), 0.0);
    for (length, value) in parts {
        while 0.01 * k < begin + length {
            let exact = value(0.01 * k - begin) + 0.01;
            rows.push((Seconds(0.01 * k), MetersPerSecond2(sign * (exact + noise * random.normal()))));
            k += 1.0;
        }
        begin += length;
    }
    (Readings::Acceleration(Series::new(rows).unwrap()), from, from + lasts, a)
}

#[test]
fn the_fall_is_found_among_accelerations() {
    for (end, noise) in [(End::Landing, 0.02), (End::Landing, 0.1), (End::Climb, 0.02), (End::Climb, 0.1)] {
        let (mut usable, mut silently_wrong, mut rises) = (0, 0, 0);
        for number in 0..200 {
            let mut random = Random::new(31_415).fork(number);
            let sign = if number % 2 == 0 { 1.0 } else { -1.0 };
            let (readings, from, to, a) = record(&mut random, noise, end, sign);
            let found = find(&readings, None, None);
            rises += u32::from(found.rise.is_some());
            let good = found.best.is_some_and(|best| {
                let (start, stop) = (best.stretch.from().0, best.stretch.to().0);
                // Samples are averaged over 20 ms: the mean over the release stands in the first of them.
                let inside = start > from - 0.02 && stop < to + 0.02;
                let error = sign * best.acceleration_roughly / a - 1.0;
                // The sensor is 0.01 m/s² off, up to 7 % of the smallest fall.
                inside && stop - start > 0.7 * (to - from) && error.abs() < 0.12
            });
            usable += u32::from(good);
            silently_wrong += u32::from(!good && found.doubts.is_empty());
        }
        let told = format!(
            "{end:?}, {noise} m/s²: usable {usable}, {silently_wrong} wrong without a word, {rises} climbs"
        );
        println!("{told}");
        assert!(usable >= 196 && silently_wrong <= 1, "{told}");
        assert!(if end == End::Climb { rises >= 100 } else { rises == 0 }, "{told}");
    }
}
