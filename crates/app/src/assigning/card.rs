//! What students see of work that was set: the card above the stations, what is given, what counts as agreement.
//!
//! Stations that are not part of the work are hidden by the style sheet (`later/assigning.css`), which knows them from
//! the card's classes; so the path, the numbers and the next step follow.

use super::fields;
use crate::controls::{hint, outcome_list, problem, unique_id};
use crate::dom::{El, el};
use crate::state::LabState;
use crate::stations::{comparison, recorded};
use whorl_core::assignment::{self, Assignment, Source, Station};
use whorl_core::bench::Session;
use whorl_core::comparison::{Comparison, Criterion};
use whorl_core::lab::{ApparatusField, Lab};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::plan::write_pieces;
use whorl_core::quantity::{Kilograms, Ratio};
use whorl_words as words;

/// The heading of the card.
pub(super) const HEADING: &str = "assigned-heading";

/// The card.
pub(crate) fn card(lab: LabState) -> El {
    let text = lab.read_once(|lab| lab.assignment().unwrap_or_default().to_owned());
    let assignment = match assignment::open(&text) {
        Ok(assignment) => assignment,
        Err(why) => return el("section.assigned").with(problem(&why.to_string())),
    };
    let mut classes = "assigned".to_owned();
    for station in Station::ALL.into_iter().filter(|station| !assignment.stations.contains(station)) {
        classes = classes + " without-" + station.key();
    }
    let instructions = (!assignment.instructions.is_empty())
        .then(|| el("p.instructions").with(assignment.instructions.as_str()));
    el("section")
        .attr("class", &classes)
        .attr("aria-labelledby", HEADING)
        .with(
            el("h2")
                .attr("id", HEADING)
                .attr("tabindex", "-1")
                .with(words::assigning::card(&assignment.title)),
        )
        .with(instructions)
        .with(outcome_list(rows(&assignment)))
        .with(bench(lab, &assignment))
}

fn rows(assignment: &Assignment) -> Vec<(El, El)> {
    let list = |items: Vec<String>| {
        el("ul").with(items.iter().map(|item| el("li").with(item.as_str())).collect::<Vec<_>>())
    };
    let mut rows = Vec::new();
    let given: Vec<String> = assignment
        .given
        .fields()
        .filter_map(|field| Some(given(field, assignment.given.value(field)?)))
        .collect();
    if !given.is_empty() {
        rows.push((el("span").with(words::assigning::work_given()), list(given)));
    }
    if !assignment.measure.is_empty() {
        let measured = assignment.measure.iter().map(|field| fields::of(*field).0.to_owned()).collect();
        rows.push((el("span").with(words::assigning::to_measure()), list(measured)));
    }
    if !assignment.pieces_kg.is_empty() {
        let pieces: Vec<Kilograms> = assignment.pieces_kg.iter().copied().map(Kilograms).collect();
        rows.push((
            el("span").with(words::assigning::masses_given()),
            el("span").with(write_pieces(&pieces)),
        ));
    }
    if assignment.stations.contains(&Station::Comparison) {
        let criterion = match assignment.agreement {
            Criterion::Interval => words::assigning::interval().to_owned(),
            Criterion::NormalizedError => words::assigning::normalized_error().to_owned(),
            Criterion::Percent(most) => words::assigning::criterion_percent(&percent(most)),
        };
        rows.push((el("span").with(words::assigning::criterion()), el("span").with(criterion)));
    }
    rows
}

/// An entry with value and standard uncertainty, as they were given.
fn given(field: ApparatusField, (value, u): (f64, f64)) -> String {
    let (name, _, unit) = fields::of(field);
    let value = fields::written(value, unit);
    let told =
        if field.has_u() { words::assigning::with_u(&value, &fields::written(u, unit)) } else { value };
    format!("{name}: {told}")
}

fn percent(most: f64) -> String {
    show_number(most, DisplayUnit::prefixed("%", 0), 3)
}

fn bench(lab: LabState, assignment: &Assignment) -> Option<El> {
    let Source::Bench { .. } = assignment.readings else { return None };
    let session = lab.read_once(|lab| Session::from_text(lab.bench.as_deref()?).ok())?;
    Some(hint(words::assigning::bench_begun(&session.bench().seed().code())))
}

/// Locks the entries of the apparatus that are given: they are reached and read, and say why they cannot be changed.
/// `entries` holds a field for each entry, in the order of [`ApparatusField::ALL`].
pub(crate) fn lock(lab: LabState, entries: &El) {
    let Ok(found) = entries.node().query_selector_all(".field") else { return };
    for (index, field) in (0..).zip(ApparatusField::ALL) {
        if !lab.read_once(|lab| lab.is_given(field)) {
            continue;
        }
        let Some(place) = found.get(index) else { continue };
        let place: web_sys::Element = wasm_bindgen::JsCast::unchecked_into(place);
        let id = unique_id("given");
        for input in recorded::all(&place, "input") {
            let _ = input.set_attribute("readonly", "");
            recorded::describe(&input, &id);
        }
        let why = hint(words::assigning::is_given()).attr("class", "hint locked").attr("id", &id);
        let _ = place.append_child(why.node());
    }
    // Nothing is left for the finder of gravity to find.
    if lab.read_once(|lab| lab.is_given(ApparatusField::Gravity))
        && let Some(finder) = entries.node().last_element_child()
    {
        finder.remove();
    }
}

/// What may be claimed by what the instructor counts as agreement.
pub(crate) fn verdict(lab: LabState, found: &Comparison) -> El {
    let criterion = lab.read_once(Lab::criterion);
    let Some(judgement) = criterion.judge(found).filter(|_| criterion != Criterion::Interval) else {
        return comparison::verdict(found.verdict);
    };
    let number = show_number(judgement.found, DisplayUnit::si::<Ratio>(), 3);
    let told = match criterion {
        Criterion::Percent(most) => {
            words::assigning::judged_percent(&percent(judgement.found), &percent(most))
        }
        _ => words::assigning::judged_error(&number),
    };
    let (mark, class) = if judgement.agrees() {
        (words::comparison::agree(), "verdict agree")
    } else {
        (words::comparison::differ(), "verdict differ")
    };
    el("p").attr("class", class).with(el("strong").with(mark)).with(" ").with(told)
}
