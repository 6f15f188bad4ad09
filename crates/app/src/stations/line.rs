//! Station 5: torque against angular acceleration; slope and intercept of each configuration.

use super::budget::budget;
use super::working::{worked, working};
use super::{findings, frame, friction};
use crate::controls::{
    FIRST, FOURTH, SECOND, THIRD, aside, card, figure_view, hint_behind, measured_text, outcome_list,
    problem, symbol, woven,
};
use crate::dom::{El, el, italic};
use crate::own_words::own_line;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures::{line_residuals, torque_lines};
use whorl_core::analysis::LineOutcome;
use whorl_core::inertia::Inertia;
use whorl_core::measured::coverage::{Probability, chi_square_tail};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_number, show_uncertainty};
use whorl_core::measured::{Combined, Measured};
use whorl_core::quantity::{KilogramMeters2, Quantity, Ratio};
use whorl_core::working::Subject;
use whorl_words as words;

/// A probability below this is not told more exactly.
pub(super) const LEAST_P: f64 = 1e-4;

fn purpose() -> El {
    let message = words::line::purpose(&FIRST, &SECOND, &THIRD, &FOURTH);
    woven("span", &message, &[symbol("τ", ""), italic("I"), italic("α"), symbol("τ", "f")])
}

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let some = move || lab.runs.with(|runs| runs.iter().any(|run| run.point.is_ok()));
    let fitted = move || lab.lines.with(|lines| lines.configurations.iter().any(|line| line.inertia.is_ok()));
    let chart = move || {
        some().then(|| {
            lab.read_listed(|entered| {
                lab.runs.with(|runs| lab.lines.with(|lines| torque_lines(entered, runs, lines)))
            })
        })
    };
    let residuals = move || {
        fitted().then(|| lab.read_listed(|entered| lab.lines.with(|lines| line_residuals(entered, lines))))
    };
    // One card for the empty table, then one per object.
    let keys = move || (0..).take(1 + lab.object_keys.with(Vec::len)).collect();
    let cards = el("div.cards").each(keys, move |index| one_line(lab, index as usize));
    frame(lab, 4, purpose())
        .with(el("p.empty").live_flag("hidden", some).with(words::line::none()))
        .with(el("div").live(move || own_line(lab).into_iter().collect()))
        .with(figure_view(380, None, chart))
        .with(el("div").live_flag("hidden", move || !some()).with(aside(words::line::points_hint())))
        .with(findings::panel(lab))
        .with(cards)
        .with(el("section.card").live(move || together(lab)))
        .with(figure_view(220, None, residuals))
        .with(el("div").live_flag("hidden", move || !fitted()).with(aside(words::line::residuals())))
}

fn one_line(lab: LabState, index: usize) -> El {
    let name = move || {
        let configuration =
            lab.lines.with(|lines| lines.configurations.get(index).map(|line| line.configuration));
        configuration.map(|it| lab.read_listed(|lab| lab.configuration_name(it))).unwrap_or_default()
    };
    let result =
        move || lab.lines.with(|lines| lines.configurations.get(index).map(outcome).unwrap_or_default());
    let subject = move || {
        lab.lines.with(|lines| lines.configurations.get(index).map(|line| Subject::Line(line.configuration)))
    };
    let none = move || {
        lab.lines.with(|lines| lines.configurations.get(index).is_none_or(|line| line.inertia.is_err()))
    };
    card(el("h3").live_text(name)).with(el("div").live(result)).with(
        el("div")
            .live_flag("hidden", none)
            .with(budget(lab, subject))
            .with(friction::routes(lab, index))
            .with(working(lab, words::controls::working_of_line(), subject)),
    )
}

fn outcome(line: &LineOutcome) -> Vec<El> {
    let found = match &line.inertia {
        Ok(inertia) => numbers(inertia),
        Err(why) => problem(&why.to_string()),
    };
    let left_out = (line.left_out > 0).then(|| problem(&words::line::left_out(&line.left_out)));
    [found].into_iter().chain(left_out).collect()
}

fn numbers(inertia: &Inertia) -> El {
    let moment = &inertia.moment_of_inertia;
    let unit = DisplayUnit::engineering(moment.total.value());
    let friction = worked(measured_text(&inertia.friction_torque.total, DisplayUnit::MILLINEWTON_METERS));
    let drawn = &inertia.line.drawn;
    let slope = show_number(drawn.slope, unit, 5);
    let textbook = show_uncertainty(drawn.slope_uncertainty, unit);
    let intercept = show_number(drawn.intercept, DisplayUnit::MILLINEWTON_METERS, 4);
    outcome_list(vec![
        (
            el("span").with(words::line::moment_of_inertia()).with(" ").with(italic("I")),
            el("span").with(worked(measured_text(&moment.total, unit))).with(parts(moment, unit)),
        ),
        (el("span").with(words::line::coverage_interval()), el("span").with(interval(&moment.total, unit))),
        (el("span").with(words::line::friction_torque()).with(" ").with(symbol("τ", "f")), friction),
        (
            el("span").with(words::line::drawn()),
            el("span")
                .with(words::line::drawn_line(&slope, &intercept))
                .with(hint_behind(&words::line::drawn_hint(&textbook))),
        ),
    ])
}

/// What is estimated from all lines together: friction from run to run, drag.
fn together(lab: LabState) -> Vec<El> {
    let found = lab.lines.with(|lines| {
        let fitted = lines.configurations.iter().any(|line| line.inertia.is_ok());
        lines.together.filter(|_| fitted)
    });
    let Some(found) = found else { return Vec::new() };
    let freedom = found.degrees_of_freedom;
    let percent = DisplayUnit::prefixed("%", -2);
    let plain = DisplayUnit::si::<Ratio>();
    let mut rows = vec![(
        el("span").with(words::line::friction_scatter()),
        el("span")
            .with(show_number(found.friction_scatter.0, percent, 2))
            .with(hint_behind(&words::line::friction_scatter_hint(&freedom))),
    )];
    if let Some(chi_square) = found.chi_square {
        let shown = show_number(chi_square, plain, 4);
        let value = match chi_square_tail(chi_square, freedom as f64) {
            Some(p) if p < LEAST_P => words::line::with_p_below(&shown, &words::number(LEAST_P, 4)),
            Some(p) => words::line::with_p(&shown, &show_number(p, plain, 2)),
            None => shown,
        };
        rows.push((
            el("span").with(words::line::chi_square()).with(" ").with(italic("χ²")),
            el("span").with(value).with(hint_behind(words::line::chi_square_hint())),
        ));
    }
    if let Some(drag) = found.drag {
        let unit = DisplayUnit::prefixed("µN·m·s", -6);
        let value = Measured::new(drag.coefficient, drag.uncertainty);
        let remark = if drag.corrected { words::line::drag_corrected() } else { words::line::drag_left() };
        rows.push((
            el("span").with(words::line::drag()).with(" ").with(italic("b")),
            el("span").with(value.ok().map(|value| measured_text(&value, unit))).with(hint_behind(remark)),
        ));
    }
    vec![el("h3").with(words::line::together()), outcome_list(rows)]
}

/// The two parts of an uncertainty, in words.
pub(super) fn parts<Q: Quantity>(combined: &Combined<Q>, unit: DisplayUnit) -> El {
    let random = show_uncertainty(combined.random.standard_uncertainty().si(), unit);
    let shared = show_uncertainty(combined.shared.si(), unit);
    hint_behind(&words::line::parts(&random, &shared))
}

/// Ends, factor and degrees of freedom of a 95 % interval.
pub(super) fn interval(measured: &Measured<KilogramMeters2>, unit: DisplayUnit) -> String {
    let interval = measured.coverage_interval(Probability::P95);
    let k = show_number(interval.coverage_factor, DisplayUnit::si::<Ratio>(), 3);
    let freedom = measured.degrees_of_freedom().get();
    let interval = show_interval(&interval, unit);
    if freedom < 1000.0 {
        words::line::interval(&interval, &k, &freedom.floor())
    } else {
        words::line::interval_many(&interval, &k)
    }
}
