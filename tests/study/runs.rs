//! One run: error of the acceleration against the bound, bias, coverage.

use crate::{Check, parallel, percent};
use core::num::NonZeroU32;
use whorl_core::acceleration::{Setup, estimate};
use whorl_core::fit::Columns;
use whorl_core::measured::coverage::Probability;
use whorl_core::quantity::{Meters, Seconds};
use whorl_core::readings::Readings;
use whorl_core::runs::Run;
use whorl_core::simulation::gate::{Clock, EdgesSeen, Gate, Rounding};
use whorl_core::simulation::lab::{ConfigurationPlan, LabPlan, SimulatedRun, lab};
use whorl_core::simulation::random::Random;

/// A gate and a string.
#[derive(Clone)]
struct Noise {
    name: &'static str,
    /// Standard deviation of a spoke's place, as a share of the travel per spoke.
    spokes: f64,
    /// The string's own, in m.
    string: f64,
    /// Jitter of the clock in s, and its step.
    jitter: f64,
    step: f64,
    edges: EdgesSeen,
}

const ONE: EdgesSeen = EdgesSeen::Blocked;

const CASES: [Noise; 10] = [
    Noise { name: "string 20 µm", spokes: 0.0, string: 2e-5, jitter: 0.0, step: 0.0, edges: ONE },
    Noise { name: "string 50 µm", spokes: 0.0, string: 5e-5, jitter: 0.0, step: 0.0, edges: ONE },
    Noise { name: "clock jitter 20 µs", spokes: 0.0, string: 0.0, jitter: 2e-5, step: 0.0, edges: ONE },
    Noise {
        name: "string 20 µm, jitter 50 µs",
        spokes: 0.0,
        string: 2e-5,
        jitter: 5e-5,
        step: 0.0,
        edges: ONE,
    },
    Noise {
        name: "spokes 0.1 %, string 20 µm",
        spokes: 0.001,
        string: 2e-5,
        jitter: 0.0,
        step: 0.0,
        edges: ONE,
    },
    Noise {
        name: "spokes 0.5 %, string 20 µm",
        spokes: 0.005,
        string: 2e-5,
        jitter: 0.0,
        step: 0.0,
        edges: ONE,
    },
    Noise {
        name: "spokes 0.5 %, string 50 µm, jitter 20 µs",
        spokes: 0.005,
        string: 5e-5,
        jitter: 2e-5,
        step: 0.0,
        edges: ONE,
    },
    Noise {
        name: "spokes 0.5 %, clock step 10 µs",
        spokes: 0.005,
        string: 0.0,
        jitter: 0.0,
        step: 1e-5,
        edges: ONE,
    },
    Noise {
        name: "spokes 0.5 %, string 20 µm, clock step 100 µs",
        spokes: 0.005,
        string: 2e-5,
        jitter: 0.0,
        step: 1e-4,
        edges: ONE,
    },
    Noise {
        name: "both edges, spokes 0.5 %, string 20 µm",
        spokes: 0.005,
        string: 2e-5,
        jitter: 0.0,
        step: 0.0,
        edges: EdgesSeen::Both,
    },
];

const TRAVEL: f64 = 0.015;
const SPOKES: usize = 10;

fn one_run(noise: &Noise, seed: u64) -> (SimulatedRun, Gate) {
    let gate = Gate {
        position_noise_m: noise.string,
        edges: noise.edges,
        clock: Clock {
            jitter_s: noise.jitter,
            step_s: noise.step,
            rounding: Rounding::Nearest,
            ..Gate::default().clock
        },
        ..Gate::default()
    };
    let none = ConfigurationPlan { friction_n_m: 1.4e-3, masses_kg: Vec::new() };
    let plan = LabPlan {
        gate: gate.clone(),
        spoke_error: noise.spokes,
        friction_scatter: 0.0,
        empty: ConfigurationPlan { friction_n_m: 1e-3, masses_kg: vec![0.06] },
        loaded: none,
        ..LabPlan::default()
    };
    let made = lab(&plan, &mut Random::new(seed));
    (made.runs.into_iter().next().unwrap(), gate)
}

/// Smallest standard deviation that any unbiased estimator of a can have on these edges.
///
/// Columns of the model t(x) at the truth, each row over its own standard deviation; the spokes' places
/// are free and sum to zero.
fn bound(times: &[f64], a: f64, noise: &Noise) -> f64 {
    let per_spoke = if noise.edges == EdgesSeen::Both { 2 } else { 1 };
    let (pitch, period) = (TRAVEL / per_spoke as f64, SPOKES * per_spoke);
    // Position along the fall of the first edge: from its time and speed, v = a (t − release).
    let span = times.last().unwrap() - times.first().unwrap();
    let length = pitch * (times.len() - 1) as f64;
    let v0 = length / span - 0.5 * a * span;
    let mut columns = vec![vec![0.0; times.len()]; 2 + period];
    for row in 0..times.len() {
        let x = pitch * row as f64;
        let v = (v0 * v0 + 2.0 * a * x).sqrt();
        let clock = noise.jitter.powi(2) + noise.step.powi(2) / 12.0;
        let weight = 1.0 / (clock + (noise.string / v).powi(2)).sqrt();
        let elapsed = (v - v0) / a;
        columns[0][row] = weight;
        // ∂t/∂v₀ and ∂t/∂a at fixed x, from x = v₀ τ + ½ a τ².
        columns[1][row] = -elapsed / v * weight;
        columns[2][row] = -0.5 * elapsed * elapsed / v * weight;
        let spoke = row % period;
        for (offset, column) in columns[3..].iter_mut().enumerate() {
            let entry = f64::from(u8::from(offset == spoke)) - f64::from(u8::from(spoke == period - 1));
            column[row] = entry / v * weight;
        }
    }
    Columns::new(columns).unwrap().inverse()[2][2].sqrt()
}

/// Rows of the table, `count` runs each.
pub fn rows(count: usize) -> Vec<Check> {
    rows_of(&CASES, count)
}

/// Two of the rows: a good gate, and spokes that are half a percent off.
pub fn quick_rows(count: usize) -> Vec<Check> {
    rows_of(&[CASES[0].clone(), CASES[6].clone()], count)
}

fn rows_of(cases: &[Noise], count: usize) -> Vec<Check> {
    let mut checks = Vec::new();
    for noise in cases {
        let results = parallel::map(count, |index| {
            let (run, _) = one_run(noise, 1000 + index as u64);
            let times = &run.gate_times_s[run.fall.clone()];
            // One edge of safety at each end, as the finder of the stretch leaves.
            let times = &times[1..times.len() - 1];
            let seconds: Vec<Seconds> = times.iter().copied().map(Seconds).collect();
            let kind = match noise.edges {
                EdgesSeen::Both => whorl_core::readings::ReadingKind::BothEdges,
                EdgesSeen::Blocked => whorl_core::readings::ReadingKind::GateTimes,
            };
            let readings = Readings::from_columns(kind, &seconds, &[]).unwrap();
            let setup = Setup {
                travel_per_spoke: Some(Meters(TRAVEL)),
                spokes: u32::try_from(SPOKES).ok().and_then(NonZeroU32::new),
                ..Setup::default()
            };
            let fit = estimate(&Run::new(&readings, None).unwrap(), &setup).unwrap();
            let truth = run.true_acceleration_m_per_s2;
            let interval = fit.acceleration.coverage_interval(Probability::P95);
            let held = (interval.low.0..=interval.high.0).contains(&truth);
            let drawn = fit.drawn.as_ref().unwrap();
            let k = whorl_core::measured::coverage::coverage_factor(
                Probability::P95,
                drawn.degrees_of_freedom as f64,
            );
            let drawn_error = drawn.slope - truth;
            let drawn_held = drawn_error.abs() <= k * drawn.slope_uncertainty;
            (fit.acceleration.value().0 - truth, bound(times, truth, noise), held, drawn_error, drawn_held)
        });
        let n = results.len() as f64;
        let mean_square = |of: &dyn Fn(usize) -> f64| (0..results.len()).map(of).sum::<f64>() / n;
        let ratio = mean_square(&|at| (results[at].0 / results[at].1).powi(2)).sqrt();
        let bias = mean_square(&|at| results[at].0 / results[at].1);
        let drawn = mean_square(&|at| (results[at].3 / results[at].1).powi(2)).sqrt();
        let held = percent(results.iter().filter(|result| result.2).count(), results.len());
        let drawn_held = percent(results.iter().filter(|result| result.4).count(), results.len());
        let stepped = noise.step > 0.0;
        let name = noise.name;
        checks.push(Check::at_most(format!("a, {name}: RMS error / bound"), ratio, 1.10));
        checks.push(Check::between(format!("a, {name}: bias / bound"), bias, -0.1, 0.1));
        let most = if stepped { 99.5 } else { 98.0 };
        checks.push(Check::between(format!("a, {name}: coverage %"), held, 92.0, most));
        // For comparison alone: what the line one would draw does, and how often its interval holds.
        checks.push(Check::at_most(
            format!("   drawn line: RMS error / bound (coverage {drawn_held:.1} %)"),
            drawn,
            f64::INFINITY,
        ));
    }
    checks
}
