//! Sealed answers: a result is committed to, then its truth is shown.

use super::session;
use crate::controls::{hint, scrolled};
use crate::dom::{El, el};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::bench::{Commitment, Opened, SealedThing};
use whorl_core::lab::{Configuration, Lab};
use whorl_core::measured::Combined;
use whorl_core::measured::coverage::{CoverageInterval, Probability};
use whorl_core::measured::shown::{DisplayUnit, show, show_interval, show_number};
use whorl_core::quantity::{KilogramMeters2, Quantity};
use whorl_words as words;

/// What can be committed to, and what was opened.
pub(super) fn answers(lab: LabState) -> El {
    let things = session(lab).map_or(0, |session| session.bench().settings().objects.len());
    let all: Vec<SealedThing> =
        std::iter::once(SealedThing::Table).chain((0..things).map(SealedThing::Object)).collect();
    // Built anew with a run or an answer, not with every key typed elsewhere.
    let kept = Memo::new(move |_| lab.read(|lab| lab.bench.clone()));
    let buttons = move || {
        kept.track();
        all.iter().map(|thing| button(lab, *thing)).collect()
    };
    el("section.card.sealed")
        .with(el("h3").with(words::bench_view::sealed()))
        .with(hint(words::bench_view::sealed_hint()))
        .with(el("div.lab-actions").live(buttons))
        .with(el("div").attr("role", "status").live(move || {
            kept.track();
            opened(lab)
        }))
}

fn name(lab: &Lab, thing: SealedThing) -> String {
    match thing {
        SealedThing::Table => words::bench_view::table().to_owned(),
        SealedThing::Object(index) => {
            lab.objects().get(index).map(|object| object.name.clone()).unwrap_or_default()
        }
    }
}

/// The result as it stands.
fn result(lab: LabState, thing: SealedThing) -> Option<Combined<KilogramMeters2>> {
    match thing {
        SealedThing::Table => lab.lines.with(|lines| {
            lines.inertia(Configuration::EmptyTable).map(|inertia| inertia.moment_of_inertia.clone())
        }),
        SealedThing::Object(index) => {
            let id = lab.read_listed(|lab| lab.objects().get(index).map(|object| object.id))?;
            lab.object_outcome(id, |outcome| {
                outcome.measured.as_ref().ok().map(|found| found.moment_of_inertia.clone())
            })?
        }
    }
}

fn button(lab: LabState, thing: SealedThing) -> El {
    let name = lab.read_listed(|lab| name(lab, thing));
    let was_opened = session(lab)
        .is_some_and(|session| session.opened().iter().any(|opened| opened.commitment.thing() == thing));
    let Some(found) = result(lab, thing).filter(|_| !was_opened) else {
        let nothing = el("p.hint").with(words::bench_view::not_yet(&name));
        return if was_opened { nothing.attr("hidden", "") } else { nothing };
    };
    let commit = move || {
        let interval = found.total.coverage_interval(Probability::P95);
        let unit = DisplayUnit::engineering(found.total.value());
        let (value, told) = (show(&found.total, unit).value, show_interval(&interval, unit));
        let asked = window().confirm_with_message(&words::bench_view::commit_sure(&value, &told));
        if asked.unwrap_or(true) {
            commit(lab, thing, found.total.value(), &interval);
        }
    };
    el("button").attr("type", "button").with(words::bench_view::commit(&name)).on_click_gone("commit", commit)
}

fn commit(
    lab: LabState,
    thing: SealedThing,
    value: KilogramMeters2,
    interval: &CoverageInterval<KilogramMeters2>,
) {
    let Some(mut session) = session(lab) else { return };
    let commitment = Commitment::new(thing, value, (interval.low, interval.high));
    if commitment.ok().and_then(|commitment| session.commit(commitment)).is_some() {
        lab.set_bench(session.to_text());
    }
}

/// The table of what was opened, and a sentence on the last of it.
fn opened(lab: LabState) -> Vec<El> {
    let Some(session) = session(lab) else { return Vec::new() };
    let Some(last) = session.opened().last() else { return Vec::new() };
    let heads = [
        words::bench_view::thing(),
        words::bench_view::stood_by(),
        words::bench_view::interval(),
        words::bench_view::truth(),
        words::bench_view::verdict(),
    ];
    let head = heads.map(|words| el("th").attr("scope", "col").with(words));
    let row = |opened: &Opened| {
        let commitment = &opened.commitment;
        let (value, (low, high)) = (commitment.value(), commitment.interval());
        let unit = DisplayUnit::engineering(value);
        let number = |quantity: KilogramMeters2| show_number(quantity.si(), unit, 5);
        let half = KilogramMeters2(0.5 * (high.si() - low.si()));
        let interval = CoverageInterval {
            low,
            high,
            expanded_uncertainty: half,
            // Not kept, and here only for the digits: those of a standard uncertainty, about half the width.
            coverage_factor: 2.0,
            probability: Probability::P95,
        };
        el("tr")
            .with(el("th").attr("scope", "row").with(lab.read_once(|lab| name(lab, commitment.thing()))))
            .with(el("td").with(number(value)))
            .with(el("td").with(show_interval(&interval, unit)))
            .with(el("td").with(el("strong").with(number(opened.truth))))
            .with(el("td").with(opened.words()))
    };
    let table = el("table")
        .with(el("caption").with(words::bench_view::caption()))
        .with(el("thead").with(el("tr").with(head.to_vec())))
        .with(el("tbody").with(session.opened().iter().map(row).collect::<Vec<_>>()));
    let remark =
        if last.caught { words::bench_view::caught_hint() } else { words::bench_view::missed_hint() };
    vec![scrolled(words::bench_view::caption(), table), hint(remark)]
}
