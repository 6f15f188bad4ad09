//! The friction torque of one configuration by every route there is.

use crate::controls::{
    Label, disclosure, hint, measured, measured_field, measured_text, pair, scrolled, symbol,
};
use crate::dom::{El, el, italic};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::friction::{FallAndRise, FrictionTorque, Route, falls_and_rises, friction_routes};
use whorl_core::lab::Configuration;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::Ratio;

const BALANCE: Label = Label {
    words: "balancing mass",
    symbol: "m",
    hint: "Optional: the hanging mass with which the table, once pushed, turns on at an even speed.",
    unit: EntryUnit::GRAMS,
};

/// The routes of the configuration whose line stands at `index`, behind a disclosure.
pub(super) fn routes(lab: LabState, index: usize) -> El {
    let configuration = move || configuration(lab, index);
    let balance = measured_field(
        BALANCE,
        move || lab.read(|lab| pair(lab.balancing_mass(configuration()).as_ref())),
        move |entered| lab.set_balancing_mass(untrack(configuration), measured(entered)),
    );
    let found = move || {
        Some(vec![el("div").live(move || match parts::details() {
            Some(part) => (part.friction)(lab, index),
            None => Vec::new(),
        })])
    };
    disclosure("details.numbers", el("summary").with("Friction by other routes"), move || {
        vec![
            el("p.hint").with("Three ways to one number. A run marked “coasting” at the station “Runs” tells it from how the table slows down by itself while the string is slack; one marked “rising again” puts a second point of the same run on the line."),
            el("div.fields").with(balance.clone()),
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
        .with(el("caption").with("Friction torque by each route"))
        .with(
            el("thead").with(
                el("tr")
                    .with(column("Route"))
                    .with(el("th").attr("scope", "col").with(symbol("τ", "f")))
                    .with(column("From the intercept")),
            ),
        )
        .with(el("tbody").with(rows));
    scrolled(&format!("Table: friction torque of {name} by each route"), table)
}

fn row(found: &FrictionTorque) -> El {
    let words = match found.route {
        Route::CoastDown(1) => format!("{}, 1 run", found.route.words()),
        Route::CoastDown(count) => format!("{}, {count} runs", found.route.words()),
        route => route.words().to_owned(),
    };
    let difference = match found.from_intercept {
        Some(z) => {
            let verdict = if z.abs() > 2.0 { "apart" } else { "agrees" };
            format!("{} u, {verdict}", show_number(z, DisplayUnit::si::<Ratio>(), 2))
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
        .with(format!("{name}, down and up: "))
        .with(italic("I"))
        .with(" = ")
        .with(measured_text(&pair.moment_of_inertia, unit))
        .with(", ")
        .with(symbol("τ", "f"))
        .with(" = ")
        .with(measured_text(&pair.friction_torque, DisplayUnit::MILLINEWTON_METERS))
        .with(hint(" from this one run’s readings alone"))
}
