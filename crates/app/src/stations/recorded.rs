//! A recorded lab: what it says about itself, and what can be read in it but not changed.

use super::{plan, runs};
use crate::browser::fetching::{Address, here};
use crate::controls::{hint, measured_text, outcome_list, unique_id};
use crate::dom::{Content, El, el};
use crate::state::LabState;
use leptos::prelude::Get;
use wasm_bindgen::JsCast;
use web_sys::Element;
use whorl_core::lab::dataset::Picture;
use whorl_core::lab::{Dataset, Lab, Provenance, Record, RunEntry, RunId};
use whorl_core::lab_file::VERSION;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{MetersPerSecond2, Quantity, RadiansPerSecond2, Seconds};
use whorl_words as words;

/// The heading of what it says about itself.
pub(crate) const HEADING: &str = "recorded-heading";

/// What it says about itself, or which program made it.
pub(crate) fn card(lab: LabState) -> El {
    let Some(found) = lab.read_once(Lab::newer) else { return recorded_card(lab, HEADING) };
    let recorded = lab.read_once(Lab::is_recorded).then(|| recorded_card(lab, "record-of-newer"));
    el("section.dataset")
        .attr("aria-labelledby", HEADING)
        .with(el("h2").attr("id", HEADING).attr("tabindex", "-1").with(words::lab_file::newer_heading()))
        .with(el("p").with(words::lab_file::newer(&found, &VERSION)))
        .with(el("p").with(words::lab_file::newer_saves()))
        .with(recorded)
}

fn recorded_card(lab: LabState, heading: &'static str) -> El {
    let (dataset, provenance) =
        lab.read_once(|lab| (lab.dataset().cloned().unwrap_or_default(), lab.provenance));
    let made = match provenance {
        Provenance::Simulated => words::datasets::simulated(),
        Provenance::Measured => words::datasets::measured(),
    };
    let Dataset { title, recorded_by, recorded_on, licence, apparatus_notes, origin, picture, .. } = &dataset;
    let mut rows = Vec::new();
    for (name, value) in [
        (words::datasets::recorded_by(), recorded_by),
        (words::datasets::recorded_on(), recorded_on),
        (words::datasets::licence(), licence),
        (words::datasets::origin(), origin),
    ] {
        if !value.is_empty() {
            rows.push((el("span").with(name), linked(value)));
        }
    }
    let notes = (!apparatus_notes.is_empty()).then(|| {
        el("div")
            .with(el("h3").with(words::datasets::apparatus_notes()))
            .with(el("p.notes").with(apparatus_notes.as_str()))
    });
    el("section.dataset")
        .attr("aria-labelledby", heading)
        .with(el("h2").attr("id", heading).attr("tabindex", "-1").with(words::datasets::recorded_lab(title)))
        .with(
            el("div.told")
                .with(
                    el("div")
                        .with(
                            el("p")
                                .with(el("strong").with(made))
                                .with(" ")
                                .with(words::datasets::locked_and_free()),
                        )
                        .with(outcome_list(rows)),
                )
                .with(picture.as_ref().map(shown)),
        )
        .with(notes)
}

/// A text, as a link where it is an address of the web.
fn linked(text: &str) -> El {
    let is_whole = text.starts_with("https://") || text.starts_with("http://");
    match Address::read(text, &here()) {
        Ok(address) if is_whole => el("a")
            .attr("href", &address.whole)
            .attr("target", "_blank")
            .attr("rel", "noopener noreferrer")
            .with(text),
        _ => el("span").with(text),
    }
}

fn shown(picture: &Picture) -> El {
    el("img").attr("src", picture.data_url()).attr("alt", picture.alternative())
}

/// Why something cannot be changed.
fn why(lab: LabState) -> El {
    let why = if lab.is_newer() { words::lab_file::newer_locked() } else { words::datasets::locked() };
    hint(why).attr("class", "hint locked")
}

/// Locks the fields in an element: they are reached and read, and say why they cannot be changed.
pub(crate) fn lock(lab: LabState, fields: &El) {
    let id = unique_id("locked");
    let node = fields.node();
    for field in all(node, "input").into_iter().chain(all(node, "textarea")) {
        let _ = field.set_attribute("readonly", "");
        describe(&field, &id);
    }
    for menu in all(node, "select") {
        // The browser has no menus that can only be read: nothing else is left to choose.
        for option in all(&menu, "option") {
            if !option.has_attribute("selected") {
                option.remove();
            }
        }
        let _ = menu.set_attribute("aria-readonly", "true");
        describe(&menu, &id);
    }
    for button in all(node, "button") {
        button.remove();
    }
    // What would be worked out in a disclosure has no place to go.
    let children = node.children();
    for child in (0..children.length()).rev().filter_map(|at| children.item(at)) {
        if child.tag_name() == "DETAILS" {
            child.remove();
        }
    }
    let _ = node.prepend_with_node_1(why(lab).attr("id", &id).node());
}

pub(crate) fn describe(field: &Element, id: &str) {
    let before = field.get_attribute("aria-describedby").unwrap_or_default();
    let _ = field.set_attribute("aria-describedby", format!("{before} {id}").trim());
}

pub(crate) fn all(inside: &Element, tag: &str) -> Vec<Element> {
    let found = inside.get_elements_by_tag_name(tag);
    (0..found.length()).filter_map(|at| found.item(at)).filter_map(|one| one.dyn_into().ok()).collect()
}

/// Objects and runs.
pub(crate) fn runs(lab: LabState) -> Vec<El> {
    let names =
        lab.read_once(|lab| lab.objects().iter().map(|object| object.name.clone()).collect::<Vec<_>>());
    let objects = (!names.is_empty()).then(|| {
        el("div").with(el("h3").with(words::runs::objects())).with(
            el("ul.recorded-objects")
                .with(names.iter().map(|name| el("li").with(name.as_str())).collect::<Vec<_>>()),
        )
    });
    let table = el("table.runs.recorded-runs")
        .with(el("caption").with(words::runs::table()).with(" ").with(why(lab)))
        .with(el("thead").with(el("tr").with(runs::columns())))
        .with(el("tbody").each(move || lab.run_keys.get(), move |key| row(lab, RunId(key))));
    objects.into_iter().chain([plan::panel(lab), runs::forecasts(lab), table]).collect()
}

fn row(lab: LabState, id: RunId) -> El {
    let cells = |run: &RunEntry| {
        let carries = lab.read_once(|lab| lab.configuration_name(run.configuration));
        let mass = run.hanging_mass.map(|mass| show_number(mass.si(), DisplayUnit::GRAMS, 4));
        (run.name.clone(), carries, mass.unwrap_or_default(), run.motion.words(), readings(&run.record))
    };
    let Some((name, carries, mass, motion, readings)) = lab.run(id, cells) else { return el("tr") };
    let cell = |label: &str, content: El| el("td").attr("data-label", label).with(content);
    // A copy of recorded readings, such as a rise behind a fall, is the student's.
    let remove = lab.read_once(|lab| lab.may_remove(id)).then(|| {
        el("button.quiet")
            .with(words::runs::remove())
            .attr("aria-label", &words::runs::remove_run(&name))
            .on_click_gone("remove-run", move || lab.remove_run(id))
    });
    el("tr")
        .with(el("th").attr("scope", "row").with(name))
        .with(cell(words::runs::carries(), text(carries)))
        .with(cell(words::runs::hanging_mass(), text(mass)))
        .with(cell(words::runs::motion(), text(motion)))
        .with(cell(words::runs::readings(), readings).with(remove))
}

fn text(content: impl Content) -> El {
    el("span").with(content)
}

/// What a run is known by.
fn readings(record: &Record) -> El {
    match record {
        Record::Readings(readings) => text(runs::holds(readings)),
        Record::Stopwatch(times) => {
            let times = times.iter().map(|time| show_number(time.si(), DisplayUnit::si::<Seconds>(), 4));
            text(times.collect::<Vec<_>>().join("; "))
        }
        Record::Acceleration(a) => {
            text(a.as_ref().map(|a| measured_text(a, DisplayUnit::si::<MetersPerSecond2>())))
        }
        Record::AngularAcceleration(a) => {
            text(a.as_ref().map(|a| measured_text(a, DisplayUnit::si::<RadiansPerSecond2>())))
        }
    }
}
