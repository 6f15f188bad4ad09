//! What else can be done with a chart: look closer without a pointer's skill, listen, take it along.

use super::keys::{ENLARGED, MOVED};
use super::{Chart, paint};
use crate::browser::{download, sound};
use crate::dom::{El, document, el};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Blob, HtmlCanvasElement};
use whorl_charts::melody::melody;
use whorl_charts::{Background, Palette, Style, svg};
use whorl_words as words;

/// Width of a saved picture, in CSS pixels: a page of a report at about 110 dots per inch.
const SAVED_WIDTH: u32 = 900;
/// Pixels of a saved picture per CSS pixel.
const SAVED_SCALE: f64 = 2.0;
/// How long a chart is played, in seconds.
const PLAYED: f64 = 4.0;

/// The buttons.
pub(crate) fn tools(chart: Chart, height: u32) -> Vec<El> {
    let is_whole = move || chart.window.with(Option::is_none);
    let step = move |right: f64, up: f64| move || chart.look(|part, whole| part.moved(right, up, whole));
    let mut look = group(words::chart::look_closer())
        .with(button(words::chart::enlarge(), move || chart.enlarge(ENLARGED)))
        .with(
            button(words::chart::shrink(), move || chart.enlarge(1.0 / ENLARGED)).live_unavailable(is_whole),
        );
    for (name, right, up) in [
        (words::chart::left(), -MOVED, 0.0),
        (words::chart::right(), MOVED, 0.0),
        (words::chart::up(), 0.0, MOVED),
        (words::chart::down(), 0.0, -MOVED),
    ] {
        look = look.with(button(name, step(right, up)).live_unavailable(is_whole));
    }
    let whole = move || chart.look(|_, whole| whole);
    look = look.with(button(words::chart::show_all(), whole).live_unavailable(is_whole));

    let save = group(words::chart::take_along())
        .with(button(words::chart::save_svg(), move || save_svg(chart, height)))
        .with(button(words::chart::save_png(), move || save_png(chart, height)));
    let listens = chart.once(|figure| melody(figure, PLAYED).is_some()).unwrap_or(false);
    let listen = listens.then(|| {
        let playing = RwSignal::new(None::<sound::Playing>);
        let play = move || {
            if let Some(now) = playing.try_update(Option::take).flatten() {
                now.stop();
            } else {
                let tones = chart.once(|figure| melody(figure, PLAYED)).flatten().unwrap_or_default();
                playing.set(sound::play(&tones, PLAYED, move || drop(playing.try_set(None))));
            }
        };
        let name = move || {
            let words =
                if playing.with(Option::is_some) { words::chart::stop() } else { words::chart::listen() };
            words.to_owned()
        };
        group(words::chart::by_ear())
            .with(el("button").attr("type", "button").live_text(name).on_click(play))
            .with(super::super::hint(words::chart::listen_hint()))
    });
    let mut tools = vec![look];
    tools.extend(listen);
    tools.push(save);
    tools.push(super::super::hint(words::chart::tools_hint()));
    tools
}

fn group(name: &str) -> El {
    el("div.chart-tools").attr("role", "group").attr("aria-label", name)
}

fn button(name: &str, run: impl Fn() + 'static) -> El {
    el("button").attr("type", "button").with(name).on_click(run)
}

/// A file name of letters, digits and dashes from a figure's name.
fn file_stem(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    words.join("-").to_lowercase()
}

fn save_svg(chart: Chart, height: u32) {
    let part = chart.window.get_untracked();
    let made = chart.once(|figure| {
        (svg(figure, part, SAVED_WIDTH, height, Palette::LIGHT), format!("{}.svg", file_stem(&figure.name)))
    });
    if let Some((text, name)) = made {
        let _ = download::save(&text, &name, "image/svg+xml");
    }
}

/// Drawn anew on paper of its own: the page's may be dark, and as narrow as a phone.
fn save_png(chart: Chart, height: u32) {
    let Ok(canvas) = document().create_element("canvas").map(JsCast::unchecked_into::<HtmlCanvasElement>)
    else {
        return;
    };
    let style = Style { background: Background::Paper, ..Style::canvas(SAVED_SCALE, Palette::LIGHT) };
    let part = chart.window.get_untracked();
    let size = (f64::from(SAVED_WIDTH), f64::from(height));
    let name = chart.once(|figure| {
        let _ = paint(&canvas, figure, part, size, &style);
        format!("{}.png", file_stem(&figure.name))
    });
    let save = Closure::once_into_js(move |blob: Option<Blob>| {
        if let Some((blob, name)) = blob.zip(name) {
            let _ = download::save_blob(&blob, &name);
        }
    });
    let _ = canvas.to_blob(save.unchecked_ref());
}
