//! The parts of an object: shape, mass, dimensions, distance from the axis.

use crate::controls::{Entry, MeasuredField, measured, pair, unique_id};
use crate::state::LabState;
use leptos::prelude::*;
use std::num::NonZeroU32;
use whorl_core::bodies::Shape;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::{ObjectId, PartEntry};

#[component]
pub(super) fn Parts(id: ObjectId) -> impl IntoView {
    let lab = expect_context::<LabState>();
    // A part is built anew when its shape changes, since its fields do; typing in one leaves it be.
    let shapes = Memo::new(move |_| {
        let shapes = |parts: &[PartEntry]| parts.iter().map(|part| part.shape).enumerate().collect::<Vec<_>>();
        lab.object(id, |object| shapes(&object.parts)).unwrap_or_default()
    });
    view! {
        {move || {
            shapes.get().into_iter().map(|(index, shape)| view! { <Part id=id index=index shape=shape/> }).collect_view()
        }}
        <button class="quiet" on:click=move |_| lab.add_part(id)>
            {move || if shapes.with(Vec::is_empty) { "Describe its shape" } else { "Add a part" }}
        </button>
    }
}

#[component]
fn Part(id: ObjectId, index: usize, shape: Shape) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let part = move |reader: fn(&PartEntry) -> Option<(f64, f64)>| {
        Signal::derive(move || lab.object(id, |object| object.parts.get(index).and_then(reader)).flatten())
    };
    let (shape_id, count_id, note) = (unique_id("shape"), unique_id("count"), unique_id("note"));
    let count_problem = RwSignal::new(None);
    let count = Signal::derive(move || {
        lab.object(id, |object| object.parts.get(index).map(|part| f64::from(part.count.get()))).flatten()
    });
    let set_count = move |entered: Option<f64>| {
        let whole = entered.filter(|count| count.fract() == 0.0 && (1.0..=1000.0).contains(count));
        // In range, so nothing is cut off.
        match whole.and_then(|count| NonZeroU32::new(count as u32)) {
            Some(count) => lab.set_part_count(id, index, count),
            None => count_problem.set(Some("enter a whole number from 1 to 1000".to_owned())),
        }
    };
    let dimensions = shape
        .dimensions()
        .iter()
        .enumerate()
        .map(|(place, dimension)| {
            let value = Signal::derive(move || {
                lab.object(id, |object| pair(object.parts.get(index)?.dimensions.get(place)?.as_ref())).flatten()
            });
            view! {
                <MeasuredField
                    label=dimension.words
                    symbol=symbol(dimension.symbol.letter, dimension.symbol.subscript)
                    unit=EntryUnit::MILLIMETERS
                    value=value
                    on_change=move |entered| {
                        lab.change_part(id, index, |part| {
                            if let Some(length) = part.dimensions.get_mut(place) {
                                *length = measured(entered);
                            }
                        });
                    }
                />
            }
        })
        .collect_view();
    let offset = shape.may_sit_off_axis().then(|| {
        view! {
            <MeasuredField
                label="distance of its center from the axis"
                symbol="D"
                hint="Leave empty when it sits in the middle."
                unit=EntryUnit::MILLIMETERS
                value=part(|part| pair(part.offset.as_ref()))
                on_change=move |entered| lab.change_part(id, index, |part| part.offset = measured(entered))
            />
        }
    });
    view! {
        <fieldset class="part">
            <legend>{format!("Part {}", index + 1)}</legend>
            <div class="fields">
                <div class="field">
                    <label for=shape_id.clone()>"shape"</label>
                    <select
                        id=shape_id
                        on:change:target=move |event| {
                            if let Some(shape) = Shape::from_key(&event.target().value()) {
                                lab.set_part_shape(id, index, shape);
                            }
                        }
                    >
                        {Shape::ALL.map(|choice| view! { <option value=choice.key() selected=choice == shape>{choice.words()}</option> }).collect_view()}
                    </select>
                    <span class="note"><span class="hint">{format!("I = {}", shape.formula())}</span></span>
                </div>
                <div class="field">
                    <label for=count_id.clone()>"how many alike"</label>
                    <span class="pair">
                        <Entry id=count_id unit=EntryUnit::plain("") value=count on_change=set_count problem=count_problem described_by=note.clone()/>
                    </span>
                    <span class="note" id=note><span class="problem" role="status">{move || count_problem.get()}</span></span>
                </div>
                <MeasuredField
                    label="mass of one"
                    symbol="M"
                    unit=EntryUnit::GRAMS
                    value=part(|part| pair(part.mass.as_ref()))
                    on_change=move |entered| lab.change_part(id, index, |part| part.mass = measured(entered))
                />
                {dimensions}
                {offset}
            </div>
            <button class="quiet" aria-label=format!("Remove part {}", index + 1) on:click=move |_| lab.remove_part(id, index)>"Remove this part"</button>
        </fieldset>
    }
}

/// A symbol in one line of text.
fn symbol(letter: &'static str, subscript: &'static str) -> &'static str {
    match (letter, subscript) {
        ("r", "1") => "r₁",
        ("r", "2") => "r₂",
        (letter, _) => letter,
    }
}
