//! What a logger may write instead of the gate's times: speeds, positions or states of the light.

use super::gate::Edge;

/// The times alone, s.
pub fn times_s(edges: &[Edge]) -> Vec<f64> {
    edges.iter().map(|edge| edge.time_s).collect()
}

/// Time in the middle of each interval, s, and the travel per spoke divided by it, m/s.
///
/// Some loggers know the travel roughly only and all round: `decimals` of the speed are kept.
pub fn speeds(times_s: &[f64], travel_per_spoke_m: f64, decimals: i32) -> Vec<(f64, f64)> {
    let unit = 10.0_f64.powi(decimals);
    intervals(times_s)
        .map(|(from, to)| (f64::midpoint(from, to), (travel_per_spoke_m / (to - from) * unit).round() / unit))
        .collect()
}

/// Each time, s, with the travel counted from the first edge, m.
pub fn positions(times_s: &[f64], travel_per_spoke_m: f64) -> Vec<(f64, f64)> {
    (0_u32..).zip(times_s).map(|(k, time)| (*time, f64::from(k) * travel_per_spoke_m)).collect()
}

/// Each time, s, with 1 for a light that becomes blocked and 0 for one that becomes free.
pub fn states(edges: &[Edge]) -> Vec<(f64, u8)> {
    edges.iter().map(|edge| (edge.time_s, u8::from(edge.blocked))).collect()
}

/// Pairs of times that follow each other. Two equal ones of a coarse clock have no speed and are left out.
fn intervals(times_s: &[f64]) -> impl Iterator<Item = (f64, f64)> {
    times_s.iter().copied().zip(times_s.iter().copied().skip(1)).filter(|(from, to)| to > from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn speeds_stand_in_the_middle_of_their_intervals() {
        assert_eq!(speeds(&[1.0, 1.5, 1.5, 1.75], 0.015, 2), [(1.25, 0.03), (1.625, 0.06)]);
        assert!((speeds(&[0.0, 0.7], 0.015, 6)[0].1 - 0.021_429).abs() < 1e-15);
    }

    #[test]
    fn positions_and_states_go_with_their_times() {
        let edge = |time_s: f64, blocked| Edge { time_s, true_time_s: time_s, blocked, genuine: true };
        let edges = [edge(0.5, true), edge(0.75, false)];
        assert_eq!(positions(&times_s(&edges), 0.25), [(0.5, 0.0), (0.75, 0.25)]);
        assert_eq!(states(&edges), [(0.5, 1), (0.75, 0)]);
    }
}
