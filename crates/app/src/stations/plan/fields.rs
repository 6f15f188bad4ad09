//! What a plan asks for.

use super::super::apparatus::{plain_field, whole};
use crate::controls::{Entry, Words, entry, hint, unique_id};
use crate::dom::{El, el};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::PlanEntry;
use whorl_core::plan::{FEWEST_RUNS, MOST_RUNS, USUAL_RUNS, parse_pieces, write_pieces};
use whorl_core::quantity::{KilogramMeters2, Kilograms, NewtonMeters, Quantity};
use whorl_words as words;

/// A number of the plan.
struct Field {
    words: Words,
    symbol: &'static str,
    hint: fn() -> String,
    unit: EntryUnit,
    get: fn(&PlanEntry) -> Option<f64>,
    /// Takes the number over; false when it cannot be one.
    set: fn(&mut PlanEntry, Option<f64>) -> bool,
}

const FIELDS: [Field; 5] = [
    Field {
        words: words::planning::holder,
        symbol: "",
        hint: || words::planning::holder_hint().to_owned(),
        unit: EntryUnit::GRAMS,
        get: |plan| plan.holder.map(Quantity::si),
        set: |plan, entered| {
            plan.holder = entered.map(Kilograms);
            true
        },
    },
    Field {
        words: words::planning::runs,
        symbol: "",
        hint: || words::planning::runs_hint(&FEWEST_RUNS, &MOST_RUNS, &USUAL_RUNS),
        unit: EntryUnit::plain(""),
        get: |plan| plan.runs.map(|runs| f64::from(runs.get())),
        set: |plan, entered| {
            plan.runs =
                whole(entered).filter(|runs| (FEWEST_RUNS..=MOST_RUNS).contains(&(runs.get() as usize)));
            plan.runs.is_some() || entered.is_none()
        },
    },
    Field {
        words: words::planning::table_inertia,
        symbol: "I",
        hint: || words::planning::table_inertia_hint(&words::number(14.4, 1)),
        unit: EntryUnit::GRAM_METERS2,
        get: |plan| plan.table_inertia.map(Quantity::si),
        set: |plan, entered| {
            plan.table_inertia = entered.map(KilogramMeters2);
            true
        },
    },
    Field {
        words: words::planning::friction_empty,
        symbol: "",
        hint: || words::planning::friction_empty_hint().to_owned(),
        unit: EntryUnit::MILLINEWTON_METERS,
        get: |plan| plan.friction_empty.map(Quantity::si),
        set: |plan, entered| {
            plan.friction_empty = entered.map(NewtonMeters);
            true
        },
    },
    Field {
        words: words::planning::friction_loaded,
        symbol: "",
        hint: || words::planning::friction_loaded_hint().to_owned(),
        unit: EntryUnit::MILLINEWTON_METERS,
        get: |plan| plan.friction_loaded.map(Quantity::si),
        set: |plan, entered| {
            plan.friction_loaded = entered.map(NewtonMeters);
            true
        },
    },
];

/// The fields, and where each says what is wrong with it.
pub(super) fn fields(lab: LabState) -> (El, Vec<RwSignal<String>>) {
    let mut wrong = vec![RwSignal::new(String::new())];
    let mut all = el("div.fields").with(pieces(lab, wrong.first().copied().unwrap_or_default()));
    for field in &FIELDS {
        let problem = RwSignal::new(String::new());
        wrong.push(problem);
        all = all.with(number(lab, field, problem));
    }
    (all, wrong)
}

fn number(lab: LabState, field: &'static Field, problem: RwSignal<String>) -> El {
    let (id, note) = (unique_id("plan"), unique_id("note"));
    let takes = Entry { id: &id, name: "", unit: field.unit, least: 0.0, problem, described_by: &note };
    let input = entry(
        &takes,
        move || lab.read(|lab| (field.get)(&lab.plan)),
        move |entered| {
            let mut taken = true;
            lab.set_plan(|plan| taken = (field.set)(plan, entered));
            if !taken {
                problem.set(words::planning::runs_wanted(&FEWEST_RUNS, &MOST_RUNS));
            }
        },
    );
    let remark = hint((field.hint)());
    plain_field((field.words)(), field.symbol, field.unit.own.symbol, remark, input, &note, problem)
}

fn pieces(lab: LabState, problem: RwSignal<String>) -> El {
    let (id, note) = (unique_id("pieces"), unique_id("note"));
    let hear = move |text: String| {
        let parsed = parse_pieces(&text);
        problem.set(parsed.as_ref().err().map(ToString::to_string).unwrap_or_default());
        lab.set_plan(|plan| plan.pieces = parsed.unwrap_or_default());
    };
    let input = el("input")
        .attr("id", &id)
        .attr("type", "text")
        .attr("size", "34")
        .attr("autocomplete", "off")
        .attr("spellcheck", "false")
        .attr("aria-describedby", &note)
        .attr("value", &lab.read_once(|lab| write_pieces(&lab.plan.pieces)))
        .live_attr("aria-invalid", move || (!problem.with(String::is_empty)).then(|| "true".to_owned()))
        .on_text("input", hear);
    let remark = hint(words::planning::pieces_hint());
    plain_field(words::planning::pieces(), "", "", remark, input, &note, problem)
}
