//! Before a run: what its graph will do, and afterwards what it did.

use crate::controls::{
    aside, card, figure_view, hint, measured_text, menu, outcome_list, problem, unique_id,
};
use crate::dom::{El, el};
use crate::focus::{focus, keep_in_window};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_charts::Figure;
use whorl_charts::figures::compared;
use whorl_core::entry::{EntryUnit, parse};
use whorl_core::forecast::{self, About, Forecast, Observed, Slope};
use whorl_core::lab::RunId;
use whorl_core::measured::Measured;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{MetersPerSecond2, Ratio};
use whorl_words as words;

/// Height of the chart, CSS pixels.
const HEIGHT: u32 = 260;

/// What the menu of runs knows the next one by.
const NEXT: &str = "next";

/// What was said so far, and a form to say more.
pub(crate) fn opened(lab: LabState) -> Vec<El> {
    let damaged = Memo::new(move |_| all(lab).is_err());
    vec![el("div.said-before").live(move || {
        if damaged.get() { vec![problem(words::forecast::damaged())] } else { untrack(|| content(lab)) }
    })]
}

fn all(lab: LabState) -> Result<Vec<Forecast>, forecast::Damaged> {
    lab.read(|lab| lab.forecasts.as_deref().map_or(Ok(Vec::new()), forecast::open))
}

/// Changes what was said.
fn change(lab: LabState, change: impl FnOnce(&mut Vec<Forecast>)) {
    let Ok(mut said) = untrack(|| all(lab)) else { return };
    change(&mut said);
    lab.set_forecasts((!said.is_empty()).then(|| forecast::save(&said)));
}

fn content(lab: LabState) -> Vec<El> {
    let said = Memo::new(move |_| all(lab).unwrap_or_default());
    let count = move || (0..u32::try_from(said.with(Vec::len)).unwrap_or(0)).collect();
    let none = Memo::new(move |_| lab.run_keys.with(Vec::is_empty));
    vec![
        aside(words::forecast::purpose()),
        el("div.form").live(move || {
            // With the first run it grows above the place where that was added.
            keep_in_window();
            if none.get() { vec![hint(words::forecast::none_to_compare())] } else { untrack(|| form(lab)) }
        }),
        el("div.said").each(count, move |place| entry(lab, said, place as usize)),
    ]
}

/// What is said of a run to come.
fn form(lab: LabState) -> Vec<El> {
    let recorded = lab.is_locked();
    let about = RwSignal::new(None::<RunId>);
    let against = RwSignal::new(None::<RunId>);
    let slope = RwSignal::new(Slope::Steeper);
    let [factor, reason, news, wrong] = [(); 4].map(|()| RwSignal::new(String::new()));
    let runs = move || {
        lab.run_keys.get().into_iter().map(|key| (key.to_string(), name(lab, RunId(key)))).collect::<Vec<_>>()
    };
    let last = move || lab.run_keys.with(|keys| keys.last().copied().map(RunId));
    // Before a run is chosen it is the last one, and the next one is spoken of; of a record there is no next one.
    let chosen_against = move || against.get().or_else(last);
    let chosen_about = move || match about.get() {
        None if recorded => lab.run_keys.with(|keys| keys.first().copied().map(RunId)),
        chosen => chosen,
    };
    let with_next = move || {
        let next = (!recorded).then(|| (NEXT.to_owned(), words::forecast::next_run().to_owned()));
        next.into_iter().chain(runs()).collect()
    };
    let note_down = move || {
        let noted = untrack(|| {
            let factor =
                factor.with(|text| parse(text, EntryUnit::plain(""))).map_err(|why| why.to_string())?;
            let last = RunId(lab.run_keys.with(|keys| keys.iter().copied().max().unwrap_or(0)));
            let about = chosen_about().map_or(About::NextAfter(last), About::Run);
            let against = chosen_against().unwrap_or(last);
            reason
                .with(|reason| Forecast::new(against, about, slope.get(), factor, reason))
                .map_err(|why| why.to_string())
        });
        match noted {
            Ok(forecast) => {
                let waits = matches!(forecast.about(), About::NextAfter(_));
                change(lab, |said| said.push(forecast));
                for text in [factor, reason, wrong] {
                    text.set(String::new());
                }
                news.set(if waits { words::forecast::noted().to_owned() } else { String::new() });
            }
            Err(why) => {
                news.set(String::new());
                wrong.set(why);
            }
        }
    };
    let id_of = |key: &str| key.parse().ok().map(RunId);
    let key_of = |id: Option<RunId>| id.map_or(NEXT.to_owned(), |id| id.0.to_string());
    let slopes = || Slope::ALL.map(|slope| (slope.key().to_owned(), slope.words().to_owned())).to_vec();
    let factor_field = el("input")
        .attr("type", "text")
        .attr("inputmode", "decimal")
        .attr("size", "6")
        .attr("autocomplete", "off")
        .live_value(move || factor.get())
        .on_text("input", move |text| factor.set(text));
    let reason_field = el("textarea")
        .attr("rows", "2")
        .attr("maxlength", "1000")
        .live_value(move || reason.get())
        .on_text("input", move |text| reason.set(text));
    vec![
        el("div.wishes")
            .with(labelled(
                words::forecast::about(),
                menu(with_next, move || key_of(chosen_about()), move |key| about.set(id_of(&key))),
            ))
            .with(labelled(
                words::forecast::against(),
                menu(runs, move || key_of(chosen_against()), move |key| against.set(id_of(&key))),
            ))
            .with(labelled(
                words::forecast::slope(),
                menu(
                    slopes,
                    move || slope.get().key().to_owned(),
                    move |key| slope.set(Slope::from_key(&key).unwrap_or(Slope::Steeper)),
                ),
            ))
            .with(described(words::forecast::factor(), factor_field, words::forecast::factor_hint())),
        described(words::forecast::reason(), reason_field, words::forecast::reason_hint()),
        el("div.lab-actions")
            .with(el("button").attr("type", "button").with(words::forecast::note_down()).on_click(note_down)),
        el("div.news").live_news(move || news.get()),
        el("div.news.problem-line").attr("role", "alert").live_text(move || wrong.get()),
    ]
}

fn labelled(label: &str, field: El) -> El {
    let id = unique_id("said");
    el("div.wish").with(el("label").attr("for", &id).with(label)).with(field.attr("id", &id))
}

fn described(label: &str, field: El, words: &str) -> El {
    let note = unique_id("said-note");
    let field = field.attr("aria-describedby", &note);
    labelled(label, field).with(hint(words).attr("id", &note))
}

fn name(lab: LabState, id: RunId) -> String {
    lab.run(id, |run| run.name.clone()).unwrap_or_else(|| words::forecast::gone().to_owned())
}

/// One that was said: its words, what came, and how the student explains it.
fn entry(lab: LabState, said: Memo<Vec<Forecast>>, place: usize) -> El {
    // What is explained of it may change with every key: nothing but the field itself follows that.
    let forecast = Memo::new(move |_| {
        let mut forecast = said.with(|said| said.get(place).cloned())?;
        forecast.explanation.clear();
        Some(forecast)
    });
    let about = Memo::new(move |_| {
        let about = forecast.with(|forecast| forecast.as_ref().map(Forecast::about))?;
        lab.read_listed(|lab| about.among(lab.runs()).map(|run| run.id))
    });
    let heading = move || {
        let against = forecast.with(|forecast| forecast.as_ref().map(Forecast::against));
        let against = against.map(|id| name(lab, id)).unwrap_or_default();
        match about.get() {
            None => words::forecast::heading_waiting(&against),
            Some(id) => words::forecast::heading(&name(lab, id), &against),
        }
    };
    let observed = Memo::new(move |_| observed(lab, &forecast.get()?, about.get()?));
    let verdict = move || match (forecast.get(), observed.get()) {
        (Some(forecast), Some((_, observed))) => forecast.outcome(&observed).words().to_owned(),
        _ if about.get().is_none() => words::forecast::waiting().to_owned(),
        _ => words::forecast::not_fitted().to_owned(),
    };
    let explanation = el("textarea")
        .attr("rows", "2")
        .attr("maxlength", "2000")
        .live_value(move || {
            said.with(|said| said.get(place).map(|forecast| forecast.explanation.clone())).unwrap_or_default()
        })
        .on_text("input", move |text| {
            change(lab, |said| {
                if let Some(forecast) = said.get_mut(place) {
                    forecast.explanation = text;
                }
            });
        });
    let card = card(el("h3").live_text(heading));
    let gone = card.clone();
    let withdraw = move || {
        // The button goes with its card: the work goes on at the head of all this.
        let panel = gone.node().closest("details").ok().flatten();
        if let Some(head) = panel.and_then(|panel| panel.query_selector("summary").ok().flatten()) {
            focus(&head);
        }
        change(lab, |said| {
            if place < said.len() {
                said.remove(place);
            }
        });
    };
    card.with(
        el("div").live(move || {
            forecast.get().map(|forecast| told(&forecast, observed.get())).into_iter().collect()
        }),
    )
    .with(el("p.verdict").live_status(verdict))
    .with(figure_view(HEIGHT, None, move || figure(lab, &forecast.get()?, about.get()?)))
    .with(
        labelled(words::forecast::explanation(), explanation)
            .live_flag("hidden", move || observed.with(Option::is_none)),
    )
    .with(
        el("button.quiet")
            .attr("type", "button")
            .with(words::forecast::withdraw())
            .live_flag("hidden", move || about.with(Option::is_some))
            .on_click(withdraw),
    )
}

/// The accelerations of both runs, and their ratio.
type Seen = ([Measured<MetersPerSecond2>; 2], Observed);

fn observed(lab: LabState, forecast: &Forecast, about: RunId) -> Option<Seen> {
    let fit = |id| lab.run_outcome(id, |outcome| outcome.fit.as_ref().ok().cloned()).flatten();
    let (first, second) = (fit(forecast.against())?, fit(about)?);
    Some(([first.acceleration, second.acceleration], Observed::of(&first, &second)?))
}

/// What was said, and what came.
fn told(forecast: &Forecast, seen: Option<Seen>) -> El {
    let slope = forecast.slope().words();
    let said = match forecast.factor() {
        None => slope.to_owned(),
        Some(factor) => {
            words::forecast::said_factor(&slope, &show_number(factor, DisplayUnit::si::<Ratio>(), 3))
        }
    };
    let text = |words: &str| el("span").with(words);
    let mut rows = vec![
        (text(words::forecast::said()), el("strong").with(said)),
        (text(words::forecast::because()), text(forecast.reason())),
    ];
    if let Some(([first, second], observed)) = seen {
        let ratio = measured_text(&observed.ratio, DisplayUnit::si::<Ratio>());
        rows.push((
            text(words::forecast::seen()),
            el("span").with(el("strong").with(observed.slope().words())).with(": ").with(ratio),
        ));
        let shown = |a: &Measured<MetersPerSecond2>| {
            show_number(a.value().0, DisplayUnit::si::<MetersPerSecond2>(), 5)
        };
        let ratio = show_number(observed.ratio.value().0, DisplayUnit::si::<Ratio>(), 4);
        rows.push((text(""), text(&words::forecast::ratio_working(&shown(&second), &shown(&first), &ratio))));
    }
    outcome_list(rows)
}

fn figure(lab: LabState, forecast: &Forecast, about: RunId) -> Option<Figure> {
    lab.run_outcome(forecast.against(), |first| {
        lab.run_outcome(about, |second| {
            lab.read(|lab| {
                let runs = (lab.run(forecast.against())?, lab.run(about)?);
                compared((runs.0, first), (runs.1, second), forecast.factor(), &lab.apparatus.setup())
            })
        })
    })??
}
