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
        let one = |what: &str,
                   words: &[&'static str],
                   guess: Told<'_>,
                   choice: fn(&str) -> Option<Choice>| {
            let (value, confidence, reason) = guess;
            let set = Set {
                id: what.replace(' ', "-"),
                label: format!("{what} of {}", self.name),
                value,
                confidence,
                reason,
            };
            let (control, why) = self.control(&set, words, Box::new(choice));
            (el("span").with(sentence(what).trim_end_matches('.')), el("div.guess").with(control).with(why))
        };
        let mut guesses = vec![
            one(
                "encoding",
                &Encoding::ALL.map(Encoding::words),
                guessed(&layout.encoding, Encoding::words),
                |words| Encoding::ALL.into_iter().find(|each| each.words() == words).map(Choice::Encoding),
            ),
            one(
                "columns end at",
                &Delimiter::ALL.map(Delimiter::words),
                guessed(&layout.delimiter, Delimiter::words),
                |words| Delimiter::ALL.into_iter().find(|each| each.words() == words).map(Choice::Delimiter),
            ),
            one(
                "decimal mark",
                &DecimalMark::ALL.map(DecimalMark::words),
                guessed(&layout.decimal, DecimalMark::words),
                |words| DecimalMark::ALL.into_iter().find(|each| each.words() == words).map(Choice::Decimal),
            ),
        ];
        if let Some(kind) = kind {
            guesses.push(one(
                "readings",
                &ReadingKind::ALL.map(ReadingKind::words),
                (kind.words(), Confidence::Likely, "this follows from the columns below"),
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
            options.insert(0, (String::new(), "please choose".to_owned()));
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
            let heading = match column.heading.as_str() {
                "" => format!("column {number}"),
                heading => format!("column {number}, “{heading}”,"),
            };
            let (value, confidence, reason) = guessed(&column.role, Role::words);
            let set = Set {
                id: format!("column-{number}"),
                label: format!("{heading} of {} holds", self.name),
                value,
                confidence,
                reason,
            };
            let choice = move |words: &str| Role::from_words(words).map(|role| Choice::Column(number, role));
            let (control, why) = self.control(&set, &roles, Box::new(choice));
            let unused = (!column.used).then(|| el("span.hint").with("Not used for the readings."));
            el("th").attr("scope", "col").with(control).with(why).with(unused)
        };
        let row = |row: &PreviewRow| {
            let (class, mark) = if row.data { ("data", "") } else { ("heading", " heading") };
            let fields = row.fields.iter().map(|field| el("td").with(field.as_str()));
            el("tr")
                .attr("class", class)
                .with(el("th").attr("scope", "row").with(format!("{}{mark}", row.line)))
                .with(fields.collect::<Vec<_>>())
        };
        let words = format!("The first of {} rows of numbers in {}", layout.rows, self.name);
        let table = el("table.preview")
            .with(el("caption").with(words.as_str()))
            .with(
                el("thead").with(
                    el("tr")
                        .with(el("th").attr("scope", "col").with("Line"))
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
            .with("Forget these choices")
            .with(el("span.visually-hidden").with(format!(" for {} and files of its shape", self.name)))
            .on_click(move || state.forget(key))
    }
}

/// A guess with its value in words, how sure it is, and its reason.
type Told<'a> = (&'static str, Confidence, &'a str);

fn guessed<T: Copy>(guess: &Guess<T>, words: fn(T) -> &'static str) -> Told<'_> {
    (words(guess.value), guess.confidence, &guess.reason)
}
