//! Station 4: the good stretch of each run and its acceleration.

use super::frame;
use super::working::{worked, working};
use crate::controls::{
    Dragged, Entry, Words, aside, disclosure, entry, figure_view, hint, hint_behind, measured_text,
    outcome_list, problem, unique_id,
};
use crate::dom::{El, el, italic};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures::{run_residuals, velocity};
use whorl_core::acceleration::{AccelerationFit, Curve, Sampled};
use whorl_core::analysis::RunOutcome;
use whorl_core::entry::EntryUnit;
use whorl_core::lab::{RunEntry, RunId};
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show, show_number};
use whorl_core::quantity::{MetersPerSecond2, RadiansPerSecond2, Seconds};
use whorl_core::runs::{Motion, Stretch};
use whorl_core::torque::PlacedPoint;
use whorl_core::working::Subject;
use whorl_words as words;

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    // The key of the run picked; 0 before one is, since keys count from 1.
    let picked = RwSignal::new(0_u32);
    // The run that was picked, as long as it is there; else the first.
    let shown = Memo::new(move |_| {
        lab.run_keys.with(|keys| {
            let picked = picked.get();
            let shown = if keys.contains(&picked) { Some(picked) } else { keys.first().copied() };
            shown.into_iter().collect::<Vec<_>>()
        })
    });
    let none = move || lab.run_keys.with(Vec::is_empty);

    let body = el("div")
        .live_flag("hidden", none)
        .with(chooser(lab, picked, shown))
        .with(el("div").each(move || shown.get(), move |key| one_run(lab, RunId(key))))
        .with(disclosure(
            "details.numbers",
            el("summary").with(words::acceleration::all_runs()),
            move || vec![all_runs(lab)],
        ));
    frame(lab, 3, words::acceleration::purpose())
        .with(el("p.empty").live_flag("hidden", move || !none()).with(words::acceleration::none()))
        .with(body)
}

fn chooser(lab: LabState, picked: RwSignal<u32>, shown: Memo<Vec<u32>>) -> El {
    let step = move |by: isize| {
        let next = lab.run_keys.with_untracked(|keys| {
            let here = keys.iter().position(|key| shown.with_untracked(|shown| shown.contains(key)))?;
            keys.get(here.checked_add_signed(by)?).copied()
        });
        if let Some(next) = next {
            picked.set(next);
        }
    };
    let at_first = move || lab.run_keys.with(|keys| shown.with(|shown| keys.first() == shown.first()));
    let at_last = move || lab.run_keys.with(|keys| shown.with(|shown| keys.last() == shown.first()));
    let id = unique_id("run");
    let options = move || {
        let selected = shown.get().first().copied();
        let option = |run: &whorl_core::lab::RunEntry| {
            let option = el("option").attr("value", &run.id.0.to_string()).with(run.name.as_str());
            if Some(run.id.0) == selected { option.attr("selected", "") } else { option }
        };
        lab.read_listed(|lab| lab.runs().iter().map(option).collect())
    };
    el("div.run-choice")
        .with(el("label").attr("for", &id).with(words::acceleration::shown()))
        .with(
            el("select")
                .attr("id", &id)
                .live(options)
                .on_text("change", move |key| picked.set(key.parse().unwrap_or(0))),
        )
        .with(
            el("button")
                .with(words::acceleration::previous())
                .live_unavailable(at_first)
                .on_click(move || step(-1)),
        )
        .with(
            el("button")
                .with(words::acceleration::next())
                .live_unavailable(at_last)
                .on_click(move || step(1)),
        )
}

fn one_run(lab: LabState, id: RunId) -> El {
    let chart = move || {
        lab.read(|entered| {
            let setup = entered.apparatus.setup();
            let run = entered.run(id)?;
            lab.run_outcome(id, |outcome| velocity(run, &setup, outcome))
        })
    };
    let residuals = move || {
        let name = lab.run(id, |run| run.name.clone())?;
        lab.run_outcome(id, |outcome| outcome.fit.as_ref().ok().map(|fit| run_residuals(&name, fit)))
            .flatten()
    };
    let result = move || lab.run_outcome(id, results).into_iter().collect();
    let subject = move || Some(Subject::Run(id));
    let ends = move || used(lab, id);
    let dragged = Dragged {
        now: Box::new(move || untrack(ends)),
        on_change: Box::new(move |from, to| {
            let (first, last) = untrack(|| span(lab, id));
            let aim = |time| Seconds(aimed(time, last - first));
            lab.set_stretch(id, Stretch::new(aim(from), aim(to)));
        }),
    };
    el("div.one-run")
        .with(figure_view(320, Some(dragged), chart))
        .with(stretch_fields(lab, id))
        .with(el("div").live(result))
        .with(working(lab, words::controls::working_of_run(), subject))
        .with(watched(lab, id))
        .with(figure_view(200, None, residuals))
        .with(aside(words::acceleration::residuals()))
}

/// The run as it was recorded, to be watched.
fn watched(lab: LabState, id: RunId) -> El {
    disclosure("details.watched", el("summary").with(words::acceleration::watch()), move || {
        vec![parts::place(Part::Replay, move || Some((parts::replay()?.open)(lab, id)))]
    })
}

/// Ends of the stretch that is fitted, chosen or found.
fn used(lab: LabState, id: RunId) -> Option<(f64, f64)> {
    let ends = |stretch: Stretch| (stretch.from().0, stretch.to().0);
    lab.run_outcome(id, |outcome| outcome.stretch.map(ends)).flatten()
}

/// First and last time of a run.
fn span(lab: LabState, id: RunId) -> (f64, f64) {
    lab.run(id, |run| run.record.readings().map(whorl_core::readings::Readings::time_span))
        .flatten()
        .map_or((0.0, 0.0), |(Seconds(first), Seconds(last))| (first, last))
}

/// A time rounded to what a pointer can aim at: about a three-thousandth of the run.
fn aimed(seconds: f64, span: f64) -> f64 {
    let mut scale = 1.0;
    while scale * span.abs() < 3000.0 && scale < 1e9 {
        scale *= 10.0;
    }
    (seconds * scale).round() / scale
}

fn acceleration(measured: &Measured<MetersPerSecond2>) -> El {
    measured_text(measured, DisplayUnit::si::<MetersPerSecond2>())
}

/// Torque and angular acceleration of a placed run.
fn placed(placed: &PlacedPoint) -> [El; 2] {
    [
        measured_text(&placed.torque.total, DisplayUnit::MILLINEWTON_METERS),
        measured_text(&placed.angular_acceleration.total, DisplayUnit::si::<RadiansPerSecond2>()),
    ]
}

/// Words and symbol of what a run gives.
const NAMES: [(Words, &str); 3] = [
    (words::acceleration::acceleration, "a"),
    (words::acceleration::torque, "τ"),
    (words::acceleration::angular_acceleration, "α"),
];

fn results(outcome: &RunOutcome) -> El {
    let fit = match &outcome.fit {
        Ok(fit) => fit,
        Err(why) => return problem(&why.to_string()),
    };
    let scatter = show(&fit.acceleration, DisplayUnit::si::<MetersPerSecond2>()).uncertainty;
    let total = outcome.point.as_ref().map_or(&fit.acceleration, |placed| &placed.acceleration.total);
    let count = fit.residuals.len();
    let remark = hint_behind(&match scatter {
        Some(u) => words::acceleration::from_scattered_readings(&count, &u),
        None => words::acceleration::from_readings(&count),
    });
    let [a, tau, alpha] =
        NAMES.map(|(words, symbol)| el("span").with(words()).with(" ").with(italic(symbol)));
    let mut rows = vec![(a, el("span").with(worked(acceleration(total))).with(remark))];
    rows.extend(drawn(fit));
    match &outcome.point {
        Ok(point) => {
            let [torque, angular] = placed(point);
            rows.extend([(tau, worked(torque)), (alpha, worked(angular))]);
        }
        Err(why) => rows.push((tau, problem(&why.to_string()))),
    }
    outcome_list(rows)
}

/// The line a student would draw through v against t, beside the fit.
fn drawn(fit: &AccelerationFit) -> Option<(El, El)> {
    let line = fit.drawn.as_ref()?;
    let measured =
        Measured::new(MetersPerSecond2(line.slope), MetersPerSecond2(line.slope_uncertainty)).ok()?;
    let remark = match &fit.curve {
        Curve::Sampled(sampled) if sampled.quantity == Sampled::Velocity => {
            words::acceleration::drawn_independent()
        }
        _ => words::acceleration::drawn_too_large(),
    };
    Some((
        el("span").with(words::acceleration::drawn()),
        el("span").with(acceleration(&measured)).with(hint_behind(remark)),
    ))
}

/// The stretch by numbers, for keyboards and for exactness.
fn stretch_fields(lab: LabState, id: RunId) -> El {
    let note = unique_id("note");
    // Without a stretch the fields show the whole run.
    let now = move || used(lab, id).unwrap_or_else(|| span(lab, id));
    let chosen = move || lab.run(id, |run| run.stretch.is_some()).unwrap_or(false);
    let all = move || {
        let (first, last) = untrack(|| span(lab, id));
        lab.set_stretch(id, Stretch::new(Seconds(first), Seconds(last)));
    };
    let set = move |from: f64, to: f64| lab.set_stretch(id, Stretch::new(Seconds(from), Seconds(to)));
    let (from_id, to_id) = (unique_id("from"), unique_id("to"));
    let (from_wrong, to_wrong) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let takes = |id, problem| Entry {
        id,
        name: "",
        unit: EntryUnit::SECONDS,
        least: f64::NEG_INFINITY,
        problem,
        described_by: &note,
    };
    let from = entry(
        &takes(&from_id, from_wrong),
        move || Some(now().0),
        // Halfway through typing 10.5 there stands 1: ends in the wrong order wait for the rest.
        move |entered| match (entered, untrack(now).1) {
            (Some(from), to) if from < to => set(from, to),
            (Some(_), _) => from_wrong.set(words::acceleration::start_first().to_owned()),
            (None, _) => {}
        },
    );
    let to = entry(
        &takes(&to_id, to_wrong),
        move || Some(now().1),
        move |entered| match (untrack(now).0, entered) {
            (from, Some(to)) if from < to => set(from, to),
            (_, Some(_)) => to_wrong.set(words::acceleration::end_last().to_owned()),
            (_, None) => {}
        },
    );
    let field = |id: &str, words: &str, input: El| {
        el("span")
            .with(el("label").attr("for", id).with(words))
            .with(" ")
            .with(el("span.pair").with(input).with(el("span.unit").with("s")))
    };
    let wrong =
        move || Some(from_wrong.get()).filter(|wrong| !wrong.is_empty()).unwrap_or_else(|| to_wrong.get());
    el("fieldset.stretch")
        .with(el("legend").with(words::acceleration::stretch()))
        .with(field(&from_id, words::acceleration::from(), from))
        .with(field(&to_id, words::acceleration::to(), to))
        .with(
            el("button")
                .with(words::acceleration::find())
                .live_unavailable(move || !chosen())
                .on_click(move || lab.set_stretch(id, None)),
        )
        .with(el("button").with(words::acceleration::use_all()).on_click(all))
        .with(el("div").live(move || found(lab, id)))
        .with(
            el("span.note")
                .attr("id", &note)
                .with(el("span.problem").live_status(wrong))
                .with(hint(words::acceleration::stretch_hint())),
        )
}

/// What was found in the record: what to look at, other stretches, the rise after the fall.
fn found(lab: LabState, id: RunId) -> Vec<El> {
    let found = lab.run_outcome(id, |outcome| outcome.found.clone()).flatten();
    let Some(found) = found else { return Vec::new() };
    let mut lines: Vec<El> = found.doubts.iter().map(|doubt| problem(&doubt.words())).collect();
    if found.best.is_some() && found.doubts.is_empty() {
        lines.push(el("p.hint").with(words::acceleration::found()));
    }
    let take = |words: String, stretch: Stretch| {
        el("button.quiet").with(words).on_click(move || lab.set_stretch(id, Some(stretch)))
    };
    for rival in found.rivals.iter().filter(|rival| rival.motion == Motion::Falling) {
        let ends = [rival.stretch.from(), rival.stretch.to()]
            .map(|time| show_number(time.0, DisplayUnit::si::<Seconds>(), 4));
        let [from, to] = ends;
        lines.push(take(words::acceleration::use_rival(&from, &to), rival.stretch));
    }
    let falling = lab.run(id, |run| run.motion == Motion::Falling).unwrap_or(false);
    if let Some(rise) = found.rise.filter(|_| falling) {
        let add = move || {
            let copy = lab.read_once(|lab| lab.run(id).cloned());
            lab.add_runs(copy.map(|run| risen(run, rise.stretch)).into_iter().collect());
        };
        lines.push(el("button.quiet").with(words::acceleration::add_rise()).on_click(add));
    }
    lines
}

/// The same record, of which the rise is fitted.
fn risen(run: RunEntry, stretch: Stretch) -> RunEntry {
    let name = words::acceleration::rising(&run.name);
    RunEntry { name, motion: Motion::Rising, stretch: Some(stretch), ..run }
}

/// Every run's acceleration at a glance.
fn all_runs(lab: LabState) -> El {
    let head = NAMES
        .map(|(words, symbol)| el("th").attr("scope", "col").with(words()).with(" ").with(italic(symbol)));
    let row = |name: &str, outcome: &RunOutcome| {
        let row = el("tr").with(el("th").attr("scope", "row").with(name));
        match &outcome.point {
            Ok(point) => {
                let [torque, angular] = placed(point);
                let cells = [acceleration(&point.acceleration.total), torque, angular];
                let labelled = NAMES.into_iter().zip(cells).map(|((words, symbol), cell)| {
                    el("td").attr("data-label", &format!("{} {symbol}", words())).with(cell)
                });
                row.with(labelled.collect::<Vec<_>>())
            }
            Err(why) => row.with(el("td").attr("colspan", "3").with(problem(&why.to_string()))),
        }
    };
    let rows = lab.read_listed(|entered| {
        lab.runs.with(|outcomes| {
            entered
                .runs()
                .iter()
                .zip(outcomes)
                .map(|(run, outcome)| row(&run.name, outcome))
                .collect::<Vec<_>>()
        })
    });
    el("table.runs")
        .with(el("caption").with(words::acceleration::all_runs_caption()))
        .with(el("thead").with(
            el("tr").with(el("th").attr("scope", "col").with(words::acceleration::run())).with(head.to_vec()),
        ))
        .with(el("tbody").with(rows))
}
