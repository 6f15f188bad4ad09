//! Nothing is lost: every change is kept in the browser, can be taken back, and comes back with the page.

mod database;
mod notices;
mod shelf;
mod tabs;
mod undo;
mod version;
mod writing;

use crate::browser::{later, stopped};
use crate::dom::{El, watch};
use crate::keep;
use crate::page::names_something;
use crate::parts::{self, Part};
use crate::state::{Keeping, LabState, set_keeping};
use database::{About, Labs, NotKept, Slot};
use leptos::prelude::*;
use notices::Notice;
use std::time::Duration;
use tabs::Lock;
use whorl_core::history::{Changed, History};
use whorl_core::lab::Lab;
use whorl_core::lab_file;
use whorl_words as words;
use writing::Writer;

pub(crate) use shelf::shelf;

/// Where the page remembers across a reload which lab it had, behind which address.
const SLOT: &str = "whorl-slot";
/// Which lab is being opened: still there at the next start, it has stopped the page.
const OPENING: &str = "whorl-opening";
/// How long a lab must have been open to count as one that does not stop the page.
const SURVIVED: Duration = Duration::from_secs(3);

/// There is one, and it lives as long as the page.
type Kept = &'static Keeper;

/// All that keeps a lab.
struct Keeper {
    lab: LabState,
    history: RwSignal<History<Lab, Changed>, LocalStorage>,
    /// Counts the labs opened, as the lab's state does: by it another lab is told from a change.
    opened: StoredValue<u32>,
    /// This tab's name.
    owner: StoredValue<String>,
    labs: RwSignal<Option<Labs>, LocalStorage>,
    /// Which lab this is in the browser's database.
    slot: RwSignal<Slot>,
    /// What stood behind the page's address when it was begun.
    begun_by: RwSignal<String>,
    writer: StoredValue<Writer, LocalStorage>,
    /// Why nothing is kept, when nothing is.
    trouble: RwSignal<Option<NotKept>>,
    notice: RwSignal<Option<Notice>>,
    /// Whether a new version of the program waits.
    version: RwSignal<bool>,
    /// Counts what was written or removed: what lists labs follows it.
    listed: RwSignal<u32>,
    /// What undo and redo have done, to be heard.
    done: RwSignal<String>,
}

thread_local! {
    static KEPT: std::cell::Cell<Option<Kept>> = const { std::cell::Cell::new(None) };
}

/// Begins to keep a lab; `first` is how it stood before its first change. Called once, under the page's owner.
pub(crate) fn begin(lab: LabState, first: Lab) {
    let kept: Kept = Box::leak(Box::new(Keeper {
        lab,
        history: RwSignal::new_local(History::new(first)),
        // No lab had been opened before the first change.
        opened: StoredValue::new(0),
        owner: StoredValue::new(random_name()),
        labs: RwSignal::new_local(None),
        slot: RwSignal::new(Slot(random_name())),
        begun_by: RwSignal::new(address()),
        writer: StoredValue::new_local(Writer::default()),
        trouble: RwSignal::new(None),
        notice: RwSignal::new(None),
        version: version::waits(),
        listed: RwSignal::new(0),
        done: RwSignal::new(String::new()),
    }));
    KEPT.set(Some(kept));
    watch(move || kept.changed());
    kept.listen();
    later(async move {
        match Labs::open().await {
            Ok(labs) => {
                kept.labs.set(Some(labs));
                kept.take_up().await;
            }
            Err(problem) => {
                kept.fails(problem);
                keep::release_address();
            }
        }
        // What was changed meanwhile.
        kept.write_soon();
    });
}

/// What stands in the page's head: undo and redo, and what there is to say.
pub(crate) fn view() -> Vec<El> {
    KEPT.get().map(|kept| vec![kept.buttons(), notices::view(kept)]).unwrap_or_default()
}

/// A name that no other has.
fn random_name() -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to below 2³²")]
    let part = || (js_sys::Math::random() * 4_294_967_296.0) as u32;
    format!("{:08x}{:08x}", part(), part())
}

fn session() -> Option<web_sys::Storage> {
    web_sys::window()?.session_storage().ok().flatten()
}

fn remember(key: &str, text: &str) {
    if let Some(session) = session() {
        let _ = session.set_item(key, text);
    }
}

fn remembered(key: &str) -> Option<String> {
    session()?.get_item(key).ok().flatten()
}

/// The lab that was being opened has not stopped the page.
fn survived() {
    if let Some(session) = session() {
        let _ = session.remove_item(OPENING);
    }
}

/// What stands behind the page's address, where it names work or a lab.
fn address() -> String {
    window().location().hash().ok().filter(|hash| names_something(hash)).unwrap_or_default()
}

/// A title for people.
fn titled(title: &str) -> &str {
    if title.is_empty() { words::page::untitled() } else { title }
}

/// A moment for people: the time, and the day where it is another one.
fn when(ms: f64) -> String {
    let moment = js_sys::Date::new(&ms.into());
    let language = words::spoken().code();
    let options = js_sys::Object::new();
    let shown = |key: &str, value: &str| js_sys::Reflect::set(&options, &key.into(), &value.into());
    let today = js_sys::Date::new_0();
    let _ = shown("timeStyle", "short");
    if moment.to_date_string() != today.to_date_string() {
        let _ = shown("dateStyle", "medium");
    }
    String::from(moment.to_locale_string(language, &options))
}

/// Whether a lab was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    /// It comes back by itself.
    No,
    /// By a click.
    Here,
    /// By a click, though another tab has it.
    FromOtherTab,
}

impl Keeper {
    /// A change was made somewhere: a step to be taken back, and something to be kept.
    fn changed(&'static self) {
        let opened = self.lab.opened();
        let state = self.lab.snapshot();
        let now = Duration::from_secs_f64(js_sys::Date::now().max(0.0) / 1000.0);
        let another = opened != self.opened.get_value();
        let change = if another {
            Some(Changed::OtherLab)
        } else {
            self.history.with_untracked(|history| Changed::between(history.present(), &state))
        };
        let Some(change) = change else { return };
        if another {
            // What is left of the one before, whose changes are in no file.
            self.write_present(true);
            self.opened.set_value(opened);
            self.begin_slot();
        }
        self.history.update(|history| {
            if another {
                history.end_step();
            }
            history.note(state, change, now);
        });
        self.done.set(String::new());
        self.falls_behind();
        self.write_soon();
    }

    /// Another lab is another record in the database, and a lock of its own.
    fn begin_slot(&'static self) {
        self.notice.set(None);
        self.be(Slot(random_name()), address());
        later(self.claim());
    }

    /// Takes the lock of the lab that is open.
    async fn claim(&'static self) {
        let slot = self.slot.get_untracked();
        let _ = tabs::take(&slot, false, move || self.lost()).await;
    }

    /// From here on the lab is this one of the database.
    fn be(&'static self, slot: Slot, begun_by: String) {
        remember(SLOT, &format!("{} {}", slot.0, address()));
        self.begun_by.set(begun_by);
        self.slot.set(slot);
        if self.trouble.get_untracked() == Some(NotKept::Elsewhere) {
            self.trouble.set(None);
        }
    }

    fn fails(&'static self, why: NotKept) {
        self.trouble.set(Some(why));
        set_keeping(Keeping::Fails);
    }

    /// A change is to be written, where that goes.
    fn falls_behind(&'static self) {
        if self.trouble.get_untracked().is_none() {
            set_keeping(Keeping::Behind);
        }
    }

    /// Another tab has taken the lab.
    fn lost(&'static self) {
        self.fails(NotKept::Elsewhere);
        self.notice.set(Some(Notice::Moved));
    }

    /// Takes up the lab that was open here before, or else the last one.
    async fn take_up(&'static self) {
        let Some(labs) = self.labs.get_untracked() else { return };
        let Ok(list) = labs.list().await else { return keep::release_address() };
        let before = remembered(SLOT);
        let before = before.as_deref().and_then(|text| text.split_once(' '));
        let same = list.iter().find(|about| {
            before.is_some_and(|(slot, address_then)| slot == about.slot.0 && address_then == address())
        });
        // By a link one comes back to the lab that it began.
        let address = address();
        let last = || list.iter().find(|about| address.is_empty() || about.address == address);
        let Some(about) = same.or_else(last).cloned() else {
            self.be(self.slot.get_untracked(), address);
            self.claim().await;
            keep::release_address();
            return;
        };
        if !self.lab.is_blank() {
            self.notice.set(Some(Notice::Earlier(about)));
        } else if remembered(OPENING).is_some_and(|opening| opening == about.slot.0) {
            self.notice.set(Some(Notice::StoppedBy(about)));
        } else {
            self.open(about, Asked::No).await;
        }
    }

    /// Opens a lab of the database, where no other tab has it or it is to be taken from it.
    async fn open(&'static self, about: About, asked: Asked) {
        let Some(labs) = self.labs.get_untracked() else { return };
        self.write_now();
        let from_others = asked == Asked::FromOtherTab;
        if from_others {
            tabs::ask_to_keep(&about.slot).await;
        }
        if tabs::take(&about.slot, from_others, move || self.lost()).await == Lock::Elsewhere {
            self.notice.set(Some(Notice::Elsewhere(about)));
            // This tab goes on with its own lab, and takes that up again after a reload.
            self.be(self.slot.get_untracked(), self.begun_by.get_untracked());
            self.claim().await;
            return;
        }
        let owner = self.owner.get_value();
        let Ok(Some((about, text))) = labs.take(&about.slot, &owner).await else { return };
        if asked == Asked::No && !self.lab.is_blank() {
            // Somebody was quicker, and begins something new.
            self.claim().await;
            self.notice.set(Some(Notice::Earlier(about)));
            return;
        }
        remember(OPENING, &about.slot.0);
        let opened = self.opened_from(&text).await;
        set_timeout(survived, SURVIVED);
        match opened {
            Ok(()) => {
                self.opened.set_value(self.lab.opened_once());
                self.history.set(History::new(self.lab.snapshot_once()));
                self.be(about.slot.clone(), about.address.clone());
                if about.unsaved {
                    self.lab.not_saved();
                }
                set_keeping(Keeping::Kept);
                self.notice.set(Some(Notice::Back(about)));
            }
            Err(problem) => self.notice.set(Some(Notice::Unreadable { about, problem, text })),
        }
    }

    /// Puts a kept lab in place of the one that is open.
    async fn opened_from(&'static self, text: &str) -> Result<(), String> {
        match lab_file::open_own(text) {
            Ok(lab) => {
                self.lab.open(lab);
                Ok(())
            }
            // Work that was set is shown by a part of its own.
            Err(_) if parts::load(Part::Library).await && parts::load(Part::Assigning).await => {
                match parts::library() {
                    Some(part) => (part.open_kept)(self.lab, text),
                    None => Err(words::parts::not_loaded().to_owned()),
                }
            }
            Err(_) => Err(words::parts::not_loaded().to_owned()),
        }
    }

    /// What is known of the lab that is open.
    fn about(&'static self) -> About {
        self.lab.read_once(|lab| About {
            slot: self.slot.get_untracked(),
            owner: self.owner.get_value(),
            changed_ms: js_sys::Date::now(),
            title: lab.title.clone(),
            runs: lab.runs().len(),
            unsaved: self.lab.unsaved_once(),
            address: self.begun_by.get_untracked(),
        })
    }

    /// Saves a kept lab as a file, without opening it.
    async fn save_kept(&'static self, about: About) {
        let Some(labs) = self.labs.get_untracked() else { return };
        if let Ok(Some((about, text))) = labs.take(&about.slot, &about.owner).await {
            notices::save_as_file(&about.title, &text);
        }
    }

    /// Removes labs for good.
    async fn remove(&'static self, slots: Vec<Slot>) {
        let Some(labs) = self.labs.get_untracked() else { return };
        for slot in slots {
            if labs.remove(&slot).await.is_ok() {
                self.listed.update(|count| *count += 1);
            }
        }
    }

    /// Leaves the lab for a blank one, or for the one that the page's address names.
    fn start_anew(&'static self) {
        if address().is_empty() {
            self.lab.open(Lab::default());
        } else {
            keep::follow_address();
        }
    }

    fn listen(&'static self) {
        tabs::hear(move |slot| async move {
            let ours = self.slot.get_untracked();
            if ours.0 != slot {
                return None;
            }
            self.settle().await;
            Some(ours)
        });
        // The tab may be gone the next moment.
        let _ = window_event_listener(leptos::ev::pagehide, move |_| {
            self.write_now();
            // Who leaves so soon was not stopped; but a lab that has stopped the page before is still not opened.
            let waits = self.notice.with_untracked(|notice| matches!(notice, Some(Notice::StoppedBy(_))));
            if !stopped::has_stopped() && !waits {
                survived();
            }
        });
        let hidden = move |_| {
            if crate::dom::document().visibility_state() == web_sys::VisibilityState::Hidden {
                self.write_now();
            }
        };
        let _ = window_event_listener(leptos::ev::visibilitychange, hidden);
        let _ = window_event_listener(leptos::ev::keydown, move |event| self.key(&event));
    }
}
