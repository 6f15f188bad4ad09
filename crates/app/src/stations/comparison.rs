//! Station 7: what the object's shape predicts, and whether the two agree.

mod parts;

use super::frame;
use super::working::{worked, working};
use crate::controls::{card, figure_view, hint_behind, measured_text, outcome_list, problem};
use crate::dom::{El, el, italic};
use crate::parts as program;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures;
use whorl_core::analysis::ObjectOutcome;
use whorl_core::comparison::{Comparison, Verdict};
use whorl_core::lab::{Configuration, ObjectId};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_number};
use whorl_core::quantity::Ratio;
use whorl_core::working::Subject;
use whorl_words as words;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let none = move || lab.object_keys.with(Vec::is_empty);
    let chart = move || {
        let figure =
            lab.read_listed(|entered| lab.objects.with(|objects| figures::comparison(entered, objects)));
        figure.has_data().then_some(figure)
    };
    // A row for each object.
    let height = move || 130 + 44 * u32::try_from(lab.object_keys.with(Vec::len)).unwrap_or(1);
    frame(lab, 6, words::comparison::purpose())
        .with(el("p.empty").live_flag("hidden", move || !none()).with(words::comparison::none()))
        .with(el("div").live(move || {
            let height = height();
            vec![untrack(|| figure_view(height, None, chart))]
        }))
        .with(
            el("div.cards")
                .each(move || lab.object_keys.get(), move |key| one_comparison(lab, ObjectId(key))),
        )
}

fn one_comparison(lab: LabState, id: ObjectId) -> El {
    let name = move || lab.read_listed(|lab| lab.configuration_name(Configuration::Loaded(id)));
    let result = move || lab.object_outcome(id, |outcome| results(lab, outcome)).unwrap_or_default();
    let none = move || lab.object_outcome(id, |object| object.predicted.is_err()).unwrap_or(true);
    let subject = move || Some(Subject::Comparison(id));
    card(el("h3").live_text(name)).with(parts::parts(lab, id)).with(el("div").live(result)).with(
        el("div").live_flag("hidden", none).with(working(
            lab,
            words::controls::working_of_comparison(),
            subject,
        )),
    )
}

fn results(lab: LabState, outcome: &ObjectOutcome) -> Vec<El> {
    let moment = |value: &whorl_core::measured::Measured<_>| {
        worked(measured_text(value, DisplayUnit::engineering(value.value())))
    };
    let predicted = match &outcome.predicted {
        Ok(prediction) => moment(&prediction.moment_of_inertia),
        Err(why) => problem(&why.to_string()),
    };
    let measured = match &outcome.measured {
        Ok(found) => moment(&found.moment_of_inertia.total),
        Err(why) => problem(&why.to_string()),
    };
    let mut rows = vec![
        (el("span").with(words::comparison::measured()), measured),
        (el("span").with(words::comparison::predicted()), predicted),
    ];
    match &outcome.comparison {
        None => vec![outcome_list(rows)],
        Some(Err(why)) => vec![outcome_list(rows), problem(&why.to_string())],
        Some(Ok(comparison)) => {
            rows.extend(differences(comparison));
            let verdict = match program::of_assigned(lab) {
                Some(part) => (part.verdict)(lab, comparison),
                None => verdict(comparison.verdict),
            };
            vec![outcome_list(rows), verdict]
        }
    }
}

fn differences(comparison: &Comparison) -> Vec<(El, El)> {
    let unit = DisplayUnit::engineering(comparison.predicted.value());
    let interval = hint_behind(&words::comparison::interval(&show_interval(&comparison.interval, unit)));
    let mut rows = vec![(
        el("span").with(words::comparison::difference()).with(" ").with(italic("D")),
        el("span").with(worked(measured_text(&comparison.difference, unit))).with(interval),
    )];
    if let Some(percent) = &comparison.percent_difference {
        rows.push((
            el("span").with(words::comparison::percent_difference()),
            worked(measured_text(percent, DisplayUnit::prefixed("%", 0))),
        ));
    }
    if let Some(z) = comparison.in_standard_uncertainties {
        let z = show_number(z, DisplayUnit::si::<Ratio>(), 2);
        rows.push((el("span").with(words::comparison::in_uncertainties()), el("span").with(z)));
    }
    rows
}

/// What the numbers allow one to say.
pub(crate) fn verdict(verdict: Verdict) -> El {
    let (mark, class) = match verdict {
        Verdict::Agree => (words::comparison::agree(), "verdict agree"),
        Verdict::AgreeWeakly => (words::comparison::agree_weakly(), "verdict weak"),
        Verdict::Differ => (words::comparison::differ(), "verdict differ"),
        Verdict::Undecided => (words::comparison::undecided(), "verdict weak"),
    };
    el("p").attr("class", class).with(el("strong").with(mark)).with(" ").with(verdict.words())
}
