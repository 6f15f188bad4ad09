//! A force diagram: arrows placed on a drawing, by pointer or in a list.
//!
//! The list does all that the pointer does and says all that the drawing shows, so either will do.

mod picture;

use self::picture::{Bounds, Point, STEP, apart};
use crate::controls::{About, unique_id};
use crate::dom::{El, el, svg, watch};
use crate::focus::focus;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlInputElement, PointerEvent};
use whorl_derivation::diagram::{Arrow, DiagramTask, Direction, LONGEST, Place};
use whorl_words as words;

/// A drag shorter than this is a tap, not an arrow.
const LEAST: f64 = 3.0;

/// A force diagram to be completed: a drawing to drag on, and the same arrows as a list.
///
/// `now` reads a signal; `on_change` hears all the arrows whenever one was added, changed or removed.
pub(super) fn diagram(
    task: Rc<DiagramTask>,
    now: impl Fn() -> Vec<Arrow> + 'static,
    on_change: impl Fn(Vec<Arrow>) + 'static,
) -> El {
    build(&Rc::new(Editor {
        task,
        now: Box::new(now),
        on_change: Box::new(on_change),
        chosen: RwSignal::new(None),
        start: Cell::new(None),
        preview: RwSignal::new(None),
        said: RwSignal::new(String::new()),
    }))
}

struct Editor {
    task: Rc<DiagramTask>,
    now: Box<dyn Fn() -> Vec<Arrow>>,
    on_change: Box<dyn Fn(Vec<Arrow>)>,
    /// The kind of force that a drag draws; without one the page scrolls under the finger.
    chosen: RwSignal<Option<usize>>,
    /// Where the drag began.
    start: Cell<Option<Point>>,
    /// What it would leave if it ended now.
    preview: RwSignal<Option<Arrow>>,
    /// The last change, for those who do not see the drawing.
    said: RwSignal<String>,
}

fn build(editor: &Rc<Editor>) -> El {
    let said = editor.said;
    let hint = el("p.hint").with(words::prelab::diagram_hint());
    let drawing = el("div.draw").with(kinds(editor)).with(hint).with(drawing(editor));
    let status = el("p.visually-hidden").attr("role", "status").live_text(move || said.get());
    el("div.diagram").with(drawing).with(list(editor)).with(status)
}

fn kinds(editor: &Rc<Editor>) -> El {
    let (group, chosen) = (unique_id("force"), editor.chosen);
    let radio = |value: &str, words: &str| {
        let input = el("input").attr("type", "radio").attr("name", &group).attr("value", value);
        let input = if value.is_empty() { input.attr("checked", "") } else { input };
        el("label").with(input).with(el("span").with(words))
    };
    let of_forces =
        editor.task.forces.iter().enumerate().map(|(index, force)| radio(&index.to_string(), &force.name));
    el("fieldset.kinds")
        .with(el("legend").with(words::prelab::force_to_draw()))
        .with(radio("", words::prelab::no_force()))
        .with(of_forces.collect::<Vec<_>>())
        .on_text("change", move |value| chosen.set(value.parse().ok()))
}

fn drawing(editor: &Rc<Editor>) -> El {
    let chosen = editor.chosen;
    let (named, framed, scaled, drawn) =
        (Rc::clone(editor), Rc::clone(editor), Rc::clone(editor), Rc::clone(editor));
    let picture = svg("svg")
        .attr("role", "img")
        .live_attr("aria-label", move || Some(named.told()))
        .live_attr("viewBox", move || {
            let shown = framed.bounds();
            Some(format!("{:.1} {:.1} {:.1} {:.1}", shown.left, shown.top, shown.width(), shown.height()))
        })
        .live_attr("font-size", move || Some(format!("{:.2}", scaled.bounds().letters())))
        .with(picture::scene(&editor.task))
        .with(svg("g").live(move || drawn.arrows()));
    let frame = el("div.drawing").live_class("armed", move || chosen.get().is_some()).with(picture);
    // Heard by the frame, not by the picture: browsers differ in what an offset inside SVG means.
    ["pointerdown", "pointermove", "pointerup", "pointercancel"].into_iter().fold(frame, |frame, kind| {
        let editor = Rc::clone(editor);
        frame.on(kind, move |event| editor.pointer(kind, &event))
    })
}

fn list(editor: &Rc<Editor>) -> El {
    let (counted, emptied, adding, rowed) =
        (Rc::clone(editor), Rc::clone(editor), Rc::clone(editor), Rc::clone(editor));
    let rows = el("div.rows");
    let add = el("button").attr("type", "button").with(words::prelab::add_arrow());
    let after_removal = add.clone();
    let rows = rows.each(
        move || (0..u32::try_from((counted.now)().len()).unwrap_or(0)).collect(),
        move |index| row(&rowed, index as usize, after_removal.clone()),
    );
    let added = rows.clone();
    let add = add.on_click(move || {
        if let Some(&direction) = adding.fitting(0).first() {
            adding.put(usize::MAX, Arrow { force: 0, place: 0, direction, length: 3 });
        }
        // The row is built after this click; by the next frame it is there.
        let rows = added.clone();
        request_animation_frame(move || {
            if let Ok(Some(select)) = rows.node().query_selector("fieldset:last-child select") {
                focus(&select);
            }
        });
    });
    el("fieldset.arrows")
        .with(el("legend").with(words::prelab::your_arrows()))
        .with(
            el("p.hint")
                .live_flag("hidden", move || !(emptied.now)().is_empty())
                .with(words::prelab::no_arrows()),
        )
        .with(rows)
        .with(add)
}

fn row(editor: &Rc<Editor>, index: usize, add: El) -> El {
    let (named, removing, number) = (Rc::clone(editor), Rc::clone(editor), index + 1);
    let name = move || {
        let force = (named.now)().get(index).and_then(|arrow| named.task.forces.get(arrow.force));
        words::prelab::arrow(&number, &force.map(|force| force.name.as_str()).unwrap_or_default())
    };
    let remove = el("button.quiet").attr("type", "button").with(words::prelab::remove_arrow(&number));
    let next = remove.clone();
    let remove = remove.on_click(move || {
        // The arrow behind moves up into this row, so its button is this very one.
        let stays = removing.remove(index);
        focus(if stays { next.node() } else { add.node() });
    });
    let fields = [Field::Force, Field::Place, Field::Direction, Field::Length];
    el("fieldset.arrow-row")
        .with(el("legend").live_text(name))
        .with(fields.map(|field| choice(editor, index, field)).to_vec())
        .with(remove)
}

/// What a row lets one choose.
#[derive(Clone, Copy)]
enum Field {
    Force,
    Place,
    Direction,
    Length,
}

fn choice(editor: &Rc<Editor>, index: usize, field: Field) -> El {
    let (shown, chosen) = (Rc::clone(editor), Rc::clone(editor));
    let select = el("select").on_text("change", move |value| {
        let arrow = untrack(|| (chosen.now)().get(index).copied());
        if let (Some(arrow), Ok(option)) = (arrow, value.parse()) {
            chosen.put(index, chosen.with_option(arrow, field, option));
        }
    });
    let (node, standing) = (select.clone(), Cell::new(Vec::new()));
    watch(move || {
        let Some(arrow) = (shown.now)().get(index).copied() else { return };
        let (options, at) = shown.options(&arrow, field);
        // Built anew only where they differ, and before the value, which must be one of them.
        if standing.take() != options {
            let option = |(at, words): (usize, &String)| {
                el("option").attr("value", &at.to_string()).with(words.as_str())
            };
            node.node().set_text_content(None);
            node.clone().with(options.iter().enumerate().map(option).collect::<Vec<_>>());
        }
        standing.set(options);
        node.node().unchecked_ref::<HtmlInputElement>().set_value(&at.to_string());
    });
    let words = match field {
        Field::Force => words::prelab::arrow_force(),
        Field::Place => words::prelab::arrow_place(),
        Field::Direction => words::prelab::arrow_direction(),
        Field::Length => words::prelab::arrow_length(),
    };
    el("label").with(el("span").with(words)).with(select)
}

impl Editor {
    /// The directions an arrow of this force can have.
    fn fitting(&self, force: usize) -> Vec<Direction> {
        let turns = self.task.forces.get(force).is_some_and(|force| force.turns);
        Direction::ALL.into_iter().filter(|direction| direction.turns() == turns).collect()
    }

    /// What can be chosen for an arrow, in words, and which of them is chosen.
    fn options(&self, arrow: &Arrow, field: Field) -> (Vec<String>, usize) {
        let length = |length| match length {
            1 => words::prelab::shortest(&1),
            LONGEST => words::prelab::longest(&LONGEST),
            length => length.to_string(),
        };
        match field {
            Field::Force => (self.task.forces.iter().map(|force| force.name.clone()).collect(), arrow.force),
            Field::Place => (self.task.points.iter().map(|place| place.name.clone()).collect(), arrow.place),
            Field::Direction => {
                let fitting = self.fitting(arrow.force);
                let at = fitting.iter().position(|direction| *direction == arrow.direction);
                let words = fitting.into_iter().map(|direction| direction.words().to_owned());
                (words.collect(), at.unwrap_or_default())
            }
            Field::Length => {
                ((1..=LONGEST).map(length).collect(), usize::from(arrow.length.saturating_sub(1)))
            }
        }
    }

    fn with_option(&self, mut arrow: Arrow, field: Field, option: usize) -> Arrow {
        match field {
            Field::Force => arrow.force = option,
            Field::Place => arrow.place = option,
            Field::Direction => {
                arrow.direction = self.fitting(arrow.force).get(option).copied().unwrap_or(arrow.direction);
            }
            Field::Length => arrow.length = u8::try_from(option + 1).unwrap_or(LONGEST),
        }
        // A torque has no use for “up”, nor a weight for “clockwise”.
        let fitting = self.fitting(arrow.force);
        if let Some(&first) = fitting.first()
            && !fitting.contains(&arrow.direction)
        {
            arrow.direction = first;
        }
        arrow
    }

    /// Puts an arrow in the place of that of this index, or behind all when there is none.
    fn put(&self, index: usize, arrow: Arrow) {
        let mut arrows = untrack(|| (self.now)());
        let what =
            if index < arrows.len() { words::prelab::arrow_changed } else { words::prelab::arrow_added };
        set_or_push(&mut arrows, index, arrow);
        self.changed(what, &arrow, arrows);
    }

    /// Removes an arrow; whether another one took its index.
    fn remove(&self, index: usize) -> bool {
        let mut arrows = untrack(|| (self.now)());
        if index < arrows.len() {
            let arrow = arrows.remove(index);
            let stays = index < arrows.len();
            self.changed(words::prelab::arrow_removed, &arrow, arrows);
            return stays;
        }
        false
    }

    fn changed(&self, what: About, arrow: &Arrow, arrows: Vec<Arrow>) {
        self.said.set(what(&self.task.told(arrow)));
        (self.on_change)(arrows);
    }

    /// The whole drawing in words.
    fn told(&self) -> String {
        let arrows: Vec<String> = (self.now)().iter().map(|arrow| self.task.told(arrow)).collect();
        let scene = &self.task.scene.told;
        if arrows.is_empty() {
            words::prelab::drawing(scene)
        } else {
            words::prelab::drawing_with_arrows(scene, &arrows.join("; "))
        }
    }

    fn pointer(&self, kind: &str, event: &Event) {
        // A second finger must not take over the arrow of the first.
        let Some(event) = event.dyn_ref::<PointerEvent>().filter(|event| event.is_primary()) else { return };
        match kind {
            "pointerdown" if event.button() == 0 && self.chosen.get_untracked().is_some() => {
                self.start.set(self.at(event));
                if let Some(frame) = frame_of(event) {
                    let _ = frame.set_pointer_capture(event.pointer_id());
                }
            }
            "pointermove" if self.start.get().is_some() => {
                let arrow = self.dragged(event);
                if arrow != self.preview.get_untracked() {
                    self.preview.set(arrow);
                }
            }
            "pointerup" | "pointercancel" => {
                self.start.set(None);
                let arrow = self.preview.get_untracked();
                self.preview.set(None);
                if let Some(arrow) = arrow.filter(|_| kind == "pointerup") {
                    self.put(same_kind(&untrack(|| (self.now)()), &arrow), arrow);
                }
            }
            _ => {}
        }
    }

    /// What the drawing shows.
    fn bounds(&self) -> Bounds {
        picture::bounds(&self.task, &(self.now)())
    }

    /// The arrows on the drawing, the one being dragged among them.
    fn arrows(&self) -> Vec<El> {
        let mut arrows = (self.now)();
        let preview = self.preview.get().map(|arrow| {
            let index = same_kind(&arrows, &arrow);
            set_or_push(&mut arrows, index, arrow);
            index
        });
        picture::placed(&self.task, &arrows, preview)
    }

    /// Where the pointer is in the scene's square.
    fn at(&self, event: &PointerEvent) -> Option<Point> {
        let bounds = untrack(|| self.bounds());
        let scale = bounds.width() / f64::from(frame_of(event)?.client_width().max(1));
        let (across, down) = (f64::from(event.offset_x()), f64::from(event.offset_y()));
        Some((bounds.left + across * scale, bounds.top + down * scale))
    }

    /// The arrow that a drag to here would leave.
    fn dragged(&self, event: &PointerEvent) -> Option<Arrow> {
        let (from, to) = (self.start.get()?, self.at(event)?);
        let far = apart(from, to);
        if far < LEAST {
            return None;
        }
        let force = self.chosen.get_untracked()?;
        let away = |place: &Place| apart((place.x, place.y), from);
        let nearer = |a: &(usize, &Place), b: &(usize, &Place)| away(a.1).total_cmp(&away(b.1));
        let (place, nearest) = self.task.points.iter().enumerate().min_by(nearer)?;
        let (direction, length) = if self.task.forces.get(force)?.turns {
            let center = (nearest.x, nearest.y);
            // Begun on the mark itself, a drag goes round nothing: then as if begun above it.
            let from = if away(nearest) < LEAST { (center.0, center.1 - STEP) } else { from };
            (Direction::turning(center, from, to)?, 2)
        } else {
            let off = |length: &u8| (f64::from(*length) * STEP - far).abs();
            let length = (1..=LONGEST).min_by(|a, b| off(a).total_cmp(&off(b)))?;
            (Direction::nearest(to.0 - from.0, to.1 - from.1)?, length)
        };
        Some(Arrow { force, place, direction, length })
    }
}

fn frame_of(event: &PointerEvent) -> Option<Element> {
    event.current_target()?.dyn_into().ok()
}

/// The index of the arrow of this kind at this place, or one behind all.
fn same_kind(arrows: &[Arrow], arrow: &Arrow) -> usize {
    let same = |other: &Arrow| other.force == arrow.force && other.place == arrow.place;
    arrows.iter().position(same).unwrap_or(arrows.len())
}

fn set_or_push(arrows: &mut Vec<Arrow>, index: usize, arrow: Arrow) {
    match arrows.get_mut(index) {
        Some(old) => *old = arrow,
        None => arrows.push(arrow),
    }
}
