//! Where the work of the weight goes while the string is taut and nobody touches the table.
//!
//! ```text
//! m g Δs = Δ ½ I ω² + Δ ½ m v² + Δ ½ I_p (v/r_p)² + ∫ (τ₀ + b ω + c ω² + r √(W² + T²)) |dθ|
//!          + ∫ τ_p/r_p |ds| + A ∫ sin(θ + φ) dθ
//! ```
//!
//! The integrals are taken along the path itself, not from the forces that were integrated to make it, so that the
//! sum says how well it obeys Newton's second law: five points of Gauss and Legendre in each piece
//! (Abramowitz and Stegun 25.4.29 and table 25.4). The tension is that of the mass: m g − τ_p/r_p − (m + I_p/r_p²) a.

use super::path::{Path, Piece};
use super::rig::Rig;
use super::sine::cosine;

/// Energies of a stretch of a path, J: changes from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Energy {
    /// Work of the weight.
    pub weight_j: f64,
    /// Kinetic energy that the table gained.
    pub table_j: f64,
    /// That the mass gained.
    pub mass_j: f64,
    /// That the pulley gained.
    pub pulley_j: f64,
    /// Lost to the table's bearing and the air.
    pub friction_j: f64,
    /// Lost to the pulley's bearing.
    pub pulley_friction_j: f64,
    /// Potential energy that a table gained which is not level.
    pub tilt_j: f64,
}

/// Points and weights on −1 … 1, the middle one first.
const GAUSS: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

impl Energy {
    /// Of a path from one moment to another, s, both within it.
    ///
    /// `None` for an empty path. Means something only where the string is taut, does not slip on the drum, and no
    /// hand is at work.
    pub fn between(rig: &Rig, path: &Path, from_s: f64, to_s: f64) -> Option<Self> {
        let (start, end) = (path.moment(from_s)?, path.moment(to_s)?);
        let gained = |factor: f64, from: f64, to: f64| 0.5 * factor * (to - from) * (to + from);
        let (v_start, v_end) = (start.string_m_per_s, end.string_m_per_s);
        let friction = &rig.friction;
        let tilt = |angle: f64| -friction.tilt_n_m * cosine(angle + friction.tilt_phase_rad);
        let mut energy = Self {
            weight_j: rig.mass_kg * rig.gravity_m_per_s2 * (end.string_m - start.string_m),
            table_j: gained(rig.inertia_kg_m2, start.table_rad_per_s, end.table_rad_per_s),
            mass_j: gained(rig.mass_kg, v_start, v_end),
            pulley_j: gained(rig.pulley.effective_mass_kg(), v_start, v_end),
            tilt_j: tilt(end.table_rad) - tilt(start.table_rad),
            ..Self::default()
        };
        for piece in path.pieces() {
            let (low, high) = (from_s.max(piece.from_s), to_s.min(piece.time_s(1.0)));
            if high > low {
                let [table, pulley] = lost(rig, piece, low, high);
                energy.friction_j += table;
                energy.pulley_friction_j += pulley;
            }
        }
        Some(energy)
    }

    /// What the balance misses: 0 but for rounding and the integration's errors.
    pub fn miss_j(&self) -> f64 {
        self.weight_j
            - (self.table_j + self.mass_j + self.pulley_j)
            - (self.friction_j + self.pulley_friction_j + self.tilt_j)
    }
}

/// Lost to the bearings of table and pulley in a part of a piece.
fn lost(rig: &Rig, piece: &Piece, from_s: f64, to_s: f64) -> [f64; 2] {
    let h = piece.duration_s;
    let friction = &rig.friction;
    let moving_kg = rig.mass_kg + rig.pulley.effective_mass_kg();
    let pulley_n = rig.pulley.friction_n_m / rig.pulley.radius_m();
    let (middle_s, half_s) = (f64::midpoint(from_s, to_s), 0.5 * (to_s - from_s));
    let (mut table, mut pulley) = (0.0, 0.0);
    for (point, weight) in GAUSS {
        let x = (middle_s + half_s * point - piece.from_s) / h;
        let rate = piece.table.slope_at(x) / h;
        let speed = piece.string.slope_at(x) / h;
        let acceleration = piece.string.curvature_at(x) / (h * h);
        let tension_n =
            rig.mass_kg * rig.gravity_m_per_s2 - speed.signum() * pulley_n - moving_kg * acceleration;
        let carried_n = friction.bearing_weight_n;
        let load_n = (carried_n * carried_n + tension_n * tension_n).sqrt();
        let size = rate.abs();
        let torque = friction.constant_n_m
            + friction.viscous_n_m_s * size
            + friction.quadratic_n_m_s2 * size * size
            + friction.bearing_arm_m * load_n;
        table += weight * half_s * torque * size;
        pulley += weight * half_s * pulley_n * speed.abs();
    }
    [table, pulley]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulation::course::{Course, Release};
    use crate::simulation::rig::{Friction, Pulley};

    #[test]
    fn a_uniform_fall_worked_by_hand() {
        // Default rig: ρ = 25.5 mm, I/ρ² = 2.306805 kg, m g − τ₀/ρ = 0.451284 N, a = 0.191481 m/s²; after 0.5 m
        // v² = 0.191481 m²/s².
        let rig = Rig::default();
        let mut course = Course::new(&rig, 0.0);
        let fall = course.fall(Release::FromRest, 0.5);
        let path = course.finish();
        let energy = Energy::between(&rig, &path, fall.from_s, fall.to_s).unwrap();
        assert!((energy.weight_j - 0.24525).abs() < 1e-12);
        assert!((energy.mass_j - 0.5 * 0.05 * 0.191_481).abs() < 1e-7);
        assert!((energy.friction_j - 1e-3 * 0.5 / 0.025_5).abs() < 1e-12);
        assert!(energy.miss_j().abs() < 1e-15, "{energy:?}");
    }

    #[test]
    fn the_balance_closes_to_a_billionth_whatever_resists() {
        let heavy = Pulley { inertia_kg_m2: 5e-6, friction_n_m: 2e-4, ..Rig::default().pulley };
        let every = Friction {
            constant_n_m: 1e-3,
            viscous_n_m_s: 2e-5,
            quadratic_n_m_s2: 2e-6,
            bearing_arm_m: 1e-4,
            bearing_weight_n: 8.0,
            tilt_n_m: 8e-4,
            tilt_phase_rad: 0.7,
        };
        let plain = Friction { constant_n_m: 1e-3, ..Friction::default() };
        let frictions = [
            plain.clone(),
            Friction { viscous_n_m_s: 5e-5, ..plain.clone() },
            Friction { quadratic_n_m_s2: 1e-5, ..plain.clone() },
            Friction { bearing_arm_m: 5e-4, bearing_weight_n: 0.0, ..plain.clone() },
            Friction { tilt_n_m: 2e-3, tilt_phase_rad: 2.0, ..plain },
            every,
        ];
        for friction in frictions {
            for growth_per_turn_m in [0.0, 0.001] {
                for mass_kg in [0.05, 0.3] {
                    for release in [Release::FromRest, Release::Moving(0.3)] {
                        let rig = Rig {
                            friction: friction.clone(),
                            pulley: heavy.clone(),
                            growth_per_turn_m,
                            mass_kg,
                            ..Rig::default()
                        };
                        let mut course = Course::new(&rig, 0.0);
                        let fall = course.fall(release, 0.85);
                        let path = course.finish();
                        // All of the fall, and a part that begins and ends inside pieces.
                        let part = 0.3 * (fall.to_s - fall.from_s);
                        for inset_s in [0.0, part] {
                            let (from_s, to_s) = (fall.from_s + inset_s, fall.to_s - inset_s);
                            let energy = Energy::between(&rig, &path, from_s, to_s).unwrap();
                            let relative = energy.miss_j() / energy.weight_j;
                            assert!(relative.abs() < 1e-9, "{rig:?}: {relative:e}");
                            assert!(energy.friction_j > 1e-3 * energy.weight_j);
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn it_closes_through_the_string_s_end_and_back() {
        let rig = Rig {
            growth_per_turn_m: 0.000_8,
            friction: Friction {
                constant_n_m: 1e-3,
                viscous_n_m_s: 1e-5,
                quadratic_n_m_s2: 1e-6,
                bearing_arm_m: 1e-4,
                bearing_weight_n: 6.0,
                tilt_n_m: 8e-4,
                tilt_phase_rad: 0.7,
            },
            pulley: Pulley { inertia_kg_m2: 5e-6, friction_n_m: 2e-4, ..Rig::default().pulley },
            ..Rig::default()
        };
        let mut course = Course::new(&rig, 0.0);
        course.swing(12.0);
        let path = course.finish();
        assert!(!path.turning_points_s(0.0, path.end_s()).is_empty());
        // All that the weight has to give, since what it gave at the end may be little.
        let scale_j = rig.mass_kg * rig.gravity_m_per_s2 * rig.wound_m;
        for to_s in [3.0, 6.0, 9.0, 12.0] {
            let energy = Energy::between(&rig, &path, 0.0, to_s).unwrap();
            assert!((energy.miss_j() / scale_j).abs() < 1e-9, "{to_s} s: {:e}", energy.miss_j() / scale_j);
        }
    }
}
