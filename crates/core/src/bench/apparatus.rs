//! One student's apparatus.

use super::fields::SettingsProblem;
use super::sealed::Sealed;
use super::seed::Seed;
use super::settings::BenchSettings;
use super::truth::Truth;
use super::wish::Load;

/// A student's own apparatus, drawn from the settings by a seed; the same to the last bit on every machine.
///
/// What it shows by itself is what a student may see. The truth comes out with a run's [`super::RunTruth`] and
/// through [`Bench::sealed`]; whoever shows them decides when.
///
/// ```
/// use whorl_core::bench::{Bench, BenchSettings, Load, Seed, Wish};
/// let bench = Bench::new(&BenchSettings::default(), Seed::from_code("222-BFJ").unwrap_or(Seed::new(7))).unwrap();
/// let run = bench.take(&Wish::usual(Load::Object(0), 8), 1).unwrap();
/// assert!(run.csv().starts_with("time (s)\n"));
/// let lab = bench.lab_of(&[run]);
/// assert_eq!(lab.runs().len(), 1);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Bench {
    pub(super) seed: Seed,
    pub(super) settings: BenchSettings,
    pub(super) truth: Truth,
}

impl Bench {
    /// Draws an apparatus.
    ///
    /// # Errors
    /// When a setting cannot be; see [`BenchSettings::check`].
    pub fn new(settings: &BenchSettings, seed: Seed) -> Result<Self, SettingsProblem> {
        settings.check()?;
        Ok(Self { seed, settings: settings.clone(), truth: Truth::draw(settings, seed) })
    }

    /// What it was drawn by.
    pub fn seed(&self) -> Seed {
        self.seed
    }

    /// What it was drawn from.
    pub fn settings(&self) -> &BenchSettings {
        &self.settings
    }

    /// What can be hung, as stamped, kg.
    pub fn masses_kg(&self) -> &[f64] {
        &self.settings.masses_kg
    }

    /// The answers, to be opened one by one after a result was committed to.
    pub fn sealed(&self) -> Sealed {
        Sealed::new(&self.truth)
    }

    /// As many masses as wished, counted from 0, spread evenly over those with which a fall takes 1 to 12 s; the
    /// limits are those that the plan of a lab warns of. Fewer where the bench has fewer, none where none moves
    /// the table.
    pub fn usual_masses(&self, load: Load, count: usize) -> Vec<usize> {
        let falls_in_s = |mass: usize| self.fall_time_s(load, mass);
        let all = 0..self.masses_kg().len();
        let moving: Vec<usize> = all.filter(|mass| falls_in_s(*mass).is_some()).collect();
        let calm = |mass: &usize| falls_in_s(*mass).is_some_and(|time_s| (1.0..=12.0).contains(&time_s));
        let mut usable: Vec<usize> = moving.iter().copied().filter(calm).collect();
        if usable.len() < count {
            usable = moving;
        }
        let count = count.min(usable.len());
        let steps = count.saturating_sub(1).max(1);
        let place = |k: usize| (k * usable.len().saturating_sub(1) + steps / 2) / steps;
        (0..count).filter_map(|k| usable.get(place(k)).copied()).collect()
    }

    /// How long the mass falls from rest, by the closed form for constant friction; `None` where it does not.
    fn fall_time_s(&self, load: Load, mass: usize) -> Option<f64> {
        let rig = self.truth.run_rig(load, mass, &mut self.seed.stream("usual"))?;
        let radius_m = rig.effective_radius_m();
        let resisting_n_m =
            rig.friction.constant_n_m + rig.friction.bearing_arm_m * rig.friction.bearing_weight_n;
        let pulley_n = rig.pulley.friction_n_m / rig.pulley.radius_m();
        let pull_n = rig.mass_kg * rig.gravity_m_per_s2 - resisting_n_m / radius_m - pulley_n;
        let inert_kg =
            rig.mass_kg + rig.pulley.effective_mass_kg() + rig.inertia_kg_m2 / (radius_m * radius_m);
        (pull_n > 0.0).then(|| (2.0 * self.truth.drop_m * inert_kg / pull_n).sqrt())
    }
}
