//! Newton's second law for table, pulley and mass.
//!
//! With the table at angle θ the string has run out by s(θ). Where it runs off the drum at radius ρ,
//! s′ = ρ. Then for mass and pulley together, with M = m + I_p/r_p², and for the table
//!
//! ```text
//! T = m g − τ_p/r_p − M (s′ α + s″ ω²)          tension at the drum
//! I α = T s′ − τ(ω, T, θ)
//! ```
//!
//! so α = [s′ (m g − τ_p/r_p − M s″ ω²) − τ] / (I + M s′²). With one layer of string s″ = 0 and
//! a = ρ α obeys (I/ρ² + I_p/r_p² + m) a = m g − τ/ρ − τ_p/r_p. Holds while the string is taut, light and
//! does not slip.

use core::f64::consts::{FRAC_PI_2, PI, TAU};

use super::rig::Rig;
use super::sine::{cosine, sine};

/// How the string lies on the drum: s(θ).
///
/// Layers make a spiral of Archimedes: the radius falls by k = growth/2π for each radian unwound. When the
/// string has run off, its knot swings round the drum, L + ρ sin ψ, and the drum winds it up again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Winding {
    inner_m: f64,
    outer_m: f64,
    per_radian_m: f64,
    wound_m: f64,
    /// θ at which all string has run off.
    run_off_rad: f64,
}

/// A stretch of angles in which s(θ) is smooth and the string does not turn back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// String runs off the drum.
    Unwinding,
    /// All has run off, and the knot swings towards the pulley.
    SwingingOut,
    /// The knot swings away from the pulley.
    SwingingBack,
    /// String is wound up the other way round.
    WindingUp,
}

impl Part {
    /// The sign of ds/dθ.
    fn lever_sign(self) -> f64 {
        match self {
            Self::Unwinding | Self::SwingingOut => 1.0,
            Self::SwingingBack | Self::WindingUp => -1.0,
        }
    }
}

/// s and its derivatives by θ.
#[derive(Clone, Copy, Debug)]
#[expect(clippy::struct_field_names, reason = "all three are lengths, and names end in their unit")]
pub(super) struct RunOut {
    pub(super) string_m: f64,
    pub(super) lever_m: f64,
    pub(super) curvature_m: f64,
}

impl Winding {
    pub(super) fn new(rig: &Rig) -> Self {
        let inner_m = rig.effective_radius_m();
        // Area of the wound string seen from above: π (outer² − inner²) = growth · length.
        let outer_m = if rig.growth_per_turn_m == 0.0 {
            inner_m
        } else {
            (inner_m * inner_m + rig.growth_per_turn_m * rig.wound_m / PI).sqrt()
        };
        Self {
            inner_m,
            outer_m,
            per_radian_m: rig.growth_per_turn_m / TAU,
            wound_m: rig.wound_m,
            run_off_rad: 2.0 * rig.wound_m / (inner_m + outer_m),
        }
    }

    /// The part in which a table at this angle turns on, in the direction of this sign.
    pub(super) fn part(&self, angle_rad: f64, turning: f64) -> Part {
        let passed = |corner: f64| if turning < 0.0 { angle_rad > corner } else { angle_rad >= corner };
        match self.corners_rad().map(passed) {
            [false, ..] => Part::Unwinding,
            [_, false, _] => Part::SwingingOut,
            [_, _, false] => Part::SwingingBack,
            _ => Part::WindingUp,
        }
    }

    /// The string in a part. Beyond its ends, where an integrator looks ahead, the part's own law goes on.
    pub(super) fn at(&self, part: Part, angle_rad: f64) -> RunOut {
        let over = angle_rad - self.run_off_rad;
        match part {
            Part::Unwinding => {
                let lever_m = self.outer_m - self.per_radian_m * angle_rad;
                RunOut {
                    string_m: angle_rad * f64::midpoint(self.outer_m, lever_m),
                    lever_m,
                    curvature_m: -self.per_radian_m,
                }
            }
            Part::SwingingOut | Part::SwingingBack => {
                let arm_m = self.inner_m * sine(over);
                RunOut {
                    string_m: self.wound_m + arm_m,
                    lever_m: self.inner_m * cosine(over),
                    curvature_m: -arm_m,
                }
            }
            Part::WindingUp => {
                let turned = over - PI;
                let radius_m = self.inner_m + self.per_radian_m * turned;
                RunOut {
                    string_m: self.wound_m - turned * f64::midpoint(self.inner_m, radius_m),
                    lever_m: -radius_m,
                    curvature_m: -self.per_radian_m,
                }
            }
        }
    }

    /// The angles at which one part ends and the next begins.
    fn corners_rad(&self) -> [f64; 3] {
        [0.0, FRAC_PI_2, PI].map(|further| self.run_off_rad + further)
    }

    /// The angle at which this much string has run out the first time, at most all of it.
    pub(super) fn angle_rad(&self, string_m: f64) -> f64 {
        let string_m = string_m.min(self.wound_m);
        let square = self.outer_m * self.outer_m - 2.0 * self.per_radian_m * string_m;
        let radius_m = if self.per_radian_m == 0.0 { self.outer_m } else { square.max(0.0).sqrt() };
        2.0 * string_m / (self.outer_m + radius_m)
    }

    /// The next angle on the way at which another part begins.
    pub(super) fn next_corner_rad(&self, angle_rad: f64, turning: f64) -> f64 {
        let corners = self.corners_rad();
        if turning > 0.0 {
            corners.into_iter().find(|corner| *corner > angle_rad).unwrap_or(f64::INFINITY)
        } else {
            corners.into_iter().rev().find(|corner| *corner < angle_rad).unwrap_or(f64::NEG_INFINITY)
        }
    }
}

/// A rig with what its motion needs worked out once.
#[derive(Clone, Debug)]
pub(super) struct Dynamics<'a> {
    pub(super) rig: &'a Rig,
    pub(super) winding: Winding,
    /// M = m + I_p/r_p².
    pub(super) moving_mass_kg: f64,
    /// m g.
    weight_n: f64,
    /// τ_p/r_p.
    pulley_drag_n: f64,
}

impl<'a> Dynamics<'a> {
    pub(super) fn new(rig: &'a Rig) -> Self {
        Self {
            rig,
            winding: Winding::new(rig),
            moving_mass_kg: rig.mass_kg + rig.pulley.effective_mass_kg(),
            weight_n: rig.mass_kg * rig.gravity_m_per_s2,
            pulley_drag_n: rig.pulley.friction_n_m / rig.pulley.radius_m(),
        }
    }

    /// m g − τ_p/r_p: what pulls on the string, moving with this sign.
    pub(super) fn pull_n(&self, moving: f64) -> f64 {
        self.weight_n - moving * self.pulley_drag_n
    }

    /// Friction that does not depend on the tension, and acts back on a table turning with this sign.
    pub(super) fn unloaded_friction_n_m(&self, turning: f64, angle_rad: f64, rate_rad_per_s: f64) -> f64 {
        let friction = &self.rig.friction;
        let tilt = if friction.tilt_n_m == 0.0 {
            0.0
        } else {
            friction.tilt_n_m * sine(angle_rad + friction.tilt_phase_rad)
        };
        let drag = friction.viscous_n_m_s + friction.quadratic_n_m_s2 * rate_rad_per_s.abs();
        turning * friction.constant_n_m + drag * rate_rad_per_s + tilt
    }

    /// α of the table with a taut string. `turning` is the sign of ω, or of the motion about to begin.
    pub(super) fn driven(&self, turning: f64, part: Part, angle_rad: f64, rate_rad_per_s: f64) -> f64 {
        let RunOut { lever_m, curvature_m, .. } = self.winding.at(part, angle_rad);
        let moving = turning * part.lever_sign();
        let mass_kg = self.moving_mass_kg;
        let pull_n = self.pull_n(moving) - mass_kg * curvature_m * rate_rad_per_s * rate_rad_per_s;
        let friction_n_m = self.unloaded_friction_n_m(turning, angle_rad, rate_rad_per_s);
        let inertia_kg_m2 = self.rig.inertia_kg_m2 + mass_kg * lever_m * lever_m;
        let unloaded = (lever_m * pull_n - friction_n_m) / inertia_kg_m2;
        let arm_m = turning * self.rig.friction.bearing_arm_m;
        if arm_m == 0.0 {
            return unloaded;
        }
        // Newton's method for I α = I α₀ − r √(W² + T(α)²); r is far smaller than s′, so it settles at once.
        let weight_n = self.rig.friction.bearing_weight_n;
        let mut alpha = unloaded;
        for _ in 0..20 {
            let tension_n = pull_n - mass_kg * lever_m * alpha;
            let load_n = (weight_n * weight_n + tension_n * tension_n).sqrt();
            let miss = inertia_kg_m2 * (alpha - unloaded) + arm_m * load_n;
            let share = if load_n > 0.0 { tension_n / load_n } else { 0.0 };
            let step = miss / (inertia_kg_m2 - arm_m * share * mass_kg * lever_m);
            alpha -= step;
            if step.abs() <= 2.0 * f64::EPSILON * alpha.abs() {
                break;
            }
        }
        alpha
    }

    /// α of the table with a slack string.
    pub(super) fn coasting(&self, turning: f64, angle_rad: f64, rate_rad_per_s: f64) -> f64 {
        let friction = &self.rig.friction;
        let bearing_n_m = turning * friction.bearing_arm_m * friction.bearing_weight_n;
        -(self.unloaded_friction_n_m(turning, angle_rad, rate_rad_per_s) + bearing_n_m)
            / self.rig.inertia_kg_m2
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulation::rig::{Friction, Pulley};

    #[test]
    fn the_string_runs_out_as_the_drum_turns_whatever_the_layers() {
        for growth_per_turn_m in [0.0, 0.000_7] {
            let rig = Rig { growth_per_turn_m, ..Rig::default() };
            let winding = Winding::new(&rig);
            let at = |angle: f64| winding.at(winding.part(angle, 1.0), angle);
            let step = 1e-4;
            for k in 1..500 {
                let angle = f64::from(k) * 0.15;
                let [before, here, after] = [-step, 0.0, step].map(|by| at(angle + by));
                let lever = (after.string_m - before.string_m) / (2.0 * step);
                let curvature = (after.lever_m - before.lever_m) / (2.0 * step);
                assert!((lever - here.lever_m).abs() < 1e-8, "{angle}: {lever} {}", here.lever_m);
                // The layers' own curvature, k = growth/2π, jumps where the string has run off.
                let jump = if growth_per_turn_m > 0.0 { 1.2e-4 } else { 2e-6 };
                assert!((curvature - here.curvature_m).abs() < jump, "{angle}: {curvature}");
            }
            // Both ends of the string are where they must be, and the inverse is one.
            assert!((at(winding.run_off_rad).string_m - rig.wound_m).abs() < 1e-15);
            assert!((at(winding.run_off_rad).lever_m - rig.effective_radius_m()).abs() < 1e-15);
            for string in [0.0, 0.3, 0.6, 0.9] {
                assert!((at(winding.angle_rad(string)).string_m - string).abs() < 1e-15);
            }
        }
    }

    #[test]
    fn acceleration_worked_by_hand() {
        // ρ = 20 mm, I = 4 g·m² → I/ρ² = 10 kg; m = 0.3 kg, I_p/r_p² = 0.1 kg → 10.4 kg.
        // m g = 3 N, τ₀/ρ = 0.2 N, b ω/ρ = 0.1 N, c ω²/ρ = 0.1 N, τ_p/r_p = 0.05 N → 2.55 N.
        let radius = 10.0 * 0.02 / TAU;
        let rig = Rig {
            drum_radius_m: 0.0195,
            string_diameter_m: 0.001,
            gravity_m_per_s2: 10.0,
            inertia_kg_m2: 0.004,
            friction: Friction {
                constant_n_m: 0.004,
                viscous_n_m_s: 0.001,
                quadratic_n_m_s2: 0.000_5,
                ..Friction::default()
            },
            pulley: Pulley {
                spokes: 10,
                travel_per_spoke_m: 0.02,
                inertia_kg_m2: 0.1 * radius * radius,
                friction_n_m: 0.05 * radius,
            },
            mass_kg: 0.3,
            ..Rig::default()
        };
        let alpha = Dynamics::new(&rig).driven(1.0, Part::Unwinding, 1.0, 2.0);
        assert!((alpha * 0.02 - 2.55 / 10.4).abs() < 1e-15, "{alpha}");
        let coasting = Dynamics::new(&rig).coasting(1.0, 1.0, 2.0);
        assert!((coasting + 0.008 / 0.004).abs() < 1e-15, "{coasting}");
    }

    #[test]
    fn friction_in_proportion_to_the_tension_is_a_shorter_lever() {
        // r T on a lever ρ leaves T (ρ − r): with W = 0 the law is linear and solvable by hand.
        let rig =
            Rig { friction: Friction { bearing_arm_m: 0.001, ..Friction::default() }, ..Rig::default() };
        let lever = rig.effective_radius_m();
        let expected = rig.mass_kg * rig.gravity_m_per_s2 * (lever - 0.001)
            / (rig.inertia_kg_m2 + rig.mass_kg * lever * (lever - 0.001));
        let found = Dynamics::new(&rig).driven(1.0, Part::Unwinding, 0.0, 0.0);
        assert!((found / expected - 1.0).abs() < 1e-14, "{found} {expected}");
    }
}
