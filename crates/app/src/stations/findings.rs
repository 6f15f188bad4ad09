//! What the runs tell about themselves: what seems wrong, how sure that is, and what one click can do.

use super::line::LEAST_P;
use crate::browser::seen::once_seen;
use crate::controls::{card, disclosure, scrolled};
use crate::dom::{El, el, italic, watch};
use crate::focus::{is_in_window, keep_in_window};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::rc::Rc;
use std::time::Duration;
use whorl_core::diagnosis::{Evidence, Finding, Severity, diagnose};
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_words as words;

/// Looking a lab over takes longer than a key may: it waits until nothing has changed for so long.
const REST: Duration = Duration::from_millis(400);

/// The panel.
pub(super) fn panel(lab: LabState) -> El {
    // Nothing before the runs were first looked over.
    let findings = RwSignal::new(None::<Vec<Finding>>);
    let in_view = RwSignal::new(false);
    let pending = StoredValue::new(None::<TimeoutHandle>);
    watch(move || {
        if !in_view.get() {
            return;
        }
        lab.objects.with(|_| ());
        lab.lines.with(|_| ());
        if let Some(earlier) = pending.get_value() {
            earlier.clear();
        }
        let look = move || {
            // The panel may be gone meanwhile.
            if let Some(part) = parts::findings() {
                let _ = findings.try_set(Some(untrack(|| (part.look_over)(lab))));
            }
        };
        pending.set_value(set_timeout_with_handle(look, REST).ok());
    });
    let fitted = move || lab.lines.with(|lines| lines.configurations.iter().any(|line| line.inertia.is_ok()));
    let list = move || {
        let part = parts::findings()?;
        let shown = move || {
            // What stands below is pushed down.
            if is_in_window() {
                keep_in_window();
            }
            findings.with(|found| found.as_ref().map(|found| (part.view)(lab, found)).unwrap_or_default())
        };
        in_view.set(true);
        Some(vec![el("div").live(shown)])
    };
    let place = el("div").attr("tabindex", "-1");
    let seen = {
        let (place, owner) = (place.clone(), Owner::current().unwrap_or_default());
        move || owner.with(|| parts::fill(&place, Part::Findings, Rc::new(list)))
    };
    let undo = move || {
        lab.can_undo().then(|| {
            el("p.undo")
                .with(words::line::changed())
                .with(" ")
                .with(el("button").with(words::line::undo()).on_click_gone("undo", move || lab.undo()))
        })
    };
    let card = card(el("h3").with(words::line::findings()))
        .attr("class", "card findings")
        .live_flag("hidden", move || !fitted())
        .with(el("div").attr("role", "status").live(move || undo().into_iter().collect()))
        .with(place);
    once_seen(&card, seen);
    card
}

/// What is found in the lab as it stands.
pub(crate) fn looked_over(lab: LabState) -> Vec<Finding> {
    lab.read(|entered| diagnose(entered, &lab.analysis()))
}

/// The list of what was found.
pub(crate) fn view(lab: LabState, found: &[Finding]) -> Vec<El> {
    if found.is_empty() {
        return vec![el("p.hint").with(words::line::no_findings())];
    }
    found.iter().map(|finding| one(lab, finding)).collect()
}

fn one(lab: LabState, finding: &Finding) -> El {
    let class = match finding.severity {
        Severity::Spoils => "div.finding.spoils",
        Severity::Look => "div.finding.look",
        Severity::Note => "div.finding",
    };
    let fix = finding.fix.clone().filter(|fix| lab.read_once(|lab| fix.may_change(lab)));
    let fix = fix.map(|fix| el("button").with(fix.words()).on_click(move || lab.fix(&fix)));
    let evidence = finding.evidence.clone();
    el(class)
        .with(
            el("p").with(el("strong").with(finding.severity.words()).with(": ")).with(finding.words.as_str()),
        )
        .with(el("p").with(finding.remedy.as_str()).with(" ").with(fix))
        .with((!evidence.is_empty()).then(|| {
            disclosure("details.numbers", el("summary").with(words::line::evidence()), move || {
                vec![table(&evidence)]
            })
        }))
}

fn table(evidence: &[Evidence]) -> El {
    let column = |content: El| el("th").attr("scope", "col").with(content);
    let row = |evidence: &Evidence| {
        let value = show_number(evidence.value, DisplayUnit::prefixed(evidence.unit, 0), 3);
        let freedom: Vec<String> = evidence
            .degrees_of_freedom
            .iter()
            .map(|freedom| show_number(*freedom, DisplayUnit::prefixed("", 0), 4))
            .collect();
        let p = match evidence.p {
            None => "—".to_owned(),
            Some(p) if p < LEAST_P => words::line::p_below(&words::number(LEAST_P, 4)),
            Some(p) => show_number(p, DisplayUnit::prefixed("", 0), 2),
        };
        el("tr")
            .with(el("th").attr("scope", "row").with(evidence.statistic))
            .with(el("td").with(value))
            .with(el("td").with(if freedom.is_empty() { "—".to_owned() } else { freedom.join(", ") }))
            .with(el("td").with(p))
    };
    let table = el("table")
        .with(el("caption").with(words::line::evidence_caption()))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(el("span").with(words::line::column_statistic())))
                    .with(column(el("span").with(words::line::column_value())))
                    .with(column(el("span").with(words::line::column_freedom())))
                    .with(column(italic("p"))),
            ),
        )
        .with(el("tbody").with(evidence.iter().map(row).collect::<Vec<_>>()));
    scrolled(words::line::evidence_table(), table)
}
