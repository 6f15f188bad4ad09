//! What happens in each kind of record, one thing after the other.

use super::{DROP_M, Kind};
use crate::simulation::course::{Course, Fall, Release};
use crate::simulation::gate::Gate;
use crate::simulation::landing::Landing;
use crate::simulation::path::Path;
use crate::simulation::random::Random;
use crate::simulation::rig::Rig;

/// A record being played.
pub(super) struct Script<'a> {
    kind: Kind,
    course: Course<'a>,
    falls: Vec<Fall>,
    drop_m: f64,
    random: &'a mut Random,
}

impl<'a> Script<'a> {
    pub(super) fn new(kind: Kind, rig: &'a Rig, gate: &Gate, random: &'a mut Random) -> Self {
        let drop_m = if kind == Kind::ShortDrop {
            // As many edges as are drawn, and half a spoke more.
            let edges = 25 + random.index(6);
            gate.first_edge_m + (edges as f64 - 0.5) * rig.pulley.travel_per_spoke_m
        } else {
            DROP_M
        };
        let winds =
            matches!(kind, Kind::SmoothWinding | Kind::JerkyWinding | Kind::LongPause | Kind::Everything);
        let course = Course::new(rig, if winds { drop_m } else { 0.0 });
        Self { kind, course, falls: Vec::new(), drop_m, random }
    }

    /// The motion and the free falls in it.
    pub(super) fn play(mut self) -> (Path, Vec<Fall>) {
        self.prepare();
        self.let_fall();
        self.end();
        (self.course.finish(), self.falls)
    }

    fn prepare(&mut self) {
        let pause_s = self.random.between(0.3, 1.5);
        self.course.hold(pause_s);
        match self.kind {
            Kind::SmoothWinding | Kind::Everything => self.wind_smoothly(),
            Kind::JerkyWinding => self.wind_in_jerks(),
            Kind::LongPause => {
                self.wind_smoothly();
                let pause_s = self.random.between(6.0, 20.0);
                self.course.hold(pause_s);
            }
            Kind::Pushed => {
                let (speed_m_per_s, duration_s) =
                    (self.random.between(0.1, 0.3), self.random.between(0.1, 0.3));
                self.course.bring_to(speed_m_per_s, duration_s);
            }
            _ => {}
        }
    }

    /// Up in a few long strokes, about as fast as a fall.
    fn wind_smoothly(&mut self) {
        let strokes = 1 + self.random.index(3);
        for left in (1..=strokes).rev() {
            let travel_m = -self.course.string_m() / left as f64;
            let speed_m_per_s = self.random.between(0.1, 0.4);
            self.course.hand(travel_m, -travel_m / speed_m_per_s);
            let pause_s = self.random.between(0.1, 1.0);
            self.course.hold(pause_s);
        }
    }

    /// Up in short quick strokes, with pauses and slips backwards.
    fn wind_in_jerks(&mut self) {
        while self.course.string_m() > 0.05 {
            let stroke_m = self.random.between(0.02, 0.15).min(self.course.string_m());
            let duration_s = self.random.between(0.15, 0.6);
            self.course.hand(-stroke_m, duration_s);
            if self.random.chance(0.3) {
                let (back_m, duration_s) = (self.random.between(0.005, 0.02), self.random.between(0.05, 0.2));
                self.course.hand(back_m, duration_s);
            }
            if self.random.chance(0.4) {
                let pause_s = self.random.between(0.05, 0.8);
                self.course.hold(pause_s);
            }
        }
        self.course.hand(-self.course.string_m(), 0.3);
        let pause_s = self.random.between(0.3, 1.5);
        self.course.hold(pause_s);
    }

    fn let_fall(&mut self) {
        let release = match self.kind {
            Kind::SoftRelease => Release::Softly(self.random.between(0.3, 0.8)),
            Kind::Pushed => Release::GoOn,
            _ => Release::FromRest,
        };
        let share = self.random.between(0.35, 0.65);
        match self.kind {
            Kind::StringSlip => {
                self.fall(release, share * self.drop_m);
                let length_m = self.random.between(0.01, 0.05);
                let grip = self.random.between(0.2, 0.5);
                self.course.slip(length_m, grip);
                self.fall(Release::GoOn, self.drop_m);
            }
            Kind::TwoDrops => {
                self.fall(release, (share + 0.3) * self.drop_m);
                self.catch();
                self.wind_smoothly();
                self.fall(Release::FromRest, self.drop_m);
            }
            Kind::CaughtByHand => self.fall(release, (share + 0.3) * self.drop_m),
            _ => self.fall(release, self.drop_m),
        }
    }

    fn fall(&mut self, release: Release, until_m: f64) {
        self.falls.push(self.course.fall(release, until_m));
    }

    fn catch(&mut self) {
        let (stopping_s, pause_s) = (self.random.between(0.05, 0.2), self.random.between(0.2, 0.8));
        self.course.bring_to(0.0, stopping_s);
        self.course.hold(pause_s);
    }

    fn end(&mut self) {
        match self.kind {
            Kind::Rewind => {
                let duration_s = self.random.between(2.0, 5.0);
                self.course.swing(duration_s);
            }
            Kind::CaughtByHand => {
                self.catch();
                for _ in 0..3 {
                    let (travel_m, duration_s) =
                        (self.random.between(-0.12, 0.04), self.random.between(0.3, 1.0));
                    self.course.hand(travel_m, duration_s);
                }
            }
            Kind::FloorLanding | Kind::Everything => {
                let landing = Landing {
                    duration_s: self.random.between(1.0, 3.0),
                    restitution: 0.0,
                    drag_time_s: self.random.between(0.3, 1.0),
                    bearing_m_per_s2: self.random.between(0.05, 0.3),
                };
                self.course.land(&landing);
            }
            Kind::FloorBounce => {
                let landing = Landing {
                    duration_s: self.random.between(0.8, 2.0),
                    restitution: self.random.between(0.4, 0.7),
                    drag_time_s: self.random.between(0.003, 0.03),
                    bearing_m_per_s2: self.random.between(0.05, 0.3),
                };
                self.course.land(&landing);
            }
            _ => {}
        }
    }
}
