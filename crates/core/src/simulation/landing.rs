//! After the mass has reached the floor: table and pulley run on by themselves, with a slack string.

use super::course::{Course, Now};
use super::integrator::{State, Step, integrate};
use super::path::Piece;

/// How a mass lands and what becomes of the pulley.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// The record goes on for this long, s.
    pub duration_s: f64,
    /// Speed after a bounce as a share of that before, below 1; 0 for a mass that stays.
    pub restitution: f64,
    /// The slack string, which moves with the mass, drags the pulley to its own speed: the difference falls to
    /// 1/e in this time, s.
    pub drag_time_s: f64,
    /// Deceleration of the pulley's rim by its own bearing, m/s².
    pub bearing_m_per_s2: f64,
}

impl Default for Landing {
    /// Stays on the floor; the pulley runs on for a second or so.
    fn default() -> Self {
        Self { duration_s: 1.5, restitution: 0.0, drag_time_s: 0.5, bearing_m_per_s2: 0.2 }
    }
}

impl Landing {
    /// How long after landing at this speed, m/s, each jump of the mass begins and ends, s. On the floor in
    /// between and after.
    pub fn jumps_s(&self, speed_m_per_s: f64, gravity_m_per_s2: f64) -> Vec<(f64, f64)> {
        let mut flight =
            Flight { from_s: 0.0, speed_m_per_s, gravity_m_per_s2 }.bounce(0.0, self.restitution);
        let mut jumps = Vec::new();
        while flight.end_s().is_finite() && flight.from_s < self.duration_s {
            jumps.push((flight.from_s, flight.end_s()));
            flight = flight.bounce(flight.end_s(), self.restitution);
        }
        jumps
    }
}

/// A bounce below this speed is none, m/s.
const LEAST_BOUNCE_M_PER_S: f64 = 0.02;

/// Nobody fits what happens after the landing, and a tight drag would need many steps.
const ROUGHLY: f64 = 1e-8;

/// The mass above the floor, moving down as v(t) = g (t − t₀) − u, or at rest on it.
#[derive(Clone, Copy)]
struct Flight {
    from_s: f64,
    speed_m_per_s: f64,
    gravity_m_per_s2: f64,
}

impl Flight {
    fn bounce(self, from_s: f64, restitution: f64) -> Self {
        let speed = self.speed_m_per_s * restitution;
        let speed_m_per_s = if speed < LEAST_BOUNCE_M_PER_S { 0.0 } else { speed };
        Self { from_s, speed_m_per_s, ..self }
    }

    fn end_s(self) -> f64 {
        if self.speed_m_per_s == 0.0 {
            f64::INFINITY
        } else {
            self.from_s + 2.0 * self.speed_m_per_s / self.gravity_m_per_s2
        }
    }

    fn m_per_s(self, time_s: f64) -> f64 {
        if self.speed_m_per_s == 0.0 {
            0.0
        } else {
            self.gravity_m_per_s2 * (time_s - self.from_s) - self.speed_m_per_s
        }
    }
}

impl Course<'_> {
    /// The mass has reached the floor: the string goes slack. The path's string is the pulley's travel from
    /// here on.
    pub fn land(&mut self, landing: &Landing) {
        let end_s = self.now.time_s + landing.duration_s;
        let arriving = Flight {
            from_s: self.now.time_s,
            speed_m_per_s: self.now.string_m_per_s,
            gravity_m_per_s2: self.dynamics.rig.gravity_m_per_s2,
        };
        let mut flight = arriving.bounce(self.now.time_s, landing.restitution);
        let mut table_turns = self.now.table_rad_per_s > 0.0;
        while self.now.time_s < end_s {
            if self.now.time_s >= flight.end_s() {
                flight = flight.bounce(self.now.time_s, landing.restitution);
            }
            let until_s = end_s.min(flight.end_s());
            let pulley = self.pulley_sign(landing, flight);
            let until_s = if pulley == 0.0 {
                // A pulley at rest waits until the string comes down fast enough to turn it.
                let starts_s = flight.from_s
                    + (flight.speed_m_per_s + landing.bearing_m_per_s2 * landing.drag_time_s)
                        / flight.gravity_m_per_s2;
                if starts_s > self.now.time_s { until_s.min(starts_s + 1e-6) } else { until_s }
            } else {
                until_s
            };
            self.run_on(landing, flight, pulley, table_turns, until_s);
            if self.now.table_rad_per_s <= 0.0 {
                self.now.table_rad_per_s = 0.0;
                table_turns = false;
            }
        }
        self.now.slipped_m = self.now.string_m - self.run_out().string_m;
    }

    /// The sign in which the pulley turns or, at rest, is dragged; 0 when its bearing holds it.
    fn pulley_sign(&self, landing: &Landing, flight: Flight) -> f64 {
        if self.now.string_m_per_s != 0.0 {
            return self.now.string_m_per_s.signum();
        }
        let drag = flight.m_per_s(self.now.time_s) / landing.drag_time_s;
        if drag.abs() > landing.bearing_m_per_s2 { drag.signum() } else { 0.0 }
    }

    /// Integrates table and pulley side by side until a time, or until one of them stops.
    fn run_on(&mut self, landing: &Landing, flight: Flight, pulley: f64, table_turns: bool, until_s: f64) {
        let Now { time_s, string_m, string_m_per_s, table_rad, table_rad_per_s, .. } = self.now;
        let start = State { time_s, place: [table_rad, string_m], rate: [table_rad_per_s, string_m_per_s] };
        let dynamics = self.dynamics.clone();
        let accelerations = |state: &State<2>| {
            let ([angle, _], [rate, speed]) = (state.place, state.rate);
            let table = if table_turns { dynamics.coasting(1.0, angle, rate) } else { 0.0 };
            let drag = (flight.m_per_s(state.time_s) - speed) / landing.drag_time_s;
            let rim = if pulley == 0.0 { 0.0 } else { drag - pulley * landing.bearing_m_per_s2 };
            [table, rim]
        };
        let left = |state: &State<2>| {
            let [rate, speed] = state.rate;
            let table = if table_turns { rate } else { 1.0 };
            let rim = if pulley == 0.0 { 1.0 } else { pulley * speed };
            table.min(rim)
        };
        let path = &mut self.path;
        let end = integrate(start, until_s, ROUGHLY, accelerations, left, |step: &Step<2>| {
            let [table, string] = step.curves;
            let duration_s = step.to.time_s - step.from.time_s;
            path.push(Piece { from_s: step.from.time_s, duration_s, string, table });
        });
        let ([table_rad, string_m], [table_rad_per_s, speed]) = (end.place, end.rate);
        // What stopped is exactly at rest, so that it is not told to stop again.
        let string_m_per_s = if pulley * speed <= 1e-9 { 0.0 } else { speed };
        let table_rad_per_s = if table_rad_per_s <= 1e-9 { 0.0 } else { table_rad_per_s };
        self.now =
            Now { time_s: end.time_s, string_m, string_m_per_s, table_rad, table_rad_per_s, ..self.now };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulation::course::Release;
    use crate::simulation::rig::Rig;

    #[test]
    fn the_table_coasts_and_the_pulley_stops_by_itself() {
        let rig = Rig::default();
        let mut course = Course::new(&rig, 0.0);
        let fall = course.fall(Release::FromRest, 0.5);
        // Without drag the rim is braked evenly: from v it runs on by v²/2d in v/d.
        let landing =
            Landing { duration_s: 4.0, restitution: 0.0, drag_time_s: f64::INFINITY, bearing_m_per_s2: 0.25 };
        course.land(&landing);
        let path = course.finish();
        let speed = (2.0 * fall.acceleration_m_per_s2 * 0.5).sqrt();
        let stopped = path.moment(fall.to_s + speed / 0.25 + 1e-6).unwrap();
        assert!((stopped.string_m - 0.5 - speed * speed / 0.5).abs() < 1e-9, "{stopped:?}");
        assert!(stopped.string_m_per_s.abs() < 1e-5);
        // The table: ω − τ₀ t/I.
        let later = path.moment(fall.to_s + 2.0).unwrap();
        let expected = speed / rig.effective_radius_m() - 1e-3 / 1.5e-3 * 2.0;
        assert!((later.table_rad_per_s - expected).abs() < 1e-9, "{later:?}");
        assert!((path.end_s() - fall.to_s - 4.0).abs() < 1e-12);
    }

    #[test]
    fn a_bouncing_mass_pulls_the_pulley_to_and_fro() {
        let rig = Rig::default();
        let mut course = Course::new(&rig, 0.0);
        let fall = course.fall(Release::FromRest, 0.5);
        course.land(&Landing {
            duration_s: 2.0,
            restitution: 0.6,
            drag_time_s: 0.004,
            bearing_m_per_s2: 0.3,
        });
        let path = course.finish();
        let speeds: Vec<f64> =
            (0..2000).map(|k| path.moment(fall.to_s + f64::from(k) * 1e-3).unwrap().string_m_per_s).collect();
        let turns = speeds.windows(2).filter(|pair| pair[0] * pair[1] < 0.0).count();
        assert!(turns >= 3, "{turns}");
        // Tightly dragged, the pulley follows the mass, up at 0.6 of the speed of landing, some ms late.
        let fastest_back = speeds.iter().copied().fold(0.0, f64::min);
        let landed = (2.0 * fall.acceleration_m_per_s2 * 0.5).sqrt();
        assert!((-0.6 * landed..-0.3 * landed).contains(&fastest_back), "{fastest_back}");
        assert!(speeds[1999].abs() < 1e-9);
    }
}
