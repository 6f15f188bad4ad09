//! Tabs that know of each other: a lab is open in one at a time.
//!
//! Each tab holds the browser's lock of its lab (Web Locks, W3C). A tab that wants a lab from another asks it to keep
//! what it has, then takes the lock away from it.

use super::database::Slot;
use js_sys::{Function, Object, Promise, Reflect};
use leptos::prelude::set_timeout;
use std::cell::RefCell;
use std::time::Duration;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{BroadcastChannel, MessageEvent};

/// How long another tab has to keep what it has.
const PATIENCE: Duration = Duration::from_millis(500);

/// What came of asking for a lab's lock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lock {
    /// It is this tab's, or the browser knows no locks.
    Ours,
    /// Another tab has it.
    Elsewhere,
}

thread_local! {
    /// Gives the lock back that this tab holds.
    static RELEASE: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Gives back the lock that this tab holds.
pub(super) fn release() {
    if let Some(release) = RELEASE.take() {
        let _ = release.call0(&JsValue::UNDEFINED);
    }
}

/// Asks for the lock of a lab, and gives back the one held before. With `from_others` it is taken from the tab that
/// has it. `lost` is called when another tab takes it later.
pub(super) async fn take(slot: &Slot, from_others: bool, lost: impl Fn() + 'static) -> Lock {
    release();
    let Some((locks, request)) = locks() else { return Lock::Ours };
    let options = Object::new();
    let wish = if from_others { "steal" } else { "ifAvailable" };
    let _ = Reflect::set(&options, &wish.into(), &true.into());
    let name = JsValue::from(format!("whorl-lab-{}", slot.0));
    let (mut ended, mut refused) = (None, None);
    let told = Promise::new(&mut |resolve, _| {
        refused = Some(resolve.clone());
        let granted = Closure::once_into_js(move |lock: JsValue| {
            let _ = resolve.call1(&JsValue::UNDEFINED, &JsValue::from(!lock.is_null()));
            // It is held until this promise comes true.
            Promise::new(&mut |release, _| {
                if lock.is_null() {
                    let _ = release.call0(&JsValue::UNDEFINED);
                } else if let Some(before) = RELEASE.replace(Some(release)) {
                    // Of two asked for at once, the later is wanted.
                    let _ = before.call0(&JsValue::UNDEFINED);
                }
            })
        });
        ended = request.call3(&locks, &name, &options, &granted).ok();
    });
    let Some(ended) = ended.and_then(|ended| ended.dyn_into::<Promise>().ok()) else { return Lock::Ours };
    spawn_local(async move {
        // It ends in failure when another tab takes the lock, or where the browser has no locks for this page.
        if JsFuture::from(ended).await.is_err() {
            let was_ours = RELEASE.take().is_some();
            if let Some(refused) = refused {
                let _ = refused.call1(&JsValue::UNDEFINED, &true.into());
            }
            if was_ours {
                lost();
            }
        }
    });
    match JsFuture::from(told).await {
        Ok(granted) if granted.is_falsy() => Lock::Elsewhere,
        _ => Lock::Ours,
    }
}

/// The browser's locks and how to ask for one; `None` where there are none for this page.
fn locks() -> Option<(JsValue, Function)> {
    let navigator = web_sys::window()?.navigator();
    let locks = Reflect::get(&navigator, &"locks".into()).ok().filter(JsValue::is_object)?;
    let request = Reflect::get(&locks, &"request".into()).ok()?.dyn_into().ok()?;
    Some((locks, request))
}

fn channel() -> Option<BroadcastChannel> {
    BroadcastChannel::new("whorl-labs").ok()
}

/// Asks the tab that has a lab to keep what it has; comes back when it has, or has had time to.
pub(super) async fn ask_to_keep(slot: &Slot) {
    let Some(channel) = channel() else { return };
    let kept = format!("kept {}", slot.0);
    let _ = channel.post_message(&JsValue::from(format!("keep {}", slot.0)));
    let waited = Promise::new(&mut |resolve, _| {
        let late = resolve.clone();
        let kept = kept.clone();
        let hear = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
            if event.data().as_string().as_deref() == Some(&kept) {
                let _ = resolve.call0(&JsValue::UNDEFINED);
            }
        });
        channel.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        // Once per lab that is moved, and as small as a function.
        hear.forget();
        set_timeout(move || drop(late.call0(&JsValue::UNDEFINED)), PATIENCE);
    });
    let _ = JsFuture::from(waited).await;
    channel.close();
}

/// Hears when another tab asks for a lab to be kept: `keep` does so and says which lab it was that this tab has.
pub(super) fn hear<F: Future<Output = Option<Slot>> + 'static>(keep: impl Fn(String) -> F + 'static) {
    let Some(channel) = channel() else { return };
    let answer = channel.clone();
    let hear = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
        if let Some(slot) =
            event.data().as_string().and_then(|said| Some(said.strip_prefix("keep ")?.to_owned()))
        {
            let (kept, answer) = (keep(slot), answer.clone());
            spawn_local(async move {
                if let Some(slot) = kept.await {
                    let _ = answer.post_message(&JsValue::from(format!("kept {}", slot.0)));
                }
            });
        }
    });
    channel.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    // As long as the page lives.
    hear.forget();
}
