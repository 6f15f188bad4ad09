//! How often the 95 % intervals hold the truth: in 95 of 100 labs.
//!
//! Simulated labs with known truth, from Newton's second law in closed form. In each, everything that
//! all runs share is off by its own normal error, and each run has its own friction.

use whorl_core::acceleration::Scale;
use whorl_core::apparatus::Apparatus;
use whorl_core::inertia::{Inertia, joint};
use whorl_core::measured::coverage::Probability;
use whorl_core::measured::{Combined, Measured};
use whorl_core::object::subtract;
use whorl_core::quantity::{Kilograms, Meters, MetersPerSecond2, Quantity, Ratio};
use whorl_core::torque::{FittedRun, Motion};

/// Seeded random numbers: the same test every time. SplitMix64 (Steele, Lea and Flood 2014) and the
/// transform of Box and Muller (1958).
pub(crate) struct Noise(pub(crate) u64);

impl Noise {
    /// Evenly from 0 (not included) to 1.
    pub(crate) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64 + f64::EPSILON / 4.0
    }

    /// Normal, mean 0, standard deviation 1.
    pub(crate) fn normal(&mut self) -> f64 {
        (-2.0 * self.even().ln()).sqrt() * (core::f64::consts::TAU * self.even()).cos()
    }

    /// A true value, given what was written down and its standard uncertainty.
    fn truth(&mut self, written: f64, u: f64) -> f64 {
        written + u * self.normal()
    }
}

const TABLE: f64 = 1.5e-3;
const OBJECT: f64 = 7e-3;
const FRICTION: f64 = 1.2e-3;
/// Run to run, of the friction. With this the scatter and the shared inputs weigh about the same.
const SCATTER: f64 = 0.025;

const RADIUS: (f64, f64) = (0.025, 1e-5);
const STRING: (f64, f64) = (0.001, 2e-5);
const GRAVITY: (f64, f64) = (9.81, 0.003);
const TRAVEL: (f64, f64) = (0.015, 7e-6);
const MASS_SCALE: f64 = 3e-4;

/// One lab: the line of the empty table, and of the loaded one.
fn lab(noise: &mut Noise) -> [Inertia; 2] {
    let length = |(value, u)| Measured::new(Meters(value), Meters(u)).ok();
    let apparatus = Apparatus::new(
        length(RADIUS),
        length(STRING),
        Measured::new(MetersPerSecond2(GRAVITY.0), MetersPerSecond2(GRAVITY.1)).ok(),
        length(TRAVEL),
        Ratio(MASS_SCALE),
    )
    .unwrap();
    let radius = noise.truth(RADIUS.0, RADIUS.1) + 0.5 * noise.truth(STRING.0, STRING.1);
    let gravity = noise.truth(GRAVITY.0, GRAVITY.1);
    let travel = noise.truth(TRAVEL.0, TRAVEL.1);
    let mass_scale = noise.truth(1.0, MASS_SCALE);
    let configurations = [
        (TABLE, [0.015, 0.02, 0.025, 0.03, 0.04, 0.05]),
        (TABLE + OBJECT, [0.05, 0.1, 0.15, 0.2, 0.25, 0.3]),
    ];
    let groups = configurations.map(|(moment, masses)| {
        let runs = masses.map(|written: f64| {
            let mass = written * mass_scale;
            let friction = FRICTION * (1.0 + SCATTER * noise.normal());
            let a = (mass * gravity * radius - friction) * radius / (moment + mass * radius * radius);
            // Read from gates that stand further apart than was written down, it looks slower.
            let seen = MetersPerSecond2(a * TRAVEL.0 / travel);
            FittedRun {
                hanging_mass: Kilograms(written),
                acceleration: Measured::new(seen, MetersPerSecond2(0.0)).unwrap(),
                motion: Motion::Falling,
                scale: Scale::Travel,
                slowing: None,
            }
        });
        runs.to_vec()
    });
    let mut found = joint(&groups, &apparatus).inertias.into_iter().map(Result::unwrap);
    [found.next().unwrap(), found.next().unwrap()]
}

/// Whether the truth lies in the interval with both parts of the uncertainty, and with the random one alone.
fn holds<Q: Quantity>(found: &Combined<Q>, truth: f64) -> [bool; 2] {
    [&found.total, &found.random].map(|measured| {
        let interval = measured.coverage_interval(Probability::P95);
        (interval.low.si()..=interval.high.si()).contains(&truth)
    })
}

#[test]
fn the_truth_lies_in_95_of_100_intervals() {
    const LABS: u32 = 2000;
    // Four standard deviations of a count of 2000 with probability 0.95: 0.0195 of it.
    const FOUR_DEVIATIONS: f64 = 0.0195;
    let mut noise = Noise(20_251_125);
    let mut counts = [[0_u32; 2]; 3];
    for _ in 0..LABS {
        let [empty, loaded] = lab(&mut noise);
        let object = subtract(&loaded, &empty).unwrap();
        let held = [
            holds(&empty.moment_of_inertia, TABLE),
            holds(&empty.friction_torque, FRICTION),
            holds(&object.moment_of_inertia, OBJECT),
        ];
        for (count, held) in counts.iter_mut().flatten().zip(held.iter().flatten()) {
            *count += u32::from(*held);
        }
    }
    let shares = counts.map(|pair| pair.map(|count| f64::from(count) / f64::from(LABS)));
    for (what, [both, _]) in ["table", "friction", "object"].iter().zip(shares) {
        assert!((both - 0.95).abs() < FOUR_DEVIATIONS, "{what}: {both}");
    }
    // With the scatter alone, as if nothing were shared, the object's interval would be too narrow.
    let [_, scatter_alone] = shares[2];
    assert!(scatter_alone < 0.95 - 2.0 * FOUR_DEVIATIONS, "object: {scatter_alone}");
}
