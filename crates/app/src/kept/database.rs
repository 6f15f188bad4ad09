//! The browser's database of labs: each lab in pieces, the many readings of its runs once.
//!
//! What is asked of the database is little, so it is asked through the browser's own interface (Indexed Database API
//! 3.0, W3C). Measured: with the `idb` crate this part is 34.0 kB after brotli and 29.6 kB without it, and the main part
//! has 0.7 kB of scripts more.

use crate::keep::DATABASE;
use js_sys::{Array, Promise};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    IdbDatabase, IdbFactory, IdbKeyRange, IdbObjectStore, IdbRequest, IdbTransaction, IdbTransactionMode,
};

const LABS: &str = "labs";
const READINGS: &str = "readings";

/// Names a lab in the database.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Slot(pub(super) String);

/// Why something is not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NotKept {
    /// The browser has no storage for this page.
    Refused,
    /// It would not take it: most often because it is full.
    Full,
    /// The lab was opened in another tab, which keeps it now.
    Elsewhere,
}

impl From<JsValue> for NotKept {
    fn from(_: JsValue) -> Self {
        Self::Full
    }
}

/// What is known of a lab without opening it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct About {
    pub(super) slot: Slot,
    /// The tab that keeps it.
    pub(super) owner: String,
    /// When it was last changed, in milliseconds since 1970.
    pub(super) changed_ms: f64,
    pub(super) title: String,
    pub(super) runs: usize,
    /// Whether it holds changes that are in no file.
    pub(super) unsaved: bool,
    /// What stood behind the page's address: who comes back by the same link goes on with the same lab.
    pub(super) address: String,
}

/// A piece of a kept lab's text.
pub(super) enum Piece {
    Text(String),
    /// The key of readings.
    Readings(String),
}

/// Readings to be written for the first time, under a key.
pub(super) type New = (String, String);

/// The database.
#[derive(Clone)]
pub(super) struct Labs(IdbDatabase);

/// What a request comes to.
async fn answer(request: &IdbRequest) -> Result<JsValue, JsValue> {
    JsFuture::from(Promise::new(&mut |done, failed| {
        request.set_onsuccess(Some(&done));
        request.set_onerror(Some(&failed));
    }))
    .await?;
    request.result()
}

/// A transaction over both stores.
struct Transaction {
    inner: IdbTransaction,
    labs: IdbObjectStore,
    readings: IdbObjectStore,
}

impl Transaction {
    /// Comes back when all of it is written.
    async fn end(self) -> Result<(), NotKept> {
        JsFuture::from(Promise::new(&mut |done, failed| {
            self.inner.set_oncomplete(Some(&done));
            self.inner.set_onabort(Some(&failed));
        }))
        .await?;
        Ok(())
    }
}

impl Labs {
    /// Opens it.
    pub(super) async fn open() -> Result<Self, NotKept> {
        Self::opened().await.ok().flatten().ok_or(NotKept::Refused)
    }

    async fn opened() -> Result<Option<Self>, JsValue> {
        let Some(window) = web_sys::window() else { return Ok(None) };
        let path = window.location().pathname()?;
        let folder = path.rsplit_once('/').map_or("", |(folder, _)| folder);
        // The browser gives none where storage is blocked, or fails to give it.
        let factory: Option<IdbFactory> = window.indexed_db()?;
        let Some(factory) = factory else { return Ok(None) };
        let request = factory.open_with_u32(&format!("{DATABASE}{folder}"), 1)?;
        let asked = request.clone();
        let begin = Closure::once_into_js(move || {
            if let Ok(database) = asked.result().and_then(JsCast::dyn_into::<IdbDatabase>) {
                for store in [LABS, READINGS] {
                    // It fails where there is one, which is then as good.
                    let _ = database.create_object_store(store);
                }
            }
        });
        request.set_onupgradeneeded(Some(begin.unchecked_ref()));
        let database: IdbDatabase = answer(&request).await?.dyn_into()?;
        // A later program that needs another shape may have it.
        let close = database.clone();
        let closing = Closure::once_into_js(move || close.close());
        database.set_onversionchange(Some(closing.unchecked_ref()));
        Ok(Some(Self(database)))
    }

    fn transaction(&self, mode: IdbTransactionMode) -> Result<Transaction, JsValue> {
        let stores = Array::of2(&LABS.into(), &READINGS.into());
        let inner = self.0.transaction_with_str_sequence_and_mode(&stores, mode)?;
        let (labs, readings) = (inner.object_store(LABS)?, inner.object_store(READINGS)?);
        Ok(Transaction { inner, labs, readings })
    }

    /// Writes a lab, unless another tab keeps it. What was kept of it before is replaced in one go or not at all.
    pub(super) async fn write(&self, about: &About, pieces: &[Piece], new: &[New]) -> Result<(), NotKept> {
        let transaction = self.transaction(IdbTransactionMode::Readwrite)?;
        let key = JsValue::from(&about.slot.0);
        let kept = answer(&transaction.labs.get(&key)?).await?;
        if read_about(&about.slot, &kept).is_some_and(|kept| kept.owner != about.owner) {
            return Err(NotKept::Elsewhere);
        }
        for (key, text) in new {
            answer(&transaction.readings.put_with_key(&text.into(), &key.into())?).await?;
        }
        answer(&transaction.labs.put_with_key(&written(about, pieces), &key)?).await?;
        transaction.end().await
    }

    /// All labs, the last changed first.
    pub(super) async fn list(&self) -> Result<Vec<About>, NotKept> {
        let transaction = self.transaction(IdbTransactionMode::Readonly)?;
        let keys = Array::from(&answer(&transaction.labs.get_all_keys()?).await?);
        let records = Array::from(&answer(&transaction.labs.get_all()?).await?);
        let mut list: Vec<About> = keys
            .iter()
            .zip(records.iter())
            .filter_map(|(key, record)| read_about(&Slot(key.as_string()?), &record))
            .collect();
        list.sort_by(|a, b| b.changed_ms.total_cmp(&a.changed_ms));
        Ok(list)
    }

    /// A lab's text, which from here on is kept by `owner`; `None` where there is no such lab.
    pub(super) async fn take(&self, slot: &Slot, owner: &str) -> Result<Option<(About, String)>, NotKept> {
        let transaction = self.transaction(IdbTransactionMode::Readwrite)?;
        let key = JsValue::from(&slot.0);
        let record = answer(&transaction.labs.get(&key)?).await?;
        let Some(mut about) = read_about(slot, &record) else { return Ok(None) };
        let mut text = String::new();
        let pieces = read_pieces(&record);
        for piece in &pieces {
            match piece {
                Piece::Text(piece) => text += piece,
                Piece::Readings(key) => {
                    let found = answer(&transaction.readings.get(&key.into())?).await?;
                    text += &found.as_string().unwrap_or_else(|| "null".to_owned());
                }
            }
        }
        owner.clone_into(&mut about.owner);
        answer(&transaction.labs.put_with_key(&written(&about, &pieces), &key)?).await?;
        transaction.end().await?;
        Ok(Some((about, text)))
    }

    /// Removes a lab and its readings.
    pub(super) async fn remove(&self, slot: &Slot) -> Result<(), NotKept> {
        let transaction = self.transaction(IdbTransactionMode::Readwrite)?;
        answer(&transaction.labs.delete(&JsValue::from(&slot.0))?).await?;
        // Keys of readings begin with the lab's and a slash; “0” is what follows the slash.
        let [from, to] = ["/", "0"].map(|end| JsValue::from(format!("{}{end}", slot.0)));
        let all = IdbKeyRange::bound(&from, &to)?;
        answer(&transaction.readings.delete(&all)?).await?;
        transaction.end().await
    }
}

/// A record is an array of texts: what is known of the lab, then its pieces, text and keys in turn.
const HEAD: u32 = 6;

fn written(about: &About, pieces: &[Piece]) -> JsValue {
    let record = Array::new();
    record.push(&JsValue::from(&about.owner));
    record.push(&JsValue::from(about.changed_ms));
    record.push(&JsValue::from(&about.title));
    record.push(&JsValue::from(u32::try_from(about.runs).unwrap_or(u32::MAX)));
    record.push(&JsValue::from(about.unsaved));
    record.push(&JsValue::from(&about.address));
    for piece in pieces {
        let (is_key, text) = match piece {
            Piece::Text(text) => (false, text),
            Piece::Readings(key) => (true, key),
        };
        record.push(&JsValue::from(is_key));
        record.push(&JsValue::from(text));
    }
    record.into()
}

fn read_about(slot: &Slot, record: &JsValue) -> Option<About> {
    let record: &Array = record.dyn_ref()?;
    Some(About {
        slot: slot.clone(),
        owner: record.get(0).as_string()?,
        changed_ms: record.get(1).as_f64()?,
        title: record.get(2).as_string()?,
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count as it was written"
        )]
        runs: record.get(3).as_f64()? as usize,
        unsaved: record.get(4).as_bool()?,
        address: record.get(5).as_string()?,
    })
}

fn read_pieces(record: &JsValue) -> Vec<Piece> {
    let record = Array::from(record);
    (HEAD..record.length())
        .step_by(2)
        .filter_map(|at| {
            let text = record.get(at + 1).as_string()?;
            Some(if record.get(at).as_bool()? { Piece::Readings(text) } else { Piece::Text(text) })
        })
        .collect()
}
