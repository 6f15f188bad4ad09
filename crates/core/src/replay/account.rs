//! What happens in a run, told in sentences with their times: for who does not see the drawing, and for who wants to go
//! straight to a moment.

use super::{Moment, Phase, Replay};
use crate::measured::Measured;
use crate::measured::shown::{DisplayUnit, show, show_number};
use crate::quantity::{Meters, MetersPerSecond, Newtons, Seconds};
use crate::runs::Motion;
use whorl_words as words;

/// A moment worth telling.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// When.
    pub time: Seconds,
    /// What happens then.
    pub words: String,
}

/// A speed below this part of the stretch's greatest belongs to a fall that was let go: v grows as √s, so the mass has
/// come 4 % of the way, the reading of safety included that is left off a stretch.
const REST: f64 = 0.2;

impl Replay {
    /// What happens, in order of time.
    pub fn account(&self) -> Vec<Landmark> {
        let (first, last) = self.span();
        let (start, end) = self.stretch();
        let mut told = Vec::new();
        let mut tell = |time: Seconds, words: String| told.push(Landmark { time, words });
        if first < start {
            tell(first, self.before(start));
        }
        tell(start, self.beginning());
        let way = self.ends.1 - self.ends.0;
        for quarter in 1..4_u32 {
            let time = self.time_at(self.ends.0 + way * f64::from(quarter) / 4.0);
            let moment = self.at(time);
            if time > start && time < end {
                tell(
                    time,
                    words::replay::on_the_way(&self.name_of_motion(), &far(moment.travel), &fast(&moment)),
                );
            }
        }
        let duration = show_number(end.0 - start.0, DisplayUnit::si::<Seconds>(), 4);
        tell(end, words::replay::end_of_stretch(&far(self.at(end).travel), &duration, &fast(&self.at(end))));
        if end < last {
            tell(last, self.after(end));
        }
        told
    }

    /// One sentence about a moment, for a reader who asks.
    pub fn told_at(&self, time: Seconds) -> String {
        let moment = self.at(time);
        let time = show_number(moment.time.0, DisplayUnit::si::<Seconds>(), 4);
        match moment.phase {
            Phase::Before => words::replay::now_before(&time, &fast(&moment)),
            Phase::After => words::replay::now_after(&time, &fast(&moment)),
            Phase::Within => {
                let sentence = words::replay::now_within(&time, &far(moment.travel), &fast(&moment));
                match moment.forces {
                    Some(forces) => format!(
                        "{sentence} {}",
                        words::replay::now_forces(&force(&forces.tension), &newtons(forces.weight))
                    ),
                    None => sentence,
                }
            }
        }
    }

    fn before(&self, start: Seconds) -> String {
        match &self.passes {
            Some(passes) => {
                let count = passes.partition_point(|pass| *pass < start.0);
                words::replay::spokes_before(&count)
            }
            None => words::replay::begins().to_owned(),
        }
    }

    fn beginning(&self) -> String {
        let start = self.at(self.stretch().0);
        let fastest = self.track.nodes().iter().filter(|node| self.phase(node.time) == Phase::Within);
        let fastest = fastest.fold(0.0_f64, |fastest, node| fastest.max(node.velocity.abs()));
        let slow = start.velocity.is_some_and(|velocity| velocity.value().0.abs() < REST * fastest);
        let sentence = match self.motion {
            Motion::Falling if slow => words::replay::falls_from_rest().to_owned(),
            Motion::Falling => words::replay::falls_moving(&fast(&start)),
            Motion::Rising => words::replay::rises(&fast(&start)),
            Motion::Coasting => words::replay::coasts(&fast(&start)),
        };
        match start.forces {
            Some(forces) => format!(
                "{sentence} {}",
                words::replay::forces_then(&newtons(forces.weight), &force(&forces.tension))
            ),
            None => sentence,
        }
    }

    fn after(&self, end: Seconds) -> String {
        match &self.passes {
            Some(passes) => {
                let count = passes.len() - passes.partition_point(|pass| *pass <= end.0);
                words::replay::spokes_after(&count)
            }
            None => words::replay::ends().to_owned(),
        }
    }

    fn name_of_motion(&self) -> &'static str {
        match self.motion {
            Motion::Falling => words::replay::has_fallen(),
            Motion::Rising => words::replay::has_risen(),
            Motion::Coasting => words::replay::has_run(),
        }
    }

    /// When the string has come this far within the stretch: the travel grows there, so halving finds it.
    fn time_at(&self, travel: f64) -> Seconds {
        let (mut low, mut high) = self.stretch;
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if self.track.at(middle).travel < travel {
                low = middle;
            } else {
                high = middle;
            }
        }
        Seconds(high)
    }
}

fn far(travel: Meters) -> String {
    show_number(travel.0, DisplayUnit::si::<Meters>(), 3)
}

fn fast(moment: &Moment) -> String {
    moment.velocity.as_ref().map_or_else(
        || "—".to_owned(),
        |velocity: &Measured<MetersPerSecond>| {
            show(velocity, DisplayUnit::si::<MetersPerSecond>()).to_string()
        },
    )
}

fn force(tension: &Measured<Newtons>) -> String {
    show(tension, DisplayUnit::si::<Newtons>()).to_string()
}

fn newtons(force: Newtons) -> String {
    show_number(force.0, DisplayUnit::si::<Newtons>(), 4)
}
