//! What moves the moment shown: the browser's clock, buttons, and a slider.

use crate::controls::{hint, menu, unique_id};
use crate::dom::{El, el};
use leptos::prelude::*;
use std::rc::Rc;
use std::time::Duration;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Ratio, Seconds};
use whorl_core::replay::Replay;
use whorl_words as words;

/// How many times as fast as it was; 1 is chosen at first.
const RATES: [f64; 6] = [0.25, 0.5, 1.0, 2.0, 4.0, 8.0];

/// Numbers are renewed so often while the run plays, ms: more often nobody reads them.
const READABLE: f64 = 250.0;

/// Where less motion is asked for, the moment goes on in steps so long, ms.
const STEP: f64 = 500.0;

/// So far ahead the parts of the picture are told where they will be, s of watching; told anew when there is a quarter
/// of it left.
pub(super) const AHEAD_S: f64 = 4.0;

/// How the moment shown goes on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Going {
    /// It stays, s.
    Stands(f64),
    /// It was `time`, s, when the browser's clock showed `since`, ms, and goes on `rate` times as fast as it was.
    Runs { time: f64, rate: f64, since: f64 },
}

/// The moment shown, and how it goes on.
#[derive(Clone, Copy)]
pub(super) struct Player {
    /// For what moves by itself; told again from time to time while it runs.
    pub(super) going: RwSignal<Going>,
    /// The moment, s, a few times a second, and at once while it stands or the good stretch begins or ends: for what
    /// is read.
    pub(super) read: RwSignal<f64>,
    /// Whether it runs.
    pub(super) playing: RwSignal<bool>,
    rate: RwSignal<f64>,
    again: RwSignal<bool>,
    first: f64,
    last: f64,
    stretch: (f64, f64),
    waiting: StoredValue<Option<TimeoutHandle>>,
}

impl Player {
    /// Begins where the good stretch does.
    pub(super) fn new(replay: &Replay) -> Self {
        let (Seconds(first), Seconds(last)) = replay.span();
        let (Seconds(start), Seconds(end)) = replay.stretch();
        Self {
            going: RwSignal::new(Going::Stands(start)),
            read: RwSignal::new(start),
            playing: RwSignal::new(false),
            rate: RwSignal::new(1.0),
            again: RwSignal::new(false),
            first,
            last,
            stretch: (start, end),
            waiting: StoredValue::new(None),
        }
    }

    /// Shows another moment; it stays then.
    pub(super) fn show(self, time: f64) {
        let time = time.clamp(self.first, self.last);
        self.playing.set(false);
        self.going.set(Going::Stands(time));
        self.read.set(time);
    }

    /// Plays the whole record.
    pub(super) fn play_all(self) {
        self.run(self.first);
    }

    /// The moment now, s; `None` once the run is no longer shown.
    fn now(self) -> Option<f64> {
        Some(match self.going.try_get_untracked()? {
            Going::Stands(time) => time,
            Going::Runs { time, rate, since } => {
                (time + 1e-3 * (clock() - since) * rate).clamp(self.first, self.last)
            }
        })
    }

    /// Starts, or stops at the moment that is shown; at the end it starts at the beginning.
    fn toggle(self) {
        let now = self.now().unwrap_or(self.first);
        if self.playing.get_untracked() {
            self.show(now);
        } else {
            self.run(if now < self.last { now } else { self.first });
        }
    }

    /// Goes on from a moment.
    fn run(self, time: f64) {
        self.playing.set(true);
        self.read.set(time);
        if asks_for_less_motion() {
            self.going.set(Going::Stands(time));
            self.wait(STEP);
        } else {
            self.going.set(Going::Runs { time, rate: self.rate.get_untracked(), since: clock() });
            self.wait(0.0);
        }
    }

    /// Another speed, from this moment on.
    fn change_rate(self, rate: f64) {
        self.rate.set(rate);
        if let (true, Some(now)) = (self.playing.get_untracked(), self.now()) {
            self.run(now);
        }
    }

    /// Looks at the clock again after this time, ms, in place of any look that was to come.
    fn wait(self, time: f64) {
        let next = Duration::from_secs_f64(1e-3 * time.max(0.0));
        let next = set_timeout_with_handle(move || self.look(), next).ok();
        let before = self.waiting.try_update_value(|waiting| std::mem::replace(waiting, next)).flatten();
        if let Some(before) = before {
            before.clear();
        }
    }

    /// What is read follows; the end is noticed; parts are told where they will be.
    fn look(self) {
        let (Some(mut now), Some(true)) = (self.now(), self.playing.try_get_untracked()) else { return };
        let going = self.going.get_untracked();
        if let Going::Stands(time) = going {
            now = time + 1e-3 * STEP * self.rate.get_untracked();
        }
        if now >= self.last {
            if self.again.get_untracked() {
                self.run(self.first);
            } else {
                self.show(self.last);
            }
            return;
        }
        self.read.set(now);
        match going {
            Going::Stands(_) => {
                self.going.set(Going::Stands(now));
                self.wait(STEP);
            }
            Going::Runs { since, rate, .. } => {
                if clock() - since > 750.0 * AHEAD_S {
                    self.going.set(Going::Runs { time: now, rate, since: clock() });
                }
                // The next look is not later than what changes at once: the stretch's ends, and the record's.
                let to = [self.stretch.0, self.stretch.1, self.last];
                let until = to.iter().filter(|time| **time > now).map(|time| 1e3 * (time - now) / rate + 1.0);
                self.wait(until.fold(READABLE, f64::min));
            }
        }
    }
}

/// The browser's clock, ms: the one that its animations go by.
fn clock() -> f64 {
    window().performance().map_or(0.0, |performance| performance.now())
}

fn asks_for_less_motion() -> bool {
    let query = window().match_media("(prefers-reduced-motion: reduce)").ok().flatten();
    query.is_some_and(|query| query.matches())
}

/// Buttons, slider and speed.
pub(super) fn controls(replay: &Rc<Replay>, player: Player) -> El {
    let Player { playing, again, .. } = player;
    let step = |forward: bool| {
        let replay = Rc::clone(replay);
        move || {
            if let Some(now) = player.now() {
                player.show(replay.step(Seconds(now), forward).0);
            }
        }
    };
    let button = |words: &str| el("button").attr("type", "button").with(words);
    let play = el("button.main")
        .attr("type", "button")
        .live_text(move || {
            if playing.get() { words::replay::pause() } else { words::replay::play() }.to_owned()
        })
        .on_click(move || player.toggle());
    let Seconds(start) = replay.stretch().0;
    let (speed_id, again_id) = (unique_id("speed"), unique_id("again"));
    let rates = || {
        RATES
            .map(|rate| {
                let shown = show_number(rate, DisplayUnit::si::<Ratio>(), 3);
                let name = if (rate - 1.0).abs() < 1e-9 {
                    words::replay::speed_real().to_owned()
                } else {
                    words::replay::speed_times(&shown)
                };
                (rate.to_string(), name)
            })
            .to_vec()
    };
    let speed = menu(
        rates,
        move || player.rate.get().to_string(),
        move |rate| player.change_rate(rate.parse().unwrap_or(1.0)),
    );
    let again_box = el("input")
        .attr("type", "checkbox")
        .attr("id", &again_id)
        .live_checked(move || again.get())
        .on("change", move |_| again.update(|again| *again = !*again));
    el("div.player")
        .with(
            el("div.buttons")
                .with(play)
                .with(button(words::replay::to_start()).on_click(move || player.show(start)))
                .with(button(words::replay::back()).on_click(step(false)))
                .with(button(words::replay::forward()).on_click(step(true)))
                .with(
                    el("span.pair")
                        .with(el("label").attr("for", &speed_id).with(words::replay::speed()))
                        .with(speed.attr("id", &speed_id)),
                )
                .with(el("label.pair").attr("for", &again_id).with(again_box).with(words::replay::again())),
        )
        .with(slider(replay, player))
        .with(asks_for_less_motion().then(|| hint(words::replay::still())))
        // While the clock stands, a moment that is gone to is told once the going rests.
        .with(el("p.told").live_status({
            let replay = Rc::clone(replay);
            move || {
                if playing.get() { String::new() } else { replay.told_at(Seconds(player.read.get())) }
            }
        }))
}

/// The moment as a slider over the whole record.
fn slider(replay: &Rc<Replay>, player: Player) -> El {
    let id = unique_id("moment");
    let input = el("input")
        .attr("type", "range")
        .attr("id", &id)
        .attr("min", &player.first.to_string())
        .attr("max", &player.last.to_string())
        // Keys move by a hundredth of the record.
        .attr("step", &((player.last - player.first) / 100.0).max(1e-4).to_string())
        .live_attr("aria-valuetext", {
            let replay = Rc::clone(replay);
            let told = Memo::new(move |_| (!player.playing.get()).then(|| player.read.get()));
            // Told of where the clock stands: while it runs nobody listens to each moment.
            move || told.get().map(|time| replay.told_at(Seconds(time)))
        })
        .live_value(move || player.read.get().to_string())
        .on_text("input", move |time| {
            if let Ok(time) = time.parse() {
                player.show(time);
            }
        });
    el("div.moment").with(el("label").attr("for", &id).with(words::replay::moment())).with(input)
}
