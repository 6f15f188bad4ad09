//! What a plan asks for.

use super::super::apparatus::{plain_field, whole};
use crate::controls::{Entry, entry, hint, unique_id};
use crate::dom::{El, el};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::PlanEntry;
use whorl_core::plan::{FEWEST_RUNS, MOST_RUNS, parse_pieces, write_pieces};
use whorl_core::quantity::{KilogramMeters2, Kilograms, NewtonMeters, Quantity};

/// A number of the plan.
struct Field {
    words: &'static str,
    symbol: &'static str,
    hint: &'static str,
    unit: EntryUnit,
    get: fn(&PlanEntry) -> Option<f64>,
    /// Takes the number over; false when it cannot be one.
    set: fn(&mut PlanEntry, Option<f64>) -> bool,
}

const FIELDS: [Field; 5] = [
    Field {
        words: "mass of the holder",
        symbol: "",
        hint: "What hangs in every run. Leave empty if you have none.",
        unit: EntryUnit::GRAMS,
        get: |plan| plan.holder.map(Quantity::si),
        set: |plan, entered| {
            plan.holder = entered.map(Kilograms);
            true
        },
    },
    Field {
        words: "runs of each table",
        symbol: "",
        hint: "From 3 to 12. Empty means 6.",
        unit: EntryUnit::plain(""),
        get: |plan| plan.runs.map(|runs| f64::from(runs.get())),
        set: |plan, entered| {
            plan.runs =
                whole(entered).filter(|runs| (FEWEST_RUNS..=MOST_RUNS).contains(&(runs.get() as usize)));
            plan.runs.is_some() || entered.is_none()
        },
    },
    Field {
        words: "guess: moment of inertia of the empty table",
        symbol: "I",
        hint: "Near enough for a disc: half its mass times its radius squared. 2 kg with a radius of 12 cm make 14.4 × 10⁻³ kg·m².",
        unit: EntryUnit::GRAM_METERS2,
        get: |plan| plan.table_inertia.map(Quantity::si),
        set: |plan, entered| {
            plan.table_inertia = entered.map(KilogramMeters2);
            true
        },
    },
    Field {
        words: "guess: friction torque, empty table",
        symbol: "",
        hint: "The mass that just keeps the table turning once pushed, times g, times the drum’s radius: 4 g on 25 mm make 1 mN·m. Empty: from the balancing mass, where you entered one.",
        unit: EntryUnit::MILLINEWTON_METERS,
        get: |plan| plan.friction_empty.map(Quantity::si),
        set: |plan, entered| {
            plan.friction_empty = entered.map(NewtonMeters);
            true
        },
    },
    Field {
        words: "guess: friction torque, loaded table",
        symbol: "",
        hint: "Often a little more. Empty: from the balancing mass, or else as with the empty table.",
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
                problem.set(format!("enter a whole number from {FEWEST_RUNS} to {MOST_RUNS}"));
            }
        },
    );
    plain_field(field.words, field.symbol, field.unit.own.symbol, hint(field.hint), input, &note, problem)
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
    let remark =
        hint("Every piece you can hang, like 20 g × 2, 50, 100 × 2, 200. Grams, unless you write kg.");
    plain_field("masses you own", "", "", remark, input, &note, problem)
}
