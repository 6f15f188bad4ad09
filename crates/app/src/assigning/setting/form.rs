//! What is chosen.

use super::draft::{Agreement, Draft, Readings};
use super::{Choices, apparatus};
use crate::controls::{Entry, entry, hint, menu, unique_id};
use crate::dom::{El, el};
use crate::prelab::SHIPPED;
use crate::stations::{STATIONS, bench_composing};
use leptos::prelude::*;
use whorl_core::assignment::{LONGEST_ADDRESS, LONGEST_INSTRUCTIONS, LONGEST_TITLE, Station};
use whorl_core::entry::EntryUnit;
use whorl_words as words;

/// All of it.
pub(super) fn fieldsets(choices: Choices) -> Vec<El> {
    vec![told(choices), stations(choices), readings(choices), apparatus::fieldset(choices), judged(choices)]
}

/// A field below its name, with a remark.
pub(super) fn labelled(label: &str, field: El, remark: Option<&str>) -> El {
    let id = unique_id("set");
    let note = format!("{id}-note");
    let field = field.attr("id", &id);
    let place = el("div.wish").with(el("label").attr("for", &id).with(label));
    match remark {
        None => place.with(field),
        Some(remark) => {
            place.with(field.attr("aria-describedby", &note)).with(hint(remark).attr("id", &note))
        }
    }
}

type Reads = fn(&Draft) -> &String;
type Places = fn(&mut Draft) -> &mut String;

fn text(choices: Choices, field: El, most: usize, get: Reads, set: Places) -> El {
    field
        .attr("maxlength", &most.to_string())
        .attr("autocomplete", "off")
        .live_value(move || choices.draft.with(|draft| get(draft).clone()))
        .on_text("input", move |text| choices.draft.update(|draft| *set(draft) = text))
}

fn line() -> El {
    el("input").attr("type", "text")
}

fn told(choices: Choices) -> El {
    let title = text(choices, line(), LONGEST_TITLE, |draft| &draft.title, |draft| &mut draft.title);
    let area = el("textarea").attr("rows", "6");
    let instructions = text(
        choices,
        area,
        LONGEST_INSTRUCTIONS,
        |draft| &draft.instructions,
        |draft| &mut draft.instructions,
    );
    el("fieldset").with(el("legend").with(words::assigning::told())).with(
        el("div.list").with(labelled(words::assigning::title(), title, None)).with(labelled(
            words::assigning::instructions(),
            instructions,
            Some(words::assigning::instructions_hint()),
        )),
    )
}

fn stations(choices: Choices) -> El {
    let boxes = Station::ALL.into_iter().zip(&STATIONS).map(|(station, named)| {
        let chosen = move || choices.draft.with(|draft| draft.stations.contains(&station));
        let turn = move || {
            choices.draft.update(|draft| {
                if draft.stations.contains(&station) {
                    draft.stations.retain(|other| *other != station);
                } else {
                    draft.stations.push(station);
                    draft.stations.sort_unstable();
                }
            });
        };
        let id = unique_id("station");
        let input = el("input").attr("type", "checkbox").attr("id", &id).live_checked(chosen);
        el("label.pair").attr("for", &id).with(input.on("change", move |_| turn())).with((named.name)())
    });
    let options = || {
        let shipped = SHIPPED.iter().map(|(id, title)| ((*id).to_owned(), title().to_owned()));
        let none = (String::new(), words::assigning::no_derivation().to_owned());
        core::iter::once(none).chain(shipped).collect()
    };
    let derivation = menu(
        options,
        move || choices.draft.with(|draft| draft.derivation.clone()),
        move |id| choices.draft.update(|draft| draft.derivation = id),
    );
    el("fieldset")
        .with(el("legend").with(words::assigning::stations()))
        .with(el("div.boxes").with(boxes.collect::<Vec<_>>()))
        .with(hint(words::assigning::stations_hint()))
        .with(labelled(words::assigning::derivation(), derivation, None))
}

/// A menu of what can be told apart by its number.
pub(super) fn among<T: Copy + PartialEq + 'static, const N: usize>(
    all: [(T, &'static str); N],
    chosen: impl Fn() -> T + 'static,
    choose: impl Fn(T) + 'static,
) -> El {
    let options =
        move || (0..N).zip(all).map(|(number, (_, words))| (number.to_string(), words.to_owned())).collect();
    let number = move || {
        let chosen = chosen();
        all.iter().position(|(one, _)| *one == chosen).unwrap_or(0).to_string()
    };
    menu(options, number, move |number| {
        if let Some((one, _)) = number.parse().ok().and_then(|number: usize| all.get(number)) {
            choose(*one);
        }
    })
}

fn readings(choices: Choices) -> El {
    let chosen = Memo::new(move |_| choices.draft.with(|draft| draft.readings));
    let which = among(
        [
            (Readings::Own, words::assigning::own()),
            (Readings::Bench, words::assigning::bench()),
            (Readings::Recorded, words::assigning::recorded()),
        ],
        move || chosen.get(),
        move |readings| choices.draft.update(|draft| draft.readings = readings),
    );
    let more = move || {
        let chosen = chosen.get();
        untrack(|| match chosen {
            Readings::Own => vec![objects(choices)],
            Readings::Recorded => vec![address(choices)],
            Readings::Bench => bench(choices),
        })
    };
    el("fieldset")
        .with(el("legend").with(words::assigning::readings()))
        .with(labelled(words::assigning::readings(), which, None))
        .with(el("div.list").live(more))
}

fn objects(choices: Choices) -> El {
    let area = el("textarea").attr("rows", "3");
    let area = text(choices, area, 1_300, |draft| &draft.objects, |draft| &mut draft.objects);
    labelled(words::assigning::objects(), area, None)
}

fn address(choices: Choices) -> El {
    let field = line().attr("inputmode", "url").attr("spellcheck", "false");
    let field = text(choices, field, LONGEST_ADDRESS, |draft| &draft.address, |draft| &mut draft.address);
    labelled(words::assigning::address(), field, Some(words::assigning::address_hint()))
}

fn bench(choices: Choices) -> Vec<El> {
    let field = line().attr("spellcheck", "false").attr("autocapitalize", "characters");
    let code = text(choices, field, 12, |draft| &draft.code, |draft| &mut draft.code);
    vec![
        el("p.aside").with(words::assigning::bench_honest()),
        labelled(words::assigning::code(), code, Some(words::assigning::code_hint())),
        crate::controls::disclosure(
            "details.composed",
            el("summary").with(words::assigning::bench_choices()),
            move || bench_composing(choices.bench, RwSignal::new(0)),
        ),
    ]
}

fn judged(choices: Choices) -> El {
    let masses = text(choices, line(), 400, |draft| &draft.masses, |draft| &mut draft.masses);
    let chosen = Memo::new(move |_| choices.draft.with(|draft| draft.agreement));
    let which = among(
        [
            (Agreement::Interval, words::assigning::interval()),
            (Agreement::NormalizedError, words::assigning::normalized_error()),
            (Agreement::Percent, words::assigning::percent()),
        ],
        move || chosen.get(),
        move |agreement| choices.draft.update(|draft| draft.agreement = agreement),
    );
    let more =
        move || if chosen.get() == Agreement::Percent { vec![untrack(|| most(choices))] } else { Vec::new() };
    el("fieldset")
        .with(el("legend").with(words::assigning::judging()))
        .with(labelled(words::assigning::masses(), masses, Some(words::assigning::masses_hint())))
        .with(labelled(words::assigning::agreement(), which, None))
        .with(el("div.list").live(more))
}

fn most(choices: Choices) -> El {
    number(
        words::assigning::percent_most(),
        EntryUnit::plain("%"),
        move || choices.draft.with(|draft| draft.percent),
        move |percent| choices.draft.update(|draft| draft.percent = percent),
    )
}

/// A number below its name.
pub(super) fn number(
    label: &str,
    unit: EntryUnit,
    read: impl Fn() -> Option<f64> + 'static,
    put: impl Fn(Option<f64>) + 'static,
) -> El {
    let (id, note, problem) = (unique_id("set"), unique_id("set-note"), RwSignal::new(String::new()));
    let takes = Entry { id: &id, name: "", unit, least: 0.0, problem, described_by: &note };
    el("div.wish")
        .with(el("label").attr("for", &id).with(label))
        .with(el("span.pair").with(entry(&takes, read, put)).with(el("span.unit").with(unit.own.symbol)))
        .with(el("span.problem").attr("id", &note).live_status(move || problem.get()))
}
