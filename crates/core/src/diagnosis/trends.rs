//! Drag, and friction that comes out below zero.

use super::{ALARM, Cause, Evidence, Finding, Look, Severity, number};
use crate::measured::coverage::student_t_tail;
use crate::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

/// Finds friction that grows with speed: the t test of the curvature of all runs
/// ([`crate::inertia::DragFound`]).
pub(super) fn drag(look: &mut Look<'_>) {
    let Some(drag) = look.analysis.lines.together.and_then(|together| together.drag) else { return };
    let (t, freedom) = (drag.t(), drag.degrees_of_freedom_of_t());
    let p = student_t_tail(t, freedom);
    if p >= ALARM {
        return;
    }
    let mut finding = if t > 0.0 {
        let b = show_number(drag.coefficient.0, DisplayUnit::engineering(drag.coefficient), 2);
        let (severity, words, remedy) = if drag.corrected {
            let words = words::diagnosis::drag_corrected(&b);
            (Severity::Note, words, words::diagnosis::drag_nothing_to_do())
        } else {
            let words = words::diagnosis::drag_not_corrected(&b);
            (Severity::Look, words, words::diagnosis::make_drag_smaller())
        };
        Finding::new(Cause::Drag, severity, words, remedy)
    } else {
        let words = words::diagnosis::quickening().to_owned();
        let remedy = words::diagnosis::wind_in_one_layer();
        Finding::new(Cause::Quickening, Severity::Look, words, remedy)
    };
    finding.evidence.push(Evidence::test(words::diagnosis::curvature_of_runs(), t, vec![freedom], p));
    finding.evidence.push(Evidence::plain("b", drag.coefficient.0, "N·m·s"));
    finding.evidence.push(Evidence::plain("u(b)", drag.uncertainty.0, "N·m·s"));
    look.found.push(finding);
}

/// Finds friction torques that are plainly negative.
pub(super) fn friction(look: &mut Look<'_>) {
    let count = look.analysis.lines.configurations.len() as f64;
    for outcome in &look.analysis.lines.configurations {
        let Ok(inertia) = &outcome.inertia else { continue };
        let friction = &inertia.friction_torque.total;
        let t = friction.value().0 / friction.standard_uncertainty().0;
        let freedom = friction.degrees_of_freedom().get();
        let p = student_t_tail(t, freedom) * count;
        if p >= ALARM || t > 0.0 {
            continue;
        }
        let name = look.lab.configuration_name(outcome.configuration);
        let torque = number(friction.value().0, "mN·m", -3, 2);
        let words = words::diagnosis::negative_friction(&name, &torque);
        let remedy = words::diagnosis::weigh_the_hanger();
        let mut finding = Finding::new(Cause::NegativeFriction, Severity::Look, words, remedy);
        finding.evidence.push(Evidence::test(words::diagnosis::friction_torque(), t, vec![freedom], p));
        finding.configuration = Some(outcome.configuration);
        finding.runs.clone_from(&outcome.used);
        look.found.push(finding);
    }
}
