//! Means of blocks fit as the readings themselves do.

use super::*;
use crate::acceleration::{AccelerationFit, Setup, estimate};
use crate::readings::{ReadingKind, Readings};
use crate::runs::Run;
use crate::simulation::random::Random;
use proptest::prelude::*;

fn readings(kind: ReadingKind, rows: &[(f64, f64)]) -> Readings {
    let (times, values): (Vec<Seconds>, Vec<f64>) = rows.iter().map(|row| (Seconds(row.0), row.1)).unzip();
    Readings::from_columns(kind, &times, &values).unwrap()
}

fn condensed(raw: &Readings) -> (Readings, Option<Condensed>) {
    let pairs = raw.pairs();
    let (kept, done) = condense(pairs.len(), &|row| Moment { time: pairs[row].0, value: pairs[row].1 });
    let kept: Vec<(f64, f64)> = kept.iter().map(|moment| (moment.time, moment.value)).collect();
    (readings(raw.kind(), &kept), done)
}

fn fit(readings: &Readings) -> AccelerationFit {
    let setup = Setup { effective_radius: Some(crate::quantity::Meters(0.0255)), ..Setup::default() };
    estimate(&Run::new(readings, None).unwrap(), &setup).unwrap()
}

#[test]
fn a_record_that_can_be_kept_stays_as_it_is() {
    let rows: Vec<(f64, f64)> = (0..30_000).map(|k| (f64::from(k), 0.5)).collect();
    let short = readings(ReadingKind::Velocity, &rows[..MAX_KEPT]);
    assert_eq!(condensed(&short), (short, None));
}

#[test]
fn a_line_stays_the_line_and_a_parabola_moves_as_a_whole() {
    let times = (0..1_000_000).map(|k| 2e-6 * f64::from(k));
    let line: Vec<(f64, f64)> = times.clone().map(|t| (t, 0.1 + 0.4 * t)).collect();
    let (kept, done) = condensed(&readings(ReadingKind::Velocity, &line));
    let done = done.unwrap();
    assert_eq!((done.readings, done.block, kept.count()), (1_000_000, 50, MAX_KEPT));
    assert_eq!(done.words(), "1,000,000 readings, averaged in blocks of up to 50");
    for (time, value) in kept.pairs() {
        assert!((value - (0.1 + 0.4 * time)).abs() < 1e-14);
    }
    let parabola: Vec<(f64, f64)> = times.map(|t| (t, 0.1 * t + 0.2 * t * t)).collect();
    let (kept, _) = condensed(&readings(ReadingKind::Position, &parabola));
    // ½ a var(t); 50 even steps of 2 µs have the variance (50² − 1)/12 steps².
    let beside = 0.2 * (50.0 * 50.0 - 1.0) / 12.0 * 4e-12;
    for (time, value) in kept.pairs() {
        assert!((value - (0.1 * time + 0.2 * time * time) - beside).abs() < 1e-15);
    }
}

#[test]
fn no_block_spans_a_gap() {
    // Bursts of 700 readings, a second apart.
    let rows: Vec<(f64, f64)> =
        (0..70_000).map(|k| (f64::from(k / 700) + 1e-3 * f64::from(k % 700), f64::from(k / 700))).collect();
    let (kept, done) = condensed(&readings(ReadingKind::Position, &rows));
    assert!(done.is_some_and(|done| done.block == 4) && kept.count() == 100 * 175);
    for (time, value) in kept.pairs() {
        assert!(value.fract().abs() < 1e-12 && (value..value + 0.7).contains(&time), "{time} {value}");
    }
    // They last 4 ms, which is fine; of 70,000 s it would not be.
    assert!(done.is_some_and(|done| !done.words().contains("cut the file")));
    let slow: Vec<(f64, f64)> = (0..70_000).map(|k| (f64::from(k), 0.0)).collect();
    assert_eq!(
        condensed(&readings(ReadingKind::Position, &slow)).1.unwrap().words(),
        "70,000 readings, averaged in blocks of up to 4 (4.00 s): a short fall hardly shows any more; cut the file to the run itself"
    );
    // More gaps than readings to keep: the steps grow without end.
    let mut time = 0.0;
    let rows: Vec<(f64, f64)> = (0..60_000)
        .map(|k| {
            time += if k % 2 == 0 { 1.0 } else { 1e3 };
            (time, 0.0)
        })
        .collect();
    assert_eq!(condensed(&readings(ReadingKind::Velocity, &rows)).0.count(), MAX_KEPT);
}

/// What fits of many readings in two seconds and of their means find: a and u(a) each.
fn both_fits(kind: ReadingKind, count: u32, noise: f64, last_digit: f64) -> [(f64, f64); 2] {
    let mut random = Random::new(20_260);
    let rows: Vec<(f64, f64)> = (0..count)
        .map(|k| {
            let t = 2.0 * f64::from(k) / f64::from(count);
            let exact = match kind.degree() {
                0 => 0.42,
                1 => 0.11 + 0.42 * t,
                _ => 0.11 * t + 0.21 * t * t,
            };
            (t, ((exact + noise * random.normal()) / last_digit).round() * last_digit)
        })
        .collect();
    let raw = readings(kind, &rows);
    let kept = condensed(&raw).0;
    [raw, kept].map(|readings| {
        let found = fit(&readings).acceleration;
        (found.value().0, found.standard_uncertainty().0)
    })
}

#[test]
fn fits_of_a_million_readings_and_of_their_means_agree() {
    // Digits finer and coarser than the noise; 130,001 readings make blocks of 6 and 7.
    for (kind, count, noise, digit) in [
        (ReadingKind::Velocity, 130_001, 0.01, 1e-6),
        (ReadingKind::Velocity, 1_000_000, 0.01, 0.02),
        (ReadingKind::Position, 130_001, 0.001, 1e-6),
        (ReadingKind::Position, 1_000_000, 0.001, 0.002),
        (ReadingKind::Acceleration, 130_001, 0.5, 0.01),
        (ReadingKind::Acceleration, 130_001, 0.05, 0.1),
    ] {
        let [(a, u), (kept_a, kept_u)] = both_fits(kind, count, noise, digit);
        let case = format!("{} {count} {noise} {digit}: {a} {u} {kept_a} {kept_u}", kind.key());
        // What differs is how the means weigh readings within a block, and blocks of unlike lengths.
        assert!((kept_a - a).abs() < 0.05 * u, "{case}");
        // The scatter of 20,000 means is known to 1/√(2 · 20,000) = 0.5 %.
        assert!((kept_u / u - 1.0).abs() < 0.02, "{case}");
        assert!((a - 0.42).abs() < 4.0 * u, "{case}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn means_are_in_order_few_and_sum_to_the_same(
        count in 20_001_usize..120_000, seed: u64, gaps in 0.0_f64..0.6, size in -3..6
    ) {
        let mut random = Random::new(seed);
        let mut time = random.between(-1e3, 1e6);
        let rows: Vec<(f64, f64)> = (0..count)
            .map(|_| {
                let gap = random.between(0.0, 1.0) < gaps;
                time += 1e-3 * random.between(0.1, 1.0) * if gap { random.between(1.0, 1e5) } else { 1.0 };
                (time, 10.0_f64.powi(size) * random.normal())
            })
            .collect();
        let raw = readings(ReadingKind::AngularVelocity, &rows);
        let (kept, done) = condensed(&raw);
        let done = done.unwrap();
        prop_assert!(kept.count() <= MAX_KEPT && kept.kind() == raw.kind() && done.readings == count);
        // Every mean belongs to the readings up to it: they are in order, none is left out or counted twice.
        let (parts, _) = parts(rows.len(), &|row| Moment { time: rows[row].0, value: rows[row].1 });
        prop_assert_eq!(parts.iter().sum::<usize>(), count);
        let lengths = parts.iter().flat_map(|part| {
            let blocks = part.div_ceil(done.block);
            (0..blocks).map(move |index| (index + 1) * part / blocks - index * part / blocks)
        });
        let (mut start, mut total) = (0, (0.0, 0.0));
        for ((time, value), length) in kept.pairs().into_iter().zip(lengths) {
            let block = &rows[start..start + length];
            start += length;
            prop_assert!(length <= done.block && block[0].0 <= time && time <= block[length - 1].0);
            total.0 += (time - rows[0].0) * length as f64;
            total.1 += value * length as f64;
        }
        prop_assert_eq!(start, count);
        let (span, largest) = (time - rows[0].0, 6.0 * 10.0_f64.powi(size));
        let sum = rows.iter().fold((0.0, 0.0), |sum, row| (sum.0 + row.0 - rows[0].0, sum.1 + row.1));
        prop_assert!((total.0 - sum.0).abs() <= 1e-12 * (span + 1e6) * count as f64);
        prop_assert!((total.1 - sum.1).abs() <= 1e-12 * largest * count as f64);
    }
}
