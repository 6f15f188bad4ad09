//! Propagating distributions through any model until the results are sharp enough: JCGM 101:2008 7.9.

use super::distribution::Distribution;
use super::{Outcome, Random, Simulated};

/// Trials of a block: max(J, 10⁴), where J is 100/(1 − p) = 2000 for p = 95 % (7.9.4 b).
pub const BLOCK: usize = 10_000;

/// Blocks before the simulation may stop. 7.9.4 asks for two; the standard deviation of two numbers says
/// nothing yet (three in ten are less than a third of the true one), that of ten is good to a quarter.
const FEWEST_BLOCKS: usize = 10;

/// A model whose inputs can be drawn.
pub trait Trial {
    /// How many results it has.
    fn results(&self) -> usize;

    /// Draws every input once and evaluates the model; a result that the draws make impossible is not a
    /// number, and the whole trial is drawn again.
    fn draw(&mut self, random: &mut Random, results: &mut [f64]);
}

/// When to stop.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// The most trials, whatever is reached with them; rounded up to whole blocks.
    pub at_most: usize,
    /// Stop once twice each number's standard deviation is below δ divided by this. 7.9.4 takes δ itself; 8.2
    /// takes δ/5 where the simulation is to judge the first-order result to within δ.
    pub sharper: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { at_most: 1_000_000, sharper: 5.0 }
    }
}

/// How far a simulation is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Trials so far.
    pub trials: usize,
    /// About which part of the trials that it will take is done, from 0 to 1.
    pub share: f64,
    /// Whether all results are sharp enough.
    pub stable: bool,
    /// Whether nothing more will be drawn: stable, as many trials as allowed, or draws that lead nowhere.
    pub done: bool,
}

/// A running simulation.
pub struct Propagation {
    model: Box<dyn Trial>,
    random: Random,
    values: Vec<f64>,
    distributions: Vec<Distribution>,
    limits: Limits,
    redrawn: usize,
    progress: Progress,
}

impl Propagation {
    /// At its start.
    pub fn new(model: Box<dyn Trial>, seed: u64, limits: Limits) -> Self {
        let results = model.results();
        Self {
            model,
            random: Random::new(seed),
            values: vec![0.0; results],
            distributions: vec![Distribution::new(BLOCK); results],
            limits,
            redrawn: 0,
            progress: Progress { trials: 0, share: 0.0, stable: false, done: results == 0 },
        }
    }

    /// Draws one more block, unless it is done.
    pub fn block(&mut self) -> Progress {
        if self.progress.done {
            return self.progress;
        }
        let mut refused = 0;
        let mut trials = 0;
        // When half of the draws lead nowhere the model is not one to draw from.
        while trials < BLOCK && refused < BLOCK {
            self.model.draw(&mut self.random, &mut self.values);
            if !self.values.iter().all(|value| value.is_finite()) {
                refused += 1;
                continue;
            }
            trials += 1;
            for (distribution, &value) in self.distributions.iter_mut().zip(&self.values) {
                distribution.add(value);
            }
        }
        for distribution in &mut self.distributions {
            distribution.end_block();
        }
        self.redrawn += refused;
        let trials = self.progress.trials + trials;
        let most = self.distributions.iter().map(|one| self.too_wide(one)).fold(0.0, f64::max);
        let stable = most <= 1.0 && trials >= FEWEST_BLOCKS * BLOCK;
        let done = stable || trials >= self.limits.at_most || refused >= BLOCK;
        // A standard deviation falls with the root of the trials.
        let needed = (trials as f64 * most * most).min(self.limits.at_most as f64);
        let needed = needed.max((FEWEST_BLOCKS * BLOCK) as f64);
        let share = if done { 1.0 } else { (trials as f64 / needed).min(1.0) };
        self.progress = Progress { trials, share, stable, done };
        self.progress
    }

    /// The largest of twice the four standard deviations, in what they may be at most.
    fn too_wide(&self, distribution: &Distribution) -> f64 {
        let [mean, u, ..] = distribution.all();
        let allowed = (tolerance(u) / self.limits.sharper).max(ROUNDING * mean.abs());
        let widest = distribution.deviations().into_iter().fold(0.0, f64::max);
        if widest == 0.0 { 0.0 } else { 2.0 * widest / allowed }
    }

    /// What the trials so far say.
    pub fn outcome(&self) -> Outcome {
        let simulated = |distribution: &Distribution| {
            let [mean, standard_uncertainty, low, high] = distribution.all();
            Simulated {
                mean,
                standard_uncertainty,
                symmetric: [low, high],
                shortest: distribution.shortest(),
                deviations: distribution.deviations(),
                shape: distribution.shape(),
            }
        };
        let Progress { trials, stable, .. } = self.progress;
        let results = self.distributions.iter().map(simulated).collect();
        Outcome { trials, redrawn: self.redrawn, stable, results }
    }
}

/// Differences below this part of a value are rounding.
pub(super) const ROUNDING: f64 = 1e-12;

/// Numerical tolerance δ of a standard uncertainty written with two digits, u = c · 10ˡ: half of 10ˡ
/// (JCGM 101:2008 7.9.2).
pub fn tolerance(standard_uncertainty: f64) -> f64 {
    if !(standard_uncertainty > 0.0 && standard_uncertainty.is_finite()) {
        return 0.0;
    }
    let unit = 10.0_f64.powf(standard_uncertainty.log10().floor() - 1.0);
    // 0.0996 is written 0.10.
    let unit = if (standard_uncertainty / unit).round() >= 100.0 { 10.0 * unit } else { unit };
    0.5 * unit
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::monte_carlo::Error;

    struct Sum(Vec<Error>);

    impl Trial for Sum {
        fn results(&self) -> usize {
            1
        }

        fn draw(&mut self, random: &mut Random, results: &mut [f64]) {
            results[0] = self.0.iter().map(|error| error.draw(random)).sum();
        }
    }

    fn run(model: impl Trial + 'static, limits: Limits) -> (Progress, Outcome) {
        let mut propagation = Propagation::new(Box::new(model), 1, limits);
        loop {
            let progress = propagation.block();
            if progress.done {
                return (progress, propagation.outcome());
            }
        }
    }

    #[test]
    fn tolerances_of_the_standard() {
        // JCGM 101:2008 7.9.2, first example (from memory): 0.000 35 g is 35 · 10⁻⁵ g, so δ = 0.000 005 g.
        // The others follow from the definition, the fourth and fifth on both sides of a power of ten.
        for (u, expected) in
            [(0.000_35, 0.000_005), (5.0, 0.05), (2.0, 0.05), (0.0996, 0.005), (0.0994, 0.0005), (1e-7, 5e-9)]
        {
            assert!((tolerance(u) / expected - 1.0).abs() < 1e-12, "{u}: {}", tolerance(u));
        }
        for u in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(tolerance(u).to_bits(), 0);
        }
    }

    #[test]
    fn it_stops_once_twice_every_standard_deviation_is_below_the_tolerance() {
        // u = 2, so δ = 0.05; the ends of a normal distribution have √(p(1 − p)/n) u/φ(1.96) = 5.34/√n,
        // twice that is below 0.05 from n = 45 600 on: ten blocks are the least. At δ/5, 1.14 million.
        let normal = || Sum(vec![Error::Normal(1.0); 4]);
        let (early, outcome) = run(normal(), Limits { at_most: 5_000_000, sharper: 1.0 });
        assert!(early.stable && early.trials == 100_000, "{early:?}");
        assert!(outcome.results[0].deviations.iter().all(|s| 2.0 * s <= 0.05));
        let (sharp, outcome) = run(normal(), Limits { at_most: 5_000_000, sharper: 5.0 });
        assert!(sharp.stable && (700_000..2_000_000).contains(&sharp.trials), "{sharp:?}");
        assert!(outcome.results[0].deviations.iter().all(|s| 2.0 * s <= 0.01));
        let (cut, _) = run(normal(), Limits { at_most: 195_000, sharper: 5.0 });
        assert!(!cut.stable && cut.trials == 200_000, "{cut:?}");
    }

    #[test]
    fn the_same_seed_gives_the_same_digits() {
        let limits = Limits { at_most: 50_000, sharper: 5.0 };
        let once = run(Sum(vec![Error::Normal(1.0)]), limits).1;
        assert_eq!(once, run(Sum(vec![Error::Normal(1.0)]), limits).1);
    }

    struct Impossible(f64);

    impl Trial for Impossible {
        fn results(&self) -> usize {
            2
        }

        fn draw(&mut self, random: &mut Random, results: &mut [f64]) {
            let value = if random.even() < self.0 { f64::NAN } else { 1.0 };
            results.copy_from_slice(&[1.0, value]);
        }
    }

    #[test]
    fn impossible_draws_are_drawn_again_and_counted_or_end_it() {
        let (progress, outcome) = run(Impossible(0.1), Limits::default());
        assert!(progress.stable, "{progress:?}");
        // A ninth of the trials that count.
        assert!((outcome.redrawn as f64 / outcome.trials as f64 * 9.0 - 1.0).abs() < 0.1);
        let (progress, outcome) = run(Impossible(1.0), Limits::default());
        assert!(progress.done && !progress.stable && outcome.trials == 0);
        assert!(outcome.results[0].mean.is_nan());
    }
}
