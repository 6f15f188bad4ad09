//! Tests of the gate.

use super::*;
use crate::simulation::course::{Course, Fall, Release};
use crate::simulation::rig::Rig;

fn fall(rig: &Rig) -> (Path, Fall) {
    let mut course = Course::new(rig, 0.0);
    let fall = course.fall(Release::FromRest, 0.85);
    (course.finish(), fall)
}

#[test]
fn an_ideal_gate_sees_each_spoke_where_it_is() {
    let rig = Rig::default();
    let (path, fall) = fall(&rig);
    let edges = Gate::default().record(&path, &rig.pulley, &mut Random::new(1));
    assert_eq!(edges.len(), 57);
    for (k, edge) in (0_u32..).zip(&edges) {
        let way = 0.0075 + 0.015 * f64::from(k);
        let expected = (2.0 * way / fall.acceleration_m_per_s2).sqrt();
        assert!((edge.time_s - expected).abs() < 1e-14 && edge.blocked && edge.genuine, "{k}: {edge:?}");
    }
    assert_eq!(edges_within(&edges, 0.0, fall.to_s), 0..57);
    assert_eq!(edges_within(&edges, edges[3].time_s, edges[8].time_s), 3..9);
    assert_eq!(edges_within(&edges, 90.0, 91.0), 57..57);
}

#[test]
fn both_edges_of_a_spoke_stand_apart_by_its_width() {
    let rig = Rig::default();
    let (path, fall) = fall(&rig);
    let gate = Gate { edges: EdgesSeen::Both, blocked_share: 0.4, ..Gate::default() };
    let edges = gate.record(&path, &rig.pulley, &mut Random::new(1));
    // The first far edge lies 1.5 mm, the first near one 7.5 mm and the next far one 13.5 mm ahead.
    let ways: Vec<f64> =
        edges.iter().map(|edge| 0.5 * fall.acceleration_m_per_s2 * edge.time_s.powi(2)).collect();
    assert!((ways[0] - 0.0075).abs() < 1e-14 && (ways[1] - 0.0135).abs() < 1e-14, "{ways:?}");
    assert!((ways[2] - 0.0225).abs() < 1e-14, "{ways:?}");
    assert!(edges.iter().enumerate().all(|(k, edge)| edge.blocked == (k % 2 == 0)));
}

#[test]
fn a_pulley_that_turns_back_blocks_the_light_at_the_other_edge() {
    let rig = Rig::default();
    let mut course = Course::new(&rig, 0.0);
    course.hand(0.05, 1.0);
    course.hand(-0.05, 1.0);
    let path = course.finish();
    let gate = Gate { blocked_share: 0.4, ..Gate::default() };
    let positions = |gate: &Gate| -> Vec<f64> {
        let edges = gate.record(&path, &rig.pulley, &mut Random::new(1));
        edges.iter().map(|edge| path.moment(edge.time_s).unwrap().string_m).collect()
    };
    let expected = [0.0075, 0.0225, 0.0375, 0.0435, 0.0285, 0.0135];
    for (found, expected) in positions(&gate).iter().zip(expected) {
        assert!((found - expected).abs() < 1e-14, "{found} {expected}");
    }
    assert_eq!(positions(&gate).len(), 6);
    // With both edges seen, what was passed last is passed first again.
    let both = positions(&Gate { edges: EdgesSeen::Both, ..gate });
    assert_eq!(both.len(), 12);
    assert!(both.iter().zip(both.iter().rev()).all(|(one, other)| (one - other).abs() < 1e-14));
}

#[test]
fn a_piece_more_changes_no_edge() {
    let rig = Rig::default();
    let (whole, _) = fall(&rig);
    let mut course = Course::new(&rig, 0.0);
    for k in 0..17 {
        course.fall(if k == 0 { Release::FromRest } else { Release::GoOn }, 0.05 * f64::from(k + 1));
    }
    let pieces = course.finish();
    let gate = Gate { position_noise_m: 1e-4, ..Gate::default() };
    let [one, other] = [whole, pieces].map(|path| gate.record(&path, &rig.pulley, &mut Random::new(4)));
    assert_eq!((one.len(), other.len()), (57, 57));
    for (one, other) in one.iter().zip(&other) {
        assert!((one.time_s - other.time_s).abs() < 1e-13);
    }
}

#[test]
fn offsets_sum_to_zero_and_are_as_large_as_they_are_set_to() {
    let mut random = Random::new(8);
    let (mut squares, labs) = (0.0, 4000);
    for _ in 0..labs {
        let offsets = spoke_offsets(10, 1e-4, &mut random);
        assert!(offsets.iter().sum::<f64>().abs() < 1e-18 * 100.0);
        squares += offsets.iter().map(|offset| offset * offset).sum::<f64>();
    }
    // Nine of ten degrees of freedom are left; five standard deviations of 36000 squares: 5·√(2/36000).
    let variance = squares / f64::from(9 * labs);
    assert!((variance / 1e-8 - 1.0).abs() < 0.037, "{variance}");
}

#[test]
fn uneven_spokes_come_round_again() {
    let rig = Rig::default();
    let (path, fall) = fall(&rig);
    let gate = Gate {
        spoke_offsets_m: spoke_offsets(10, 1.5e-4, &mut Random::new(3)),
        first_spoke: 4,
        ..Gate::default()
    };
    let edges = gate.record(&path, &rig.pulley, &mut Random::new(1));
    for (k, edge) in edges.iter().enumerate() {
        let way = 0.5 * fall.acceleration_m_per_s2 * edge.time_s.powi(2);
        let error = way - 0.0075 - 0.015 * k as f64;
        assert!((error - gate.spoke_offsets_m[(k + 4) % 10]).abs() < 1e-14, "{k}: {error}");
    }
}

#[test]
fn noise_of_position_and_clock_are_as_large_as_they_are_set_to() {
    // At constant speed v both are seen as noise of the times: 20 µm / v and the jitter.
    let mut rig = Rig { wound_m: 500.0, mass_kg: 1e-9, ..Rig::default() };
    rig.friction.constant_n_m = 0.0;
    rig.gravity_m_per_s2 = 1e-9;
    let mut course = Course::new(&rig, 0.0);
    course.fall(Release::Moving(0.5), 150.0);
    let path = course.finish();
    let scatter = |gate: &Gate| {
        let edges = gate.record(&path, &rig.pulley, &mut Random::new(5));
        let errors: Vec<f64> = edges
            .iter()
            .zip(0_u32..)
            .map(|(edge, k)| edge.time_s - (0.0075 + 0.015 * f64::from(k)) / 0.5)
            .collect();
        let mean = errors.iter().sum::<f64>() / errors.len() as f64;
        let variance = errors.iter().map(|error| (error - mean).powi(2)).sum::<f64>() / errors.len() as f64;
        (mean, variance.sqrt())
    };
    // 10000 edges: five standard deviations of a standard deviation are 3.5 % of it, of a mean 5 %.
    let near = |(mean, found): (f64, f64), expected: f64| {
        assert!((found / expected - 1.0).abs() < 0.036, "{found:e}, not {expected:e}");
        assert!(mean.abs() < 0.05 * expected, "{mean:e}");
    };
    near(scatter(&Gate { position_noise_m: 2e-5, ..Gate::default() }), 4e-5);
    let clock = |jitter_s, step_s, rounding| Clock { jitter_s, step_s, rounding, ..Gate::default().clock };
    near(scatter(&Gate { clock: clock(7e-5, 0.0, Rounding::Down), ..Gate::default() }), 7e-5);
    // A clock that runs already adds its time to all.
    let late = |start_s| {
        scatter(&Gate { clock: Clock { start_s, ..clock(7e-5, 0.0, Rounding::Down) }, ..Gate::default() }).0
    };
    assert!((late(3.0) - late(0.0) - 3.0).abs() < 1e-12);
    // A step that shares no factor with the interval leaves even errors: step/√12, half a step late when
    // rounded down.
    let step = 1.234_567e-3;
    near(
        scatter(&Gate { clock: clock(0.0, step, Rounding::Nearest), ..Gate::default() }),
        step / 12.0_f64.sqrt(),
    );
    let (mean, found) = scatter(&Gate { clock: clock(0.0, step, Rounding::Down), ..Gate::default() });
    near((mean + 0.5 * step, found), step / 12.0_f64.sqrt());
}

#[test]
fn edges_are_missed_and_seen_twice_as_often_as_they_are_set_to() {
    let mut rig = Rig { wound_m: 500.0, mass_kg: 1e-9, ..Rig::default() };
    rig.friction.constant_n_m = 0.0;
    let mut course = Course::new(&rig, 0.0);
    course.fall(Release::Moving(0.5), 150.0);
    let path = course.finish();
    let gate = Gate {
        missed: Missed { probability: 0.1, places: vec![0, 1, 2] },
        bounced: Bounced { probability: 0.2, places: Vec::new(), least_delay_s: 2e-4, most_delay_s: 5e-4 },
        ..Gate::default()
    };
    let edges = gate.record(&path, &rig.pulley, &mut Random::new(6));
    let genuine = edges.iter().filter(|edge| edge.genuine).count() as f64;
    let false_ones = edges.iter().filter(|edge| !edge.genuine).count() as f64;
    // Five standard deviations of counts of 10000 and 9000: 150 and 190.
    assert!((genuine - 9000.0).abs() < 150.0 && (false_ones - 0.2 * genuine).abs() < 190.0);
    assert!(edges[0].time_s > 0.09, "the first three places are missed for certain");
    for pair in edges.windows(2).filter(|pair| !pair[1].genuine) {
        assert!((2e-4..5e-4).contains(&(pair[1].time_s - pair[0].time_s)), "{pair:?}");
    }
}
