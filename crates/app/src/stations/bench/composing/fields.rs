//! One quantity of the settings: a number, or two ends to draw it between.

use super::Settings;
use crate::controls::{Entry, entry, unique_id};
use crate::dom::{El, el};
use core::num::NonZeroU32;
use leptos::prelude::*;
use whorl_core::bench::{BenchSettings, Spread};
use whorl_core::entry::EntryUnit;
use whorl_words as words;

/// The unit in which a quantity of this SI unit is entered; shares are entered in percent, times are those of a clock.
pub(super) fn unit(symbol: &'static str) -> EntryUnit {
    match symbol {
        "m" => EntryUnit::MILLIMETERS,
        "kg" => EntryUnit::GRAMS,
        "kg·m²" => EntryUnit::GRAM_CENTIMETERS2,
        "N·m" => EntryUnit::MILLINEWTON_METERS,
        "N·m·s" => EntryUnit::MICRONEWTON_METER_SECONDS,
        "N·m·s²" => EntryUnit::MICRONEWTON_METER_SECONDS2,
        "s" => EntryUnit::MICROSECONDS,
        "" => EntryUnit::PERCENT,
        other => EntryUnit::plain(other),
    }
}

/// A whole number from 1 on.
pub(super) fn whole(count: Option<f64>) -> Option<NonZeroU32> {
    let count = count.filter(|count| count.fract() == 0.0 && (1.0..1e4).contains(count))?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, from 1 to 10,000")]
    NonZeroU32::new(count as u32)
}

/// A field below its name.
pub(super) fn labelled(label: &str, field: El) -> El {
    let id = unique_id("composed");
    el("div.wish").with(el("label").attr("for", &id).with(label)).with(field.attr("id", &id))
}

/// A number of the settings.
pub(super) fn number(
    settings: Settings,
    label: &str,
    unit: EntryUnit,
    read: impl Fn(&BenchSettings) -> Option<f64> + 'static,
    put: impl Fn(&mut BenchSettings, Option<f64>) + 'static,
) -> El {
    let (id, note, problem) =
        (unique_id("composed"), unique_id("composed-note"), RwSignal::new(String::new()));
    let takes = Entry { id: &id, name: "", unit, least: f64::NEG_INFINITY, problem, described_by: &note };
    let input = entry(
        &takes,
        move || settings.with(&read),
        move |value| settings.update(|settings| put(settings, value)),
    );
    el("div.wish")
        .with(el("label").attr("for", &id).with(label))
        .with(el("span.pair").with(input).with(el("span.unit").with(unit.own.symbol)))
        .with(el("span.problem").attr("id", &note).live_status(move || problem.get()))
}

/// A quantity of the settings with one value for everyone, or between two ends; the second field is empty for one, both
/// for none, which is 0 where there must be one.
pub(super) fn spread(
    settings: Settings,
    label: &str,
    unit: EntryUnit,
    read: impl Fn(&BenchSettings) -> Option<Spread> + Copy + 'static,
    put: impl Fn(&mut BenchSettings, Option<Spread>) + Copy + 'static,
) -> El {
    let note = unique_id("composed-note");
    let [from_id, to_id] = [(); 2].map(|()| unique_id("composed"));
    let [from_wrong, to_wrong] = [(); 2].map(|()| RwSignal::new(String::new()));
    let up_to = words::composing::up_to_of(&label);
    let change = move |change: Box<dyn Fn(Option<Spread>) -> Option<Spread>>| {
        settings.update(|settings| {
            let now = read(settings);
            put(settings, change(now));
        });
    };
    let takes = Entry {
        id: &from_id,
        name: "",
        unit,
        least: f64::NEG_INFINITY,
        problem: from_wrong,
        described_by: &note,
    };
    let from = entry(
        &takes,
        move || settings.with(read).map(Spread::least),
        move |value| {
            change(Box::new(move |now| {
                Some(match now {
                    Some(Spread::Between { to, .. }) => Spread::Between { from: value.unwrap_or(0.0), to },
                    _ => Spread::Fixed(value?),
                })
            }));
        },
    );
    // Nothing typed is 0.
    let from = from.attr("placeholder", "0");
    let takes = Entry { id: &to_id, name: &up_to, problem: to_wrong, ..takes };
    let to = entry(
        &takes,
        move || match settings.with(read) {
            Some(Spread::Between { to, .. }) => Some(to),
            _ => None,
        },
        move |value| {
            change(Box::new(move |now| {
                let from = now?.least();
                Some(value.map_or(Spread::Fixed(from), |to| Spread::Between { from, to }))
            }));
        },
    );
    let wrong =
        move || Some(from_wrong.get()).filter(|text| !text.is_empty()).unwrap_or_else(|| to_wrong.get());
    el("div.wish")
        .with(el("label").attr("for", &from_id).with(label))
        .with(
            el("span.pair")
                .with(from)
                .with(el("span").attr("aria-hidden", "true").with(words::composing::up_to()))
                .with(to)
                .with(el("span.unit").with(unit.own.symbol)),
        )
        .with(el("span.problem").attr("id", &note).live_status(wrong))
}
