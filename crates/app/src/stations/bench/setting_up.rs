//! How one comes to a bench: a code, a teacher's file, a button.

use super::composing;
use crate::browser::{files, later};
use crate::controls::{aside, disclosure, hint, unique_id};
use crate::dom::{El, el};
use crate::header::{file_picker, replace_allowed};
use crate::state::LabState;
use leptos::prelude::*;
use whorl_core::bench::{self, BenchSettings, Seed, Session};
use whorl_words as words;

/// Largest bench file that is read, in bytes.
const LARGEST: usize = 100_000;

/// The form.
pub(super) fn form(lab: LabState) -> Vec<El> {
    let code = RwSignal::new(String::new());
    let settings = RwSignal::new(BenchSettings::default());
    // How often the settings came from elsewhere than their form.
    let renewed = RwSignal::new(0);
    let [news, wrong] = [(); 2].map(|()| RwSignal::new(String::new()));
    let say = move |done: String, problem: String| {
        news.set(done);
        wrong.set(problem);
    };
    let take_file = move |list: Vec<web_sys::File>| {
        let Some(file) = list.into_iter().next() else { return };
        later(async move {
            match read(&file).await {
                Ok(read) => {
                    say(words::bench_view::file_read(&read.title), String::new());
                    settings.set(read);
                    renewed.update(|count| *count += 1);
                }
                Err(problem) => say(String::new(), format!("{}: {problem}", file.name())),
            }
        });
    };
    let begin = move || {
        let entered = code.get_untracked();
        let seed = if entered.trim().is_empty() { Ok(any_seed()) } else { Seed::from_code(&entered) };
        let begun = seed.map_err(|why| why.to_string()).and_then(|seed| {
            settings.with_untracked(|settings| Session::begin(settings, seed)).map_err(|why| why.to_string())
        });
        match begun {
            Ok(session) => open(lab, &session),
            Err(problem) => say(String::new(), problem),
        }
    };
    let (id, note) = (unique_id("code"), unique_id("code-note"));
    let field = el("input")
        .attr("id", &id)
        .attr("type", "text")
        .attr("maxlength", "12")
        .attr("size", "10")
        .attr("autocomplete", "off")
        .attr("autocapitalize", "characters")
        .attr("spellcheck", "false")
        .attr("aria-describedby", &note)
        .live_attr("aria-invalid", move || (!wrong.with(String::is_empty)).then(|| "true".to_owned()))
        .live_value(move || code.get())
        .on_text("input", move |text| code.set(text));
    vec![
        aside(words::bench_view::purpose()),
        el("div.bench-code")
            .with(el("label").attr("for", &id).with(words::bench_view::code()))
            .with(field)
            .with(el("div").attr("id", &note).with(hint(words::bench_view::code_hint()))),
        el("div.lab-actions")
            .with(el("button.main").attr("type", "button").with(words::bench_view::begin()).on_click(begin))
            .with(file_picker(words::bench_view::file(), "", ".json,application/json", take_file)),
        hint(words::bench_view::begin_hint()),
        disclosure("details.composed", el("summary").with(words::composing::title()), move || {
            composing::form(settings, renewed)
        }),
        el("div.news").live_news(move || news.get()),
        el("div.news.problem-line").attr("role", "alert").live_text(move || wrong.get()),
    ]
}

async fn read(file: &web_sys::File) -> Result<BenchSettings, String> {
    let bytes = files::read(file, LARGEST).await?;
    let text = String::from_utf8(bytes).map_err(|_| words::page::not_utf8(&file.name()))?;
    bench::open(&text).map_err(|why| why.to_string())
}

/// One that nobody chose: the only chance in the program, so that classmates without codes differ.
pub(crate) fn any_seed() -> Seed {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 2³²")]
    let number = (js_sys::Math::random() * 4_294_967_296.0) as u64;
    Seed::new(number)
}

/// Puts the bench's lab in place of the one that is open; the pre-lab goes with the student.
fn open(lab: LabState, session: &Session) {
    if replace_allowed(lab) {
        let mut new = session.bench().lab();
        new.bench = Some(session.to_text());
        new.prelab = lab.prelab.read_once(Clone::clone);
        super::BEGUN.set(true);
        lab.open(new);
        lab.not_saved();
    }
}
