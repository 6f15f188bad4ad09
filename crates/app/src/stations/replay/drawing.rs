//! The drawing: the table from above, the string to the pulley with its gate, the mass below it, and the forces. What
//! moves lies in layers of its own, so that the browser can move it without drawing it anew.

use super::film::{BETWEEN_S, Part, follow, set_style};
use super::player::{Going, Player};
use crate::dom::{El, el, svg, watch};
use leptos::prelude::*;
use std::rc::Rc;
use whorl_core::quantity::Seconds;
use whorl_core::replay::{Moment, Phase, Replay};
use whorl_words as words;

/// A part of the drawing's plane, in its units: left, top, width, height.
#[derive(Clone, Copy)]
struct Area(f64, f64, f64, f64);

/// All of it.
const ALL: Area = Area(0.0, 0.0, 640.0, 500.0);

/// Middle of the table, its radius and the drum's.
const TABLE: (f64, f64) = (150.0, 150.0);
const TABLE_RADIUS: f64 = 120.0;
const DRUM_RADIUS: f64 = 40.0;

/// Middle of the pulley and the radius of its groove: the string comes off the drum's upper side and stays level.
const PULLEY: (f64, f64) = (470.0, 142.0);
const PULLEY_RADIUS: f64 = 32.0;

/// Where the string leaves the pulley downward.
const RIM: f64 = PULLEY.0 + PULLEY_RADIUS;

/// The top of the mass where it hangs highest and lowest.
const HIGHEST: f64 = 200.0;
const LOWEST: f64 = 400.0;

/// What falls with the mass: the arrow above it and the one below.
const FALLING: Area = Area(RIM - 85.0, HIGHEST - 75.0, 170.0, 180.0);

/// The longest arrow, and the size of an arrow's head.
const LONGEST: f64 = 78.0;
const HEAD: f64 = 16.0;

/// Feet of the two arrows at the mass where it hangs highest, and of the one at the drum.
const TENSION_FOOT: (f64, f64) = (RIM + 30.0, HIGHEST + 15.0);
const WEIGHT_FOOT: (f64, f64) = (RIM - 30.0, HIGHEST + 15.0);
const PULL_FOOT: (f64, f64) = (TABLE.0, TABLE.1 - DRUM_RADIUS - 14.0);

/// All of the string lies this thick on the drum.
const WOUND: f64 = 13.0;

/// A gate sees a spoke this far from where the light is, of the way from spoke to spoke.
const IN_LIGHT: f64 = 0.25;

/// Where more spokes pass than this in a second of watching the light is shown half covered: flashes that are more
/// frequent can harm (Web Content Accessibility Guidelines 2.2, 2.3.1).
const FLASHES: f64 = 3.0;

/// The drawing of a run; it follows the player.
pub(super) fn drawing(replay: &Rc<Replay>, player: Player, spokes: u32) -> El {
    let greatest = replay.greatest_force().map_or(1.0, |force| force.0);
    let weight =
        replay.at(replay.stretch().0).forces.map_or(0.0, |forces| LONGEST * forces.weight.0 / greatest);
    let wound = around("wound", TABLE, DRUM_RADIUS + WOUND).with(disc(TABLE, DRUM_RADIUS + WOUND, "wound"));
    let (table, wheel, light) = (turntable(), pulley(spokes), light("covered"));
    let hanging_string = layer("falling-string", Area(RIM - 1.5, PULLEY.1, 3.0, LOWEST - PULLEY.1), ALL)
        .with(bar(Area(RIM - 1.5, PULLEY.1, 3.0, LOWEST - PULLEY.1)));
    let tension = Arrow::new(TENSION_FOOT, Way::Up, FALLING);
    let pull = Arrow::new(PULL_FOOT, Way::Right, ALL);
    let hanging = placed(el("div.hanging"), FALLING, ALL)
        .with(layer("falling", FALLING, FALLING).with(mass()).with(weight_arrow(weight)).with(letter(
            "T",
            "tension",
            (TENSION_FOOT.0 + 14.0, TENSION_FOOT.1 - 22.0),
        )))
        .with([&tension.shaft, &tension.head].map(Clone::clone).to_vec());
    let picture = el("div.drawing")
        .attr("role", "img")
        .attr("aria-label", words::replay::drawing())
        .with(ground())
        .with([&wound, &table, &wheel, &hanging_string, &hanging, &light].map(Clone::clone).to_vec())
        .with(layer("letters", ALL, ALL).with(letter(
            "T",
            "tension",
            (PULL_FOOT.0 + 24.0, PULL_FOOT.1 - 12.0),
        )))
        .with([&pull.shaft, &pull.head].map(Clone::clone).to_vec());
    let mut parts = vec![
        Part::moved(&table, |moment| turned(-moment.table.map_or(0.0, |(angle, _)| angle.0))),
        Part::moved(&wheel, |moment| turned(moment.pulley.map_or(0.0, |angle| angle.0))),
        Part::moved(&wound, |moment| {
            let radius = DRUM_RADIUS + 1.0 + (WOUND - 1.0) * moment.height_share;
            format!("scale({:.4})", radius / (DRUM_RADIUS + WOUND))
        }),
        Part::moved(&hanging_string, |moment| {
            format!("scaleY({:.4})", (top(moment) - PULLEY.1) / (LOWEST - PULLEY.1))
        }),
        Part::moved(&hanging, |moment| {
            format!("translateY({:.3}%)", 100.0 * (top(moment) - HIGHEST) / FALLING.3)
        }),
        Part::seen(&light, covered(replay, player, spokes)),
    ];
    parts.extend(tension.parts(greatest));
    parts.extend(pull.parts(greatest));
    follow(replay, player, parts, || {});
    let (all, replay) = (picture.node().clone(), Rc::clone(replay));
    watch(move || {
        let moment = replay.at(Seconds(player.read.get()));
        let _ = all.set_attribute("data-phase", phase(moment.phase));
        let _ = all.toggle_attribute_with_force("data-forces", moment.forces.is_some());
    });
    picture
}

/// The top of the mass.
fn top(moment: &Moment) -> f64 {
    LOWEST + (HIGHEST - LOWEST) * moment.height_share
}

/// How much of the gate's light a spoke covers.
fn covered(replay: &Rc<Replay>, player: Player, spokes: u32) -> impl Fn(&Moment) -> String + 'static {
    let replay = Rc::clone(replay);
    move |moment| {
        let passed =
            |moment: &Moment| moment.pulley.map(|angle| angle.0 * f64::from(spokes) / core::f64::consts::TAU);
        let Some(between) = passed(moment).filter(|_| spokes > 0) else { return "0".to_owned() };
        if let Going::Runs { rate, .. } = player.going.get_untracked() {
            let next = passed(&replay.at(Seconds(moment.time.0 + BETWEEN_S * rate))).unwrap_or(between);
            if (next - between).abs() > FLASHES * BETWEEN_S {
                return "0.5".to_owned();
            }
        }
        let off = (between - between.round()).abs();
        if off < IN_LIGHT { "1" } else { "0" }.to_owned()
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
    Right,
}

/// The arrow of a force that changes: its shaft is stretched, its head moved.
struct Arrow {
    shaft: El,
    head: El,
    way: Way,
}

impl Arrow {
    fn new(foot: (f64, f64), way: Way, within: Area) -> Self {
        let (shaft, head, tip) = match way {
            Way::Up => (
                Area(foot.0 - 2.5, foot.1 - LONGEST, 5.0, LONGEST),
                Area(foot.0 - 0.5 * HEAD, foot.1 - 3.0, HEAD, HEAD),
                format!("M{} {}l6 -11l6 11", foot.0 - 6.0, foot.1 + 11.0),
            ),
            Way::Right => (
                Area(foot.0, foot.1 - 2.5, LONGEST, 5.0),
                Area(foot.0 - 13.0, foot.1 - 0.5 * HEAD, HEAD, HEAD),
                format!("M{} {}l11 6l-11 6", foot.0 - 11.0, foot.1 - 6.0),
            ),
        };
        let origin = match way {
            Way::Up => "tension upward",
            Way::Right => "tension rightward",
        };
        Self {
            shaft: layer(origin, shaft, within).with(bar(shaft)),
            head: layer("tension", head, within).with(path("shaft").attr("d", &tip)),
            way,
        }
    }

    fn parts(&self, greatest: f64) -> [Part; 2] {
        let share = move |moment: &Moment| {
            moment.forces.as_ref().map_or(0.0, |forces| (forces.tension.value().0 / greatest).max(0.0))
        };
        let way = self.way;
        [
            Part::moved(&self.shaft, move |moment| match way {
                Way::Up => format!("scaleY({:.4})", share(moment)),
                Way::Right => format!("scaleX({:.4})", share(moment)),
            }),
            Part::moved(&self.head, move |moment| {
                let heads = 100.0 * share(moment) * LONGEST / HEAD;
                match way {
                    Way::Up => format!("translateY({:.2}%)", -heads),
                    Way::Right => format!("translateX({heads:.2}%)"),
                }
            }),
        ]
    }
}

fn turned(angle: f64) -> String {
    format!("rotate({angle:.4}rad)")
}

/// Puts an element where its area lies within another.
fn placed(element: El, area: Area, within: Area) -> El {
    let share = |property: &str, part: f64, whole: f64| {
        set_style(element.node(), property, &format!("{:.4}%", 100.0 * part / whole));
    };
    share("left", area.0 - within.0, within.2);
    share("top", area.1 - within.1, within.3);
    share("width", area.2, within.2);
    share("height", area.3, within.3);
    element
}

/// A layer over an area; what is in it keeps the drawing's units.
fn layer(class: &str, area: Area, within: Area) -> El {
    let view = format!("{} {} {} {}", area.0, area.1, area.2, area.3);
    placed(svg("svg").attr("class", class).attr("viewBox", &view), area, within)
}

/// A layer that turns or grows about a point.
fn around(class: &str, middle: (f64, f64), radius: f64) -> El {
    let reach = radius + 2.0;
    layer(class, Area(middle.0 - reach, middle.1 - reach, 2.0 * reach, 2.0 * reach), ALL)
}

fn path(class: &str) -> El {
    svg("path").attr("class", class)
}

fn disc(at: (f64, f64), radius: f64, class: &str) -> El {
    svg("circle")
        .attr("class", class)
        .attr("cx", &at.0.to_string())
        .attr("cy", &at.1.to_string())
        .attr("r", &radius.to_string())
}

/// All of an area, filled.
fn bar(area: Area) -> El {
    path("bar").attr("d", &format!("M{} {}h{}v{}h{}z", area.0, area.1, area.2, area.3, -area.2))
}

fn letter(text: &str, class: &str, at: (f64, f64)) -> El {
    svg("text").attr("class", class).attr("x", &at.0.to_string()).attr("y", &at.1.to_string()).with(text)
}

/// What stands still.
fn ground() -> El {
    let level = format!(
        "M{} {}H{}A{PULLEY_RADIUS} {PULLEY_RADIUS} 0 0 1 {RIM} {}",
        TABLE.0,
        TABLE.1 - DRUM_RADIUS,
        PULLEY.0,
        PULLEY.1
    );
    let gate = format!("M{} {}v-18h20v18", PULLEY.0 - 10.0, PULLEY.1 - PULLEY_RADIUS - 4.0);
    layer("ground", ALL, ALL)
        .with(path("floor").attr("d", "M430 436h150"))
        .with(disc(TABLE, TABLE_RADIUS, "table"))
        .with(disc(PULLEY, PULLEY_RADIUS, "groove"))
        .with(path("gate").attr("d", &gate))
        .with(path("string").attr("d", &level))
        .with(disc(LIGHT, 5.0, "light"))
}

/// Where the gate's light is.
const LIGHT: (f64, f64) = (PULLEY.0, PULLEY.1 - PULLEY_RADIUS - 14.0);

fn light(class: &str) -> El {
    around(class, LIGHT, 5.0).with(disc(LIGHT, 5.0, "light blocked"))
}

fn mass() -> El {
    svg("rect")
        .attr("class", "mass")
        .attr("x", &(RIM - 17.0).to_string())
        .attr("y", &HIGHEST.to_string())
        .attr("width", "34")
        .attr("height", "30")
        .attr("rx", "4")
}

/// The weight stays what it is.
fn weight_arrow(length: f64) -> El {
    let (x, y) = WEIGHT_FOOT;
    let tip = y + length;
    let head = length.min(11.0);
    svg("g")
        .attr("class", "weight")
        .with(path("shaft").attr(
            "d",
            &format!("M{x} {y}V{tip}M{} {}L{x} {tip}L{} {}", x - 6.0, tip - head, x + 6.0, tip - head),
        ))
        .with(letter("mg", "", (x - 54.0, y + 0.5 * length)))
}

/// What turns with the table: a mark from the drum to the rim, and the drum.
fn turntable() -> El {
    let mark = format!("M{} {}H{}", TABLE.0 + DRUM_RADIUS, TABLE.1, TABLE.0 + TABLE_RADIUS);
    around("turntable", TABLE, TABLE_RADIUS)
        .with(path("mark").attr("d", &mark))
        .with(disc((TABLE.0 + TABLE_RADIUS - 14.0, TABLE.1), 7.0, "spot"))
        .with(disc(TABLE, DRUM_RADIUS, "drum"))
        .with(disc(TABLE, 4.0, "axle"))
}

/// The pulley's spokes; none where nobody has said how many there are.
fn pulley(spokes: u32) -> El {
    let mut wheel = around("pulley", PULLEY, PULLEY_RADIUS);
    for spoke in 0..spokes {
        let angle = f64::from(spoke) * 360.0 / f64::from(spokes);
        let line = format!("M{} {}v{}", PULLEY.0, PULLEY.1 - 5.0, 6.0 - PULLEY_RADIUS);
        wheel = wheel.with(
            path("spoke")
                .attr("d", &line)
                .attr("transform", &format!("rotate({angle:.2} {} {})", PULLEY.0, PULLEY.1)),
        );
    }
    wheel.with(disc(PULLEY, 5.0, "axle"))
}
