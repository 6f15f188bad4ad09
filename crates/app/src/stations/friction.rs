//! The friction torque of one configuration by every route there is.

use crate::controls::{
    Label, disclosure, hint_behind, measured, measured_field, measured_text, pair, scrolled, symbol,
};
use crate::dom::{El, el, italic};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::{EntryUnit, Usual};
use whorl_core::friction::{FallAndRise, FrictionTorque, Route, falls_and_rises, friction_routes};
use whorl_core::lab::Configuration;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::Ratio;
use whorl_core::torque::Motion;
use whorl_words as words;

/// The routes of the configuration whose line stands at `index`, behind a disclosure.
pub(super) fn routes(lab: LabState, index: usize) -> El {
    let configuration = move || configuration(lab, index);
    let balance = measured_field(
        Label {
            usual: Some(Usual::HangingMass),
            words: words::line::balancing_mass(),
            symbol: "m",
            hint: words::line::balancing_mass_hint(),
            unit: EntryUnit::GRAMS,
        },
        move || lab.read_listed(|lab| pair(lab.balancing_mass(configuration()).as_ref())),
        move |entered| lab.set_balancing_mass(untrack(configuration), measured(entered)),
    );
    let balance = parts::as_recorded(lab, el("div").with(el("div.fields").with(balance)));
    let found = move || {
        Some(vec![el("div").live(move || match parts::details() {
            Some(part) => (part.friction)(lab, index),
            None => Vec::new(),
        })])
    };
    disclosure("details.numbers", el("summary").with(words::line::routes()), move || {
        vec![
            el("p.hint").with(words::line::routes_hint(&Motion::Coasting.words(), &Motion::Rising.words())),
            balance.clone(),
            parts::place(Part::Details, found),
        ]
    })
}

fn configuration(lab: LabState, index: usize) -> Configuration {
    lab.lines.with(|lines| {
        lines.configurations.get(index).map_or(Configuration::EmptyTable, |line| line.configuration)
    })
}

/// What the routes give.
pub(crate) fn found(lab: LabState, index: usize) -> Vec<El> {
    lab.read(|entered| {
        lab.apparatus.with(|apparatus| {
            let Ok(apparatus) = apparatus else { return Vec::new() };
            lab.runs.with(|runs| {
                lab.lines.with(|lines| {
                    let at = configuration(lab, index);
                    let name = entered.configuration_name(at);
                    let routes = friction_routes(entered, apparatus, runs, lines, at);
                    let pairs = falls_and_rises(entered, runs, at);
                    let run = |id| entered.run(id).map_or_else(String::new, |run| run.name.clone());
                    let pairs: Vec<El> =
                        pairs.iter().map(|pair| fall_and_rise(pair, &run(pair.fall))).collect();
                    vec![table(&name, &routes), el("div").with(pairs)]
                })
            })
        })
    })
}

fn table(name: &str, routes: &[FrictionTorque]) -> El {
    let column = |words: &str| el("th").attr("scope", "col").with(words);
    let rows: Vec<El> = routes.iter().map(row).collect();
    let table = el("table")
        .with(el("caption").with(words::line::routes_caption()))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(words::line::column_route()))
                    .with(el("th").attr("scope", "col").with(symbol("τ", "f")))
                    .with(column(words::line::column_difference())),
            ),
        )
        .with(el("tbody").with(rows));
    scrolled(&words::line::routes_table(&name), table)
}

fn row(found: &FrictionTorque) -> El {
    let words = match found.route {
        Route::CoastDown(count) => words::line::route_runs(&found.route.words(), &count),
        route => route.words().to_owned(),
    };
    let difference = match found.from_intercept {
        Some(z) => {
            let verdict = if z.abs() > 2.0 { words::line::apart } else { words::line::agrees };
            verdict(&show_number(z, DisplayUnit::si::<Ratio>(), 2))
        }
        None => "—".to_owned(),
    };
    el("tr")
        .with(el("th").attr("scope", "row").with(words))
        .with(el("td").with(measured_text(&found.torque.total, DisplayUnit::MILLINEWTON_METERS)))
        .with(el("td").with(difference))
}

fn fall_and_rise(pair: &FallAndRise, name: &str) -> El {
    let unit = DisplayUnit::engineering(pair.moment_of_inertia.value());
    el("p.outcome")
        .with(words::line::down_and_up(&name))
        .with(" ")
        .with(italic("I"))
        .with(" = ")
        .with(measured_text(&pair.moment_of_inertia, unit))
        .with(", ")
        .with(symbol("τ", "f"))
        .with(" = ")
        .with(measured_text(&pair.friction_torque, DisplayUnit::MILLINEWTON_METERS))
        .with(hint_behind(words::line::from_this_run()))
}
