//! A run being played: acts of a course with their phases noted.

use super::phase::{Phase, PhaseKind};
use super::wish::{Ending, Start, Wish};
use crate::simulation::course::{Course, Fall, Release};
use crate::simulation::landing::Landing;
use crate::simulation::path::Path;
use crate::simulation::random::Random;
use crate::simulation::rig::Rig;

/// A run as it came out.
pub(super) struct Story {
    pub(super) path: Path,
    pub(super) phases: Vec<Phase>,
    /// The free falls; two where the string slipped between them.
    pub(super) falls: Vec<Fall>,
    /// When the mass reaches the floor, and how each jump of it begins and ends, s.
    pub(super) landed: Option<Landed>,
}

/// A mass on the floor.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Landed {
    pub(super) at_s: f64,
    pub(super) at_m: f64,
    pub(super) jumps_s: Vec<(f64, f64)>,
}

/// What the bench adds to a wish.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mishaps {
    /// How far the string slips, m, if it does.
    pub(super) slip_m: Option<f64>,
    /// Speed of a push that nobody wished, m/s.
    pub(super) push_m_per_s: Option<f64>,
}

struct Teller<'a> {
    rig: &'a Rig,
    course: Course<'a>,
    phases: Vec<Phase>,
    falls: Vec<Fall>,
    landed: Option<Landed>,
    random: Random,
}

/// Plays a run. Times and speeds of hands are common practice, no source.
pub(super) fn play(rig: &Rig, drop_m: f64, wish: &Wish, mishaps: Mishaps, random: Random) -> Story {
    let end_m = drop_m.min(rig.wound_m);
    let course = Course::new(rig, if wish.winding { end_m } else { 0.0 });
    let mut teller = Teller { rig, course, phases: Vec::new(), falls: Vec::new(), landed: None, random };
    teller.wind();
    teller.let_fall(wish, mishaps, end_m);
    teller.end(wish, drop_m, end_m);
    let Teller { course, phases, falls, landed, .. } = teller;
    let path = course.finish();
    let phases = phases.into_iter().flat_map(|phase| turns(phase, &path)).collect();
    Story { path, phases, falls, landed }
}

impl Teller<'_> {
    /// Notes what happens from a moment to now; what takes no time has not happened.
    fn note(&mut self, kind: PhaseKind, from_s: f64) {
        let to_s = self.course.time_s();
        match self.phases.last_mut() {
            // One stroke after the other is one winding.
            Some(last) if last.kind == kind => last.to_s = to_s,
            _ if to_s > from_s => self.phases.push(Phase { kind, from_s, to_s }),
            _ => {}
        }
    }

    fn hold(&mut self, from_s: f64, to_s: f64) {
        let start_s = self.course.time_s();
        let duration_s = self.random.between(from_s, to_s);
        self.course.hold(duration_s);
        self.note(PhaseKind::Held, start_s);
    }

    /// Held, wound up in one to three strokes, and held again until the string hangs still.
    fn wind(&mut self) {
        self.hold(0.3, 1.0);
        let start_s = self.course.time_s();
        let strokes = 1 + self.random.index(3);
        let speeds = [(); 3].map(|()| self.random.between(0.15, 0.4));
        let pauses_s = [(); 3].map(|()| self.random.between(0.1, 0.4));
        if self.course.string_m() > 0.0 {
            for ((left, speed), pause_s) in (1..=strokes).rev().zip(speeds).zip(pauses_s) {
                let travel_m = self.course.string_m() / left as f64;
                // A hand starts and stops smoothly: its mean speed is what counts.
                self.course.hand(-travel_m, travel_m / speed);
                if left > 1 {
                    self.course.hold(pause_s);
                }
            }
            self.note(PhaseKind::WoundUp, start_s);
        }
        self.hold(0.5, 1.5);
    }

    fn let_fall(&mut self, wish: &Wish, mishaps: Mishaps, end_m: f64) {
        let soft_s = self.random.between(0.3, 0.8);
        let (push_m_per_s, push_s) = (self.random.between(0.1, 0.3), self.random.between(0.1, 0.3));
        let share = self.random.between(0.35, 0.65);
        let grip = self.random.between(0.2, 0.5);
        let push_m_per_s = match wish.start {
            Start::Pushed => Some(push_m_per_s),
            Start::FromRest => mishaps.push_m_per_s,
            Start::Softly => None,
        };
        let start_s = self.course.time_s();
        let release = match (wish.start, push_m_per_s) {
            (_, Some(speed_m_per_s)) => {
                self.course.bring_to(speed_m_per_s, push_s);
                self.note(PhaseKind::Pushed, start_s);
                Release::GoOn
            }
            (Start::Softly, None) => Release::Softly(soft_s),
            (_, None) => Release::FromRest,
        };
        let caught_m = if wish.ending == Ending::Caught { 0.9 * end_m } else { end_m };
        match mishaps.slip_m {
            None => self.fall(release, caught_m),
            Some(length_m) => {
                self.fall(release, share * caught_m);
                let slips_s = self.course.time_s();
                self.course.slip(length_m, grip);
                self.note(PhaseKind::Slipping, slips_s);
                self.fall(Release::GoOn, caught_m);
            }
        }
    }

    fn fall(&mut self, release: Release, until_m: f64) {
        let start_s = self.course.time_s();
        let fall = self.course.fall(release, until_m);
        if fall.from_s > start_s {
            self.phases.push(Phase { kind: PhaseKind::Released, from_s: start_s, to_s: fall.from_s });
        }
        self.note(PhaseKind::Falling, fall.from_s);
        if fall.to_s > fall.from_s {
            self.falls.push(fall);
        }
    }

    fn end(&mut self, wish: &Wish, drop_m: f64, end_m: f64) {
        let start_s = self.course.time_s();
        let goes_on_s = self.random.between(1.0, 3.0);
        // Rounding may leave the string a last digit short of its end.
        let arrived = self.course.string_m() >= end_m - 1e-9;
        let caught = wish.ending == Ending::Caught;
        if caught && self.course.string_m() > 0.5 * end_m {
            let stopping_s = self.random.between(0.05, 0.2);
            self.course.bring_to(0.0, stopping_s);
            self.course.hold(0.5 * goes_on_s);
            self.note(PhaseKind::Caught, start_s);
        } else if !arrived {
            // Friction holds the table.
            self.course.hold(goes_on_s);
            self.note(PhaseKind::AtRest, start_s);
        } else if drop_m > self.rig.wound_m {
            self.course.swing(2.0 * goes_on_s);
            self.note(PhaseKind::Rewinding, start_s);
        } else {
            self.land(wish.ending, goes_on_s);
        }
    }

    fn land(&mut self, ending: Ending, duration_s: f64) {
        let (at_s, at_m) = (self.course.time_s(), self.course.string_m());
        let restitution = self.random.between(0.4, 0.7);
        let (loose_s, tight_s) = (self.random.between(0.3, 1.0), self.random.between(0.003, 0.03));
        let bearing_m_per_s2 = self.random.between(0.05, 0.3);
        // On a pad the slack string lies still and drags the pulley little; jumping, the mass jerks it.
        let (restitution, drag_time_s) =
            if ending == Ending::OnFloor { (restitution, tight_s) } else { (0.0, loose_s) };
        let landing = Landing { duration_s, restitution, drag_time_s, bearing_m_per_s2 };
        let speed = self.course.string_m_per_s();
        self.course.land(&landing);
        let end_s = self.course.time_s();
        let jumps_s: Vec<(f64, f64)> = landing
            .jumps_s(speed, self.rig.gravity_m_per_s2)
            .into_iter()
            .map(|(from_s, to_s)| (at_s + from_s, (at_s + to_s).min(end_s)))
            .collect();
        let mut last_s = at_s;
        for (from_s, to_s) in &jumps_s {
            self.phases.push(Phase { kind: PhaseKind::Landed, from_s: *from_s, to_s: *from_s });
            self.phases.push(Phase { kind: PhaseKind::Rebounded, from_s: *from_s, to_s: *to_s });
            last_s = *to_s;
        }
        self.phases.push(Phase { kind: PhaseKind::Landed, from_s: last_s, to_s: last_s });
        self.note(PhaseKind::Slack, last_s);
        self.landed = Some(Landed { at_s, at_m, jumps_s });
    }
}

/// Up and down in turn, where the string winds itself up.
fn turns(phase: Phase, path: &Path) -> Vec<Phase> {
    if phase.kind != PhaseKind::Rewinding {
        return vec![phase];
    }
    let mut times_s = vec![phase.from_s];
    times_s.extend(path.turning_points_s(phase.from_s, phase.to_s));
    times_s.push(phase.to_s);
    // First the knot swings out: down, though little.
    let kinds = [PhaseKind::FallingAgain, PhaseKind::Rewinding].into_iter().cycle();
    let spans = times_s.iter().zip(times_s.iter().skip(1));
    let swings = spans.zip(kinds).map(|((from_s, to_s), kind)| Phase { kind, from_s: *from_s, to_s: *to_s });
    let mut phases: Vec<Phase> = swings.filter(|phase| phase.to_s > phase.from_s).collect();
    // Which still belongs to the fall.
    if let Some(first) = phases.first_mut() {
        first.kind = PhaseKind::Falling;
    }
    phases
}
