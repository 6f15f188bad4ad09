//! The parts of an object: shape, mass, dimensions, distance from the axis.

use super::super::apparatus::whole;
use crate::controls::{Entry, Label, entry, hint, measured, measured_field, pair, unique_id};
use crate::dom::{El, el};
use crate::focus;
use crate::parts::as_recorded;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::bodies::Shape;
use whorl_core::entry::{EntryUnit, Usual};
use whorl_core::formula::Symbol;
use whorl_core::lab::{ObjectEntry, ObjectId, PartEntry};
use whorl_words as words;

/// The parts of an object, and a way to add one.
pub(super) fn parts(lab: LabState, id: ObjectId) -> El {
    // A part is built anew when its shape changes, since its fields do; typing in one leaves it be.
    // Shapes are kept as their places in the list of all, a memo of a type the page has already.
    let shapes = Memo::new(move |_| {
        let place = |part: &PartEntry| Shape::ALL.iter().position(|shape| *shape == part.shape);
        let places = |object: &ObjectEntry| {
            object
                .parts
                .iter()
                .filter_map(place)
                .filter_map(|place| u32::try_from(place).ok())
                .collect::<Vec<_>>()
        };
        lab.object(id, places).unwrap_or_default()
    });
    let all = move || {
        let shapes = shapes.get().into_iter().filter_map(|place| Shape::ALL.get(place as usize)).enumerate();
        untrack(|| shapes.map(|(index, shape)| part(Place { lab, id, index }, *shape)).collect())
    };
    let words = move || {
        let words = if shapes.with(Vec::is_empty) {
            words::comparison::describe
        } else {
            words::comparison::add_part
        };
        words().to_owned()
    };
    let add = move || {
        let index = shapes.with_untracked(Vec::len);
        lab.add_part(id);
        focus::soon_at(shape_id(id, index));
    };
    let parts = el("div.parts")
        .with(el("div.cards").live(all))
        .with(el("button.quiet").live_text(words).on_click(add));
    if lab.read_once(|lab| lab.may_describe(id)) { parts } else { as_recorded(lab, parts) }
}

fn shape_id(id: ObjectId, index: usize) -> String {
    format!("shape-{}-{index}", id.0)
}

/// Where a part stands.
#[derive(Clone, Copy)]
struct Place {
    lab: LabState,
    id: ObjectId,
    index: usize,
}

impl Place {
    fn read<T>(self, reader: impl FnOnce(&PartEntry) -> Option<T>) -> Option<T> {
        self.lab.object(self.id, |object| object.parts.get(self.index).and_then(reader)).flatten()
    }

    fn change(self, change: impl FnOnce(&mut PartEntry)) {
        self.lab.change_part(self.id, self.index, change);
    }
}

fn part(place: Place, shape: Shape) -> El {
    let mass = measured_field(
        Label {
            words: words::comparison::mass(),
            symbol: "M",
            hint: "",
            unit: EntryUnit::GRAMS,
            usual: Some(Usual::BodyMass),
        },
        move || place.read(|part| pair(part.mass.as_ref())),
        move |entered| place.change(|part| part.mass = measured(entered)),
    );
    let mut fields = vec![shape_choice(place, shape), count(place), mass];
    for (number, dimension) in shape.dimensions().iter().enumerate() {
        let symbol = in_line(dimension.symbol);
        fields.push(measured_field(
            Label {
                words: (dimension.words)(),
                symbol,
                hint: "",
                unit: EntryUnit::MILLIMETERS,
                usual: Some(Usual::BodyLength),
            },
            move || place.read(|part| pair(part.dimensions.get(number)?.as_ref())),
            move |entered| {
                place.change(|part| {
                    if let Some(length) = part.dimensions.get_mut(number) {
                        *length = measured(entered);
                    }
                });
            },
        ));
    }
    if shape.may_sit_off_axis() {
        let words = words::comparison::offset();
        let hint = words::comparison::offset_hint();
        fields.push(measured_field(
            Label { words, symbol: "D", hint, unit: EntryUnit::MILLIMETERS, usual: Some(Usual::BodyLength) },
            move || place.read(|part| pair(part.offset.as_ref())),
            move |entered| place.change(|part| part.offset = measured(entered)),
        ));
    }
    let number = place.index + 1;
    el("fieldset.part")
        .with(el("legend").with(words::comparison::part(&number)))
        .with(el("div.fields").with(fields))
        .with(
            el("button.quiet")
                .with(words::comparison::remove_part(&number))
                .on_click_gone("remove-part", move || place.lab.remove_part(place.id, place.index)),
        )
}

fn shape_choice(place: Place, shape: Shape) -> El {
    // Fields differ from shape to shape, so the part is built anew, this menu with it.
    let id = shape_id(place.id, place.index);
    let again = id.clone();
    let option = |choice: Shape| {
        let option = el("option").attr("value", choice.key()).with(choice.words());
        if choice == shape { option.attr("selected", "") } else { option }
    };
    let chosen = move |key: String| {
        if let Some(shape) = Shape::from_key(&key) {
            place.lab.set_part_shape(place.id, place.index, shape);
            focus::soon_at(again.clone());
        }
    };
    el("div.field")
        .with(el("label").attr("for", &id).with(words::comparison::shape()))
        .with(el("select").attr("id", &id).with(Shape::ALL.map(option).to_vec()).on_text("change", chosen))
        .with(el("span.note").with(hint(format!("I = {}", shape.formula()))))
}

fn count(place: Place) -> El {
    let (id, note) = (unique_id("count"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let takes = Entry {
        id: &id,
        name: "",
        unit: EntryUnit::plain(""),
        least: 1.0,
        problem: wrong,
        described_by: &note,
    };
    let input = entry(
        &takes,
        move || place.read(|part| Some(f64::from(part.count.get()))),
        move |entered| match whole(entered) {
            Some(count) => place.lab.set_part_count(place.id, place.index, count),
            None => wrong.set(words::controls::whole_number().to_owned()),
        },
    );
    el("div.field")
        .with(el("label").attr("for", &id).with(words::comparison::count()))
        .with(el("span.pair").with(input))
        .with(el("span.note").attr("id", &note).with(el("span.problem").live_status(move || wrong.get())))
}

/// A symbol in one line of text.
fn in_line(symbol: Symbol) -> &'static str {
    match (symbol.letter, symbol.subscript) {
        ("r", "1") => "r₁",
        ("r", "2") => "r₂",
        (letter, _) => letter,
    }
}
