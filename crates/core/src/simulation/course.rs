//! What happens in a record, one thing after the other; the outcome is a [`Path`].
//!
//! ```
//! use whorl_core::simulation::course::{Course, Release};
//! use whorl_core::simulation::rig::Rig;
//! let rig = Rig::default();
//! let mut course = Course::new(&rig, 0.8);
//! course.hand(-0.8, 4.0);
//! course.hold(1.0);
//! let fall = course.fall(Release::FromRest, 0.8);
//! course.bring_to(0.0, 0.1);
//! let path = course.finish();
//! assert!(fall.to_s < path.end_s());
//! ```

use super::dynamics::{Dynamics, Part, RunOut};
use super::integrator::{State, Step, integrate};
use super::path::{Knot, Path, Piece, Polynomial};
use super::rig::Rig;

/// A record in the making. The string's position counts from where all of it is wound up.
#[derive(Clone, Debug)]
pub struct Course<'a> {
    pub(super) dynamics: Dynamics<'a>,
    pub(super) path: Path,
    pub(super) now: Now,
}

/// Where a course has got to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Now {
    pub(super) time_s: f64,
    pub(super) string_m: f64,
    pub(super) string_m_per_s: f64,
    pub(super) table_rad: f64,
    pub(super) table_rad_per_s: f64,
    /// String that has slipped off the drum without turning it.
    pub(super) slipped_m: f64,
}

/// How a fall begins.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// At once, from rest.
    FromRest,
    /// With this speed, m/s: pushed, or already moving when the record begins.
    Moving(f64),
    /// From rest by a hand that lets go evenly in this time, s.
    Softly(f64),
    /// As the course is: a fall goes on.
    GoOn,
}

/// A fall, from when nothing holds the table to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Start, s.
    pub from_s: f64,
    /// End, s.
    pub to_s: f64,
    /// Acceleration of the mass, m/s²: its mean, where it changes; 0 when it did not fall.
    pub acceleration_m_per_s2: f64,
}

/// No simulated fall takes longer, s.
const LONGEST_FALL_S: f64 = 300.0;

/// Error of a step: gate times come out well within 1e-11 s.
const CLOSELY: f64 = 1e-11;

impl<'a> Course<'a> {
    /// A record that begins at rest with this much string run out.
    pub fn new(rig: &'a Rig, string_m: f64) -> Self {
        let dynamics = Dynamics::new(rig);
        let now = Now {
            time_s: 0.0,
            string_m,
            string_m_per_s: 0.0,
            table_rad: dynamics.winding.angle_rad(string_m),
            table_rad_per_s: 0.0,
            slipped_m: 0.0,
        };
        Self { dynamics, path: Path::default(), now }
    }

    /// The whole motion.
    pub fn finish(self) -> Path {
        self.path
    }

    /// Time since the start of the record, s.
    pub fn time_s(&self) -> f64 {
        self.now.time_s
    }

    /// Position of the string, m.
    pub fn string_m(&self) -> f64 {
        self.now.string_m
    }

    /// Speed of the string, m/s.
    pub fn string_m_per_s(&self) -> f64 {
        self.now.string_m_per_s
    }

    /// Held at rest for a time, s.
    pub fn hold(&mut self, duration_s: f64) {
        let (string, table) = (Polynomial::rest(self.now.string_m), Polynomial::rest(self.now.table_rad));
        self.piece(duration_s, string, table);
        self.now.string_m_per_s = 0.0;
        self.now.table_rad_per_s = 0.0;
    }

    /// Moved smoothly by hand, from rest to rest, by this travel of the string, m; negative winds it up.
    pub fn hand(&mut self, travel_m: f64, duration_s: f64) {
        let string_m = self.now.string_m + travel_m;
        let table_rad = self.dynamics.winding.angle_rad(string_m - self.now.slipped_m);
        let string = Polynomial::hand(self.now.string_m, string_m);
        let table = Polynomial::hand(self.now.table_rad, table_rad);
        self.piece(duration_s, string, table);
        self.now = Now { string_m, table_rad, string_m_per_s: 0.0, table_rad_per_s: 0.0, ..self.now };
    }

    /// Brought to this speed of the string, m/s, by a hand, evenly in this time, s: caught, or pushed off.
    pub fn bring_to(&mut self, string_m_per_s: f64, duration_s: f64) {
        let lever_m = self.lever_m();
        let change = |from: f64, to: f64| (to - from) / duration_s;
        let string = self.string_knot(change(self.now.string_m_per_s, string_m_per_s));
        let table = self.table_knot(change(self.now.table_rad_per_s, string_m_per_s / lever_m));
        self.uniform(duration_s, string, table);
        self.set_speed(string_m_per_s);
    }

    /// The mass falls until this much string has run out, m, or all of it has, or the table stops. A soft
    /// release is over where the [`Fall`] begins.
    pub fn fall(&mut self, release: Release, until_m: f64) -> Fall {
        match release {
            Release::FromRest => self.set_speed(0.0),
            Release::Moving(speed_m_per_s) => self.set_speed(speed_m_per_s),
            Release::Softly(duration_s) => self.let_go(duration_s, until_m),
            Release::GoOn => {}
        }
        let start = self.now;
        if start.string_m < until_m {
            self.fall_freely(until_m);
        }
        let duration_s = self.now.time_s - start.time_s;
        let gained = self.now.string_m_per_s - start.string_m_per_s;
        Fall {
            from_s: start.time_s,
            to_s: self.now.time_s,
            acceleration_m_per_s2: if duration_s > 0.0 { gained / duration_s } else { 0.0 },
        }
    }

    /// Left alone for a time, s: down, and up again when all string has run off, and down …
    pub fn swing(&mut self, duration_s: f64) {
        let end_s = self.now.time_s + duration_s;
        while self.now.time_s < end_s {
            let turning = self.turning();
            if turning == 0.0 {
                self.hold(end_s - self.now.time_s);
            } else {
                self.driven_until(turning, self.corner(turning), end_s);
            }
        }
    }

    /// The string slips on the drum by this length, m, pulled with a share of the weight; then it grips and
    /// both go on at one speed. Nothing happens where that share is enough to accelerate the drum.
    pub fn slip(&mut self, length_m: f64, grip: f64) {
        let lever_m = self.lever_m();
        let mass_kg = self.dynamics.moving_mass_kg;
        let inertia_kg_m2 = self.dynamics.rig.inertia_kg_m2;
        let pull_n = self.dynamics.pull_n(1.0);
        let tension_n = grip * pull_n;
        let friction_n_m =
            self.dynamics.unloaded_friction_n_m(1.0, self.now.table_rad, self.now.table_rad_per_s);
        let string = self.string_knot((pull_n - tension_n) / mass_kg);
        let table = self.table_knot((tension_n * lever_m - friction_n_m) / inertia_kg_m2);
        let sliding = string.acceleration - lever_m * table.acceleration;
        if sliding <= 0.0 {
            return;
        }
        self.uniform((2.0 * length_m / sliding).sqrt(), string, table);
        self.now.slipped_m += length_m;
        // The grip is sudden: what mass and pulley lose of momentum, the drum gains.
        let drum_kg = inertia_kg_m2 / (lever_m * lever_m);
        let drum_m_per_s = lever_m * self.now.table_rad_per_s;
        self.set_speed((mass_kg * self.now.string_m_per_s + drum_kg * drum_m_per_s) / (mass_kg + drum_kg));
    }

    fn fall_freely(&mut self, until_m: f64) {
        let until_rad = self.dynamics.winding.angle_rad(until_m - self.now.slipped_m);
        let angular = self.dynamics.driven(1.0, self.part(1.0), self.now.table_rad, self.now.table_rad_per_s);
        let uniform = self.dynamics.rig.is_uniform() && angular > 0.0 && self.now.string_m_per_s >= 0.0;
        if uniform {
            // Constant acceleration from v₀: the way w takes 2w/(√(v₀² + 2 a w) + v₀).
            let lever_m = self.lever_m();
            let way = until_rad - self.now.table_rad;
            let rate = self.now.table_rad_per_s;
            let duration_s = 2.0 * way / ((rate * rate + 2.0 * angular * way).sqrt() + rate);
            self.uniform(duration_s, self.string_knot(lever_m * angular), self.table_knot(angular));
            return;
        }
        let end_s = self.now.time_s + LONGEST_FALL_S;
        while self.now.table_rad < until_rad && self.now.time_s < end_s && self.turning() > 0.0 {
            let stop_rad = until_rad.min(self.corner(1.0));
            self.driven_until(1.0, stop_rad, end_s);
        }
    }

    /// A hand lets go: what turns the table grows from nothing to all of it.
    fn let_go(&mut self, duration_s: f64, until_m: f64) {
        self.set_speed(0.0);
        if self.turning() <= 0.0 {
            return;
        }
        let start_s = self.now.time_s;
        let until_rad = self.dynamics.winding.angle_rad(until_m - self.now.slipped_m);
        let (dynamics, part) = (self.dynamics.clone(), self.part(1.0));
        self.follow(start_s + duration_s, until_rad, 1.0, |state| {
            let share = ((state.time_s - start_s) / duration_s).clamp(0.0, 1.0);
            let ([angle], [rate]) = (state.place, state.rate);
            [share * dynamics.driven(1.0, part, angle, rate)]
        });
    }

    /// The sign in which the table turns or, at rest, will turn; 0 when friction holds it.
    fn turning(&self) -> f64 {
        let Now { table_rad, table_rad_per_s, .. } = self.now;
        if table_rad_per_s != 0.0 {
            return table_rad_per_s.signum();
        }
        let starts = |turning: &f64| {
            *turning * self.dynamics.driven(*turning, self.part(*turning), table_rad, 0.0) > 0.0
        };
        [1.0, -1.0].into_iter().find(starts).unwrap_or(0.0)
    }

    fn part(&self, turning: f64) -> Part {
        self.dynamics.winding.part(self.now.table_rad, turning)
    }

    /// Where the string runs off the drum, distance from the axis.
    fn lever_m(&self) -> f64 {
        self.run_out().lever_m
    }

    pub(super) fn run_out(&self) -> RunOut {
        self.dynamics.winding.at(self.part(self.now.table_rad_per_s), self.now.table_rad)
    }

    fn corner(&self, turning: f64) -> f64 {
        self.dynamics.winding.next_corner_rad(self.now.table_rad, turning)
    }

    /// Integrates the taut string until an angle or a time is reached or the table stops.
    fn driven_until(&mut self, turning: f64, stop_rad: f64, end_s: f64) {
        let (dynamics, part) = (self.dynamics.clone(), self.part(turning));
        self.follow(end_s, stop_rad, turning, |state| {
            let ([angle], [rate]) = (state.place, state.rate);
            [dynamics.driven(turning, part, angle, rate)]
        });
    }

    /// Integrates the table with the string running over the drum.
    fn follow(
        &mut self,
        end_s: f64,
        stop_rad: f64,
        turning: f64,
        acceleration: impl Fn(&State<1>) -> [f64; 1],
    ) {
        let Now { time_s, table_rad, table_rad_per_s, slipped_m, .. } = self.now;
        let start = State { time_s, place: [table_rad], rate: [table_rad_per_s] };
        let way_left = |state: &State<1>| {
            let ([angle], [rate]) = (state.place, state.rate);
            (turning * (stop_rad - angle)).min(turning * rate)
        };
        let (winding, part) = (self.dynamics.winding, self.part(turning));
        let string_at = |state: &State<1>, acceleration: f64| {
            let ([angle], [rate]) = (state.place, state.rate);
            let run_out = winding.at(part, angle);
            Knot {
                place: slipped_m + run_out.string_m,
                rate: run_out.lever_m * rate,
                acceleration: run_out.lever_m * acceleration + run_out.curvature_m * rate * rate,
            }
        };
        let path = &mut self.path;
        let end = integrate(start, end_s, CLOSELY, acceleration, way_left, |step: &Step<1>| {
            let duration_s = step.to.time_s - step.from.time_s;
            let ([start], [end]) = step.accelerations;
            let string =
                Polynomial::through(string_at(&step.from, start), string_at(&step.to, end), duration_s);
            let [table] = step.curves;
            path.push(Piece { from_s: step.from.time_s, duration_s, string, table });
        });
        let ([angle], [rate]) = (end.place, end.rate);
        // Exactly there, or exactly at rest: whatever comes next must not meet the same end again.
        let arrived = turning * (stop_rad - angle) < turning * rate && end.time_s < end_s;
        let table_rad = if arrived { stop_rad } else { angle };
        let stopped = turning * rate <= 1e-9 && end.time_s < end_s && !arrived;
        let table_rad_per_s = if stopped { 0.0 } else { rate };
        let run_out = winding.at(part, table_rad);
        self.now = Now {
            time_s: end.time_s,
            string_m: slipped_m + run_out.string_m,
            string_m_per_s: run_out.lever_m * table_rad_per_s,
            table_rad,
            table_rad_per_s,
            slipped_m,
        };
    }

    /// Sets string and table to one speed.
    fn set_speed(&mut self, string_m_per_s: f64) {
        self.now.string_m_per_s = string_m_per_s;
        self.now.table_rad_per_s = string_m_per_s / self.lever_m();
    }

    fn string_knot(&self, acceleration: f64) -> Knot {
        Knot { place: self.now.string_m, rate: self.now.string_m_per_s, acceleration }
    }

    fn table_knot(&self, acceleration: f64) -> Knot {
        Knot { place: self.now.table_rad, rate: self.now.table_rad_per_s, acceleration }
    }

    /// Constant accelerations of both for a time.
    fn uniform(&mut self, duration_s: f64, string: Knot, table: Knot) {
        let [string_curve, table_curve] = [string, table].map(|knot| Polynomial::uniform(knot, duration_s));
        self.piece(duration_s, string_curve, table_curve);
        self.now.string_m = string_curve.at(1.0);
        self.now.table_rad = table_curve.at(1.0);
        self.now.string_m_per_s = string.rate + string.acceleration * duration_s;
        self.now.table_rad_per_s = table.rate + table.acceleration * duration_s;
    }

    fn piece(&mut self, duration_s: f64, string: Polynomial, table: Polynomial) {
        self.path.push(Piece { from_s: self.now.time_s, duration_s, string, table });
        self.now.time_s += duration_s;
    }
}

#[cfg(test)]
mod tests;
