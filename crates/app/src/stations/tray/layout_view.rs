//! How a file was read: each guess with its reason, to be set right by a menu; and its first rows.

use super::keep_focus;
use super::state::TrayState;
use crate::controls::{menu, scrolled, sentence};
use crate::dom::{El, el};
use leptos::prelude::*;
use whorl_core::readings::{
    Choice, Column, Confidence, DecimalMark, Delimiter, Encoding, Guess, Layout, PreviewRow, ReadingKind,
    Role,
};
use whorl_words as words;

/// The guesses and the preview.
pub(super) fn layout_view(state: TrayState, key: u32) -> El {
    keep_focus(key, String::new());
    let place = el("div.layout");
    let content = untrack(|| {
        state.file(key, |file| {
            let layout = file.layout.as_ref()?;
            let view = View { state, key, name: file.name.clone() };
            let kind = file.rows.first().map(|row| row.proposal.readings.kind());
            let mut content = vec![view.whole(layout, kind), view.table(layout)];
            if file.told {
                content.push(view.forget());
            }
            Some(content)
        })
    });
    place.with(content.flatten().unwrap_or_default())
}

/// What an option's words say of the file.
type Chosen = Box<dyn Fn(&str) -> Option<Choice>>;

/// The file whose view is built.
struct View {
    state: TrayState,
    key: u32,
    name: String,
}

/// What a menu sets, told for its control, and the reason behind the guess.
struct Set<'a> {
    /// A word for the id.
    id: String,
    /// What the control is called.
    label: String,
    /// What it was taken for.
    value: &'static str,
    confidence: Confidence,
    reason: &'a str,
}

impl View {
    /// What goes for all of the file; `kind` is that of its readings, where there are any.
    fn whole(&self, layout: &Layout, kind: Option<ReadingKind>) -> El {
        let one = |(id, what, label): (&str, &'static str, String),
                   words: &[&'static str],
                   guess: Told<'_>,
                   choice: fn(&str) -> Option<Choice>| {
            let (value, confidence, reason) = guess;
            let set = Set { id: id.to_owned(), label, value, confidence, reason };
            let (control, why) = self.control(&set, words, Box::new(choice));
            (el("span").with(what), el("div.guess").with(control).with(why))
        };
        let mut guesses = vec![
            one(
                ("encoding", words::tray::encoding(), words::tray::encoding_of(&self.name)),
                &Encoding::ALL.map(Encoding::words),
                guessed(&layout.encoding, Encoding::words),
                |words| Encoding::ALL.into_iter().find(|each| each.words() == words).map(Choice::Encoding),
            ),
            one(
                ("columns-end-at", words::tray::columns_end_at(), words::tray::columns_end_at_of(&self.name)),
                &Delimiter::ALL.map(Delimiter::words),
                guessed(&layout.delimiter, Delimiter::words),
                |words| Delimiter::ALL.into_iter().find(|each| each.words() == words).map(Choice::Delimiter),
            ),
            one(
                ("decimal-mark", words::tray::decimal_mark(), words::tray::decimal_mark_of(&self.name)),
                &DecimalMark::ALL.map(DecimalMark::words),
                guessed(&layout.decimal, DecimalMark::words),
                |words| DecimalMark::ALL.into_iter().find(|each| each.words() == words).map(Choice::Decimal),
            ),
        ];
        if let Some(kind) = kind {
            guesses.push(one(
                ("readings", words::tray::readings(), words::tray::readings_of(&self.name)),
                &ReadingKind::ALL.map(ReadingKind::words),
                (kind.words(), Confidence::Likely, words::tray::readings_follow()),
                |words| ReadingKind::ALL.into_iter().find(|each| each.words() == words).map(Choice::Holds),
            ));
        }
        crate::controls::outcome_list(guesses)
    }

    /// The menu, and why it stands where it stands.
    fn control(&self, set: &Set<'_>, words: &[&'static str], choice: Chosen) -> (El, El) {
        let open = set.confidence == Confidence::Open;
        let mut options: Vec<(String, String)> =
            words.iter().map(|&words| (words.to_owned(), words.to_owned())).collect();
        if open {
            options.insert(0, (String::new(), words::controls::choose().to_owned()));
        }
        let now = if open { "" } else { set.value };
        let (state, key) = (self.state, self.key);
        let control = menu(
            move || options.clone(),
            move || now.to_owned(),
            move |chosen| {
                if let Some(choice) = choice(&chosen) {
                    state.say(key, &[choice]);
                }
            },
        );
        let note = format!("tray-{}-{}-why", self.key, set.id);
        let sure = set.confidence.words();
        let why = if set.reason.is_empty() {
            format!("{sure}.")
        } else {
            format!("{sure}: {}", sentence(set.reason))
        };
        (
            control
                .attr("id", &format!("tray-{}-{}", self.key, set.id))
                .attr("aria-label", &set.label)
                .attr("aria-describedby", &note),
            el("span.hint").attr("id", &note).with(sentence(&why)),
        )
    }

    fn table(&self, layout: &Layout) -> El {
        let roles: Vec<&'static str> = Role::all().map(Role::words).collect();
        let head = |(index, column): (usize, &Column)| {
            let number = index + 1;
            let label = match column.heading.as_str() {
                "" => words::tray::column_contains(&number, &self.name),
                heading => words::tray::named_column_contains(&number, &heading, &self.name),
            };
            let (value, confidence, reason) = guessed(&column.role, Role::words);
            let set = Set { id: format!("column-{number}"), label, value, confidence, reason };
            let choice = move |words: &str| Role::from_words(words).map(|role| Choice::Column(number, role));
            let (control, why) = self.control(&set, &roles, Box::new(choice));
            let unused = (!column.used).then(|| el("span.hint").with(words::tray::not_used()));
            el("th").attr("scope", "col").with(control).with(why).with(unused)
        };
        let row = |row: &PreviewRow| {
            let (class, line) = if row.data {
                ("data", row.line.to_string())
            } else {
                ("heading", words::tray::heading_line(&row.line))
            };
            let fields = row.fields.iter().map(|field| el("td").with(field.as_str()));
            el("tr")
                .attr("class", class)
                .with(el("th").attr("scope", "row").with(line))
                .with(fields.collect::<Vec<_>>())
        };
        let words = words::tray::first_rows(&layout.rows, &self.name);
        let table = el("table.preview")
            .with(el("caption").with(words.as_str()))
            .with(
                el("thead").with(
                    el("tr")
                        .with(el("th").attr("scope", "col").with(words::tray::column_line()))
                        .with(layout.columns.iter().enumerate().map(head).collect::<Vec<_>>()),
                ),
            )
            .with(el("tbody").with(layout.preview.iter().map(row).collect::<Vec<_>>()));
        scrolled(&words, table)
    }

    fn forget(&self) -> El {
        let (state, key) = (self.state, self.key);
        el("button")
            .attr("id", &format!("tray-{key}-forget"))
            .with(words::tray::forget())
            .with(el("span.visually-hidden").with(format!(" {}", words::tray::forget_for(&self.name))))
            .on_click(move || state.forget(key))
    }
}

/// A guess with its value in words, how sure it is, and its reason.
type Told<'a> = (&'static str, Confidence, &'a str);

fn guessed<T: Copy>(guess: &Guess<T>, words: fn(T) -> &'static str) -> Told<'_> {
    (words(guess.value), guess.confidence, &guess.reason)
}
