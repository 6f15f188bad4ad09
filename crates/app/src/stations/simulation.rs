//! The intervals checked by simulation: distributions propagated in a second thread.

use crate::browser::later;
use crate::browser::simulating::{self, Listener, Running};
use crate::controls::{aside, scrolled};
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::lab::{Configuration, Lab};
use whorl_core::measured::coverage::{CoverageInterval, Probability};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_number};
use whorl_core::monte_carlo::{Check, Model, Outcome, Target};
use whorl_core::quantity::KilogramMeters2;

/// What is to be seen of a simulation.
#[derive(Clone, Copy)]
pub(crate) struct Seen {
    /// Part of the work that is done; `None` while nothing runs.
    share: RwSignal<Option<f64>>,
    /// What came of it, ready to be shown, or why nothing did.
    shown: RwSignal<Vec<Row>>,
    words: RwSignal<String>,
    running: StoredValue<Option<Running>, LocalStorage>,
}

/// One result of both ways.
#[derive(Clone, PartialEq)]
struct Row {
    name: String,
    simulated: String,
    first: String,
    verdict: &'static str,
}

/// The panel.
pub(super) fn panel(lab: LabState) -> El {
    let seen = Seen {
        share: RwSignal::new(None),
        shown: RwSignal::new(Vec::new()),
        words: RwSignal::new(String::new()),
        running: StoredValue::new_local(None),
    };
    let none = move || lab.lines.with(|lines| lines.configurations.iter().all(|line| line.inertia.is_err()));
    let stop = move || {
        seen.running.set_value(None);
        seen.share.set(None);
    };
    // What was simulated is another lab's once something changes.
    crate::dom::watch(move || {
        lab.objects.with(|_| ());
        lab.lines.with(|_| ());
        stop();
        seen.shown.set(Vec::new());
        seen.words.set(String::new());
    });
    let idle = move || seen.share.with(Option::is_none);
    let bar = move || {
        let share = seen.share.get().unwrap_or(0.0);
        Some(format!("{:.3}", share.clamp(0.0, 1.0)))
    };
    let percent = move || {
        seen.share.get().map_or_else(String::new, |share| format!("{:.0}\u{202f}%", 100.0 * share.min(1.0)))
    };
    let explanation = "Each trial draws every input anew, as often as its uncertainty says, sends it through the whole chain, and the spread of a hundred thousand results or more shows whether the formulas for u were good enough (JCGM 101:2008).";
    el("section.card.simulation")
        .live_flag("hidden", none)
        .with(el("h3").with("The intervals, checked by simulation"))
        .with(aside(explanation))
        .with(
            el("p")
                .with(
                    el("button")
                        .with("Simulate")
                        .live_flag("disabled", move || !idle())
                        .on_click(move || begin(lab, seen)),
                )
                .with(" ")
                .with(el("button").with("Stop").live_flag("disabled", idle).on_click(stop))
                .with(" ")
                .with(
                    el("progress")
                        .attr("max", "1")
                        .attr("aria-label", "simulation")
                        .live_flag("hidden", idle)
                        .live_attr("value", bar),
                )
                .with(el("span").live_text(percent)),
        )
        .with(el("p").attr("role", "status").live_text(move || seen.words.get()))
        .with(el("div").live(move || seen.shown.with(|rows| table(rows).into_iter().collect())))
}

fn begin(lab: LabState, seen: Seen) {
    seen.words.set("Loading this part…".to_owned());
    later(async move {
        parts::load(Part::Details).await;
        match parts::details() {
            Some(part) => (part.simulate)(lab, seen),
            None => seen.words.set(parts::NOT_LOADED.to_owned()),
        }
    });
}

/// Sets the second thread to work.
pub(crate) fn start(lab: LabState, seen: Seen) {
    let model = untrack(|| lab.read(|entered| Model::of(entered, &lab.analysis())));
    let model = match model {
        Ok(model) => model,
        Err(why) => {
            seen.words.set(why.to_string());
            return;
        }
    };
    seen.shown.set(Vec::new());
    seen.words.set(String::new());
    seen.share.set(Some(0.0));
    let end = move |words: String| {
        seen.words.set(words);
        seen.share.set(None);
        seen.running.set_value(None);
    };
    let text = model.to_text();
    let listener = Listener {
        progress: Box::new(move |_, share| seen.share.set(Some(share))),
        done: Box::new(move |outcome: Outcome| {
            seen.shown.set(lab.read_once(|lab| rows(lab, &model, &outcome)));
            let trials = outcome.trials;
            let stable = if outcome.stable { "" } else { "; more would be needed for two sure digits of u" };
            // The thread that calls may not be ended from within its own call.
            set_timeout(move || end(format!("{trials} trials{stable}.")), std::time::Duration::ZERO);
        }),
        failed: Box::new(move |why| set_timeout(move || end(why.clone()), std::time::Duration::ZERO)),
    };
    let running = simulating::start(text, listener);
    seen.running.set_value(running);
}

fn rows(lab: &Lab, model: &Model, outcome: &Outcome) -> Vec<Row> {
    let mut rows = Vec::new();
    for ((target, first), simulated) in model.targets().into_iter().zip(&outcome.results) {
        let (what, configuration, torque) = match target {
            Target::MomentOfInertia(configuration) => ("I", configuration, false),
            Target::FrictionTorque(configuration) => ("friction torque", configuration, true),
            Target::Object(id) => ("I alone", Configuration::Loaded(id), false),
            Target::Difference(id) => ("measured − predicted", Configuration::Loaded(id), false),
        };
        let unit = if torque {
            DisplayUnit::MILLINEWTON_METERS
        } else {
            DisplayUnit::engineering(KilogramMeters2(first.value.abs().max(first.standard_uncertainty)))
        };
        rows.push(Row {
            name: format!("{}: {what}", lab.configuration_name(configuration)),
            simulated: both(simulated.standard_uncertainty, simulated.symmetric, unit),
            first: both(first.standard_uncertainty, first.interval, unit),
            verdict: Check::new(&first, simulated).verdict.words(),
        });
    }
    rows
}

/// u and the 95 % interval; rounding is the same for every quantity.
fn both(u: f64, [low, high]: [f64; 2], unit: DisplayUnit) -> String {
    let half = 0.5 * (high - low);
    let interval = CoverageInterval {
        low: KilogramMeters2(low),
        high: KilogramMeters2(high),
        expanded_uncertainty: KilogramMeters2(half),
        coverage_factor: half / u,
        probability: Probability::P95,
    };
    format!("u = {}; {}", show_number(u, unit, 3), show_interval(&interval, unit))
}

fn table(rows: &[Row]) -> Option<El> {
    if rows.is_empty() {
        return None;
    }
    let column = |words: &str| el("th").attr("scope", "col").with(words);
    let line = |row: &Row| {
        el("tr")
            .with(el("th").attr("scope", "row").with(row.name.as_str()))
            .with(el("td").with(row.simulated.as_str()))
            .with(el("td").with(row.first.as_str()))
            .with(el("td").with(row.verdict))
    };
    let head = el("tr")
        .with(column("Result"))
        .with(column("By simulation"))
        .with(column("By formula"))
        .with(column("Verdict"));
    let table = el("table")
        .with(el("caption").with("Standard uncertainty and 95\u{202f}% interval, both ways"))
        .with(el("thead").with(head))
        .with(el("tbody").with(rows.iter().map(line).collect::<Vec<_>>()));
    Some(scrolled("Table: intervals by simulation and by formula", table))
}
