//! Station 2: safety, drum, string, pulley, gravity.

use super::frame;
use super::plan::HEIGHT_PLACE;
use crate::controls::{
    Entry, Label, WorkedOut, aside, entry, hint, measured, measured_field, measured_text, pair, problem,
    symbol, unique_id, working_view,
};
use crate::dom::{El, el, italic};
use crate::own_words::in_own;
use crate::state::LabState;
use leptos::prelude::*;
use std::num::NonZeroU32;
use whorl_core::entry::EntryUnit;
use whorl_core::gravity;
use whorl_core::lab::ApparatusEntry;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Kilograms, Meters, MetersPerSecond2, Quantity, Ratio};
use whorl_core::working::{self, Working};

const PURPOSE: &str = "Measure what all runs share. Give each number with its standard uncertainty u, so the result can say how far it may be trusted.";

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let outcome = move || {
        lab.apparatus.with(|apparatus| match apparatus {
            Ok(apparatus) => {
                let radius = apparatus.effective_radius().ok();
                let text = radius.map(|radius| measured_text(&radius, DisplayUnit::MILLIMETERS));
                vec![el("p.outcome").with("Effective radius ").with(symbol("R", "e")).with(" = ").with(text)]
            }
            Err(missing) => vec![problem(&missing.to_string())],
        })
    };
    let fields = el("div.fields")
        .with(length(lab, DRUM, |entry| &entry.drum_radius, |entry| &mut entry.drum_radius))
        .with(length(lab, STRING, |entry| &entry.string_diameter, |entry| &mut entry.string_diameter))
        .with(length(lab, TRAVEL, |entry| &entry.travel_per_spoke, |entry| &mut entry.travel_per_spoke))
        .with(spokes(lab))
        .with(measured_field(
            GRAVITY,
            move || lab.read(|lab| pair(lab.apparatus.gravity.as_ref())),
            move |entered| lab.set_apparatus(|entry| entry.gravity = measured(entered)),
        ))
        .with(mass_scale(lab));
    frame(1, PURPOSE)
        .with(safety())
        .with(fields)
        .with(more(lab))
        .with(gravity_finder(lab))
        .with(el("div").live(outcome))
        .with(working_view(lab, "the effective radius", WorkedOut::EffectiveRadius))
        .with(notes(lab))
}

/// The steps behind the effective radius.
pub(crate) fn steps(lab: LabState) -> Vec<Working> {
    in_own(lab, lab.apparatus.with(|apparatus| apparatus.iter().map(working::effective_radius).collect()))
}

fn safety() -> El {
    let cautions = [
        "Your instructor and your school’s rules come first. Ask before you start, and stop when told.",
        "The hanging mass falls: keep feet and hands out from under it and lay a soft pad where it lands.",
        "String and drum pinch and wrap: keep fingers away while the string is taut or the table turns.",
        "Tie back long hair; no loose sleeves, scarves, lanyards or necklaces.",
        "Fix every load to the table so it cannot slide off, and turn it slowly by hand first.",
        "Wear eye protection. Never add mass beyond what the string and your instructor allow.",
    ];
    let list = cautions.map(|caution| el("li").with(caution)).to_vec();
    el("section.safety")
        .attr("aria-labelledby", "safety-heading")
        .with(el("h3").attr("id", "safety-heading").with("Before anything moves"))
        .with(el("ul").with(list))
}

const fn label(words: &'static str, symbol: &'static str, unit: EntryUnit, hint: &'static str) -> Label {
    Label { words, symbol, hint, unit }
}

const DRUM: Label = label(
    "drum radius",
    "R",
    EntryUnit::MILLIMETERS,
    "The drum under the table: measure its diameter with calipers and halve it.",
);
const STRING: Label = label(
    "string diameter",
    "d",
    EntryUnit::MILLIMETERS,
    "Lay ten turns side by side and divide their width by ten.",
);
const TRAVEL: Label = label(
    "travel per spoke",
    "s",
    EntryUnit::MILLIMETERS,
    "How far the string moves from one spoke to the next. Needed for gate times only.",
);
const GRAVITY: Label = label(
    "local gravity",
    "g",
    EntryUnit::METERS_PER_SECOND2,
    "The default covers everywhere at sea level. Your latitude below makes it sharper.",
);

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
                .with(el("span.problem").attr("role", "status").live_text(move || wrong.get()))
                .with(remark),
        )
}

fn spokes(lab: LabState) -> El {
    let (id, note) = (unique_id("spokes"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let set = move |entered: Option<f64>| {
        let spokes = whole(entered);
        if entered.is_some() && spokes.is_none() {
            wrong.set(WHOLE.to_owned());
        }
        lab.set_apparatus(|entry| entry.spokes = spokes);
    };
    let pulley = move || {
        let radius = lab.read(|lab| lab.apparatus.pulley_radius());
        radius.map_or_else(String::new, |radius| {
            format!(
                "The string runs on the pulley at {}.",
                show_number(radius.si(), DisplayUnit::MILLIMETERS, 4)
            )
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
    let remark =
        hint("With the travel per spoke it gives the pulley’s radius, a check on both. ").live_text(pulley);
    plain_field("spokes of the pulley", "N", "", remark, entry(&takes, value, set), &note, wrong)
}

/// What a count must be.
pub(super) const WHOLE: &str = "enter a whole number from 1 to 1000";

/// A count from a typed number.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 1 to 1000")]
pub(super) fn whole(entered: Option<f64>) -> Option<NonZeroU32> {
    let count = entered.filter(|count| count.fract() == 0.0 && (1.0..=1000.0).contains(count))?;
    NonZeroU32::new(count as u32)
}

const PULLEY: Label = label(
    "moment of inertia of the pulley",
    "I",
    EntryUnit::GRAM_CENTIMETERS2,
    "Leave empty for a light pulley. About half its mass times its radius squared for a plain disc.",
);
const HEIGHT: Label = label(
    "drop height",
    "h",
    EntryUnit::MILLIMETERS,
    "How far the mass falls. Needed for stopwatch runs and for planning.",
);

/// What many labs do without.
fn more(lab: LabState) -> El {
    let pulley = measured_field(
        PULLEY,
        move || lab.read(|lab| pair(lab.apparatus.pulley_inertia.as_ref())),
        move |entered| lab.set_apparatus(|entry| entry.pulley_inertia = measured(entered)),
    );
    let height = length(lab, HEIGHT, |entry| &entry.drop_height, |entry| &mut entry.drop_height);
    let details = el("details.finder")
        .with(el("summary").with("Drop height, a heavy pulley, uncertain masses"))
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
    let remark =
        hint("Standard uncertainty that each mass has on its own, such as a stamped value’s. Empty means 0.");
    plain_field("uncertainty of each hanging mass", "", "g", remark, input, &note, wrong)
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
    let remark = hint("One balance weighed them all: its standard uncertainty in percent. Empty means 0.");
    plain_field("uncertainty shared by all hanging masses", "", "%", remark, input, &note, wrong)
}

/// Works out g from latitude and height.
fn gravity_finder(lab: LabState) -> El {
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
    // Rocks below move g by a few 10⁻⁴ m/s²: common practice, no source.
    let use_it = move || {
        let entered = untrack(found).and_then(|g| Measured::new(g, MetersPerSecond2(3e-4)).ok());
        if entered.is_some() {
            lab.set_apparatus(|entry| entry.gravity = entered);
        }
    };
    let words = move || match found() {
        Some(g) => {
            format!("g = {}, u = 0.0003 m/s²", show_number(g.si(), DisplayUnit::si::<MetersPerSecond2>(), 5))
        }
        None => "Enter a latitude from 0 to 90° and a height from −500 to 9000 m.".to_owned(),
    };
    el("details.finder")
        .with(el("summary").with("Find g from latitude and height"))
        .with(el("div.fields").with(number("latitude (north or south)", "°", latitude, &note)).with(number(
            "height above sea level",
            "m",
            height,
            &note,
        )))
        .with(el("p").attr("id", &note).attr("role", "status").live_text(words))
        .with(
            el("button").with("Use this g").live_flag("disabled", move || found().is_none()).on_click(use_it),
        )
        .with(aside(
            "Normal gravity of the GRS80 ellipsoid (Moritz 1980) less 3.086 × 10⁻⁶ s⁻² times the height.",
        ))
}

fn notes(lab: LabState) -> El {
    let id = unique_id("notes");
    el("div.field").with(el("label").attr("for", &id).with("Notes: who, when, what else matters")).with(
        el("textarea")
            .attr("id", &id)
            .attr("rows", "3")
            .live_value(move || lab.read(|lab| lab.notes.clone()))
            .on_text("change", move |text| lab.set_notes(text)),
    )
}
