//! A row of the tray: one run, what is known of it, what can be set.

use super::chart::chart;
use super::contents::{TrayFile, TrayRow, resolved};
use super::keep_focus;
use super::state::TrayState;
use crate::controls::{About, Entry, MenuOption, Words, entry, menu, sentence};
use crate::dom::{El, el};
use crate::stations::runs::{from_key, holds, key as key_of};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use whorl_core::entry::EntryUnit;
use whorl_core::intake::{Carries, FirstLook};
use whorl_core::lab::Lab;
use whorl_core::measured::shown::{DisplayUnit, show_number};
use whorl_core::quantity::{Kilograms, Quantity, Seconds};
use whorl_core::torque::Motion;
use whorl_words as words;

/// How a menu knows an object that the lab does not have yet.
const NEW: &str = "new:";

/// The headings of the columns.
pub(super) const COLUMNS: [Words; 7] = [
    words::tray::column_take,
    words::tray::column_run,
    words::tray::column_holds,
    words::tray::column_carries,
    words::tray::column_mass,
    words::tray::column_stretch,
    words::tray::column_acceleration,
];

/// The row.
pub(super) fn run_row(state: TrayState, key: u32) -> El {
    let cells = untrack(|| {
        state.row(key, |file, row| {
            keep_focus(file.key, String::new());
            cells(state, file, row)
        })
    });
    el("tr").with(cells.unwrap_or_default())
}

/// What the first column of the runs and of this table have in common: a control of a run is named by it.
fn named(control: El, state: TrayState, key: u32, words: About) -> El {
    control.live_attr("aria-label", move || state.row(key, |_, row| words(&row.name)))
}

fn cells(state: TrayState, file: &TrayFile, row: &TrayRow) -> Vec<El> {
    let place = file.rows.iter().position(|other| other.key == row.key).unwrap_or(0);
    let id = |part: &str| format!("tray-{}-{place}-{part}", file.key);
    let cell = |index: usize| el("td").attr("data-label", COLUMNS.get(index).map_or("", |words| words()));
    let motion = match row.proposal.motion {
        Motion::Falling => String::new(),
        other => format!(", {}", other.words()),
    };
    vec![
        cell(0).with(take_box(state, row.key).attr("id", &id("take"))),
        el("th")
            .attr("scope", "row")
            .with(name_field(state, row.key).attr("id", &id("name")))
            .with(el("span.file").with(file.name.as_str()))
            .with(waits(state, row.key)),
        cell(2).with(format!("{}{motion}", holds(&row.proposal.readings))),
        cell(3).with(carries_menu(state, row.key).attr("id", &id("carries"))),
        cell(4).with(mass_field(state, row.key, &id("mass"))),
        cell(5)
            .with(chart(&row.name, &row.proposal.first))
            .with(el("span").with(stretch_words(&row.proposal.first))),
        cell(6).with(acceleration(&row.proposal.first)).with(doubts(row, &id("doubts"))),
    ]
}

fn take_box(state: TrayState, key: u32) -> El {
    let asks = move || state.row(key, |file, _| file.asks()).unwrap_or(false);
    let input = el("input")
        .attr("type", "checkbox")
        .live_flag("disabled", asks)
        .live_checked(move || state.row(key, TrayFile::takes).unwrap_or(false))
        .on("change", move |event| {
            let input = event.target().and_then(|target| target.dyn_into::<web_sys::HtmlInputElement>().ok());
            if let Some(input) = input {
                state.set_wanted(key, input.checked());
            }
        });
    named(input, state, key, words::tray::take)
}

fn name_field(state: TrayState, key: u32) -> El {
    el("input")
        .attr("type", "text")
        .attr("maxlength", "80")
        .attr("autocomplete", "off")
        .live_attr("aria-label", move || state.row(key, |_, row| words::tray::name_of(&row.name)))
        .live_value(move || state.row(key, |_, row| row.name.clone()).unwrap_or_default())
        .on_text("change", move |text| state.rename(key, text))
}

/// Why the run would stay on the tray.
fn waits(state: TrayState, key: u32) -> El {
    let why = move |lab: &Lab| {
        let why = state.row(key, |file, row| file.waits_for(row, lab).filter(|_| row.wanted != Some(false)));
        why.flatten().map(|why| sentence(&words::tray::first(&why))).unwrap_or_default()
    };
    el("span.problem").live_text(move || state.lab.read(why))
}

/// How a menu knows what the table carries.
pub(super) fn carries_key(carries: &Carries) -> String {
    match carries {
        Carries::Known(configuration) => key_of(*configuration),
        Carries::New(name) => format!("{NEW}{name}"),
        Carries::Untold => String::new(),
    }
}

/// The other way round.
pub(super) fn carries_of(key: &str) -> Carries {
    match key.strip_prefix(NEW) {
        Some(name) => Carries::New(name.to_owned()),
        None => from_key(key).map_or(Carries::Untold, Carries::Known),
    }
}

/// All that a table may carry: what the lab has, and the new objects of the runs on the tray.
pub(super) fn carries_options(state: TrayState) -> Vec<MenuOption> {
    state.lab.read(|lab| {
        let known = lab.configurations().into_iter();
        let mut options: Vec<MenuOption> =
            known.map(|known| (key_of(known), lab.configuration_name(known))).collect();
        state.read(|files| {
            for row in files.iter().flat_map(TrayFile::left) {
                for carries in [&row.proposal.carries, &row.carries] {
                    let Carries::New(name) = resolved(carries, lab) else { continue };
                    let option = (format!("{NEW}{name}"), words::tray::new_object(&name));
                    if !options.contains(&option) {
                        options.push(option);
                    }
                }
            }
        });
        options
    })
}

fn carries_menu(state: TrayState, key: u32) -> El {
    let now = move || {
        let now = state.lab.read(|lab| state.row(key, |_, row| carries_key(&resolved(&row.carries, lab))));
        now.unwrap_or_default()
    };
    let options = move || {
        let mut options = Vec::new();
        if now().is_empty() {
            options.push((String::new(), words::controls::choose().to_owned()));
        }
        options.append(&mut carries_options(state));
        options
    };
    let select = menu(options, now, move |chosen| state.set_carries(key, carries_of(&chosen)));
    named(select, state, key, words::runs::carries_in)
}

fn mass_field(state: TrayState, key: u32, id: &str) -> El {
    let wrong = RwSignal::new(String::new());
    let note = format!("{id}-note");
    let takes =
        Entry { id, name: "", unit: EntryUnit::GRAMS, least: 0.0, problem: wrong, described_by: &note };
    let mass = entry(
        &takes,
        move || state.row(key, |_, row| row.hanging_mass.map(Quantity::si)).flatten(),
        move |entered| {
            let unclear = !wrong.with_untracked(String::is_empty);
            state.set_hanging_mass(key, entered.map(Kilograms), unclear);
        },
    );
    let missing = move || {
        let needs = |_: &TrayFile, row: &TrayRow| {
            row.hanging_mass.is_none() && row.proposal.motion != Motion::Coasting
        };
        let wrong = wrong.get();
        if wrong.is_empty() && state.row(key, needs).unwrap_or(false) {
            words::controls::needed().to_owned()
        } else {
            wrong
        }
    };
    el("div")
        .with(
            el("span.pair")
                .with(named(mass, state, key, words::runs::mass_of))
                .with(el("span.unit").with("g")),
        )
        .with(el("span.problem").attr("id", &note).live_text(missing))
}

fn stretch_words(look: &FirstLook) -> String {
    let Some(stretch) = look.stretch else { return words::tray::all_readings().to_owned() };
    let end = |time: Seconds, symbol| show_number(time.0, DisplayUnit::prefixed(symbol, 0), 3);
    words::tray::stretch(&end(stretch.from(), ""), &end(stretch.to(), "s"))
}

fn acceleration(look: &FirstLook) -> El {
    match &look.acceleration {
        Ok(found) => match found.split_once(", ") {
            // A line may end before the uncertainty, not inside.
            Some((value, u)) => el("span").with(value).with(", ").with(el("span.u").with(u)),
            None => el("span").with(found.as_str()),
        },
        Err(missing) => el("span.hint").with(sentence(missing)),
    }
}

/// What to look at, and what was done with the rows.
fn doubts(row: &TrayRow, id: &str) -> Option<El> {
    let (doubts, remarks) = (&row.proposal.first.doubts, &row.proposal.remarks);
    let count = |all: &[String], words: About| (!all.is_empty()).then(|| words(&all.len()));
    let counts: Vec<String> = [count(doubts, words::tray::doubts), count(remarks, words::tray::remarks)]
        .into_iter()
        .flatten()
        .collect();
    if counts.is_empty() {
        return None;
    }
    let of = el("span.visually-hidden").with(format!(" {}", words::tray::about(&row.name)));
    let items = doubts.iter().chain(remarks).map(|words| el("li").with(sentence(words)));
    Some(
        el("details")
            .with(el("summary").attr("id", id).with(counts.join(", ")).with(of))
            .with(el("ul").with(items.collect::<Vec<_>>())),
    )
}
