//! Station 5: torque against angular acceleration; slope and intercept of each configuration.

use super::{findings, frame, friction};
use crate::controls::{
    WorkedOut, aside, budget_view, disclosure, figure_view, hint, measured_text, outcome_list, problem,
    symbol, working_view,
};
use crate::dom::{El, el, italic};
use crate::own_words::own_line;
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures::{line_residuals, torque_lines};
use whorl_core::analysis::{LineOutcome, LineOutcomes};
use whorl_core::inertia::Inertia;
use whorl_core::measured::coverage::{Probability, chi_square_tail};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_number};
use whorl_core::measured::{Combined, Measured};
use whorl_core::quantity::{KilogramMeters2, Quantity, Ratio};
use whorl_core::working::{self, Working};

fn purpose() -> El {
    el("span")
        .with("Each run is one point. Newton’s second law for the table, ")
        .with(symbol("τ", ""))
        .with(" = ")
        .with(italic("I"))
        .with(" ")
        .with(italic("α"))
        .with(" + ")
        .with(symbol("τ", "f"))
        .with(", makes the points of one configuration a straight line: its slope is the moment of inertia ")
        .with(italic("I"))
        .with(", its intercept the bearing’s friction torque ")
        .with(symbol("τ", "f"))
        .with(".")
}

/// The station.
pub(crate) fn station(lab: LabState) -> El {
    let some = move || lab.runs.with(|runs| runs.iter().any(|run| run.point.is_ok()));
    let fitted = move || lab.lines.with(|lines| lines.configurations.iter().any(|line| line.inertia.is_ok()));
    let chart = move || {
        some().then(|| {
            lab.read(|entered| {
                lab.runs.with(|runs| lab.lines.with(|lines| torque_lines(entered, runs, lines)))
            })
        })
    };
    let residuals =
        move || fitted().then(|| lab.read(|entered| lab.lines.with(|lines| line_residuals(entered, lines))));
    // One card for the empty table, then one per object.
    let keys = move || (0..).take(1 + lab.object_keys.with(Vec::len)).collect();
    let cards = el("div.cards").each(keys, move |index| one_line(lab, index as usize));
    let empty = "The graph appears with the first run that has an acceleration, a hanging mass and a measured apparatus.";
    let remark = "Residuals that bend from one end to the other point to something the line leaves out, such as friction that grows with speed.";
    frame(4, purpose())
        .with(el("p.empty").live_flag("hidden", some).with(empty))
        .with(el("div").live(move || own_line(lab).into_iter().collect()))
        .with(figure_view(380, None, chart))
        .with(findings::panel(lab))
        .with(cards)
        .with(el("section.card").live(move || together(lab)))
        .with(figure_view(220, None, residuals))
        .with(el("div").live_flag("hidden", move || !fitted()).with(aside(remark)))
}

fn one_line(lab: LabState, index: usize) -> El {
    let name = move || {
        let configuration =
            lab.lines.with(|lines| lines.configurations.get(index).map(|line| line.configuration));
        configuration.map(|it| lab.read(|lab| lab.configuration_name(it))).unwrap_or_default()
    };
    let result =
        move || lab.lines.with(|lines| lines.configurations.get(index).map(outcome).unwrap_or_default());
    let none = move || {
        lab.lines.with(|lines| lines.configurations.get(index).is_none_or(|line| line.inertia.is_err()))
    };
    let budget = move || {
        lab.lines.with(|lines| {
            let inertia = lines.configurations.get(index).and_then(|line| line.inertia.as_ref().ok());
            let inertia = inertia.map(|inertia| {
                let unit = DisplayUnit::engineering(inertia.moment_of_inertia.total.value());
                budget_view(&name(), &inertia.budget(), unit)
            });
            inertia.into_iter().collect()
        })
    };
    el("section.card").with(el("h3").live_text(name)).with(el("div").live(result)).with(
        el("div")
            .live_flag("hidden", none)
            .with(disclosure(
                "details.numbers",
                el("summary").with("Where the uncertainty comes from"),
                budget,
            ))
            .with(friction::routes(lab, index))
            .with(working_view(lab, "this line", WorkedOut::Line(index))),
    )
}

/// The steps behind a line's results.
pub(crate) fn steps(lab: LabState, index: usize) -> Vec<Working> {
    let inertia = |lines: &LineOutcomes| {
        lines.configurations.get(index).and_then(|line| line.inertia.as_ref().ok().map(working::line))
    };
    lab.lines.with(|lines| inertia(lines).unwrap_or_default())
}

fn outcome(line: &LineOutcome) -> Vec<El> {
    let found = match &line.inertia {
        Ok(inertia) => numbers(inertia),
        Err(why) => problem(&why.to_string()),
    };
    let left_out = (line.left_out > 0).then(|| {
        problem(&format!(
            "{} of its runs are not on the line; the station “Acceleration” says why",
            line.left_out
        ))
    });
    [found].into_iter().chain(left_out).collect()
}

fn numbers(inertia: &Inertia) -> El {
    let moment = &inertia.moment_of_inertia;
    let unit = DisplayUnit::engineering(moment.total.value());
    let friction = measured_text(&inertia.friction_torque.total, DisplayUnit::MILLINEWTON_METERS);
    let drawn = &inertia.line.drawn;
    let slope = show_number(drawn.slope, unit, 5);
    let textbook = show_number(drawn.slope_uncertainty, unit, 2);
    let intercept = show_number(drawn.intercept, DisplayUnit::MILLINEWTON_METERS, 4);
    outcome_list(vec![
        (
            el("span").with("moment of inertia ").with(italic("I")),
            el("span").with(measured_text(&moment.total, unit)).with(parts(moment, unit)),
        ),
        (el("span").with("95 % coverage interval"), el("span").with(interval(&moment.total, unit))),
        (el("span").with("friction torque ").with(symbol("τ", "f")), friction),
        (
            el("span").with("the line you would draw"),
            el("span").with(format!("slope {slope}, intercept {intercept}")).with(hint(format!(
                " (ordinary least squares; its textbook error {textbook} leaves out what all runs share)"
            ))),
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
        el("span").with("friction from run to run"),
        el("span").with(show_number(found.friction_scatter.0, percent, 2)).with(hint(format!(
            " of the friction torque, from how far the points of all lines lie off ({freedom} degrees of freedom)"
        ))),
    )];
    if let Some(chi_square) = found.chi_square {
        let p = chi_square_tail(chi_square, freedom as f64).map_or_else(String::new, |p| {
            if p < 1e-4 {
                " (p below 0.0001)".to_owned()
            } else {
                format!(" (p = {})", show_number(p, plain, 2))
            }
        });
        let remark = " against the scatter inside each run, as if friction never changed. Far above the degrees of freedom, it does; the line above is the size of that.";
        let value = format!("{}{p}", show_number(chi_square, plain, 4));
        rows.push((
            el("span").with("chi-square ").with(italic("χ²")),
            el("span").with(value).with(hint(remark)),
        ));
    }
    if let Some(drag) = found.drag {
        let unit = DisplayUnit::prefixed("µN·m·s", -6);
        let value = Measured::new(drag.coefficient, drag.uncertainty);
        let remark = if drag.corrected {
            " friction that grows with speed, from the bend of the runs; the points have it taken out"
        } else {
            " friction that grows with speed: the runs say too little of it to correct for it"
        };
        rows.push((
            el("span").with("drag ").with(italic("b")),
            el("span").with(value.ok().map(|value| measured_text(&value, unit))).with(hint(remark)),
        ));
    }
    vec![el("h3").with("All lines together"), outcome_list(rows)]
}

/// The two parts of an uncertainty, in words.
pub(super) fn parts<Q: Quantity>(combined: &Combined<Q>, unit: DisplayUnit) -> El {
    let random = show_number(combined.random.standard_uncertainty().si(), unit, 2);
    let shared = show_number(combined.shared.si(), unit, 2);
    hint(format!(" (scatter of the runs {random}; what all runs share {shared})"))
}

/// Ends, factor and degrees of freedom of a 95 % interval.
pub(super) fn interval(measured: &Measured<KilogramMeters2>, unit: DisplayUnit) -> String {
    let interval = measured.coverage_interval(Probability::P95);
    let k = show_number(interval.coverage_factor, DisplayUnit::si::<Ratio>(), 3);
    let freedom = measured.degrees_of_freedom().get();
    let freedom = if freedom < 1000.0 {
        format!("{} effective degrees of freedom", freedom.floor())
    } else {
        "very many degrees of freedom".to_owned()
    };
    format!("{} (k = {k}, {freedom})", show_interval(&interval, unit))
}
