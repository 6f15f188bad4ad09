//! Tests of the whole records.

use super::*;
use crate::simulation::random::Random;

const PER_KIND: u64 = 40;

fn records(kind: Kind) -> Vec<RawRun> {
    (0..PER_KIND).map(|number| any_raw_run(kind, &mut Random::new(21).fork(number))).collect()
}

fn all_records(mut check: impl FnMut(&RawRun)) {
    for kind in Kind::ALL {
        records(kind).iter().for_each(&mut check);
    }
}

/// Constant acceleration from three times and the ways between them: the change of the mean speed over half
/// the time.
fn acceleration(times: [f64; 3], ways: [f64; 2]) -> f64 {
    let speeds = [ways[0] / (times[1] - times[0]), ways[1] / (times[2] - times[1])];
    2.0 * (speeds[1] - speeds[0]) / (times[2] - times[0])
}

#[test]
fn kinds_have_words_of_their_own() {
    let mut words = Kind::ALL.map(Kind::words).to_vec();
    words.sort_unstable();
    words.dedup();
    assert_eq!(words.len(), Kind::ALL.len());
}

#[test]
fn times_rise_and_every_fall_lies_in_the_record() {
    all_records(|run| {
        let kind = run.kind;
        assert!(run.gate_times_s.is_sorted(), "{kind:?}");
        assert!(!run.free_falls.is_empty(), "{kind:?}");
        for fall in &run.free_falls {
            assert!(fall.edges.len() >= 12, "{kind:?}: {:?}", fall.edges);
            assert!(fall.edges.end <= run.gate_times_s.len(), "{kind:?}");
            assert!(fall.acceleration_m_per_s2 > 0.0 && fall.to_s > fall.from_s, "{kind:?}");
        }
    });
}

#[test]
fn in_each_fall_the_edges_show_its_acceleration() {
    all_records(|run| {
        let travel = run.travel_per_spoke_m;
        for fall in &run.free_falls {
            // Over the whole fall, so that 20 µm, 1 ms or 1 % of a spoke hardly show. Edges missed or seen
            // twice would have to be counted otherwise.
            if matches!(run.kind, Kind::MissedEdge | Kind::BouncedEdges | Kind::Everything) {
                continue;
            }
            let (first, last) = (fall.edges.start, fall.edges.end - 1);
            let middle = usize::midpoint(first, last);
            let ways = [middle - first, last - middle].map(|edges| edges as f64 * travel);
            let found = acceleration([first, middle, last].map(|edge| run.gate_times_s[edge]), ways);
            let relative = found / fall.acceleration_m_per_s2 - 1.0;
            assert!(relative.abs() < 0.02, "{:?}: {relative}", run.kind);
        }
    });
}

#[test]
fn each_kind_is_what_its_words_say() {
    all_records(|run| {
        let times = &run.gate_times_s;
        let (first, last) = (&run.free_falls[0], &run.free_falls[run.free_falls.len() - 1]);
        let before = first.edges.start;
        let after = times.len() - last.edges.end;
        let kind = run.kind;
        let fits = match kind {
            Kind::Clean | Kind::CoarseClock | Kind::UnequalSpokes => {
                before == 0 && after == 0 && [56, 57].contains(&times.len())
            }
            Kind::MissedEdge => before == 0 && after == 0 && [55, 56].contains(&times.len()),
            Kind::BouncedEdges => before == 0 && times.len() >= 57,
            Kind::SmoothWinding | Kind::JerkyWinding => before >= 55 && after == 0,
            Kind::LongPause => before >= 55 && times[before] - times[before - 1] > 6.0,
            Kind::Rewind => before == 0 && after >= 3,
            Kind::CaughtByHand => before == 0 && first.edges.len() < 56,
            Kind::SoftRelease => after == 0 && times.len() >= 56 && first.from_s > 0.6,
            Kind::FloorLanding => before == 0 && after >= 1,
            Kind::FloorBounce => before == 0,
            Kind::ShortDrop => before == 0 && after == 0 && (25..=30).contains(&times.len()),
            Kind::TwoDrops => run.free_falls.len() == 2 && last.edges.start > first.edges.end + 30,
            Kind::StringSlip => run.free_falls.len() == 2 && before == 0 && after == 0,
            // Some of the fall's edges lie in the push before it.
            Kind::Pushed => times.len() >= 56 && after == 0,
            Kind::Everything => before >= 55 && after >= 1,
        };
        assert!(fits, "{kind:?}: {before} before, {:?}, {after} after", run.free_falls);
        assert_eq!(run.ambiguous, run.free_falls.len() > 1, "{kind:?}");
    });
}

#[test]
fn a_coarse_clock_counts_milliseconds_and_a_slip_runs_faster_than_the_fall() {
    for run in records(Kind::CoarseClock) {
        for time in &run.gate_times_s {
            assert!((time * 1e3 - (time * 1e3).round()).abs() < 1e-9);
        }
    }
    for run in records(Kind::StringSlip) {
        let [before, after] = run.free_falls.as_slice() else { panic!("two falls") };
        assert!((before.acceleration_m_per_s2 / after.acceleration_m_per_s2 - 1.0).abs() < 1e-12);
        // While it slips, less than the drum holds the mass back.
        assert!(after.from_s > before.to_s && after.from_s - before.to_s < 0.3);
    }
}

#[test]
fn bounces_come_close_behind_their_edges() {
    for run in records(Kind::BouncedEdges) {
        let gaps = run.gate_times_s.windows(2).map(|pair| pair[1] - pair[0]);
        let least = gaps.fold(f64::INFINITY, f64::min);
        assert!(least < 2.2e-3, "{least}");
    }
}

#[test]
fn a_seed_gives_one_record_and_others_others() {
    for kind in Kind::ALL {
        let one = any_raw_run(kind, &mut Random::new(6));
        assert_eq!(one, any_raw_run(kind, &mut Random::new(6)));
        assert_ne!(one.gate_times_s, any_raw_run(kind, &mut Random::new(7)).gate_times_s);
    }
}

#[test]
fn unequal_spokes_stand_unevenly_by_a_hundredth() {
    // What the times say of each edge's way, less the even one: noise of 20 µm and offsets of 150 µm.
    let (mut squares, mut count) = (0.0, 0.0);
    for run in records(Kind::UnequalSpokes) {
        let fall = &run.free_falls[0];
        let ways: Vec<(f64, f64)> = (0_u32..)
            .zip(&run.gate_times_s)
            .map(|(k, time)| (*time, f64::from(k) * run.travel_per_spoke_m))
            .collect();
        let a = fall.acceleration_m_per_s2;
        // x = x₀ + v₀ (t − t₀) + ½ a (t − t₀)²: x₀ and v₀ from the ends, where the mean of ten spokes is even.
        let mean = |part: &[(f64, f64)], value: &dyn Fn(&(f64, f64)) -> f64| {
            part.iter().map(value).sum::<f64>() / part.len() as f64
        };
        let start = ways[0].0;
        let rest = |way: &(f64, f64)| way.1 - 0.5 * a * (way.0 - start).powi(2);
        let (early, late) = (&ways[..10], &ways[40..50]);
        let time = |way: &(f64, f64)| way.0 - start;
        let speed = (mean(late, &rest) - mean(early, &rest)) / (mean(late, &time) - mean(early, &time));
        let place = mean(early, &rest) - speed * mean(early, &time);
        for way in &ways[..50] {
            squares += (rest(way) - place - speed * time(way)).powi(2);
            count += 1.0;
        }
    }
    // 40 pulleys of nine free spokes each: five standard deviations of the size are 19 %, and what the clock
    // rounds adds less.
    let deviation = (squares / count * 10.0 / 9.0).sqrt();
    assert!((deviation / 1.5e-4 - 1.0).abs() < 0.25, "{deviation:e}");
}
