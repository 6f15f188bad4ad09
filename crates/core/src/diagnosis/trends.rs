//! Drag, and friction that comes out below zero.

use super::{ALARM, Cause, Evidence, Finding, Look, Severity, number};
use crate::measured::coverage::student_t_tail;
use crate::measured::shown::{DisplayUnit, show_number};

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
        let (severity, done, remedy) = if drag.corrected {
            let remedy = "Nothing to do: the line has been corrected. A freer bearing and slower runs make the correction smaller.";
            (Severity::Note, " The line has been corrected for it.", remedy)
        } else {
            let remedy = "Use the early, slow part of the runs, lighter masses, or a freer bearing.";
            (Severity::Look, " It is not known well enough to correct the line.", remedy)
        };
        let words = ["The runs slow down as they get faster: drag of b = ", &b, ".", done].concat();
        Finding::new(Cause::Drag, severity, words, remedy)
    } else {
        let words = "The acceleration grows during the runs, as if friction became less with speed. Friction does not usually do that; a string that climbs onto its own windings, a drum that is not a cylinder, or stretches that begin too early do.".to_owned();
        let remedy = "Wind the string in one layer, side by side, and let the stretches begin when the mass is well on its way.";
        Finding::new(Cause::Quickening, Severity::Look, words, remedy)
    };
    finding.evidence.push(Evidence::test("curvature of all runs (cubic term), t", t, vec![freedom], p));
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
        let words = [
            "The friction of “",
            &name,
            "” comes out as ",
            &number(friction.value().0, "mN·m", -3, 2),
            ", below zero. Friction cannot push. If the mass of the hanger was not counted, that is what it would look like.",
        ]
        .concat();
        let remedy = "Weigh everything that hangs on the string, hanger included, and check the stretches.";
        let mut finding = Finding::new(Cause::NegativeFriction, Severity::Look, words, remedy);
        finding.evidence.push(Evidence::test("friction torque, t", t, vec![freedom], p));
        finding.configuration = Some(outcome.configuration);
        finding.runs.clone_from(&outcome.used);
        look.found.push(finding);
    }
}
