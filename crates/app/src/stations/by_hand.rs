//! Runs without a logger: stopwatch times, accelerations found elsewhere.

use crate::controls::{Entry, Words, entry, hint, unique_id};
use crate::dom::{El, el, value_of};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::entry::{EntryUnit, parse_list, write};
use whorl_core::lab::{Configuration, Record, RunEntry, RunId};
use whorl_core::measured::Measured;
use whorl_core::quantity::{Quantity, Seconds};
use whorl_core::torque::Motion;
use whorl_words as words;

/// Key and words of what can be entered.
const KINDS: [(&str, Words); 3] = [
    ("stopwatch", words::runs::stopwatch_times),
    ("acceleration", words::runs::an_acceleration),
    ("angular-acceleration", words::runs::an_angular_acceleration),
];

/// The place to add such a run.
pub(super) fn add(lab: LabState) -> El {
    let kind = RwSignal::new(String::new());
    let id = unique_id("by-hand");
    let options = KINDS.map(|(key, words)| el("option").attr("value", key).with(words())).to_vec();
    let add = move || {
        let number = lab.read_once(|lab| lab.runs().len()) + 1;
        let (record, name) = kind.with_untracked(|kind| match kind.as_str() {
            "acceleration" => (Record::Acceleration(None), words::runs::acceleration_run(&number)),
            "angular-acceleration" => {
                (Record::AngularAcceleration(None), words::runs::angular_acceleration_run(&number))
            }
            _ => (Record::Stopwatch(Vec::new()), words::runs::stopwatch_run(&number)),
        });
        lab.add_runs(vec![RunEntry {
            id: RunId(0),
            name,
            configuration: Configuration::EmptyTable,
            hanging_mass: None,
            motion: Motion::Falling,
            stretch: None,
            record,
            source: None,
        }]);
    };
    el("fieldset.upload")
        .with(el("legend").with(words::runs::by_hand()))
        .with(
            el("div.choices")
                .with(
                    el("div").with(el("label").attr("for", &id).with(words::runs::you_have())).with(
                        el("select")
                            .attr("id", &id)
                            .with(options)
                            .on("change", move |event| kind.set(value_of(&event))),
                    ),
                )
                .with(el("button").with(words::runs::add_run()).on_click(add)),
        )
        .with(hint(words::runs::by_hand_hint()))
}

/// The fields of a run that was entered by hand; nothing for one from a file.
pub(super) fn fields(lab: LabState, id: RunId) -> Option<El> {
    let read =
        move |reader: fn(&Record) -> Option<(f64, f64)>| lab.run(id, |run| reader(&run.record)).flatten();
    let kind = lab.read_once(|lab| lab.run(id).map(|run| run.record.key()))?;
    match kind {
        "stopwatch" => Some(times(lab, id)),
        "acceleration" => {
            let now = move || {
                read(|record| match record {
                    Record::Acceleration(value) => pair(value.as_ref()),
                    _ => None,
                })
            };
            let set = move |entered| lab.set_record(id, Record::Acceleration(measured(entered)));
            Some(typed(lab, id, "a", EntryUnit::METERS_PER_SECOND2, now, set))
        }
        "angular-acceleration" => {
            let now = move || {
                read(|record| match record {
                    Record::AngularAcceleration(value) => pair(value.as_ref()),
                    _ => None,
                })
            };
            let set = move |entered| lab.set_record(id, Record::AngularAcceleration(measured(entered)));
            Some(typed(lab, id, "α", EntryUnit::RADIANS_PER_SECOND2, now, set))
        }
        _ => None,
    }
}

fn pair<Q: Quantity>(value: Option<&Measured<Q>>) -> Option<(f64, f64)> {
    crate::controls::pair(value)
}

fn measured<Q: Quantity>(entered: Option<(f64, f64)>) -> Option<Measured<Q>> {
    crate::controls::measured(entered)
}

fn times(lab: LabState, id: RunId) -> El {
    let note = unique_id("note");
    let wrong = RwSignal::new(String::new());
    let now = move || {
        let written = |times: &Vec<Seconds>| {
            let each = times.iter().map(|time| write(time.0, EntryUnit::SECONDS));
            each.collect::<Vec<_>>().join("; ")
        };
        lab.run(id, |run| match &run.record {
            Record::Stopwatch(times) => written(times),
            _ => String::new(),
        })
        .unwrap_or_default()
    };
    let hear = move |text: String| match parse_list(&text, EntryUnit::SECONDS) {
        Ok(times) => {
            wrong.set(String::new());
            lab.set_record(id, Record::Stopwatch(times.into_iter().map(Seconds).collect()));
        }
        Err(problem) => wrong.set(problem.to_string()),
    };
    el("span.by-hand")
        .with(
            el("span.pair")
                .with(
                    el("input.number")
                        .attr("type", "text")
                        .attr("inputmode", "decimal")
                        .attr("autocomplete", "off")
                        .attr(
                            "placeholder",
                            &[2.31, 2.28, 2.35].map(|time| words::number(time, 2)).join("; "),
                        )
                        .attr("aria-describedby", &note)
                        .live_attr("aria-label", move || {
                            Some(words::runs::stopwatch_times_of(&name(lab, id)))
                        })
                        .live_attr("aria-invalid", move || {
                            (!wrong.with(String::is_empty)).then(|| "true".to_owned())
                        })
                        .live_value(now)
                        .on_text("change", hear),
                )
                .with(el("span.unit").with("s")),
        )
        .with(el("span.problem").attr("id", &note).live_status(move || wrong.get()))
}

fn name(lab: LabState, id: RunId) -> String {
    lab.run(id, |run| run.name.clone()).unwrap_or_default()
}

fn typed(
    lab: LabState,
    id: RunId,
    symbol: &'static str,
    unit: EntryUnit,
    now: impl Fn() -> Option<(f64, f64)> + Copy + 'static,
    set: impl Fn(Option<(f64, f64)>) + Copy + 'static,
) -> El {
    let note = unique_id("note");
    let (value_wrong, u_wrong) = (RwSignal::new(String::new()), RwSignal::new(String::new()));
    let field = |first: bool, problem: RwSignal<String>, least: f64| {
        let id_of = unique_id("typed");
        let takes = Entry { id: &id_of, name: "", unit, least, problem, described_by: &note };
        let input = entry(
            &takes,
            move || now().map(|pair| if first { pair.0 } else { pair.1 }),
            move |entered| {
                let before = untrack(now);
                // The uncertainty waits until there is a value.
                set(if first {
                    entered.map(|value| (value, before.map_or(0.0, |pair| pair.1)))
                } else {
                    before.map(|pair| (pair.0, entered.unwrap_or(0.0)))
                });
            },
        );
        let called = if first { words::runs::symbol_of } else { words::runs::uncertainty_of };
        input.live_attr("aria-label", move || Some(called(&symbol, &name(lab, id))))
    };
    let wrong =
        move || Some(value_wrong.get()).filter(|text| !text.is_empty()).unwrap_or_else(|| u_wrong.get());
    el("span.by-hand")
        .with(
            el("span.pair")
                .with(field(true, value_wrong, f64::NEG_INFINITY))
                .with(el("span.u-mark").attr("aria-hidden", "true").with(format!("u({symbol}) =")))
                .with(field(false, u_wrong, 0.0))
                .with(el("span.unit").with(unit.own.symbol)),
        )
        .with(el("span.problem").attr("id", &note).live_status(wrong))
}
