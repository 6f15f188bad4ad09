//! What the runs tell about themselves: what seems wrong, how sure that is, and what one click can do.

use crate::browser::seen::once_seen;
use crate::controls::{disclosure, scrolled};
use crate::dom::{El, el, italic, watch};
use crate::parts::{self, Part};
use crate::state::LabState;
use leptos::leptos_dom::helpers::TimeoutHandle;
use leptos::prelude::*;
use std::rc::Rc;
use std::time::Duration;
use whorl_core::diagnosis::{Evidence, Finding, Severity, diagnose};
use whorl_core::measured::shown::{DisplayUnit, show_number};

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
            if let Some(part) = parts::findings() {
                findings.set(Some(untrack(|| (part.look_over)(lab))));
            }
        };
        pending.set_value(set_timeout_with_handle(look, REST).ok());
    });
    let fitted = move || lab.lines.with(|lines| lines.configurations.iter().any(|line| line.inertia.is_ok()));
    let list = move || {
        let part = parts::findings()?;
        let shown = move || {
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
                .with("The lab was changed. ")
                .with(el("button").with("Undo the change").on_click(move || lab.undo()))
        })
    };
    let card = el("section.card.findings")
        .live_flag("hidden", move || !fitted())
        .with(el("h3").with("What the runs tell about themselves"))
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
        let words = "Nothing stands out: no drag, slip, exchanged labels or other trouble shows in these runs. That is no proof that there is none.";
        return vec![el("p.hint").with(words)];
    }
    found.iter().map(|finding| one(lab, finding)).collect()
}

fn one(lab: LabState, finding: &Finding) -> El {
    let class = match finding.severity {
        Severity::Spoils => "div.finding.spoils",
        Severity::Look => "div.finding.look",
        Severity::Note => "div.finding",
    };
    let fix = finding.fix.clone().map(|fix| el("button").with(fix.words()).on_click(move || lab.fix(&fix)));
    let evidence = finding.evidence.clone();
    el(class)
        .with(
            el("p").with(el("strong").with(finding.severity.words()).with(": ")).with(finding.words.as_str()),
        )
        .with(el("p").with(finding.remedy.as_str()).with(" ").with(fix))
        .with((!evidence.is_empty()).then(|| {
            disclosure("details.numbers", el("summary").with("The evidence"), move || vec![table(&evidence)])
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
            Some(p) if p < 1e-4 => "below 0.0001".to_owned(),
            Some(p) => show_number(p, DisplayUnit::prefixed("", 0), 2),
        };
        el("tr")
            .with(el("th").attr("scope", "row").with(evidence.statistic))
            .with(el("td").with(value))
            .with(el("td").with(if freedom.is_empty() { "—".to_owned() } else { freedom.join(", ") }))
            .with(el("td").with(p))
    };
    let table = el("table")
        .with(el("caption").with("How likely a number at least as extreme is where nothing is wrong: p, already corrected for how many places were looked at"))
        .with(
            el("thead").with(
                el("tr")
                    .with(column(el("span").with("Statistic")))
                    .with(column(el("span").with("Value")))
                    .with(column(el("span").with("Degrees of freedom")))
                    .with(column(italic("p"))),
            ),
        )
        .with(el("tbody").with(evidence.iter().map(row).collect::<Vec<_>>()));
    scrolled("Table: evidence of this finding", table)
}
