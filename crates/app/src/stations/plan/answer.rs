//! What a plan says.

use super::super::line::parts;
use super::Planned;
use crate::controls::{aside, budget_view, hint, outcome_list, problem, scrolled, sentence, symbol};
use crate::dom::{El, el, italic, open_details};
use whorl_core::measured::Combined;
use whorl_core::measured::shown::{DisplayUnit, show_number, show_uncertainty};
use whorl_core::plan::{
    Choice, FRICTION_SCATTER, PlanInput, PlanProblem, PlannedRun, RunCaution, Table, why_these_masses,
    write_pieces,
};
use whorl_core::quantity::{KilogramMeters2, Kilograms, MetersPerSecond, Quantity, Ratio, Seconds};
use whorl_words as words;

/// Id of what the drop height stands in, at the station “Apparatus”.
pub(in super::super) const HEIGHT_PLACE: &str = "drop-height";

const PERCENT: DisplayUnit = DisplayUnit::prefixed("%", -2);

/// What stands there while a field is wrong.
pub(super) fn mend() -> Vec<El> {
    vec![problem(words::planning::mend())]
}

/// The plan in a sentence, or what keeps it from being there.
pub(super) fn state(planned: &Planned) -> Vec<El> {
    let mut lines = Vec::new();
    if planned.needs.pieces.is_empty() {
        lines.push(problem(words::planning::pieces_wanted()));
    }
    let choice = planned.choice.as_ref().and_then(|choice| choice.as_ref().err());
    for why in planned.needs.input.as_ref().err().into_iter().chain(choice) {
        lines.push(problem(&why.to_string()));
        lines.extend(way_to(why));
    }
    if let Some((_, choice)) = planned.found() {
        lines.push(el("p").with(words::planning::planned(
            &choice.plan.empty.len(),
            &choice.plan.loaded.len(),
            &planned.needs.object,
            &percent(choice.plan.object.total.standard_uncertainty(), &choice.plan.object),
        )));
    }
    lines
}

/// Where to put it right.
fn way_to(why: &PlanProblem) -> Option<El> {
    let link = |station: &str, words: &str| el("p").with(el("a").attr("href", station).with(words));
    match why {
        PlanProblem::HeightMissing => {
            Some(el("p").with(
                el("button").with(words::planning::to_height()).on_click(|| open_details(HEIGHT_PLACE)),
            ))
        }
        PlanProblem::Apparatus(_) | PlanProblem::Travel(_) => {
            Some(link("#apparatus", words::planning::to_apparatus()))
        }
        PlanProblem::Shape(_) => Some(link("#comparison", words::planning::to_comparison())),
        _ => None,
    }
}

/// The masses to hang, for each table.
pub(super) fn tables(planned: &Planned, _: &PlanInput, choice: &Choice) -> Vec<El> {
    let table = |name: &str, runs: &[PlannedRun]| {
        let head = [
            words::planning::column_hang(),
            words::planning::column_made_of(),
            "a",
            words::planning::column_scatter(),
            words::planning::column_fall(),
            words::planning::column_speed(),
            words::planning::column_spokes(),
        ];
        let head: Vec<El> = head.into_iter().map(|words| el("th").attr("scope", "col").with(words)).collect();
        let body: Vec<El> = runs.iter().map(|run| row(planned, run)).collect();
        let table = el("table.masses")
            .with(el("caption").with(words::planning::masses(&name)))
            .with(el("thead").with(el("tr").with(head)))
            .with(el("tbody").with(body));
        scrolled(&words::planning::masses_table(&name), table)
    };
    vec![
        table(words::chain::empty_table(), &choice.plan.empty),
        table(&words::planning::with_object(&planned.needs.object), &choice.plan.loaded),
    ]
}

fn row(planned: &Planned, run: &PlannedRun) -> El {
    let cell = |text: String| el("td").with(text);
    let mass = run.mass();
    let made_of =
        planned.hung.iter().find(|hung| hung.mass == mass).map(|hung| hung.made_of(&planned.needs.pieces));
    let made_of = made_of.map(|pieces| write_pieces(&pieces)).unwrap_or_default();
    let acceleration = &run.point.acceleration;
    let u = acceleration.relative_uncertainty().unwrap_or(0.0);
    let made_of =
        if planned.needs.holder > Kilograms(0.0) { words::planning::with_holder(&made_of) } else { made_of };
    el("tr")
        .with(el("th").attr("scope", "row").with(show_number(mass.0, DisplayUnit::GRAMS, 6)))
        .with(cell(made_of))
        .with(cell(show_number(acceleration.value().0, DisplayUnit::prefixed("m/s²", 0), 3)))
        .with(cell(show_number(u, PERCENT, 2)))
        .with(cell(show_number(run.fall_time.0, DisplayUnit::si::<Seconds>(), 2)))
        .with(cell(show_number(run.final_velocity.0, DisplayUnit::si::<MetersPerSecond>(), 2)))
        .with(cell(run.edges.to_string()))
}

/// What the result will be worth, why these masses, and what to mind.
pub(super) fn expected(planned: &Planned, _: &PlanInput, choice: &Choice) -> Vec<El> {
    let plan = &choice.plan;
    let result = |name: &str, found: &Combined<KilogramMeters2>| {
        let unit = DisplayUnit::engineering(found.total.value());
        let u = found.total.standard_uncertainty();
        let about = words::planning::about(&show_number(found.total.value().si(), unit, 4));
        let of_it = words::planning::in_percent(
            &percent(u, found),
            &percent(found.random.standard_uncertainty(), found),
            &percent(found.shared, found),
        );
        let value = el("span.value").with(show_uncertainty(u.si(), unit));
        (
            symbol("u", "").with("(").with(italic("I")).with(format!("), {name}")),
            el("span.headline").with(value).with(" ").with(about).with(parts(found, unit)).with(hint(of_it)),
        )
    };
    let gain = choice.gain();
    let gained = if gain > 1.005 {
        words::planning::evenly_worse(&show_number(gain, DisplayUnit::si::<Ratio>(), 3))
    } else {
        words::planning::evenly_as_well().to_owned()
    };
    let assumed = words::planning::assumed(&show_number(FRICTION_SCATTER.0, PERCENT, 2));
    let minded = plan.cautions.iter().map(|caution| el("li").with(sentence(&caution.to_string())));
    vec![
        el("h3").with(words::planning::expected()),
        outcome_list(vec![
            result(words::chain::empty_table(), &plan.table),
            result(&planned.needs.object, &plan.object),
        ]),
        aside(&assumed),
        el("p").with(gained),
        aside(why_these_masses()),
        el("div.safety")
            .with(el("h3").with(words::planning::mind()))
            .with(el("ul").with(el("li").with(words::planning::falling())).with(minded.collect::<Vec<_>>())),
    ]
}

/// The budgets of both results.
pub(super) fn budgets(planned: &Planned, _: &PlanInput, choice: &Choice) -> Vec<El> {
    let plan = &choice.plan;
    let object = planned.needs.object.as_str();
    let both = [
        (object, &plan.object, &plan.object_budget),
        (words::chain::empty_table(), &plan.table, &plan.table_budget),
    ];
    both.into_iter()
        .flat_map(|(name, found, rows)| {
            let unit = DisplayUnit::engineering(found.total.value());
            [el("h3").with(name), budget_view(&words::planning::budget_of(&name), rows, unit)]
        })
        .collect()
}

/// The masses that were not chosen from, by table and reason.
pub(super) fn unfit(_: &Planned, _: &PlanInput, choice: &Choice) -> Vec<El> {
    let mut groups: Vec<(Table, RunCaution, Vec<Kilograms>)> = Vec::new();
    for &(table, mass, why) in &choice.unfit {
        match groups.iter_mut().find(|group| (group.0, group.1) == (table, why)) {
            Some(group) => group.2.push(mass),
            None => groups.push((table, why, vec![mass])),
        }
    }
    if groups.is_empty() {
        return vec![el("p").with(words::planning::all_suit())];
    }
    let words = groups.iter().map(|(table, why, masses)| {
        el("li").with(sentence(&words::planning::at_runs(table, &several(masses), &why.words())))
    });
    vec![el("ul.plain").with(words.collect::<Vec<_>>())]
}

/// A few masses one by one, many by their ends; they come lightest first.
fn several(masses: &[Kilograms]) -> String {
    let grams = |mass: &Kilograms| show_number(mass.0, DisplayUnit::GRAMS, 4);
    match masses {
        [first, .., last] if masses.len() > 4 => {
            words::planning::several(&masses.len(), &grams(first), &grams(last))
        }
        _ => masses.iter().map(grams).collect::<Vec<_>>().join(", "),
    }
}

/// A part of u in percent of the value.
fn percent(u: KilogramMeters2, of: &Combined<KilogramMeters2>) -> String {
    show_number(u.si() / of.total.value().si().abs(), PERCENT, 2)
}
