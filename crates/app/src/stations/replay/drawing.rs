//! The drawing: the table from above, the string to the pulley with its gate, the mass below it, and the forces.

use super::player::Player;
use crate::dom::{El, svg, watch};
use leptos::prelude::*;
use std::rc::Rc;
use web_sys::Element;
use whorl_core::quantity::Seconds;
use whorl_core::replay::{Moment, Phase, Replay};
use whorl_words as words;

/// Middle of the table, its radius and the drum's, in the drawing's units.
const TABLE: (f64, f64) = (150.0, 150.0);
const TABLE_RADIUS: f64 = 120.0;
const DRUM_RADIUS: f64 = 40.0;

/// Middle of the pulley and the radius of its groove: the string comes off the drum's upper side and stays level.
const PULLEY: (f64, f64) = (470.0, 142.0);
const PULLEY_RADIUS: f64 = 32.0;

/// Where the mass hangs at the top and at the bottom of its fall.
const MASS: (f64, f64) = (200.0, 400.0);

/// The longest arrow.
const LONGEST: f64 = 78.0;

/// The wound string is drawn this thick when all of it is on the drum.
const WOUND: f64 = 12.0;

/// A gate sees a spoke this far from where the light is, of the way from spoke to spoke.
const IN_LIGHT: f64 = 0.25;

/// What moves.
struct Moving {
    table: Element,
    wound: Element,
    spokes: Element,
    light: Element,
    line: Element,
    hanging: Element,
    tension: Element,
    weight: Element,
    pull: Element,
    all: Element,
}

/// The drawing of a run; it follows the player.
pub(super) fn drawing(replay: &Rc<Replay>, player: Player, spokes: u32) -> El {
    let (table, wound) = (turntable(), ring(DRUM_RADIUS + 0.5 * WOUND, "wound"));
    let (spokes_drawn, light) = (pulley(spokes), dot((PULLEY.0, PULLEY.1 - PULLEY_RADIUS - 14.0), "light"));
    let rim = PULLEY.0 + PULLEY_RADIUS;
    let line = path("string");
    let hanging = svg("g").attr("class", "hanging").with(
        svg("rect")
            .attr("x", &(rim - 17.0).to_string())
            .attr("y", "0")
            .attr("width", "34")
            .attr("height", "30")
            .attr("rx", "4"),
    );
    let (tension, weight, pull) = (arrow("T", "tension"), arrow("mg", "weight"), arrow("T", "tension"));
    let picture = svg("svg")
        .attr("viewBox", "0 0 640 500")
        .attr("role", "img")
        .attr("class", "drawing")
        .attr("aria-label", words::replay::drawing())
        .with(svg("path").attr("class", "floor").attr("d", "M430 484h150"))
        .with(ring_at(TABLE, TABLE_RADIUS, "table"))
        .with(table.clone())
        .with(wound.clone())
        .with(spokes_drawn.clone())
        .with(
            svg("path")
                .attr("class", "gate")
                .attr("d", &format!("M{} {}v-18h20v18", PULLEY.0 - 10.0, PULLEY.1 - PULLEY_RADIUS - 4.0)),
        )
        .with(light.clone())
        .with(line.clone())
        .with(hanging.clone())
        .with([&tension, &weight, &pull].map(Clone::clone).to_vec());
    let moving = Moving {
        table: table.node().clone(),
        wound: wound.node().clone(),
        spokes: spokes_drawn.node().clone(),
        light: light.node().clone(),
        line: line.node().clone(),
        hanging: hanging.node().clone(),
        tension: tension.node().clone(),
        weight: weight.node().clone(),
        pull: pull.node().clone(),
        all: picture.node().clone(),
    };
    let greatest = replay.greatest_force().map_or(0.0, |force| force.0);
    let replay = Rc::clone(replay);
    watch(move || {
        let moment = replay.at(Seconds(player.now.get()));
        moving.show(&moment, greatest, spokes);
    });
    picture
}

impl Moving {
    fn show(&self, moment: &Moment, greatest: f64, spokes: u32) {
        let set = |element: &Element, name: &str, value: &str| drop(element.set_attribute(name, value));
        if let Some((angle, _)) = moment.table {
            set(&self.table, "transform", &turned(-angle.0, TABLE));
        }
        set(&self.wound, "stroke-width", &(2.0 + WOUND * moment.height_share).to_string());
        if let Some(angle) = moment.pulley {
            set(&self.spokes, "transform", &turned(angle.0, PULLEY));
            let between = angle.0 * f64::from(spokes) / core::f64::consts::TAU;
            let off = (between - between.round()).abs();
            set(&self.light, "class", if spokes > 0 && off < IN_LIGHT { "light blocked" } else { "light" });
        }
        let rim = PULLEY.0 + PULLEY_RADIUS;
        let mass = MASS.1 + (MASS.0 - MASS.1) * moment.height_share;
        set(&self.hanging, "transform", &format!("translate(0 {mass:.2})"));
        let (top, groove) = (TABLE.1 - DRUM_RADIUS, PULLEY.1 - PULLEY_RADIUS);
        set(
            &self.line,
            "d",
            &format!(
                "M{} {top}L{} {groove}A{PULLEY_RADIUS} {PULLEY_RADIUS} 0 0 1 {rim} {}V{mass:.2}",
                TABLE.0, PULLEY.0, PULLEY.1
            ),
        );
        set(&self.all, "data-phase", phase(moment.phase));
        let forces = moment.forces.filter(|_| greatest > 0.0);
        for arrow in [&self.tension, &self.weight, &self.pull] {
            let _ = if forces.is_some() {
                arrow.remove_attribute("hidden")
            } else {
                arrow.set_attribute("hidden", "")
            };
        }
        if let Some(forces) = forces {
            let long = |force: f64| LONGEST * force / greatest;
            let tension = forces.tension.value().0;
            point(&self.tension, (rim + 26.0, mass + 15.0), long(tension), Way::Up);
            point(&self.weight, (rim - 26.0, mass + 15.0), long(forces.weight.0), Way::Down);
            point(&self.pull, (TABLE.0, top - 12.0), long(tension), Way::Right);
        }
    }
}

/// A name for the style sheet.
fn phase(phase: Phase) -> &'static str {
    match phase {
        Phase::Before => "before",
        Phase::Within => "within",
        Phase::After => "after",
    }
}

#[derive(Clone, Copy)]
enum Way {
    Up,
    Down,
    Right,
}

/// Puts an arrow's foot somewhere and gives it a length.
fn point(arrow: &Element, foot: (f64, f64), length: f64, way: Way) {
    let degrees = match way {
        Way::Up => -90,
        Way::Down => 90,
        Way::Right => 0,
    };
    let _ = arrow.set_attribute("transform", &format!("translate({} {:.2})", foot.0, foot.1));
    let (Some(shaft), Some(letter)) = (arrow.first_element_child(), arrow.last_element_child()) else {
        return;
    };
    let head = length.min(12.0);
    let _ = shaft.set_attribute("transform", &format!("rotate({degrees})"));
    let _ = shaft.set_attribute(
        "d",
        &format!(
            "M0 0H{length:.2}M{:.2} {:.2}L{length:.2} 0L{:.2} {:.2}",
            length - head,
            0.5 * head,
            length - head,
            -0.5 * head
        ),
    );
    let (x, y) = match way {
        Way::Up => (10.0, -0.5 * length),
        Way::Down => (-54.0, 0.5 * length),
        Way::Right => (0.5 * length, -10.0),
    };
    let _ = letter.set_attribute("x", &x.to_string());
    let _ = letter.set_attribute("y", &format!("{y:.2}"));
}

fn turned(angle: f64, about: (f64, f64)) -> String {
    format!("rotate({:.2} {} {})", angle.to_degrees() % 360.0, about.0, about.1)
}

fn arrow(letter: &str, class: &str) -> El {
    svg("g").attr("class", class).attr("hidden", "").with(path("shaft")).with(svg("text").with(letter))
}

fn path(class: &str) -> El {
    svg("path").attr("class", class)
}

fn ring_at(at: (f64, f64), radius: f64, class: &str) -> El {
    svg("circle")
        .attr("class", class)
        .attr("cx", &at.0.to_string())
        .attr("cy", &at.1.to_string())
        .attr("r", &radius.to_string())
}

fn ring(radius: f64, class: &str) -> El {
    ring_at(TABLE, radius, class)
}

fn dot(at: (f64, f64), class: &str) -> El {
    ring_at(at, 5.0, class)
}

/// What turns with the table: a mark from the drum to the rim, and the drum.
fn turntable() -> El {
    let mark = format!("M{} {}H{}", TABLE.0 + DRUM_RADIUS, TABLE.1, TABLE.0 + TABLE_RADIUS);
    svg("g")
        .with(path("mark").attr("d", &mark))
        .with(ring_at((TABLE.0 + TABLE_RADIUS - 14.0, TABLE.1), 7.0, "spot"))
        .with(ring_at(TABLE, DRUM_RADIUS, "drum"))
        .with(ring_at(TABLE, 4.0, "axle"))
}

/// The pulley with its spokes; a plain wheel where nobody has said how many there are.
fn pulley(spokes: u32) -> El {
    let mut wheel = svg("g").attr("class", "pulley").with(ring_at(PULLEY, PULLEY_RADIUS, "groove"));
    for spoke in 0..spokes {
        let angle = f64::from(spoke) * 360.0 / f64::from(spokes);
        let line = format!("M{} {}v{}", PULLEY.0, PULLEY.1 - 5.0, 6.0 - PULLEY_RADIUS);
        wheel = wheel.with(
            path("spoke")
                .attr("d", &line)
                .attr("transform", &format!("rotate({angle:.2} {} {})", PULLEY.0, PULLEY.1)),
        );
    }
    wheel.with(ring_at(PULLEY, 5.0, "axle"))
}
