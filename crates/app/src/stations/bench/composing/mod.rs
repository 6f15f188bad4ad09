//! The apparatus of a bench, chosen on the page: every quantity of the settings, the objects and what is wrong.

mod fields;
mod objects;

use crate::browser::download;
use crate::controls::{aside, hint, unique_id};
use crate::dom::{El, el};
use fields::{labelled, number, spread, unit};
use leptos::prelude::*;
use whorl_core::bench::{BenchSettings, FIELDS, Fault, Spread, save};
use whorl_core::entry::{EntryUnit, parse_list, write};
use whorl_core::simulation::gate::EdgesSeen;
use whorl_words as words;

/// What is chosen; the bench is set up with it.
type Settings = RwSignal<BenchSettings>;

/// The form. It is built anew when the settings come from elsewhere, as `renewed` tells.
pub(crate) fn form(settings: Settings, renewed: RwSignal<u32>) -> Vec<El> {
    let body = el("div.composing").live(move || {
        renewed.track();
        untrack(|| fieldsets(settings))
    });
    let outcome = Memo::new(move |_| settings.with(BenchSettings::check));
    let told = move || match outcome.get() {
        Ok(()) => words::composing::right().to_owned(),
        Err(problem) => words::composing::wrong(&problem),
    };
    let save_file = move || {
        let _ = download::save(&settings.with_untracked(save), "bench.json", "application/json");
    };
    let usual = move || {
        settings.set(BenchSettings::default());
        renewed.update(|count| *count += 1);
    };
    let button = |words: &str| el("button").attr("type", "button").with(words);
    vec![
        aside(words::composing::purpose()),
        body,
        el("p.verdict").live_status(told),
        el("div.lab-actions")
            .with(
                button(words::composing::save_file())
                    .live_unavailable(move || outcome.with(Result::is_err))
                    .on_click(save_file),
            )
            .with(button(words::composing::usual()).on_click(usual)),
    ]
}

fn fieldsets(settings: Settings) -> Vec<El> {
    let group = |name: &'static str, words: &'static str| {
        let rows = FIELDS.iter().filter(|field| field.group == name).map(|field| {
            let put = field.place;
            spread(
                settings,
                (field.words)(),
                unit_of(field.key, field.unit),
                move |settings| Some((field.of)(settings)),
                move |settings, value| *put(settings) = value.unwrap_or(Spread::NONE),
            )
        });
        el("fieldset").with(el("legend").with(words)).with(rows.collect::<Vec<_>>())
    };
    vec![
        told(settings),
        group("drum", words::composing::drum()),
        group("pulley", words::composing::pulley()).with(spokes(settings)),
        group("table", words::composing::table_itself()),
        group("friction", words::composing::friction()),
        group("gate", words::composing::gate()).with(both_edges(settings)),
        group("", words::composing::place()),
        masses(settings),
        objects::objects(settings),
        faults(settings),
    ]
}

/// Lengths of a room stand in meters, of an apparatus in millimeters.
fn unit_of(key: &str, symbol: &'static str) -> EntryUnit {
    match key {
        "string_m" | "drop_height_m" => EntryUnit::plain(symbol),
        _ => unit(symbol),
    }
}

/// Its name, and what students are told.
fn told(settings: Settings) -> El {
    let title = el("input")
        .attr("type", "text")
        .attr("maxlength", "60")
        .attr("autocomplete", "off")
        .live_value(move || settings.with(|settings| settings.title.clone()))
        .on_text("input", move |text| settings.update(|settings| settings.title = text));
    let about = el("textarea")
        .attr("rows", "2")
        .attr("maxlength", "1000")
        .live_value(move || settings.with(|settings| settings.about.clone()))
        .on_text("input", move |text| settings.update(|settings| settings.about = text));
    el("div.list")
        .with(labelled(words::composing::called(), title))
        .with(labelled(words::composing::told(), about))
}

fn spokes(settings: Settings) -> El {
    number(
        settings,
        words::composing::spokes(),
        EntryUnit::plain(""),
        |settings| Some(f64::from(settings.pulley.spokes.get())),
        |settings, count| {
            if let Some(count) = fields::whole(count) {
                settings.pulley.spokes = count;
            }
        },
    )
}

fn both_edges(settings: Settings) -> El {
    check(
        words::composing::both_edges(),
        move || settings.with(|settings| settings.gate.edges == EdgesSeen::Both),
        move |both| {
            settings.update(|settings| {
                settings.gate.edges = if both { EdgesSeen::Both } else { EdgesSeen::Blocked };
            });
        },
    )
}

fn check(words: &str, checked: impl Fn() -> bool + Copy + 'static, set: impl Fn(bool) + 'static) -> El {
    let id = unique_id("choice");
    let input = el("input")
        .attr("type", "checkbox")
        .attr("id", &id)
        .live_checked(checked)
        .on("change", move |_| set(!untrack(checked)));
    el("label.pair").attr("for", &id).with(input).with(words)
}

/// A list as people write it.
fn masses(settings: Settings) -> El {
    let written = settings.with_untracked(|settings| {
        let each = settings.masses_kg.iter().map(|mass| write(*mass, EntryUnit::GRAMS));
        each.collect::<Vec<_>>().join("; ")
    });
    let text = RwSignal::new(written);
    let wrong = RwSignal::new(String::new());
    let note = unique_id("masses-note");
    let hear = move |entered: String| {
        match parse_list(&entered, EntryUnit::GRAMS) {
            Ok(masses) => {
                wrong.set(String::new());
                settings.update(|settings| settings.masses_kg = masses);
            }
            Err(why) => wrong.set(why.to_string()),
        }
        text.set(entered);
    };
    let input = el("input")
        .attr("type", "text")
        .attr("autocomplete", "off")
        .attr("aria-describedby", &note)
        .live_attr("aria-invalid", move || (!wrong.with(String::is_empty)).then(|| "true".to_owned()))
        .live_value(move || text.get())
        .on_text("input", hear);
    labelled(&format!("{} (g)", words::composing::masses()), input)
        .with(el("span.problem").attr("id", &note).live_status(move || wrong.get()))
}

/// What is wrong without being told, each with its sizes once it is chosen.
fn faults(settings: Settings) -> El {
    let rows = Fault::ALL.map(|kind| {
        let at = move |settings: &BenchSettings| settings.faults.iter().position(|fault| fault.is_like(kind));
        let chosen = Memo::new(move |_| settings.with(at).is_some());
        let set = move |wanted: bool| {
            settings.update(|settings| match (wanted, at(settings)) {
                (true, None) => settings.faults.push(kind),
                (false, Some(at)) => drop(settings.faults.remove(at)),
                _ => {}
            });
        };
        let sizes = el("div.sizes")
            .live(move || if chosen.get() { untrack(|| sizes(settings, kind)) } else { Vec::new() });
        el("div").with(check(kind.words(), move || chosen.get(), set)).with(sizes)
    });
    el("fieldset.faults")
        .with(el("legend").with(words::composing::faults()))
        .with(hint(words::composing::faults_hint()))
        .with(rows.to_vec())
}

fn sizes(settings: Settings, mut kind: Fault) -> Vec<El> {
    let all: Vec<_> = kind.sizes().into_iter().map(|(size, _)| size).collect();
    let entries = all.into_iter().enumerate().map(|(index, size)| {
        let read = move |settings: &BenchSettings| {
            let mut fault = settings.faults.iter().copied().find(|fault| fault.is_like(kind))?;
            fault.sizes().into_iter().nth(index).map(|(_, value)| *value)
        };
        let put = move |settings: &mut BenchSettings, value: Option<f64>| {
            let fault = settings.faults.iter_mut().find(|fault| fault.is_like(kind));
            let place = fault.and_then(|fault| fault.sizes().into_iter().nth(index));
            if let (Some((_, place)), Some(value)) = (place, value) {
                *place = value;
            }
        };
        number(settings, (size.words)(), unit(size.unit), read, put)
    });
    let which = matches!(kind, Fault::WrongStamp { .. }).then(|| which_mass(settings));
    which.into_iter().chain(entries).collect()
}

/// The mass that is stamped wrongly, as people count.
fn which_mass(settings: Settings) -> El {
    number(
        settings,
        words::composing::which_mass(),
        EntryUnit::plain(""),
        |settings| {
            settings.faults.iter().find_map(|fault| match fault {
                Fault::WrongStamp { mass, .. } => Some(*mass as f64 + 1.0),
                _ => None,
            })
        },
        |settings, count| {
            for fault in &mut settings.faults {
                if let (Fault::WrongStamp { mass, .. }, Some(count)) = (fault, fields::whole(count)) {
                    *mass = count.get() as usize - 1;
                }
            }
        },
    )
}
