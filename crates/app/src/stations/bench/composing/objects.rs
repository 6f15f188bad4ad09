//! What can be put on the table, and where it sits.

use super::Settings;
use super::fields::{labelled, number, spread, unit, whole};
use crate::controls::menu;
use crate::dom::{El, el};
use core::num::NonZeroU32;
use leptos::prelude::*;
use whorl_core::bench::{BenchSettings, ObjectSettings, PartSettings, Spread};
use whorl_core::bodies::Shape;
use whorl_core::entry::EntryUnit;
use whorl_words as words;

/// The objects, and a way to one more.
pub(super) fn objects(settings: Settings) -> El {
    // Built anew when one comes or goes: what is typed changes none of this.
    let shapes = Memo::new(move |_| settings.with(shapes));
    let list = el("div.list").live(move || {
        let shapes = shapes.get();
        untrack(|| shapes.iter().enumerate().map(|(place, parts)| object(settings, place, parts)).collect())
    });
    let shape = RwSignal::new(Shape::Disc);
    let options = || Shape::ALL.map(|shape| (shape.key().to_owned(), shape.words().to_owned())).to_vec();
    let choose = move |key: String| shape.set(Shape::from_key(&key).unwrap_or(Shape::Disc));
    let add = move || settings.update(|settings| settings.objects.push(new_object(shape.get_untracked())));
    el("fieldset").with(el("legend").with(words::composing::objects())).with(list).with(
        el("div.lab-actions")
            .with(labelled(
                words::composing::shape(),
                menu(options, move || shape.get().key().to_owned(), choose),
            ))
            .with(el("button").attr("type", "button").with(words::composing::add()).on_click(add)),
    )
}

fn shapes(settings: &BenchSettings) -> Vec<Vec<Shape>> {
    settings.objects.iter().map(|object| object.parts.iter().map(|part| part.shape).collect()).collect()
}

/// One of a kilogram, 100 mm in all its lengths; a ring's hole is smaller.
fn new_object(shape: Shape) -> ObjectSettings {
    let mut dimensions_m = vec![Spread::Fixed(0.1); shape.dimensions().len()];
    if let (Shape::Ring, Some(inner)) = (shape, dimensions_m.first_mut()) {
        *inner = Spread::Fixed(0.08);
    }
    let part = PartSettings {
        shape,
        count: NonZeroU32::MIN,
        mass_kg: Spread::Fixed(1.0),
        dimensions_m,
        offset_m: None,
    };
    ObjectSettings { name: shape.words().to_owned(), parts: vec![part] }
}

fn object(settings: Settings, place: usize, parts: &[Shape]) -> El {
    let name =
        move || settings.with(|settings| settings.objects.get(place).map(|object| object.name.clone()));
    let input = el("input")
        .attr("type", "text")
        .attr("maxlength", "60")
        .attr("autocomplete", "off")
        .live_value(move || name().unwrap_or_default())
        .on_text("input", move |text| {
            settings.update(|settings| {
                if let Some(object) = settings.objects.get_mut(place) {
                    object.name = text;
                }
            });
        });
    let take_away = move || {
        settings.update(|settings| {
            if place < settings.objects.len() {
                settings.objects.remove(place);
            }
        });
    };
    let rows = parts.iter().enumerate().flat_map(|(index, shape)| part(settings, (place, index), *shape));
    el("fieldset")
        .with(el("legend").live_text(move || name().unwrap_or_default()))
        .with(labelled(words::composing::object_name(), input))
        .with(rows.collect::<Vec<_>>())
        .with(
            el("button.quiet")
                .attr("type", "button")
                .with(words::composing::take_away())
                .live_attr("aria-label", move || {
                    Some(words::composing::take_away_named(&name().unwrap_or_default()))
                })
                .on_click_gone("take-away", take_away),
        )
}

type Place = (usize, usize);

fn of(settings: &BenchSettings, (object, part): Place) -> Option<&PartSettings> {
    settings.objects.get(object)?.parts.get(part)
}

fn change(settings: &mut BenchSettings, (object, part): Place, change: impl FnOnce(&mut PartSettings)) {
    if let Some(part) = settings.objects.get_mut(object).and_then(|object| object.parts.get_mut(part)) {
        change(part);
    }
}

fn part(settings: Settings, place: Place, shape: Shape) -> Vec<El> {
    let mut rows = vec![
        el("p").with(shape.words()),
        number(
            settings,
            words::composing::how_many(),
            EntryUnit::plain(""),
            move |settings| of(settings, place).map(|part| f64::from(part.count.get())),
            move |settings, count| {
                if let Some(count) = whole(count) {
                    change(settings, place, |part| part.count = count);
                }
            },
        ),
        spread(
            settings,
            words::composing::mass_of_one(),
            unit("kg"),
            move |settings| of(settings, place).map(|part| part.mass_kg),
            move |settings, mass| change(settings, place, |part| part.mass_kg = mass.unwrap_or(Spread::NONE)),
        ),
    ];
    for (index, dimension) in shape.dimensions().iter().enumerate() {
        rows.push(spread(
            settings,
            (dimension.words)(),
            unit("m"),
            move |settings| of(settings, place).and_then(|part| part.dimensions_m.get(index).copied()),
            move |settings, length| {
                change(settings, place, |part| {
                    if let Some(place) = part.dimensions_m.get_mut(index) {
                        *place = length.unwrap_or(Spread::NONE);
                    }
                });
            },
        ));
    }
    if shape.may_sit_off_axis() {
        rows.push(spread(
            settings,
            words::composing::distance(),
            unit("m"),
            move |settings| of(settings, place).and_then(|part| part.offset_m),
            move |settings, distance| change(settings, place, |part| part.offset_m = distance),
        ));
    }
    rows
}
