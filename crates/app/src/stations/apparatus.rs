//! Station 2: safety, drum, string, pulley, gravity.

use super::frame;
use super::plan::HEIGHT_PLACE;
use super::working::working;
use crate::controls::{
    Entry, Label, aside, disclosure, entry, hint, measured, measured_field, measured_text, pair, problem,
    symbol, unique_id,
};
use crate::dom::{El, el, italic};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use std::num::NonZeroU32;
use whorl_core::entry::{EntryUnit, Usual};
use whorl_core::gravity;
use whorl_core::lab::ApparatusEntry;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Kilograms, Meters, MetersPerSecond2, Quantity, Ratio};
use whorl_core::working::Subject;
use whorl_words as words;

/// The station's head and the cautions, with a place for its [`entries`].
pub(crate) fn station(lab: LabState, place: El) -> El {
    frame(lab, 1, words::apparatus::purpose()).with(safety()).with(place)
}

/// What is measured at the apparatus: below the first look at the page, and much to build.
pub(crate) fn entries(lab: LabState) -> El {
    let outcome = move || {
        lab.apparatus.with(|apparatus| match apparatus {
            Ok(apparatus) => {
                let radius = apparatus.effective_radius().ok();
                let text = radius.map(|radius| measured_text(&radius, DisplayUnit::MILLIMETERS));
                vec![
                    el("p.outcome")
                        .with(words::apparatus::effective_radius())
                        .with(" ")
                        .with(symbol("R", "e"))
                        .with(" = ")
                        .with(text),
                ]
            }
            Err(missing) => vec![problem(&missing.to_string())],
        })
    };
    let fields = el("div.fields")
        .with(length(lab, drum(), |entry| &entry.drum_radius, |entry| &mut entry.drum_radius))
        .with(length(lab, string(), |entry| &entry.string_diameter, |entry| &mut entry.string_diameter))
        .with(length(lab, travel(), |entry| &entry.travel_per_spoke, |entry| &mut entry.travel_per_spoke))
        .with(spokes(lab))
        .with(measured_field(
            label(
                words::apparatus::gravity(),
                "g",
                EntryUnit::METERS_PER_SECOND2,
                words::apparatus::gravity_hint(),
                Usual::Gravity,
            ),
            move || lab.read(|lab| pair(lab.apparatus.gravity.as_ref())),
            move |entered| lab.set_apparatus(|entry| entry.gravity = measured(entered)),
        ))
        .with(mass_scale(lab));
    let fields = el("div.joined").with(fields).with(more(lab)).with(disclosure(
        "details.finder",
        el("summary").with(words::apparatus::find_gravity()),
        move || vec![parts::place(Part::Details, move || Some((parts::details()?.gravity)(lab)))],
    ));
    parts::as_recorded(lab, fields)
        .with(el("div").live(outcome))
        .with(working(lab, words::controls::working_of_radius(), || Some(Subject::Radius)))
        .with(parts::as_newer(lab, notes(lab)))
}

fn safety() -> El {
    let cautions = [
        words::apparatus::caution_instructor(),
        words::apparatus::caution_falling(),
        words::apparatus::caution_string(),
        words::apparatus::caution_hair(),
        words::apparatus::caution_load(),
        words::apparatus::caution_eyes(),
    ];
    let list = cautions.map(|caution| el("li").with(caution)).to_vec();
    el("section.safety")
        .attr("aria-labelledby", "safety-heading")
        .with(el("h3").attr("id", "safety-heading").with(words::apparatus::before()))
        .with(el("ul").with(list))
}

fn label(
    words: &'static str,
    symbol: &'static str,
    unit: EntryUnit,
    hint: &'static str,
    usual: Usual,
) -> Label {
    Label { words, symbol, hint, unit, usual: Some(usual) }
}

fn drum() -> Label {
    label(
        words::apparatus::drum(),
        "R",
        EntryUnit::MILLIMETERS,
        words::apparatus::drum_hint(),
        Usual::DrumRadius,
    )
}

fn string() -> Label {
    label(
        words::apparatus::string(),
        "d",
        EntryUnit::MILLIMETERS,
        words::apparatus::string_hint(),
        Usual::StringDiameter,
    )
}

fn travel() -> Label {
    label(
        words::apparatus::travel(),
        "s",
        EntryUnit::MILLIMETERS,
        words::apparatus::travel_hint(),
        Usual::TravelPerSpoke,
    )
}

fn length(
    lab: LabState,
    label: Label,
    get: fn(&ApparatusEntry) -> &Option<Measured<Meters>>,
    set: fn(&mut ApparatusEntry) -> &mut Option<Measured<Meters>>,
) -> El {
    measured_field(
        label,
        move || lab.read(|lab| pair(get(&lab.apparatus).as_ref())),
        move |entered| lab.set_apparatus(|entry| *set(entry) = measured(entered)),
    )
}

/// A labelled number with a unit and a remark.
pub(super) fn plain_field(
    words: &'static str,
    symbol: &'static str,
    unit: &'static str,
    remark: El,
    input: El,
    note: &str,
    wrong: RwSignal<String>,
) -> El {
    let id = input.node().id();
    el("div.field")
        .with(el("label").attr("for", &id).with(words).with(" ").with(italic(symbol)))
        .with(el("span.pair").with(input).with(el("span.unit").with(unit)))
        .with(
            el("span.note")
                .attr("id", note)
                .with(el("span.problem").live_status(move || wrong.get()))
                .with(remark),
        )
}

fn spokes(lab: LabState) -> El {
    let (id, note) = (unique_id("spokes"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let set = move |entered: Option<f64>| {
        let spokes = whole(entered);
        if entered.is_some() && spokes.is_none() {
            wrong.set(words::controls::whole_number().to_owned());
        }
        lab.set_apparatus(|entry| entry.spokes = spokes);
    };
    let pulley = move || {
        let radius = lab.read(|lab| lab.apparatus.pulley_radius());
        radius.map_or_else(String::new, |radius| {
            words::apparatus::pulley_radius(&show_number(radius.si(), DisplayUnit::MILLIMETERS, 4))
        })
    };
    let takes = Entry {
        id: &id,
        name: "",
        unit: EntryUnit::plain(""),
        least: 1.0,
        problem: wrong,
        described_by: &note,
    };
    let value = move || lab.read(|lab| lab.apparatus.spokes.map(|spokes| f64::from(spokes.get())));
    let remark = hint(words::apparatus::spokes_hint()).with(" ").live_text(pulley);
    plain_field(words::apparatus::spokes(), "N", "", remark, entry(&takes, value, set), &note, wrong)
}

/// A count from a typed number.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 1 to 1000")]
pub(super) fn whole(entered: Option<f64>) -> Option<NonZeroU32> {
    let count = entered.filter(|count| count.fract() == 0.0 && (1.0..=1000.0).contains(count))?;
    NonZeroU32::new(count as u32)
}

fn pulley() -> Label {
    label(
        words::apparatus::pulley(),
        "I",
        EntryUnit::GRAM_CENTIMETERS2,
        words::apparatus::pulley_hint(),
        Usual::PulleyInertia,
    )
}

fn height() -> Label {
    label(
        words::apparatus::height(),
        "h",
        EntryUnit::MILLIMETERS,
        words::apparatus::height_hint(),
        Usual::DropHeight,
    )
}

/// What many labs do without.
fn more(lab: LabState) -> El {
    let pulley = measured_field(
        pulley(),
        move || lab.read(|lab| pair(lab.apparatus.pulley_inertia.as_ref())),
        move |entered| lab.set_apparatus(|entry| entry.pulley_inertia = measured(entered)),
    );
    let height = length(lab, height(), |entry| &entry.drop_height, |entry| &mut entry.drop_height);
    let details = el("details.finder")
        .with(el("summary").with(words::apparatus::more()))
        .with(el("div.fields").with(height).with(pulley).with(each_mass(lab)));
    el("div").attr("id", HEIGHT_PLACE).with(details)
}

fn each_mass(lab: LabState) -> El {
    let (id, note) = (unique_id("each-mass"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let takes =
        Entry { id: &id, name: "", unit: EntryUnit::GRAMS, least: 0.0, problem: wrong, described_by: &note };
    let input = entry(
        &takes,
        move || Some(lab.read(|lab| lab.apparatus.hanging_mass_uncertainty.0)),
        move |entered| {
            lab.set_apparatus(|entry| entry.hanging_mass_uncertainty = Kilograms(entered.unwrap_or(0.0)));
        },
    );
    let remark = hint(words::apparatus::each_mass_hint());
    plain_field(words::apparatus::each_mass(), "", "g", remark, input, &note, wrong)
}

fn mass_scale(lab: LabState) -> El {
    let (id, note) = (unique_id("mass-scale"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let takes = Entry {
        id: &id,
        name: "",
        unit: EntryUnit::PERCENT,
        least: 0.0,
        problem: wrong,
        described_by: &note,
    };
    let input = entry(
        &takes,
        move || Some(lab.read(|lab| lab.apparatus.mass_scale_uncertainty.0)),
        move |entered| {
            lab.set_apparatus(|entry| entry.mass_scale_uncertainty = Ratio(entered.unwrap_or(0.0)));
        },
    );
    let remark = hint(words::apparatus::mass_scale_hint());
    plain_field(words::apparatus::mass_scale(), "", "%", remark, input, &note, wrong)
}

/// Rocks below move g by a few 10⁻⁴ m/s²: common practice, no source.
const ROCKS: MetersPerSecond2 = MetersPerSecond2(3e-4);

/// Works out g from latitude and height.
pub(crate) fn gravity_finder(lab: LabState) -> Vec<El> {
    let (latitude, height) = (RwSignal::new(None::<f64>), RwSignal::new(Some(0.0_f64)));
    let note = unique_id("note");
    let number =
        |words: &'static str, unit: &'static str, signal: RwSignal<Option<f64>>, described_by: &str| {
            let (id, own_note) = (unique_id("place"), unique_id("note"));
            let wrong = RwSignal::new(String::new());
            let takes = Entry {
                id: &id,
                name: "",
                unit: EntryUnit::plain(unit),
                least: f64::NEG_INFINITY,
                problem: wrong,
                described_by,
            };
            let input = entry(&takes, move || signal.get(), move |entered| signal.set(entered));
            plain_field(words, "", unit, el("span"), input, &own_note, wrong)
        };
    let found = move || gravity::at(latitude.get()?, height.get()?);
    let use_it = move || {
        let entered = untrack(found).and_then(|g| Measured::new(g, ROCKS).ok());
        if entered.is_some() {
            lab.set_apparatus(|entry| entry.gravity = entered);
        }
    };
    let words = move || match found() {
        Some(g) => {
            let g = show_number(g.si(), DisplayUnit::si::<MetersPerSecond2>(), 5);
            format!("g = {g}, u = {} m/s²", words::number(ROCKS.0, 4))
        }
        None => words::apparatus::place_wanted().to_owned(),
    };
    let fields = el("div.fields")
        .with(number(words::apparatus::latitude(), "°", latitude, &note))
        .with(number(words::apparatus::sea_level(), "m", height, &note));
    let use_it = el("button")
        .with(words::apparatus::use_gravity())
        .live_unavailable(move || found().is_none())
        .on_click(use_it);
    vec![
        fields,
        el("p").attr("id", &note).live_status(words),
        use_it,
        aside(&words::apparatus::normal_gravity(&words::number(3.086, 3))),
    ]
}

fn notes(lab: LabState) -> El {
    let id = unique_id("notes");
    el("div.field").with(el("label").attr("for", &id).with(words::apparatus::notes())).with(
        el("textarea")
            .attr("id", &id)
            .attr("rows", "3")
            .live_value(move || lab.read(|lab| lab.notes.clone()))
            .on_text("input", move |text| lab.set_notes(text)),
    )
}
