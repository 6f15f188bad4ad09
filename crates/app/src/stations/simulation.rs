//! The intervals checked by simulation: distributions propagated in a second thread.

use crate::browser::later;
use crate::browser::simulating::{self, Listener, Running};
use crate::controls::{aside, card, scrolled};
use crate::dom::{El, el};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::lab::{Configuration, Lab};
use whorl_core::measured::coverage::{CoverageInterval, Probability};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_uncertainty};
use whorl_core::monte_carlo::{Check, Model, Outcome, Target};
use whorl_core::quantity::KilogramMeters2;
use whorl_words as words;

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
    card(el("h3").with(words::simulation::heading()))
        .attr("class", "card simulation")
        .live_flag("hidden", none)
        .with(aside(words::simulation::explanation()))
        .with(
            el("p")
                .with(
                    el("button")
                        .with(words::simulation::simulate())
                        .live_unavailable(move || !idle())
                        .on_click(move || begin(lab, seen)),
                )
                .with(" ")
                .with(el("button").with(words::simulation::stop()).live_unavailable(idle).on_click(stop))
                .with(" ")
                .with(
                    el("progress")
                        .attr("max", "1")
                        .attr("aria-label", words::simulation::progress())
                        .live_flag("hidden", idle)
                        .live_attr("value", bar),
                )
                .with(el("span").live_text(percent)),
        )
        .with(el("p").attr("role", "status").live_text(move || seen.words.get()))
        .with(el("div").live(move || seen.shown.with(|rows| table(rows).into_iter().collect())))
}

fn begin(lab: LabState, seen: Seen) {
    seen.words.set(words::parts::loading().to_owned());
    later(async move {
        parts::load(Part::Details).await;
        match parts::details() {
            Some(part) => (part.simulate)(lab, seen),
            None => seen.words.set(words::parts::not_loaded().to_owned()),
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
            let told =
                if outcome.stable { words::simulation::trials } else { words::simulation::trials_too_few };
            let trials = told(&outcome.trials);
            // The thread that calls may not be ended from within its own call.
            set_timeout(move || end(trials), std::time::Duration::ZERO);
        }),
        failed: Box::new(move |why| set_timeout(move || end(why.clone()), std::time::Duration::ZERO)),
    };
    let running = simulating::start(text, listener);
    seen.running.set_value(running);
}

fn rows(lab: &Lab, model: &Model, outcome: &Outcome) -> Vec<Row> {
    let mut rows = Vec::new();
    for ((target, first), simulated) in model.targets().into_iter().zip(&outcome.results) {
        let name = |configuration| lab.configuration_name(configuration);
        let loaded = |id| name(Configuration::Loaded(id));
        let (name, torque) = match target {
            Target::MomentOfInertia(table) => (words::simulation::moment_of_inertia(&name(table)), false),
            Target::FrictionTorque(table) => (words::simulation::friction_torque(&name(table)), true),
            Target::Object(id) => (words::simulation::alone(&loaded(id)), false),
            Target::Difference(id) => (words::simulation::difference(&loaded(id)), false),
        };
        let unit = if torque {
            DisplayUnit::MILLINEWTON_METERS
        } else {
            DisplayUnit::engineering(KilogramMeters2(first.value.abs().max(first.standard_uncertainty)))
        };
        rows.push(Row {
            name,
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
    format!("u = {}; {}", show_uncertainty(u, unit), show_interval(&interval, unit))
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
        .with(column(words::simulation::column_result()))
        .with(column(words::simulation::column_simulation()))
        .with(column(words::simulation::column_formula()))
        .with(column(words::simulation::column_verdict()));
    let table = el("table")
        .with(el("caption").with(words::simulation::caption()))
        .with(el("thead").with(head))
        .with(el("tbody").with(rows.iter().map(line).collect::<Vec<_>>()));
    Some(scrolled(words::simulation::table(), table))
}
