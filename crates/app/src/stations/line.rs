//! Station 4: torque against angular acceleration; slope and intercept of each configuration.

use super::StationFrame;
use crate::controls::{FigureView, Note, Problem, WorkingView, measured_text};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::figures::{line_residuals, torque_lines};
use whorl_core::analysis::LineOutcome;
use whorl_core::inertia::Inertia;
use whorl_core::measured::Measured;
use whorl_core::measured::coverage::{Probability, chi_square_tail};
use whorl_core::measured::shown::{DisplayUnit, show_interval, show_number};
use whorl_core::quantity::{KilogramMeters2, Quantity, Ratio};
use whorl_core::working;

#[component]
pub(crate) fn Lines() -> impl IntoView {
    let lab = expect_context::<LabState>();
    let some = Memo::new(move |_| lab.runs.with(|runs| runs.iter().any(|run| run.point.is_ok())));
    let figure = Memo::new(move |_| {
        lab.read(|lab_now| lab.runs.with(|runs| lab.lines.with(|lines| torque_lines(lab_now, runs, lines))))
    });
    let residuals = Memo::new(move |_| lab.read(|lab_now| lab.lines.with(|lines| line_residuals(lab_now, lines))));
    let fitted = Memo::new(move |_| lab.lines.with(|lines| lines.iter().any(|line| line.inertia.is_ok())));
    let count = Memo::new(move |_| lab.lines.with(Vec::len));
    view! {
        <StationFrame index=3 purpose="Each run is one point. Newton’s second law for the table, τ = I α + τ_f, makes the points of one configuration a straight line: its slope is the moment of inertia I, its intercept the bearing’s friction torque τ_f.">
            {move || {
                if some.get() {
                    view! { <FigureView figure=figure height=380/> }.into_any()
                } else {
                    view! { <p class="empty">"The graph appears with the first run that has an acceleration, a hanging mass and a measured apparatus."</p> }.into_any()
                }
            }}
            {move || (0..count.get()).map(|index| view! { <OneLine index=index/> }).collect_view()}
            {move || fitted.get().then(|| view! {
                <FigureView figure=residuals height=220/>
                <Note>"Residuals that bend from one end to the other point to something the line leaves out, such as friction that grows with speed."</Note>
            })}
        </StationFrame>
    }
}

#[component]
fn OneLine(index: usize) -> impl IntoView {
    let lab = expect_context::<LabState>();
    let line = Memo::new(move |_| lab.lines.with(|lines| lines.get(index).cloned()));
    let name = Memo::new(move |_| {
        line.with(|line| line.as_ref().map(|line| lab.read(|lab| lab.configuration_name(line.configuration))))
            .unwrap_or_default()
    });
    let steps = Signal::derive(move || {
        line.with(|line| line.as_ref().and_then(|line| line.inertia.as_ref().ok().map(working::line)).unwrap_or_default())
    });
    view! {
        <section class="card">
            <h3>{name}</h3>
            {move || line.with(|line| line.as_ref().map(outcome))}
            {move || line.with(|line| line.as_ref().is_some_and(|line| line.inertia.is_ok())).then(|| view! {
                <WorkingView of=name.get() steps=steps/>
            })}
        </section>
    }
}

fn outcome(line: &LineOutcome) -> AnyView {
    let left_out = (line.left_out > 0).then(|| {
        let text = format!("{} of its runs are not on the line; the station “Acceleration” says why", line.left_out);
        view! { <Problem text=text/> }
    });
    match &line.inertia {
        Ok(inertia) => view! { {numbers(inertia)} {left_out} }.into_any(),
        Err(problem) => view! { <Problem text=problem.to_string()/> {left_out} }.into_any(),
    }
}

fn numbers(inertia: &Inertia) -> AnyView {
    let total = &inertia.moment_of_inertia.total;
    let unit = DisplayUnit::engineering(total.value());
    let friction = measured_text(&inertia.friction_torque.total, DisplayUnit::MILLINEWTON_METERS);
    let fit = &inertia.line.fit;
    let degrees_of_freedom = fit.degrees_of_freedom;
    let scatter = show_number(fit.residual_standard_deviation, DisplayUnit::prefixed("µN·m", -6), 3);
    let correlation = show_number(
        fit.covariance / (fit.slope_uncertainty * fit.intercept_uncertainty),
        DisplayUnit::si::<Ratio>(),
        3,
    );
    let chi_square = inertia.line.chi_square.map(|chi_square| {
        let p = chi_square_tail(chi_square, degrees_of_freedom as f64).map(|p| {
            if p < 1e-4 { "p below 0.0001".to_owned() } else { format!("p = {}", show_number(p, DisplayUnit::si::<Ratio>(), 2)) }
        });
        let value = show_number(chi_square, DisplayUnit::si::<Ratio>(), 4);
        view! {
            <div>
                <dt>"chi-square " <i>"χ²"</i></dt>
                <dd>
                    {value} {p.map(|p| format!(" ({p})"))}
                    <span class="hint">" against the scatter inside each run. Far above the degrees of freedom: something varies from run to run, usually friction. The line’s own scatter covers that."</span>
                </dd>
            </div>
        }
    });
    view! {
        <dl class="outcomes">
            <div><dt>"moment of inertia " <i>"I"</i></dt><dd>{measured_text(total, unit)} {parts(&inertia.moment_of_inertia, unit)}</dd></div>
            <div><dt>"95 % coverage interval"</dt><dd>{interval(total, unit)}</dd></div>
            <div><dt>"friction torque " <i>"τ"</i><sub>"f"</sub></dt><dd>{friction}</dd></div>
            <div><dt>"scatter about the line"</dt><dd>{scatter} {format!(" with {degrees_of_freedom} degrees of freedom; correlation of slope and intercept {correlation}")}</dd></div>
            {chi_square}
        </dl>
    }
    .into_any()
}

/// The two parts of an uncertainty, in words.
pub(super) fn parts<Q: Quantity>(
    combined: &whorl_core::measured::Combined<Q>,
    unit: DisplayUnit,
) -> AnyView {
    let random = show_number(combined.random.standard_uncertainty().si(), unit, 2);
    let shared = show_number(combined.shared.si(), unit, 2);
    view! { <span class="hint">{format!(" (scatter of the runs {random}; what all runs share {shared})")}</span> }.into_any()
}

/// Ends, factor and degrees of freedom of a 95 % interval.
pub(super) fn interval(measured: &Measured<KilogramMeters2>, unit: DisplayUnit) -> String {
    let interval = measured.coverage_interval(Probability::P95);
    let k = show_number(interval.coverage_factor, DisplayUnit::si::<Ratio>(), 3);
    let degrees_of_freedom = measured.degrees_of_freedom().get();
    let freedom = if degrees_of_freedom < 1000.0 {
        format!("{} effective degrees of freedom", degrees_of_freedom.floor())
    } else {
        "very many degrees of freedom".to_owned()
    };
    format!("{} (k = {k}, {freedom})", show_interval(&interval, unit))
}
