//! What moves the moment shown: a clock that runs from frame to frame, buttons, and a slider.

use crate::controls::{hint, menu, unique_id};
use crate::dom::{El, el};
use leptos::prelude::*;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Ratio, Seconds};
use whorl_core::replay::Replay;
use whorl_words as words;

/// How many times as fast as it was; 1 is chosen at first.
const RATES: [f64; 6] = [0.25, 0.5, 1.0, 2.0, 4.0, 8.0];

/// Numbers are renewed so often while the clock runs, ms: more often nobody reads them.
const READABLE: f64 = 250.0;

/// Where less motion is asked for, the moment goes on in steps so long, ms.
const STEP: f64 = 500.0;

/// A frame longer than this, ms, was a pause of the browser's: the run does not jump over it.
const LONGEST_FRAME: f64 = 250.0;

/// The moment shown, and how it goes on.
#[derive(Clone, Copy)]
pub(super) struct Player {
    /// The moment, s: for what is drawn in every frame.
    pub(super) now: RwSignal<f64>,
    /// The same a few times a second, and at once while the clock stands: for what is read.
    pub(super) read: RwSignal<f64>,
    /// Whether the clock runs.
    pub(super) playing: RwSignal<bool>,
    rate: RwSignal<f64>,
    again: RwSignal<bool>,
    first: f64,
    last: f64,
}

impl Player {
    /// Begins where the good stretch does.
    pub(super) fn new(replay: &Replay) -> Self {
        let (Seconds(first), Seconds(last)) = replay.span();
        let Seconds(start) = replay.stretch().0;
        Self {
            now: RwSignal::new(start),
            read: RwSignal::new(start),
            playing: RwSignal::new(false),
            rate: RwSignal::new(1.0),
            again: RwSignal::new(false),
            first,
            last,
        }
    }

    /// Shows another moment; the clock stands then.
    pub(super) fn show(self, time: f64) {
        self.playing.set(false);
        self.go(time);
        self.read.set(self.now.get_untracked());
    }

    fn go(self, time: f64) {
        self.now.set(time.clamp(self.first, self.last));
    }

    /// Plays the whole record.
    pub(super) fn play_all(self) {
        self.show(self.first);
        self.toggle();
    }

    /// Starts or stops the clock; at the end it starts at the beginning.
    fn toggle(self) {
        if self.playing.get_untracked() {
            self.playing.set(false);
            self.read.set(self.now.get_untracked());
            return;
        }
        if self.now.get_untracked() >= self.last {
            self.go(self.first);
        }
        self.playing.set(true);
        self.run();
    }

    /// One turn per frame, until the clock is stopped or what shows it is gone.
    fn run(self) {
        let still = asks_for_less_motion();
        let before = Cell::new(None::<f64>);
        let told = Cell::new(0.0);
        let frame = Rc::new(RefCell::new(None::<Closure<dyn FnMut(f64)>>));
        let next = Rc::clone(&frame);
        let turn = move |time: f64| {
            // `None` once the run is no longer shown.
            if self.playing.try_get_untracked() != Some(true) {
                next.borrow_mut().take();
                return;
            }
            let passed = before.get().map_or(0.0, |before| time - before);
            if !still || passed >= STEP || before.get().is_none() {
                before.set(Some(time));
                let allowed = if still { 2.0 * STEP } else { LONGEST_FRAME };
                self.advance(passed.min(allowed) * 1e-3 * self.rate.get_untracked());
                if time - told.get() >= READABLE {
                    told.set(time);
                    self.read.set(self.now.get_untracked());
                }
            }
            if let Some(next) = next.borrow().as_ref() {
                ask_for_frame(next);
            }
        };
        frame.borrow_mut().replace(Closure::new(turn));
        if let Some(first) = frame.borrow().as_ref() {
            ask_for_frame(first);
        }
    }

    fn advance(self, by: f64) {
        let to = self.now.get_untracked() + by;
        if to < self.last {
            self.go(to);
        } else if self.again.get_untracked() {
            self.go(self.first);
        } else {
            self.show(self.last);
        }
    }
}

fn ask_for_frame(turn: &Closure<dyn FnMut(f64)>) {
    let _ = window().request_animation_frame(turn.as_ref().unchecked_ref());
}

fn asks_for_less_motion() -> bool {
    let query = window().match_media("(prefers-reduced-motion: reduce)").ok().flatten();
    query.is_some_and(|query| query.matches())
}

/// Buttons, slider and speed.
pub(super) fn controls(replay: &Rc<Replay>, player: Player) -> El {
    let Player { now, playing, again, .. } = player;
    let step = |forward: bool| {
        let replay = Rc::clone(replay);
        move || player.show(replay.step(Seconds(now.get_untracked()), forward).0)
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
        move |rate| player.rate.set(rate.parse().unwrap_or(1.0)),
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
