//! What there is to say about where the lab is kept.

use super::database::{About, NotKept};
use super::{Asked, Kept, titled, version, when};
use crate::browser::{download, later};
use crate::dom::{El, el};
use crate::header;
use leptos::prelude::*;
use whorl_words::kept as words;

/// What happened to the lab that was kept.
#[derive(Clone)]
pub(super) enum Notice {
    /// It is back.
    Back(About),
    /// It is open in another tab.
    Elsewhere(About),
    /// It was moved to another tab.
    Moved,
    /// It has stopped the page.
    StoppedBy(About),
    /// It cannot be opened.
    Unreadable { about: About, problem: String, text: String },
    /// One of earlier is there, and work was begun meanwhile.
    Earlier(About),
}

/// All of it, the newest first.
pub(super) fn view(kept: Kept) -> El {
    let notices = move || {
        let what = kept.notice.get().map(|notice| notice.view(kept));
        let trouble = kept.trouble.get().and_then(trouble);
        let version = kept.version.get().then(|| new_version(kept));
        [what, trouble, version].into_iter().flatten().collect()
    };
    el("div.notices").attr("role", "status").live(notices)
}

fn line(words: &str) -> El {
    el("p").with(words)
}

fn said(words: &str, buttons: Vec<El>) -> El {
    el("div.notice").with(line(words)).with(el("div.lab-actions").with(buttons))
}

fn button(words: &str, run: impl Fn() + 'static) -> El {
    el("button").attr("type", "button").with(words).on_click_gone("kept", run)
}

fn trouble(trouble: NotKept) -> Option<El> {
    let words = match trouble {
        NotKept::Refused => words::refused(),
        NotKept::Full => words::full(),
        // The notice says so.
        NotKept::Elsewhere => return None,
    };
    Some(el("div.notice.wrong").with(line(words)))
}

fn new_version(kept: Kept) -> El {
    let safe = kept.trouble.get().is_none();
    let words = if safe { words::new_version() } else { words::new_version_not_kept() };
    let change = move || {
        later(async move {
            kept.settle().await;
            version::change();
        });
    };
    said(words, vec![button(words::use_it(), change)])
}

impl Notice {
    fn view(self, kept: Kept) -> El {
        let open = move |about: About, asked: Asked| {
            move || {
                let about = about.clone();
                kept.notice.set(None);
                later(kept.open(about, asked));
            }
        };
        match self {
            Self::Back(about) => said(
                &words::back(&titled(&about.title), &when(about.changed_ms)),
                vec![button(words::start_anew(), move || kept.start_anew())],
            ),
            Self::Elsewhere(about) => said(
                &words::elsewhere(&titled(&about.title)),
                vec![button(words::move_here(), open(about, Asked::FromOtherTab))],
            ),
            Self::Moved => {
                let back = move || {
                    kept.notice.set(None);
                    later(kept.open(kept.about(), Asked::FromOtherTab));
                };
                said(words::moved(), vec![button(words::move_back(), back)])
            }
            Self::StoppedBy(about) => said(
                &words::stopped_by(&titled(&about.title)),
                vec![
                    button(words::open_anyway(), open(about.clone(), Asked::Here)),
                    button(words::as_file(), move || {
                        let about = about.clone();
                        later(kept.save_kept(about));
                    }),
                ],
            ),
            Self::Unreadable { about, problem, text } => said(
                &words::unreadable(&problem),
                vec![button(words::as_file(), move || save_as_file(&about.title, &text))],
            ),
            Self::Earlier(about) => said(
                &words::earlier(&titled(&about.title), &when(about.changed_ms)),
                vec![button(words::open_earlier(), open(about, Asked::Here))],
            ),
        }
    }
}

/// Saves a text as a file under the lab's name.
pub(super) fn save_as_file(title: &str, text: &str) {
    let _ = download::save(text, &format!("{}.json", header::stem_of(title)), "application/json");
}
