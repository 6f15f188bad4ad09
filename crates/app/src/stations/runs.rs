//! Station 3: the objects and the runs.

use super::{by_hand, frame, plan, tray};
use crate::controls::{About, Asks, Entry, asking, disclosure, menu, problem, question, unique_id};
use crate::dom::{El, el, value_of};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::{EntryUnit, Usual};
use whorl_core::lab::{Configuration, ObjectId, RunEntry, RunId};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Kilograms, Quantity, Seconds};
use whorl_core::readings::Readings;
use whorl_core::torque::Motion;
use whorl_words as words;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let station = frame(lab, 2, words::runs::purpose());
    if let Some(part) = parts::of_recorded(lab) {
        return station.with((part.runs)(lab));
    }
    let none = move || lab.run_keys.with(Vec::is_empty);
    let last = el("th").attr("scope", "col").with(el("span.visually-hidden").with(words::runs::remove()));
    let table = el("table.runs")
        .live_flag("hidden", none)
        .with(el("caption").with(words::runs::table()))
        .with(el("thead").with(el("tr").with(columns()).with(last)))
        .with(el("tbody").each(move || lab.run_keys.get(), move |key| row(lab, RunId(key))));
    station
        .with(objects(lab))
        .with(plan::panel(lab))
        .with(bench(lab))
        .with(forecasts(lab))
        .with(tray::tray(lab))
        .with(by_hand::add(lab))
        .with(el("p.empty").live_flag("hidden", move || !none()).with(words::runs::none()))
        .with(table)
}

/// Headings of what is told of each run.
pub(super) fn columns() -> Vec<El> {
    [
        words::runs::run(),
        words::runs::carries(),
        words::runs::hanging_mass(),
        words::runs::motion(),
        words::runs::readings(),
    ]
    .map(|words| el("th").attr("scope", "col").with(words))
    .to_vec()
}

/// The practice bench, for who has no apparatus.
fn bench(lab: LabState) -> El {
    let panel = disclosure("details.practice", el("summary").with(words::runs::practice()), move || {
        vec![parts::place(Part::Bench, move || Some((parts::bench()?.open)(lab)))]
    });
    // Who works at one finds it as it was left.
    if lab.read_once(|lab| lab.bench.is_some()) { panel.attr("open", "") } else { panel }
}

/// What is said about a run before it is taken.
pub(super) fn forecasts(lab: LabState) -> El {
    let panel = disclosure("details.forecasts", el("summary").with(words::forecast::title()), move || {
        vec![parts::place(Part::Replay, move || Some((parts::replay()?.forecasts)(lab)))]
    });
    if lab.read_once(|lab| lab.forecasts.is_some()) { panel.attr("open", "") } else { panel }
}

/// Names of the objects that are put on the table.
fn objects(lab: LabState) -> El {
    let refused = RwSignal::new(String::new());
    let name = RwSignal::new(String::new());
    let id = unique_id("object");
    let add = move |event: web_sys::Event| {
        event.prevent_default();
        let entered = name.get_untracked().trim().to_owned();
        if !entered.is_empty() {
            lab.add_object(entered);
            name.set(String::new());
        }
    };
    let form = el("form")
        .on("submit", add)
        .with(el("label").attr("for", &id).with(words::runs::another_object()))
        .with(
            el("input")
                .attr("id", &id)
                .attr("type", "text")
                .attr("maxlength", "60")
                .attr("autocomplete", "off")
                .attr("placeholder", words::runs::object_example())
                .live_value(move || name.get())
                .on_text("input", move |text| name.set(text)),
        )
        .with(el("button").with(words::runs::add_object()));
    el("fieldset.objects")
        .with(el("legend").with(words::runs::objects()))
        .with(el("ul").each(move || lab.object_keys.get(), move |key| object(lab, ObjectId(key), refused)))
        .with(form)
        .with(el("div").attr("role", "alert").live(move || {
            refused.with(|text| if text.is_empty() { Vec::new() } else { vec![problem(text)] })
        }))
}

fn object(lab: LabState, id: ObjectId, refused: RwSignal<String>) -> El {
    let name = move || lab.object(id, |object| object.name.clone()).unwrap_or_default();
    let remove = move || {
        refused.set(lab.remove_object(id).err().map(|problem| problem.to_string()).unwrap_or_default());
    };
    el("li")
        .with(
            el("input")
                .attr("type", "text")
                .attr("maxlength", "60")
                .attr("aria-label", words::runs::name_of_object())
                .live_value(name)
                .on_text("change", move |text| lab.rename_object(id, text)),
        )
        .with(
            el("button.quiet")
                .with(words::runs::remove())
                .live_attr("aria-label", move || Some(words::runs::remove_object(&name())))
                .on_click_gone("remove-object", remove),
        )
}

/// A menu of what the table carries.
fn configuration_choice(lab: LabState, id: RunId) -> El {
    let options = move || {
        lab.read_listed(|lab| {
            let named = |configuration| (key(configuration), lab.configuration_name(configuration));
            lab.configurations().into_iter().map(named).collect()
        })
    };
    let chosen = move || lab.run(id, |run| key(run.configuration)).unwrap_or_default();
    menu(options, chosen, move |chosen| {
        if let Some(configuration) = from_key(&chosen) {
            lab.set_configuration(id, configuration);
        }
    })
}

/// How a menu knows a configuration.
pub(super) fn key(configuration: Configuration) -> String {
    match configuration {
        Configuration::EmptyTable => "empty".to_owned(),
        Configuration::Loaded(id) => id.0.to_string(),
    }
}

/// The other way round.
pub(super) fn from_key(key: &str) -> Option<Configuration> {
    match key {
        "empty" => Some(Configuration::EmptyTable),
        number => number.parse().ok().map(|number| Configuration::Loaded(ObjectId(number))),
    }
}

/// How many readings there are, of what, in which time.
pub(super) fn holds(readings: &Readings) -> String {
    let (Seconds(first), Seconds(last)) = readings.time_span();
    let seconds = show_number(last - first, DisplayUnit::si::<Seconds>(), 3);
    words::runs::holds(&readings.count(), &readings.kind().noun(), &seconds)
}

/// A menu of which way the mass goes.
fn motion_choice(lab: LabState, id: RunId) -> El {
    let options = move || {
        let now = lab.run(id, |run| run.motion).unwrap_or_default();
        let option = |motion: Motion| {
            let option = el("option").attr("value", motion.key()).with(motion.words());
            if motion == now { option.attr("selected", "") } else { option }
        };
        Motion::ALL.map(option).to_vec()
    };
    el("select").live(options).on("change", move |event| {
        let key = value_of(&event);
        if let Some(motion) = Motion::ALL.into_iter().find(|motion| motion.key() == key) {
            lab.set_motion(id, motion);
        }
    })
}

fn row(lab: LabState, id: RunId) -> El {
    let name = move || lab.run(id, |run| run.name.clone()).unwrap_or_default();
    let readings = move || lab.run(id, |run| run.record.readings().map(holds)).flatten().unwrap_or_default();
    let carries = configuration_choice(lab, id);
    let (mass_id, note) = (unique_id("mass"), unique_id("note"));
    let wrong = RwSignal::new(String::new());
    let takes = Entry {
        id: &mass_id,
        name: "",
        unit: EntryUnit::GRAMS,
        least: 0.0,
        problem: wrong,
        described_by: &note,
    };
    let asked = RwSignal::new(String::new());
    let asks =
        Asks { question: Some((question(Usual::HangingMass, EntryUnit::GRAMS), asked)), ..Asks::default() };
    let mass = asking(
        &takes,
        asks,
        Box::new(move || lab.run(id, |run| run.hanging_mass.map(Quantity::si)).flatten()),
        Box::new(move |entered| lab.set_hanging_mass(id, entered.map(Kilograms))),
    );
    let missing = move || {
        let needs = |run: &RunEntry| run.hanging_mass.is_none() && run.motion != Motion::Coasting;
        let missing = lab.run(id, needs).unwrap_or(false);
        let wrong = wrong.get();
        if wrong.is_empty() && missing { words::controls::needed().to_owned() } else { wrong }
    };
    let named = |control: El, words: About| control.live_attr("aria-label", move || Some(words(&name())));
    let cell = |label: &str| el("td").attr("data-label", label);
    let name_input = el("input")
        .attr("type", "text")
        .attr("maxlength", "80")
        .attr("aria-label", words::runs::name_of_run())
        .live_value(name)
        .on_text("change", move |text| lab.rename_run(id, text));
    let remove = el("button.quiet")
        .with(words::runs::remove())
        .on_click_gone("remove-run", move || lab.remove_run(id));
    el("tr")
        .with(el("th").attr("scope", "row").with(name_input))
        .with(cell(words::runs::carries()).with(named(carries, words::runs::carries_in)))
        .with(
            cell(words::runs::hanging_mass())
                .with(el("span.pair").with(named(mass, words::runs::mass_of)).with(el("span.unit").with("g")))
                .with(
                    el("span.note")
                        .attr("id", &note)
                        .with(el("span.problem").live_status(missing))
                        .with(el("span.question").live_status(move || asked.get())),
                ),
        )
        .with(cell(words::runs::motion()).with(named(motion_choice(lab, id), words::runs::motion_in)))
        .with(cell(words::runs::readings()).with(match by_hand::fields(lab, id) {
            Some(fields) => fields,
            None => el("span").live_text(readings),
        }))
        .with(el("td").with(named(remove, words::runs::remove_run)))
}
